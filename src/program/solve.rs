//! One task, level by level: a first plan, a bound, better plans, and a search where both differ.

use super::attainable::{Attainable, Coin};
use super::candidate::{Candidate, Cost};
use super::certificate::Certificate;
use super::fill::{area_values, fill, rework};
use super::level::{Branch, Level};
use super::pool::Pool;
use super::relaxation::{certify, relax};
use super::rounding::{dive, over_pool, piece_values};
use super::search::Search;
use super::shortage::{Shortage, first_plan};
use super::task::Task;
use crate::patterns::Layout;
use std::sync::Arc;

/// How much work is done for a better plan or proof.
pub struct Settings<'a> {
    /// Rounds of taking sheets out and filling up again, a level.
    pub rounds: u32,
    /// Nodes of the integer program over the patterns found.
    pub pool_nodes: u64,
    /// Nodes of the search for a proof, a level.
    pub nodes: usize,
    /// Asked now and then; once it says true, the best plan so far is taken.
    pub stop: &'a (dyn Fn() -> bool + Sync),
}

/// A plan for one task, with what is known of it.
pub struct Answer {
    /// Patterns cut: index of the supply, layout, sheets.
    pub runs: Vec<(usize, Arc<Layout>, u64)>,
    /// Level 1.
    pub spend: Proven,
    /// Level 2.
    pub stock: Proven,
}

/// Value and bound of a level, in minor units.
pub struct Proven {
    /// What the plan costs.
    pub value: i64,
    /// What every plan costs at least.
    pub bound: i64,
    /// Whether the bound rests on a complete search, beyond the certificate.
    pub complete_search: bool,
    /// The whole numbers that prove a bound.
    pub certificate: Certificate,
}

/// Solves one task.
///
/// # Errors
/// The pieces for which no plan was found.
pub fn solve(task: &Task, settings: &Settings) -> Result<Answer, Shortage> {
    let mut pool = Pool::default();
    let first = first_plan(task, settings)?;
    let values = area_values(task);
    let first = rework(task, first, &values, (settings.rounds, Cost { spend: 0, stock: 0 }));
    remember(&mut pool, &first);
    let (plan, spend) = settle(task, (Level::Spend, settings), &mut pool, first);
    let level = Level::Stock { budget: spend.value };
    let (plan, stock) = settle(task, (level, settings), &mut pool, plan);
    let runs = plan.runs.into_iter();
    let runs = runs.map(|(column, times)| (column.supply, column.layout, times)).collect();
    Ok(Answer { runs, spend, stock })
}

/// Brings one level to its end: the best plan found, and its proof.
fn settle(
    task: &Task,
    (level, settings): (Level, &Settings),
    pool: &mut Pool,
    start: Candidate,
) -> (Candidate, Proven) {
    let mut rank = Ranking { task, level, best: start };
    let attainable = attainable(task, level, rank.value());
    let round_up = |bound: (i128, i128)| attainable.round_up(bound.0, bound.1);
    // Nothing to spend: the empty certificate says all.
    let root = Branch::root(task);
    let relaxed = match rank.value() {
        0 => None,
        _ => Some(relax(task, (level, &root), pool, &|_| false)),
    };
    let duals = relaxed.as_ref().map(|relaxed| relaxed.duals.clone()).unwrap_or_default();
    let certificate = certify(task, level, &duals);
    let certified = round_up((certificate.bound, certificate.scale.into()));
    let values = piece_values(&duals.pieces);
    if rank.value() > certified {
        rank.offer(dive(task, (level, &root), pool));
    }
    if rank.value() > certified {
        rank.offer(over_pool(task, (level, &root), (pool, &values, settings.pool_nodes)));
    }
    if rank.value() > certified {
        let target = target(level, certified);
        rank.offer(fill(task, Candidate::default(), &values));
        rank.offer(Some(rework(task, rank.best.clone(), &values, (settings.rounds, target))));
    }
    remember(pool, &rank.best);
    let mut bound = certified;
    if rank.value() > certified {
        let mut search = Search { task, level, settings, attainable: &attainable, pool };
        let searched = search.run(rank.best.clone(), certified);
        bound = searched.bound;
        rank.best = searched.best;
        remember(pool, &rank.best);
    }
    let value = rank.value();
    let bound = bound.min(value);
    let complete_search = bound > certified;
    (rank.best, Proven { value, bound, complete_search, certificate })
}

fn target(level: Level, certified: i64) -> Cost {
    match level {
        Level::Spend => Cost { spend: certified, stock: i64::MAX },
        Level::Stock { budget } => Cost { spend: budget, stock: certified },
    }
}

/// The costs a plan can have at this level.
fn attainable(task: &Task, level: Level, limit: i64) -> Attainable {
    let coins: Vec<Coin> = match level {
        Level::Spend => {
            let prices = task.supplies.iter().filter_map(|supply| supply.price);
            prices.map(|value| Coin { value, most: None }).collect()
        }
        Level::Stock { .. } => {
            let coin = |supply: &super::task::Supply| Coin {
                value: supply.value,
                most: supply.price.is_none().then_some(supply.on_hand),
            };
            task.supplies.iter().map(coin).collect()
        }
    };
    Attainable::new(&coins, limit)
}

fn remember(pool: &mut Pool, candidate: &Candidate) {
    candidate.runs.iter().for_each(|(column, _)| {
        pool.add(column.clone());
    });
}

/// The best plan so far at a level.
struct Ranking<'a> {
    task: &'a Task,
    level: Level,
    best: Candidate,
}

impl Ranking<'_> {
    fn value(&self) -> i64 {
        self.best.cost(self.task).map_or(i64::MAX, |cost| match self.level {
            Level::Spend => cost.spend,
            Level::Stock { .. } => cost.stock,
        })
    }

    /// Takes the candidate where it is complete and cheaper, level by level.
    fn offer(&mut self, candidate: Option<Candidate>) {
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
