//! From the counts of the program to a plan: cut trees on whole sheets, offcuts, sums and proofs.

use super::edges::with_edges;
use super::surplus::{Sheaf, leave_surplus};
use super::tidy::{Trimming, tidy};
use super::{
    Certificate, Content, KeptOffcut, Level, Node, Plan, PlannedPiece, Proof, Run, SCHEMA, Status,
    Totals, UsedSheet,
};
use crate::measure::{Area, Axis, Length, Money, Size};
use crate::patterns::{self, Layout};
use crate::pieces::{Bill, Piece, planned_turn};
use crate::program::{self, Answer, Proven, Task, usable};
use crate::stock::{Sheet, Stock, offcut_value, values};
use crate::workshop::Workshop;
use std::collections::{BTreeMap, BTreeSet};

/// What a plan is made from.
#[derive(Clone, Copy)]
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

/// The plan that the answers to the tasks make. `totals.gauge_settings` is left at 0: only the
/// schedule knows it.
pub fn assemble(ground: Ground, solved: &[(Task, Answer)]) -> Plan {
    let mut sheaves: Vec<Sheaf> =
        solved.iter().flat_map(|(task, answer)| sheaves(ground, task, answer)).collect();
    let id = |sheaf: &Sheaf| &ground.stock.sheets[sheaf.sheet].id;
    sheaves.sort_by(|a, b| (id(a), b.count).cmp(&(id(b), a.count)));
    let mut names = OffcutNames::new(ground);
    let mut runs = Vec::new();
    let mut offcuts = Vec::new();
    for (number, sheaf) in sheaves.iter().enumerate() {
        let id = format!("R{}", number + 1);
        let mut drawing = Drawing { ground, sheaf, run: &id, names: &mut names, kept: Vec::new() };
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
        sheets: used_sheets(ground, &runs),
        runs,
        offcuts,
        totals: Totals::default(),
        proof: solved.iter().map(|(task, answer)| proof(ground, task, answer)).collect(),
    };
    plan.totals = totals(ground, &plan);
    plan
}

/// The patterns of one answer, surplus places left uncut where that keeps more, shapes numbered as in
/// the bill.
fn sheaves(ground: Ground, task: &Task, answer: &Answer) -> Vec<Sheaf> {
    let trimmer = &ground.workshop.trimmer;
    let trimming = Trimming { blade: trimmer.blade, hold: trimmer.smallest_hold };
    let sheaves = answer.runs.iter().map(|(supply, layout, count)| Sheaf {
        sheet: task.supplies[*supply].sheet,
        layout: tidy(layout.as_ref().clone(), trimming),
        count: *count,
    });
    let wanted: Vec<u64> = task.items.iter().map(|item| item.demand).collect();
    let keep = &ground.workshop.keep;
    let worth =
        |sheet: usize, size: Size| match size.short() >= keep.short && size.long() >= keep.long {
            true => {
                let paper = &ground.stock.sheets[sheet].paper;
                offcut_value(size, paper, ground.stock, ground.workshop).minor()
            }
            false => 0,
        };
    let left = leave_surplus(sheaves.collect(), &wanted, (trimming, &worth));
    let renumbered = left.into_iter().map(|mut sheaf| {
        renumber(&mut sheaf.layout, task);
        sheaf
    });
    renumbered.collect()
}

fn renumber(layout: &mut Layout, task: &Task) {
    match &mut layout.content {
        patterns::Content::Piece(shape, _) => *shape = task.items[*shape].piece,
        patterns::Content::Remnant => {}
        patterns::Content::CutX(_, near, far) | patterns::Content::CutY(_, near, far) => {
            renumber(near, task);
            renumber(far, task);
        }
    }
}

/// Names for new offcuts that neither the shelf nor this plan has yet.
struct OffcutNames<'a> {
    order: &'a str,
    taken: BTreeSet<&'a str>,
    next: BTreeMap<String, u32>,
}

impl<'a> OffcutNames<'a> {
    fn new(ground: Ground<'a>) -> OffcutNames<'a> {
        let taken = ground.stock.sheets.iter().map(|sheet| sheet.id.as_str()).collect();
        OffcutNames { order: ground.order, taken, next: BTreeMap::new() }
    }

    fn name(&mut self, paper: &str) -> String {
        let number = self.next.entry(paper.to_owned()).or_insert(0);
        loop {
            *number += 1;
            let name = format!("{paper}-{}-{number:02}", self.order);
            if !self.taken.contains(name.as_str()) {
                return name;
            }
        }
    }
}

/// Draws the layout of one run on the whole sheet.
struct Drawing<'a, 'b> {
    ground: Ground<'a>,
    sheaf: &'b Sheaf,
    run: &'b str,
    names: &'b mut OffcutNames<'a>,
    kept: Vec<KeptOffcut>,
}

/// Where a rectangle begins.
type Corner = (Length, Length);

impl Drawing<'_, '_> {
    fn paper(&self) -> &Sheet {
        &self.ground.stock.sheets[self.sheaf.sheet]
    }

    /// The whole sheet: a full one is squared on all four edges first.
    fn sheet(&mut self) -> Node {
        let sheet = self.paper();
        let (whole, inner) = (sheet.size, usable(sheet, self.ground.workshop));
        let sheaf = self.sheaf;
        if whole == inner {
            return self.node(&sheaf.layout, (Length::ZERO, Length::ZERO));
        }
        let trimmer = &self.ground.workshop.trimmer;
        let first = trimmer.squares_first(whole).unwrap_or(Axis::Width);
        let core = self.node(&sheaf.layout, (trimmer.squaring, trimmer.squaring));
        with_edges(with_edges(core, first.other(), trimmer), first, trimmer)
    }

