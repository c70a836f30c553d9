//! Stages: how often the paper is turned between cuts.

use super::by_hand::{Tree, above, bench, beside, piece, trimmed, waste};
use super::limits::{faults, full};
use crate::bench::inches;
use cardwright::plan::check::Fault;
use cardwright::workshop::Workshop;

/// Cuts in one direction, and the most that follow each other crosswise; squaring apart.
#[test]
fn stages_are_counted_by_turns_of_the_paper() {
    let two = |id: &str, other: &str| above(piece(id, "6 x 6"), piece(other, "6 x 6"));
    let one_way = beside(piece("a", "6 x 12"), beside(piece("b", "3 x 12"), waste("3 x 12")));
    let three = above(beside(piece("a", "3 x 6"), piece("b", "3 x 6")), piece("c", "6 x 6"));
    let cases = [
        (piece("a", "12 x 12"), 0),
        (one_way, 1),
        (beside(two("a", "b"), piece("c", "6 x 12")), 2),
        (beside(two("a", "b"), two("c", "d")), 2),
        (above(piece("a", "12 x 6"), beside(piece("b", "6 x 6"), piece("c", "6 x 6"))), 2),
        (beside(three.clone(), piece("d", "6 x 12")), 3),
        (beside(piece("d", "6 x 12"), three), 3),
    ];
    for (tree, stages) in cases {
        assert_eq!(stages_of(&bench(), "12 x 12", &tree), stages, "{tree:?}");
        let mut rough = bench();
        rough.trimmer.squaring = inches("1/4");
        let trimmed = trimmed(tree, ("12", "12 1/2"), "1/4", [true; 4]);
        assert_eq!(stages_of(&rough, "12 1/2 x 12 1/2", &trimmed), stages, "{trimmed:?}");
    }
}

/// Squaring crosswise between two cuts of one direction makes no stage of its own.
#[test]
fn squaring_between_two_cuts_is_no_stage() {
    let mut rough = bench();
    rough.trimmer.squaring = inches("1/4");
    let ends = [false, false, true, true];
    let left = beside(piece("a", "3 x 12"), piece("b", "3 x 12"));
    let left = trimmed(left, ("6", "12 1/2"), "1/4", ends);
    let right = trimmed(piece("c", "6 x 12"), ("6", "12 1/2"), "1/4", ends);
    let tree = trimmed(beside(left, right), ("12", "12 1/2"), "1/4", [true, true, false, false]);
    assert_eq!(stages_of(&rough, "12 1/2 x 12 1/2", &tree), 1);
}

/// A strip is as narrow when it is squared as when it is cut.
#[test]
fn a_strip_too_narrow_to_be_held_is_not_squared() {
    let mut rough = bench();
    rough.trimmer.squaring = inches("1/4");
    let ends = [false, false, true, true];
    let strip = trimmed(piece("a", "2 x 12"), ("2", "12 1/2"), "1/4", ends);
    let rest = trimmed(piece("b", "10 x 12"), ("10", "12 1/2"), "1/4", ends);
    let tree = beside(strip, rest);
    let tree = trimmed(tree, ("12", "12 1/2"), "1/4", [true, true, false, false]);
    assert_eq!(faults(&rough, full("12 1/2 x 12 1/2"), &tree), []);
    rough.trimmer.smallest_hold = inches("3");
    let found = faults(&rough, full("12 1/2 x 12 1/2"), &tree);
    let holds = found.iter().filter(|fault| matches!(fault, Fault::Hold { .. })).count();
    assert_eq!((holds, found.len()), (2, 2), "{found:?}");
}

/// How many stages the judge counts: it accepts no fewer and asks for no more.
fn stages_of(workshop: &Workshop, sheet: &str, tree: &Tree) -> u32 {
    let judged = |most: u32| {
        let mut workshop = workshop.clone();
        workshop.trimmer.stages = Some(most);
        let found = faults(&workshop, full(sheet), tree);
        let told = found.iter().map(|fault| match fault {
            Fault::Stages { stages, most: told, .. } if *told == most => *stages,
            fault => panic!("{fault:?}"),
        });
        told.max()
    };
    let found = (0..9).find(|most| judged(*most).is_none()).unwrap();
    assert!((0..found).all(|most| judged(most) == Some(found)));
    found
}
