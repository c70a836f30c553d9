//! A rectangle with its creases.

use super::Score;
use crate::measure::{Axis, Size};

/// A rectangle with its creases, before it has a name and a count; it lies outer side up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Blank {
    /// Its size, in ticks.
    pub size: Size,
    /// Its scores, from the left and the top.
    pub scores: Vec<Score>,
    /// The direction in which its grain should run, where it matters.
    pub grain_along: Option<Axis>,
}

impl Blank {
    /// One without creases.
    pub fn plain(size: Size) -> Blank {
        Blank { size, scores: Vec::new(), grain_along: None }
    }
}
