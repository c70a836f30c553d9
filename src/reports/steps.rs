//! The cuts of a run and the pieces they bring, as rows.

use super::Batch;
use super::drawing::Drawing;
use super::lists::score_lines;
use super::report::{PieceRow, RunReport, Setting, Step, YieldKind, YieldRow};
use crate::measure::{LengthStyle, Size};
use crate::plan::PlannedPiece;
use crate::schedule::{CutStep, Outcome, RunCuts, Yield};

/// One run with its drawing.
pub fn run(batch: &Batch, cuts: &RunCuts, drawing: Drawing) -> RunReport {
    let style = batch.workshop.style();
    RunReport {
        name: cuts.run.clone(),
        sheet: cuts.sheet.clone(),
        paper: cuts.paper.clone(),
        size: style.size(cuts.size),
        sheets: cuts.sheets,
        lift: cuts.lift,
        drawing,
    }
}

/// All cuts in order, those of one gauge setting together.
pub fn cutting(batch: &Batch) -> Vec<Setting> {
    let style = batch.workshop.style();
    let mut settings: Vec<Setting> = Vec::new();
    for (run, cut) in batch.schedule.in_order() {
        let step = step((run, cut), style);
        match settings.last_mut().filter(|_| !cut.new_setting) {
            Some(same) => same.steps.push(step),
            None => settings.push(Setting {
                gauge: step.gauge.clone(),
                off_graduation: cut.off_graduation,
                steps: vec![step],
            }),
        }
    }
    settings
}

fn step((run, cut): (&RunCuts, &CutStep), style: LengthStyle) -> Step {
    let first = run.cuts.first().map(|first| first.number);
    Step {
        number: cut.number,
        run: run.run.clone(),
        sheet: run.sheet.clone(),
        fetch: (first == Some(cut.number)).then_some(run.sheets),
        squaring: cut.squaring,
        stack: cut.from.letter.clone(),
        stack_size: style.size(cut.from.size),
        stack_count: cut.from.count,
        across: cut.across,
        gauge: style.with_unit(cut.gauge),
        new_setting: cut.new_setting,
        cuts: cut.cuts_per_lift,
        lifts: cut.lifts,
        // An only lift is as large as its stack: nothing to add.
        short_lift: cut.short_lift.filter(|_| cut.lifts > 1),
        strokes: cut.cuts_per_lift * cut.lifts,
        yields: cut.yields.iter().map(|outcome| yielded(outcome, style)).collect(),
    }
}

fn yielded(outcome: &Yield, style: LengthStyle) -> YieldRow {
    let (kind, name) = match &outcome.what {
        Outcome::Stack(letter) => (YieldKind::Stack, letter.as_str()),
        Outcome::Piece(id, _) => (YieldKind::Piece, id.as_str()),
        Outcome::Offcut(id) => (YieldKind::Drawer, id.as_str()),
        Outcome::Waste => (YieldKind::Waste, ""),
    };
    YieldRow { kind, name: name.to_owned(), size: style.size(outcome.size), count: outcome.count }
}

/// All pieces of the plan, in the order of the bill.
pub fn pieces(batch: &Batch) -> Vec<PieceRow> {
    let mut rows: Vec<(usize, PieceRow)> = batch
        .plan
        .pieces
        .iter()
        .map(|piece| (rank(batch, &piece.id), piece_row(batch, piece)))
        .collect();
    rows.sort_by_key(|(rank, _)| *rank);
    rows.into_iter().map(|(_, row)| row).collect()
}

fn rank(batch: &Batch, id: &str) -> usize {
    let pieces = &batch.bill.pieces;
    pieces.iter().position(|piece| piece.id == id).unwrap_or(pieces.len())
}

fn piece_row(batch: &Batch, piece: &PlannedPiece) -> PieceRow {
    let style = batch.workshop.style();
    PieceRow {
        piece: piece.id.clone(),
        line: piece.line.clone(),
        part: piece.part,
        papers: piece.papers.clone(),
        sides: (style.with_unit(piece.width), style.with_unit(piece.height)),
        size: style.size(Size::new(piece.width, piece.height)),
        turn: piece.turn,
        need: piece.need,
        spares: piece.spares,
        cut: piece.cut,
        scores: score_lines(&piece.scores, style),
        fill: fill(batch, &piece.id),
    }
}

/// Tint and hatch of a piece: those of the first order line that needs it.
pub fn fill(batch: &Batch, piece: &str) -> usize {
    let share = batch
        .bill
        .pieces
        .iter()
        .find(|known| known.id == piece)
        .and_then(|known| known.shares.first());
    let line = share.map(|share| share.line.as_str()).unwrap_or_default();
    batch.order.lines.iter().position(|known| known.name.value == line).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture;
    use crate::reports::report::Report;

    #[test]
    fn a_step_counts_strokes_over_its_lifts() {
        let report = Report::of(&fixture::fair().batch()).unwrap();
        let first = &report.cutting[0].steps[0];
        assert_eq!((first.lifts, first.short_lift, first.strokes), (2, Some(2), 2));
        assert_eq!(first.gauge, "7 in");
    }

    #[test]
    fn an_only_lift_is_not_called_a_short_one() {
        let mut made = fixture::lesson();
        made.schedule.runs[0].cuts[0].short_lift = Some(1);
        let report = Report::of(&made.batch()).unwrap();
        assert_eq!(report.cutting[0].steps[0].short_lift, None);
    }

    #[test]
    fn pieces_stand_in_the_order_of_the_bill() {
        let mut made = fixture::fair();
        made.bill.pieces.reverse();
        let rows = pieces(&made.batch());
        let names: Vec<&str> = rows.iter().map(|row| row.piece.as_str()).collect();
        assert_eq!(names, ["place.base", "invite.liner", "invite.envelope", "invite.base"]);
    }

    #[test]
    fn all_parts_of_a_line_share_its_fill() {
        let made = fixture::fair();
        let fills: Vec<usize> = pieces(&made.batch()).iter().map(|row| row.fill).collect();
        assert_eq!(fills, [0, 0, 0, 1]);
    }
}
