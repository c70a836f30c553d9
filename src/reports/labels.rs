//! What is written on the stacks of the bench, on the strips for the drawer, and on finished pieces.

use super::lists::runs_of;
use super::report::Label;
use super::ups::is_nearly_square;
use super::{Batch, ReportError, steps};
use crate::diagnostics::counted;
use crate::measure::{Axis, Size};
use crate::plan::PlannedPiece;
use crate::schedule::{CutStep, RunCuts};
use crate::stock::{Back, Print, Sheet};
use std::collections::BTreeSet;

/// Labels of all stacks in the order in which they are taken, then of all pieces, then of all offcuts that are kept.
///
/// # Errors
/// A run is cut from a sheet that is not in the stock.
pub fn labels(batch: &Batch) -> Result<Vec<Label>, ReportError> {
    let mut seen = BTreeSet::new();
    let mut labels = Vec::new();
    for (run, cut) in batch.made.schedule.in_order() {
        if seen.insert((&run.run, &cut.from.letter)) {
            labels.push(stack(batch, run, cut)?);
        }
    }
    labels.extend(batch.made.plan.pieces.iter().map(|piece| finished(batch, piece)));
    for kept in &batch.made.plan.offcuts {
        let run = batch.made.schedule.runs.iter().find(|run| run.run == kept.run);
        let run = run.ok_or_else(|| ReportError::UnknownRun(kept.run.clone()))?;
        let size = Size::new(kept.width, kept.height);
        let noun = if kept.more_runs.is_empty() { "drawing" } else { "drawings" };
        let mut lines = vec![
            format!(
                "{} of {}, {}",
                kept.count,
                kept.paper,
                batch.made.job.workshop.style().size(size)
            ),
            format!("from {}, {noun} {}", batch.made.plan.order, runs_of(kept)),
        ];
        lines.extend(ways(batch.sheet(&run.sheet)?));
        labels.push(Label { name: kept.id.clone(), lines, size });
    }
    Ok(labels)
}

fn stack(batch: &Batch, run: &RunCuts, cut: &CutStep) -> Result<Label, ReportError> {
    let size = batch.made.job.workshop.style().size(cut.from.size);
    let mut lines = vec![
        format!("{} of {}, {size}", cut.from.count, run.paper),
        format!("drawing {}, to step {}", run.run, cut.number),
    ];
    if is_nearly_square(cut.from.size) {
        lines.push("lay this on upright, as drawn".to_owned());
    }
    lines.extend(ways(batch.sheet(&run.sheet)?));
    Ok(Label { name: cut.from.letter.clone(), lines, size: cut.from.size })
}

/// Of all pieces of a kind, once they are cut.
fn finished(batch: &Batch, piece: &PlannedPiece) -> Label {
    let size = Size::new(piece.width, piece.height);
    let told = batch.made.job.workshop.style().size(size);
    let (have, next) = (piece.cut + piece.done, steps::next_stage(batch, &piece.id));
    let spares = have.saturating_sub(piece.need);
    let lines = vec![
        format!("{have} of {}, {told}", piece.papers.join("|")),
        format!("{} ordered, {}, to {next}", piece.need, counted(spares, "spare")),
    ];
    Label { name: piece.id.clone(), lines, size }
}

/// How the fibres and the design of a sheet lie in its width and height.
fn ways(sheet: &Sheet) -> Vec<String> {
    let grain = sheet.grain.map(|grain| match grain {
        Axis::Width => "grain along the width",
        Axis::Height => "grain along the height",
    });
    let print = match sheet.print {
        Print::Free => None,
        Print::TwoWay => Some("print: either end up"),
        Print::OneWay => Some("print: one way up, width across"),
    };
    let back = match sheet.back {
        Back::Free => None,
        Back::TwoWay => Some("back: either end up"),
        Back::OneWay => Some("back: one way up, turned like a page"),
        Back::Tumbled => Some("back: one way up, turned top to bottom"),
    };
    grain.into_iter().chain(print).chain(back).map(str::to_owned).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture;

    #[test]
    fn stacks_and_strips_have_their_labels() {
        let labels = labels(&fixture::lesson().batch()).unwrap();
        let names: Vec<&str> = labels.iter().map(|label| label.name.as_str()).collect();
        assert_eq!(names[..6], ["A", "B", "C", "D", "E", "F"]);
        assert_eq!(names.last(), Some(&"lesson-01"));
        assert_eq!(labels[1].lines[..2], ["1 of fern, 9 x 4 in", "drawing R1, to step 2"]);
        let kept = labels.last().unwrap();
        assert_eq!(kept.lines[..2], ["1 of fern, 9 x 1 1/4 in", "from lesson, drawing R1"]);
    }

    #[test]
    fn finished_pieces_have_labels_that_say_what_comes_next() {
        let made = fixture::fair();
        let labels = labels(&made.batch()).unwrap();
        let of = |name: &str| &labels.iter().find(|label| label.name == name).unwrap().lines;
        let piece = made.plan.pieces.iter().find(|piece| piece.id == "invite.card").unwrap();
        assert!(of("invite.card")[0].starts_with(&format!("{} of ", piece.cut)));
        assert!(
            of("invite.card")[1].ends_with(", to score")
                && of("invite.liner")[1].ends_with(", to glue")
        );
    }

    #[test]
    fn a_stack_that_is_cut_twice_has_one_label() {
        let made = fixture::fair();
        let labels = labels(&made.batch()).unwrap();
        let stacks = labels.len() - made.plan.offcuts.len() - made.plan.pieces.len();
        let steps: usize = made.schedule.runs.iter().map(|run| run.cuts.len()).sum();
        assert!(stacks > 0 && stacks <= steps);
    }
}
