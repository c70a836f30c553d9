//! The judge: re-derives every rule from the plan alone and shares no code with the solver.
//!
//! In: a [`Plan`] and what it was made for. Out: a [`Verdict`], or all [`Fault`]s found. It trusts nothing that the
//! plan says of itself: geometry, counts, sums, values, bounds and certificates are worked out again by plain means.
//! What it cannot work out again, the verdict names.
//!
//! # Proofs
//!
//! Why a certificate bounds every plan is derived beside the program (`program/mod.rs`, with the conditions (1) to
//! (4)). In `plan.json` its values are `piece_values` (π), `sheet_values` (σ) and `budget_value` (ρ), all times
//! `scale`: the judge multiplies `c_s` in (2) and `v_s` in (3) by it, and divides the bound by it. Prices and the
//! budget count in units of `price_unit`, minor units of money, and the bound of `spend` is turned back into money.
//! Sheets and all of `stock` count in units of `unit`, a fraction of a minor unit, which is missing where area counts.
//! The judge works both out again (`units.rs`).
//!
//! Conditions (1) and (3) are about all patterns, and there is no need to list them: they say that F of the whole
//! sheet, the most that edge-to-edge cuts make of it at the values π, is at most `σ_s`, or `v_s + σ_s`. The judge
//! computes F with a plain table of its own in whole numbers (`table.rs`), and needs none where the area shows it
//! already (`area.rs`).
//!
//! A bound above what its certificate proves rests on the word of a search, and the plan says `complete_search`. The
//! judge does not search again: it accepts the plan, and its verdict names the bound.

mod area;
mod facts;
mod fault;
mod first;
mod form;
mod layout;
mod lists;
mod proof;
mod sums;
mod supplies;
mod table;
mod totals;
mod units;
mod verdict;
mod worth;

pub use fault::Fault;
pub use verdict::{OnTrust, Unseen, Verdict};

use super::{FIRST_SCHEMA, Plan, PlannedPiece, UsedSheet};
use crate::job::Job;
use crate::measure::Length;
use crate::orders::Turn;
use crate::workshop::{GrainRule, Workshop};
use facts::{Facts, SheetFacts};

/// Judges a plan against what it was made for. Bounds that rest on a search are named, all else is proven.
///
/// # Errors
/// Every rule that it breaks.
pub fn check(plan: &Plan, job: &Job) -> Result<Verdict, Vec<Fault>> {
    judge(plan, &job.workshop, |plan| Facts::from_job(job, plan))
}

/// Judges a plan without its order and stock: against what it records itself and the rules of the bench. What only
/// order and stock could tell is named as unseen.
///
/// # Errors
/// Every rule that it breaks.
pub fn check_alone(plan: &Plan, workshop: &Workshop) -> Result<Verdict, Vec<Fault>> {
    let mut verdict = judge(plan, workshop, Facts::from_plan)?;
    verdict.unseen.extend(unseen(plan, workshop));
    Ok(verdict)
}

fn unseen(plan: &Plan, workshop: &Workshop) -> Vec<Unseen> {
    let is_first = plan.schema == FIRST_SCHEMA;
    let mut unseen =
        vec![Unseen::Order, Unseen::Stock, Unseen::OtherSheets, Unseen::Worth, Unseen::Prints];
    unseen.extend(is_first.then_some(Unseen::Grain));
    let printed = |paper: &String| {
        let is_printed = |sheet: &&UsedSheet| (sheet.print, sheet.back) != Default::default();
        plan.sheets.iter().filter(|sheet| sheet.paper == *paper).any(|sheet| is_printed(&sheet))
    };
    let may_turn = |piece: &PlannedPiece| {
        // A square with a fold lies otherwise once it is turned, where grain is a rule.
        let folded = workshop.grain == GrainRule::Strict && piece.fold.is_some();
        let differs = (piece.width != piece.height || folded) && piece.turn == Turn::Free;
        differs && (is_first || piece.papers.iter().any(printed))
    };
    let strict = is_first && workshop.grain == GrainRule::Strict;
    unseen.extend((strict || plan.pieces.iter().any(may_turn)).then_some(Unseen::Bounds));
    unseen
}

fn judge<'a>(
    plan: &'a Plan,
    workshop: &'a Workshop,
    facts: impl FnOnce(&'a Plan) -> Facts<'a>,
) -> Result<Verdict, Vec<Fault>> {
    let mut verdict = Verdict::default();
    // Numbers out of range could overflow the sums that follow, so they end the matter.
    let mut faults = form::faults(plan, workshop);
    if faults.is_empty() {
        let facts = facts(plan);
        let bench = Evidence { workshop, facts: &facts };
        let cuts = layout::walk(plan, bench, &mut faults);
        lists::check(plan, bench, &cuts, &mut faults);
        supplies::check(plan, bench, &mut faults);
        totals::check(plan, bench, &cuts, &mut faults);
        verdict.searched = proof::check(plan, bench, &mut faults);
        verdict.unseen.extend((cuts.count > 1).then_some(Unseen::Settings));
    }
    if faults.is_empty() { Ok(verdict) } else { Err(faults) }
}

/// What every rule looks at beside the plan.
#[derive(Clone, Copy)]
struct Evidence<'a> {
    workshop: &'a Workshop,
    facts: &'a Facts<'a>,
}

impl Evidence<'_> {
    /// What squaring takes off each edge of a sheet.
    fn margin(self, sheet: &SheetFacts) -> Length {
        match sheet.rough_edges.any() {
            true => self.workshop.trimmer.squaring,
            false => Length::ZERO,
        }
    }

    /// What squaring takes off both edges of a side.
    fn edges(self, sheet: &SheetFacts) -> i64 {
        self.margin(sheet).ticks() * 2
    }

    /// Whether the knife reaches over the trims that make a corner true: one as long as a side of the whole sheet, and one
    /// as long as the other side without the edge that the first took off.
    fn can_be_squared(self, sheet: &SheetFacts) -> bool {
        let trimmer = &self.workshop.trimmer;
        let edge = self.margin(sheet).ticks();
        let (width, height) = (sheet.size.width.ticks(), sheet.size.height.ticks());
        let knife = trimmer.knife.ticks();
        edge == 0
            || (height <= knife && width - edge <= knife)
            || (width <= knife && height - edge <= knife)
    }
}
