//! The best plan so far, and what is better.

use super::candidate::Candidate;
use super::level::Level;
use super::task::Task;

/// The best plan so far at a level.
pub(super) struct Ranking<'a> {
    pub task: &'a Task,
    pub level: Level,
    pub best: Candidate,
    /// A gap of one part in so many is good enough.
    pub negligible: i64,
    /// So is one of so many units.
    pub little: i64,
}

impl Ranking<'_> {
    /// What it costs at this level.
    pub fn value(&self) -> i64 {
        self.best.cost(self.task).map_or(i64::MAX, |cost| self.level.value(cost))
    }

    /// Whether the plan costs no more than a bound, or so little more that it isn't worth work.
    pub fn is_near(&self, bound: i64) -> bool {
        let value = self.value();
        value <= bound || value - bound <= self.little.max(value / self.negligible)
    }

    /// Takes the candidate where it is complete and cheaper, level by level.
    pub fn offer(&mut self, candidate: Option<Candidate>) {
        let Some(candidate) = candidate.filter(|candidate| candidate.is_complete(self.task)) else {
            return;
        };
        let (Some(new), Some(old)) = (candidate.cost(self.task), self.best.cost(self.task)) else {
            return;
        };
        if new < old {
            self.best = candidate;
        }
    }
}
