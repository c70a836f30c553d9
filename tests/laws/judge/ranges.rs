//! The ends of what a number in a plan may be. Numbers beyond them are told apart from all other faults,
//! since no sum is made of them.

use super::made::{Made, make};
use super::mutations::{bought, first_of};
use cardwright::measure::{Length, Money, Worth};
use cardwright::plan::check::Fault;

/// A plan with a piece, a sheet that is bought, a run and an offcut.
fn full() -> Made {
    let choices = |seed: u32| (0..80).map(|at| (seed + 1) * (at + 3) * (at + 7)).collect();
    let is_full = |made: &Made| {
        let plan = &made.plan;
        !plan.pieces.is_empty() && !plan.offcuts.is_empty() && bought(&mut made.clone(), |_| ())
    };
    (0..1000).map(|seed| make(choices(seed))).find(is_full).unwrap()
}

/// Whether the plan is out of range once it is changed.
fn is_out(change: impl FnOnce(&mut Made) -> bool) -> bool {
    let mut made = full();
    assert!(change(&mut made), "nothing to change");
    let faults = made.faults();
    let out = faults.iter().any(|fault| matches!(fault, Fault::OutOfRange { .. }));
    assert!(!out || faults.len() == 1, "{faults:?}");
    out
}

type Change<T> = fn(&mut Made, T) -> bool;

/// Each change puts each of these values into a plan: which of them are out of range.
fn are_out<T: Copy, const N: usize>(changes: &[Change<T>], values: [T; N], expected: [bool; N]) {
    for (number, change) in changes.iter().enumerate() {
        let out = values.map(|value| is_out(|made| change(made, value)));
        assert_eq!(out, expected, "change {number}");
    }
}

/// A blank may be twice as long as the longest card, each way, and some more.
#[test]
fn sides_are_above_nothing_and_at_most_four_times_the_longest() {
    let changes: [Change<Length>; 6] = [
        |made, side| first_of(&mut made.plan.pieces, |piece| piece.width = side),
        |made, side| first_of(&mut made.plan.pieces, |piece| piece.height = side),
        |made, side| first_of(&mut made.plan.sheets, |sheet| sheet.width = side),
        |made, side| first_of(&mut made.plan.sheets, |sheet| sheet.height = side),
        |made, side| first_of(&mut made.plan.offcuts, |offcut| offcut.width = side),
        |made, side| first_of(&mut made.plan.offcuts, |offcut| offcut.height = side),
    ];
    let (least, most) = (Length::from_ticks(1), Length::MAX * 4);
    let sides = [Length::ZERO, least, most, most + least];
    are_out(&changes, sides, [true, false, false, true]);
}

#[test]
fn counts_are_at_most_a_million_millions() {
    let changes: [Change<u64>; 9] = [
        |made, count| first_of(&mut made.plan.pieces, |piece| piece.need = count),
        |made, count| first_of(&mut made.plan.pieces, |piece| piece.spares = count),
        |made, count| first_of(&mut made.plan.pieces, |piece| piece.cut = count),
        |made, count| first_of(&mut made.plan.sheets, |sheet| sheet.pack = count),
        |made, count| first_of(&mut made.plan.sheets, |sheet| sheet.on_hand = count),
        |made, count| first_of(&mut made.plan.sheets, |sheet| sheet.used = count),
        |made, count| first_of(&mut made.plan.sheets, |sheet| sheet.packs_bought = count),
        |made, count| first_of(&mut made.plan.runs, |run| run.count = count),
        |made, count| first_of(&mut made.plan.offcuts, |offcut| offcut.count = count),
    ];
    let most = 1_000_000_000_000;
    are_out(&changes, [1, most, most + 1], [false, false, true]);
}

#[test]
fn amounts_are_not_below_nothing_and_leave_room_for_sums() {
    let changes: [Change<Money>; 2] = [
        |made, amount| {
            let worth = Worth::from_units(amount.minor());
            first_of(&mut made.plan.sheets, |sheet| sheet.value = worth)
        },
        |made, amount| bought(made, |sheet| sheet.price = Some(amount)),
    ];
    let most = i64::MAX / 4;
    let amounts = [-1, 0, most, most + 1].map(Money::from_minor);
    are_out(&changes, amounts, [true, false, false, true]);
}

#[test]
fn a_pack_holds_something_and_a_piece_has_a_paper() {
    assert!(is_out(|made| first_of(&mut made.plan.sheets, |sheet| sheet.pack = 0)));
    assert!(is_out(|made| first_of(&mut made.plan.pieces, |piece| piece.papers.clear())));
}
