//! The limits of the bench: what lies just within one is accepted, what lies a tick beyond is told.

use super::by_hand::{Tree, above, bench, beside, kept, piece, plan, trimmed, waste};
use crate::bench::{inches, offcut, sheet, size, workshop};
use cardwright::measure::{Axis, Length};
use cardwright::plan::check::Fault;
use cardwright::plan::{Content, Leaf, Node};
use cardwright::stock::Sheet;
use cardwright::workshop::Workshop;

const TICK: Length = Length::from_ticks(1);

pub fn full(text: &str) -> Sheet {
    sheet("fern-full", "fern", size(text))
}

/// What the judge has against such a sheet, cut so.
pub fn faults(workshop: &Workshop, sheet: Sheet, tree: &Tree) -> Vec<Fault> {
    plan(workshop, sheet, tree).faults()
}

#[test]
fn a_cut_is_as_long_as_the_knife_at_most() {
    let beside = beside(piece("a", "6 x 9"), waste("6 x 9"));
    let above = above(piece("a", "12 x 4"), waste("12 x 5"));
    for (tree, length) in [(beside, inches("9")), (above, inches("12"))] {
        let mut workshop = bench();
        workshop.trimmer.knife = length;
        assert_eq!(faults(&workshop, full("12 x 9"), &tree), []);
        workshop.trimmer.knife = length - TICK;
        let found = faults(&workshop, full("12 x 9"), &tree);
        let [Fault::Knife { length: told, .. }] = &found[..] else { panic!("{found:?}") };
        assert_eq!(*told, workshop.style().with_unit(length));
    }
}

#[test]
fn a_plate_is_held_by_its_narrow_side() {
    let strip = beside(piece("a", "3 x 2"), piece("b", "9 x 2"));
    let tree = above(strip, waste("12 x 7"));
    let mut workshop = bench();
    for (squaring, sheet) in
        [("0", full("12 x 9")), ("1/4", offcut("saved", "fern", size("12 x 9")))]
    {
        workshop.trimmer.squaring = inches(squaring);
        workshop.trimmer.smallest_hold = inches("2");
        assert_eq!(faults(&workshop, sheet.clone(), &tree), []);
        workshop.trimmer.smallest_hold = inches("2") + TICK;
        let found = faults(&workshop, sheet, &tree);
        let [Fault::Hold { side, at, .. }] = &found[..] else { panic!("{found:?}") };
        assert_eq!((side.as_str(), at.as_str()), ("2 in", "3 in"));
    }
}

/// A sheet is larger than what can be held only until its edges are true.
#[test]
fn the_trims_that_square_a_sheet_need_no_hold() {
    let tree = trimmed(piece("a", "5 1/2 x 1 1/2"), ("5 1/2", "2"), "1/4", [true; 4]);
    let mut workshop = bench();
    workshop.trimmer.squaring = inches("1/4");
    workshop.trimmer.smallest_hold = inches("3");
    assert_eq!(faults(&workshop, full("6 x 2"), &tree), []);
    let holds = |workshop: &Workshop, sheet| {
        let found = faults(workshop, sheet, &tree);
        assert!(found.iter().all(|fault| matches!(fault, Fault::Hold { .. })), "{found:?}");
        found.len()
    };
    assert_eq!(holds(&workshop, offcut("saved", "fern", size("6 x 2"))), 4, "its edges are true");
    workshop.trimmer.squaring = inches("1/4") - TICK;
    assert_eq!(holds(&workshop, full("6 x 2")), 4, "more than the edge");
}

#[test]
fn no_hold_is_needed_at_the_edge_and_for_waste_alone() {
    let mut workshop = bench();
    workshop.trimmer.squaring = inches("1/4");
    workshop.trimmer.smallest_hold = inches("3");
    let inner = beside(piece("a", "2 x 1 1/2"), waste("3 1/2 x 1 1/2"));
    let tree = trimmed(inner, ("5 1/2", "2"), "1/4", [true; 4]);
    let found = faults(&workshop, full("6 x 2"), &tree);
    assert!(matches!(found[..], [Fault::Hold { .. }]), "waste, but not at the edge: {found:?}");
    let tree = trimmed(piece("a", "6 x 1 1/2"), ("6", "2"), "1/4", [false, false, true, true]);
    let tree = match tree {
        Tree::Cut(axis, parts) => Tree::Cut(
            axis,
            parts
                .map(|part| match part {
                    Tree::Leaf(size, Content::Leaf(Leaf::Waste)) => {
                        Tree::Leaf(size, Content::Leaf(Leaf::Piece("b".to_owned(), false)))
                    }
                    part => part,
                })
                .into(),
        ),
        leaf => leaf,
    };
    let found = faults(&workshop, full("6 x 2"), &tree);
    let holds = found.iter().filter(|fault| matches!(fault, Fault::Hold { .. })).count();
    assert_eq!(holds, 1, "at the edge, but a piece: {found:?}");
}

