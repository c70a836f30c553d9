//! What is at hand and in the shop: full sheets and saved offcuts, bought envelopes, sundries.
//!
//! In: `sheets.csv`, `offcuts.csv`, `envelopes.csv`, `sundries.csv`. Out: a [`Stock`], and the changes that write what became of it back into
//! these files. It knows nothing of orders.

mod edges;
mod edit;
mod facts;
mod per_file;
mod read;
#[cfg(test)]
mod samples;
mod supplies;
mod take;
mod units;
mod value;
mod words;

pub use edges::check_edges;
pub use edit::{
    Counts, drawer_cells, empty_drawer, offcuts_changed, sheets_changed, supplies_changed,
};
pub use facts::{KnownPapers, PaperFacts};
pub use per_file::{PerFile, Texts, USUAL_NAMES};
pub use read::{columns, envelopes, in_column, papers, read};
pub use supplies::{ReadyEnvelope, StockItem, Sundry, SupplyKind, no_amount};
pub use take::{Finding, FoundStrip, KnownCount, StockKind, StockTake, read_take, take_list};
pub use units::{Counting, Units};
pub use value::{Prices, rounded};

use crate::diagnostics::Place;
use crate::measure::{Axis, Money, Size, Thickness};
use jiff::civil::Date;

/// All that can be used.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stock {
    /// Full sheets first, then offcuts, each in the order of its file.
    pub sheets: Vec<Sheet>,
    /// Bought envelopes.
    pub envelopes: Vec<ReadyEnvelope>,
    /// Whatever else is bought ready-made.
    pub sundries: Vec<Sundry>,
}

impl Stock {
    /// Paper alone.
    pub fn of_sheets(sheets: Vec<Sheet>) -> Stock {
        Stock { sheets, ..Stock::default() }
    }

    /// Whether any sheet of a paper has a price. Where none has, what its sheets count for in planning is no
    /// money.
    pub fn is_priced(&self, paper: &str) -> bool {
        self.sheets.iter().any(|sheet| sheet.paper == paper && sheet.price.is_some())
    }
}

impl Stock {
    /// Takes every full sheet for one with four rough edges, as plans did before the sheets said which of them are.
    pub fn take_full_sheets_for_rough(&mut self) {
        let full = self.sheets.iter_mut().filter(|sheet| sheet.kind == SheetKind::Sheet);
        full.for_each(|sheet| sheet.rough_edges = RoughEdges::Four);
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
    /// Which of its edges are rough.
    pub rough_edges: RoughEdges,
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
    pub thickness: Option<Thickness>,
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
            rough_edges: RoughEdges::None,
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
    /// As it comes from the shop.
    Sheet,
    /// Saved from an earlier batch; its edges are true.
    Offcut,
}

/// Which edges of a sheet are rough, so that they are squared before anything is measured: `trimmer.squaring` is taken off
/// each. Inside of them a piece or offcut lies, whichever of the two it is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(try_from = "u8", into = "u8")]
pub enum RoughEdges {
    /// None: it was trimmed.
    #[default]
    None,
    /// All; two that meet are cut true first, and the cuts that follow leave the other two behind.
    Two,
    /// All; each is cut true first.
    Four,
}

impl RoughEdges {
    /// All, by the number of edges that are cut true first.
    pub const ALL: [RoughEdges; 3] = [RoughEdges::None, RoughEdges::Two, RoughEdges::Four];

    /// Whether there are any.
    pub fn any(self) -> bool {
        self != RoughEdges::None
    }
}

impl From<RoughEdges> for u8 {
    /// How many edges are cut true before anything is measured.
    fn from(edges: RoughEdges) -> u8 {
        match edges {
            RoughEdges::None => 0,
            RoughEdges::Two => 2,
            RoughEdges::Four => 4,
        }
    }
}

impl TryFrom<u8> for RoughEdges {
    type Error = &'static str;

    fn try_from(number: u8) -> Result<RoughEdges, &'static str> {
        let is_meant = |edges: &RoughEdges| u8::from(*edges) == number;
        RoughEdges::ALL.into_iter().find(is_meant).ok_or("rough edges are 0, 2 or 4")
    }
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
