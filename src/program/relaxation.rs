//! Column generation: the relaxation of one branch of one level, and a bound in whole numbers.
//!
//! The dual of the master program is solved (its variables are the piece values, every pattern is a
//! row), because the engine gives no duals; `patterns/` then finds for each sheet the pattern worth
//! most under these values. Where none is worth more than its sheet, the relaxation is solved. Every
//! round yields a valid bound (Farley 1990, Operations Research 38:922-923).

use super::certificate::{
    Certificate, Duals, Scaled, branch_bound, complete, scaled, shrink, shrinking,
};
use super::level::{Branch, Level, Subproblem};
use super::master::Master;
use super::pool::{Column, Pool};
use super::task::Task;
use crate::cuts::Layout;
use crate::patterns::{Best, Space};
use std::sync::Arc;

/// Rounds after which a relaxation is given up, its bound staying valid.
const MOST_ROUNDS: usize = 2000;
/// Worth of a pattern in the pricing's whole numbers; small enough for 32-bit tables.
const PRICING_WORTH: i64 = 1 << 28;
/// The same in certificates, where it decides how sharp the bound is.
pub(super) const CERTIFICATE_WORTH: i64 = 1 << 46;
/// How much a pattern must be worth beyond its sheet, as a part of the largest cost.
const TOLERANCE: f64 = 1e-7;

/// The most that a piece may be worth, as a multiple of the largest cost.
const MOST_WORTH: f64 = 16.0;

/// How far the prices asked for lean to the best ones so far (Wentges 1997, International Transactions
/// in Operational Research 4:151-162): it keeps them from swinging while patterns are few.
const LEAN: f64 = 0.7;

/// What is known of a relaxation.
pub(super) struct Relaxation {
    /// The bound as a ratio: numerator, denominator.
    pub bound: (i128, i128),
    /// The piece values behind the bound.
    pub pieces: Vec<f64>,
}

/// Solves the relaxation of a branch, adding patterns to `pool`. Stops early where `enough` says that
/// the bound (numerator, denominator) already settles the matter.
pub(super) fn relax(
    task: &Task,
    subproblem: Subproblem,
    pool: &mut Pool,
    enough: &dyn Fn((i128, i128)) -> bool,
) -> Relaxation {
    let level = subproblem.level;
    let mut master = Master::new(task, subproblem, pool, MOST_WORTH);
    let scale = (PRICING_WORTH / level.largest_cost(task)).max(1);
    let mut best = Relaxation { bound: (0, 1), pieces: plain_values(task, level) };
    let mut lean = LEAN;
    for round in 0..MOST_ROUNDS {
        let Some(duals) = master.solve() else { break };
        pool.duals = Some(duals.clone());
        let variables = task.items.len() + task.supplies.len();
        task.meter.count_round(round, pool.columns().len(), variables);
        let asked: Vec<f64> = duals
            .pieces
            .iter()
            .zip(&best.pieces)
            .map(|(new, old)| new + lean * (old - new))
            .collect();
        let pieces = scaled(&asked, scale);
        // A look at many large sheets is called off between two of them.
        let called_off = || round > 0 && enough(best.bound);
        let Some(priced) = price(task.pricing_spaces(), &pieces, &called_off) else { break };
        task.pricing_spaces().iter().for_each(|space| task.meter.count_table(space));
        let worth = match task.relaxed {
            None => worth(task, &priced),
            Some(_) => {
                let loose = task.bounding_spaces().iter();
                loose.for_each(|space| task.meter.count_long(space));
                worth_of(task, &pieces)
            }
        };
        let rounded = Scaled { scale, duals: &duals };
        let bound = bound(task, subproblem, rounded, pieces, &worth);
        if less(best.bound, bound) {
            best = Relaxation { bound, pieces: asked };
        }
        let added = add_columns(&mut master, pool, &duals, &priced);
        if enough(best.bound) || (!added && lean == 0.0) {
            break;
        }
        // A leaning round may find nothing although there is something: the next asks outright.
        lean = if added { LEAN } else { 0.0 };
    }
    best
}

/// Piece values by area alone, at the lowest cost per area: what the first round leans to.
fn plain_values(task: &Task, level: Level) -> Vec<f64> {
    let area = |size: crate::measure::Size| size.area().square_ticks() as f64;
    let rate = task.supplies.iter().filter_map(|supply| {
        let cost = match level {
            Level::Spend => supply.price? as f64 / supply.pack as f64,
            Level::Stock { .. } => supply.value as f64,
        };
        Some(cost / area(supply.size))
    });
    let rate = rate.fold(f64::INFINITY, f64::min);
    let rate = if rate.is_finite() { rate } else { 0.0 };
    task.items.iter().map(|item| rate * area(item.size)).collect()
}

