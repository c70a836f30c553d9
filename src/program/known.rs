//! A plan that is known before the search begins: what is left of an earlier one.

use super::candidate::{Candidate, column};
use super::fill::{area_values, fill_anyhow};
use super::task::Task;
use super::words::Stop;
use crate::cuts::{Content, Cut, Layout, Leaf};

/// Sheets of one kind with a pattern for them.
#[derive(Clone, Debug)]
pub struct KnownRun {
    /// Index of the sheet in the stock.
    pub sheet: usize,
    /// The pattern of its true part; pieces by their index in the bill.
    pub layout: Layout,
    /// Sheets.
    pub count: u64,
}

impl Task {
    /// Takes in those of its sheets, as far as they are there and can be cut so.
    pub fn learn(&mut self, runs: &[KnownRun]) {
        let mut known = Candidate::default();
        let mut left: Vec<u64> = self.supplies.iter().map(|supply| supply.on_hand).collect();
        for run in runs {
            let found = self.supplies.iter().position(|supply| supply.sheet == run.sheet);
            let Some(supply) = found else { continue };
            let Some(layout) = self.renamed(supply, &run.layout) else { continue };
            let times = run.count.min(left[supply]);
            left[supply] -= times;
            known.add(&column(supply, layout, self.items.len()), times);
        }
        self.known = (!known.runs.is_empty()).then(|| known.into());
    }

    /// A layout with its pieces by their index here; `None` where it is none for the sheet.
    fn renamed(&self, supply: usize, layout: &Layout) -> Option<Layout> {
        let space = &self.pricing_spaces()[self.supplies[supply].space];
        if layout.size != self.supplies[supply].size || !space.can_make(layout) {
            return None;
        }
        self.with_items(supply, layout)
    }

    fn with_items(&self, supply: usize, layout: &Layout) -> Option<Layout> {
        let space = &self.pricing_spaces()[self.supplies[supply].space];
        let content = match &layout.content {
            Content::Leaf(Leaf::Remnant) => return Some(layout.clone()),
            Content::Leaf(Leaf::Piece(piece, turned)) => {
                let Some(item) = self.items.iter().position(|item| item.piece == *piece) else {
                    return Some(Layout::remnant(layout.size));
                };
                let (shape, size) = (space.shape(item), self.items[item].size);
                let (may, size) = match turned {
                    true => (shape.turned, size.turned()),
                    false => (shape.upright, size),
                };
                if !may || size != layout.size {
                    return None;
                }
                Content::Leaf(Leaf::Piece(item, *turned))
            }
            Content::Cut(Cut { axis, at, parts }) => {
                let [near, far] = parts.as_ref();
                let parts = [self.with_items(supply, near)?, self.with_items(supply, far)?];
                Content::Cut(Cut::new(*axis, *at, parts))
            }
        };
        Some(Layout { size: layout.size, content })
    }
}

/// The known plan, filled up where it lacks something; `None` where there is none, or where that is not enough.
pub(super) fn known_plan(task: &Task, urgent: Stop) -> Option<Candidate> {
    let known = task.known.as_deref()?.clone();
    let filled = fill_anyhow(task, known, &area_values(task), urgent)?;
    filled.cost(task).is_some().then_some(filled)
}

#[cfg(test)]
mod tests {
    use super::super::samples::two_papers;
    use super::*;

    /// What is known is a plan as far as the sheets lie there; nothing else is taken for one.
    #[test]
    fn what_cannot_be_cut_so_is_not_known() {
        let mut task = two_papers([1, 1, 1]);
        let supply = task.supplies[0];
        let run = |layout| KnownRun { sheet: supply.sheet, layout, count: 2 };
        let empty = Layout::remnant(supply.size);
        task.supplies[0].on_hand = 1;
        task.learn(&[run(empty.clone())]);
        let known = task.known.as_deref().cloned().unwrap();
        assert_eq!(known.runs.iter().map(|run| run.1).collect::<Vec<_>>(), [1]);
        let foreign = Layout::piece(supply.size, 99, false);
        task.learn(&[run(foreign)]);
        assert_eq!(task.known.as_deref().unwrap().runs[0].0.counts.iter().sum::<u64>(), 0);
        let small = Layout::remnant(
            supply.size.turned().with(crate::measure::Axis::Width, supply.size.short()),
        );
        let other = KnownRun { sheet: 77, ..run(empty) };
        task.learn(
            &[run(Layout { size: small.size, ..small }), other]
                .map(|run| KnownRun { count: 0, ..run }),
        );
        assert!(task.known.is_none());
    }
}
