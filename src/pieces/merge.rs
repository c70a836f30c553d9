//! Identical pieces of several lines become one kind, so that they are cut together.

use super::{Part, Piece, Score};
use crate::diagnostics::{Problem, Problems};
use crate::measure::{Axis, Size};
use crate::orders::Turn;
use std::collections::{BTreeMap, BTreeSet};

/// Merges pieces alike in part, size, papers, turn and creases, each at the place of its first. The
/// ids are joined by `+`, the shares keep who needs what.
pub(super) fn merge(single: Vec<Piece>, problems: &mut Problems) -> Vec<Piece> {
    let mut merged: Vec<Piece> = Vec::with_capacity(single.len());
    let mut places: BTreeMap<Kind, usize> = BTreeMap::new();
    for piece in single {
        let place = *places.entry(Kind::of(&piece)).or_insert(merged.len());
        match merged.get_mut(place) {
            Some(other) => {
                other.id.push('+');
                other.id.push_str(&piece.id);
                other.shares.extend(piece.shares);
            }
            None => merged.push(piece),
        }
    }
    report_namesakes(&merged, problems);
    merged
}

/// All by which pieces are told apart.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Kind {
    part: Part,
    size: Size,
    papers: Vec<String>,
    turn: Option<Turn>,
    fold_along: Option<Axis>,
    scores: Vec<Score>,
}

impl Kind {
    fn of(piece: &Piece) -> Kind {
        let Piece { part, size, papers, turn, fold_along, scores, .. } = piece.clone();
        Kind { part, size, papers, turn, fold_along, scores }
    }
}

/// A line that is named like a merged piece (`a.base+b`) could give two kinds the same id.
fn report_namesakes(pieces: &[Piece], problems: &mut Problems) {
    let mut ids = BTreeSet::new();
    for piece in pieces.iter().filter(|piece| !ids.insert(piece.id.as_str())) {
        let title = format!("two kinds of pieces would be named `{}`", piece.id);
        let problem = Problem::error("piece-name", title)
            .at(piece.place.as_ref(), "this line's name reads like two merged lines")
            .help("leave `+` out of the names of the lines");
        problems.push(problem);
    }
}
