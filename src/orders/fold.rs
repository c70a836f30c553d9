//! How a card folds: one row a way, from which panels, words and drawings follow.

use crate::diagnostics::{Misread, Problem, nearest};
use crate::measure::{Axis, parse_count};

/// Most panels of an accordion.
const MOST_PANELS: u64 = 12;

/// How a card folds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fold {
    /// Which panels it has.
    pub style: FoldStyle,
    /// The direction in which they lie beside each other; of a card that is folded both ways, of the last fold. Nothing where
    /// it is flat.
    opens: Option<Axis>,
}

/// Which panels a card has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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

/// The ways that one word names, and whether ` top` may stand behind it.
const STYLES: [(&str, FoldStyle, bool); 3] = [
    ("gate", FoldStyle::Gate, true),
    ("letter", FoldStyle::Letter, true),
    ("french", FoldStyle::French, false),
];

impl Fold {
    /// Like a book, spine left: the blank is twice as wide.
    pub const SIDE: Fold = Fold { style: FoldStyle::Half, opens: Some(Axis::Width) };
    /// Spine on top: the blank is twice as high.
    pub const TOP: Fold = Fold { style: FoldStyle::Half, opens: Some(Axis::Height) };
    /// Not at all.
    pub const FLAT: Fold = Fold { style: FoldStyle::Flat, opens: None };

    /// The fold of a card of two panels that opens in this direction.
    pub const fn opening(axis: Option<Axis>) -> Fold {
        match axis {
            None => Fold::FLAT,
            Some(Axis::Width) => Fold::SIDE,
            Some(Axis::Height) => Fold::TOP,
        }
    }

    /// A fold whose panels lie beside each other in this direction.
    pub const fn new(style: FoldStyle, opens: Axis) -> Fold {
        match style {
            FoldStyle::Flat => Fold::FLAT,
            // Its spine is on the left.
            FoldStyle::French => Fold { style, opens: Some(Axis::Width) },
            _ => Fold { style, opens: Some(opens) },
        }
    }

    /// The direction in which the card opens; `None` where it does not.
    pub const fn opens(self) -> Option<Axis> {
        self.opens
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

    /// Reads `gate`, `letter top` or `accordion 4`, where a text is none of the usual words.
    ///
    /// # Errors
    /// It is no way to fold.
    pub(super) fn parse(text: &str, misread: &Misread) -> Result<Fold, Box<Problem>> {
        let lower = text.trim().to_lowercase();
        let (name, opens) = match lower.strip_suffix(" top") {
            Some(name) => (name.trim_end(), Axis::Height),
            None => (lower.as_str(), Axis::Width),
        };
        let known = STYLES.into_iter().find(|(word, ..)| *word == name);
        if let Some((_, style, may_lie_below)) = known
            && (may_lie_below || opens == Axis::Width)
        {
            return Ok(Fold::new(style, opens));
        }
        match name.strip_prefix("accordion") {
            Some(panels) => accordion(panels, opens, misread),
            None => Err(Box::new(unknown(&lower, misread))),
        }
    }
}

fn accordion(panels: &str, opens: Axis, misread: &Misread) -> Result<Fold, Box<Problem>> {
    let count = parse_count(panels.trim()).ok().filter(|count| (3..=MOST_PANELS).contains(count));
    match count {
        Some(count) => Ok(Fold::new(FoldStyle::Accordion(count as u8), opens)),
        None => {
            let expected = format!("expected 3 to {MOST_PANELS} panels, such as accordion 4");
            let problem = misread.problem("has no such number of panels", expected);
            Err(Box::new(match panels.trim() {
                "1" | "2" => problem.help("a card of two panels is a side or a top fold"),
                _ => problem,
            }))
        }
    }
}

fn unknown(text: &str, misread: &Misread) -> Problem {
    let words = ["side", "top", "flat", "gate", "letter", "french", "accordion"];
    let expected = match nearest(text.split(' ').next().unwrap_or_default(), words) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "expected side, top, flat, gate, letter, french or accordion 4".to_owned(),
    };
    Problem::error(misread.code, format!("unknown fold `{text}`"))
        .at(misread.place.as_ref(), expected)
        .help("side: like a book, spine on the left; top: spine on top; flat: no fold")
        .help(
            "gate: two halves meet in front; letter: one panel is folded in; french: in half both ways; \
             accordion: to and fro; ` top` behind gate, letter or accordion lays the panels below each other",
        )
}
