//! One way to break every rule, and the fault that must come of it.

use super::made::{Made, first_node};
use crate::bench::inches;
use cardwright::cuts::{Cut, Tree};
use cardwright::folds::Score;
use cardwright::measure::{Area, Axis, Length, Money, Worth};
use cardwright::orders::Turn;
use cardwright::pieces::Piece;
use cardwright::plan::check::Fault;
use cardwright::plan::{Content, Leaf, Level, Node, Status, UsedSheet};
use cardwright::stock::{Sheet, SheetKind};
use cardwright::workshop::GrainRule;

/// A way to break a rule.
pub struct Mutation {
    pub name: &'static str,
    /// Breaks it; `false` where this plan has nothing to break.
    pub breaks: fn(&mut Made) -> bool,
    /// Whether a fault is the right one.
    pub found: fn(&Fault) -> bool,
}

macro_rules! mutations {
    ($($name:literal: $breaks:expr => $fault:pat,)*) => {
        /// All of them.
        pub const MUTATIONS: &[Mutation] = &[$(Mutation {
            name: $name,
            breaks: $breaks,
            found: |fault| matches!(fault, $fault),
        }),*];
    };
}

mod layouts;
mod lists;
mod sums;

/// All ways.
pub fn mutations() -> Vec<&'static Mutation> {
    [lists::MUTATIONS, layouts::MUTATIONS, sums::MUTATIONS].into_iter().flatten().collect()
}

const TICK: Length = Length::from_ticks(1);
const CENT: Money = Money::from_minor(1);
const SPECK: Area = Area::from_square_ticks(1);

fn double<T: Clone>(list: &mut Vec<T>) -> bool {
    list.extend(list.last().cloned());
    !list.is_empty()
}

fn first<T>(list: &mut [T]) -> Option<&mut T> {
    list.first_mut()
}

fn score(at: i64) -> Score {
    Score::new(Axis::Height, Length::from_ticks(at))
}

fn other(kind: SheetKind) -> SheetKind {
    match kind {
        SheetKind::Sheet => SheetKind::Offcut,
        SheetKind::Offcut => SheetKind::Sheet,
    }
}

fn change<T>(found: Option<T>, change: impl FnOnce(T)) -> bool {
    found.map(change).is_some()
}

/// Changes the first of a list.
pub fn first_of<T>(list: &mut [T], by: impl FnOnce(&mut T)) -> bool {
    change(list.first_mut(), by)
}

fn piece(made: &mut Made, by: impl FnOnce(&mut cardwright::plan::PlannedPiece)) -> bool {
    change(made.plan.pieces.first_mut(), by)
}

fn sheet(made: &mut Made, by: impl FnOnce(&mut UsedSheet)) -> bool {
    change(made.plan.sheets.first_mut(), by)
}

fn for_sale(made: &mut Made, by: impl FnOnce(&mut UsedSheet)) -> bool {
    change(made.plan.sheets.iter_mut().find(|sheet| sheet.price.is_some()), by)
}

/// Changes a sheet of which packs are bought.
pub fn bought(made: &mut Made, by: impl FnOnce(&mut UsedSheet)) -> bool {
    change(made.plan.sheets.iter_mut().find(|sheet| sheet.packs_bought > 0), by)
}

fn run(made: &mut Made, by: impl FnOnce(&mut cardwright::plan::Run)) -> bool {
    change(made.plan.runs.first_mut(), by)
}

fn offcut(made: &mut Made, by: impl FnOnce(&mut cardwright::plan::KeptOffcut)) -> bool {
    change(made.plan.offcuts.first_mut(), by)
}

fn level(made: &mut Made, by: impl FnOnce(&mut Level<Money>, &mut Level<Worth>)) -> bool {
    // A value above nothing, so that bound and value can be told apart.
    let mut proofs = made.plan.proof.iter_mut();
    let proof = proofs.find(|proof| proof.spend.value > Money::ZERO);
    change(proof, |proof| by(&mut proof.spend, &mut proof.stock))
}

fn node(made: &mut Made, wanted: impl Fn(&Node) -> bool, by: impl FnOnce(&mut Node)) -> bool {
    let mut runs = made.plan.runs.iter_mut();
    change(runs.find_map(|run| first_node(&mut run.layout, &wanted)), by)
}

fn every_piece(made: &mut Made, by: impl Fn(&mut Piece)) -> bool {
    made.bill.pieces.iter_mut().for_each(by);
    !made.bill.pieces.is_empty()
}

fn stock(made: &mut Made, by: impl Fn(&mut Sheet)) {
    made.stock.sheets.iter_mut().for_each(by);
}

fn parts(node: &mut Node) -> &mut [Node; 2] {
    cut(node).parts_mut()
}

fn cut(node: &mut Node) -> &mut Cut<Node> {
    let Content::Cut(cut) = &mut node.content else { panic!("not a cut") };
    cut
}

fn is_cut(node: &Node) -> bool {
    node.cut().is_some()
}

fn is_piece(node: &Node) -> bool {
    matches!(node.content, Content::Leaf(Leaf::Piece(..)))
}

fn is_offcut(node: &Node) -> bool {
    matches!(node.content, Content::Leaf(Leaf::Offcut(_)))
}

fn is_square(node: &Node) -> bool {
    node.size.width == node.size.height
}

/// Whether a cut has waste on one side, as squaring cuts do.
fn squares(node: &Node) -> bool {
    let Some(Cut { parts, .. }) = node.cut() else { return false };
    parts.iter().any(|part| part.content == Content::Leaf(Leaf::Waste))
}
