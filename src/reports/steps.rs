//! The cuts of a run and the pieces they bring, as rows.

use super::Batch;
use super::answers::duration;
use super::lists::score_lines;
use super::picture::Picture;
use super::report::{PieceRow, RunReport, Setting, Step, YieldKind, YieldRow};
use super::ups::is_nearly_square;
use crate::diagnostics::listed;
use crate::folds::Score;
use crate::measure::{LengthStyle, Size};
use crate::orders::OrderLine;
use crate::pieces::{Part, Piece, scores_upright, upright};
use crate::plan::PlannedPiece;
use crate::schedule::{CutStep, Edge, Fate, RunCuts, Yield};
use std::collections::{BTreeMap, BTreeSet};

/// One run with its drawing.
pub fn run(batch: &Batch, cuts: &RunCuts, picture: Picture) -> RunReport {
    let style = batch.made.job.workshop.style();
    RunReport {
        name: cuts.run.clone(),
        sheet: cuts.sheet.clone(),
        paper: cuts.paper.clone(),
        size: style.size(cuts.size),
        sheets: cuts.sheets,
        lift: cuts.lift,
        picture,
    }
}

/// All cuts in order, those of one gauge setting together.
pub fn cutting(batch: &Batch) -> Vec<Setting> {
    let style = batch.made.job.workshop.style();
    let ways = Lists::of(batch);
    let rates = &batch.made.job.workshop.rates;
    let mut settings: Vec<Setting> = Vec::new();
    for (run, cut) in batch.made.schedule.in_order() {
        let step = step(run, cut, &ways, style);
        match settings.last_mut().filter(|_| !cut.new_setting) {
            Some(same) => same.steps.push(step),
            None => settings.push(Setting {
                gauge: step.gauge.clone(),
                off_graduation: cut.off_graduation,
                time: String::new(),
                steps: vec![step],
            }),
        }
    }
    let cuts = batch.made.schedule.in_order().into_iter();
    let seconds: BTreeMap<u32, u64> =
        cuts.map(|(_, cut)| (cut.number, cut.seconds(rates))).collect();
    for setting in &mut settings {
        setting.time = duration(setting.steps.iter().map(|step| seconds[&step.number]).sum());
    }
    settings
}

fn step(run: &RunCuts, cut: &CutStep, ways: &Lists, style: LengthStyle) -> Step {
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
        // Sheets that are fetched carry no mark yet.
        marked: first != Some(cut.number) && is_nearly_square(cut.from.size),
        across: cut.across,
        fence: edge(cut.fence),
        side_lay: cut.side_lay.map(edge),
        gauge: style.with_unit(cut.gauge),
        new_setting: cut.new_setting,
        cuts: cut.cuts_per_lift,
        lifts: cut.lifts,
        // An only lift is as large as its stack: nothing to add.
        short_lift: cut.short_lift.filter(|_| cut.lifts > 1),
        strokes: cut.cuts_per_lift * cut.lifts,
        yields: cut.yields.iter().map(|outcome| yielded(&run.run, outcome, ways, style)).collect(),
    }
}

const fn edge(edge: Edge) -> &'static str {
    match edge {
        Edge::Left => "left",
        Edge::Right => "right",
        Edge::Top => "top",
        Edge::Bottom => "bottom",
    }
}

/// Where everything goes that comes from a cut.
struct Lists<'a> {
    /// The step that takes a stack, by run and letter.
    taken: BTreeMap<(&'a str, &'a str), u32>,
    /// The stage that takes a piece next.
    stages: BTreeMap<&'a str, &'static str>,
}

/// What comes next for a finished piece: the name of its next stage, or `pack`.
pub fn next_stage(batch: &Batch, piece: &str) -> String {
    Lists::of(batch).next("", &Fate::Piece(piece.to_owned(), false))
}

/// The names of some lines.
fn named<'a>(batch: &Batch<'a>, is_meant: impl Fn(&OrderLine) -> bool) -> BTreeSet<&'a str> {
    let lines = batch.made.job.order.lines.iter().filter(|line| is_meant(line));
    lines.map(|line| line.name.value.as_str()).collect()
}

