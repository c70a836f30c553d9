//! One task, level by level.
//!
//! However long it takes, it ends. The first plan has twice the steps of its effort. Nothing that was begun goes on
//! after 12 times as many, 4 with `quick`, or where a lasting effort ends: then it is urgent, as it is when time is up.
//! A filling that is urgent is given up; only where there is no plan yet, what is missing is put where it fits at first
//! sight (`Space::at_once`), without any table.

use super::candidate::{Candidate, Cost};
use super::certificate::Certificate;
use super::fill::{Rework, area_values, rework};
use super::level::Level;
use super::pool::Pool;
use super::settle::{Aim, settle};
use super::shortage::{Shortage, first_plan};
use super::task::Task;
use crate::cuts::Layout;
use std::sync::Arc;

/// Asked now and then whether time is up.
pub type Stop<'a> = &'a (dyn Fn() -> bool + Sync);

/// How much work is done for a better plan or proof.
pub struct Settings<'a> {
    /// Rounds of taking sheets out and filling up again; each way takes its part or its multiple of them.
    pub rounds: u32,
    /// A gap of one part in so many is told, but not worked on.
    pub negligible: i64,
    /// Nodes of the integer program over the patterns found.
    pub pool_nodes: u64,
    /// Nodes of a search for a proof, of which a level may make several.
    pub nodes: usize,
    /// Pairs of parts that may be looked at each time patterns are listed.
    pub list_work: usize,
    /// Steps of work for each task (counted in `meter`) after which nothing new is begun.
    pub steps: u64,
    /// The bound of a level may take so many times as many: it is worth more than better plans and proofs.
    pub bound_share: u64,
    /// Steps up to which a gap is worked on when all ways have been gone; 0 is not at all.
    pub lasting: u64,
    /// Asked now and then; once it says true, the best plan so far is taken.
    pub stop: Stop<'a>,
    /// Whether so many eighths of the time are used up: level 1 may take half of it, each level's bound half of its own.
    pub used: &'a (dyn Fn(u32) -> bool + Sync),
    /// Whether to end at once: time is up, or far more steps were taken than there should be. What is half done is given
    /// up then; only where there is no plan yet, one is made up without looking long.
    pub urgent: Stop<'a>,
    /// Told what is known of level 1, as it gets better.
    pub tell: &'a (dyn Fn(Known) + Sync),
}

/// What is known of level 1: the best plan so far spends `value`, and none spends less than `bound`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Known {
    /// In units of price.
    pub value: i64,
    /// In units of price.
    pub bound: i64,
}

/// A plan for one task, with what is known of it.
pub struct Answer {
    /// Patterns cut: index of the supply, layout, sheets.
    pub runs: Vec<(usize, Arc<Layout>, u64)>,
    /// Level 1.
    pub spend: Proven,
    /// Level 2.
    pub stock: Proven,
}

/// Value and bound of a level: in units of price at level 1, in units of worth at level 2.
pub struct Proven {
    /// What the plan costs.
    pub value: i64,
    /// What every plan costs at least.
    pub bound: i64,
    /// Whether the bound is higher than the certificate's: it then rests on a search, which is complete where
    /// value and bound are the same.
    pub complete_search: bool,
    /// The whole numbers that prove a bound.
    pub certificate: Certificate,
    /// What was tried last; `None` where nothing had to be.
    pub tried: Option<Tried>,
}

/// What was tried for better plans and proofs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tried {
    /// The way that was gone.
    pub way: Way,
    /// How often the ways had been gone again by then, each time with more patience.
    pub again: u32,
}

/// A way to better plans or proofs, named by the file that goes it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// The packs first, then patterns for them (`purchase`).
    Purchase,
    /// Every purchase within the budget by itself (`purchase`).
    EachPurchase,
    /// The whole part of the relaxed plan, again and again (`rounding`).
    Dive,
    /// A search among all patterns that matter (`listed`).
    List,
    /// A search that makes its patterns on the way (`search`).
    Search,
    /// Sheet by sheet (`descent`).
    Descend,
    /// Rounding, and the integer program over the patterns found (`rounding`).
    Improve,
    /// Small parts of the plan anew (`refine`).
    Refine,
}

/// Rounds of reworking the first plan, before anything is known of how good it is.
const FIRST_ROUNDS: u32 = 4;

/// Times the steps of a task that its first plan may take, before it is finished without looking long.
const FIRST_SHARE: u64 = 2;
/// Times the steps of a task, beyond those of a bound, after which nothing goes on that was begun.
const ALL_SHARE: u64 = 2;

