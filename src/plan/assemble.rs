//! From the counts of the program to a plan: cut trees on whole sheets, offcuts, sums and proofs.

use super::drawing::{Drawing, OffcutNames};
use super::improve::{Gains, Handling, improved};
use super::{
    Certificate, Leaf, Level, Plan, PlannedPiece, Proof, Run, SCHEMA, Status, Totals, UsedSheet,
};
use crate::cuts::Tree;
use crate::measure::{Area, Length, Money, Ratio, Size, Worth};
use crate::pieces::{Bill, Piece, planned_turn};
use crate::program::{self, Answer, Proven, Task};
use crate::stock::{Prices, Sheet, SheetKind, Stock, rounded};
use crate::workshop::Workshop;
use std::collections::{BTreeMap, BTreeSet};

/// What a plan is made from.
#[derive(Clone, Copy, Debug)]
pub struct Ground<'a> {
    /// Name of the batch.
    pub order: &'a str,
    /// The pieces.
    pub bill: &'a Bill,
    /// The paper.
    pub stock: &'a Stock,
    /// The bench.
    pub workshop: &'a Workshop,
}

/// The plan that the answers to the tasks make, improved on levels 3 and 4, and what that gained.
/// `totals.gauge_settings` is left at 0: only the schedule knows it.
pub fn assemble(ground: Ground, solved: &[(Task, Answer)], handling: Handling) -> (Plan, Gains) {
    let (sheaves, gains) = improved(ground, solved, handling);
    let mut names = OffcutNames::new(ground);
    let mut runs = Vec::new();
    let mut offcuts = Vec::new();
    for (number, sheaf) in sheaves.iter().enumerate() {
        let id = format!("R{}", number + 1);
        let mut drawing = Drawing::new(ground, sheaf, &id, &mut names);
        let layout = drawing.sheet();
        offcuts.append(&mut drawing.kept);
        let sheet = ground.stock.sheets[sheaf.sheet].id.clone();
        runs.push(Run { id, sheet, count: sheaf.count, layout });
    }
    offcuts.sort_by(|a, b| a.id.cmp(&b.id));
    let mut plan = Plan {
        schema: SCHEMA.to_owned(),
        ticks_per_mm: Length::TICKS_PER_MM,
        order: ground.order.to_owned(),
        currency: ground.workshop.currency.code().to_owned(),
        pieces: planned_pieces(ground, &runs),
        sheets: used_sheets(ground, &runs, &counts(solved)),
        runs,
        offcuts,
        totals: Totals::default(),
        proof: solved.iter().map(|(task, answer)| proof(ground, task, answer)).collect(),
    };
    plan.totals = totals(ground, &plan);
    (plan, gains)
}

fn planned_pieces(ground: Ground, runs: &[Run]) -> Vec<PlannedPiece> {
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
        turn: planned_turn(piece, ground.stock),
        fold: piece.fold_along,
        need: piece.need(),
        spares: piece.spares(),
        cut: cut.get(piece.id.as_str()).copied().unwrap_or(0),
        scores: piece.scores.clone(),
    };
    let mut pieces: Vec<PlannedPiece> = ground.bill.pieces.iter().map(planned).collect();
    pieces.sort_by(|a, b| a.id.cmp(&b.id));
    pieces
}

/// What a sheet counts in its group of papers, by its index in the stock.
fn counts(solved: &[(Task, Answer)]) -> BTreeMap<usize, Worth> {
    let supplies = solved.iter().flat_map(|(task, _)| &task.supplies);
    supplies.map(|supply| (supply.sheet, Worth::from_units(supply.value))).collect()
}

fn used_sheets(ground: Ground, runs: &[Run], counts: &BTreeMap<usize, Worth>) -> Vec<UsedSheet> {
    let mut sheets = Vec::new();
    for (at, sheet) in ground.stock.sheets.iter().enumerate() {
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
            rough_edges: rough_edges(sheet, ground.workshop),
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

/// Full sheets are squared all round where the bench squares at all; offcuts were, before they were kept.
fn rough_edges(sheet: &Sheet, workshop: &Workshop) -> u8 {
    let squared = sheet.kind == SheetKind::Sheet && workshop.trimmer.squaring.is_positive();
    if squared { 4 } else { 0 }
}

fn totals(ground: Ground, plan: &Plan) -> Totals {
    let mut totals = Totals { runs: plan.runs.len() as u64, ..Totals::default() };
    for sheet in &plan.sheets {
        totals.spend += sheet.price.unwrap_or(Money::ZERO) * sheet.packs_bought;
        totals.sheets_used += sheet.used;
        totals.sheet_area += Size::new(sheet.width, sheet.height).area() * sheet.used;
    }
    let prices = Prices::of(ground.stock, ground.workshop);
    totals.stock = rounded(&worth_used(plan, ground.stock, &prices));
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

fn proof(ground: Ground, task: &Task, answer: &Answer) -> Proof {
    let units = &task.units;
    Proof {
        papers: task.papers.clone(),
        price_unit: units.price,
        unit: units.worth.as_ref().and_then(Ratio::terms),
        spend: level(ground, task, &answer.spend, false, |value| units.money(value)),
        stock: level(ground, task, &answer.stock, true, Worth::from_units),
    }
}

fn level<Amount>(
    ground: Ground,
    task: &Task,
    proven: &Proven,
    budget: bool,
    amount: impl Fn(i64) -> Amount,
) -> Level<Amount> {
    let program::Certificate { scale, pieces, sheets, budget: value, .. } = &proven.certificate;
    let pieces = task.items.iter().zip(pieces);
    let sheets = task.supplies.iter().zip(sheets);
    let piece_id = |piece: usize| ground.bill.pieces[piece].id.clone();
    let sheet_id = |sheet: usize| ground.stock.sheets[sheet].id.clone();
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
