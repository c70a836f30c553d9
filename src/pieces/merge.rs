//! Identical pieces of several lines become one kind, so that they are cut together.

use super::{Part, Piece};
use crate::diagnostics::{Problem, Problems};
use crate::folds::Score;
use crate::measure::{Axis, Size};
use crate::orders::Turn;
use std::collections::{BTreeMap, BTreeSet};

/// Most lines that the id of a merged piece names; of those beyond it tells how many they are.
const NAMED: usize = 8;

/// Merges pieces alike in part, size, papers, turn and creases, each at the place of its first. The
/// ids are joined by `+`, the shares keep who needs what.
pub(super) fn merge(single: Vec<Piece>, problems: &mut Problems) -> Vec<Piece> {
    let mut merged: Vec<Piece> = Vec::with_capacity(single.len());
    let mut places: BTreeMap<Likeness, usize> = BTreeMap::new();
    for piece in single {
        let place = *places.entry(Likeness::of(&piece)).or_insert(merged.len());
        match merged.get_mut(place) {
            Some(other) => {
                if other.shares.len() < NAMED {
                    other.id.push('+');
                    other.id.push_str(&piece.id);
                }
                other.shares.extend(piece.shares);
            }
            None => merged.push(piece),
        }
    }
    for piece in merged.iter_mut().filter(|piece| piece.shares.len() > NAMED) {
        // Every position on every sheet repeats the id.
        piece.id.push_str(&format!("+{} more", piece.shares.len() - NAMED));
    }
    report_namesakes(&merged, problems);
    merged
}

/// All by which pieces are told apart.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Likeness {
    part: Part,
    size: Size,
    papers: Vec<String>,
    turn: Option<Turn>,
    grain_along: Option<Axis>,
    scores: Vec<Score>,
}

impl Likeness {
    fn of(piece: &Piece) -> Likeness {
        let Piece { part, size, papers, turn, grain_along, scores, .. } = piece.clone();
        Likeness { part, size, papers, turn, grain_along, scores }
    }
}

/// Whether two pieces would become one kind.
pub(super) fn are_alike(one: &Piece, other: &Piece) -> bool {
    Likeness::of(one) == Likeness::of(other)
}

/// A line that is named like a merged piece (`a.card+b`) could give two kinds the same id.
fn report_namesakes(pieces: &[Piece], problems: &mut Problems) {
    let mut ids = BTreeSet::new();
    for piece in pieces.iter().filter(|piece| !ids.insert(piece.id.as_str())) {
        let title = format!("two kinds of pieces are called `{}`", piece.id);
        let problem = Problem::error("piece-name", title)
            .at(piece.place.as_ref(), "this line's name looks like two names joined")
            .help("leave `+` out of line names");
        problems.push(problem);
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples::base;
    use super::*;

    fn id_of(lines: usize) -> String {
        let named = |line| Piece { id: format!("{line}.card"), ..base("2 x 3") };
        let merged = merge((1..=lines).map(named).collect(), &mut Problems::new());
        assert_eq!((merged.len(), merged[0].shares.len()), (1, lines));
        merged[0].id.clone()
    }

    #[test]
    fn many_lines_make_no_endless_id() {
        let eight = "1.card+2.card+3.card+4.card+5.card+6.card+7.card+8.card";
        assert_eq!(id_of(8), eight);
        assert_eq!(id_of(9), format!("{eight}+1 more"));
        assert_eq!(id_of(1000), format!("{eight}+992 more"));
    }
}
