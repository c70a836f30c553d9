//! Whole plans without the linear program: the best pattern for what is still missing, sheet by sheet,
//! then taking some sheets out and filling up again.

use super::candidate::{Candidate, Cost, column};
use super::pool::Column;
use super::solve::Stop;
use super::task::{Supply, Task};
use crate::patterns::Best;
use std::cmp::Ordering;

/// Fills up `start` until nothing is missing, choosing patterns by the piece `values`.
///
/// `None` where the stock does not suffice this way.
pub(super) fn fill(task: &Task, start: Candidate, values: &[i64]) -> Option<Candidate> {
    Some(fill_up(task, start, values)).filter(|filled| filled.is_complete(task))
}

/// The same, as far as the stock suffices.
pub(super) fn fill_up(task: &Task, start: Candidate, values: &[i64]) -> Candidate {
    let mut candidate = start;
    loop {
        let missing = candidate.missing(task);
        let used = candidate.used(task);
        let open = missing.iter().any(|count| *count > 0);
        let offer = open.then(|| choose(task, values, (&missing, &used))).flatten();
        let Some(offer) = offer else { return candidate.without_idle_sheets(task) };
        let times = repeats(&offer, &missing);
        candidate.add(&offer.column, times);
    }
}

/// A pattern to cut next, and the sheets to be had for it.
struct Offer {
    column: Column,
    available: u64,
}

fn choose(task: &Task, values: &[i64], (missing, used): (&[u64], &[u64])) -> Option<Offer> {
    let wanted: Vec<i64> = values
        .iter()
        .zip(missing)
        .map(|(value, missing)| if *missing > 0 { *value } else { 0 })
        .collect();
    let everything = worth_of_all(&wanted, missing);
    let choice = |index: usize, worth: i64| {
        let supply = &task.supplies[index];
        let (spend, available) = price(supply, used[index])?;
        let last = i128::from(worth) >= everything;
        // A pack is shared by the sheets of it that such patterns would use.
        let sheets = (everything / i128::from(worth.max(1))).clamp(1, i128::from(supply.pack));
        let share = spend / sheets as i64;
        Some(Choice { index, worth, spend, share, value: supply.value, available, last })
    };
    // Sheets that are used up need no look.
    let mut free: Vec<Option<Best>> = task.pricing_spaces().iter().map(|_| None).collect();
    for (index, supply) in task.supplies.iter().enumerate() {
        if free[supply.space].is_none() && price(supply, used[index]).is_some() {
            let space = &task.pricing_spaces()[supply.space];
            task.meter.count_table(space.cells());
            free[supply.space] = Some(space.best(&wanted));
        }
    }
    // What a sheet could be worth if more were wanted: the most promising first, so that the others need
    // no closer look.
    let hopes = (0..task.supplies.len())
        .filter_map(|index| choice(index, free[task.supplies[index].space].as_ref()?.value()));
    let mut hopes: Vec<Choice> = hopes.filter(|hope| hope.worth > 0).collect();
    hopes.sort_by(|a, b| (a.spend > 0).cmp(&(b.spend > 0)).then_with(|| b.compare(a)));
    let mut priced: Vec<Option<Best>> = free.iter().map(|_| None).collect();
    let mut chosen: Option<Choice> = None;
    for hope in hopes {
        if chosen.as_ref().is_some_and(|chosen| !hope.beats(chosen)) {
            continue;
        }
        let space = task.supplies[hope.index].space;
        let Some(free) = &free[space] else { continue };
        let best = priced[space].get_or_insert_with(|| {
            let best = task.pricing_spaces()[space].within(free, &wanted, missing);
            if best.value() < free.value() {
                task.meter.count_bounded_table(task.pricing_spaces()[space].cells());
            }
            best
        });
        let choice = choice(hope.index, best.value()).filter(|choice| choice.worth > 0);
        let better = |choice: &Choice| chosen.as_ref().is_none_or(|chosen| choice.beats(chosen));
        chosen = choice.filter(better).or(chosen);
    }
    let Choice { index, available, .. } = chosen?;
    let best = priced[task.supplies[index].space].take()?;
    Some(Offer { column: column(index, best.layout(), missing.len()), available })
}

fn worth_of_all(values: &[i64], missing: &[u64]) -> i128 {
    values.iter().zip(missing).map(|(&value, &count)| i128::from(value) * i128::from(count)).sum()
}

