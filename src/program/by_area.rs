//! Bounds that cost nothing: every piece is worth its area, no sheet holds more than its own.
//!
//! `π_i = r a_i` at one rate `r`. Pieces and sheets carry one blade on each side, as in the judge's table, so that cuts
//! lose nothing: what lies on a sheet has no more area than the sheet, so no pattern is worth more than `r A_s`. The
//! judge sees that without any table (`plan/check/area.rs`), and makes one only where the area does not show it. So no
//! plan is written with a bound below its area's: not where time was up before anything began, and not where sides are
//! too fine for any table.

use super::certificate::{Certificate, complete};
use super::level::Level;
use super::relaxation::{CERTIFICATE_WORTH, less};
use super::task::{Supply, Task};
use crate::measure::{Length, Size};
use std::cmp::Ordering;

/// The most that a piece or a sheet may be worth, over the scale; far from what overflows a table.
const MOST: i128 = CERTIFICATE_WORTH as i128 * 16;

/// How large pieces and sheets count: no pattern counts more than its sheet.
pub(super) struct Measured {
    /// By item.
    pub pieces: Vec<i128>,
    /// By supply; nothing where it holds no piece.
    pub sheets: Vec<i128>,
}

/// The best certificate by area alone.
pub(super) fn by_area(task: &Task, level: Level) -> Certificate {
    let sheet = |supply: &Supply| match holds_any(task, supply) {
        true => area(supply.size, task.blade()),
        false => 0,
    };
    let measured = Measured {
        pieces: task.items.iter().map(|item| area(item.size, task.blade())).collect(),
        sheets: task.supplies.iter().map(sheet).collect(),
    };
    best_by(task, level, &measured)
}

/// The best certificate by one measure.
pub(super) fn best_by(task: &Task, level: Level, measured: &Measured) -> Certificate {
    let nothing = complete(task, level, 1, vec![0; task.items.len()], &nothing_worth(task));
    let mut rates = rates(task, level, measured);
    rates.sort_by(Rate::compare);
    rates.dedup_by(|rate, other| rate.compare(other).is_eq());
    let mut left = rates.as_slice();
    // Uphill from the middle: a drawer of thousands of strips has as many rates.
    while left.len() > FEW {
        let (low, high) = left.split_at(left.len() / 2);
        let [below, above] = [low.last(), high.first()]
            .map(|rate| at_rate(task, level, *rate?, measured).map(|found| found.ratio()));
        left = if is_less(above, below) { low } else { high };
    }
    let found = left.iter().filter_map(|rate| at_rate(task, level, *rate, measured));
    found.fold(nothing, |best, other| best.or_better(Some(other)))
}

/// Rates that are all tried.
const FEW: usize = 16;

fn is_less(one: Option<(i128, i128)>, other: Option<(i128, i128)>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => less(one, other),
        (one, other) => one.is_none() && other.is_some(),
    }
}

fn nothing_worth(task: &Task) -> Vec<i64> {
    vec![0; task.supplies.len()]
}

/// What an area may be worth: a cost, and the area that it pays for.
#[derive(Clone, Copy)]
struct Rate {
    cost: i64,
    area: i128,
}

impl Rate {
    fn is_above(self, other: Rate) -> bool {
        self.compare(&other).is_gt()
    }

    fn compare(&self, other: &Rate) -> Ordering {
        let own = i128::from(self.cost).saturating_mul(other.area);
        own.cmp(&i128::from(other.cost).saturating_mul(self.area))
    }
}

/// The rates at which the bound can be highest. It is concave in the rate and bends where a sheet begins to be worth
/// more than it costs; no rate may be above what a sheet costs that can be had for that price in any number.
fn rates(task: &Task, level: Level, measured: &Measured) -> Vec<Rate> {
    let useful = || task.supplies.iter().zip(&measured.sheets).filter(|(_, area)| **area > 0);
    let own =
        |(supply, area): (&Supply, &i128)| Rate { cost: level.sheet_cost(supply), area: *area };
    let pack = |(supply, area): (&Supply, &i128)| {
        Some(Rate { cost: supply.price?, area: area.saturating_mul(supply.pack.into()) })
    };
    let lowest = |rates: Vec<Rate>| {
        rates.into_iter().reduce(|low, rate| if low.is_above(rate) { rate } else { low })
    };
    match level {
        Level::Spend => lowest(useful().filter_map(pack).collect()).into_iter().collect(),
        Level::Stock { .. } => {
            let free = useful().filter(|(supply, _)| supply.price == Some(0));
            let cap = lowest(free.map(own).collect());
            let allowed = |rate: &Rate| cap.is_none_or(|cap| !rate.is_above(cap));
            useful().map(own).filter(allowed).collect()
        }
    }
}

/// The certificate at one rate; `None` where its numbers would be too large.
fn at_rate(task: &Task, level: Level, rate: Rate, measured: &Measured) -> Option<Certificate> {
    let scale = (CERTIFICATE_WORTH / level.largest_cost(task)).max(1);
    let per_area = i128::from(scale) * i128::from(rate.cost);
    let worth = |area: &i128| {
        let worth = per_area.checked_mul(*area)? / rate.area.max(1);
        (worth <= MOST).then_some(worth as i64)
    };
    let pieces: Option<Vec<i64>> = measured.pieces.iter().map(worth).collect();
    // What is rounded down on every piece of a pattern comes to no more than what is rounded down on its sheet.
    let sheets: Option<Vec<i64>> = measured.sheets.iter().map(worth).collect();
    Some(complete(task, level, scale, pieces?, &sheets?))
}

fn holds_any(task: &Task, supply: &Supply) -> bool {
    task.items.iter().any(|item| fits(item.size, supply.size))
}

/// Whether a piece fits one way or the other, whatever grain and print let it do.
fn fits(piece: Size, sheet: Size) -> bool {
    piece.short() <= sheet.short() && piece.long() <= sheet.long()
}

fn area(size: Size, blade: Length) -> i128 {
    Size::new(size.width + blade, size.height + blade).area().square_ticks()
}
