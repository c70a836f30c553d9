//! What the judge lets a pattern hold: which sheets, which pieces, what knife, blade and squaring leave of them.

use super::by_hand::{bench, beside, piece, plan, trimmed};
use super::made::Made;
use super::proofs::{says, spend};
use crate::bench::{inches, offcut, sheet, size};
use cardwright::measure::{Axis, Length, Size};
use cardwright::orders::Turn;
use cardwright::plan::check::Fault;
use cardwright::stock::Sheet;
use cardwright::workshop::{GrainRule, Trimmer, Workshop};

const TICK: Length = Length::from_ticks(1);

/// The worth of the best pattern of a second sheet, where a piece of 4 x 6 in is worth 1.
fn worth_of(workshop: &Workshop, other: Sheet, change: impl Fn(&mut Made)) -> i128 {
    let piece = || piece("a", "4 x 6");
    let Trimmer { blade, squaring, .. } = workshop.trimmer;
    let (tree, own) = match (blade.is_positive(), squaring.is_positive()) {
        (true, _) => (piece(), "4 x 6"),
        (false, false) => (beside(piece(), piece()), "8 x 6"),
        (false, true) => {
            let both = beside(piece(), piece());
            (trimmed(both, ("8", "6 1/2"), "1/4", [true; 4]), "8 1/2 x 6 1/2")
        }
    };
    let mut made = plan(workshop, sheet("full", "fern", size(own)), &tree);
    made.stock.sheets.push(Sheet { id: "other".to_owned(), ..other });
    change(&mut made);
    made.plan.pieces[0].fold = made.bill.pieces[0].grain_along;
    let found = spend(&made, 0, says(1, 1, 100, None));
    let worth = found.iter().map(|fault| match fault {
        Fault::CertificatePattern { found, most: 0, sheet, .. } if sheet == "other" => *found,
        _ => panic!("{found:?}"),
    });
    worth.sum()
}

fn saved(text: &str) -> Sheet {
    offcut("other", "fern", size(text))
}

#[test]
fn only_sheets_that_can_be_had_are_looked_at() {
    let worth = |sheet: Sheet| worth_of(&bench(), sheet, |_| ());
    let other = sheet("other", "fern", size("8 x 12"));
    assert_eq!(worth(other.clone()), 4, "in the shop");
    assert_eq!(worth(Sheet { price: None, ..other.clone() }), 0, "nowhere");
    assert_eq!(worth(Sheet { price: None, on_hand: 1, ..other.clone() }), 4, "at hand");
    assert_eq!(worth(Sheet { paper: "moss".to_owned(), ..other }), 0, "another paper");
}

#[test]
fn cuts_are_as_long_as_the_knife_at_most() {
    let mut workshop = bench();
    workshop.trimmer.knife = inches("8");
    assert_eq!(worth_of(&workshop, saved("8 x 12"), |_| ()), 4);
    workshop.trimmer.knife = inches("8") - TICK;
    assert_eq!(worth_of(&workshop, saved("8 x 12"), |_| ()), 0);
}

/// Two of 4 in beside each other take 8 in and a blade.
#[test]
fn the_blade_lies_between_pieces_not_round_them() {
    let mut workshop = bench();
    workshop.trimmer.blade = inches("1/8");
    let narrower = |text: &str| {
        let Size { width, height } = size(text);
        offcut("other", "fern", Size::new(width - TICK, height))
    };
    assert_eq!(worth_of(&workshop, saved("8 1/8 x 6"), |_| ()), 2);
    assert_eq!(worth_of(&workshop, narrower("8 1/8 x 6"), |_| ()), 1);
    assert_eq!(worth_of(&workshop, saved("4 x 12 1/8"), |_| ()), 2);
    workshop.trimmer.knife = inches("8 1/8");
    assert_eq!(worth_of(&workshop, saved("8 1/8 x 12 1/8"), |_| ()), 4);
    workshop.trimmer.knife = inches("8 1/8") - TICK;
    assert_eq!(worth_of(&workshop, saved("8 1/8 x 12 1/8"), |_| ()), 0);
}

#[test]
fn squaring_takes_from_both_edges_of_a_full_sheet() {
    let mut workshop = bench();
    workshop.trimmer.squaring = inches("1/4");
    let worth = |sheet| worth_of(&workshop, sheet, |_| ());
    let full = |width, height| sheet("other", "fern", Size::new(width, height));
    assert_eq!(worth(full(inches("8 1/2"), inches("6 1/2"))), 2);
    assert_eq!(worth(full(inches("8 1/2") - TICK, inches("6 1/2"))), 1);
    assert_eq!(worth(full(inches("8 1/2"), inches("6 1/2") - TICK)), 1, "turned");
    assert_eq!(worth(saved("8 x 6")), 2, "its edges are true");
}

/// The first trim is as long as a side of the whole sheet, the second one shorter by an edge.
#[test]
fn sheets_that_the_knife_cannot_square_give_nothing() {
    let mut workshop = bench();
    workshop.trimmer.knife = inches("12");
    let (short, long) = (inches("12"), inches("12 1/4"));
    let cases = [
        (short, long, true),
        (long, short, true),
        (long + TICK, short, false),
        (long, short + TICK, false),
        (short + TICK, long, false),
        (short, long + TICK, false),
    ];
    for (width, height, can_be) in cases {
        workshop.trimmer.squaring = inches("1/4");
        let size = Size::new(width, height);
        let (sheet, saved) = (sheet("other", "fern", size), offcut("other", "fern", size));
        assert_eq!(worth_of(&workshop, sheet.clone(), |_| ()) > 0, can_be, "{sheet:?}");
        let is_cut = width <= inches("12") || height <= inches("12");
        assert_eq!(worth_of(&workshop, saved, |_| ()) > 0, is_cut, "no edges to square");
        workshop.trimmer.squaring = Length::ZERO;
        assert_eq!(worth_of(&workshop, sheet, |_| ()) > 0, is_cut, "nothing is squared");
    }
}

#[test]
fn pieces_lie_as_line_and_grain_allow() {
    let mut workshop = bench();
    let turn = |turn| {
        move |made: &mut Made| {
            made.bill.pieces[0].turn = Some(turn);
            made.plan.pieces[0].turn = turn;
        }
    };
    for (text, free, half) in [("4 x 6", 1, 1), ("6 x 4", 1, 0)] {
        assert_eq!(worth_of(&workshop, saved(text), turn(Turn::Free)), free);
        assert_eq!(worth_of(&workshop, saved(text), turn(Turn::Half)), half);
    }
    workshop.grain = GrainRule::Strict;
    let fold = |made: &mut Made| made.bill.pieces[0].grain_along = Some(Axis::Height);
    for (text, grain, worth) in [
        ("4 x 6", Axis::Height, 1),
        ("4 x 6", Axis::Width, 0),
        ("6 x 4", Axis::Height, 0),
        ("6 x 4", Axis::Width, 1),
    ] {
        let sheet = Sheet { grain: Some(grain), ..saved(text) };
        assert_eq!(worth_of(&workshop, sheet, fold), worth, "{text} {grain:?}");
    }
}
