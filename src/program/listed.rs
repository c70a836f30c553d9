//! All patterns that a better plan may use, where they are few enough to be listed.
//!
//! Every cost of a plan is the bound of a certificate, plus for each sheet what its pattern is worth less
//! than allowed, plus what else is left unused. So a plan that costs less than the best one so far only
//! uses patterns that lack no more than the difference (the argument behind reduced cost fixing and
//! route enumeration: Baldacci, Christofides & Mingozzi 2008, Mathematical Programming 115:351-385). No
//! pattern has to have more of a piece than is wanted, which the free patterns do not know: with few of
//! each piece, a program over listed patterns has a better bound.

use super::certificate::{Certificate, Scaled, least, scaled, whole, worth_of_wanted};
use super::level::{Level, Subproblem};
use super::master::Master;
use super::pool::{Column, Pool};
use super::relaxation::{Relaxation, less};
use super::task::{Supply, Task};

/// Patterns that are listed, at most.
const MOST_COLUMNS: usize = 6_000;
/// Rounds after which a relaxation is given up, its bound staying valid.
const MOST_ROUNDS: usize = 200;
/// Patterns a round and supply that are added to the program.
const ADDED: usize = 3;
/// Worth of a pattern in the whole numbers of the bounds.
const WORTH: i64 = 1 << 40;
/// The most that a piece may be worth, as a multiple of the largest cost: what cannot be made at all has
/// to show.
const MOST_WORTH: f64 = 4096.0;

/// All patterns that may be in a plan that costs at most so much.
pub(super) struct List {
    columns: Vec<Column>,
    /// Sheets that may be cut by each.
    most: Vec<u64>,
    /// Packs that may be bought, by supply.
    most_packs: Vec<u64>,
    /// Where each stands in the pool, if it does.
    places: Vec<Option<usize>>,
}

/// Lists the patterns of all plans that cost no more than `most`; `None` where they are too many.
pub(super) fn list(
    task: &Task,
    level: Level,
    certificate: &Certificate,
    most: i64,
    mut work: usize,
) -> Option<List> {
    let slack = slack(certificate, most);
    let limits: Vec<u64> = task.items.iter().map(|item| item.demand).collect();
    let mut columns = Vec::new();
    for (index, supply) in task.supplies.iter().enumerate() {
        let money = level.budget().unwrap_or(most);
        if supply.on_hand == 0 && supply.price.is_none_or(|price| price > money) {
            continue;
        }
        let least = allowed(task, level, certificate, index) - slack;
        let least = least.clamp(0, i64::MAX.into()) as i64;
        let space = &task.pricing_spaces()[supply.space];
        let before = work;
        let patterns = space.list(&certificate.pieces, &limits, least, &mut work);
        task.meter.count_cells(space.cells() * 8);
        task.meter.count_pairs(before - work);
        for pattern in patterns? {
            let (counts, layout) = (pattern.counts.into(), pattern.layout);
            columns.push(Column { supply: index, counts, layout });
        }
        if columns.len() > MOST_COLUMNS {
            return None;
        }
    }
    let most_used = columns.iter().map(|column| most_used(task, column)).collect();
    let most_packs = task.supplies.iter().map(|supply| most_packs(task, level, supply, most));
    let most_packs = most_packs.collect();
    let places = vec![None; columns.len()];
    Some(List { columns, most: most_used, most_packs, places })
}

/// What the sheets of a plan that costs no more than `most` may lack in all.
fn slack(certificate: &Certificate, most: i64) -> i128 {
    i128::from(most) * i128::from(certificate.scale) - certificate.bound
}

/// What a pattern of a supply may be worth at most.
fn allowed(task: &Task, level: Level, certificate: &Certificate, supply: usize) -> i128 {
    let cost = level.sheet_cost(&task.supplies[supply]);
    i128::from(cost) * i128::from(certificate.scale) + i128::from(certificate.sheets[supply])
}

/// The patterns of the pool that plans may use which cost no more than `most`.
pub(super) fn near(
    task: &Task,
    level: Level,
    certificate: &Certificate,
    most: i64,
    pool: &Pool,
) -> Pool {
    let slack = slack(certificate, most);
    let mut near = Pool::default();
    for column in pool.columns() {
        let allowed = allowed(task, level, certificate, column.supply);
        let yields = column.counts.iter().zip(&task.items).zip(&certificate.pieces);
        let worth: i128 = yields
            .map(|((&count, item), &value)| i128::from(count.min(item.demand)) * i128::from(value))
            .sum();
        if allowed - worth <= slack {
            near.add(column.clone());
        }
    }
    near
}

/// Sheets after which a pattern yields nothing more that is wanted.
fn most_used(task: &Task, column: &Column) -> u64 {
    let supply = &task.supplies[column.supply];
    let at_hand = if supply.price.is_none() { supply.on_hand } else { u64::MAX };
    let yields = column.counts.iter().zip(&task.items).filter(|(count, _)| **count > 0);
    let useful = yields.map(|(count, item)| item.demand.div_ceil(*count)).max();
    useful.unwrap_or(0).min(at_hand)
}

