//! How pieces may lie: prints of both faces, turns that a line allows, the grain.

use super::by_hand::{above, bench, beside, plan, turned, waste};
use super::made::Made;
use crate::bench::{sheet, size};
use cardwright::measure::Axis;
use cardwright::orders::Turn;
use cardwright::pieces::Part;
use cardwright::plan::check::{Fault, check_alone};
use cardwright::stock::{Back, Print, RoughEdges};
use cardwright::workshop::GrainRule;

const PRINTS: [(Print, Turn); 3] =
    [(Print::Free, Turn::Free), (Print::TwoWay, Turn::Half), (Print::OneWay, Turn::None)];
const BACKS: [(Back, Turn); 4] = [
    (Back::Free, Turn::Free),
    (Back::TwoWay, Turn::Half),
    (Back::OneWay, Turn::None),
    (Back::Tumbled, Turn::None),
];

/// A piece of 4 x 6 in that lies turned on its sheet.
fn lying_turned() -> Made {
    let tree = beside(above(turned("a", "6 x 4"), waste("6 x 5")), waste("6 x 9"));
    plan(&bench(), sheet("fern-full", "fern", size("12 x 9")), &tree)
}

fn is_told(made: &Made, wanted: fn(&Fault) -> bool) -> bool {
    let faults = made.faults();
    // What the plan records of prints and grain is not what is asked about here.
    let others = |fault: &&Fault| {
        let recorded = ["turn", "fold", "print", "back", "grain"];
        !matches!(fault, Fault::PieceDiffers { field, .. } | Fault::SheetDiffers { field, .. }
            if recorded.contains(field))
    };
    assert!(faults.iter().filter(others).all(wanted), "{faults:?}");
    faults.iter().any(wanted)
}

/// The stricter of the faces that are seen: of a card both, of a mat the front.
#[test]
fn prints_forbid_quarter_turns() {
    for (print, face) in PRINTS {
        for (back, behind) in BACKS {
            for (part, turn) in [(Part::Card, face.max(behind)), (Part::Mat, face)] {
                let mut made = lying_turned();
                (made.stock.sheets[0].print, made.stock.sheets[0].back) = (print, back);
                (made.bill.pieces[0].part, made.plan.pieces[0].part) = (part, part);
                let told = is_told(&made, |fault| matches!(fault, Fault::LeafTurned { .. }));
                assert_eq!(told, turn != Turn::Free, "{print:?} {back:?} {part:?}");
                for said in [Turn::Free, Turn::Half, Turn::None] {
                    made.plan.pieces[0].turn = said;
                    let differs =
                        |fault: &Fault| matches!(fault, Fault::PieceDiffers { field: "turn", .. });
                    let told = made.faults().iter().any(differs);
                    assert_eq!(told, said != turn, "{print:?} {back:?} {part:?} said {said:?}");
                }
            }
        }
    }
}

#[test]
fn a_line_decides_about_turns_before_any_print() {
    for (print, _) in PRINTS {
        for turn in [Turn::Free, Turn::Half, Turn::None] {
            let mut made = lying_turned();
            made.stock.sheets[0].print = print;
            (made.bill.pieces[0].turn, made.plan.pieces[0].turn) = (Some(turn), turn);
            let told = made.faults().iter().any(|fault| matches!(fault, Fault::LeafTurned { .. }));
            assert_eq!(told, turn != Turn::Free, "{print:?} {turn:?}");
            let differs = |fault: &Fault| matches!(fault, Fault::PieceDiffers { .. });
            assert!(!made.faults().iter().any(differs), "the plan says what the line says");
        }
    }
}

/// The plan tells the freest of the prints of a piece's papers, and of no other paper.
#[test]
fn the_freest_sheet_of_its_papers_is_told() {
    let mut made = lying_turned();
    made.stock.sheets[0].print = Print::OneWay;
    let differs = |made: &Made, said| {
        let mut made = made.clone();
        made.plan.pieces[0].turn = said;
        made.faults().iter().any(|fault| matches!(fault, Fault::PieceDiffers { field: "turn", .. }))
    };
    let mut striped = sheet("striped", "fern", size("20 x 13"));
    striped.print = Print::TwoWay;
    made.stock.sheets.extend([striped, sheet("plain", "moss", size("20 x 13"))]);
    assert_eq!(
        [Turn::Free, Turn::Half, Turn::None].map(|said| differs(&made, said)),
        [true, false, true]
    );
    made.stock.sheets.push(sheet("white", "fern", size("20 x 13")));
    assert_eq!(
        [Turn::Free, Turn::Half, Turn::None].map(|said| differs(&made, said)),
        [false, true, true]
    );
}