#[test]
fn a_cut_goes_through_its_plate() {
    let edge = beside(waste("0 x 9"), piece("a", "12 x 9"));
    let end = beside(piece("a", "12 x 9"), waste("0 x 9"));
    for tree in [&edge, &end] {
        let found = faults(&bench(), full("12 x 9"), tree);
        assert!(matches!(found[..], [Fault::CutOutside { .. }, ..]), "{found:?}");
    }
    // A blade as wide as the trim leaves nothing of it.
    let mut sawing = bench();
    sawing.trimmer.blade = inches("1/8");
    for tree in [edge, end] {
        assert_eq!(faults(&sawing, full("12 1/8 x 9"), &tree), []);
    }
}

/// Even where nothing is squared, a cut that only the blade's width takes off has to be held.
#[test]
fn a_trim_under_the_blade_of_a_true_sheet_needs_a_hold() {
    let mut sawing = bench();
    sawing.trimmer.blade = inches("1/8");
    sawing.trimmer.smallest_hold = inches("10");
    let tree = beside(waste("0 x 9"), piece("a", "12 x 9"));
    let found = faults(&sawing, full("12 1/8 x 9"), &tree);
    assert!(matches!(found[..], [Fault::Hold { .. }]), "{found:?}");
}

/// What is found beside that nothing but an offcut comes of the sheet, whose paper no piece and no proof is about then.
fn but_no_piece(mut found: Vec<Fault>) -> Vec<Fault> {
    found.retain(|fault| {
        !matches!(
            fault,
            Fault::NoPiece { .. }
                | Fault::SheetOutside { .. }
                | Fault::Total { field: "spend" | "stock", .. }
        )
    });
    found
}

fn is_squaring(found: Vec<Fault>) -> bool {
    let found = but_no_piece(found);
    matches!(found[..], [Fault::Squaring { .. }])
}

#[test]
fn nothing_that_is_kept_has_a_rough_edge() {
    let mut workshop = workshop();
    workshop.trimmer.squaring = inches("1/4");
    let edges = [[false, true, true, true], [true, false, true, true]];
    for (number, edges) in edges.into_iter().enumerate() {
        for core in [piece("a", "5 3/4 x 1 1/2"), kept("a", "5 3/4 x 1 1/2")] {
            let tree = trimmed(core, ("5 3/4", "2"), "1/4", edges);
            assert!(is_squaring(faults(&workshop, full("6 x 2"), &tree)), "side {number}");
        }
    }
    let edges = [[true, true, false, true], [true, true, true, false]];
    for (number, edges) in edges.into_iter().enumerate() {
        for core in [piece("a", "5 1/2 x 1 3/4"), kept("a", "5 1/2 x 1 3/4")] {
            let tree = trimmed(core, ("5 1/2", "2"), "1/4", edges);
            assert!(is_squaring(faults(&workshop, full("6 x 2"), &tree)), "end {number}");
            let saved = faults(&workshop, offcut("saved", "fern", size("6 x 2")), &tree);
            assert_eq!(but_no_piece(saved), []);
        }
    }
}

#[test]
fn strips_are_kept_from_the_keep_rule_on() {
    for (sheet, keeping) in [
        ("12 x 9", above(piece("a", "12 x 8"), kept("k", "12 x 1"))),
        ("9 x 12", beside(piece("a", "8 x 12"), kept("k", "1 x 12"))),
    ] {
        let wasting = match &keeping {
            Tree::Cut(axis, parts) => {
                let rest = if *axis == Axis::Width { waste("1 x 12") } else { waste("12 x 1") };
                Tree::Cut(*axis, Box::new([parts[0].clone(), rest]))
            }
            leaf => leaf.clone(),
        };
        for (short, long, reaches) in [
            (Length::ZERO, Length::ZERO, true),
            (TICK, Length::ZERO, false),
            (Length::ZERO, TICK, false),
        ] {
            let mut workshop = workshop();
            (workshop.keep.short, workshop.keep.long) = (inches("1") + short, inches("12") + long);
            let found = faults(&workshop, full(sheet), &keeping);
            let too_small = matches!(found[..], [Fault::OffcutTooSmall { .. }]);
            assert!(if reaches { found.is_empty() } else { too_small }, "{found:?}");
            let found = faults(&workshop, full(sheet), &wasting);
            let worth_it = matches!(found[..], [Fault::WasteWorthKeeping { .. }]);
            assert!(if reaches { worth_it } else { found.is_empty() }, "{found:?}");
        }
    }
}

