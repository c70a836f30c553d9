//! Sheets of a plan that another one may begin with.

use super::candidate::{Candidate, column};
use super::fill::{area_values, fill_anyhow};
use super::pool::Column;
use super::task::{Supply, Task};
use super::words::Stop;
use crate::cuts::{Layout, Leaf, Tree};

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

    /// Adds so many sheets, by their index in the stock, of a layout of the pieces of a bill.
    pub fn add(&mut self, sheet: usize, layout: Layout, times: u64) {
        self.runs.push(StartRun { sheet, layout, times });
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

    /// The part of it that a task can begin with: sheets that are there or can be bought, and that can be cut so.
    pub(super) fn on(&self, task: &Task) -> Candidate {
        let item = |piece: usize| task.items.iter().position(|item| item.piece == piece);
        let mut plan = Candidate::default();
        let most = |supply: &Supply| supply.price.map_or(supply.on_hand, |_| u64::MAX);
        let mut left: Vec<u64> = task.supplies.iter().map(most).collect();
        for StartRun { sheet, layout, times } in &self.runs {
            let supply = task.supplies.iter().position(|supply| supply.sheet == *sheet);
            let Some(supply) = supply else { continue };
            let mut layout = layout.clone();
            layout.rename_or_leave(item);
            if can_cut(task, supply, &layout) {
                let times = (*times).min(left[supply]);
                left[supply] -= times;
                plan.add(&column(supply, layout, task.items.len()), times);
            }
        }
        plan
    }
}

/// Whether a sheet can be cut by a layout of the task's pieces.
fn can_cut(task: &Task, supply: usize, layout: &Layout) -> bool {
    let Supply { size, space, .. } = task.supplies[supply];
    let space = &task.pricing_spaces()[space];
    let lies_so = |plate: &Layout| match plate.leaf() {
        Some(Leaf::Piece(item, turned)) => {
            let (shape, own) = (space.shape(*item), task.items[*item].size);
            match turned {
                true => shape.turned && plate.size == own.turned(),
                false => shape.upright && plate.size == own,
            }
        }
        _ => true,
    };
    layout.size == size && space.can_make(layout) && layout.plates().all(lies_so)
}

/// The known plan, filled up where it lacks something; `None` where that is not enough.
pub(super) fn known_plan(task: &Task, known: &Start, urgent: Stop) -> Option<Candidate> {
    let known = known.on(task);
    if known.runs.is_empty() {
        return None;
    }
    let filled = fill_anyhow(task, known, &area_values(task), urgent)?;
    filled.cost(task).is_some().then_some(filled)
}

#[cfg(test)]
mod tests {
    use super::super::samples::two_papers;
    use super::*;
    use crate::measure::Axis;

    /// What is known is a plan as far as the sheets lie there; nothing else is taken for one.
    #[test]
    fn what_cannot_be_cut_so_is_not_known() {
        let mut task = two_papers([1, 1, 1]);
        let Supply { sheet, size, .. } = task.supplies[0];
        let counts = |task: &Task, sheet: usize, layout: Layout| -> Vec<(u64, u64)> {
            let mut start = Start::default();
            start.add(sheet, layout, 2);
            let runs = start.on(task).runs;
            runs.iter().map(|(column, times)| (column.counts.iter().sum::<u64>(), *times)).collect()
        };
        let empty = || Layout::remnant(size);
        let none: Vec<(u64, u64)> = Vec::new();
        assert_eq!(counts(&task, sheet, empty()), [(0, 2)]);
        assert_eq!(counts(&task, 77, empty()), none, "no such sheet");
        assert_eq!(counts(&task, sheet, Layout::piece(size, 99, false)), [(0, 2)], "no such piece");
        let small = size.with(Axis::Width, size.width - crate::measure::Length::from_ticks(1));
        assert_eq!(counts(&task, sheet, Layout::remnant(small)), none, "another size");
        let piece = task.items[0].piece;
        assert_eq!(
            counts(&task, sheet, Layout::piece(size, piece, false)),
            none,
            "a piece as large"
        );
        task.supplies[0].price = None;
        task.supplies[0].on_hand = 1;
        assert_eq!(counts(&task, sheet, empty()), [(0, 1)], "one is there");
    }
}
