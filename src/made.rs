//! A batch that can be cut.

use crate::job::Job;
use crate::measure::{Money, Ratio};
use crate::plan::{Plan, worth_used};
use crate::schedule::Schedule;
use crate::stock::Prices;

/// A batch with its plan and the work at the bench.
#[derive(Clone, Debug)]
pub struct Made {
    /// What it is made from.
    pub job: Job,
    /// The plan.
    pub plan: Plan,
    /// What was gained for drawer and bench after the program had settled on the runs.
    pub gains: Gains,
    /// The work at the bench.
    pub schedule: Schedule,
}

impl Made {
    /// What all paper that the plan uses is worth, in minor units.
    pub fn worth_used(&self) -> Ratio {
        let Job { stock, workshop, .. } = &self.job;
        worth_used(&self.plan, stock, &Prices::of(stock, workshop))
    }
}

/// What levels 3 and 4 gained: figures before and after.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Gains {
    /// Money that the offcuts kept are worth: of the runs as they were found, then of this plan.
    pub kept: (Money, Money),
    /// Gauge settings of the runs that keep so much, before any were looked for that need fewer.
    pub settings: (u64, u64),
    /// Number of these runs.
    pub runs: (u64, u64),
}
