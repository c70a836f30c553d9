//! What a line would cost in other counts: planned anew, not guessed.
//!
//! Each line is planned alone for each of the usual counts, and the whole order with one card more of each line, side
//! by side and with little effort. Differences are of plans made alike.

use super::on_threads;
use super::{Effort, Made, Options, Searched, replanned};
use crate::diagnostics::{Problem, listed};
use crate::measure::Money;
use crate::orders::{Order, OrderLine};
use crate::plan::UsedSheet;
use crate::program::Stop;
use crate::quote::{self, Costs, LinePrices, MoreSheets, STEPS};
use rayon::prelude::*;

/// Most lines of an order that are planned anew so often.
const MOST_LINES: usize = 12;

/// Most cells of the pattern tables of all sheets for which that is done: beyond, a single plan takes long enough.
const MOST_CELLS: usize = 300_000;

/// The prices of each line, in the order of the order; none where it has many lines or very fine sizes, since each
/// count is planned anew, nor where time or effort are to be saved, nor once it is called off. All are planned with little effort, from the same stock, and so compared with each other.
pub fn prices(made: &Made, searched: &Searched, options: &Options, stop: Stop) -> Vec<LinePrices> {
    if !is_quickly_planned(made, searched, options) {
        return Vec::new();
    }
    on_threads(options.threads, || planned(made, options, stop))
}

/// What a batch sells for, and what it takes.
#[derive(Clone)]
struct PricedPlan {
    price: Money,
    sheets: Vec<UsedSheet>,
}

/// Plans other counts with little effort.
struct Replanner<'a> {
    made: &'a Made,
    options: Options,
    stop: Stop<'a>,
}

impl Replanner<'_> {
    fn priced(&self, lines: Vec<OrderLine>) -> Option<PricedPlan> {
        let Replanner { made, options, stop } = self;
        if stop() {
            return None;
        }
        let order = Order { name: made.job.order.name.clone(), lines };
        let other = replanned(made, order, made.job.stock.clone(), options, *stop)?;
        Some(PricedPlan { price: sold(&other).price(), sheets: other.plan.sheets })
    }
}

fn planned(made: &Made, options: &Options, stop: Stop) -> Vec<LinePrices> {
    let lines = &made.job.order.lines;
    let options = Options { effort: Effort::Quick, ..*options };
    let replanner = Replanner { made, options, stop };
    let with = |line: &OrderLine, count: u64| {
        let mut line = line.clone();
        line.count.value = count;
        line
    };
    let now = replanner.priced(lines.clone());
    // Every plan by itself: alone for each step, then all with one more.
    let jobs: Vec<(usize, Option<u64>)> = (0..lines.len())
        .flat_map(|line| STEPS.map(Some).into_iter().chain([None]).map(move |step| (line, step)))
        .collect();
    let planned: Vec<Option<PricedPlan>> = jobs
        .par_iter()
        .map(|&(at, step)| match step {
            Some(count) => replanner.priced(vec![with(&lines[at], count)]),
            None => {
                let mut all = lines.clone();
                all[at] = with(&lines[at], lines[at].count.value + 1);
                replanner.priced(all)
            }
        })
        .collect();
    // Some of the plans were never looked for then, others not as hard.
    if stop() {
        return Vec::new();
    }
    planned.chunks_exact(STEPS.len() + 1).map(|plans| line_prices(plans, now.as_ref())).collect()
}

/// The prices of a line from its plans: one for each step, then that of the batch with one more.
fn line_prices(plans: &[Option<PricedPlan>], now: Option<&PricedPlan>) -> LinePrices {
    let mut line = LinePrices::default();
    let (steps, more) = plans.split_at(STEPS.len());
    // A plan for more cards makes fewer, too: where it was found to cost less, so do they.
    let mut least: Option<Money> = None;
    for (step, plan) in line.steps.iter_mut().zip(steps).rev() {
        let price = plan.as_ref().map(|plan| plan.price);
        *step = price.map(|price| least.map_or(price, |least| price.min(least)));
        least = step.or(least);
    }
    if let ([Some(more)], Some(now)) = (more, now) {
        line.one_more = Some((more.price - now.price).max(Money::ZERO));
        line.takes = taken_more(more, now);
    }
    line
}

