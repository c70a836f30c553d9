//! Papers that share only some of their pieces, each solved for itself.
//!
//! The shared pieces tie the papers together. With a price π on each of them, every paper may leave a
//! shared piece uncut and pay for it instead (Lagrangian relaxation: Geoffrion 1974, Mathematical
//! Programming Study 2:82-114; by parts that share variables: Guignard & Kim 1987, Mathematical
//! Programming 39:215-228). The papers are then independent, and what they cost at least, less what more
//! than one of them pays for a piece, is a bound for the whole:
//!
//! ```text
//! Σ_p min { cost of p making z_ip + Σ_i π_i (n_i − z_ip) }  −  Σ_i (k_i − 1) π_i n_i
//! ```
//!
//! where `k_i` papers hold piece i. It is sharper than the linear program's, since every paper is solved in
//! whole sheets and packs. Solving the papers again for what the others leave gives plans.

mod part;

use super::attainable::Attainable;
use super::candidate::Candidate;
use super::level::Level;
use super::pool::Pool;
use super::settle::settle;
use super::shortage::first_plan;
use super::solve::Settings;
use super::task::Task;
use crate::patterns::Space;
use part::{Part, parts};

/// The most that all costs may come to in the units in which papers are solved.
const MOST_COST: i64 = 2_000_000;
/// Units in a minor unit, at most, so that a piece's price need not be whole.
const MOST_SCALE: i64 = 64;
/// Rounds of changing the prices, at most.
const MOST_ROUNDS: usize = 8;
/// How far prices go towards where the gap would be closed.
const STEP: f64 = 0.5;
/// What may be unsettled of a paper that is priced: its share of the gap of all, by so many.
const TOLERANCE: i64 = 8;
/// A gap of one part in so many is always good enough for one of several papers.
const NEGLIGIBLE: i64 = 4_000;

/// What came of solving the papers one by one.
pub(super) struct Solved {
    /// The cheapest plan, if one is cheaper than what was known.
    pub best: Option<Candidate>,
    /// No plan spends less.
    pub bound: i64,
}

/// Spends less than is known to be possible, if that can be, paper by paper. It begins with these prices
/// of the pieces and ends after so many `steps` of the meter. The patterns of all plans go into the pool.
/// `None` where there is only one paper, or where lengths are rounded.
pub(super) fn solve(
    task: &Task,
    (pool, pieces): (&mut Pool, &[f64]),
    (settings, steps): (&Settings, u64),
    (attainable, bound, value): (&Attainable, i64, i64),
) -> Option<Solved> {
    let parts = parts(task, pool);
    if parts.len() < 2 || !task.bounding_spaces().iter().all(Space::is_exact) {
        return None;
    }
    let scale = (MOST_COST / value.max(1)).clamp(1, MOST_SCALE);
    let mut apart = Apart { task, parts, settings, scale };
    let mut prices = pieces.to_vec();
    let mut solved = Solved { best: None, bound };
    let mut least = value;
    for _ in 0..MOST_ROUNDS {
        let begun = task.meter.steps();
        let tolerance = (least - solved.bound) * scale / (TOLERANCE * apart.parts.len() as i64);
        let until = apart.half(steps);
        let Some((plans, bound)) = apart.priced(&prices, (until, tolerance)) else { break };
        solved.bound = solved.bound.max(attainable.round_up(bound, scale.into()));
        apart.together(&plans).add_to(pool);
        let forward: Vec<usize> = (0..plans.len()).collect();
        let backward = forward.iter().copied().rev().collect();
        for order in [forward, backward] {
            let whole = apart.complete(plans.clone(), &order, apart.half(steps));
            whole.iter().for_each(|whole| whole.add_to(pool));
            let spend = whole.as_ref().and_then(|whole| whole.cost(task)).map(|cost| cost.spend);
            if let Some(spend) = spend.filter(|&spend| spend < least) {
                (least, solved.best) = (spend, whole);
            }
        }
        // Another round takes about as many steps as this one.
        let enough = task.meter.steps() * 2 - begun <= steps;
        if least - solved.bound <= least / NEGLIGIBLE || !enough {
            break;
        }
        let gap = least as f64 - bound as f64 / scale as f64;
        if !apart.change(&mut prices, &plans, gap) {
            break;
        }
    }
    Some(solved)
}

/// A task seen as its papers.
struct Apart<'a> {
    task: &'a Task,
    parts: Vec<Part>,
    settings: &'a Settings<'a>,
    /// Units in a minor unit.
    scale: i64,
}

