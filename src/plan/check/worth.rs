//! The worth of sheets and offcuts, worked out again from the stock's prices, in exact fractions of a minor unit.

use crate::job::Job;
use crate::measure::{Ratio, Size};
use crate::stock::{Sheet, SheetKind};
use std::collections::BTreeMap;

/// The cheapest offer for a square tick of each paper, of full sheets with a price.
pub(super) struct Offers<'a> {
    job: &'a Job,
    of: BTreeMap<&'a str, Ratio>,
    /// What each sheet is worth, by its id.
    worth: BTreeMap<&'a str, Ratio>,
}

impl<'a> Offers<'a> {
    pub fn of(job: &'a Job) -> Offers<'a> {
        let offers = job.stock.sheets.iter();
        let mut offers: Vec<(&str, Ratio)> =
            offers.filter_map(|sheet| Some((sheet.paper.as_str(), per_area(sheet)?))).collect();
        // Of those of a paper, the last stays: the cheapest.
        offers.sort_by(|one, other| other.cmp(one));
        let of = offers.into_iter().collect();
        let mut offers = Offers { job, of, worth: BTreeMap::new() };
        let worth = job.stock.sheets.iter().map(|sheet| (sheet.id.as_str(), offers.worth(sheet)));
        offers.worth = worth.collect();
        offers
    }

    /// What one sheet of the stock is worth.
    pub fn sheet(&self, sheet: &Sheet) -> Ratio {
        self.worth.get(sheet.id.as_str()).cloned().unwrap_or_default()
    }

    fn worth(&self, sheet: &Sheet) -> Ratio {
        match (sheet.kind, sheet.price) {
            (SheetKind::Sheet, Some(price)) => Ratio::new(price.minor().into(), sheet.pack.into()),
            (SheetKind::Sheet, None) => self.share(sheet.size, &sheet.paper, 100),
            (SheetKind::Offcut, _) => self.offcut(sheet.size, &sheet.paper),
        }
    }

    /// What one offcut is worth.
    pub fn offcut(&self, size: Size, paper: &str) -> Ratio {
        self.share(size, paper, self.job.workshop.keep.value)
    }

    /// A percentage of the cheapest price for so much of the paper; nothing where it has none.
    fn share(&self, size: Size, paper: &str, percent: u32) -> Ratio {
        let hundredths = size.area().square_ticks() * i128::from(percent);
        let best = self.of.get(paper).cloned().unwrap_or_default();
        &best * &Ratio::new(hundredths, 100)
    }
}

/// What a full sheet asks for a square tick.
pub(super) fn per_area(sheet: &Sheet) -> Option<Ratio> {
    let area = sheet.size.area().square_ticks();
    let priced = sheet.kind == SheetKind::Sheet && area > 0;
    let price = Ratio::whole(sheet.price.filter(|_| priced)?.minor().into());
    Some(&price / &Ratio::whole(area.saturating_mul(sheet.pack.max(1).into())))
}