/// A sheet that could be cut next.
struct Choice {
    /// The supply.
    index: usize,
    /// Worth of its best pattern.
    worth: i64,
    /// Money for one sheet more.
    spend: i64,
    /// Its share of that where others of the pack are used too.
    share: i64,
    /// Value of the sheet.
    value: i64,
    /// Sheets to be had at that price.
    available: u64,
    /// Whether nothing is missing after it.
    last: bool,
}

impl Choice {
    /// No spending before spending; the cheapest of those that finish the job; else the most worth
    /// for the value.
    fn beats(&self, other: &Choice) -> bool {
        if (self.spend == 0) != (other.spend == 0) {
            return self.spend == 0;
        }
        if self.last && other.last {
            return (self.spend, self.value) < (other.spend, other.value);
        }
        self.compare(other) == Ordering::Greater
    }

    /// By worth for the value.
    fn compare(&self, other: &Choice) -> Ordering {
        let cost = |choice: &Choice| i128::from(choice.share.saturating_add(choice.value).max(1));
        let (own, others) =
            (i128::from(self.worth) * cost(other), i128::from(other.worth) * cost(self));
        own.cmp(&others)
    }
}

/// Money for one sheet more, and how many can be had at that price.
fn price(supply: &Supply, used: u64) -> Option<(i64, u64)> {
    let packs = supply.packs(used)?;
    let at_hand = (supply.on_hand + packs * supply.pack).saturating_sub(used);
    match supply.price {
        _ if at_hand > 0 => Some((0, at_hand)),
        Some(price) => Some((price, u64::MAX)),
        None => None,
    }
}

/// How often the pattern can be cut before it would cut too much.
fn repeats(offer: &Offer, missing: &[u64]) -> u64 {
    let yields = offer.column.counts.iter().zip(missing).filter(|(count, _)| **count > 0);
    let most = yields.map(|(count, missing)| missing / count).min().unwrap_or(1);
    most.clamp(1, offer.available.max(1))
}

/// Piece values by area, the plainest guess: the largest piece is worth 2^20.
pub(super) fn area_values(task: &Task) -> Vec<i64> {
    let areas = task.items.iter().map(|item| item.size.area().square_ticks());
    let largest = areas.clone().max().unwrap_or(1).max(1);
    areas.map(|area| ((area << 20) / largest).max(1) as i64).collect()
}

/// Takes sheets out and fills up again, `rounds` times, keeping what is no worse. Stops at `target`.
pub(super) fn rework(
    task: &Task,
    start: Candidate,
    values: &[i64],
    (rounds, target, stop): (u32, Cost, Stop),
) -> Candidate {
    let mut chance = Chance::new(task.items.len() as u64);
    let Some(mut cost) = start.cost(task) else { return start };
    let mut best = start;
    for _ in 0..rounds {
        if cost <= target || stop() {
            break;
        }
        let thinned = thin_out(&best, &mut chance);
        let shaken: Vec<i64> =
            values.iter().map(|value| (value * chance.between(70, 130) / 100).max(1)).collect();
        let Some(next) = fill(task, thinned, &shaken) else { continue };
        if let Some(next_cost) = next.cost(task).filter(|next_cost| *next_cost <= cost) {
            (best, cost) = (next, next_cost);
        }
    }
    best
}

/// The plan without a few of its sheets, whichever.
fn thin_out(candidate: &Candidate, chance: &mut Chance) -> Candidate {
    let mut thinned = candidate.clone();
    let runs = thinned.runs.len() as i64;
    let takes = chance.between(1, 4.min(runs + 1));
    for _ in 0..takes {
        let at = chance.between(0, runs - 1) as usize;
        let (_, times) = &mut thinned.runs[at];
        *times -= (*times).min(chance.between(1, 3) as u64);
    }
    thinned.runs.retain(|(_, times)| *times > 0);
    thinned
}

/// A small generator of repeatable chance (xorshift, Marsaglia 2003, Journal of Statistical Software 8).
pub(super) struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Chance {
        Chance(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// A whole number from `least` to `most`.
    pub fn between(&mut self, least: i64, most: i64) -> i64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let span = (most - least).max(0) as u64 + 1;
        least + (self.0 % span) as i64
    }
}
