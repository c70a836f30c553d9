//! What is true of pieces and sheets, whatever the plan says: from the bill and the stock, or, where
//! there are none, from the plan's own lists.

use super::first;
use super::lists::needed;
use super::units::GroupUnits;
use super::worth::Offers;
use crate::job::Job;
use crate::measure::{Axis, Ratio, Size};
use crate::orders::Turn;
use crate::plan::{FIRST_SCHEMA, Plan, Proof};
use crate::stock::{Back, Print, RoughEdges, Sheet, SheetKind};
use crate::workshop::GrainRule;
use std::collections::{BTreeMap, BTreeSet};

/// All facts, by id.
pub(super) struct Facts<'a> {
    pub pieces: BTreeMap<&'a str, PieceFacts<'a>>,
    pub sheets: BTreeMap<&'a str, SheetFacts<'a>>,
    pub groups: Vec<PaperGroup<'a>>,
    /// The bill and the stock, where they are at hand.
    pub job: Option<&'a Job>,
    /// What the stock asks for its papers, where it is at hand.
    pub offers: Option<Offers<'a>>,
    /// Whether it is known how sheets let pieces lie.
    pub knows_sheets: bool,
}

/// Papers that pieces join, and what whole numbers stand for there.
pub(super) struct PaperGroup<'a> {
    pub papers: BTreeSet<&'a str>,
    /// Minor units to a unit of price.
    pub price_unit: i64,
    /// Minor units to a unit of worth; `None` where area counts.
    pub unit: Option<Ratio>,
}

/// What is true of a piece.
pub(super) struct PieceFacts<'a> {
    pub papers: Vec<&'a str>,
    pub size: Size,
    /// Pieces that have to be cut.
    pub needed: u64,
    turn: Option<Turn>,
    /// Whether both its faces are seen, or may be.
    two_faced: bool,
    pub fold: Option<Axis>,
}

/// What is true of a sheet.
pub(super) struct SheetFacts<'a> {
    pub kind: SheetKind,
    pub paper: &'a str,
    pub size: Size,
    pub on_hand: u64,
    pub pack: u64,
    /// Price of a pack, in minor units.
    pub price: Option<i64>,
    /// Value of one sheet, in units of the worth of its group.
    pub value: i128,
    /// What it is worth, in minor units, where the stock is known.
    pub worth: Option<Ratio>,
    pub print: Print,
    pub back: Back,
    pub grain: Option<Axis>,
    /// Which of its edges are rough.
    pub rough_edges: RoughEdges,
}

impl SheetFacts<'_> {
    /// How the designs of both faces may lie.
    pub fn prints(&self) -> (Print, Back) {
        (self.print, self.back)
    }
}

impl<'a> Facts<'a> {
    pub fn from_job(job: &'a Job, plan: &Plan) -> Facts<'a> {
        let is_first = plan.schema == FIRST_SCHEMA;
        let pieces = job.bill.pieces.iter().map(|piece| {
            let facts = PieceFacts {
                papers: piece.papers.iter().map(String::as_str).collect(),
                size: piece.size,
                needed: needed([piece.need(), piece.spares(), piece.done.good, piece.done.spoiled]),
                turn: piece.turn,
                two_faced: piece.shows_both_faces(),
                fold: piece.grain_along,
            };
            (piece.id.as_str(), facts)
        });
        let pieces: BTreeMap<&str, PieceFacts> = pieces.collect();
        let offers = Offers::of(job);
        let units = |papers: BTreeSet<&'a str>| {
            let units = GroupUnits::of(&papers, job, &offers);
            (papers, units)
        };
        let groups: Vec<(BTreeSet<&str>, GroupUnits)> =
            groups(&pieces).into_iter().map(units).collect();
        let value = |sheet: &Sheet| match is_first {
            true => first::sheet(job, sheet),
            false => {
                let own = groups.iter().find(|(papers, _)| papers.contains(sheet.paper.as_str()));
                own.map_or(0, |(_, units)| units.count(sheet, job, &offers))
            }
        };
        let sheets = job.stock.sheets.iter().map(|sheet| {
            let facts = SheetFacts::of(sheet, value(sheet), offers.sheet(sheet));
            (sheet.id.as_str(), facts)
        });
        let sheets = sheets.collect();
        let group = |(papers, units): (BTreeSet<&'a str>, GroupUnits)| match is_first {
            true => PaperGroup::of_first(papers),
            false => {
                let unit = units.is_money.then_some(units.worth);
                PaperGroup { papers, price_unit: units.price, unit }
            }
        };
        let groups = groups.into_iter().map(group).collect();
        let (job, offers) = (Some(job), Some(offers));
        Facts { pieces, sheets, groups, job, offers, knows_sheets: true }
    }

