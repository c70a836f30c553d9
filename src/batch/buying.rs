//! What the same order would cost if it were bought otherwise: planned anew, not guessed.
//!
//! The order is planned once more with one pack more of each sheet that is bought, counted as paid and on hand, and
//! with each sheet of a paper alone. That is done as hard as for the plan at hand, so that both can be compared, and
//! therefore not at all where that plan took many steps.

use super::on_threads;
use super::pricing::is_quickly_planned;
use super::{Made, Options, Searched, replanned};
use crate::program::Stop;
use crate::quote::{Bought, OtherBuying};
use crate::stock::{Sheet, Stock};
use rayon::prelude::*;

/// Most steps of work that all other ways together are likely to take: a second or two.
const MOST_WORK: u64 = 2_000_000_000;

/// Other ways to buy each paper of which packs are bought: with one pack more of a sheet, and, where the paper comes
/// in several, with one of them alone. None where planning anew takes long, nor where time or effort are to be saved, nor once
/// it is called off.
pub fn otherwise(
    made: &Made,
    searched: &Searched,
    options: &Options,
    stop: Stop,
) -> Vec<OtherBuying> {
    let jobs: Vec<(usize, Bought)> = jobs(made);
    // Each is planned as hard as the plan at hand, or it could not be compared with that.
    let work = searched.work.saturating_mul(jobs.len() as u64);
    if stop() || work > MOST_WORK || !is_quickly_planned(made, searched, options) {
        return Vec::new();
    }
    let other = |&(sheet, how): &(usize, Bought)| other(made, sheet, how, options, stop);
    let planned: Vec<OtherBuying> =
        on_threads(options.threads, || jobs.par_iter().map(other).collect());
    // What was called off is no sign that there is no such plan.
    if stop() { Vec::new() } else { planned }
}

/// The sheets, by their index in the stock, and how they would be bought.
fn jobs(made: &Made) -> Vec<(usize, Bought)> {
    let sheets = &made.job.stock.sheets;
    let kinds = |paper: &str| {
        sheets.iter().filter(|sheet| sheet.paper == paper && sheet.price.is_some()).count()
    };
    let mut jobs = Vec::new();
    for (at, sheet) in sheets.iter().enumerate() {
        if sheet.price.is_none() || !is_bought(made, &sheet.paper) {
            continue;
        }
        jobs.push((at, Bought::OneMore));
        if kinds(&sheet.paper) > 1 {
            jobs.push((at, Bought::Alone));
        }
    }
    jobs
}

fn is_bought(made: &Made, paper: &str) -> bool {
    made.plan.sheets.iter().any(|sheet| sheet.paper == paper && sheet.packs_bought > 0)
}

fn other(made: &Made, at: usize, how: Bought, options: &Options, stop: Stop) -> OtherBuying {
    let sheet = &made.job.stock.sheets[at];
    let plan =
        replanned(made, made.job.order.clone(), changed(&made.job.stock, at, how), options, stop);
    let paid = match how {
        // The pack more is on hand in the changed stock.
        Bought::OneMore => sheet.price.unwrap_or_default(),
        Bought::Alone => Default::default(),
    };
    let proven =
        |made: &Made| made.plan.proof.iter().all(|proof| proof.spend.value == proof.spend.bound);
    let proven = plan.as_ref().is_some_and(proven);
    OtherBuying {
        how,
        sheet: sheet.id.clone(),
        paper: sheet.paper.clone(),
        spend: plan.as_ref().map(|other| other.plan.totals.spend + paid),
        stock: plan.as_ref().map(Made::worth_used),
        proven,
    }
}

fn changed(stock: &Stock, at: usize, how: Bought) -> Stock {
    let mut stock = stock.clone();
    let Sheet { paper, pack, .. } = stock.sheets[at].clone();
    match how {
        Bought::OneMore => stock.sheets[at].on_hand += pack,
        Bought::Alone => {
            let others = stock.sheets.iter_mut().enumerate();
            let others = others.filter(|(other, sheet)| *other != at && sheet.paper == paper);
            others.for_each(|(_, sheet)| sheet.price = None);
        }
    }
    stock
}
