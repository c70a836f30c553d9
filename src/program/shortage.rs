//! A first plan, or what stands in its way.
//!
//! An order whose pieces only fit sheets that cannot be bought is planned as if more of these could be: first by
//! filling, then by all the ways of `settle.rs`, within a quarter of the steps. Where that spends nothing, it is a
//! first plan. Where its bound is above nothing, the stock is not enough. What it buys would be enough.

use super::candidate::{Candidate, Cost};
use super::fill::{Rework, area_values, fill_anyhow, rework};
use super::level::{Branch, Level};
use super::pool::Pool;
use super::relaxation::{certify, relax};
use super::settle::{Aim, settle};
use super::task::{Supply, Task};
use super::words::Settings;

/// Pieces that the stock does not yield.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shortage {
    /// Papers of the task.
    pub papers: Vec<String>,
    /// Pieces that can only be cut from sheets that cannot be bought: index in the bill, and how many
    /// of them the best attempt leaves uncut.
    pub pieces: Vec<(usize, u64)>,
    /// Sheets, index in the stock and how many, that would be enough if they were on hand too; none where that is
    /// not known.
    pub more: Vec<(usize, u64)>,
    /// Whether it is proven that the stock is not enough; else no plan was found.
    pub proven: bool,
}

/// The part of all steps that is spent on a first plan where the stock hardly suffices.
const TRIED: u64 = 4;

/// Nothing has to be bought.
pub(super) const FREE: Cost = Cost { spend: 0, stock: i64::MAX };

/// A plan of any cost. Where filling finds none, it is the one that is known, if there is one.
pub(super) fn first_plan(
    task: &Task,
    known: Option<&Candidate>,
    settings: &Settings,
) -> Result<Candidate, Shortage> {
    let values = area_values(task);
    let urgent = settings.urgent;
    if let Some(plan) = fill_anyhow(task, Candidate::default(), &values, urgent) {
        return Ok(plan);
    }
    if let Some(plan) = known {
        return Ok(plan.clone());
    }
    let bound = bound_items(task);
    let start = within_stock(task, &bound, settings)?;
    fill_anyhow(task, start, &values, urgent).ok_or_else(|| shortage(task, &bound, None, false))
}

/// For each item, whether only sheets that cannot be bought hold it.
pub(super) fn bound_items(task: &Task) -> Vec<bool> {
    let bought = |item: usize| {
        let mut supplies = task.supplies.iter().filter(|supply| supply.price.is_some());
        supplies.any(|supply| task.pricing_spaces()[supply.space].holds(item))
    };
    (0..task.items.len()).map(|item| !bought(item)).collect()
}

/// The task as a thought experiment: the bound items alone are wanted, and every further sheet of the stock at hand is
/// let in at its value.
pub(super) fn thought(task: &Task, bound: &[bool]) -> Task {
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
    thought
}

/// A plan for the bound items alone from the stock at hand: the spending of the thought experiment must come out as
/// nothing.
fn within_stock(task: &Task, bound: &[bool], settings: &Settings) -> Result<Candidate, Shortage> {
    let thought = thought(task, bound);
    let values = area_values(&thought);
    let Some(plan) = fill_anyhow(&thought, Candidate::default(), &values, settings.urgent) else {
        return Err(shortage(task, bound, None, true));
    };
    let (rounds, stop, urgent) = (4 * settings.rounds, settings.stop, settings.urgent);
    let plan = rework(&thought, plan, &values, Rework { rounds, target: FREE, stop, urgent });
    if plan.cost(&thought).is_some_and(|cost| cost.spend == 0) {
        return Ok(plan);
    }
    let mut pool = Pool::default();
    plan.add_to(&mut pool);
    let root = Branch::root(&thought);
    let relaxed = relax(&thought, Level::Spend.on(&root), &mut pool, &|_| (settings.stop)());
    if certify(&thought, Level::Spend, &relaxed.pieces).bound > 0 {
        return Err(shortage(task, bound, Some(&plan), true));
    }
    // The paper may suffice, but not every way to cut it: all ways of the optimiser are tried.
    let settings = Settings { tell: &|_| (), ..*settings };
    let most = task.meter.steps() + settings.steps / TRIED;
    let aim = Aim { level: Level::Spend, settings: &settings, steps: most };
    let (plan, spend) = settle(&thought, aim, &mut pool, plan, None);
    match spend.value {
        0 => Ok(plan),
        _ => Err(shortage(task, bound, Some(&plan), spend.bound > 0)),
    }
}

/// The part of a plan that the stock at hand allows.
pub(super) fn at_hand(task: &Task, plan: &Candidate) -> Candidate {
    let mut left: Vec<u64> = task.supplies.iter().map(|supply| supply.on_hand).collect();
    let mut kept = Candidate::default();
    for (column, times) in &plan.runs {
        let times = (*times).min(left[column.supply]);
        left[column.supply] -= times;
        kept.add(column, times);
    }
    kept
}

