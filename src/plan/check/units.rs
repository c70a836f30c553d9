//! What a unit of price and a unit of worth are for a group of papers, and what its sheets count, worked out again.

use super::sums::common_divisor;
use super::worth::{Offers, per_area};
use super::{Fault, facts};
use crate::job::Job;
use crate::measure::Ratio;
use crate::plan::Proof;
use crate::stock::{Sheet, SheetKind};
use std::collections::BTreeSet;

/// The most that a sheet may count.
const MOST: i128 = 1_000_000_000;
/// Packs hold a million sheets at most: a common denominator above this makes some sheet count more than [`MOST`].
const LARGEST_DENOMINATOR: i128 = MOST * 1_000_000;
/// What the cheapest full sheet should count at least, and the parts that a common divisor may have for that.
const LEAST: i128 = 1_000;
const PARTS: [i128; 4] = [1, 10, 100, 1_000];
/// The part of the lowest price that paper without any counts.
const UNPRICED: i128 = 1_000;

/// The units of a group.
pub(super) struct GroupUnits {
    /// Minor units to a unit of price.
    pub price: i64,
    /// Minor units to a unit of worth; square ticks where no sheet has a price.
    pub worth: Ratio,
    /// Whether worth is money.
    pub is_money: bool,
    /// What a square tick counts that is worth nothing.
    plain: Ratio,
}

impl GroupUnits {
    /// Those of these papers.
    pub fn of(papers: &BTreeSet<&str>, job: &Job, offers: &Offers) -> GroupUnits {
        let of_group = |sheet: &&Sheet| papers.contains(sheet.paper.as_str());
        let sheets: Vec<&Sheet> = job.stock.sheets.iter().filter(of_group).collect();
        let price = |sheet: &Sheet| i128::from(sheet.price.map_or(0, |price| price.minor()));
        let steps = sheets.iter().fold(0, |step, sheet| common_divisor(step, price(sheet)));
        let is_full = |sheet: &Sheet| sheet.kind == SheetKind::Sheet;
        let is_money = sheets.iter().any(|sheet| is_full(sheet) && price(sheet) > 0);
        let rates = sheets.iter().filter_map(|sheet| per_area(sheet));
        let rate = rates.filter(Ratio::is_positive).min();
        let plain = rate.map_or(Ratio::whole(1), |rate| &rate * &Ratio::new(1, UNPRICED));
        let price_unit = i64::try_from(steps.max(1)).unwrap_or(i64::MAX);
        let mut units = GroupUnits { price: price_unit, worth: Ratio::whole(1), is_money, plain };
        let any_full = sheets.iter().any(|sheet| is_full(sheet));
        let areas = || sheets.iter().filter(|sheet| !any_full || is_full(sheet));
        let exact: Vec<(i128, i128)> = match is_money {
            true => {
                let priced = sheets.iter().filter(|sheet| is_full(sheet) && price(sheet) > 0);
                priced.map(|sheet| (price(sheet), sheet.pack.max(1).into())).collect()
            }
            false => areas().map(|sheet| (sheet.size.area().square_ticks(), 1)).collect(),
        };
        let counted = sheets.iter().map(|sheet| units.exact(sheet, job, offers));
        let whole = exact.iter().map(|&(above, below)| Ratio::new(above, below));
        let largest = counted.chain(whole).max().unwrap_or_default();
        units.worth = unit(&exact, &largest);
        units
    }

    /// What a sheet counts, in whole units.
    pub fn count(&self, sheet: &Sheet, job: &Job, offers: &Offers) -> i128 {
        (&self.exact(sheet, job, offers) / &self.worth).floor().clamp(1, MOST)
    }

    fn exact(&self, sheet: &Sheet, job: &Job, offers: &Offers) -> Ratio {
        let worth = offers.sheet(sheet);
        if self.is_money && worth.is_positive() {
            return worth;
        }
        let percent = match sheet.kind {
            SheetKind::Sheet => 100,
            SheetKind::Offcut => job.workshop.keep.value,
        };
        let hundredths = sheet.size.area().square_ticks() * i128::from(percent);
        &self.plain * &Ratio::new(hundredths, 100)
    }
}

/// The units of a proof are those of the stock. Alone, the plan's own prices are whole units of price, and where there are
/// any, worth is money.
pub(super) fn check(
    proof: &Proof,
    papers: &str,
    group: &facts::PaperGroup,
    prices: &[i64],
    faults: &mut Vec<Fault>,
) {
    let mut differs = |what: &'static str, found: String, expected: String| {
        faults.push(Fault::Unit { papers: papers.to_owned(), what, found, expected });
    };
    let step = group.price_unit;
    let found = proof.price_unit.minor();
    if found != step || prices.iter().any(|price| price % step != 0) {
        let all = prices.iter().map(|price| i128::from(*price));
        let expected = all.fold(0, common_divisor).max(1);
        differs("unit of price", found.to_string(), expected.to_string());
    }
    let has_money = prices.iter().any(|price| *price > 0);
    let expected = group.unit.as_ref().and_then(Ratio::terms);
    if proof.unit != expected || (has_money && proof.unit.is_none()) {
        let told = |terms: Option<[i64; 2]>| match terms {
            Some([above, below]) => format!("{above}/{below}"),
            None => "area".to_owned(),
        };
        let money = (has_money && expected.is_none()).then(|| "a part of a price".to_owned());
        differs("unit of worth", told(proof.unit), money.unwrap_or_else(|| told(expected)));
    }
}

/// The unit of which all these fractions are whole multiples: the common divisor of their numerators over a common
/// denominator, or a part of that; where the largest sheet would count too much, a whole multiple of the dearest full one
/// that is no less, divided by [`MOST`].
fn unit(exact: &[(i128, i128)], largest: &Ratio) -> Ratio {
    let dearest = exact.iter().map(|&(above, below)| Ratio::new(above, below)).max();
    let dearest = dearest.unwrap_or_default();
    let times = (largest / &dearest).ceil().clamp(1, MOST);
    let coarsest = &(&dearest * times) * &Ratio::new(1, MOST);
    let Some((above, below)) = common(exact) else { return coarsest };
    if above == 0 {
        return Ratio::whole(1);
    }
    let divisor = Ratio::new(above, below);
    if divisor < coarsest {
        return coarsest;
    }
    let least = exact.iter().map(|&(above, below)| Ratio::new(above, below)).min();
    let least = least.unwrap_or_default();
    let is_allowed = |parts: &&i128| **parts == 1 || largest * **parts <= &divisor * MOST;
    let suffices = |parts: &&i128| &least * **parts >= &divisor * LEAST;
    let allowed = || PARTS.iter().filter(is_allowed);
    let parts = allowed().find(suffices).or(allowed().next_back()).copied().unwrap_or(1);
    &divisor * &Ratio::new(1, parts)
}

/// Numerator and denominator of the greatest fraction that divides all of these; `None` where its denominator is
/// larger than that of a unit can be.
fn common(exact: &[(i128, i128)]) -> Option<(i128, i128)> {
    let lowest = |&(above, below): &(i128, i128)| {
        let divisor = common_divisor(above, below).max(1);
        (above / divisor, below / divisor)
    };
    let lowest: Vec<(i128, i128)> = exact.iter().map(lowest).collect();
    let mut denominator = 1;
    for (_, below) in &lowest {
        denominator = denominator / common_divisor(denominator, *below) * below;
        if denominator > LARGEST_DENOMINATOR {
            return None;
        }
    }
    let numerators = lowest.iter().map(|(above, below)| above * (denominator / below));
    Some((numerators.fold(0, common_divisor), denominator))
}
