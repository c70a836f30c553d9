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
use super::start::{Start, known_plan};
use super::task::Task;
use super::words::{Answer, Proven, Settings};

/// Rounds of reworking the first plan, before anything is known of how good it is.
const FIRST_ROUNDS: u32 = 4;

/// Times the steps of a task that its first plan may take, before it is finished without looking long.
const FIRST_SHARE: u64 = 2;
/// Times the steps of a task, beyond those of a bound, after which nothing goes on that was begun.
const ALL_SHARE: u64 = 2;

/// Solves one task, of which some sheets of a plan may be known.
///
/// # Errors
/// The pieces for which no plan was found.
pub fn solve(task: &Task, known: Option<&Start>, settings: &Settings) -> Result<Answer, Shortage> {
    let begun = task.meter.steps();
    let most = |times: u64| begun.saturating_add(settings.steps.saturating_mul(times));
    let hasty = |times: u64| (settings.urgent)() || task.meter.steps() > most(times);
    let lasts = || !(settings.urgent)() && task.meter.steps() < settings.lasting;
    let (first_urgent, urgent) =
        (|| hasty(FIRST_SHARE), || hasty(settings.bound_share + ALL_SHARE) && !lasts());
    let mut pool = Pool::default();
    let known = known.and_then(|known| known_plan(task, known, &first_urgent));
    let first = first_plan(task, known.as_ref(), &Settings { urgent: &first_urgent, ..*settings })?;
    let settings = &Settings { urgent: &urgent, ..*settings };
    let values = area_values(task);
    let free = Cost { spend: 0, stock: 0 };
    let late = || (settings.stop)() || task.meter.steps() > settings.steps / 8;
    let (rounds, urgent) = (FIRST_ROUNDS, settings.urgent);
    let effort = Rework { rounds, target: free, stop: &late, urgent };
    let first = rework(task, first, &values, effort);
    // The very least that a plan has to be: no worse than one that is known.
    let first = [known, Some(first)].into_iter().flatten().min_by_key(|plan| plan.cost(task));
    let first = first.unwrap_or_default();
    first.add_to(&mut pool);
    let (plan, spend, stock) = match units_of_price(task) {
        Some(times) => {
            let aim = Aim { level: Level::Spend, settings, steps: settings.steps };
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
    let early = Settings { stop: settings.half, ..*settings };
    // Of packs, the right ones are hard to find; single sheets are a matter of level 2, too.
    let share = if task.has_packs() { settings.steps / 8 * 7 } else { settings.steps / 2 };
    let aim = Aim { level: Level::Spend, settings: &early, steps: share };
    let (mut plan, mut spend) = settle(task, aim, pool, first, None);
    let mut earlier = None;
    loop {
        let level = Level::Stock { budget: spend.value };
        let aim = Aim { level, settings, steps: settings.steps };
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