/// Packs after which no more sheets, or no more money, is needed.
pub(super) fn most_packs(task: &Task, level: Level, supply: &Supply, most: i64) -> u64 {
    let Some(price) = supply.price else { return 0 };
    let pieces: u64 = task.items.iter().map(|item| item.demand).sum();
    let useful = pieces.div_ceil(supply.pack);
    let money = level.budget().unwrap_or(most).max(0) as u64;
    money.checked_div(price.max(0) as u64).map_or(useful, |packs| packs.min(useful))
}

/// Solves the relaxation of a branch over the list, adding those patterns to `pool` that are worth it.
/// Stops early where `enough` says that the bound (numerator, denominator) already settles the matter.
pub(super) fn relax(
    task: &Task,
    subproblem: Subproblem,
    list: &mut List,
    pool: &mut Pool,
    enough: &dyn Fn((i128, i128)) -> bool,
) -> Relaxation {
    let mut master = Master::new(task, subproblem, pool, MOST_WORTH);
    let scale = (WORTH / subproblem.level.largest_cost(task)).max(1);
    let mut best = Relaxation { bound: (0, 1), pieces: vec![0.0; task.items.len()] };
    for round in 0..MOST_ROUNDS {
        let Some(duals) = master.solve() else { break };
        pool.duals = Some(duals.clone());
        let variables = task.items.len() + task.supplies.len();
        task.meter.count_round(round, pool.columns().len(), variables);
        let rounded = Scaled { scale, duals: &duals };
        let (bound, lacking) = list.price(task, subproblem, rounded);
        if less(best.bound, (bound, scale.into())) {
            best = Relaxation { bound: (bound, scale.into()), pieces: duals.pieces };
        }
        let wanted = list.wanted(task, &lacking);
        if wanted.is_empty() || enough(best.bound) {
            break;
        }
        for at in wanted {
            list.places[at] = Some(pool.columns().len());
            master.add(pool.columns().len(), &list.columns[at]);
            pool.add(list.columns[at].clone());
        }
    }
    best
}

impl List {
    /// `scale` times a bound of the branch, and by how much each pattern's worth exceeds its sheet.
    ///
    /// With the dual values as prices on the rows, each variable takes the end of its range that costs
    /// less: whatever the values are, that is a bound.
    fn price(
        &self,
        task: &Task,
        Subproblem { level, branch }: Subproblem,
        Scaled { scale, duals }: Scaled,
    ) -> (i128, Vec<i128>) {
        let pieces = scaled(&duals.pieces, scale);
        let budget = i128::from(whole(duals.budget, scale));
        let mut bound = worth_of_wanted(task, &pieces);
        bound -= budget * i128::from(level.budget().unwrap_or(0));
        let mut sheets = Vec::with_capacity(task.supplies.len());
        for (index, supply) in task.supplies.iter().enumerate() {
            let used = branch.used[index];
            let at_hand = i128::from(whole(duals.sheets[index], scale));
            let least = i128::from(whole(least(&duals.least_used, used, index), scale));
            let most = used.most.map_or(0, |_| i128::from(whole(duals.most_used[index], scale)));
            bound += least * i128::from(used.least);
            bound -= most * i128::from(used.most.unwrap_or(0));
            bound -= at_hand * i128::from(supply.on_hand);
            let cost = i128::from(level.sheet_cost(supply)) * i128::from(scale);
            sheets.push(cost + at_hand + most - least);
            let Some(price) = supply.price else { continue };
            let packs = branch.packs[index];
            let cost = i128::from(level.pack_cost(price)) * i128::from(scale)
                + budget * i128::from(price)
                - i128::from(supply.pack) * at_hand;
            let most = packs.most.unwrap_or(u64::MAX).min(self.most_packs[index]);
            bound += cheaper(cost, packs.least, most);
        }
        let mut lacking = Vec::with_capacity(self.columns.len());
        for (at, column) in self.columns.iter().enumerate() {
            let worth = column.counts.iter().zip(&pieces);
            let worth: i128 =
                worth.map(|(&count, &value)| i128::from(count) * i128::from(value)).sum();
            let cost = sheets[column.supply] - worth;
            let range = self.places[at].and_then(|place| branch.columns.get(&place));
            let (least, most) = range.map_or((0, None), |range| (range.least, range.most));
            let most = most.unwrap_or(u64::MAX).min(self.most[at]);
            let most = most.min(branch.used[column.supply].most.unwrap_or(u64::MAX));
            bound += cheaper(cost, least, most);
            lacking.push(cost);
        }
        (bound, lacking)
    }

    /// The patterns outside the pool that are worth the most beyond their sheet, a few a supply.
    fn wanted(&self, task: &Task, lacking: &[i128]) -> Vec<usize> {
        let outside = (0..self.columns.len()).filter(|&at| self.places[at].is_none());
        let mut found: Vec<usize> = outside.filter(|&at| lacking[at] < 0).collect();
        found.sort_by_key(|&at| (lacking[at], at));
        let mut left = vec![ADDED; task.supplies.len()];
        found.retain(|&at| {
            let left = &mut left[self.columns[at].supply];
            let taken = *left > 0;
            *left -= usize::from(taken);
            taken
        });
        found
    }
}

/// The least of `cost` times a number from the range.
fn cheaper(cost: i128, least: u64, most: u64) -> i128 {
    cost * i128::from(if cost < 0 { most.max(least) } else { least })
}