impl<'a> Lists<'a> {
    fn of(batch: &Batch<'a>) -> Lists<'a> {
        let steps = batch.made.schedule.in_order().into_iter();
        let taken =
            steps.map(|(run, cut)| ((run.run.as_str(), cut.from.letter.as_str()), cut.number));
        // What a card with layers needs besides them is glued, too.
        let layered = |line: &OrderLine| {
            line.liner.is_some() || !line.mats.is_empty() || line.extras.band.is_some()
        };
        let layered = named(batch, layered);
        // An insert is laid in before the band goes round.
        let banded = named(batch, |line| line.extras.band.is_some());
        let of_any = |piece: &Piece, lines: &BTreeSet<&str>| {
            piece.shares.iter().any(|share| lines.contains(share.line.as_str()))
        };
        let glued = batch.made.job.bill.pieces.iter().filter_map(|piece| match piece.part {
            Part::Card => of_any(piece, &layered).then_some((piece, "glue")),
            Part::Insert => of_any(piece, &banded).then_some((piece, "lay in with the band")),
            _ => None,
        });
        let stuck = batch.made.schedule.sticking.iter().map(|step| step.piece.as_str());
        let mut stages: BTreeMap<&str, &'static str> = BTreeMap::new();
        stages.extend(glued.map(|(piece, stage)| (piece.id.as_str(), stage)));
        stages.extend(stuck.map(|piece| (piece, "glue")));
        let finished = batch.made.schedule.finishing.iter();
        stages.extend(finished.map(|step| (step.piece.as_str(), "finish")));
        let scored = batch.made.schedule.scoring.iter();
        stages.extend(scored.map(|step| (step.piece.as_str(), "score")));
        Lists { taken: taken.collect(), stages }
    }

    fn next(&self, run: &str, what: &Fate) -> String {
        match what {
            Fate::Stack(letter) => {
                let step = self.taken.get(&(run, letter.as_str()));
                step.map(|step| format!("step {step}")).unwrap_or_default()
            }
            Fate::Piece(id, _) => {
                self.stages.get(id.as_str()).copied().unwrap_or("pack").to_owned()
            }
            Fate::Offcut(_) => "drawer".to_owned(),
            Fate::Waste => String::new(),
        }
    }
}

fn yielded(run: &str, outcome: &Yield, ways: &Lists, style: LengthStyle) -> YieldRow {
    let (kind, name) = match &outcome.what {
        Fate::Stack(letter) => (YieldKind::Stack, letter.as_str()),
        Fate::Piece(id, _) => (YieldKind::Piece, id.as_str()),
        Fate::Offcut(id) => (YieldKind::Drawer, id.as_str()),
        Fate::Waste => (YieldKind::Waste, ""),
    };
    YieldRow {
        kind,
        name: name.to_owned(),
        size: style.size(outcome.size),
        count: outcome.count,
        mark: kind == YieldKind::Stack && is_nearly_square(outcome.size),
        next: ways.next(run, &outcome.what),
    }
}

/// All pieces of the plan, in the order of the bill.
pub fn pieces(batch: &Batch) -> Vec<PieceRow> {
    let mut rows: Vec<(usize, PieceRow)> = batch
        .made
        .plan
        .pieces
        .iter()
        .map(|piece| (rank(batch, &piece.id), piece_row(batch, piece)))
        .collect();
    rows.sort_by_key(|(rank, _)| *rank);
    rows.into_iter().map(|(_, row)| row).collect()
}

fn rank(batch: &Batch, id: &str) -> usize {
    let pieces = &batch.made.job.bill.pieces;
    pieces.iter().position(|piece| piece.id == id).unwrap_or(pieces.len())
}

fn piece_row(batch: &Batch, piece: &PlannedPiece) -> PieceRow {
    let style = batch.made.job.workshop.style();
    PieceRow {
        piece: piece.id.clone(),
        line: piece.line.clone(),
        part: piece.part,
        papers: piece.papers.clone(),
        colours: colours(batch, piece),
        sides: (style.with_unit(piece.width), style.with_unit(piece.height)),
        size: style.size(Size::new(piece.width, piece.height)),
        turn: piece.turn,
        need: piece.need,
        spares: piece.spares,
        done: piece.done,
        spoiled: piece.spoiled,
        cut: piece.cut,
        scores: score_lines(&scores(batch, &piece.id), style),
        fill: fill(batch, &piece.id),
    }
}

/// Of which papers a piece is cut, and how many of each where there are several.
fn colours(batch: &Batch, piece: &PlannedPiece) -> String {
    let cut = batch.made.plan.cut_by_paper(&piece.id);
    match cut.len() {
        0 => piece.papers.join(" or "),
        1 => cut.into_keys().collect(),
        _ => listed(&cut.iter().map(|(paper, n)| format!("{n} of {paper}")).collect::<Vec<_>>()),
    }
}

/// The score lines of a piece, measured with its design upright.
pub fn scores(batch: &Batch, piece: &str) -> Vec<Score> {
    let known = batch.made.job.bill.pieces.iter().find(|known| known.id == piece);
    known
        .map(|known| scores_upright(known, upright(known, &batch.made.job.stock)))
        .unwrap_or_default()
}

/// Tint and hatch of a piece: those of the first order line that needs it.
pub fn fill(batch: &Batch, piece: &str) -> usize {
    let share = batch
        .made
        .job
        .bill
        .pieces
        .iter()
        .find(|known| known.id == piece)
        .and_then(|known| known.shares.first());
    let line = share.map(|share| share.line.as_str()).unwrap_or_default();
    batch.made.job.order.lines.iter().position(|known| known.name.value == line).unwrap_or_default()
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
        // 20 s to set the gauge, 6 s a stroke.
        let strokes: u64 = report.cutting[0].steps.iter().map(|step| step.strokes).sum();
        assert_eq!(report.cutting[0].time, duration(20 + 6 * strokes));
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
        made.job.bill.pieces.reverse();
        let rows = pieces(&made.batch());
        let names: Vec<&str> = rows.iter().map(|row| row.piece.as_str()).collect();
        assert_eq!(names, ["place.card", "invite.liner", "invite.envelope", "invite.card"]);
    }

    #[test]
    fn all_parts_of_a_line_share_its_fill() {
        let made = fixture::fair();
        let fills: Vec<usize> = pieces(&made.batch()).iter().map(|row| row.fill).collect();
        assert_eq!(fills, [0, 0, 0, 1]);
    }
}
