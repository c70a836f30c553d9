//! The lists of pieces, sheets and offcuts: against the bill, the stock and what the runs yield.

use super::facts::SheetFacts;
use super::layout::Cuts;
use super::{Evidence, Fault, first};
use crate::folds::Score;
use crate::job::Job;
use crate::measure::{Ratio, Size};
use crate::orders::Turn;
use crate::pieces::{Piece, Share};
use crate::plan::{FIRST_SCHEMA, KeptOffcut, Plan, PlannedPiece, UsedSheet};
use crate::stock::{Back, Print, Sheet, SheetKind, Stock};

/// Checks all three lists.
pub(super) fn check(plan: &Plan, bench: Evidence, cuts: &Cuts, faults: &mut Vec<Fault>) {
    if let Some(job) = bench.facts.job {
        if plan.order != job.order.name {
            let (found, expected) = (plan.order.clone(), job.order.name.clone());
            faults.push(Fault::Order { found, expected });
        }
        against_bill(plan, job, faults);
    }
    for piece in &plan.pieces {
        piece_counts(piece, cuts, faults);
        score_lines(piece, faults);
    }
    for sheet in &plan.sheets {
        match bench.facts.sheets.get(sheet.id.as_str()) {
            Some(facts) => {
                against_stock(sheet, facts, faults);
                value(sheet, plan, bench, faults);
                if plan.schema != FIRST_SCHEMA {
                    recorded(sheet, facts, faults);
                }
            }
            None => faults.push(Fault::SheetUnknown { sheet: sheet.id.clone() }),
        }
        sheet_counts(sheet, cuts, faults);
    }
    for offcut in &plan.offcuts {
        offcut_counts(offcut, bench, cuts, faults);
    }
}

fn against_bill(plan: &Plan, job: &Job, faults: &mut Vec<Fault>) {
    let Job { bill, stock, .. } = job;
    let records = plan.schema != FIRST_SCHEMA;
    for piece in &bill.pieces {
        match plan.pieces.iter().find(|planned| planned.id == piece.id) {
            None => faults.push(Fault::PieceMissing { piece: piece.id.clone() }),
            Some(planned) => {
                let mut differences = differences(planned, piece, stock);
                differences
                    .extend((records && planned.fold != piece.grain_along).then_some("fold"));
                faults.extend(differences.into_iter().map(|field| {
                    let piece = piece.id.clone();
                    Fault::PieceDiffers { piece, field }
                }));
            }
        }
    }
    let asked = |planned: &&PlannedPiece| bill.pieces.iter().any(|piece| piece.id == planned.id);
    for planned in plan.pieces.iter().filter(|planned| !asked(planned)) {
        faults.push(Fault::PieceUnknown { piece: planned.id.clone() });
    }
}

fn differences(planned: &PlannedPiece, piece: &Piece, stock: &Stock) -> Vec<&'static str> {
    let lines: Vec<&str> = piece.shares.iter().map(|share| share.line.as_str()).collect();
    let mut papers = piece.papers.clone();
    papers.sort();
    let sum = |count: fn(&Share) -> u64| piece.shares.iter().map(count).sum::<u64>();
    let fields = [
        ("line", planned.line == lines.join("+")),
        ("part", planned.part == piece.part),
        ("papers", planned.papers == papers),
        ("width", planned.width == piece.size.width),
        ("height", planned.height == piece.size.height),
        ("turn", planned.turn == freest(piece, stock)),
        ("need", planned.need == sum(|share| share.need)),
        ("spares", planned.spares == sum(|share| share.spares)),
        ("done", planned.done == piece.done.good),
        ("spoiled", planned.spoiled == piece.done.spoiled),
        ("scores", planned.scores == piece.scores),
    ];
    fields.into_iter().filter(|(_, agrees)| !agrees).map(|(field, _)| field).collect()
}

/// How a piece may lie: as its line says, else as the freest print of its papers' sheets allows.
fn freest(piece: &Piece, stock: &Stock) -> Turn {
    let sheets = || stock.sheets.iter().filter(|sheet| piece.papers.contains(&sheet.paper));
    let has = |turn: Turn| sheets().any(|sheet| allowed(piece, sheet) == turn);
    match piece.turn {
        Some(turn) => turn,
        None if has(Turn::Free) => Turn::Free,
        None if has(Turn::Half) => Turn::Half,
        None if has(Turn::None) => Turn::None,
        None => Turn::Free,
    }
}

/// What the prints of a sheet allow: the face's, and the back's where both faces of the piece are seen.
fn allowed(piece: &Piece, sheet: &Sheet) -> Turn {
    let two_faced = piece.shows_both_faces();
    match (sheet.print, sheet.back) {
        (Print::OneWay, _) => Turn::None,
        (_, Back::OneWay | Back::Tumbled) if two_faced => Turn::None,
        (Print::TwoWay, _) => Turn::Half,
        (_, Back::TwoWay) if two_faced => Turn::Half,
        (Print::Free, _) => Turn::Free,
    }
}

fn piece_counts(piece: &PlannedPiece, cuts: &Cuts, faults: &mut Vec<Fault>) {
    let found = cuts.pieces.get(piece.id.as_str()).copied().unwrap_or(0);
    let name = || piece.id.clone();
    if found != i128::from(piece.cut) {
        faults.push(Fault::PieceCount { piece: name(), said: piece.cut, found });
    }
    let needed = needed([piece.need, piece.spares, piece.done, piece.spoiled]);
    if found < i128::from(needed) {
        faults.push(Fault::PieceShort { piece: name(), needed, found });
    }
}