    pub fn from_plan(plan: &'a Plan) -> Facts<'a> {
        let is_first = plan.schema == FIRST_SCHEMA;
        let pieces = plan.pieces.iter().map(|piece| {
            let facts = PieceFacts {
                papers: piece.papers.iter().map(String::as_str).collect(),
                size: Size::new(piece.width, piece.height),
                needed: needed([piece.need, piece.spares, piece.done, piece.spoiled]),
                turn: Some(piece.turn),
                two_faced: true,
                fold: piece.fold,
            };
            (piece.id.as_str(), facts)
        });
        let sheets = plan.sheets.iter().map(|sheet| {
            let facts = SheetFacts {
                kind: sheet.kind,
                paper: &sheet.paper,
                size: Size::new(sheet.width, sheet.height),
                on_hand: sheet.on_hand,
                pack: sheet.pack,
                price: sheet.price.map(|price| price.minor()),
                value: i128::from(sheet.value.units()),
                worth: None,
                print: sheet.print,
                back: sheet.back,
                grain: sheet.grain,
                rough_edges: match (is_first, sheet.kind) {
                    (true, SheetKind::Sheet) => RoughEdges::Four,
                    _ => sheet.rough_edges,
                },
            };
            (sheet.id.as_str(), facts)
        });
        let (pieces, sheets): (BTreeMap<&str, PieceFacts>, _) =
            (pieces.collect(), sheets.collect());
        let group = |papers: BTreeSet<&'a str>| {
            let is_own =
                |proof: &&Proof| proof.papers.iter().all(|it| papers.contains(it.as_str()));
            match plan.proof.iter().find(is_own) {
                Some(proof) if !is_first => PaperGroup {
                    papers,
                    price_unit: proof.price_unit.minor(),
                    unit: proof.unit.map(|[above, below]| Ratio::new(above.into(), below.into())),
                },
                _ => PaperGroup::of_first(papers),
            }
        };
        let groups = groups(&pieces).into_iter().map(group).collect();
        let (job, offers) = (None, None);
        Facts { pieces, sheets, groups, job, offers, knows_sheets: !is_first }
    }

    /// The group of a paper.
    pub fn group(&self, paper: &str) -> Option<&PaperGroup<'a>> {
        self.groups.iter().find(|group| group.papers.contains(paper))
    }
}

impl<'a> PaperGroup<'a> {
    /// Plans of the first schema count minor units.
    fn of_first(papers: BTreeSet<&'a str>) -> PaperGroup<'a> {
        PaperGroup { papers, price_unit: 1, unit: Some(Ratio::whole(1)) }
    }
}

/// The papers that pieces join, sorted.
fn groups<'a>(pieces: &BTreeMap<&'a str, PieceFacts<'a>>) -> Vec<BTreeSet<&'a str>> {
    let mut groups: Vec<BTreeSet<&str>> = Vec::new();
    for piece in pieces.values().filter(|piece| piece.needed > 0) {
        let mut joined: BTreeSet<&str> = piece.papers.iter().copied().collect();
        groups.retain(|group| {
            let apart = group.is_disjoint(&joined);
            if !apart {
                joined.extend(group);
            }
            apart
        });
        groups.push(joined);
    }
    groups.sort();
    groups
}

impl<'a> SheetFacts<'a> {
    /// Those of a sheet of the stock, with what it counts and what it is worth.
    fn of(sheet: &'a Sheet, value: i128, worth: Ratio) -> SheetFacts<'a> {
        SheetFacts {
            kind: sheet.kind,
            paper: &sheet.paper,
            size: sheet.size,
            on_hand: sheet.on_hand,
            pack: sheet.pack,
            price: sheet.price.map(|price| price.minor()),
            value,
            worth: Some(worth),
            print: sheet.print,
            back: sheet.back,
            grain: sheet.grain,
            rough_edges: sheet.rough_edges,
        }
    }
}

impl PieceFacts<'_> {
    /// Whether a quarter turn is allowed on `sheet` by the print alone, whatever its line says.
    pub fn print_lets_turn(&self, sheet: &SheetFacts) -> bool {
        sheet.print == Print::Free && (sheet.back == Back::Free || !self.two_faced)
    }

    /// Whether a quarter turn on `sheet` is allowed: the order line decides, else the print.
    pub fn may_turn(&self, sheet: &SheetFacts) -> bool {
        match self.turn {
            Some(turn) => turn == Turn::Free,
            None => self.print_lets_turn(sheet),
        }
    }

    /// Whether its fold lies along the grain of `sheet` as far as the rule asks for it.
    pub fn obeys_grain(&self, turned: bool, sheet: &SheetFacts, rule: GrainRule) -> bool {
        let (Some(fold), Some(grain), GrainRule::Strict) = (self.fold, sheet.grain, rule) else {
            return true;
        };
        if turned { fold != grain } else { fold == grain }
    }
}
