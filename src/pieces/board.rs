//! Board: too thick to be folded, however it is scored.

use super::{Part, Piece};
use crate::diagnostics::Problem;
use crate::measure::{Length, LengthStyle};
use crate::stock::KnownPapers;

/// From this thickness on a sheet is board: 1 mm (common practice, no source).
const BOARD: Length = Length::from_ticks(Length::TICKS_PER_MM);

/// A warning where a piece that folds is cut from board.
pub(super) fn check(piece: &Piece, papers: &KnownPapers, style: LengthStyle) -> Option<Problem> {
    // Blanks of envelopes and boxes are folded when they are made up.
    let is_folded = piece.folds() > 0 || matches!(piece.part, Part::Envelope | Part::Box);
    let known = papers.heaviest(&piece.papers);
    let thickness = known.thickness.map(|thickness| thickness.length());
    let thickness = thickness.filter(|thickness| is_folded && *thickness >= BOARD)?;
    let title = format!("`{}` is of board, which cracks where it is folded", piece.id);
    let guessed = if known.guessed { ", guessed from its weight" } else { "" };
    let label = format!("{} thick{guessed}", style.thickness(thickness));
    Some(Problem::warning("piece-board", title).at(piece.place.as_ref(), label).help(
        match piece.part {
            Part::Card => "fold a thinner paper, or order the card as `flat`",
            _ => "take a thinner paper for it",
        },
    ))
}
