//! All that follows from the runs of a plan: what was asked for, what is used, the sums, and proofs that prove nothing.

use super::{Made, Maker, leaves};
use cardwright::cuts::Tree;
use cardwright::measure::{Length, Money, Ratio, Size, Worth};
use cardwright::orders::Turn;
use cardwright::pieces::Bill;
use cardwright::plan::{
    Certificate, Content, Leaf, Level, Plan, PlannedPiece, Proof, Run, SCHEMA, Status, Totals,
    UsedSheet,
};
use cardwright::stock::{Counting, Prices, rounded};

impl Maker {
    /// The plan of what was cut.
    pub fn finish(mut self) -> Made {
        for (index, piece) in self.pieces.iter_mut().enumerate() {
            let cut = self.cut[&index];
            let surplus = if cut > 1 { self.choices.below(2) as u64 } else { 0 };
            let spares = self.choices.below((cut - surplus) as usize) as u64;
            piece.shares[0].spares = spares;
            piece.shares[0].need = cut - surplus - spares;
        }
        let sheets = self.sheets();
        let plan = Plan {
            supplies: Vec::new(),
            schema: SCHEMA.to_owned(),
            ticks_per_mm: Length::TICKS_PER_MM,
            order: "spring".to_owned(),
            currency: "USD".to_owned(),
            pieces: self.planned(),
            totals: self.totals(&sheets),
            proof: self.proof(&sheets),
            sheets,
            runs: self.runs,
            offcuts: self.offcuts,
        };
        let bill = Bill::of_pieces(self.pieces);
        Made { plan, bill, stock: self.stock, workshop: self.workshop }
    }

    fn planned(&self) -> Vec<PlannedPiece> {
        let planned = self.pieces.iter().enumerate().map(|(index, piece)| PlannedPiece {
            id: piece.id.clone(),
            line: piece.shares[0].line.clone(),
            part: piece.part,
            papers: piece.papers.clone(),
            width: piece.size.width,
            height: piece.size.height,
            turn: piece.turn.unwrap_or(Turn::Free),
            fold: piece.grain_along,
            need: piece.need(),
            spares: piece.spares(),
            done: 0,
            spoiled: 0,
            cut: self.cut[&index],
            scores: piece.scores.clone(),
        });
        planned.collect()
    }

    fn sheets(&self) -> Vec<UsedSheet> {
        let prices = Prices::of(&self.stock, &self.workshop);
        let groups = self.groups();
        let mut used: Vec<UsedSheet> = Vec::new();
        for sheet in &self.stock.sheets {
            let runs = self.runs.iter().filter(|run| run.sheet == sheet.id);
            let count: u64 = runs.map(|run| run.count).sum();
            if count == 0 {
                continue;
            }
            let own = groups.iter().find(|papers| papers.contains(&sheet.paper.as_str()));
            let value = own.map(|own| counting(self, own, &prices).count(sheet));
            let value = value.unwrap_or_default();
            used.push(UsedSheet {
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
                used: count,
                packs_bought: count.saturating_sub(sheet.on_hand).div_ceil(sheet.pack),
                pack: sheet.pack,
                price: sheet.price,
                value,
            });
        }
        used.sort_by(|one, other| one.id.cmp(&other.id));
        used
    }

    fn totals(&self, sheets: &[UsedSheet]) -> Totals {
        let is_cut = |run: &Run| run.layout.cut().is_some();
        let gauge_settings = u64::from(self.runs.iter().any(is_cut));
        let mut totals =
            Totals { runs: self.runs.len() as u64, gauge_settings, ..Totals::default() };
        totals.spend = costs(sheets.iter()).0;
        let prices = Prices::of(&self.stock, &self.workshop);
        let known = |id: &str| self.stock.sheets.iter().find(|sheet| sheet.id == id).unwrap();
        let worth =
            sheets.iter().map(|used| &prices.sheet(known(&used.id)) * i128::from(used.used));
        totals.stock = rounded(&worth.sum());
        let kept = self.offcuts.iter().map(|offcut| {
            let size = Size::new(offcut.width, offcut.height);
            &prices.offcut(size, &offcut.paper) * i128::from(offcut.count)
        });
        totals.kept = rounded(&kept.sum());
        for run in &self.runs {
            totals.sheets_used += run.count;
            totals.sheet_area += run.layout.size.area() * run.count;
            leaves(&run.layout, &mut |node| {
                let area = node.size.area() * run.count;
                match node.content {
                    Content::Leaf(Leaf::Piece(..)) => totals.piece_area += area,
                    Content::Leaf(Leaf::Offcut(_)) => totals.offcut_area += area,
                    _ => totals.waste_area += area,
                }
            });
        }
        let rest = totals.piece_area + totals.offcut_area + totals.waste_area;
        totals.blade_area = totals.sheet_area - rest;
        totals
    }

    /// Both papers together where a piece joins them.
    fn groups(&self) -> Vec<Vec<&'static str>> {
        let asked = |paper: &str| {
            self.pieces.iter().any(|piece| piece.papers.iter().any(|other| other == paper))
        };
        let papers: Vec<&str> = ["fern", "moss"].into_iter().filter(|paper| asked(paper)).collect();
        let joined = self.pieces.iter().any(|piece| piece.papers.len() > 1);
        if joined { vec![papers] } else { papers.iter().map(|paper| vec![*paper]).collect() }
    }

    /// One proof for each group.
    fn proof(&self, sheets: &[UsedSheet]) -> Vec<Proof> {
        let prices = Prices::of(&self.stock, &self.workshop);
        let groups = self.groups();
        let all = groups.iter().map(|papers| {
            let units = counting(self, papers, &prices).units();
            let unit = units.worth.as_ref().and_then(Ratio::terms);
            Proof { price_unit: units.price, unit, ..proof(papers, sheets) }
        });
        all.collect()
    }
}

/// How the sheets of some papers count.
fn counting<'a>(maker: &Maker, papers: &[&str], prices: &'a Prices<'a>) -> Counting<'a> {
    Counting::of(|paper| papers.contains(&paper), &maker.stock, prices, &maker.workshop)
}

fn costs<'a>(sheets: impl Iterator<Item = &'a UsedSheet>) -> (Money, i64) {
    sheets.fold((Money::ZERO, 0), |(spend, stock), sheet| {
        let price = sheet.price.unwrap_or(Money::ZERO);
        (spend + price * sheet.packs_bought, stock + sheet.value.units() * sheet.used as i64)
    })
}

/// A proof that proves nothing, which is always right.
fn proof(papers: &[&str], sheets: &[UsedSheet]) -> Proof {
    let (spend, stock) =
        costs(sheets.iter().filter(|sheet| papers.contains(&sheet.paper.as_str())));
    Proof {
        papers: papers.iter().map(|paper| (*paper).to_owned()).collect(),
        price_unit: Money::from_minor(1),
        unit: None,
        spend: level(spend, None),
        stock: level(Worth::from_units(stock), Some(0)),
    }
}

fn level<Amount: Default + PartialEq>(value: Amount, budget_value: Option<i64>) -> Level<Amount> {
    let nothing = Amount::default();
    let status = if value == nothing { Status::Optimal } else { Status::Gap };
    let certificate = Certificate { scale: 1, budget_value, ..Certificate::default() };
    Level { value, bound: nothing, status, complete_search: false, certificate }
}
