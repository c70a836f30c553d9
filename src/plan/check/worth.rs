//! The worth of sheets and offcuts, worked out again from the stock's prices.

use super::Given;
use crate::measure::Size;
use crate::stock::{Sheet, SheetKind};
use std::collections::BTreeMap;

/// Square ticks in a square centimetre: 400 000 ticks each way.
const SQUARE_CENTIMETRE: i128 = 400_000 * 400_000;

/// The full sheets with a price, of which each offers its paper at `price / (pack * area)`.
pub(super) struct Offers<'a> {
    given: &'a Given<'a>,
    of: BTreeMap<&'a str, Vec<&'a Sheet>>,
}

impl<'a> Offers<'a> {
    pub fn of(given: &'a Given<'a>) -> Offers<'a> {
        let mut of: BTreeMap<&str, Vec<&Sheet>> = BTreeMap::new();
        for sheet in &given.stock.sheets {
            if sheet.kind == SheetKind::Sheet && sheet.price.is_some() {
                of.entry(&sheet.paper).or_default().push(sheet);
            }
        }
        Offers { given, of }
    }

    /// What one sheet counts at level 2, in minor units.
    pub fn sheet(&self, sheet: &Sheet) -> i128 {
        match (sheet.kind, sheet.price) {
            (SheetKind::Sheet, Some(price)) => {
                nearest(i128::from(price.minor()), i128::from(sheet.pack.max(1)))
            }
            (SheetKind::Sheet, None) => self.share(sheet.size, &sheet.paper, 100),
            (SheetKind::Offcut, _) => self.offcut(sheet.size, &sheet.paper),
        }
    }

    /// What one offcut counts, in minor units.
    pub fn offcut(&self, size: Size, paper: &str) -> i128 {
        self.share(size, paper, self.given.workshop.keep.value)
    }

    /// A percentage of the cheapest price for so much of the paper: the least of the offers for this rectangle is
    /// the same as the rectangle at the least offer.
    fn share(&self, size: Size, paper: &str, percent: u32) -> i128 {
        let part = size.area().square_ticks() * i128::from(percent);
        let mut best: Option<(i128, i128)> = None;
        for sheet in self.of.get(paper).into_iter().flatten() {
            let Some(price) = sheet.price else { continue };
            let whole =
                sheet.size.area().square_ticks().saturating_mul(i128::from(sheet.pack)).max(1);
            let offer = (i128::from(price.minor()), whole);
            let cheaper = |best: (i128, i128)| {
                offer.0.saturating_mul(best.1) < best.0.saturating_mul(offer.1)
            };
            if best.is_none_or(cheaper) {
                best = Some(offer);
            }
        }
        let (price, whole) = best.unwrap_or((1, SQUARE_CENTIMETRE));
        nearest(price.saturating_mul(part), whole.saturating_mul(100)).max(1)
    }
}

/// `above / below` to the nearest whole number, halves up.
pub(super) fn nearest(above: i128, below: i128) -> i128 {
    let (whole, rest) = (above.div_euclid(below), above.rem_euclid(below));
    if rest >= below - rest { whole + 1 } else { whole }
}
