//! What holds for every schedule.

use super::fixtures::{cuts, plan, workshop};
use super::scissors::cut_up;
use super::simulation::{Table, expected, play, shown};
use super::trees::{Tree, grow, squared};
use crate::measure::{Length, Size};
use crate::schedule::strokes;
use crate::stock::{Sheet, SheetKind};
use crate::workshop::Workshop;
use proptest::prelude::*;

/// Decisions of a tree, its plate's sides in mm.
pub type Shape = (Vec<u8>, i64, i64);

pub fn shapes() -> impl Strategy<Value = Shape> {
    let choices = prop::collection::vec(any::<u8>(), 0..40);
    (choices, 40_i64..160, prop_oneof![Just(100_i64), 40_i64..160])
}

pub fn tree((choices, width, height): Shape, blade: i64) -> Tree {
    let size = Size::new(Length::from_mm(width), Length::from_mm(height));
    grow(size, Length::from_mm(blade), &mut choices.into_iter())
}

pub fn bench(blade: i64, squaring: i64, lift: u64) -> Workshop {
    let mut workshop = workshop();
    workshop.trimmer.blade = Length::from_mm(blade);
    workshop.trimmer.squaring = Length::from_mm(squaring);
    workshop.trimmer.lift.sheets = Some(lift);
    workshop
}

/// A sheet of which nothing is known but what it is.
fn sheet(kind: SheetKind) -> Sheet {
    Sheet { kind, ..Sheet::plain("", "", Size::new(Length::ZERO, Length::ZERO)) }
}

/// Which order squares a sheet decides how much of it is waste and how much goes under the blade.
fn pool(mut table: Table) -> Table {
    table.waste += std::mem::take(&mut table.blade);
    table
}

/// The narrowest plate of a tree that is cut.
fn narrowest(tree: &Tree) -> Length {
    use super::trees::Form;
    match &tree.form {
        Form::Leaf(_) => Length::MAX,
        Form::Cut(axis, parts) => {
            parts.iter().map(narrowest).fold(tree.size.along(*axis), Ord::min)
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn played_with_real_stacks_it_yields_the_plan(
        shapes in prop::collection::vec((shapes(), 1_u64..40, any::<bool>()), 1..4),
        blade in 0_i64..3,
        squaring in 0_i64..4,
        lift in 1_u64..8,
    ) {
        let runs = shapes.into_iter().map(|(shape, sheets, full)| {
            let inner = tree(shape, blade);
            match full {
                true if squaring > 0 => (squared(inner, squaring, blade).at(0, 0), sheets, SheetKind::Sheet),
                true => (inner.at(0, 0), sheets, SheetKind::Sheet),
                false => (inner.at(0, 0), sheets, SheetKind::Offcut),
            }
        });
        let plan = plan(runs.collect());
        let bench = bench(blade, squaring, lift);
        let schedule = cuts(&plan, &bench);
        let strokes = plan.runs.iter().map(|run| {
            let kind = plan.sheets.iter().find(|sheet| sheet.id == run.sheet).unwrap().kind;
            strokes(&run.layout, run.count, &sheet(kind), &bench.trimmer)
        });
        prop_assert_eq!(strokes.sum::<u64>(), schedule.strokes);
        let blade = Length::from_mm(blade);
        let table = play(&schedule, &plan, blade, Length::ZERO);
        prop_assert_eq!(pool(table), pool(expected(&plan)));
        for (run, cuts) in plan.runs.iter().zip(&schedule.runs) {
            let squarings = cuts.cuts.iter().filter(|step| step.squaring).count();
            let full = plan.sheets.iter().any(|sheet| {
                sheet.id == run.sheet && sheet.kind == SheetKind::Sheet
            });
            prop_assert_eq!(squarings, if full && squaring > 0 { 4 } else { 0 });
        }
    }

    #[test]
    fn the_drawing_cut_along_its_lines_gives_the_plan(
        shape in shapes(),
        blade in 0_i64..3,
        squaring in 0_i64..4,
    ) {
        let inner = tree(shape, blade);
        let layout = if squaring > 0 { squared(inner, squaring, blade) } else { inner };
        let plan = plan(vec![(layout.at(0, 0), 3, SheetKind::Sheet)]);
        let schedule = cuts(&plan, &bench(blade, squaring, 5));
        let blade = Length::from_mm(blade);
        cut_up(&schedule.runs[0], blade);
        let drawn = shown(&schedule.runs[0].places, 3);
        let expected = expected(&plan);
        prop_assert_eq!((drawn.pieces, drawn.offcuts), (expected.pieces, expected.offcuts));
    }

    #[test]
    fn what_the_tree_can_hold_the_schedule_can_hold(shape in shapes(), blade in 0_i64..3) {
        let tree = tree(shape, blade);
        let hold = narrowest(&tree);
        let mut workshop = bench(blade, 0, 5);
        workshop.trimmer.smallest_hold = hold;
        let plan = plan(vec![(tree.at(0, 0), 2, SheetKind::Offcut)]);
        play(&cuts(&plan, &workshop), &plan, Length::from_mm(blade), hold);
    }

    #[test]
    fn it_takes_no_more_settings_than_cuts_and_no_fewer_than_gauges(shape in shapes()) {
        let plan = plan(vec![(tree(shape, 0).at(0, 0), 7, SheetKind::Offcut)]);
        let schedule = cuts(&plan, &workshop());
        let steps = &schedule.runs[0].cuts;
        let gauges: std::collections::BTreeSet<_> = steps.iter().map(|step| step.gauge).collect();
        prop_assert!(schedule.gauge_settings >= gauges.len() as u64);
        prop_assert!(schedule.gauge_settings <= steps.len() as u64);
    }

    #[test]
    fn more_sheets_change_no_setting(shape in shapes(), sheets in 2_u64..1_000_000) {
        let layout = tree(shape, 1).at(0, 0);
        let one = cuts(&plan(vec![(layout.clone(), 1, SheetKind::Offcut)]), &bench(1, 0, 5));
        let many = cuts(&plan(vec![(layout, sheets, SheetKind::Offcut)]), &bench(1, 0, 5));
        prop_assert_eq!(one.gauge_settings, many.gauge_settings);
        prop_assert_eq!(one.runs[0].cuts.len(), many.runs[0].cuts.len());
    }
}
