//! One task, level by level: a first plan, a bound, better plans, and a search where both differ.

use super::attainable::{Attainable, Coin};
use super::candidate::{Candidate, Cost};
use super::certificate::Certificate;
use super::fill::{area_values, fill, rework};
use super::level::{Branch, Level};
use super::listed::{list, near};
use super::master::master;
use super::pool::Pool;
use super::refine::{Goal, refine};
use super::relaxation::{certify, relax};
use super::rounding::{base, dive, over_pool, piece_values, residual};
use super::search::{Search, Source};
use super::shortage::{Shortage, first_plan};
use super::task::Task;
use crate::patterns::Layout;
use std::sync::Arc;

/// Asked now and then whether time is up.
pub type Stop<'a> = &'a (dyn Fn() -> bool + Sync);

/// How much work is done for a better plan or proof.
pub struct Settings<'a> {
    /// Rounds of taking sheets out and filling up again, a level.
    pub rounds: u32,
    /// Nodes of the integer program over the patterns found.
    pub pool_nodes: u64,
    /// Nodes of the search for a proof, a level.
    pub nodes: usize,
    /// Pairs of parts that may be looked at to list patterns, a level.
    pub list_work: usize,
    /// Steps of work for each task (counted in `meter`) after which nothing new is begun.
    pub steps: u64,
    /// Asked now and then; once it says true, the best plan so far is taken.
    pub stop: Stop<'a>,
    /// Whether half the time is used up, which is all that level 1 may take.
    pub half: Stop<'a>,
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

/// Rounds of reworking the first plan, before anything is known of how good it is.
const FIRST_ROUNDS: u32 = 4;

/// The bound is worth more time than better plans and proofs: so many times their steps.
const BOUND_SHARE: u64 = 10;

/// Solves one task.
///
/// # Errors
/// The pieces for which no plan was found.
pub fn solve(task: &Task, settings: &Settings) -> Result<Answer, Shortage> {
    let mut pool = Pool::default();
    let first = first_plan(task, settings)?;
    let values = area_values(task);
    let free = Cost { spend: 0, stock: 0 };
    let late = || (settings.stop)() || task.meter.steps() > settings.steps / 8;
    let first = rework(task, first, &values, (FIRST_ROUNDS, free, &late));
    first.add_to(&mut pool);
    let early = Settings { stop: settings.half, ..*settings };
    let (mut plan, mut spend) =
        settle(task, (Level::Spend, &early, settings.steps / 2), &mut pool, first);
    let stock = loop {
        let level = Level::Stock { budget: spend.value };
        let (better, stock) = settle(task, (level, settings, settings.steps), &mut pool, plan);
        plan = better;
        let spent = plan.cost(task).map_or(spend.value, |cost| cost.spend);
        if spent == spend.value {
            break stock;
        }
        // Looking for the least stock has turned up a plan that spends less: its budget is tighter.
        spend.value = spent;
    };
    let runs = plan.runs.into_iter();
    let runs = runs.map(|(column, times)| (column.supply, column.layout, times)).collect();
    Ok(Answer { runs, spend, stock })
}

/// A gap of one part in so many is told, but not worked on: it is a cent in ten thousand dollars.
const NEGLIGIBLE: i64 = 1_000_000;

/// Brings one level to its end: the best plan found, and its proof.
fn settle(
    task: &Task,
    (level, settings, steps): (Level, &Settings, u64),
    pool: &mut Pool,
    start: Candidate,
) -> (Candidate, Proven) {
    let mut rank = Ranking { task, level, best: start };
    // Nothing to spend: the empty certificate says all.
    let pieces = match rank.value() {
        0 => vec![0.0; task.items.len()],
        _ => {
            let root = Branch::root(task);
            let most = task.meter.steps() + settings.steps.saturating_mul(BOUND_SHARE);
            let enough = |_| (settings.stop)() || task.meter.steps() > most;
            relax(task, (level, &root), pool, &enough).pieces
        }
    };
    let steps = steps.max(task.meter.steps() + settings.steps / 4);
    let stop = || (settings.stop)() || task.meter.steps() > steps;
    let settings = &Settings { stop: &stop, ..*settings };
    let certificate = certify(task, level, &pieces);
    let scale = i128::from(certificate.scale);
    let least = certificate.bound.max(0) / scale;
    let attainable = attainable(task, level, (least as i64, rank.value()));
    let certified = attainable.round_up(certificate.bound, scale);
    let values = piece_values(&pieces);
    improve(&mut rank, (pool, settings), &values, certified);
    let mut proof = Proof { certificate: &certificate, attainable: &attainable, bound: certified };
    if !rank.is_near(certified) && !search_list(&mut rank, (pool, settings), &mut proof) {
        close(&mut rank, (pool, settings), (&values, steps), &mut proof);
        search_list(&mut rank, (pool, settings), &mut proof);
    }
    let value = rank.value();
    let bound = proof.bound.min(value);
    let complete_search = bound > certified;
    (rank.best, Proven { value, bound, complete_search, certificate })
}

/// What is proven of a level so far.
struct Proof<'a> {
    certificate: &'a Certificate,
    attainable: &'a Attainable,
    bound: i64,
}

