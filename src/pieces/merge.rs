//! Identical pieces of several lines become one kind, so that they are cut together.

use super::Piece;
use crate::diagnostics::{Problem, Problems};

/// Merges pieces alike in part, size, papers, turn and creases, each at the place of its first. The
/// ids are joined by `+`, the shares keep who needs what.
pub(super) fn merge(single: Vec<Piece>, problems: &mut Problems) -> Vec<Piece> {
    let mut merged: Vec<Piece> = Vec::with_capacity(single.len());
    for piece in single {
        match merged.iter_mut().find(|other| alike(other, &piece)) {
            Some(other) => {
                other.id = format!("{}+{}", other.id, piece.id);
                other.shares.extend(piece.shares);
            }
            None => merged.push(piece),
        }
    }
    report_namesakes(&merged, problems);
    merged
}

fn alike(one: &Piece, other: &Piece) -> bool {
    one.part == other.part
        && one.size == other.size
        && one.papers == other.papers
        && one.turn == other.turn
        && one.fold_along == other.fold_along
        && one.scores == other.scores
}

/// A line that is named like a merged piece (`a.base+b`) could give two kinds the same id.
fn report_namesakes(pieces: &[Piece], problems: &mut Problems) {
    for (index, piece) in pieces.iter().enumerate() {
        if pieces[..index].iter().any(|earlier| earlier.id == piece.id) {
            let title = format!("two kinds of pieces would be named `{}`", piece.id);
            let problem = Problem::error("piece-name", title)
                .at(piece.place.as_ref(), "this line's name reads like two merged lines")
                .help("leave `+` out of the names of the lines");
            problems.push(problem);
        }
    }
}
