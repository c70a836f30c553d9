//! What a piece becomes, and what is done with it for that.

use super::Piece;
use crate::folds;
use crate::measure::{Axis, Size};

/// What a piece becomes.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "kebab-case")]
pub enum Part {
    /// The card itself; `base` in a plan's file.
    #[serde(rename = "base")]
    Card,
    /// The layer inside the card.
    Liner,
    /// A front layer.
    Mat,
    /// The envelope blank.
    Envelope,
    /// The layer inside the envelope.
    EnvelopeLiner,
    /// A loose sheet inside the card.
    Insert,
    /// The strip round the card.
    Band,
    /// The blank of a box for finished sets.
    Box,
}

impl Part {
    /// Its name, as it stands in ids and files.
    pub const fn name(self) -> &'static str {
        match self {
            Part::Card => "card",
            Part::Liner => "liner",
            Part::Mat => "mat",
            Part::Envelope => "envelope",
            Part::EnvelopeLiner => "envelope-liner",
            Part::Insert => "insert",
            Part::Band => "band",
            Part::Box => "box",
        }
    }

    /// Whether it is glued to something when it is cut, scored and folded.
    pub const fn is_stuck(self) -> bool {
        matches!(self, Part::Liner | Part::Mat | Part::EnvelopeLiner | Part::Band)
    }

    /// Whether its face is seen upright, so that the turn of its order line holds for it. A liner lies
    /// inside, an envelope is looked at from the back as much as the front: they follow the paper's print.
    pub const fn is_seen_upright(self) -> bool {
        matches!(self, Part::Card | Part::Mat | Part::Band)
    }
}

impl Piece {
    /// Whether both faces of it are seen: of a card, an insert, a folded liner.
    pub fn shows_both_faces(&self) -> bool {
        match self.part {
            // The back of one that is folded both ways lies between its layers.
            Part::Card => !self.folds_both_ways(),
            Part::Insert => true,
            Part::Liner => self.folds() > 0,
            Part::Mat | Part::Envelope | Part::EnvelopeLiner | Part::Band | Part::Box => false,
        }
    }

    /// Whether it is a layer that has no fold of its own, on a card that has one.
    pub fn is_glued_to_a_fold(&self) -> bool {
        matches!(self.part, Part::Mat | Part::Liner)
            && self.folds() == 0
            && self.grain_along.is_some()
    }

    /// Whether it is a card that is folded in half both ways.
    pub fn folds_both_ways(&self) -> bool {
        let has = |axis| self.scores.iter().any(|score| score.across == axis);
        self.part == Part::Card && has(Axis::Width) && has(Axis::Height)
    }

    /// Its size once it is folded at its scores.
    pub fn folded(&self) -> Size {
        folds::folded(self.size, &self.scores)
    }

    /// How often it is folded by itself; blanks fold when they are made up, the liner of an envelope with
    /// its flap.
    pub fn folds(&self) -> u64 {
        match self.part {
            Part::Card | Part::Liner | Part::Band => self.scores.len() as u64,
            _ => 0,
        }
    }
}
