//! Levels 3 and 4 and the plan: what the answers of the program come to, ready to be judged.
//!
//! In: the [`Job`] and the answers to its tasks. Out: a [`Plan`] and its [`Schedule`]. Of plans that cost the same it
//! looks for the one that leaves most for the drawer, and of those for one that is little work at the bench; how much
//! work that is, the schedule says.
//!
//! | file | what |
//! | --- | --- |
//! | `improve/` | levels 3 and 4 |
//! | `surplus.rs`, `tidy.rs` | what yields more than is wanted; remnants gathered |
//! | `drawing.rs`, `edges.rs` | from a pattern to a cut tree on the whole sheet |

mod drawing;
mod edges;
mod improve;
mod surplus;
mod tidy;

pub use improve::Care;

use crate::cuts::Tree;
use crate::job::Job;
use crate::made::Gains;
use crate::measure::{Area, Length, Money, Ratio, Size, Worth};
use crate::pieces::{Piece, planned_turn};
use crate::plan::{
    Certificate, Leaf, Level, Plan, PlannedPiece, Proof, Run, SCHEMA, Status, Totals, UsedSheet,
    supplies, worth_kept, worth_used,
};
use crate::program::{self, Answer, Proven, Stop, Task};
use crate::schedule::{Schedule, schedule};
use crate::stock::{Prices, rounded};
use drawing::{KeptOffcuts, RunDrawing};
use improve::{Handling, Scheduler, improved};
use std::collections::{BTreeMap, BTreeSet};

/// A plan with the work at the bench.
pub struct Assembled {
    /// The plan.
    pub plan: Plan,
    /// What was gained on levels 3 and 4.
    pub gains: Gains,
    /// The work at the bench.
    pub schedule: Schedule,
}

/// The plan that the answers to the tasks make, improved on levels 3 and 4 until that much care is taken, or until it
/// is called off.
pub fn assemble(job: &Job, solved: &[(Task, Answer)], care: Care, stop: Stop) -> Assembled {
    let bench = Scheduler { stock: &job.stock, trimmer: &job.workshop.trimmer };
    let improved = improved(job, solved, Handling { bench: &bench, care, stop });
    let mut kept = KeptOffcuts::new(job);
    let mut runs = Vec::new();
    for (number, sheaf) in improved.runs.iter().enumerate() {
        let id = format!("R{}", number + 1);
        let layout = RunDrawing { job, sheaf, run: &id, kept: &mut kept }.sheet();
        let sheet = job.stock.sheets[sheaf.sheet].id.clone();
        runs.push(Run { id, sheet, count: sheaf.count, layout });
    }
    let mut plan = Plan {
        supplies: supplies(job),
        schema: SCHEMA.to_owned(),
        ticks_per_mm: Length::TICKS_PER_MM,
        order: job.order.name.clone(),
        currency: job.workshop.currency.code().to_owned(),
        pieces: planned_pieces(job, &runs),
        sheets: used_sheets(job, &runs, &counts(solved)),
        runs,
        offcuts: kept.sorted(),
        totals: Totals::default(),
        proof: solved.iter().map(|(task, answer)| proof(job, task, answer)).collect(),
    };
    let schedule = schedule(&plan, job);
    plan.totals = Totals { gauge_settings: schedule.gauge_settings, ..totals(job, &plan) };
    let settings = schedule.gauge_settings;
    // Settings were counted with all the room there may be: with less, they say nothing.
    let is_cramped = schedule.effort.with_more.is_some();
    let plain = improved.plain_settings.filter(|_| !is_cramped).unwrap_or(settings);
    let gains = Gains {
        kept: improved.kept,
        settings: (plain, settings),
        runs: (improved.plain_runs, plan.runs.len() as u64),
    };
    Assembled { plan, gains, schedule }
}

fn planned_pieces(job: &Job, runs: &[Run]) -> Vec<PlannedPiece> {
    let mut cut: BTreeMap<&str, u64> = BTreeMap::new();
    for run in runs {
        for leaf in run.layout.leaves() {
            if let Leaf::Piece(id, _) = leaf {
                *cut.entry(id).or_insert(0) += run.count;
            }
        }
    }
    let planned = |piece: &Piece| PlannedPiece {
        id: piece.id.clone(),
        line: piece.shares.iter().map(|share| share.line.as_str()).collect::<Vec<_>>().join("+"),
        part: piece.part,
        papers: piece.papers.iter().cloned().collect::<BTreeSet<_>>().into_iter().collect(),
        width: piece.size.width,
        height: piece.size.height,
        turn: planned_turn(piece, &job.stock),
        fold: piece.grain_along,
        need: piece.need(),
        spares: piece.spares(),
        done: piece.done.good,
        spoiled: piece.done.spoiled,
        cut: cut.get(piece.id.as_str()).copied().unwrap_or(0),
        scores: piece.scores.clone(),
    };
    let mut pieces: Vec<PlannedPiece> = job.bill.pieces.iter().map(planned).collect();
    pieces.sort_by(|a, b| a.id.cmp(&b.id));
    pieces
}

