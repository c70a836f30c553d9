//! Batch after batch from one shelf: nothing comes from nowhere, nothing goes nowhere.

use crate::bench::batches::{Batch, Extent, fitted, makeable};
use crate::bench::cases;
use crate::bench::workroom::Workroom;
use cardwright::batch::{Effort, Options};
use cardwright::cuts::Tree;
use cardwright::measure::{Area, Size};
use cardwright::plan::{Leaf, Plan};
use cardwright::settling;
use cardwright::shelf::{Event, area};
use cardwright::stock::SheetKind;
use proptest::prelude::*;
use std::collections::BTreeSet;

/// What a plan buys, and what it turns into pieces, waste and dust.
fn come_and_gone(plan: &Plan) -> (Area, Area) {
    let bought = plan.sheets.iter().map(|sheet| {
        Size::new(sheet.width, sheet.height).area() * (sheet.packs_bought * sheet.pack)
    });
    let totals = &plan.totals;
    (bought.sum(), totals.piece_area + totals.waste_area + totals.blade_area)
}

const SMALL: Extent =
    Extent { lines: 3, kinds: 2, most_count: 4, piece: (2, 9), sheet: (6, 20), most_blade: 1 };

proptest! {
    #![proptest_config(cases(24))]

    /// Ten batches in a row, planned and settled, and all taken back.
    #[test]
    fn ten_batches_in_a_row(orders in prop::collection::vec(makeable(SMALL), 10)) {
        let first = &orders[0];
        let room = Workroom::with(&first.inputs());
        let begin = room.shelf().bytes;
        let options = Options { effort: Effort::Quick, threads: Some(1), ..Options::default() };
        let mut reports = Vec::new();
        for (number, order) in orders.iter().enumerate() {
            // Its cards, on the papers and the bench of the first.
            let order = fitted(Batch { lines: order.lines.clone(), ..first.clone() });
            let mut order = order.inputs().orders.remove(0);
            order.name = format!("b{number}.csv");
            let Some((made, report)) = room.planned(order, &options) else { continue };
            let before = area(&room.stock());
            room.settle(&report).map_err(|trouble| TestCaseError::fail(format!("{trouble:?}")))?;
            let (come, gone) = come_and_gone(&made.plan);
            prop_assert_eq!(before + come, area(&room.stock()) + gone);
            reports.push((made.plan, report));
        }
        // Where too few are made, one batch finds the shelf as the person left it.
        prop_assume!(reports.len() >= 5);
        // Every offcut was there at the beginning, or a run has cut it.
        let journal = room.shelf().journal;
        let mut known: BTreeSet<String> =
            first.offcuts.iter().map(|offcut| offcut.name.clone()).collect();
        for entry in journal.entries() {
            let Event::Settled(settled) = &entry.event else { continue };
            let (plan, _) = reports.iter().find(|(plan, _)| plan.order == settled.batch).unwrap();
            for kept in &settled.kept {
                let run = plan.runs.iter().find(|run| run.id == kept.run).unwrap();
                let is_it = |leaf: &Leaf| matches!(leaf, Leaf::Offcut(id) if *id == kept.planned);
                let cut = run.layout.leaves().any(is_it);
                prop_assert!(cut, "{} of {}", kept.planned, kept.run);
                known.insert(kept.offcut.clone());
            }
        }
        for sheet in room.stock().sheets.iter().filter(|it| it.kind == SheetKind::Offcut) {
            prop_assert!(known.contains(&sheet.id), "{} came from nowhere", sheet.id);
        }
        // The journal alone leads to the files.
        prop_assert_eq!(journal.texts(), room.shelf().texts().ok().filter(|_| !reports.is_empty()));
        for (_, report) in reports.iter().rev() {
            let on = "2031-05-10".parse().unwrap();
            settling::undo(report, on, &mut room.shelf())
                .map_err(|trouble| TestCaseError::fail(format!("{trouble:?}")))?;
        }
        prop_assert_eq!(room.shelf().bytes, begin);
    }
}
