//! One paper of a task, as a task of its own.

use super::super::candidate::Candidate;
use super::super::pool::{Column, Pool};
use super::super::task::{Supply, Task};
use crate::measure::{Length, Size};
use crate::patterns::{Bench, Shape, Space};

/// One paper.
pub(super) struct Part {
    /// Its sheets, with the pieces it holds; the others are not wanted.
    pub task: Task,
    /// Where each of its supplies stands in the whole task.
    supplies: Vec<usize>,
    /// Whether it holds a piece, by item.
    pub holds: Vec<bool>,
    /// Its patterns that are known already.
    pub patterns: Pool,
}

/// The papers of a task that hold pieces, with the patterns of the pool.
pub(super) fn parts(task: &Task, pool: &Pool) -> Vec<Part> {
    let papers = (0..task.papers.len()).map(|paper| Part::new(task, pool, paper));
    papers.filter(|part| part.holds.contains(&true)).collect()
}

impl Part {
    fn new(task: &Task, pool: &Pool, paper: usize) -> Part {
        let supplies: Vec<usize> =
            (0..task.supplies.len()).filter(|&at| task.supplies[at].paper == paper).collect();
        let mut spaces: Vec<usize> = supplies.iter().map(|&at| task.supplies[at].space).collect();
        spaces.sort_unstable();
        spaces.dedup();
        let of = |all: &[Space]| spaces.iter().map(|&space| all[space].clone()).collect();
        let supply = |&at: &usize| {
            let supply = task.supplies[at];
            Supply { space: spaces.partition_point(|&space| space < supply.space), ..supply }
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
        let mut patterns = Pool::default();
        for column in pool.columns() {
            if let Ok(supply) = supplies.binary_search(&column.supply) {
                patterns.add(Column { supply, ..column.clone() });
            }
        }
        Part { task: own, supplies, holds, patterns }
    }

    /// The task in minor units divided by `scale`, where pieces of the items `shared` may also be bought
    /// one by one at these prices.
    pub fn offered(&self, shared: &[usize], (prices, scale): (&[i64], i64)) -> Task {
        let mut task = self.task.clone();
        for supply in &mut task.supplies {
            supply.price = supply.price.map(|price| price.saturating_mul(scale));
            supply.value = supply.value.saturating_mul(scale);
        }
        let mut spaces = task.spaces.to_vec();
        let mut relaxed = task.relaxed.as_ref().map(|spaces| spaces.to_vec());
        for &item in shared.iter().filter(|&&item| self.holds[item]) {
            let size = task.items[item].size;
            let space = single(size, item, task.items.len());
            task.supplies.push(Supply {
                // No sheet of the stock; `own` takes it out of plans.
                sheet: usize::MAX,
                paper: 0,
                on_hand: 0,
                pack: 1,
                price: Some(prices[item]),
                value: prices[item],
                size,
                space: spaces.len(),
            });
            relaxed.iter_mut().for_each(|spaces| spaces.push(space.clone()));
            spaces.push(space);
        }
        task.spaces = spaces.into();
        task.relaxed = relaxed.map(Into::into);
        task
    }

    /// What of a plan is cut from its own sheets.
    pub fn own(&self, plan: &Candidate) -> Candidate {
        let runs = plan.runs.iter().filter(|(column, _)| column.supply < self.supplies.len());
        Candidate { runs: runs.cloned().collect() }
    }

    /// Adds a plan for it to one of the whole task.
    pub fn add_to(&self, whole: &mut Candidate, plan: &Candidate) {
        for (column, times) in &plan.runs {
            let supply = self.supplies[column.supply];
            whole.add(&Column { supply, ..column.clone() }, *times);
        }
    }

    /// Adds the pieces that a plan for it makes, no more of each than are wanted.
    pub fn add_made(&self, plan: &Candidate, made: &mut [u64]) {
        let missing = plan.missing(&self.task);
        for ((made, item), missing) in made.iter_mut().zip(&self.task.items).zip(missing) {
            *made += item.demand - missing;
        }
    }

    /// Keeps the patterns of its own sheets for the next time.
    pub fn keep(&mut self, pool: &Pool) {
        for column in pool.columns().iter().filter(|column| column.supply < self.supplies.len()) {
            self.patterns.add(column.clone());
        }
    }

    /// How hard it is likely to be.
    pub fn weight(&self) -> u64 {
        let items = self.holds.iter().filter(|held| **held).count();
        (items * self.supplies.len()) as u64
    }
}

/// A plate that is just one piece.
fn single(size: Size, item: usize, items: usize) -> Space {
    let shape = |at: usize| Shape { size, upright: at == item, turned: false };
    let shapes: Vec<Shape> = (0..items).map(shape).collect();
    let knife = size.width.max(size.height);
    Space::new(
        size,
        &shapes,
        Bench { blade: Length::ZERO, knife, hold: Length::ZERO, stages: None },
    )
}
