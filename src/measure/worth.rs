//! Worth in whole units, so that sums and proofs are exact.

use serde::{Deserialize, Serialize};

/// Whole units of the worth of paper. What a unit is, each group of papers says for itself.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Worth(i64);

impl Worth {
    /// So many units.
    pub const fn from_units(units: i64) -> Worth {
        Worth(units)
    }

    /// The number of units.
    pub const fn units(self) -> i64 {
        self.0
    }
}
