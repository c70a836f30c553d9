//! How cards of more than two panels are folded, in the order of the folds.

use super::finish::CutPiece;
use crate::folds::FoldStyle;
use crate::folds::{Score, ScoreSide};
use crate::measure::{Axis, Length, LengthStyle};
use crate::pieces::Upright;

/// What is done with such a card.
pub(super) fn words(fold: FoldStyle, cut: &CutPiece<'_>, style: LengthStyle) -> String {
    let scores = &cut.piece.scores;
    let at = |score: &Score| style.with_unit(score.at);
    let across = scores.first().map_or(Axis::Width, |score| score.across);
    let [first, last] = match across {
        Axis::Width => ["left", "right"],
        Axis::Height => ["upper", "lower"],
    };
    let design = match cut.upright {
        Upright::Any => "",
        Upright::Outside => ", the side that was up outside, its design upright",
        Upright::Inside => ", turned so that the design inside is upright",
    };
    let told: Vec<String> = scores.iter().map(at).collect();
    let folded = style.size(cut.piece.folded());
    let how = match (fold, told.as_slice()) {
        (FoldStyle::Gate, [one, other]) => format!(
            "fold the {first} panel back at {one} and the {last} one back at {other}: they meet in the middle, which is \
             the front"
        ),
        (FoldStyle::Letter, [one, other]) => format!(
            "fold the {first} panel, the shorter one, back at {one}; then fold it and the middle one back at {other}, behind \
             the front"
        ),
        (FoldStyle::French, _) => {
            let of = |axis: Axis| -> Option<Length> {
                scores.iter().find(|score| score.across == axis).map(|score| score.at)
            };
            let [side, top] = [Axis::Width, Axis::Height].map(|axis| of(axis).unwrap_or_default());
            format!(
                "fold the upper half back at {} (best this fold across the grain, and the spine along it); then fold the \
                 left half back at {}, through both layers: the spine is on the left",
                style.with_unit(top),
                style.with_unit(side)
            )
        }
        _ => to_and_fro(scores, style),
    };
    format!("{how}{design}, ridges of the score lines inside: {folded} folded")
}

/// `fold to and fro like a fan, the front panel on top: at 12 in back, at 8 in the other way, at 4 in back`.
fn to_and_fro(scores: &[Score], style: LengthStyle) -> String {
    let fold = |score: &Score| {
        let way = match score.side {
            ScoreSide::Outer => "back",
            ScoreSide::Inner => "the other way",
        };
        format!("at {} {way}", style.with_unit(score.at))
    };
    let folds: Vec<String> = scores.iter().rev().map(fold).collect();
    format!("fold to and fro like a fan, the front panel on top: {}", folds.join(", "))
}
