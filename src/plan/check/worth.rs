//! The worth of sheets and offcuts, worked out again from the stock's prices.

use super::Given;
use crate::measure::Size;
use crate::stock::{Sheet, SheetKind};

/// Square ticks in a square centimetre: 400 000 ticks each way.
const SQUARE_CENTIMETRE: i128 = 400_000 * 400_000;

/// What one sheet counts at level 2, in minor units.
pub(super) fn of_sheet(sheet: &Sheet, given: &Given) -> i128 {
    match (sheet.kind, sheet.price) {
        (SheetKind::Sheet, Some(price)) => {
            nearest(i128::from(price.minor()), i128::from(sheet.pack.max(1)))
        }
        (SheetKind::Sheet, None) => share(sheet.size, &sheet.paper, 100, given),
        (SheetKind::Offcut, _) => of_offcut(sheet.size, &sheet.paper, given),
    }
}

/// What one offcut counts, in minor units.
pub(super) fn of_offcut(size: Size, paper: &str, given: &Given) -> i128 {
    share(size, paper, given.workshop.keep.value, given)
}

/// A percentage of the cheapest price for so much of the paper. Each priced full sheet offers
/// `price / (pack * area)`; the least of the offers for this rectangle is the same as the rectangle at
/// the least offer.
fn share(size: Size, paper: &str, percent: u32, given: &Given) -> i128 {
    let part = size.area().square_ticks() * i128::from(percent);
    let mut best: Option<(i128, i128)> = None;
    for sheet in given.stock.sheets.iter().filter(|sheet| sheet.paper == paper) {
        let Some(price) = sheet.price.filter(|_| sheet.kind == SheetKind::Sheet) else { continue };
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
