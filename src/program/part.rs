//! One paper of a task, as a task of its own.

use super::candidate::Candidate;
use super::pool::{Column, Pool};
use super::task::{Supply, Task};
use crate::patterns::Space;

/// One paper.
pub(super) struct OnePaper {
    /// Its sheets, with the pieces it holds; the others are not wanted.
    pub task: Task,
    /// Where each of its supplies stands in the whole task.
    supplies: Vec<usize>,
    /// Index of its paper in the whole task.
    pub paper: usize,
    /// Whether it holds a piece, by item.
    pub holds: Vec<bool>,
    /// Its patterns that are known already.
    pub patterns: Pool,
}

/// The papers of a task that hold pieces, with the patterns of the pool.
pub(super) fn parts(task: &Task, pool: &Pool) -> Vec<OnePaper> {
    let papers = (0..task.papers.len()).map(|paper| OnePaper::new(task, pool, paper));
    papers.filter(|part| part.holds.contains(&true)).collect()
}

impl OnePaper {
    fn new(task: &Task, pool: &Pool, paper: usize) -> OnePaper {
        let supplies: Vec<usize> =
            (0..task.supplies.len()).filter(|&at| task.supplies[at].paper == paper).collect();
        let mut spaces: Vec<usize> = supplies.iter().map(|&at| task.supplies[at].space).collect();
        spaces.sort_unstable();
        spaces.dedup();
        let of = |all: &[Space]| spaces.iter().map(|&space| all[space].clone()).collect();
        let supply = |&at: &usize| {
            let supply = task.supplies[at];
            let space = spaces.partition_point(|&space| space < supply.space);
            Supply { paper: 0, space, ..supply }
        };
        let mut own = Task {
            papers: vec![task.papers[paper].clone()],
            supplies: supplies.iter().map(supply).collect(),
            spaces: of(&task.spaces),
            relaxed: task.relaxed.as_deref().map(of),
            ..task.clone()
        };
        let held = |item: usize| own.spaces.iter().any(|space| space.holds(item));
        let holds: Vec<bool> = (0..task.items.len()).map(held).collect();
        for (item, held) in own.items.iter_mut().zip(&holds) {
            item.demand = if *held { item.demand } else { 0 };
        }
        let mut part = OnePaper { paper, task: own, supplies, holds, patterns: Pool::default() };
        part.learn(pool);
        part
    }

    /// Adds those patterns of a pool for the whole task that are its own.
    pub fn learn(&mut self, pool: &Pool) {
        for column in pool.columns() {
            if let Ok(supply) = self.supplies.binary_search(&column.supply) {
                self.patterns.add(Column { supply, ..column.clone() });
            }
        }
    }

    /// Of amounts by supply of the whole task, those of its own.
    pub fn share(&self, amounts: &[u64]) -> Vec<u64> {
        self.supplies.iter().map(|&at| amounts[at]).collect()
    }

    /// Adds a plan for it to one of the whole task.
    pub fn add_to(&self, whole: &mut Candidate, plan: &Candidate) {
        for (column, times) in &plan.runs {
            let supply = self.supplies[column.supply];
            whole.add(&Column { supply, ..column.clone() }, *times);
        }
    }
}
