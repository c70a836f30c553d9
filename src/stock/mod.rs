//! The paper at hand and in the shop: full sheets and saved offcuts.
//!
//! In: `sheets.csv`, `offcuts.csv`. Out: a [`Stock`], and the changes that write what became of it back into
//! these files. It knows nothing of orders.

mod edit;
mod facts;
mod read;
#[cfg(test)]
mod samples;
mod units;
mod value;
mod words;

pub use edit::{Counts, drawer_cells, empty_drawer, offcuts_changed, sheets_changed};
pub use facts::{KnownPapers, PaperFacts};
pub use read::{papers, read};
pub use units::{Counting, Units};
pub use value::{Prices, rounded};

use crate::diagnostics::Place;
use crate::measure::{Axis, Length, Money, Size};
use jiff::civil::Date;

/// All paper that can be used.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stock {
    /// Full sheets first, then offcuts, each in the order of its file.
    pub sheets: Vec<Sheet>,
}

impl Stock {
    /// Whether any sheet of a paper has a price. Where none has, what its sheets count for in planning is no
    /// money.
    pub fn is_priced(&self, paper: &str) -> bool {
        self.sheets.iter().any(|sheet| sheet.paper == paper && sheet.price.is_some())
    }
}

/// One kind of sheet: a full sheet or an offcut.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Its unique name.
    pub id: String,
    /// Full sheet or offcut.
    pub kind: SheetKind,
    /// Its paper.
    pub paper: String,
    /// Width and height, before squaring.
    pub size: Size,
    /// How many lie in the workshop.
    pub on_hand: u64,
    /// Price of a pack; `None` where it cannot be bought. Always `None` for offcuts.
    pub price: Option<Money>,
    /// Sheets in a pack, at least 1.
    pub pack: u64,
    /// Direction of the fibres, where known.
    pub grain: Option<Axis>,
    /// How the design of its face may lie.
    pub print: Print,
    /// How that of its back may lie.
    pub back: Back,
    /// Weight in g/m2, where known, in thousandths.
    pub milligrams_per_square_metre: Option<u64>,
    /// Thickness, where known.
    pub thickness: Option<Length>,
    /// The batch an offcut comes from.
    pub from: Option<String>,
    /// The day an offcut was put in the drawer.
    pub since: Option<Date>,
    /// Where it stands in its file.
    pub place: Option<Place>,
}

impl Sheet {
    /// A full sheet that is all of one colour and not sold, one in a pack if it were; none is at hand, and nothing else
    /// is known of it.
    pub fn plain(id: &str, paper: &str, size: Size) -> Sheet {
        Sheet {
            id: id.to_owned(),
            kind: SheetKind::Sheet,
            paper: paper.to_owned(),
            size,
            on_hand: 0,
            price: None,
            pack: 1,
            grain: None,
            print: Print::Free,
            back: Back::Free,
            milligrams_per_square_metre: None,
            thickness: None,
            from: None,
            since: None,
            place: None,
        }
    }
}

/// Full sheet or offcut.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum SheetKind {
    /// As it comes from the shop; squared before it is measured.
    Sheet,
    /// Saved from an earlier batch; its edges are true.
    Offcut,
}

/// How the design on the face of a paper may lie.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Print {
    /// Any way.
    #[default]
    Free,
    /// Stripes: half turns only.
    TwoWay,
    /// Has an up: no turn.
    OneWay,
}

/// How the design on the back of a paper may lie, where the sheet is turned over like the page of a book.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Back {
    /// Any way.
    #[default]
    Free,
    /// Stripes: half turns only.
    TwoWay,
    /// Has an up, where the face has its own.
    OneWay,
    /// Has an up, where the face has its foot.
    Tumbled,
}