/// The bound of one round, shrinking the piece values first where packs cost less than claimed.
fn bound(
    task: &Task,
    subproblem: Subproblem,
    duals: Scaled,
    pieces: Vec<i64>,
    worth: &[i64],
) -> (i128, i128) {
    let Some((above, below)) = shrinking(task, subproblem, duals, worth) else {
        return (0, 1);
    };
    let shrunk = shrink(&pieces, above, below);
    // What shrunk pieces are worth at most, without asking the patterns again.
    let most = |worth: &i64| ((i128::from(*worth) * above + below - 1) / below) as i64;
    let worth: Vec<i64> = worth.iter().map(most).collect();
    (branch_bound(task, subproblem, duals, &shrunk, &worth), duals.scale.into())
}

/// The certificate that the piece values of the root relaxation give.
pub(super) fn certify(task: &Task, level: Level, pieces: &[f64]) -> Certificate {
    let scale = (CERTIFICATE_WORTH / level.largest_cost(task)).max(1);
    // Where sheets are so long that lengths had to be rounded, a judge that rounds otherwise could not
    // follow: nothing is claimed.
    let rounded = !task.bounding_spaces().iter().all(Space::is_exact);
    let pieces = if rounded { vec![0; pieces.len()] } else { scaled(pieces, scale) };
    let root = Branch::root(task);
    let worth = worth_of(task, &pieces);
    let none = Duals::default();
    match shrinking(task, level.on(&root), Scaled { scale, duals: &none }, &worth) {
        Some((above, below)) if above < below => {
            let shrunk = shrink(&pieces, above, below);
            let worth = worth_of(task, &shrunk);
            complete(task, level, scale, shrunk, &worth)
        }
        _ => complete(task, level, scale, pieces, &worth),
    }
}

/// Whether the ratio `a` is below the ratio `b`; both denominators are positive.
pub(super) fn less(a: (i128, i128), b: (i128, i128)) -> bool {
    // The denominators are scales below 2^46, the numerators costs times scales: far from overflow.
    a.0.saturating_mul(b.1) < b.0.saturating_mul(a.1)
}

/// The best patterns of all spaces; `None` where it was called off.
fn price(spaces: &[Space], pieces: &[i64], called_off: &dyn Fn() -> bool) -> Option<Vec<Best>> {
    spaces.iter().map(|space| (!called_off()).then(|| space.best(pieces))).collect()
}

/// What the best pattern of each supply is worth.
fn worth(task: &Task, priced: &[Best]) -> Vec<i64> {
    task.supplies.iter().map(|supply| priced[supply.space].value()).collect()
}

/// What the best patterns are worth at these values, by supply.
pub(super) fn worth_of(task: &Task, pieces: &[i64]) -> Vec<i64> {
    if pieces.iter().all(|&value| value <= 0) {
        return vec![0; task.supplies.len()];
    }
    let spaces = task.bounding_spaces();
    let most: Vec<i64> = spaces.iter().map(|space| space.most(pieces)).collect();
    task.supplies.iter().map(|supply| most[supply.space]).collect()
}

/// Adds the priced patterns that are worth more than their sheet; false where there is none.
fn add_columns(master: &mut Master, pool: &mut Pool, duals: &Duals, priced: &[Best]) -> bool {
    let task = master.task;
    let mut added = 0;
    let mut known: Vec<Option<Generated>> = vec![None; priced.len()];
    let slack = TOLERANCE * master.level.largest_cost(task) as f64;
    for (index, supply) in task.supplies.iter().enumerate() {
        let best = &priced[supply.space];
        let found = known[supply.space].get_or_insert_with(|| {
            let counts: Arc<[u64]> = best.counts().into();
            Generated { worth: duals.worth(&counts), counts, layout: None }
        });
        if found.worth <= master.sheet_limit(duals, index) + slack {
            continue;
        }
        let layout = found.layout.get_or_insert_with(|| best.layout()).clone();
        let column = Column { supply: index, counts: found.counts.clone(), layout };
        if pool.add(column.clone()) {
            master.add(pool.columns().len() - 1, &column);
            added += 1;
        }
    }
    let variables = task.items.len() + task.supplies.len();
    task.meter.count_rows(added, pool.columns().len(), variables);
    added > 0
}

/// A pattern that pricing found: its pieces, what they are worth, and its cut tree once it is needed.
#[derive(Clone)]
struct Generated {
    counts: Arc<[u64]>,
    worth: f64,
    layout: Option<Layout>,
}

#[cfg(test)]
mod tests {
    use super::super::samples::two_papers;
    use super::*;

    #[test]
    fn the_first_round_already_bounds_what_packs_cost() {
        let mut task = two_papers([40, 40, 40]);
        // A share of a price that is no whole number.
        for supply in &mut task.supplies {
            (supply.pack, supply.price) = (10, Some(1299));
        }
        let root = Branch::root(&task);
        let relaxed = relax(&task, Level::Spend.on(&root), &mut Pool::default(), &|_| true);
        let (bound, scale) = relaxed.bound;
        assert!(bound > 0, "{bound}");
        // 120 pieces, two a sheet, ten sheets a pack.
        assert!(bound <= 6 * 1299 * scale, "{bound} of {scale}");
    }
}
