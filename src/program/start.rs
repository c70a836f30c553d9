//! Sheets of a plan that another one may begin with.

use super::candidate::{Candidate, column};
use super::pool::Column;
use super::task::Task;
use crate::cuts::Layout;

/// Sheets with their layouts, told so that they hold for every task of the same bill and stock.
#[derive(Clone, Debug, Default)]
pub struct Start {
    runs: Vec<StartRun>,
}

/// Sheets that are cut alike.
#[derive(Clone, Debug)]
struct StartRun {
    /// Index of the sheet in the stock.
    sheet: usize,
    /// Its shapes are pieces of the bill.
    layout: Layout,
    /// How many sheets.
    times: u64,
}

impl Start {
    /// The sheets of a plan.
    pub(super) fn of(task: &Task, plan: &Candidate) -> Start {
        let run = |(column, times): &(Column, u64)| {
            let mut layout = column.layout.clone();
            layout.rename(|item| task.items[item].piece);
            StartRun { sheet: task.supplies[column.supply].sheet, layout, times: *times }
        };
        Start { runs: plan.runs.iter().map(run).collect() }
    }

    /// Adds all sheets of another.
    pub fn append(&mut self, other: Start) {
        self.runs.extend(other.runs);
    }

    /// The same for another bill: `place` tells where a piece of this one stands there. What does not is left uncut.
    #[must_use]
    pub fn renamed(mut self, place: impl Fn(usize) -> Option<usize>) -> Start {
        self.runs.iter_mut().for_each(|run| run.layout.rename_or_leave(&place));
        self
    }

    /// The part of it that a task can begin with.
    pub(super) fn on(&self, task: &Task) -> Candidate {
        let item = |piece: usize| task.items.iter().position(|item| item.piece == piece);
        let mut plan = Candidate::default();
        for StartRun { sheet, layout, times } in &self.runs {
            let supply = task.supplies.iter().position(|supply| supply.sheet == *sheet);
            let Some(supply) = supply else { continue };
            let mut layout = layout.clone();
            layout.rename_or_leave(item);
            plan.add(&column(supply, layout, task.items.len()), *times);
        }
        plan
    }
}