/// What a sheet counts in its group of papers, by its index in the stock.
fn counts(solved: &[(Task, Answer)]) -> BTreeMap<usize, Worth> {
    let supplies = solved.iter().flat_map(|(task, _)| &task.supplies);
    supplies.map(|supply| (supply.sheet, Worth::from_units(supply.value))).collect()
}

fn used_sheets(job: &Job, runs: &[Run], counts: &BTreeMap<usize, Worth>) -> Vec<UsedSheet> {
    let mut sheets = Vec::new();
    for (at, sheet) in job.stock.sheets.iter().enumerate() {
        let used: u64 = runs.iter().filter(|run| run.sheet == sheet.id).map(|run| run.count).sum();
        if used == 0 {
            continue;
        }
        sheets.push(UsedSheet {
            id: sheet.id.clone(),
            kind: sheet.kind,
            paper: sheet.paper.clone(),
            width: sheet.size.width,
            height: sheet.size.height,
            grain: sheet.grain,
            print: sheet.print,
            back: sheet.back,
            rough_edges: sheet.rough_edges,
            on_hand: sheet.on_hand,
            used,
            packs_bought: used.saturating_sub(sheet.on_hand).div_ceil(sheet.pack),
            pack: sheet.pack,
            price: sheet.price,
            value: counts.get(&at).copied().unwrap_or_default(),
        });
    }
    sheets.sort_by(|a, b| a.id.cmp(&b.id));
    sheets
}

fn totals(job: &Job, plan: &Plan) -> Totals {
    let mut totals = Totals { runs: plan.runs.len() as u64, ..Totals::default() };
    for sheet in &plan.sheets {
        totals.spend += sheet.price.unwrap_or(Money::ZERO) * sheet.packs_bought;
        totals.sheets_used += sheet.used;
        totals.sheet_area += Size::new(sheet.width, sheet.height).area() * sheet.used;
    }
    let prices = Prices::of(&job.stock, &job.workshop);
    totals.stock = rounded(&worth_used(plan, &job.stock, &prices));
    totals.kept = rounded(&worth_kept(plan, &prices));
    for run in &plan.runs {
        for plate in run.layout.plates() {
            let area: Area = plate.size.area() * run.count;
            match plate.leaf() {
                Some(Leaf::Piece(..)) => totals.piece_area += area,
                Some(Leaf::Offcut(_)) => totals.offcut_area += area,
                Some(Leaf::Waste) => totals.waste_area += area,
                None => {}
            }
        }
    }
    let accounted = totals.piece_area + totals.offcut_area + totals.waste_area;
    totals.blade_area = totals.sheet_area - accounted;
    totals
}

fn proof(job: &Job, task: &Task, answer: &Answer) -> Proof {
    let units = &task.units;
    Proof {
        papers: task.papers.clone(),
        price_unit: units.price,
        unit: units.worth.as_ref().and_then(Ratio::terms),
        spend: level(job, task, &answer.spend, false, |value| units.money(value)),
        stock: level(job, task, &answer.stock, true, Worth::from_units),
    }
}

fn level<Amount>(
    job: &Job,
    task: &Task,
    proven: &Proven,
    budget: bool,
    amount: impl Fn(i64) -> Amount,
) -> Level<Amount> {
    let program::Certificate { scale, pieces, sheets, budget: value, .. } = &proven.certificate;
    let pieces = task.items.iter().zip(pieces);
    let sheets = task.supplies.iter().zip(sheets);
    let piece_id = |piece: usize| job.bill.pieces[piece].id.clone();
    let sheet_id = |sheet: usize| job.stock.sheets[sheet].id.clone();
    Level {
        value: amount(proven.value),
        bound: amount(proven.bound),
        status: if proven.value == proven.bound { Status::Optimal } else { Status::Gap },
        complete_search: proven.complete_search,
        certificate: Certificate {
            scale: *scale,
            piece_values: pieces.map(|(item, &value)| (piece_id(item.piece), value)).collect(),
            sheet_values: sheets
                .filter(|(_, value)| **value != 0)
                .map(|(supply, &value)| (sheet_id(supply.sheet), value))
                .collect(),
            budget_value: budget.then_some(*value),
        },
    }
}
