//! A plan in whole numbers: how often each pattern is cut.

use super::pool::{Column, Pool};
use super::task::Task;
use std::sync::Arc;

/// What a plan costs, level by level.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    pub spend: i64,
    pub stock: i64,
}

/// Patterns with their counts.
#[derive(Clone, Debug, Default)]
pub(super) struct Candidate {
    pub runs: Vec<(Column, u64)>,
}

impl Candidate {
    /// Adds sheets cut by a pattern, joining them to an equal run.
    pub fn add(&mut self, column: &Column, times: u64) {
        match self.runs.iter_mut().find(|run| run.0.is_same(column)) {
            _ if times == 0 => {}
            Some(run) => run.1 += times,
            None => self.runs.push((column.clone(), times)),
        }
    }

    /// Both plans together, less the sheets that nothing needs then.
    pub fn with(&self, other: &Candidate, task: &Task) -> Candidate {
        let mut whole = self.clone();
        other.runs.iter().for_each(|(column, times)| whole.add(column, *times));
        whole.without_idle_sheets(task)
    }

    /// The sheets that are not in `base`, a part of this plan.
    pub fn outside(&self, base: &Candidate) -> Candidate {
        let mut rest = Candidate::default();
        for (column, times) in &self.runs {
            let kept = base.runs.iter().find(|run| run.0.is_same(column)).map_or(0, |run| run.1);
            rest.add(column, times - kept);
        }
        rest
    }

    /// Adds its patterns to a pool.
    pub fn add_to(&self, pool: &mut Pool) {
        self.runs.iter().for_each(|(column, _)| {
            pool.add(column.clone());
        });
    }

    /// Sheets cut, by supply.
    pub fn used(&self, task: &Task) -> Vec<u64> {
        let mut used = vec![0; task.supplies.len()];
        self.runs.iter().for_each(|(column, times)| used[column.supply] += times);
        used
    }

    /// Pieces still missing, by item.
    pub fn missing(&self, task: &Task) -> Vec<u64> {
        let mut missing: Vec<u64> = task.items.iter().map(|item| item.demand).collect();
        for (column, times) in &self.runs {
            for (missing, count) in missing.iter_mut().zip(column.counts.iter()) {
                *missing = missing.saturating_sub(count.saturating_mul(*times));
            }
        }
        missing
    }

    /// Whether all pieces are there.
    pub fn is_complete(&self, task: &Task) -> bool {
        self.missing(task).iter().all(|missing| *missing == 0)
    }

    /// What it costs; `None` where the stock does not suffice.
    pub fn cost(&self, task: &Task) -> Option<Cost> {
        let mut cost = Cost { spend: 0, stock: 0 };
        for (supply, used) in task.supplies.iter().zip(self.used(task)) {
            let packs = supply.packs(used)? as i64;
            cost.spend = cost.spend.saturating_add(packs.saturating_mul(supply.price.unwrap_or(0)));
            cost.stock = cost.stock.saturating_add(supply.value.saturating_mul(used as i64));
        }
        Some(cost)
    }

    /// Drops sheets that nothing needs, the last runs first.
    pub fn without_idle_sheets(mut self, task: &Task) -> Candidate {
        let mut spare = self.surplus(task);
        for (column, times) in self.runs.iter_mut().rev() {
            let yields = column.counts.iter().zip(&spare).filter(|(count, _)| **count > 0);
            let idle = yields.map(|(count, spare)| spare / count).min().unwrap_or(u64::MAX);
            let idle = idle.min(*times);
            *times -= idle;
            let yields = column.counts.iter().zip(&mut spare);
            yields.for_each(|(count, spare)| *spare -= count * idle);
        }
        self.runs.retain(|(_, times)| *times > 0);
        self
    }

    /// Pieces beyond what is wanted, by item.
    pub fn surplus(&self, task: &Task) -> Vec<u64> {
        let yielded = |item: usize| -> u64 {
            self.runs.iter().map(|(column, times)| column.counts[item].saturating_mul(*times)).sum()
        };
        let wanted = task.items.iter().enumerate();
        wanted.map(|(item, wanted)| yielded(item).saturating_sub(wanted.demand)).collect()
    }
}

/// A column made of a layout.
pub(super) fn column(supply: usize, layout: crate::cuts::Layout, items: usize) -> Column {
    let counts: Arc<[u64]> = layout.counts(items).into();
    Column { supply, counts, layout }
}
