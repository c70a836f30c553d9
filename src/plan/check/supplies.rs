//! Envelopes and sundries: against order and stock, and what is bought of them.

use super::{Evidence, Fault};
use crate::plan::{Plan, PlannedSupply};
use std::collections::BTreeMap;

/// Checks each, and that none is missing.
pub(super) fn check(plan: &Plan, bench: Evidence, faults: &mut Vec<Fault>) {
    for planned in &plan.supplies {
        faults.extend(bought(planned));
    }
    // Before there were any, plans said nothing of them.
    let Some(job) = bench.facts.job else { return };
    let mut known: BTreeMap<&str, &PlannedSupply> =
        plan.supplies.iter().map(|planned| (planned.id.as_str(), planned)).collect();
    for need in &job.bill.supplies {
        let Some((kind, supply)) = job.stock.supply(&need.supply) else { continue };
        let supply_name = || need.supply.clone();
        let Some(planned) = known.remove(need.supply.as_str()) else {
            faults.push(Fault::SupplyMissing { supply: supply_name() });
            continue;
        };
        let asked: u128 = need.shares.iter().map(|share| u128::from(share.need)).sum();
        let left = asked.saturating_sub(need.taken.into());
        let spares: u128 = need.shares.iter().map(|share| u128::from(share.spares)).sum();
        let spares = if left == 0 { 0 } else { spares.saturating_sub(need.wasted.into()) };
        let differences = [
            ("kind", planned.kind != kind),
            ("unit", planned.unit != supply.unit.word()),
            ("need", u128::from(planned.need) != left),
            ("spares", u128::from(planned.spares) != spares),
            ("on_hand", planned.on_hand != supply.on_hand),
            ("pack", planned.pack != supply.pack),
            ("price", planned.price != supply.price),
            ("size", planned.size() != job.stock.envelope(&need.supply).map(|it| it.size)),
        ];
        let differing = differences.into_iter().filter(|(_, differs)| *differs);
        faults.extend(differing.map(|(field, _)| {
            let supply = supply_name();
            Fault::SupplyDiffers { supply, field }
        }));
    }
    faults.extend(known.into_keys().map(|name| {
        let supply = name.to_owned();
        Fault::SupplyUnknown { supply }
    }));
}

/// The packs are those that the amounts ask for, and can be bought.
fn bought(planned: &PlannedSupply) -> Option<Fault> {
    let missing =
        i128::from(planned.need) + i128::from(planned.spares) - i128::from(planned.on_hand);
    let pack = i128::from(planned.pack);
    let needed = (missing.max(0) + pack - 1).div_euclid(pack.max(1));
    let supply = planned.id.clone();
    let said = planned.packs_bought;
    match i128::from(said) == needed {
        false => Some(Fault::SupplyPacks { supply, said, needed }),
        true if said > 0 && planned.price.is_none() => Some(Fault::SupplyNotForSale { supply }),
        true => None,
    }
}