/// What is missing of the bound items, and with how many sheets more there is a plan for them, if there is one.
fn shortage(task: &Task, bound: &[bool], plan: Option<&Candidate>, proven: bool) -> Shortage {
    let done = plan.map(|plan| at_hand(task, plan)).unwrap_or_default();
    let missing = done.missing(task);
    let pieces = task.items.iter().zip(missing).zip(bound);
    let pieces = pieces
        .filter(|((_, missing), bound)| **bound && *missing > 0)
        .map(|((item, missing), _)| (item.piece, missing))
        .collect();
    let used = plan.map(|plan| plan.used(task)).unwrap_or_default();
    let more = task.supplies.iter().zip(used);
    let more = more.map(|(supply, used)| (supply.sheet, used.saturating_sub(supply.on_hand)));
    let more = more.filter(|(_, count)| *count > 0).collect();
    Shortage { papers: task.papers.clone(), pieces, more, proven }
}

#[cfg(test)]
mod tests {
    use super::super::engine::Engine;
    use super::super::fill::fill;
    use super::super::task::Item;
    use super::super::words::Stop;
    use super::*;
    use crate::cuts::Bench;
    use crate::measure::{Length, Size};
    use crate::patterns::{Shape, Space};
    use std::sync::Arc;

    /// One of each, from a square sheet at hand; no more can be bought.
    fn puzzle(pieces: &[(i64, i64)], side: i64) -> Task {
        let size = |&(width, height): &(i64, i64)| {
            Size::new(Length::from_mm(width), Length::from_mm(height))
        };
        let (sheet, long) = (size(&(side, side)), Length::from_mm(1000));
        let bench = Bench { blade: Length::ZERO, knife: long, hold: Length::ZERO, stages: None };
        let shape = |piece| Shape { size: size(piece), upright: true, turned: true };
        let shapes: Vec<Shape> = pieces.iter().map(shape).collect();
        let item = |(piece, sides)| Item { piece, demand: 1, size: size(sides) };
        let (on_hand, price) = (1, None);
        let supply = Supply {
            sheet: 0,
            paper: 0,
            on_hand,
            pack: 1,
            price,
            value: 100,
            size: sheet,
            space: 0,
        };
        Task {
            papers: vec!["fern".to_owned()],
            items: pieces.iter().enumerate().map(item).collect(),
            supplies: vec![supply],
            units: Default::default(),
            engine: Engine::default(),
            spaces: [Space::new(sheet, &shapes, bench)].into(),
            relaxed: None,
            meter: Arc::default(),
        }
    }

    fn settings<'a>(stop: Stop<'a>) -> Settings<'a> {
        Settings {
            rounds: 60,
            negligible: 1_000_000,
            pool_nodes: 60,
            nodes: 1_000,
            list_work: 2_000_000,
            steps: 4_000_000_000,
            bound_share: 10,
            lasting: 0,
            stop,
            half: stop,
            urgent: stop,
            tell: &|_| (),
        }
    }

    /// Eleven pieces that fill a sheet of 60 x 60 without waste.
    const ELEVEN: [(i64, i64); 11] = [
        (2, 60),
        (10, 43),
        (10, 17),
        (4, 60),
        (39, 28),
        (39, 2),
        (5, 30),
        (19, 30),
        (4, 30),
        (9, 30),
        (12, 30),
    ];

    #[test]
    fn stock_that_just_suffices_suffices() {
        let (task, never) = (puzzle(&ELEVEN, 60), || false);
        let plan = first_plan(&task, None, &settings(&never)).unwrap();
        assert!(plan.is_complete(&task) && plan.cost(&task).is_some());
        // Filling up, however often, does not find it.
        let mut bought = task.clone();
        bought.supplies[0].price = Some(1);
        let values = area_values(&task);
        let filled = fill(&bought, Candidate::default(), &values, &never).unwrap();
        let target = Cost { spend: 0, stock: i64::MAX };
        let effort = Rework { rounds: 240, target, stop: &never, urgent: &never };
        let filled = rework(&bought, filled, &values, effort);
        assert!(filled.cost(&bought).unwrap().spend > 0);
    }

    #[test]
    fn stock_that_cannot_suffice_is_told_so() {
        // As large as the sheet, but two halves of it do not leave room for three strips across.
        let (task, never) = (puzzle(&[(31, 60), (29, 58), (60, 2)], 60), || false);
        let shortage = first_plan(&task, None, &settings(&never)).unwrap_err();
        assert!(shortage.proven && !shortage.pieces.is_empty(), "{shortage:?}");
    }
}