/// Refines the plan and searches for better ones, each for half of the steps left. Where packs are
/// bought, spending hangs on which, and only the search can change that.
fn close(
    rank: &mut Ranking,
    (pool, settings): (&mut Pool, &Settings),
    (values, steps): (&[i64], u64),
    proof: &mut Proof,
) {
    let (task, level) = (rank.task, rank.level);
    let now = task.meter.steps();
    let half = now + steps.saturating_sub(now) / 2;
    let Proof { attainable, certificate, .. } = *proof;
    let refined = |best: Candidate, bound: i64, steps: u64| {
        let goal = Goal { level, attainable, bound, certificate, steps };
        refine(task, &goal, best, (values, settings))
    };
    let packs = task.supplies.iter().any(|supply| supply.price.is_some() && supply.pack > 1);
    let search_first = level == Level::Spend && packs;
    if !search_first {
        rank.best = refined(rank.best.clone(), proof.bound, half);
    }
    if rank.value() > proof.bound {
        let steps = if search_first { half } else { steps };
        let stop = || (settings.stop)() || task.meter.steps() > steps;
        let settings = &Settings { stop: &stop, ..*settings };
        let most = attainable.below(rank.value());
        let mut near = near(task, level, certificate, (most, pool));
        search(rank, settings, proof, (&mut near, Source::Sheets));
        rank.best.add_to(pool);
    }
    if search_first {
        rank.best = refined(rank.best.clone(), proof.bound, steps);
    }
}

/// Searches among all patterns that a better plan may use; false where they are too many to be listed.
fn search_list(
    rank: &mut Ranking,
    (pool, settings): (&mut Pool, &Settings),
    proof: &mut Proof,
) -> bool {
    if rank.value() <= proof.bound || (settings.stop)() {
        return false;
    }
    let effort = (proof.attainable.below(rank.value()), settings.list_work);
    let Some(mut list) = list(rank.task, rank.level, proof.certificate, effort) else {
        return false;
    };
    search(rank, settings, proof, (&mut Pool::default(), Source::List(&mut list)));
    rank.best.add_to(pool);
    true
}

/// Searches, and takes the plan and the bound that come of it.
fn search(rank: &mut Ranking, settings: &Settings, proof: &mut Proof, from: (&mut Pool, Source)) {
    let search = Search::new(rank.task, (rank.level, settings), proof.attainable, from);
    let found = search.run(rank.best.clone(), proof.bound);
    proof.bound = proof.bound.max(found.bound);
    rank.best = found.best;
}

/// Looks for plans down to the `certified` bound, the cheap ways first.
fn improve(
    rank: &mut Ranking,
    (pool, settings): (&mut Pool, &Settings),
    values: &[i64],
    certified: i64,
) {
    let (task, level) = (rank.task, rank.level);
    let place = (level, &Branch::root(task));
    let open = |rank: &Ranking| !rank.is_near(certified) && !(settings.stop)();
    if open(rank) {
        rank.offer(dive(task, place, (pool, settings.stop)));
    }
    for slack in SLACKS {
        if open(rank) {
            let better = around(rank, (pool, settings), values, (slack, certified));
            rank.offer(better);
        }
    }
    if open(rank) {
        rank.offer(over_pool(task, place, (pool, values, settings.pool_nodes)));
    }
    if open(rank) {
        let target = target(level, certified);
        rank.offer(fill(task, Candidate::default(), values));
        let effort = (settings.rounds / 2, target, settings.stop);
        rank.offer(Some(rework(task, rank.best.clone(), values, effort)));
    }
    rank.best.add_to(pool);
}

/// Sheets a pattern that are given back before the rest of an order is solved as a small one.
const SLACKS: [u64; 2] = [1, 4];

/// Keeps most of a relaxed solution as it is and solves what is left as an order of its own, which is
/// small whatever the counts are.
fn around(
    rank: &Ranking,
    (pool, settings): (&mut Pool, &Settings),
    values: &[i64],
    (slack, certified): (u64, i64),
) -> Option<Candidate> {
    let (task, level) = (rank.task, rank.level);
    let parts = master(task, (level, &Branch::root(task)), pool).solve()?;
    let base = base(pool, &parts, slack);
    if base.runs.is_empty() {
        return None;
    }
    let rest = task.after(&base)?;
    let level = residual(level, task, &base)?;
    let root = Branch::root(&rest);
    let mut small =
        Ranking { task: &rest, level, best: fill(&rest, Candidate::default(), values)? };
    small.offer(over_pool(&rest, (level, &root), (pool, values, settings.pool_nodes)));
    let left = certified - level.value(base.cost(task)?);
    let effort = (settings.rounds / 4, target(level, left), settings.stop);
    Some(base.with(&rework(&rest, small.best, values, effort), task))
}

fn target(level: Level, certified: i64) -> Cost {
    match level {
        Level::Spend => Cost { spend: certified, stock: i64::MAX },
        Level::Stock { budget } => Cost { spend: budget, stock: certified },
    }
}

/// The costs a plan can have at this level.
pub(super) fn attainable(task: &Task, level: Level, range: (i64, i64)) -> Attainable {
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
    Attainable::new(&coins, range)
}

/// The best plan so far at a level.
struct Ranking<'a> {
    task: &'a Task,
    level: Level,
    best: Candidate,
}

impl Ranking<'_> {
    fn value(&self) -> i64 {
        self.best.cost(self.task).map_or(i64::MAX, |cost| self.level.value(cost))
    }

    /// Whether the plan costs no more than a bound, or so little more that it isn't worth work.
    fn is_near(&self, bound: i64) -> bool {
        let value = self.value();
        value <= bound || value - bound <= value / NEGLIGIBLE
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
