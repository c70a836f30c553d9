//! A first plan, or what stands in its way.

use super::candidate::{Candidate, Cost};
use super::fill::{area_values, fill, rework};
use super::level::{Branch, Level};
use super::pool::Pool;
use super::relaxation::{certify, relax};
use super::solve::Settings;
use super::task::{Supply, Task};

/// Pieces that the stock does not yield.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shortage {
    /// Papers of the task.
    pub papers: Vec<String>,
    /// Pieces that can only be cut from sheets that cannot be bought: index in the bill, and how many
    /// of them the best attempt leaves uncut.
    pub pieces: Vec<(usize, u64)>,
    /// Whether it is proven that the stock cannot suffice; else no way was found.
    pub proven: bool,
}

/// A plan of any cost.
pub(super) fn first_plan(task: &Task, settings: &Settings) -> Result<Candidate, Shortage> {
    let values = area_values(task);
    if let Some(plan) = fill(task, Candidate::default(), &values) {
        return Ok(plan);
    }
    let bound = bound_items(task);
    let start = within_stock(task, &bound, settings)?;
    fill(task, start, &values).ok_or_else(|| shortage(task, &bound, &Candidate::default(), false))
}

/// For each item, whether only sheets that cannot be bought hold it.
fn bound_items(task: &Task) -> Vec<bool> {
    let bought = |item: usize| {
        let mut supplies = task.supplies.iter().filter(|supply| supply.price.is_some());
        supplies.any(|supply| task.pricing_spaces()[supply.space].holds(item))
    };
    (0..task.items.len()).map(|item| !bought(item)).collect()
}

/// A plan for the bound items alone from the stock at hand: every further sheet of it is let in at its
/// value, and the spending of that thought experiment must come out as nothing.
fn within_stock(task: &Task, bound: &[bool], settings: &Settings) -> Result<Candidate, Shortage> {
    let mut thought = task.clone();
    for (item, bound) in thought.items.iter_mut().zip(bound) {
        item.demand = if *bound { item.demand } else { 0 };
    }
    for supply in &mut thought.supplies {
        *supply = match supply.price {
            None => Supply { price: Some(supply.value.max(1)), pack: 1, ..*supply },
            Some(_) => Supply { price: None, on_hand: 0, ..*supply },
        };
    }
    let values = area_values(&thought);
    let Some(plan) = fill(&thought, Candidate::default(), &values) else {
        return Err(shortage(task, bound, &Candidate::default(), true));
    };
    let free = Cost { spend: 0, stock: i64::MAX };
    let plan = rework(&thought, plan, &values, (4 * settings.rounds, free, settings.stop));
    if plan.cost(&thought).is_some_and(|cost| cost.spend == 0) {
        return Ok(plan);
    }
    let mut pool = Pool::default();
    plan.add_to(&mut pool);
    let root = Branch::root(&thought);
    let relaxed = relax(&thought, (Level::Spend, &root), &mut pool, &|_| (settings.stop)());
    let proven = certify(&thought, Level::Spend, &relaxed.pieces).bound > 0;
    Err(shortage(task, bound, &at_hand(task, &plan), proven))
}

/// The part of a plan that the stock at hand allows.
fn at_hand(task: &Task, plan: &Candidate) -> Candidate {
    let mut left: Vec<u64> = task.supplies.iter().map(|supply| supply.on_hand).collect();
    let mut kept = Candidate::default();
    for (column, times) in &plan.runs {
        let times = (*times).min(left[column.supply]);
        left[column.supply] -= times;
        kept.add(column, times);
    }
    kept
}

fn shortage(task: &Task, bound: &[bool], done: &Candidate, proven: bool) -> Shortage {
    let missing = done.missing(task);
    let pieces = task.items.iter().zip(missing).zip(bound);
    let pieces = pieces
        .filter(|((_, missing), bound)| **bound && *missing > 0)
        .map(|((item, missing), _)| (item.piece, missing))
        .collect();
    Shortage { papers: task.papers.clone(), pieces, proven }
}
