//! The worth that plans of the first schema go by: whole minor units a sheet.

use crate::job::Job;
use crate::measure::Size;
use crate::stock::{Sheet, SheetKind};

/// Square ticks in a square centimetre: 400 000 ticks each way. One was worth a minor unit where a paper has no price.
const SQUARE_CENTIMETRE: i128 = 400_000 * 400_000;

/// What one sheet counts, in minor units.
pub(super) fn sheet(job: &Job, sheet: &Sheet) -> i128 {
    match (sheet.kind, sheet.price) {
        (SheetKind::Sheet, Some(price)) => {
            nearest(i128::from(price.minor()), i128::from(sheet.pack.max(1)))
        }
        (SheetKind::Sheet, None) => share(job, sheet.size, &sheet.paper, 100),
        (SheetKind::Offcut, _) => offcut(job, sheet.size, &sheet.paper),
    }
}

/// What one offcut counts, in minor units.
pub(super) fn offcut(job: &Job, size: Size, paper: &str) -> i128 {
    share(job, size, paper, job.workshop.keep.value)
}

/// A percentage of the cheapest price for so much of the paper, at least 1.
fn share(job: &Job, size: Size, paper: &str, percent: u32) -> i128 {
    let part = size.area().square_ticks() * i128::from(percent);
    let mut best: Option<(i128, i128)> = None;
    let full = |sheet: &&Sheet| sheet.kind == SheetKind::Sheet && sheet.paper == paper;
    for sheet in job.stock.sheets.iter().filter(full) {
        let Some(price) = sheet.price else { continue };
        let whole = sheet.size.area().square_ticks().saturating_mul(i128::from(sheet.pack)).max(1);
        let offer = (i128::from(price.minor()), whole);
        let cheaper =
            |best: (i128, i128)| offer.0.saturating_mul(best.1) < best.0.saturating_mul(offer.1);
        if best.is_none_or(cheaper) {
            best = Some(offer);
        }
    }
    let (price, whole) = best.unwrap_or((1, SQUARE_CENTIMETRE));
    nearest(price.saturating_mul(part), whole.saturating_mul(100)).max(1)
}

/// `above / below` to the nearest whole number, halves up.
pub(super) fn nearest(above: i128, below: i128) -> i128 {
    let (whole, rest) = (above.div_euclid(below), above.rem_euclid(below));
    if rest >= below - rest { whole + 1 } else { whole }
}
