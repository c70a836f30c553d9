//! What is true of pieces and sheets, whatever the plan says: from the bill and the stock, or, where
//! there are none, from the plan's own lists.

use super::Given;
use super::worth::Offers;
use crate::measure::{Axis, Size};
use crate::orders::Turn;
use crate::plan::{FIRST_SCHEMA, Plan};
use crate::stock::{Back, Print, SheetKind};
use crate::workshop::{GrainRule, Workshop};
use std::collections::BTreeMap;

/// All facts, by id.
pub(super) struct Facts<'a> {
    pub pieces: BTreeMap<&'a str, PieceFacts<'a>>,
    pub sheets: BTreeMap<&'a str, SheetFacts<'a>>,
    /// The bill and the stock, where they are at hand.
    pub given: Option<&'a Given<'a>>,
    /// What the stock asks for its papers, where it is at hand.
    pub offers: Option<Offers<'a>>,
    /// Whether it is known how sheets let pieces lie.
    pub knows_sheets: bool,
}

/// What is true of a piece.
pub(super) struct PieceFacts<'a> {
    pub papers: Vec<&'a str>,
    pub size: Size,
    /// Need and spares together.
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
    /// Value of one sheet, in minor units.
    pub value: i128,
    pub print: Print,
    pub back: Back,
    pub grain: Option<Axis>,
    /// How many of its edges are squared off.
    pub rough_edges: u8,
}

impl<'a> Facts<'a> {
    pub fn from_given(given: &'a Given<'a>) -> Facts<'a> {
        let pieces = given.bill.pieces.iter().map(|piece| {
            let facts = PieceFacts {
                papers: piece.papers.iter().map(String::as_str).collect(),
                size: piece.size,
                needed: piece.need() + piece.spares(),
                turn: piece.turn,
                two_faced: piece.shows_both_faces(),
                fold: piece.fold_along,
            };
            (piece.id.as_str(), facts)
        });
        let offers = Offers::of(given);
        let sheets = given.stock.sheets.iter().map(|sheet| {
            let facts = SheetFacts {
                kind: sheet.kind,
                paper: &sheet.paper,
                size: sheet.size,
                on_hand: sheet.on_hand,
                pack: sheet.pack,
                price: sheet.price.map(|price| price.minor()),
                value: offers.sheet(sheet),
                print: sheet.print,
                back: sheet.back,
                grain: sheet.grain,
                rough_edges: squared(sheet.kind, given.workshop),
            };
            (sheet.id.as_str(), facts)
        });
        let (pieces, sheets) = (pieces.collect(), sheets.collect());
        Facts { pieces, sheets, given: Some(given), offers: Some(offers), knows_sheets: true }
    }

    pub fn from_plan(plan: &'a Plan, workshop: &Workshop) -> Facts<'a> {
        let is_first = plan.schema == FIRST_SCHEMA;
        let pieces = plan.pieces.iter().map(|piece| {
            let facts = PieceFacts {
                papers: piece.papers.iter().map(String::as_str).collect(),
                size: Size::new(piece.width, piece.height),
                needed: piece.need + piece.spares,
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
                value: i128::from(sheet.value.minor()),
                print: sheet.print,
                back: sheet.back,
                grain: sheet.grain,
                rough_edges: squared(sheet.kind, workshop),
            };
            (sheet.id.as_str(), facts)
        });
        let (pieces, sheets) = (pieces.collect(), sheets.collect());
        Facts { pieces, sheets, given: None, offers: None, knows_sheets: !is_first }
    }
}

/// How many edges a bench squares of such a sheet.
fn squared(kind: SheetKind, workshop: &Workshop) -> u8 {
    match kind {
        SheetKind::Sheet if workshop.trimmer.squaring.is_positive() => 4,
        _ => 0,
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
