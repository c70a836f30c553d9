//! What the paper of a plan is worth, exactly.

use super::Plan;
use crate::measure::{Ratio, Size};
use crate::stock::{Prices, Sheet, Stock};
use std::collections::BTreeMap;

/// What all paper that a plan uses is worth, in minor units.
pub fn worth_used(plan: &Plan, stock: &Stock, prices: &Prices) -> Ratio {
    let known: BTreeMap<&str, &Sheet> =
        stock.sheets.iter().map(|sheet| (sheet.id.as_str(), sheet)).collect();
    let used = plan.sheets.iter().filter_map(|used| Some((used, known.get(used.id.as_str())?)));
    used.map(|(used, sheet)| &prices.sheet(sheet) * i128::from(used.used)).sum()
}

/// What all offcuts that a plan keeps are worth, in minor units.
pub fn worth_kept(plan: &Plan, prices: &Prices) -> Ratio {
    let worth = plan.offcuts.iter().map(|offcut| {
        let size = Size::new(offcut.width, offcut.height);
        &prices.offcut(size, &offcut.paper) * i128::from(offcut.count)
    });
    worth.sum()
}
