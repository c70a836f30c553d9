//! Whether there are enough envelopes and sundries, and how many cards there are enough for.

use super::inputs::Readied;
use super::shortage::{reduced, told_part, with_aside};
use super::{IfShort, Options};
use crate::diagnostics::{Problem, Problems, listed};
use crate::job::Job;
use crate::orders::{SetCount, first_lines, told_left_out};
use crate::pieces::{Share, SupplyNeed, spares};
use crate::program::Start;
use crate::stock::StockItem;
use std::collections::BTreeMap;

/// The batch, or where that is asked for the part of it for which there are enough, with a warning of what is left out.
/// Else `None`, with messages of what is short.
pub(super) fn supplied(
    batch: Readied,
    options: &Options,
    problems: &mut Problems,
) -> Option<Readied> {
    let short = short(&batch.job);
    if short.is_empty() {
        return Some(batch);
    }
    let is_rest = batch.job.before.is_some();
    if options.if_short == IfShort::GiveUp || is_rest {
        problems.extend(short.iter().map(|lack| lack.told(&batch)));
        return None;
    }
    let part = most_sets(&batch.job);
    let is_any = part.iter().any(|count| count.found > 0);
    if options.if_short == IfShort::AsMany && is_any {
        let names: Vec<String> =
            short.iter().map(|lack| format!("`{}`", lack.need.supply)).collect();
        let title = format!("not enough {}; left out: {}", listed(&names), told_left_out(&part));
        problems.push(Problem::warning("program-as-many", title));
        return Some(reduced(batch, part, Start::default()).batch);
    }
    let mut told: Vec<Problem> = short.iter().map(|lack| lack.told(&batch)).collect();
    if let Some(last) = told.pop() {
        told.push(told_part(last, &batch, &part));
    }
    problems.extend(told);
    None
}

/// A supply of which there is too little, and no more can be bought.
struct Lack<'a> {
    need: &'a SupplyNeed,
    supply: &'a StockItem,
}

fn short(job: &Job) -> Vec<Lack<'_>> {
    let needs = job.bill.supplies.iter();
    let known = needs.filter_map(|need| Some((need, job.stock.supply(&need.supply)?.1)));
    let is_short = |need: &SupplyNeed, supply: &StockItem| {
        supply.price.is_none() && need.wanted() > supply.on_hand
    };
    let short = known.filter(|(need, supply)| is_short(need, supply));
    short.map(|(need, supply)| Lack { need, supply }).collect()
}

impl Lack<'_> {
    fn told(&self, batch: &Readied) -> Problem {
        let job = &batch.job;
        let Lack { need, supply } = self;
        let told = |amount: u64| supply.unit.told(amount);
        let title = format!("there is not enough `{}`", supply.name);
        let wanted = format!("{} needed, {} on hand", told(need.wanted()), told(supply.on_hand));
        let first = need.shares.first().map(|share| share.line.as_str());
        let line = job.order.lines.iter().find(|line| Some(line.name.value.as_str()) == first);
        let problem = Problem::error("program-supply-short", title)
            .at(line.and_then(|line| line.count.place.as_ref()), wanted);
        with_aside(problem, batch, &supply.name)
            .help("write what you have under `on hand`, or a price if more can be bought")
    }
}

/// The most sets of each line for which there is enough, spares too, the lines in the order in which they come first.
fn most_sets(job: &Job) -> Vec<SetCount> {
    let short = short(job);
    let mut left: Vec<u64> = short.iter().map(|lack| lack.supply.on_hand).collect();
    let rule = &job.workshop.spares;
    let mut counts = Vec::new();
    for line in first_lines(&job.order.lines) {
        let line = &job.order.lines[line];
        let (name, ordered) = (line.name.value.as_str(), line.count.value);
        let shares = short.iter().map(|lack| lack.need.shares.iter());
        // What one card takes of each.
        let takes = |mut shares: std::slice::Iter<Share>| {
            shares.find(|share| share.line == name).map_or(0, |share| share.need / ordered.max(1))
        };
        let takes: Vec<u64> = shares.map(takes).collect();
        let wanted = |sets: u64| if sets == 0 { 0 } else { sets + spares(sets, rule) };
        let is_enough = |sets: u64| {
            let mut all = takes.iter().zip(&left);
            all.all(|(take, left)| take.saturating_mul(wanted(sets)) <= *left)
        };
        let (mut found, mut beyond) = (0, ordered + 1);
        while beyond - found > 1 {
            let middle = found.midpoint(beyond);
            if is_enough(middle) { found = middle } else { beyond = middle }
        }
        for (take, left) in takes.iter().zip(&mut left) {
            *left -= take * wanted(found);
        }
        let line = name.to_owned();
        counts.push(SetCount { line, ordered, found, most: found });
    }
    counts
}

/// How much of each line is made where a part of a part is: of what was ordered first.
pub(super) fn of_all(first: &[SetCount], then: Vec<SetCount>) -> Vec<SetCount> {
    if first.is_empty() {
        return then;
    }
    let mut then: BTreeMap<String, SetCount> =
        then.into_iter().map(|count| (count.line.clone(), count)).collect();
    let made = first.iter().map(|count| match then.remove(&count.line) {
        Some(later) => SetCount { ordered: count.ordered, ..later },
        None => count.clone(),
    });
    made.collect()
}
