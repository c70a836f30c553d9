//! The order: which cards, how many, on which papers.
//!
//! In: `orders/*.csv`. Out: an [`Order`]. It knows nothing of pieces, sheets or patterns.

mod card;
mod columns;
mod nesting;
mod papers;
mod read;
mod sets;

pub use columns::columns;
pub use nesting::Nesting;
pub use papers::{StockNames, check_papers};
pub use read::read;
pub use sets::{SetCount, first_lines, told_left_out, told_made, told_sets};

use crate::diagnostics::Spanned;
use crate::folds::Fold;
use crate::measure::{Length, Size};
use jiff::civil::Date;

/// Everything ordered in one batch.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// Name of the batch: the file's name without its ending.
    pub name: String,
    /// One line a kind of card, in the order of the file.
    pub lines: Vec<OrderLine>,
}

impl Order {
    /// Takes what is said to be the paper of an envelope for the name of a bought one, where it is.
    pub fn name_envelopes(&mut self, is_envelope: impl Fn(&str) -> bool) {
        for line in &mut self.lines {
            if let Envelope::Cut(name) = &line.envelope
                && is_envelope(&name.value)
            {
                line.envelope = Envelope::Ready(name.clone());
            }
        }
    }
}

/// One kind of card.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderLine {
    /// Its unique name.
    pub name: Spanned<String>,
    /// Finished size as the card stands when read.
    pub card: Spanned<Size>,
    /// How it folds.
    pub fold: Fold,
    /// Cards ordered, 1 to 1 000 000.
    pub count: Spanned<u64>,
    /// Papers of the base, any of them, mixed freely.
    pub papers: Spanned<Vec<String>>,
    /// What lies against the inside of the card.
    pub liner: Option<Liner>,
    /// The front layers, the lowest first.
    pub mats: Vec<Mat>,
    /// The envelope.
    pub envelope: Envelope,
    /// The line in whose envelope its finished set lies.
    pub goes_in: Option<Spanned<String>>,
    /// Sundries of each card, as they are written: a name, and maybe an amount.
    pub with: Vec<Spanned<String>>,
    /// What is done to each card by hand, by names of the workshop's own.
    pub finish: Vec<Spanned<String>>,
    /// What belongs to the card besides.
    pub extras: Extras,
    /// Overrides what the paper's print says.
    pub turn: Option<Turn>,
    /// When it is wanted.
    pub due: Option<Date>,
    /// Free text.
    pub note: String,
}

/// A front layer.
#[derive(Clone, Debug, PartialEq)]
pub struct Mat {
    /// Its paper.
    pub paper: Spanned<String>,
    /// What shows on each side of what lies below it, in ticks.
    pub inset: Length,
}

/// A layer inside the card.
#[derive(Clone, Debug, PartialEq)]
pub struct Liner {
    /// Its paper.
    pub paper: Spanned<String>,
    /// Where it lies.
    pub kind: LinerKind,
}

/// Where a liner lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinerKind {
    /// On the inside of the card's back, a rectangle.
    Panel,
    /// On this panel of an accordion, counted from the inside of its front.
    PanelOf(u8),
    /// As large as the open card, and folded with it.
    Folded,
}

impl LinerKind {
    /// The panel that it lies on, of one that is not folded: 0 is the inside of the front.
    pub fn panel(self) -> Option<usize> {
        match self {
            LinerKind::Panel => Some(1),
            LinerKind::PanelOf(number) => usize::from(number).checked_sub(1),
            LinerKind::Folded => None,
        }
    }
}

/// What belongs to a card besides its layers and its envelope.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Extras {
    /// Paper that lines the envelope.
    pub envelope_liner: Option<Spanned<String>>,
    /// A loose sheet inside the card.
    pub insert: Option<Insert>,
    /// A strip round the card.
    pub band: Option<Band>,
    /// A box for finished sets.
    pub gift_box: Option<GiftBox>,
}

/// A loose sheet inside the card.
#[derive(Clone, Debug, PartialEq)]
pub struct Insert {
    /// Its paper.
    pub paper: Spanned<String>,
    /// Its size; `None` is the card less the inset of a liner.
    pub size: Option<Size>,
}

/// A strip round the closed card, from its left edge to its right and back.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Its paper.
    pub paper: Spanned<String>,
    /// How much of the card's height it covers.
    pub width: Length,
}

/// A box for finished sets.
#[derive(Clone, Debug, PartialEq)]
pub struct GiftBox {
    /// Its paper.
    pub paper: Spanned<String>,
    /// Sets that go into one, at least 1.
    pub holds: u64,
}

/// Where the envelope comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum Envelope {
    /// No envelope.
    None,
    /// None, and the card goes by post as it is.
    PostedWithout,
    /// Bought ready made, the closest fit.
    Bought,
    /// Bought ready made: the one of this name.
    Ready(Spanned<String>),
    /// Cut from this paper.
    Cut(Spanned<String>),
}

/// How a piece may lie on its sheet.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum Turn {
    /// Any way.
    Free,
    /// Half turns only.
    Half,
    /// As it is.
    None,
}
