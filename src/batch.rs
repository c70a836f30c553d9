//! The way of the data, from order to reports.

use crate::diagnostics::Problems;
use crate::orders::Order;
use crate::pieces::Bill;
use crate::plan::Plan;
use crate::schedule::Schedule;
use crate::stock::Stock;
use crate::workshop::Workshop;
use std::time::Duration;

/// A file as it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// Its name as the person wrote it.
    pub name: String,
    /// Its content.
    pub bytes: Vec<u8>,
}

/// All files of a batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Inputs {
    /// The orders, planned together.
    pub orders: Vec<Source>,
    /// The sheets.
    pub sheets: Source,
    /// The drawer.
    pub offcuts: Option<Source>,
    /// The bench.
    pub workshop: Option<Source>,
}

/// How hard to search.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Effort {
    /// A good plan at once.
    Quick,
    /// As a rule, the best plan.
    #[default]
    Normal,
    /// Leave nothing untried.
    Long,
}

/// How to plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// Stop looking for better plans after this time.
    pub limit: Option<Duration>,
    /// How hard to search.
    pub effort: Effort,
    /// Threads to use; `None` is one a core.
    pub threads: Option<usize>,
}

/// A batch with its plan.
#[derive(Clone, Debug)]
pub struct Made {
    /// What was ordered.
    pub order: Order,
    /// All paper there was.
    pub stock: Stock,
    /// The bench.
    pub workshop: Workshop,
    /// The pieces.
    pub bill: Bill,
    /// The checked plan.
    pub plan: Plan,
    /// The work at the bench.
    pub schedule: Schedule,
}

/// What came of it.
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    /// What there is to tell the person.
    pub problems: Problems,
    /// The plan; `None` where the input has mistakes or the order cannot be made.
    pub made: Option<Made>,
    /// What the judge found wrong with our own plan: a fault of the program.
    pub faults: Vec<String>,
}

/// Plans a batch.
pub fn plan(_inputs: &Inputs, _options: &Options) -> Outcome {
    Outcome::default()
}

/// Reads all files of a batch and says what is wrong with them.
pub fn check(_inputs: &Inputs) -> Problems {
    Problems::new()
}

/// Judges a `plan.json` by itself and by the rules of the bench.
pub fn judge(_plan: &Source, _workshop: Option<&Source>) -> Problems {
    Problems::new()
}
