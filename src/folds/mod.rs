//! How a card folds: the ways there are, the panels of each, and how they lie on each other.
//!
//! In: a card's size, its fold, and how thick its paper is. Out: its [`Blank`], opened out, with its scores. It knows nothing of orders.

mod blank;
mod panels;
mod score;

pub use blank::Blank;
pub use panels::{
    FoldedPaper, PanelSpan, folded, inner_panels, layers, least_side, mat_face, opened,
};
pub use score::{Score, ScoreSide};

use crate::measure::{Axis, parse_count};

/// Fewest panels of an accordion: one of two is a side or a top fold.
pub const FEWEST_PANELS: u64 = 3;
/// Most panels of an accordion.
pub const MOST_PANELS: u64 = 12;

/// How a card folds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fold {
    /// Which panels it has.
    pub style: FoldStyle,
    /// The direction in which they lie beside each other; of a card that is folded both ways, of the last fold. Nothing where
    /// it is flat.
    opens: Option<Axis>,
}

/// Which panels a card has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FoldStyle {
    /// One.
    Flat,
    /// Two, like a book.
    Half,
    /// One behind, and two halves that meet in front of it.
    Gate,
    /// Three: one is folded in, and the front over it.
    Letter,
    /// Folded in half both ways.
    French,
    /// So many, to and fro.
    Accordion(u8),
}

/// The ways that one word names.
const WORDS: [(&str, Fold); 6] = [
    ("side", Fold::SIDE),
    ("top", Fold::TOP),
    ("flat", Fold::FLAT),
    ("gate", Fold::new(FoldStyle::Gate, Axis::Width)),
    ("letter", Fold::new(FoldStyle::Letter, Axis::Width)),
    ("french", Fold::new(FoldStyle::French, Axis::Width)),
];

/// Those that ` top` may stand behind.
const BELOW: [(&str, Fold); 2] = [
    ("gate", Fold::new(FoldStyle::Gate, Axis::Height)),
    ("letter", Fold::new(FoldStyle::Letter, Axis::Height)),
];

impl Fold {
    /// Like a book, spine left: the blank is twice as wide.
    pub const SIDE: Fold = Fold { style: FoldStyle::Half, opens: Some(Axis::Width) };
    /// Spine on top: the blank is twice as high.
    pub const TOP: Fold = Fold { style: FoldStyle::Half, opens: Some(Axis::Height) };
    /// Not at all.
    pub const FLAT: Fold = Fold { style: FoldStyle::Flat, opens: None };

    /// A fold whose panels lie beside each other in this direction.
    pub const fn new(style: FoldStyle, opens: Axis) -> Fold {
        match style {
            FoldStyle::Flat => Fold::FLAT,
            // Its spine is on the left.
            FoldStyle::French => Fold { style, opens: Some(Axis::Width) },
            _ => Fold { style, opens: Some(opens) },
        }
    }

    /// One of each kind, the usual ones first.
    pub const fn examples() -> [Fold; 7] {
        let accordion = FoldStyle::Accordion(4);
        [
            Fold::FLAT,
            Fold::SIDE,
            Fold::TOP,
            Fold::new(FoldStyle::Gate, Axis::Width),
            Fold::new(FoldStyle::Letter, Axis::Width),
            Fold::new(FoldStyle::French, Axis::Width),
            Fold::new(accordion, Axis::Width),
        ]
    }

    /// The direction in which the card opens; `None` where it does not.
    pub const fn opens(self) -> Option<Axis> {
        self.opens
    }

    /// As it is written: `side`, `letter top`, `accordion 4`.
    pub fn word(self) -> String {
        let below = match self.opens {
            Some(Axis::Height) => " top",
            _ => "",
        };
        match self.style {
            FoldStyle::Flat => "flat".to_owned(),
            FoldStyle::Half if self.opens == Some(Axis::Height) => "top".to_owned(),
            FoldStyle::Half => "side".to_owned(),
            FoldStyle::Gate => format!("gate{below}"),
            FoldStyle::Letter => format!("letter{below}"),
            FoldStyle::French => "french".to_owned(),
            FoldStyle::Accordion(panels) => format!("accordion {panels}{below}"),
        }
    }

    /// `side fold`, `gate fold`, `letter fold, panels below each other`.
    pub fn told(self) -> String {
        let below = match self.opens {
            Some(Axis::Height) => ", panels below each other",
            _ => "",
        };
        match self.style {
            FoldStyle::Flat => "flat".to_owned(),
            FoldStyle::Half if self.opens == Some(Axis::Height) => "top fold".to_owned(),
            FoldStyle::Half => "side fold".to_owned(),
            FoldStyle::Gate => format!("gate fold{below}"),
            FoldStyle::Letter => format!("letter fold{below}"),
            FoldStyle::French => "french fold".to_owned(),
            FoldStyle::Accordion(panels) => format!("accordion fold of {panels} panels{below}"),
        }
    }

    /// Reads `side`, `gate`, `letter top` or `accordion 4`.
    ///
    /// # Errors
    /// It is no way to fold.
    pub fn parse(text: &str) -> Result<Fold, FoldError> {
        let lower = text.trim().to_lowercase();
        let (name, opens) = match lower.strip_suffix(" top") {
            Some(name) => (name.trim_end(), Axis::Height),
            None => (lower.as_str(), Axis::Width),
        };
        let words = match opens {
            Axis::Width => WORDS.as_slice(),
            Axis::Height => &BELOW,
        };
        if let Some((_, fold)) = words.iter().find(|(word, _)| *word == name) {
            return Ok(*fold);
        }
        let panels = name.strip_prefix("accordion").ok_or(FoldError::Unknown)?;
        let count = parse_count(panels.trim()).ok();
        let count = count.filter(|count| (FEWEST_PANELS..=MOST_PANELS).contains(count));
        let panels = count.and_then(|count| u8::try_from(count).ok());
        let panels = panels.ok_or(FoldError::Panels)?;
        Ok(Fold::new(FoldStyle::Accordion(panels), opens))
    }
}

/// Why a text is no way to fold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FoldError {
    /// It names none.
    Unknown,
    /// An accordion has no such number of panels.
    Panels,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fold_is_read_as_it_is_written() {
        let long = [3, 4, 12].map(FoldStyle::Accordion);
        let styles = [FoldStyle::Flat, FoldStyle::Half, FoldStyle::Gate, FoldStyle::Letter];
        for style in styles.into_iter().chain([FoldStyle::French]).chain(long) {
            for opens in [Axis::Width, Axis::Height] {
                let fold = Fold::new(style, opens);
                assert_eq!(Fold::parse(&fold.word().to_uppercase()), Ok(fold), "{}", fold.word());
            }
        }
    }

    #[test]
    fn other_texts_are_no_folds() {
        for text in ["accordion", "accordion 2", "accordion 13", "accordion 4.5 top"] {
            assert_eq!(Fold::parse(text), Err(FoldError::Panels), "{text}");
        }
        for text in ["", "top top", "french top", "flat top", "side top", "roll"] {
            assert_eq!(Fold::parse(text), Err(FoldError::Unknown), "{text}");
        }
    }
}
