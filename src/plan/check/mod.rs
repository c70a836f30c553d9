//! The judge: re-derives every rule from the plan alone and shares no code with the solver.
//!
//! In: a [`Plan`] and what it was made for. Out: nothing, or all [`Fault`]s found. It trusts nothing
//! that the plan says of itself: geometry, counts, sums, values, bounds and certificates are worked out
//! again by plain means.

mod facts;
mod fault;
mod form;
mod layout;
mod lists;
mod proof;
mod sums;
mod table;
mod totals;
mod worth;

pub use fault::Fault;

use super::Plan;
use crate::pieces::Bill;
use crate::stock::Stock;
use crate::workshop::Workshop;
use facts::Facts;

/// What a plan was made for.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a> {
    /// The pieces to cut.
    pub bill: &'a Bill,
    /// The paper at hand and in the shop.
    pub stock: &'a Stock,
    /// The bench and its rules.
    pub workshop: &'a Workshop,
}

/// Judges a plan against what it was made for.
///
/// # Errors
/// Every rule that it breaks.
pub fn check(plan: &Plan, given: &Given) -> Result<(), Vec<Fault>> {
    judge(plan, given.workshop, |_| Facts::from_given(given))
}

/// Judges a plan without its order and stock: against itself and the rules of the bench. What only
/// the stock could tell (grain, a print that differs within a paper, and so the worth of turned pieces,
/// sheets that were not used, the worth of offcuts) is not judged.
///
/// # Errors
/// Every rule that it breaks.
pub fn check_alone(plan: &Plan, workshop: &Workshop) -> Result<(), Vec<Fault>> {
    judge(plan, workshop, Facts::from_plan)
}

fn judge<'a>(
    plan: &'a Plan,
    workshop: &'a Workshop,
    facts: impl FnOnce(&'a Plan) -> Facts<'a>,
) -> Result<(), Vec<Fault>> {
    // Numbers out of range could overflow the sums that follow, so they end the matter.
    let mut faults = form::faults(plan, workshop);
    if faults.is_empty() {
        let facts = facts(plan);
        let bench = Bench { workshop, facts: &facts };
        let cuts = layout::walk(plan, bench, &mut faults);
        lists::check(plan, bench, &cuts, &mut faults);
        totals::check(plan, bench, &cuts, &mut faults);
        proof::check(plan, bench, &mut faults);
    }
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

/// What every rule looks at beside the plan.
#[derive(Clone, Copy)]
struct Bench<'a> {
    workshop: &'a Workshop,
    facts: &'a Facts<'a>,
}
