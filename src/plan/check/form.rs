//! Names, order and sane numbers: what has to hold before anything is worked out.

use super::Fault;
use crate::measure::{Length, Money};
use crate::plan::{FIRST_SCHEMA, Plan, Proof, SCHEMA, UsedSheet};
use crate::workshop::Workshop;

/// Most of anything: far above any order, far below overflow.
const MOST: u64 = 1_000_000_000_000;

/// Most parts of a supply: ticks of ribbon for a million cards, and far below overflow.
const MOST_PARTS: u64 = 1_000_000_000_000_000_000;

/// All faults of form.
pub(super) fn faults(plan: &Plan, workshop: &Workshop) -> Vec<Fault> {
    let mut faults = Vec::new();
    head(plan, workshop, &mut faults);
    order(plan, &mut faults);
    ranges(plan, &mut faults);
    faults
}

fn head(plan: &Plan, workshop: &Workshop, faults: &mut Vec<Fault>) {
    let is_first = plan.schema == FIRST_SCHEMA;
    if plan.schema != SCHEMA && !is_first {
        faults.push(Fault::Schema { found: plan.schema.clone() });
    }
    if is_first && records_sheets(plan) {
        let what = format!(
            "grain, print, edges, folds, units, supplies or offcuts of several runs in a \
             {FIRST_SCHEMA}"
        );
        faults.push(Fault::OutOfRange { what });
    }
    if plan.ticks_per_mm != Length::TICKS_PER_MM {
        faults.push(Fault::TicksPerMm { found: plan.ticks_per_mm });
    }
    if plan.currency != workshop.currency.code() {
        let expected = workshop.currency.code().to_owned();
        faults.push(Fault::Currency { found: plan.currency.clone(), expected });
    }
}

/// Whether a plan says what the first schema had no words for.
fn records_sheets(plan: &Plan) -> bool {
    let says = |sheet: &UsedSheet| {
        let usual = (sheet.print, sheet.back, sheet.rough_edges) == Default::default();
        !usual || sheet.grain.is_some()
    };
    let joins = plan.offcuts.iter().any(|offcut| !offcut.more_runs.is_empty());
    let units = |proof: &Proof| proof.unit.is_some() || proof.price_unit != Money::from_minor(1);
    plan.sheets.iter().any(says)
        || plan.pieces.iter().any(|piece| piece.fold.is_some() || piece.done + piece.spoiled > 0)
        || plan.proof.iter().any(units)
        || joins
        || !plan.supplies.is_empty()
}

fn order(plan: &Plan, faults: &mut Vec<Fault>) {
    sorted("pieces", plan.pieces.iter().map(|piece| &piece.id), faults);
    sorted("sheets", plan.sheets.iter().map(|sheet| &sheet.id), faults);
    sorted("supplies", plan.supplies.iter().map(|supply| &supply.id), faults);
    sorted("offcuts", plan.offcuts.iter().map(|offcut| &offcut.id), faults);
    for piece in &plan.pieces {
        sorted("papers of a piece", piece.papers.iter(), faults);
        let doubled = piece.scores.windows(2).any(|pair| pair[0] >= pair[1]);
        if doubled {
            faults.push(Fault::Unsorted { list: "scores of a piece", id: piece.id.clone() });
        }
    }
    for (index, run) in plan.runs.iter().enumerate() {
        let expected = format!("R{}", index + 1);
        if run.id != expected {
            faults.push(Fault::RunName { found: run.id.clone(), expected });
        }
    }
}

fn sorted<'a>(list: &'static str, ids: impl Iterator<Item = &'a String>, faults: &mut Vec<Fault>) {
    let mut before: Option<&String> = None;
    for id in ids {
        if before.is_some_and(|before| before >= id) {
            faults.push(Fault::Unsorted { list, id: id.clone() });
        }
        before = Some(id);
    }
}

fn ranges(plan: &Plan, faults: &mut Vec<Fault>) {
    let mut demand = |holds: bool, what: String| {
        if !holds {
            faults.push(Fault::OutOfRange { what });
        }
    };
    for piece in &plan.pieces {
        let sane = side(piece.width) && side(piece.height);
        let counts = [piece.need, piece.spares, piece.done, piece.spoiled, piece.cut];
        let count = counts.into_iter().all(count);
        demand(sane && count && !piece.papers.is_empty(), format!("piece `{}`", piece.id));
    }
    for sheet in &plan.sheets {
        let sane = side(sheet.width) && side(sheet.height) && sheet.pack > 0 && count(sheet.pack);
        let counts = [sheet.on_hand, sheet.used, sheet.packs_bought].into_iter().all(count);
        let units = (0..=i64::MAX / 4).contains(&sheet.value.units());
        let amounts = units && sheet.price.is_none_or(amount);
        demand(sane && counts && amounts, format!("sheet `{}`", sheet.id));
    }
    for supply in &plan.supplies {
        let amounts = [supply.need, supply.spares, supply.on_hand, supply.pack];
        let sane = amounts.into_iter().all(|amount| amount <= MOST_PARTS) && supply.pack > 0;
        let bought = count(supply.packs_bought) && supply.price.is_none_or(amount);
        let size = [supply.width, supply.height].into_iter().flatten().all(side);
        demand(sane && bought && size, format!("supply `{}`", supply.id));
    }
    demand(amount(plan.totals.kept), "`kept`".to_owned());
    for proof in &plan.proof {
        let price = proof.price_unit > Money::ZERO && amount(proof.price_unit);
        let worth = proof.unit.is_none_or(|terms| terms.iter().all(|term| *term > 0));
        demand(price && worth, format!("a unit of {}", proof.papers.join("|")));
    }
    for run in &plan.runs {
        demand(count(run.count), format!("the count of run `{}`", run.id));
    }
    for offcut in &plan.offcuts {
        let sane = side(offcut.width) && side(offcut.height) && count(offcut.count);
        // It becomes a row of the drawer's file.
        let named = !offcut.id.is_empty() && offcut.id.trim() == offcut.id;
        demand(sane && named, format!("offcut `{}`", offcut.id.escape_debug()));
    }
}

fn side(length: Length) -> bool {
    // A blank may be twice as long as the longest card.
    length.is_positive() && length <= Length::MAX * 4
}

fn count(count: u64) -> bool {
    count <= MOST
}

fn amount(money: Money) -> bool {
    Money::ZERO <= money && money.minor() <= i64::MAX / 4
}
