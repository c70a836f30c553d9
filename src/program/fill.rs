//! Whole plans without the linear program: the best pattern for what is still missing, sheet by sheet,
//! then taking some sheets out and filling up again.

use super::candidate::{Candidate, Cost, column};
use super::pool::Column;
use super::task::{Supply, Task};
use super::words::{Chance, Stop};
use crate::patterns::Best;
use std::cmp::Ordering;

/// Fills up `start` until nothing is missing, choosing patterns by the piece `values`.
///
/// `None` where the stock does not suffice this way, or where it is urgent to end.
pub(super) fn fill(
    task: &Task,
    start: Candidate,
    values: &[i64],
    urgent: Stop,
) -> Option<Candidate> {
    Some(fill_up(task, start, values, urgent)).filter(|filled| filled.is_complete(task))
}

/// The same, as far as the stock and the time suffice.
pub(super) fn fill_up(task: &Task, start: Candidate, values: &[i64], urgent: Stop) -> Candidate {
    let mut filling = Filling::new(task, start, values);
    while filling.is_open() && !urgent() {
        let offer = filling.choose(urgent);
        // Where tables have no room for all pieces, those they leave out are put somewhere.
        let offer = offer.or_else(|| (!urgent()).then(|| filling.at_once())?);
        let Some(offer) = offer else { break };
        filling.take(&offer);
    }
    filling.candidate.without_idle_sheets(task)
}

/// The same whatever it takes: once it is urgent, what is missing is put where it fits at first sight.
pub(super) fn fill_anyhow(
    task: &Task,
    start: Candidate,
    values: &[i64],
    urgent: Stop,
) -> Option<Candidate> {
    let begun = fill_up(task, start, values, urgent);
    if !urgent() || begun.is_complete(task) {
        return Some(begun).filter(|filled| filled.is_complete(task));
    }
    let mut filling = Filling::new(task, begun, values);
    while filling.is_open()
        && let Some(offer) = filling.at_once()
    {
        filling.take(&offer);
    }
    // What does not fit at first sight may fit all the same: without that there would be no plan.
    let begun = filling.candidate.without_idle_sheets(task);
    fill(task, begun, values, &|| false)
}

/// A plan while it is filled up.
struct Filling<'a> {
    task: &'a Task,
    values: &'a [i64],
    candidate: Candidate,
    /// Pieces still missing, by item.
    missing: Vec<u64>,
    /// Sheets cut, by supply.
    used: Vec<u64>,
}

impl<'a> Filling<'a> {
    fn new(task: &'a Task, candidate: Candidate, values: &'a [i64]) -> Filling<'a> {
        let (missing, used) = (candidate.missing(task), candidate.used(task));
        Filling { task, values, candidate, missing, used }
    }

    /// Whether pieces are missing.
    fn is_open(&self) -> bool {
        self.missing.iter().any(|count| *count > 0)
    }

    /// Cuts as many sheets as an offer is good for.
    fn take(&mut self, offer: &Offer) {
        let times = repeats(offer, &self.missing);
        self.candidate.add(&offer.column, times);
        self.used[offer.column.supply] += times;
        for (missing, count) in self.missing.iter_mut().zip(offer.column.counts.iter()) {
            *missing = missing.saturating_sub(count.saturating_mul(times));
        }
    }

    /// The values of what is missing.
    fn wanted(&self) -> Vec<i64> {
        let wanted = self.values.iter().zip(&self.missing);
        wanted.map(|(value, missing)| if *missing > 0 { *value } else { 0 }).collect()
    }

    /// The best sheet to cut next; `None` where there is none, or it is urgent to end.
    fn choose(&self, urgent: Stop) -> Option<Offer> {
        choose(self.task, &self.wanted(), &self.missing, &self.used, urgent)
    }

    /// A sheet to cut next without any table: one at hand before one that is bought, small ones before large ones,
    /// then the one that costs least for its area.
    fn at_once(&self) -> Option<Offer> {
        let task = self.task;
        let wanted = self.wanted();
        let mut had: Vec<(usize, i64, u64)> = Vec::new();
        for (index, supply) in task.supplies.iter().enumerate() {
            had.extend(price(supply, self.used[index]).map(|(spend, many)| (index, spend, many)));
        }
        let area = |index: usize| task.supplies[index].size.area().square_ticks();
        let cost = |spend: i64, index: usize| i128::from(spend) * (1 << 60) / area(index).max(1);
        had.sort_by_key(|&(index, spend, _)| (spend > 0, cost(spend, index), area(index)));
        had.into_iter().find_map(|(index, _, available)| {
            let space = &task.pricing_spaces()[task.supplies[index].space];
            let best = space.at_once(&wanted, &self.missing);
            let useful = best.value() > 0;
            useful.then(|| Offer {
                column: column(index, best.layout(), self.missing.len()),
                available,
            })
        })
    }
}

/// A pattern to cut next, and the sheets to be had for it.
struct Offer {
    column: Column,
    available: u64,
}

fn choose(
    task: &Task,
    wanted: &[i64],
    missing: &[u64],
    used: &[u64],
    urgent: Stop,
) -> Option<Offer> {
    let everything = worth_of_all(wanted, missing);
    let choice = |index: usize, worth: i64| {
        let supply = &task.supplies[index];
        let (spend, available) = price(supply, used[index])?;
        let last = i128::from(worth) >= everything;
        // A pack is shared by the sheets of it that such patterns would use.
        let sheets = (everything / i128::from(worth.max(1))).clamp(1, i128::from(supply.pack));
        let pack = if spend > 0 { supply.pack_worth() } else { 0 };
        let share = pack / sheets as i64;
        Some(Choice { index, worth, spend, share, value: supply.value, available, last })
    };
    // Sheets that are used up need no look.
    let mut free: Vec<Option<Best>> = task.pricing_spaces().iter().map(|_| None).collect();
    for (index, supply) in task.supplies.iter().enumerate() {
        if free[supply.space].is_none() && price(supply, used[index]).is_some() {
            if urgent() {
                return None;
            }
            let space = &task.pricing_spaces()[supply.space];
            task.meter.count_table(space);
            free[supply.space] = Some(space.best(wanted));
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
        if urgent() {
            return None;
        }
        let space = task.supplies[hope.index].space;
        let Some(free) = &free[space] else { continue };
        let best = priced[space].get_or_insert_with(|| {
            let best = task.pricing_spaces()[space].within(free, wanted, missing);
            if best.value() < free.value() {
                task.meter.count_bounded_table(&task.pricing_spaces()[space]);
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
    /// Money for one sheet more, in units of price.
    spend: i64,
    /// Its share of that where others of the pack are used too, in units of worth.
    share: i64,
    /// Value of the sheet, in units of worth.
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

/// How long a plan is reworked.
pub(super) struct Rework<'a> {
    pub rounds: u32,
    /// A plan that costs no more is good enough.
    pub target: Cost,
    pub stop: Stop<'a>,
    pub urgent: Stop<'a>,
}

/// Takes sheets out and fills up again, again and again, keeping what is no worse.
pub(super) fn rework(
    task: &Task,
    start: Candidate,
    values: &[i64],
    Rework { rounds, target, stop, urgent }: Rework,
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
        let Some(next) = fill(task, thinned, &shaken, urgent) else { continue };
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
