//! What a line would cost in other counts: planned anew, not guessed.
//!
//! Each line is planned alone for each of the usual counts, and the whole order with one card more of each line, side
//! by side and with little effort. Differences are of plans made alike.

use super::on_threads;
use super::{Effort, Made, Options, Searched, replanned};
use crate::measure::Money;
use crate::orders::{Order, OrderLine};
use crate::program::Stop;
use crate::quote::{self, Costs, LinePrices, STEPS};
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

fn planned(made: &Made, options: &Options, stop: Stop) -> Vec<LinePrices> {
    let lines = &made.job.order.lines;
    let quick = Options { effort: Effort::Quick, ..*options };
    let price = |lines: Vec<OrderLine>| -> Option<Money> {
        let order = Order { name: made.job.order.name.clone(), lines };
        if stop() {
            return None;
        }
        Some(sold(&replanned(made, order, made.job.stock.clone(), &quick, stop)?).price())
    };
    let with = |line: &OrderLine, count: u64| {
        let mut line = line.clone();
        line.count.value = count;
        line
    };
    let now = price(lines.clone());
    // Every plan by itself: alone for each step, then all with one more.
    let jobs: Vec<(usize, Option<u64>)> = (0..lines.len())
        .flat_map(|line| STEPS.map(Some).into_iter().chain([None]).map(move |step| (line, step)))
        .collect();
    let planned: Vec<Option<Money>> = jobs
        .par_iter()
        .map(|&(at, step)| match step {
            Some(count) => price(vec![with(&lines[at], count)]),
            None => {
                let mut more = lines.clone();
                more[at] = with(&lines[at], lines[at].count.value + 1);
                Some(price(more)? - now?)
            }
        })
        .collect();
    // Some of the plans were never looked for then, others not as hard.
    if stop() {
        return Vec::new();
    }
    planned
        .chunks_exact(STEPS.len() + 1)
        .map(|prices| {
            let mut line = LinePrices { one_more: prices[STEPS.len()], ..LinePrices::default() };
            line.steps.copy_from_slice(&prices[..STEPS.len()]);
            line
        })
        .collect()
}

/// Whether planning a batch anew so often is done in no time, and no time is to be saved.
pub(super) fn is_quickly_planned(made: &Made, searched: &Searched, options: &Options) -> bool {
    let saving = options.limit.is_some() || options.effort == Effort::Quick;
    !saving && made.job.order.lines.len() <= MOST_LINES && searched.cells <= MOST_CELLS
}

/// What a batch sells for.
fn sold(made: &Made) -> Costs {
    quote::quote(made).total
}