/// Of a paper that nobody has, no print forbids a turn.
#[test]
fn without_a_sheet_a_piece_is_free_to_turn() {
    let mut made = lying_turned();
    made.bill.pieces[0].papers = vec!["moss".to_owned()];
    let differs = |fault: &Fault| matches!(fault, Fault::PieceDiffers { field: "turn", .. });
    assert!(!made.faults().iter().any(differs));
}

/// Where the grain is known and the rule strict, the fold lies along it, turned with the piece.
#[test]
fn folds_lie_along_the_grain() {
    for (grain, fold) in
        [(Axis::Width, Axis::Width), (Axis::Width, Axis::Height), (Axis::Height, Axis::Width)]
    {
        for (rule, known) in
            [(GrainRule::Strict, true), (GrainRule::Strict, false), (GrainRule::Prefer, true)]
        {
            let mut made = lying_turned();
            made.workshop.grain = rule;
            made.stock.sheets[0].grain = known.then_some(grain);
            made.bill.pieces[0].grain_along = Some(fold);
            let told = is_told(&made, |fault| matches!(fault, Fault::LeafGrain { .. }));
            assert_eq!(told, rule == GrainRule::Strict && known && fold == grain, "{fold:?}");
        }
    }
}

/// A plan says how its sheets lie, and where its folds run: not otherwise than it is.
#[test]
fn what_is_recorded_of_sheets_and_folds_is_so() {
    let differs = |by: fn(&mut Made)| {
        let mut made = lying_turned();
        by(&mut made);
        made.faults().iter().any(|fault| match fault {
            Fault::SheetDiffers { field, .. } | Fault::PieceDiffers { field, .. } => {
                ["grain", "print", "back", "rough_edges", "fold"].contains(field)
            }
            _ => false,
        })
    };
    assert!(!differs(|_| ()));
    assert!(differs(|made| made.plan.sheets[0].grain = Some(Axis::Width)));
    assert!(differs(|made| made.plan.sheets[0].print = Print::TwoWay));
    assert!(differs(|made| made.plan.sheets[0].back = Back::Tumbled));
    assert!(differs(|made| made.plan.sheets[0].rough_edges = RoughEdges::Two));
    assert!(differs(|made| made.plan.pieces[0].fold = Some(Axis::Height)));
    assert!(differs(|made| made.bill.pieces[0].grain_along = Some(Axis::Height)));
}

/// Alone, a plan is held against what it records: a strict rule reads its grain and its folds.
#[test]
fn alone_folds_lie_along_the_grain_that_is_recorded() {
    for (grain, fold) in [(Axis::Width, Axis::Width), (Axis::Width, Axis::Height)] {
        let mut made = lying_turned();
        made.workshop.grain = GrainRule::Strict;
        made.plan.sheets[0].grain = Some(grain);
        made.plan.pieces[0].fold = Some(fold);
        let faults = check_alone(&made.plan, &made.workshop).err().unwrap_or_default();
        let told = faults.iter().any(|fault| matches!(fault, Fault::LeafGrain { .. }));
        assert_eq!(told, grain == fold, "the piece lies turned: {faults:?}");
    }
}

/// A plan alone tells of turns by what it says of its pieces.
#[test]
fn alone_a_plan_has_only_its_own_word_on_turns() {
    let mut made = lying_turned();
    assert_eq!(check_alone(&made.plan, &made.workshop).map(drop), Ok(()));
    made.plan.pieces[0].turn = Turn::Half;
    let faults = check_alone(&made.plan, &made.workshop).unwrap_err();
    assert!(matches!(faults[..], [Fault::LeafTurned { .. }]), "{faults:?}");
}
