//! Column generation: the relaxation of one branch of one level, and a bound in whole numbers.
//!
//! The dual of the master program is solved (its variables are the piece values, every pattern is a
//! row), because the engine gives no duals; `patterns/` then finds for each sheet the pattern worth
//! most under these values. Where none is worth more than its sheet, the relaxation is solved. Every
//! round yields a valid bound (Farley 1990, Operations Research 38:922-923).

use super::certificate::{Certificate, Duals, branch_bound, complete, scaled, shrink, shrinking};
use super::engine::{Maximum, Minimum, Terms};
use super::level::{Branch, Level};
use super::pool::{Column, Pool};
use super::task::Task;
use crate::patterns::{Best, Layout, Space};
use std::sync::Arc;

/// Rounds after which a relaxation is given up, its bound staying valid.
const MOST_ROUNDS: usize = 2000;
/// Worth of a pattern in the pricing's whole numbers; small enough for 32-bit tables.
const PRICING_WORTH: i64 = 1 << 28;
/// The same in certificates, where it decides how sharp the bound is.
const CERTIFICATE_WORTH: i64 = 1 << 46;
/// How much a pattern must be worth beyond its sheet, as a part of the largest cost.
const TOLERANCE: f64 = 1e-7;

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

/// Solves the relaxation of `branch`, adding patterns to `pool`. Stops early where `enough` says that
/// the bound (numerator, denominator) already settles the matter.
pub(super) fn relax(
    task: &Task,
    (level, branch): (Level, &Branch),
    pool: &mut Pool,
    enough: &dyn Fn((i128, i128)) -> bool,
) -> Relaxation {
    let mut master = Master::new(task, level, branch);
    pool.columns().iter().for_each(|column| master.add(column));
    let scale = (PRICING_WORTH / level.largest_cost(task)).max(1);
    let mut best = Relaxation { bound: (0, 1), pieces: plain_values(task, level) };
    let mut lean = LEAN;
    for _ in 0..MOST_ROUNDS {
        let Some(duals) = master.solve() else { break };
        task.meter.count_program(pool.columns().len(), task.items.len() + task.supplies.len());
        let asked: Vec<f64> = duals
            .pieces
            .iter()
            .zip(&best.pieces)
            .map(|(new, old)| new + lean * (old - new))
            .collect();
        let pieces = scaled(&asked, scale);
        let priced = price(task.pricing_spaces(), &pieces);
        task.pricing_spaces().iter().for_each(|space| task.meter.count_table(space.cells()));
        let worth = match task.relaxed {
            None => worth(task, &priced),
            Some(_) => worth_of(task, &pieces),
        };
        let bound = bound(task, (level, branch), (scale, &duals), (pieces, &worth));
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
    place: (Level, &Branch),
    dual: (i64, &Duals),
    (pieces, worth): (Vec<i64>, &[i64]),
) -> (i128, i128) {
    let Some((above, below)) = shrinking(task, place, dual, worth) else {
        return (0, 1);
    };
    let shrunk = shrink(&pieces, (above, below));
    // What shrunk pieces are worth at most, without asking the patterns again.
    let most = |worth: &i64| ((i128::from(*worth) * above + below - 1) / below) as i64;
    let worth: Vec<i64> = worth.iter().map(most).collect();
    (branch_bound(task, place, dual, (&shrunk, &worth)), dual.0.into())
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
    match shrinking(task, (level, &root), (scale, &none), &worth) {
        Some((above, below)) if above < below => {
            let shrunk = shrink(&pieces, (above, below));
            let worth = worth_of(task, &shrunk);
            complete(task, level, (scale, shrunk), &worth)
        }
        _ => complete(task, level, (scale, pieces), &worth),
    }
}

/// Whether the ratio `a` is below the ratio `b`; both denominators are positive.
pub(super) fn less(a: (i128, i128), b: (i128, i128)) -> bool {
    // The denominators are scales below 2^46, the numerators costs times scales: far from overflow.
    a.0.saturating_mul(b.1) < b.0.saturating_mul(a.1)
}

fn price(spaces: &[Space], pieces: &[i64]) -> Vec<Best> {
    spaces.iter().map(|space| space.best(pieces)).collect()
}

/// What the best pattern of each supply is worth.
fn worth(task: &Task, priced: &[Best]) -> Vec<i64> {
    task.supplies.iter().map(|supply| priced[supply.space].value()).collect()
}

fn worth_of(task: &Task, pieces: &[i64]) -> Vec<i64> {
    worth(task, &price(task.bounding_spaces(), pieces))
}

/// A pattern that pricing found: its pieces and its cut tree.
type Found = (Arc<[u64]>, Arc<Layout>);

/// Adds the priced patterns that are worth more than their sheet; false where there is none.
fn add_columns(master: &mut Master, pool: &mut Pool, duals: &Duals, priced: &[Best]) -> bool {
    let task = master.task;
    let mut added = false;
    let mut known: Vec<Option<Found>> = vec![None; priced.len()];
    for (index, supply) in task.supplies.iter().enumerate() {
        let (counts, layout) = known[supply.space].get_or_insert_with(|| {
            let best = &priced[supply.space];
            (best.counts().into(), Arc::new(best.layout()))
        });
        let yields = counts.iter().zip(&duals.pieces);
        let worth: f64 = yields.map(|(&count, value)| count as f64 * value).sum();
        let slack = TOLERANCE * master.level.largest_cost(task) as f64;
        if worth <= master.sheet_limit(duals, index) + slack {
            continue;
        }
        let column = Column { supply: index, counts: counts.clone(), layout: layout.clone() };
        if pool.add(column.clone()) {
            master.add(&column);
            added = true;
        }
    }
    added
}

/// The dual of the master program.
struct Master<'a> {
    task: &'a Task,
    level: Level,
    branch: &'a Branch,
    program: Maximum,
    at: Places,
}

