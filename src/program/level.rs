//! What a level minimises, and the limits a branch of the search adds.

use super::candidate::Cost;
use super::task::{Supply, Task};
use std::collections::BTreeMap;

/// One level of the objective.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Level {
    /// Level 1: money for packs.
    Spend,
    /// Level 2: value of the paper used, within this budget.
    Stock {
        /// The best spend (`B`).
        budget: i64,
    },
}

impl Level {
    /// This level on a branch of the search.
    pub fn on(self, branch: &Branch) -> Subproblem<'_> {
        Subproblem { level: self, branch }
    }

    /// Cost of cutting one sheet.
    pub fn sheet_cost(self, supply: &Supply) -> i64 {
        match self {
            Level::Spend => 0,
            Level::Stock { .. } => supply.value,
        }
    }

    /// Cost of buying one pack of a sheet that can be bought.
    pub fn pack_cost(self, price: i64) -> i64 {
        match self {
            Level::Spend => price,
            Level::Stock { .. } => 0,
        }
    }

    /// What counts of a plan's cost.
    pub fn value(self, cost: Cost) -> i64 {
        match self {
            Level::Spend => cost.spend,
            Level::Stock { .. } => cost.stock,
        }
    }

    /// The most that may be spent.
    pub fn budget(self) -> Option<i64> {
        match self {
            Level::Spend => None,
            Level::Stock { budget } => Some(budget),
        }
    }

    /// The largest cost of a sheet or pack, for scaling; at least 1.
    pub fn largest_cost(self, task: &Task) -> i64 {
        let cost = |supply: &Supply| match self {
            Level::Spend => supply.price.unwrap_or(0),
            Level::Stock { .. } => supply.value,
        };
        task.supplies.iter().map(cost).max().unwrap_or(0).max(1)
    }
}

/// What a level asks for on a branch of the search.
#[derive(Clone, Copy)]
pub(super) struct Subproblem<'a> {
    pub level: Level,
    pub branch: &'a Branch,
}

/// Least and most of something whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Range {
    pub least: u64,
    pub most: Option<u64>,
}

impl Range {
    pub const ANY: Range = Range { least: 0, most: None };
}

/// The limits of one branch of the search: sheets cut, and packs bought, of each supply; where all
/// patterns are known, also sheets cut by a pattern, by its place in the pool.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Branch {
    pub used: Vec<Range>,
    pub packs: Vec<Range>,
    pub columns: BTreeMap<usize, Range>,
}

impl Branch {
    /// No limits beyond the stock's own.
    pub fn root(task: &Task) -> Branch {
        let any = vec![Range::ANY; task.supplies.len()];
        Branch { used: any.clone(), packs: any, columns: BTreeMap::new() }
    }
}
