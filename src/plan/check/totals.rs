//! The sums of the plan, added up again.

use super::layout::Cuts;
use super::{Bench, Fault};
use crate::measure::Size;
use crate::plan::{Level, Plan, Proof};

/// Checks every total, and that the areas balance.
pub(super) fn check(plan: &Plan, bench: Bench, cuts: &Cuts, faults: &mut Vec<Fault>) {
    let totals = &plan.totals;
    let area = |area: crate::measure::Area| area.square_ticks();
    let sums = [
        ("spend", i128::from(totals.spend.minor()), spend(plan)),
        ("stock", i128::from(totals.stock.minor()), stock(plan)),
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
    // Nothing is spent or used outside of the groups of papers that the proofs are about.
    let proven = |level: fn(&Proof) -> &Level| -> i128 {
        plan.proof.iter().map(|proof| i128::from(level(proof).value.minor())).sum()
    };
    let levels = [
        ("spend", totals.spend, proven(|proof| &proof.spend)),
        ("stock", totals.stock, proven(|proof| &proof.stock)),
    ];
    for (field, said, found) in
        levels.map(|(field, said, found)| (field, i128::from(said.minor()), found))
    {
        if said != found {
            faults.push(Fault::Total { field, said, found });
        }
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

fn stock(plan: &Plan) -> i128 {
    let used =
        plan.sheets.iter().map(|sheet| i128::from(sheet.used) * i128::from(sheet.value.minor()));
    used.sum()
}

/// Only the stock knows the worth of offcuts, where there are any.
fn kept(plan: &Plan, bench: Bench) -> Option<i128> {
    if plan.offcuts.is_empty() {
        return Some(0);
    }
    let offers = bench.facts.offers.as_ref()?;
    let worth = plan.offcuts.iter().map(|offcut| {
        let size = Size::new(offcut.width, offcut.height);
        i128::from(offcut.count) * offers.offcut(size, &offcut.paper)
    });
    Some(worth.sum())
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
