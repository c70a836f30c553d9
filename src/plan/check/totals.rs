//! The sums of the plan, added up again.

use super::layout::Cuts;
use super::{Evidence, Fault, first};
use crate::measure::{Ratio, Size};
use crate::plan::{FIRST_SCHEMA, Plan, UsedSheet};
use crate::stock::SheetKind;
use std::ops::RangeInclusive;

/// Checks every total, and that the areas balance.
pub(super) fn check(plan: &Plan, bench: Evidence, cuts: &Cuts, faults: &mut Vec<Fault>) {
    let totals = &plan.totals;
    let area = |area: crate::measure::Area| area.square_ticks();
    let proven: i128 = plan.proof.iter().map(|proof| i128::from(proof.spend.value.minor())).sum();
    let spent = i128::from(totals.spend.minor());
    let sums = [
        ("spend", spent, spend(plan)),
        // Nothing is spent outside of the groups of papers that the proofs are about.
        ("spend", spent, proven),
        ("sheets_used", i128::from(totals.sheets_used), cuts.sheets.values().sum()),
        ("sheet_area", area(totals.sheet_area), cuts.areas.sheets),
        ("piece_area", area(totals.piece_area), cuts.areas.pieces),
        ("offcut_area", area(totals.offcut_area), cuts.areas.offcuts),
        ("waste_area", area(totals.waste_area), cuts.areas.waste),
        ("blade_area", area(totals.blade_area), cuts.areas.blade),
        ("runs", i128::from(totals.runs), plan.runs.len() as i128),
    ];
    let kept = kept(plan, bench).map(|found| ("kept", i128::from(totals.kept.minor()), found));
    for (field, said, found) in sums.into_iter().chain(kept) {
        if said != found {
            faults.push(Fault::Total { field, said, found });
        }
    }
    let (said, found) = (i128::from(totals.stock.minor()), stock(plan, bench));
    if !found.contains(&said) {
        faults.push(Fault::Total { field: "stock", said, found: *found.start() });
    }
    balance(plan, faults);
    // The schedule alone knows how often; once at least where anything is cut, and once at most for each cut.
    let settings = u64::from(cuts.count > 0)..=cuts.count;
    if !settings.contains(&totals.gauge_settings) {
        faults.push(Fault::GaugeSettings { said: totals.gauge_settings, cuts: cuts.count });
    }
}

fn spend(plan: &Plan) -> i128 {
    let price = |price: Option<crate::measure::Money>| price.map_or(0, |price| price.minor());
    let paid = plan
        .sheets
        .iter()
        .map(|sheet| i128::from(sheet.packs_bought) * i128::from(price(sheet.price)));
    paid.sum()
}

/// What the paper that is used can be worth: one amount where the stock is known, which is rounded once. Alone, a plan
/// shows what its full sheets with a price are worth, and of the others the whole units that they count, or nothing.
fn stock(plan: &Plan, bench: Evidence) -> RangeInclusive<i128> {
    if plan.schema == FIRST_SCHEMA {
        let used = plan.sheets.iter();
        let worth =
            used.map(|sheet| i128::from(sheet.used) * i128::from(sheet.value.units())).sum();
        return worth..=worth;
    }
    let (mut least, mut most) = (Ratio::default(), Ratio::default());
    for sheet in &plan.sheets {
        let [low, high] = worth(sheet, bench);
        least = least + &low * i128::from(sheet.used);
        most = most + &high * i128::from(sheet.used);
    }
    least.nearest()..=most.nearest()
}

/// What one sheet can be worth, in minor units.
fn worth(sheet: &UsedSheet, bench: Evidence) -> [Ratio; 2] {
    let same = |worth: Ratio| [worth.clone(), worth];
    if bench.facts.job.is_some() {
        let known = bench.facts.sheets.get(sheet.id.as_str());
        return same(known.and_then(|known| known.worth.clone()).unwrap_or_default());
    }
    if let (SheetKind::Sheet, Some(price)) = (sheet.kind, sheet.price) {
        return same(Ratio::new(price.minor().into(), sheet.pack.into()));
    }
    let unit = bench.facts.group(&sheet.paper).and_then(|group| group.unit.as_ref());
    let counted = unit.map(|unit| unit * (i128::from(sheet.value.units()) + 1));
    [Ratio::default(), counted.unwrap_or_default()]
}

/// Only the stock knows the worth of offcuts, where there are any.
fn kept(plan: &Plan, bench: Evidence) -> Option<i128> {
    if plan.offcuts.is_empty() {
        return Some(0);
    }
    let (offers, job) = (bench.facts.offers.as_ref()?, bench.facts.job?);
    let all = plan.offcuts.iter().map(|offcut| {
        (Size::new(offcut.width, offcut.height), offcut.paper.as_str(), i128::from(offcut.count))
    });
    Some(match plan.schema == FIRST_SCHEMA {
        true => all.map(|(size, paper, count)| count * first::offcut(job, size, paper)).sum(),
        false => {
            let worth = all.map(|(size, paper, count)| &offers.offcut(size, paper) * count);
            worth.sum::<Ratio>().nearest()
        }
    })
}

fn balance(plan: &Plan, faults: &mut Vec<Fault>) {
    let totals = &plan.totals;
    let parts = [totals.piece_area, totals.offcut_area, totals.waste_area, totals.blade_area];
    let parts = parts.iter().fold(0_i128, |sum, part| sum.saturating_add(part.square_ticks()));
    let sheets = totals.sheet_area.square_ticks();
    if parts != sheets {
        faults.push(Fault::Balance { parts, sheets });
    }
}