/// Solves one task.
///
/// # Errors
/// The pieces for which no plan was found.
pub fn solve(task: &Task, settings: &Settings) -> Result<Answer, Shortage> {
    let begun = task.meter.steps();
    let most = |times: u64| begun.saturating_add(settings.steps.saturating_mul(times));
    let hasty = |times: u64| (settings.urgent)() || task.meter.steps() > most(times);
    let lasts = || !(settings.urgent)() && task.meter.steps() < settings.lasting;
    let (first_urgent, urgent) =
        (|| hasty(FIRST_SHARE), || hasty(settings.bound_share + ALL_SHARE) && !lasts());
    let mut pool = Pool::default();
    let first = first_plan(task, &Settings { urgent: &first_urgent, ..*settings })?;
    let settings = &Settings { urgent: &urgent, ..*settings };
    let values = area_values(task);
    let free = Cost { spend: 0, stock: 0 };
    let late = || (settings.stop)() || task.meter.steps() > settings.steps / 8;
    let (rounds, urgent) = (FIRST_ROUNDS, settings.urgent);
    let effort = Rework { rounds, target: free, stop: &late, urgent };
    let first = rework(task, first, &values, effort);
    first.add_to(&mut pool);
    let (plan, spend, stock) = match units_of_price(task) {
        Some(times) => {
            let aim = Aim { level: Level::Spend, settings, steps: settings.steps, bound_by: 4 };
            let (plan, spend) = settle(task, aim, &mut pool, first, None);
            let stock = as_stock(&spend, times);
            (plan, spend, stock)
        }
        None => settle_both(task, settings, &mut pool, first),
    };
    let runs = plan.runs.into_iter();
    let runs = runs.map(|(column, times)| (column.supply, column.layout, times)).collect();
    Ok(Answer { runs, spend, stock })
}

/// Settles level 1, then level 2 within what level 1 spends.
fn settle_both(
    task: &Task,
    settings: &Settings,
    pool: &mut Pool,
    first: Candidate,
) -> (Candidate, Proven, Proven) {
    let early = || (settings.used)(4);
    let early = Settings { stop: &early, ..*settings };
    // Of packs, the right ones are hard to find; single sheets are a matter of level 2, too.
    let share = if task.has_packs() { settings.steps / 8 * 7 } else { settings.steps / 2 };
    let aim = Aim { level: Level::Spend, settings: &early, steps: share, bound_by: 2 };
    let (mut plan, mut spend) = settle(task, aim, pool, first, None);
    let mut earlier = None;
    loop {
        let level = Level::Stock { budget: spend.value };
        let aim = Aim { level, settings, steps: settings.steps, bound_by: 6 };
        let (better, stock) = settle(task, aim, pool, plan, earlier.as_ref());
        plan = better;
        let spent = plan.cost(task).map_or(spend.value, |cost| cost.spend);
        if spent == spend.value {
            return (plan, spend, stock);
        }
        // Looking for the least stock has turned up a plan that spends less: its budget is tighter.
        spend.value = spent;
        earlier = Some(stock.certificate);
    }
}

/// Most units of worth to one of price for which a certificate of level 1 is one of level 2 as well.
const MOST_TIMES: i64 = 1_000;

/// Where every sheet that is cut is bought singly at what it is worth, spending and the value of the paper used
/// are the same for every plan, but for their units: how many of worth make one of price.
fn units_of_price(task: &Task) -> Option<i64> {
    let mut times = None;
    for supply in &task.supplies {
        let price = supply.price.filter(|price| *price > 0 && supply.value % price == 0)?;
        let own = Some(supply.value / price).filter(|times| (1..=MOST_TIMES).contains(times));
        let agrees = supply.on_hand == 0 && supply.pack == 1 && (times.is_none() || times == own);
        times = own.filter(|_| agrees);
        times?;
    }
    times
}

/// Level 2 where the levels agree: no pattern is worth more than its sheet's price, which is its value.
fn as_stock(spend: &Proven, times: i64) -> Proven {
    let Certificate { scale, ref pieces, ref sheets, bound, .. } = spend.certificate;
    let pieces = pieces.iter().map(|value| value.saturating_mul(times)).collect();
    let sheets = vec![0; sheets.len()];
    let bound = bound * i128::from(times);
    let certificate = Certificate { scale, pieces, sheets, budget: 0, bound };
    let (value, bound) = (spend.value * times, spend.bound * times);
    Proven { value, bound, certificate, ..*spend }
}

#[cfg(test)]
mod tests {
    use super::super::samples::two_papers;
    use super::super::task::Supply;
    use super::*;

    #[test]
    fn levels_agree_where_sheets_are_bought_singly_at_their_worth() {
        let task = |change: fn(&mut Supply)| {
            let mut task = two_papers([1, 1, 1]);
            task.supplies.iter_mut().for_each(|supply| supply.value *= 10);
            change(&mut task.supplies[1]);
            units_of_price(&task)
        };
        assert_eq!(task(|_| ()), Some(10));
        assert_eq!(task(|supply| supply.value += 70), None, "another unit");
        assert_eq!(task(|supply| supply.value += 1), None, "no whole number");
        assert_eq!(task(|supply| supply.on_hand = 1), None);
        assert_eq!(task(|supply| supply.pack = 2), None);
        assert_eq!(task(|supply| supply.price = None), None);
        assert_eq!(task(|supply| supply.price = Some(0)), None);
        assert_eq!(task(|supply| supply.value = 70_070), None, "too many");
    }
}