/// Where the variables stand; `usize::MAX` for one that is not there.
struct Places {
    sheets: usize,
    least_used: Vec<usize>,
    most_used: Vec<usize>,
    least_packs: Vec<usize>,
    most_packs: Vec<usize>,
    budget: usize,
}

const ABSENT: usize = usize::MAX;

impl<'a> Master<'a> {
    fn new(task: &'a Task, level: Level, branch: &'a Branch) -> Master<'a> {
        let mut objective: Vec<f64> = task.items.iter().map(|item| item.demand as f64).collect();
        let cap = 16.0 * level.largest_cost(task) as f64;
        let mut upper = vec![cap; objective.len()];
        let sheets = objective.len();
        for supply in &task.supplies {
            objective.push(-(supply.on_hand as f64));
            upper.push(f64::INFINITY);
        }
        let mut add = |factor: f64| {
            objective.push(factor);
            upper.push(f64::INFINITY);
            objective.len() - 1
        };
        let mut limits = |ranges: &[super::level::Range], least: bool| -> Vec<usize> {
            let limit = |range: &super::level::Range| match (least, range.least, range.most) {
                (true, 0, _) | (false, _, None) => ABSENT,
                (true, least, _) => add(least as f64),
                (false, _, Some(most)) => add(-(most as f64)),
            };
            ranges.iter().map(limit).collect()
        };
        let (least_used, most_used) = (limits(&branch.used, true), limits(&branch.used, false));
        let (least_packs, most_packs) = (limits(&branch.packs, true), limits(&branch.packs, false));
        let budget = level.budget().map_or(ABSENT, |budget| add(-(budget as f64)));
        let at = Places { sheets, least_used, most_used, least_packs, most_packs, budget };
        let program = Maximum::new(objective, upper);
        let mut master = Master { task, level, branch, program, at };
        master.add_purchases();
        master
    }

    /// `k_s σ_s + μ_s − ν_s − ρ c_s <= cost of a pack`.
    fn add_purchases(&mut self) {
        for (index, supply) in self.task.supplies.iter().enumerate() {
            let Some(price) = supply.price else { continue };
            let mut terms = vec![(self.at.sheets + index, supply.pack as f64)];
            push(&mut terms, self.at.least_packs[index], 1.0);
            push(&mut terms, self.at.most_packs[index], -1.0);
            push(&mut terms, self.at.budget, -(price as f64));
            self.program.add_row(terms, self.level.pack_cost(price) as f64);
        }
    }

    /// `Σ a_ip π_i − σ_s − τ_s + λ_s <= cost of a sheet`.
    fn add(&mut self, column: &Column) {
        let index = column.supply;
        let yields = column.counts.iter().enumerate().filter(|(_, count)| **count > 0);
        let mut terms: Terms = yields.map(|(item, &count)| (item, count as f64)).collect();
        terms.push((self.at.sheets + index, -1.0));
        push(&mut terms, self.at.most_used[index], -1.0);
        push(&mut terms, self.at.least_used[index], 1.0);
        self.program.add_row(terms, self.level.sheet_cost(&self.task.supplies[index]) as f64);
    }

    fn solve(&mut self) -> Option<Duals> {
        let values = self.program.solve()?;
        let supplies = self.task.supplies.len();
        let at = |place: usize| if place == ABSENT { 0.0 } else { values[place] };
        let all = |places: &[usize]| places.iter().map(|&place| at(place)).collect();
        Some(Duals {
            pieces: values[..self.at.sheets].to_vec(),
            sheets: values[self.at.sheets..self.at.sheets + supplies].to_vec(),
            least_used: all(&self.at.least_used),
            most_used: all(&self.at.most_used),
            least_packs: all(&self.at.least_packs),
            budget: at(self.at.budget),
        })
    }

    /// What a pattern of a supply may be worth.
    fn sheet_limit(&self, duals: &Duals, index: usize) -> f64 {
        debug_assert_eq!(self.branch.used.len(), self.task.supplies.len());
        self.level.sheet_cost(&self.task.supplies[index]) as f64
            + duals.sheets[index]
            + duals.most_used[index]
            - duals.least_used[index]
    }
}

