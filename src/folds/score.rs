//! Score lines, and on which side they are pressed.

use crate::measure::{Axis, Length};

/// A crease line.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(deny_unknown_fields)]
pub struct Score {
    /// The direction in which `at` is measured: `width` means a line that runs down.
    pub across: Axis,
    /// Distance from the left or top edge.
    pub at: Length,
    /// The side that it is pressed on: the fold closes away from it, and the ridge lies inside.
    #[serde(skip_serializing_if = "ScoreSide::is_outer", default)]
    pub side: ScoreSide,
}

/// A side of a piece that lies outer side up.
#[derive(
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    serde::Serialize,
    serde::Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum ScoreSide {
    /// The one that is up.
    #[default]
    Outer,
    /// The other one.
    Inner,
}

impl ScoreSide {
    fn is_outer(&self) -> bool {
        *self == ScoreSide::Outer
    }
}

impl Score {
    /// One that is pressed on the outer side.
    pub const fn new(across: Axis, at: Length) -> Score {
        Score { across, at, side: ScoreSide::Outer }
    }
}
