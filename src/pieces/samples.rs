//! A workshop and texts as lengths, for the tests of this folder.

use super::{Piece, pieces};
use crate::diagnostics::{Problems, Spanned};
use crate::folds::Fold;
use crate::measure::{Length, Money, Size, Unit};
use crate::orders::{Envelope, Extras, Order, OrderLine};
use crate::stock::{RoughEdges, Sheet, Stock};
use crate::workshop::Workshop;

pub(super) fn inches(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

pub(super) fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap().unwrap()
}

/// A plain bench that measures in inches.
pub(super) fn workshop() -> Workshop {
    Workshop::default()
}

/// A sheet of fern with rough edges, to be bought singly.
pub(super) fn sheet(text: &str) -> Sheet {
    Sheet {
        price: Some(Money::from_minor(110)),
        rough_edges: RoughEdges::Four,
        ..Sheet::plain(&format!("fern {text}"), "fern", size(text))
    }
}

/// A line of fern that asks for ten flat cards.
pub(super) fn line(name: &str, card: &str) -> OrderLine {
    OrderLine {
        name: Spanned::nowhere(name.to_owned()),
        card: Spanned::nowhere(size(card)),
        fold: Fold::FLAT,
        count: Spanned::nowhere(10),
        papers: Spanned::nowhere(vec!["fern".to_owned()]),
        liner: None,
        mats: Vec::new(),
        envelope: Envelope::None,
        goes_in: None,
        with: Vec::new(),
        finish: Vec::new(),
        extras: Extras::default(),
        turn: None,
        due: None,
        note: String::new(),
    }
}

/// The base of such a line.
pub(super) fn base(card: &str) -> Piece {
    only_piece(line("invite", card), 0)
}

/// The envelope of such a line, on fern.
pub(super) fn envelope(card: &str) -> Piece {
    let mut line = line("invite", card);
    line.envelope = Envelope::Cut(Spanned::nowhere("fern".to_owned()));
    only_piece(line, 1)
}

fn only_piece(line: OrderLine, index: usize) -> Piece {
    let order = Order { name: "spring".to_owned(), lines: vec![line] };
    let mut bill = pieces(&order, &Stock::default(), &workshop(), &mut Problems::new());
    bill.pieces.remove(index)
}