/// Pieces that have to be cut, from those ordered, spares, good ones of before and spoiled ones: the most of what is left of
/// the order, and of the order and its spares once the spoiled ones are off.
pub(super) fn needed([need, spares, done, spoiled]: [u64; 4]) -> u64 {
    let left = |all: u64, off: u64| all.saturating_sub(off);
    left(need, done).max(left(need + spares, done + spoiled))
}

/// Every score line runs across its piece.
fn score_lines(piece: &PlannedPiece, faults: &mut Vec<Fault>) {
    let size = Size::new(piece.width, piece.height);
    let crosses = |score: &Score| score.at.is_positive() && score.at < size.along(score.across);
    if !piece.scores.iter().all(crosses) {
        faults.push(Fault::ScoreOutside { piece: piece.id.clone() });
    }
}

fn against_stock(sheet: &UsedSheet, facts: &SheetFacts, faults: &mut Vec<Fault>) {
    let price = sheet.price.map(|price| price.minor());
    let fields = [
        ("kind", sheet.kind == facts.kind),
        ("paper", sheet.paper == facts.paper),
        ("width", sheet.width == facts.size.width),
        ("height", sheet.height == facts.size.height),
        ("on_hand", sheet.on_hand == facts.on_hand),
        ("pack", sheet.pack == facts.pack),
        ("price", price == facts.price),
    ];
    for (field, _) in fields.into_iter().filter(|(_, agrees)| !agrees) {
        faults.push(Fault::SheetDiffers { sheet: sheet.id.clone(), field });
    }
}

/// What a sheet counts. Without the stock nobody knows the paper's cheapest price: then only full sheets with a price
/// can be judged, by the unit that the plan records.
fn value(sheet: &UsedSheet, plan: &Plan, bench: Evidence, faults: &mut Vec<Fault>) {
    let Some(group) = bench.facts.group(&sheet.paper) else {
        return faults.push(Fault::SheetOutside { sheet: sheet.id.clone() });
    };
    let known = bench.facts.sheets.get(sheet.id.as_str()).filter(|_| bench.facts.job.is_some());
    let price = sheet.price.filter(|_| sheet.kind == SheetKind::Sheet).map(|price| price.minor());
    let found = match (known, price, &group.unit) {
        (Some(facts), ..) => facts.value,
        (None, Some(price), _) if plan.schema == FIRST_SCHEMA => {
            first::nearest(price.into(), sheet.pack.into())
        }
        (None, Some(price), Some(unit)) if price > 0 => {
            (&Ratio::new(price.into(), sheet.pack.into()) / unit).floor().max(1)
        }
        _ => return,
    };
    let said = sheet.value.units();
    if found != i128::from(said) {
        faults.push(Fault::SheetValue { sheet: sheet.id.clone(), said, found });
    }
}

/// How a sheet lets pieces lie, as the plan records it.
fn recorded(sheet: &UsedSheet, facts: &SheetFacts, faults: &mut Vec<Fault>) {
    let fields = [
        ("grain", sheet.grain == facts.grain),
        ("print", sheet.print == facts.print),
        ("back", sheet.back == facts.back),
        ("rough_edges", sheet.rough_edges == facts.rough_edges),
    ];
    for (field, _) in fields.into_iter().filter(|(_, agrees)| !agrees) {
        faults.push(Fault::SheetDiffers { sheet: sheet.id.clone(), field });
    }
}

fn sheet_counts(sheet: &UsedSheet, cuts: &Cuts, faults: &mut Vec<Fault>) {
    let name = || sheet.id.clone();
    let found = cuts.sheets.get(sheet.id.as_str()).copied().unwrap_or(0);
    if found != i128::from(sheet.used) {
        faults.push(Fault::SheetCount { sheet: name(), said: sheet.used, found });
    }
    if sheet.used == 0 && sheet.packs_bought == 0 {
        faults.push(Fault::SheetIdle { sheet: name() });
    }
    let (pack, bought) = (i128::from(sheet.pack), i128::from(sheet.packs_bought));
    let had = i128::from(sheet.on_hand) + pack * bought;
    if i128::from(sheet.used) > had {
        faults.push(Fault::SheetShort { sheet: name(), used: sheet.used, had });
    }
    if sheet.price.is_none() && bought > 0 {
        faults.push(Fault::NotForSale { sheet: name() });
    }
    let missing = (i128::from(sheet.used) - i128::from(sheet.on_hand)).max(0);
    let needed = (missing + pack - 1) / pack;
    if bought != needed {
        faults.push(Fault::Packs { sheet: name(), said: sheet.packs_bought, needed });
    }
}

fn offcut_counts(offcut: &KeptOffcut, bench: Evidence, cuts: &Cuts, faults: &mut Vec<Fault>) {
    let found = cuts.offcuts.get(offcut.id.as_str()).copied().unwrap_or(0);
    let name = || offcut.id.clone();
    if found != i128::from(offcut.count) || found == 0 {
        faults.push(Fault::OffcutCount { offcut: name(), said: offcut.count, found });
    }
    let leave = cuts.offcut_runs.get(offcut.id.as_str()).map_or(&[][..], Vec::as_slice);
    if !offcut.runs().eq(leave.iter().copied()) {
        let run = offcut.run.clone();
        faults.push(Fault::OffcutDiffers { run, offcut: name(), field: "run" });
    }
    let keep = &bench.workshop.keep;
    let size = Size::new(offcut.width, offcut.height);
    if size.short() < keep.short || size.long() < keep.long {
        faults.push(Fault::OffcutTooSmall { offcut: name() });
    }
}
