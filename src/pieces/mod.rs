//! The bill of materials: what has to be cut, with score lines, and what is bought ready-made.
//!
//! In: an [`Order`], the [`Stock`] and the [`Workshop`]. Out: a [`Bill`], by [`pieces`]. [`check_fit`] then holds the
//! bill against the stock, and [`orientations`] is the one rule of how a piece may lie on a sheet. It
//! knows nothing of patterns or the solver.

mod advice;
mod band;
mod before;
mod board;
mod card;
mod enclosed;
mod envelope;
mod faces;
mod finishes;
mod fit;
mod flaps;
mod gift_box;
mod given;
mod merge;
mod part;
mod recipe;
#[cfg(test)]
mod samples;
mod supplies;
mod thickness;

pub use advice::check_fit;
pub use before::{Before, Done, Tally};
pub use enclosed::{Bulk, Enclosed};
pub use envelope::{FLAP_OVERLAP, Pocket, SEAM_OVERLAP, square_side};
pub use faces::{Upright, is_turned, scores_upright, upright};
pub use finishes::{CardFinish, finishes};
pub use fit::{Orientations, orientations, planned_turn, true_size};
pub use gift_box::LONGEST_FLAP;
pub use part::Part;
pub use recipe::{in_a_set, spares, wanted};
pub use supplies::{CardSundry, SupplyNeed, sundries};
pub use thickness::{ENVELOPE_LAYERS, bought_paper, contents};

use crate::diagnostics::{Place, Problems};
use crate::folds::Score;
use crate::measure::{Axis, Size};
use crate::orders::{Order, Turn};
use crate::stock::{KnownPapers, Stock};
use crate::workshop::Workshop;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// What has to be cut for an order: the pieces of each line, identical ones merged. A layer that vanishes is an
/// error; an envelope that would not close well is a warning. The stock tells how thick papers are, and how large an
/// envelope may be.
pub fn pieces(order: &Order, stock: &Stock, workshop: &Workshop, problems: &mut Problems) -> Bill {
    let papers = KnownPapers::of(stock);
    let ground = given::Given { papers: &papers, stock, workshop };
    let mut enclosed = Enclosed::new(order);
    let mut lines: BTreeMap<&str, Vec<Piece>> = BTreeMap::new();
    for line in enclosed.nesting().inside_out() {
        let own = recipe::of_line(line, &enclosed, ground, problems);
        enclosed.add(line, &own.iter().collect::<Vec<_>>(), ground);
        lines.insert(&line.name.value, own);
    }
    let single = order.lines.iter().filter_map(|line| lines.remove(line.name.value.as_str()));
    let pieces = merge::merge(single.flatten().collect(), problems);
    finishes::check(order, workshop, problems);
    Bill { pieces, supplies: supplies::of_order(order, &enclosed, ground, problems) }
}

/// All pieces of an order, identical ones merged, in the order of the lines.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bill {
    /// The pieces.
    pub pieces: Vec<Piece>,
    /// Bought envelopes and sundries, sorted by name.
    pub supplies: Vec<SupplyNeed>,
}

impl Bill {
    /// Pieces alone.
    pub fn of_pieces(pieces: Vec<Piece>) -> Bill {
        Bill { pieces, supplies: Vec::new() }
    }

    /// The pieces of each line, in the order of the bill.
    pub fn by_line(&self) -> BTreeMap<&str, Vec<&Piece>> {
        let mut lines: BTreeMap<&str, Vec<&Piece>> = BTreeMap::new();
        for piece in &self.pieces {
            for share in &piece.shares {
                lines.entry(&share.line).or_default().push(piece);
            }
        }
        lines
    }

    /// Where its pieces stand, the largest first, then by their ids: an order in which that of the lines does not
    /// show.
    pub fn largest_first(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.pieces.len()).collect();
        order.sort_by_key(|&at| (Reverse(self.pieces[at].size), &self.pieces[at].id));
        order
    }

    /// Frees what is glued to a card from the way of its grain, as earlier versions did, so that their plans can be judged.
    pub fn free_layers_as_before(&mut self) {
        let layers = self.pieces.iter_mut().filter(|piece| piece.is_glued_to_a_fold());
        layers.for_each(|piece| piece.grain_along = None);
    }

    /// Names the cards as earlier versions did, so that their plans can be judged.
    pub fn name_cards_as_before(&mut self) {
        let before = |name: &str| match name.strip_suffix(CARD) {
            Some(line) => format!("{line}{OLD_CARD}"),
            None => name.to_owned(),
        };
        for piece in self.pieces.iter_mut().filter(|piece| piece.part == Part::Card) {
            piece.id = piece.id.split('+').map(before).collect::<Vec<_>>().join("+");
        }
    }
}

/// How the id of a card ends, for each line that it is of.
pub const CARD: &str = ".card";
/// How it ended in plans of earlier versions.
const OLD_CARD: &str = ".base";

/// One kind of rectangle to cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Unique: `line.part`; merged ones are joined by `+`, and only the first few named.
    pub id: String,
    /// What it becomes.
    pub part: Part,
    /// Papers it may be cut from.
    pub papers: Vec<String>,
    /// Size as it lies when its card is read: `width` across.
    pub size: Size,
    /// What the order line says of turning, where its face is seen upright; `None` leaves it to the
    /// paper's print.
    pub turn: Option<Turn>,
    /// Direction in which the grain should run: along its fold, or that of the folded card it is glued to. `None`: any.
    pub grain_along: Option<Axis>,
    /// Score lines, sorted.
    pub scores: Vec<Score>,
    /// Who needs it, in the order of the lines.
    pub shares: Vec<Share>,
    /// What was done of it by earlier plans of the batch.
    pub done: Done,
    /// The cell that asks for its paper, for messages.
    pub place: Option<Place>,
}

/// A part of the pieces that one order line needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Share {
    /// Name of the order line.
    pub line: String,
    /// Pieces the order asks for.
    pub need: u64,
    /// Pieces the spares rule adds.
    pub spares: u64,
}

impl Piece {
    /// Whether another one is cut and scored alike, whoever needs it.
    pub fn is_like(&self, other: &Piece) -> bool {
        merge::are_alike(self, other)
    }

    /// Pieces the order asks for.
    pub fn need(&self) -> u64 {
        self.shares.iter().map(|share| share.need).sum()
    }

    /// Pieces the spares rule adds.
    pub fn spares(&self) -> u64 {
        self.shares.iter().map(|share| share.spares).sum()
    }
}