fn push(terms: &mut Terms, place: usize, factor: f64) {
    if place != ABSENT {
        terms.push((place, factor));
    }
}

/// The master program itself over the patterns found: sheets cut by each column, then packs of each
/// supply. Whole numbers, or not.
pub(super) fn master(task: &Task, (level, branch): (Level, &Branch), pool: &Pool) -> Minimum {
    let columns = pool.columns();
    let packs = columns.len();
    let mut program =
        Minimum { cost: Vec::new(), lower: Vec::new(), upper: Vec::new(), rows: Vec::new() };
    for column in columns {
        program.cost.push(level.sheet_cost(&task.supplies[column.supply]) as f64);
        program.lower.push(0.0);
        program.upper.push(f64::INFINITY);
    }
    for (supply, range) in task.supplies.iter().zip(&branch.packs) {
        program.cost.push(supply.price.map_or(0.0, |price| level.pack_cost(price) as f64));
        program.lower.push(range.least as f64);
        let most = range.most.map_or(f64::INFINITY, |most| most as f64);
        program.upper.push(if supply.price.is_some() { most } else { 0.0 });
    }
    for (item, wanted) in task.items.iter().enumerate() {
        let yields = columns.iter().enumerate().filter(|(_, column)| column.counts[item] > 0);
        let terms = yields.map(|(at, column)| (at, column.counts[item] as f64)).collect();
        program.rows.push((terms, wanted.demand as f64));
    }
    for (index, supply) in task.supplies.iter().enumerate() {
        let own = columns.iter().enumerate().filter(|(_, column)| column.supply == index);
        let own: Terms = own.map(|(at, _)| (at, -1.0)).collect();
        let mut terms = own.clone();
        terms.push((packs + index, supply.pack as f64));
        program.rows.push((terms, -(supply.on_hand as f64)));
        let range = branch.used[index];
        if let Some(most) = range.most {
            program.rows.push((own.clone(), -(most as f64)));
        }
        if range.least > 0 {
            let terms = own.iter().map(|&(at, _)| (at, 1.0)).collect();
            program.rows.push((terms, range.least as f64));
        }
    }
    if let Some(budget) = level.budget() {
        let prices = task.supplies.iter().enumerate();
        let terms = prices
            .filter_map(|(index, supply)| Some((packs + index, -(supply.price? as f64))))
            .collect();
        program.rows.push((terms, -(budget as f64)));
    }
    program
}