/// Of waste that reaches over a rough edge, only what lies inside could be kept: 11 x 1 1/2 in here.
#[test]
fn waste_is_worth_what_is_left_of_it_inside_the_true_edges() {
    let row = trimmed(piece("a", "11 x 6 1/2"), ("11", "6 1/2"), "1/2", [true, true, false, false]);
    let upper = above(above(waste("12 x 1/2"), row.clone()), waste("12 x 2"));
    let lower = above(waste("12 x 2"), above(row, waste("12 x 1/2")));
    for tree in [upper, lower] {
        let mut workshop = bench();
        workshop.trimmer.squaring = inches("1/2");
        let mut judged = |short: Length, long: Length| {
            (workshop.keep.short, workshop.keep.long) = (short, long);
            faults(&workshop, full("12 x 9"), &tree)
        };
        let (short, long) = (inches("1 1/2"), inches("11"));
        let found = judged(short, long);
        assert!(matches!(found[..], [Fault::WasteWorthKeeping { .. }]), "{found:?}");
        assert_eq!(judged(short + TICK, long), []);
        assert_eq!(judged(short, long + TICK), []);
    }
}

/// A rule that keeps everything asks for nothing of the trims.
#[test]
fn what_squaring_takes_off_is_never_kept() {
    let mut workshop = bench();
    workshop.trimmer.squaring = inches("1/4");
    (workshop.keep.short, workshop.keep.long) = (Length::ZERO, Length::ZERO);
    let tree = trimmed(piece("a", "5 1/2 x 1 1/2"), ("5 1/2", "2"), "1/4", [true; 4]);
    assert_eq!(faults(&workshop, full("6 x 2"), &tree), []);
}

#[test]
fn parts_lie_where_the_cut_leaves_them() {
    let tree = beside(piece("a", "6 x 9"), piece("b", "6 x 9"));
    let honest = plan(&bench(), full("12 x 9"), &tree);
    let changes: [fn(&mut Node); 5] = [
        |part| part.x += TICK,
        |part| part.y += TICK,
        |part| part.size.width += TICK,
        |part| part.size.height += TICK,
        |part| part.size.height -= TICK,
    ];
    for (number, change) in changes.into_iter().enumerate() {
        for place in 0..2 {
            let mut made = honest.clone();
            let Content::Cut(cut) = &mut made.plan.runs[0].layout.content else {
                panic!("not cut")
            };
            change(&mut cut.parts_mut()[place]);
            let found = made.faults();
            assert!(
                matches!(found[0], Fault::Tiling { .. }),
                "change {number} of {place}: {found:?}"
            );
        }
    }
}

/// Whoever reads of a fault finds the run, the plate and the cut.
#[test]
fn a_fault_tells_where_it_is() {
    let lower = above(waste("9 x 1"), beside(piece("a", "4 x 8"), piece("b", "5 x 8")));
    let tree = beside(piece("c", "3 x 9"), lower);
    let mut workshop = bench();
    (workshop.keep.short, workshop.keep.long) = (inches("1"), inches("9"));
    workshop.trimmer.knife = inches("8");
    let mut made = plan(&workshop, full("12 x 9"), &tree);
    made.bill.pieces[1].size.width += TICK;
    made.plan.pieces[1].width += TICK;
    let told: Vec<String> = made.faults().iter().map(Fault::to_string).collect();
    let expected = [
        "run R1: the cut at 3 in is 9 in long, the knife only 8 in",
        "run R1: the cut at 1 in is 9 in long, the knife only 8 in",
        "run R1: the waste at 3 in, 0 in is large enough to keep",
        "run R1: piece `b` at 7 in, 1 in has the wrong size",
    ];
    assert_eq!(told, expected);
}