    fn node(&mut self, layout: &Layout, (x, y): Corner) -> Node {
        let size = layout.size;
        let blade = self.ground.workshop.trimmer.blade;
        let content = match &layout.content {
            patterns::Content::Piece(piece, turned) => {
                Content::Piece(self.ground.bill.pieces[*piece].id.clone(), *turned)
            }
            patterns::Content::Remnant => self.remnant(size),
            patterns::Content::CutX(at, near, far) => {
                // A trim that falls entirely under the blade leaves nothing, at the far edge.
                let start = x + (*at + blade).min(size.width);
                let parts = [self.node(near, (x, y)), self.node(far, (start, y))];
                Content::CutX(x + *at, Box::new(parts))
            }
            patterns::Content::CutY(at, near, far) => {
                let start = y + (*at + blade).min(size.height);
                let parts = [self.node(near, (x, y)), self.node(far, (x, start))];
                Content::CutY(y + *at, Box::new(parts))
            }
        };
        Node { x, y, size, content }
    }

    /// A remnant that reaches the keep rule goes back in the drawer; equal ones of a run together.
    fn remnant(&mut self, size: Size) -> Content {
        let keep = &self.ground.workshop.keep;
        if size.short() < keep.short || size.long() < keep.long || !size.is_positive() {
            return Content::Waste;
        }
        let sheets = self.sheaf.count;
        let same = |kept: &&mut KeptOffcut| (kept.width, kept.height) == (size.width, size.height);
        if let Some(kept) = self.kept.iter_mut().find(same) {
            kept.count += sheets;
            return Content::Offcut(kept.id.clone());
        }
        let paper = self.paper().paper.clone();
        let id = self.names.name(&paper);
        self.kept.push(KeptOffcut {
            id: id.clone(),
            paper,
            width: size.width,
            height: size.height,
            count: sheets,
            run: self.run.to_owned(),
        });
        Content::Offcut(id)
    }
}

fn planned_pieces(ground: Ground, runs: &[Run]) -> Vec<PlannedPiece> {
    let mut cut: BTreeMap<&str, u64> = BTreeMap::new();
    for run in runs {
        run.layout.visit(&mut |node| {
            if let Content::Piece(id, _) = &node.content {
                *cut.entry(id).or_insert(0) += run.count;
            }
        });
    }
    let planned = |piece: &Piece| PlannedPiece {
        id: piece.id.clone(),
        line: piece.shares.iter().map(|share| share.line.as_str()).collect::<Vec<_>>().join("+"),
        part: piece.part,
        papers: piece.papers.iter().cloned().collect::<BTreeSet<_>>().into_iter().collect(),
        width: piece.size.width,
        height: piece.size.height,
        turn: planned_turn(piece, ground.stock),
        need: piece.need(),
        spares: piece.spares(),
        cut: cut.get(piece.id.as_str()).copied().unwrap_or(0),
        scores: piece.scores.clone(),
    };
    let mut pieces: Vec<PlannedPiece> = ground.bill.pieces.iter().map(planned).collect();
    pieces.sort_by(|a, b| a.id.cmp(&b.id));
    pieces
}

fn used_sheets(ground: Ground, runs: &[Run]) -> Vec<UsedSheet> {
    let values = values(ground.stock, ground.workshop);
    let mut sheets = Vec::new();
    for (sheet, value) in ground.stock.sheets.iter().zip(values) {
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
            on_hand: sheet.on_hand,
            used,
            packs_bought: used.saturating_sub(sheet.on_hand).div_ceil(sheet.pack),
            pack: sheet.pack,
            price: sheet.price,
            value,
        });
    }
    sheets.sort_by(|a, b| a.id.cmp(&b.id));
    sheets
}

fn totals(ground: Ground, plan: &Plan) -> Totals {
    let mut totals = Totals { runs: plan.runs.len() as u64, ..Totals::default() };
    for sheet in &plan.sheets {
        totals.spend += sheet.price.unwrap_or(Money::ZERO) * sheet.packs_bought;
        totals.stock += sheet.value * sheet.used;
        totals.sheets_used += sheet.used;
        totals.sheet_area += Size::new(sheet.width, sheet.height).area() * sheet.used;
    }
    for offcut in &plan.offcuts {
        let size = Size::new(offcut.width, offcut.height);
        let value = offcut_value(size, &offcut.paper, ground.stock, ground.workshop);
        totals.kept += value * offcut.count;
    }
    for run in &plan.runs {
        run.layout.visit(&mut |node| {
            let area: Area = node.size.area() * run.count;
            match node.content {
                Content::Piece(..) => totals.piece_area += area,
                Content::Offcut(_) => totals.offcut_area += area,
                Content::Waste => totals.waste_area += area,
                Content::CutX(..) | Content::CutY(..) => {}
            }
        });
    }
    let accounted = totals.piece_area + totals.offcut_area + totals.waste_area;
    totals.blade_area = totals.sheet_area - accounted;
    totals
}

fn proof(ground: Ground, task: &Task, answer: &Answer) -> Proof {
    Proof {
        papers: task.papers.clone(),
        spend: level(ground, task, &answer.spend, false),
        stock: level(ground, task, &answer.stock, true),
    }
}

fn level(ground: Ground, task: &Task, proven: &Proven, budget: bool) -> Level {
    let program::Certificate { scale, pieces, sheets, budget: value, .. } = &proven.certificate;
    let pieces = task.items.iter().zip(pieces);
    let sheets = task.supplies.iter().zip(sheets);
    let piece_id = |piece: usize| ground.bill.pieces[piece].id.clone();
    let sheet_id = |sheet: usize| ground.stock.sheets[sheet].id.clone();
    Level {
        value: Money::from_minor(proven.value),
        bound: Money::from_minor(proven.bound),
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