/// The sheets of which one plan takes more than another.
fn taken_more(more: &PricedPlan, now: &PricedPlan) -> Vec<MoreSheets> {
    let beyond = more.sheets.iter().map(|sheet| {
        let before = now.sheets.iter().find(|before| before.id == sheet.id);
        let before = before.map_or((0, 0), |before| (before.used, before.packs_bought));
        MoreSheets {
            sheet: sheet.id.clone(),
            used: sheet.used.saturating_sub(before.0),
            packs: sheet.packs_bought.saturating_sub(before.1),
            pack: sheet.pack,
        }
    });
    beyond.filter(|more| more.used > 0 || more.packs > 0).collect()
}

/// Whether planning a batch anew so often is done in no time, and no time is to be saved.
pub(super) fn is_quickly_planned(made: &Made, searched: &Searched, options: &Options) -> bool {
    let saving = options.limit.is_some() || options.effort == Effort::Quick;
    // Of a rest, nobody asks what other counts would cost.
    let is_all = made.job.before.is_none();
    !saving && is_all && made.job.order.lines.len() <= MOST_LINES && searched.cells <= MOST_CELLS
}

/// Warns of lines that cost more than resellers pay for them.
pub(super) fn check_wholesale(made: &Made) -> Option<Problem> {
    let percent = made.job.workshop.rates.wholesale_percent?;
    let below = quote::quote(made).below_cost();
    (!below.is_empty()).then(|| {
        let title = format!("the wholesale price of {} is below its cost", listed(&below));
        Problem::warning("quote-wholesale", title).help(format!(
            "wholesale_percent under [rates] in workshop.toml is {percent}: raise it, or margin_percent"
        ))
    })
}

/// What a batch sells for.
fn sold(made: &Made) -> Costs {
    quote::quote(made).total
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Worth;
    use crate::stock::{Back, Print, SheetKind};

    fn priced(minor: i64, used: u64, packs_bought: u64) -> PricedPlan {
        let side = crate::measure::Length::from_mm(100);
        let sheet = UsedSheet {
            id: "fern-12".to_owned(),
            kind: SheetKind::Sheet,
            paper: "fern".to_owned(),
            width: side,
            height: side,
            grain: None,
            print: Print::Free,
            back: Back::Free,
            rough_edges: Default::default(),
            on_hand: 0,
            used,
            packs_bought,
            pack: 25,
            price: None,
            value: Worth::default(),
        };
        PricedPlan { price: Money::from_minor(minor), sheets: vec![sheet] }
    }

    fn line(steps: [i64; 4], more: PricedPlan, now: PricedPlan) -> LinePrices {
        let mut plans: Vec<Option<PricedPlan>> = steps.map(|step| Some(priced(step, 1, 0))).into();
        plans.push(Some(more));
        line_prices(&plans, Some(&now))
    }

    /// Plans that are found with little effort may be better for more cards than for fewer.
    #[test]
    fn more_cards_never_cost_less() {
        let prices = line([10, 30, 20, 40], priced(90, 4, 1), priced(100, 4, 1));
        assert_eq!(prices.one_more, Some(Money::ZERO));
        assert_eq!(prices.steps, [10, 20, 20, 40].map(|step| Some(Money::from_minor(step))));
        assert_eq!(prices.takes, []);
    }

    #[test]
    fn what_one_more_takes_is_known() {
        let prices = line([1, 2, 3, 4], priced(150, 26, 2), priced(100, 25, 1));
        assert_eq!(prices.one_more, Some(Money::from_minor(50)));
        let more = MoreSheets { sheet: "fern-12".to_owned(), used: 1, packs: 1, pack: 25 };
        assert_eq!(prices.takes, [more]);
    }
}