impl Apart<'_> {
    /// Pieces that several papers hold, and how many papers.
    fn shared(&self) -> Vec<(usize, i64)> {
        let holding = |item: usize| self.parts.iter().filter(|part| part.holds[item]).count();
        let items = 0..self.task.items.len();
        let held = items.map(|item| (item, holding(item) as i64));
        held.filter(|&(_, papers)| papers > 1).collect()
    }

    /// Plans of the papers if shared pieces can also be had at these prices, and what all papers together
    /// cost at least, in units; a gap of `tolerance` units is good enough for each.
    fn priced(
        &mut self,
        prices: &[f64],
        (steps, tolerance): (u64, i64),
    ) -> Option<(Vec<Candidate>, i128)> {
        let scale = self.scale;
        // Something that costs nothing would make everything else worthless.
        let units = |price: &f64| ((price * scale as f64).round() as i64).max(1);
        let prices: Vec<i64> = prices.iter().map(units).collect();
        let shared = self.shared();
        let items: Vec<usize> = shared.iter().map(|&(item, _)| item).collect();
        let mut left = self.weight();
        let mut plans = Vec::new();
        let mut bound = 0;
        for at in 0..self.parts.len() {
            let until = self.until(at, &mut left, steps);
            let offered = self.parts[at].offered(&items, (&prices, scale));
            let (plan, least) = self.solve(at, &offered, (until, tolerance))?;
            plans.push(self.parts[at].own(&plan));
            bound += i128::from(least);
        }
        for (item, papers) in shared {
            let demand = i128::from(self.task.items[item].demand);
            bound -= i128::from(papers - 1) * i128::from(prices[item]) * demand;
        }
        Some((plans, bound))
    }

    /// Solves papers again, in this order, for what the others leave, and puts all together.
    fn complete(
        &mut self,
        mut plans: Vec<Candidate>,
        order: &[usize],
        steps: u64,
    ) -> Option<Candidate> {
        let mut left = self.weight();
        for &at in order {
            let until = self.until(at, &mut left, steps);
            let mut made = vec![0; self.task.items.len()];
            for (other, plan) in plans.iter().enumerate().filter(|(other, _)| *other != at) {
                self.parts[other].add_made(plan, &mut made);
            }
            let mut rest = self.parts[at].task.clone();
            for (item, made) in rest.items.iter_mut().zip(made) {
                item.demand = item.demand.saturating_sub(made);
            }
            if !plans[at].is_complete(&rest) {
                plans[at] = self.solve(at, &rest, (until, 0))?.0;
            }
        }
        Some(self.together(&plans).without_idle_sheets(self.task))
    }

    /// The plans of the papers as one.
    fn together(&self, plans: &[Candidate]) -> Candidate {
        let mut whole = Candidate::default();
        self.parts.iter().zip(plans).for_each(|(part, plan)| part.add_to(&mut whole, plan));
        whole
    }

    /// Plan and bound of one paper, as a task of its own.
    fn solve(
        &mut self,
        at: usize,
        task: &Task,
        (until, tolerance): (u64, i64),
    ) -> Option<(Candidate, i64)> {
        let steps = until.saturating_sub(task.meter.steps());
        let settings = Settings { steps, tell: &|_| (), ..*self.settings };
        let first = first_plan(task, &settings).ok()?;
        let parts = first.cost(task)?.spend / tolerance.max(1);
        let settings = Settings { negligible: parts.clamp(1, NEGLIGIBLE), ..settings };
        let mut pool = self.parts[at].patterns.clone();
        first.add_to(&mut pool);
        let work = (Level::Spend, &settings, until);
        let (plan, proven) = settle(task, work, &mut pool, (first, None));
        self.parts[at].keep(&pool);
        Some((plan, proven.bound))
    }

    /// Pieces of which the papers make too few become dearer, those of which they make too many cheaper
    /// (subgradient step: Held, Wolfe & Crowder 1974, Mathematical Programming 6:62-88). False where
    /// they make just enough of all.
    fn change(&self, prices: &mut [f64], plans: &[Candidate], gap: f64) -> bool {
        let mut made = vec![0; self.task.items.len()];
        self.parts.iter().zip(plans).for_each(|(part, plan)| part.add_made(plan, &mut made));
        let short = |item: usize| self.task.items[item].demand as f64 - made[item] as f64;
        let shared = self.shared();
        let length: f64 = shared.iter().map(|&(item, _)| short(item) * short(item)).sum();
        for (item, _) in shared.iter().filter(|_| length > 0.0) {
            prices[*item] = (prices[*item] + STEP * gap * short(*item) / length).max(0.0);
        }
        length > 0.0
    }

    /// Steps until a paper has had its share of those left until `steps`; takes its weight off `left`.
    fn until(&self, at: usize, left: &mut u64, steps: u64) -> u64 {
        let now = self.task.meter.steps();
        let own = self.parts[at].weight();
        let share = u128::from(steps.saturating_sub(now)) * u128::from(own);
        let until = now + (share / u128::from((*left).max(1))) as u64;
        *left -= own;
        until
    }

    /// The middle between now and `steps`.
    fn half(&self, steps: u64) -> u64 {
        let now = self.task.meter.steps();
        now + steps.saturating_sub(now) / 2
    }

    fn weight(&self) -> u64 {
        self.parts.iter().map(Part::weight).sum()
    }
}

#[cfg(test)]
mod tests;
