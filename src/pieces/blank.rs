//! What recipes are told, and what they make.

use super::Score;
use crate::measure::{Axis, Size};
use crate::stock::{KnownPapers, Stock};
use crate::workshop::Workshop;

/// A rectangle with its creases, before it has a name and a count.
pub(super) struct Blank {
    pub size: Size,
    pub scores: Vec<Score>,
    pub grain_along: Option<Axis>,
}

impl Blank {
    pub fn plain(size: Size) -> Blank {
        Blank { size, scores: Vec::new(), grain_along: None }
    }
}

/// What recipes are told.
#[derive(Clone, Copy)]
pub(super) struct Given<'a> {
    pub papers: &'a KnownPapers<'a>,
    pub stock: &'a Stock,
    pub workshop: &'a Workshop,
}
