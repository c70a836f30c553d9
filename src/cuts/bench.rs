//! What can be cut at the bench.

use super::Tree;
use crate::measure::{Axis, Length, Size};

/// Cuts below each other, at most: a plan is written as nested text, two levels a cut, and what reads JSON
/// follows 128 levels.
pub const MOST_DEPTH: usize = 60;

/// What the bench can do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bench {
    /// Width lost per cut.
    pub blade: Length,
    /// Longest cut.
    pub knife: Length,
    /// Narrowest strip that can be held while it is cut.
    pub hold: Length,
    /// How many stages a pattern may have: how often cuts go another way than those before, and once
    /// for the first. `None` is any number.
    pub stages: Option<u32>,
}

impl Bench {
    /// Whether a plate can be cut at a place along the axis: both its sides can be held, and the cut is short enough.
    pub fn can_cut(&self, plate: Size, axis: Axis) -> bool {
        plate.along(axis.other()) <= self.knife && plate.short() >= self.hold
    }

    /// Whether every plate of a tree that is cut can be, and not too many cuts lie below each other.
    pub fn can_make<T: Tree>(&self, tree: &T) -> bool {
        let can = |plate: &T| plate.cut().is_none_or(|cut| self.can_cut(plate.size(), cut.axis));
        tree.plates().all(can) && tree.depth() <= MOST_DEPTH
    }

    /// What a plate leaves behind a part of this length: no width where that goes under the blade.
    pub fn rest(&self, plate: Size, axis: Axis, part: Length) -> Size {
        plate.with(axis, (plate.along(axis) - part - self.blade).max(Length::ZERO))
    }
}
