//! What follows the trimmer, a kind of piece at a time: score, fold, glue, make up, pack.

use super::{Doing, Timed};
use crate::folds::{self, Blank, PanelSpan, Score, mat_face};
use crate::measure::{Axis, LengthStyle, Size};
use crate::orders::{Nesting, OrderLine};
use crate::pieces::{Part, Piece};
use crate::reports::Batch;
use crate::reports::picture::blank::{self, Outline, PieceShapes};
use crate::reports::report::{PackRow, WorkList};
use crate::reports::ups::is_nearly_square;
use crate::reports::{lists, steps, words};
use crate::schedule::{PieceStep, ScoreStep};

/// Work on pieces of one kind, or packing.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkStop {
    /// The box of the schedule that is ticked with it.
    pub tick: String,
    /// What is done, in a few words.
    pub heading: String,
    /// What is said of it below.
    pub about: String,
    /// The pieces that may be spoiled, by id.
    pub piece: Option<String>,
    /// How many there are.
    pub count: u64,
    /// What to mind where a blade is used without the trimmer.
    pub cautions: Vec<&'static str>,
    /// How it is done.
    pub said: Vec<String>,
    /// What a finished set holds.
    pub holds: Vec<String>,
    /// What to do, one after the other.
    pub steps: Vec<String>,
    /// What the picture shows, in a few words.
    pub title: String,
    /// Whether its score lines are numbered, as its steps are.
    pub is_scored: bool,
    /// What lies on the table.
    pub panels: Vec<PanelView>,
}

/// A piece on the table, opened out.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelView {
    /// What it is called.
    pub name: String,
    /// Its size.
    pub size: Size,
    /// Its score lines, numbered from 1.
    pub lines: Vec<Score>,
    /// Tint and hatch of its order line.
    pub fill: usize,
    /// What it is laid on, in the middle.
    pub host: Option<HostView>,
    /// Its shape, or its panels.
    pub opened: Outline,
    /// Whether it is cut out by its shape.
    pub is_cut_out: bool,
    /// How long its sides are, where that is asked.
    pub sides: Option<SideLengths>,
}

/// How long the sides of a piece are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SideLengths {
    /// From left to right.
    pub width: String,
    /// From top to bottom.
    pub height: String,
}

/// What a layer is laid on.
#[derive(Clone, Debug, PartialEq)]
pub struct HostView {
    /// The panel in whose middle it lies; else it lies in the middle of all of it.
    pub panel: Option<HostPanel>,
    /// The halves of an open card, inner side up.
    pub opened: Outline,
    /// Its size.
    pub size: Size,
    /// Its score lines.
    pub lines: Vec<Score>,
}

/// A panel of an open card, inner side up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HostPanel {
    /// The direction in which the card opens.
    pub across: Axis,
    /// Where the panel lies in that direction.
    pub span: PanelSpan,
}

/// Pieces as they lie on the table.
struct WorkTable<'a> {
    batch: &'a Batch<'a>,
    shapes: PieceShapes<'a>,
    nesting: Nesting<'a>,
}

/// All of it, in the order of the work.
pub fn stops(batch: &Batch) -> Vec<Timed> {
    let job = &batch.made.job;
    let (shapes, nesting) = (PieceShapes::of(job), Nesting::of(&job.order));
    let table = &WorkTable { batch, shapes, nesting };
    let mut stops = scoring(table);
    let schedule = &batch.made.schedule;
    for list in lists::work(batch) {
        let steps = match list.id {
            "fold" => &schedule.folding,
            "finish" => &schedule.finishing,
            "glue" => &schedule.sticking,
            "make-the-envelopes" => &schedule.envelopes,
            _ => &schedule.boxes,
        };
        stops.extend(work(table, &list, steps));
    }
    stops.extend(packing(table));
    stops
}

/// `Fold: 2 of 7`.
fn place(stage: &str, number: usize, of: usize) -> String {
    format!("{stage}: {number} of {of}")
}

fn scoring(table: &WorkTable) -> Vec<Timed> {
    let batch = table.batch;
    let style = batch.made.job.workshop.style();
    let all = &batch.made.schedule.scoring;
    // Boxes of the schedule count a setting at a time.
    let settings = all.chunk_by(|one, other| one.is_like(other));
    let steps = settings.zip(1..).flat_map(|(steps, setting)| {
        steps.iter().zip(1..).map(move |(step, row)| (step, format!("score-{setting}-{row}")))
    });
    let rate = batch.made.job.workshop.rates.score;
    steps
        .zip(1..)
        .map(|((step, tick), number)| Timed {
            place: place("Score", number, all.len()),
            seconds: rate * step.strokes() * step.count,
            task: Doing::Work(Box::new(WorkStop { tick, ..scored(table, step, style) })),
        })
        .collect()
}

fn scored(table: &WorkTable, step: &ScoreStep, style: LengthStyle) -> WorkStop {
    let sides = SideLengths {
        width: style.with_unit(step.size.width),
        height: style.with_unit(step.size.height),
    };
    let square = if is_nearly_square(step.size) { " (nearly square: measure it)" } else { "" };
    let about = format!("lay it {} across, {} high{square}", sides.width, sides.height);
    let panel = piece(table.batch, &step.piece).map(|it| PanelView {
        lines: step.scores.clone(),
        sides: Some(sides),
        ..table.panel(it, String::new())
    });
    WorkStop {
        tick: String::new(),
        heading: format!("Score {} {}", step.count, step.piece),
        about,
        piece: Some(step.piece.clone()),
        count: step.count,
        cautions: Vec::new(),
        said: vec![words::score(step.part).to_owned()],
        holds: Vec::new(),
        steps: lists::scored_at(step, style),
        title: format!("{} with its score lines, outer side up", step.piece),
        is_scored: true,
        panels: panel.into_iter().collect(),
    }
}

fn work(table: &WorkTable, list: &WorkList, steps: &[PieceStep]) -> Vec<Timed> {
    let batch = table.batch;
    let style = batch.made.job.workshop.style();
    steps
        .iter()
        .zip(1..)
        .map(|(step, number)| Timed {
            place: place(list.title, number, steps.len()),
            seconds: step.seconds,
            task: Doing::Work(Box::new(WorkStop {
                tick: format!("{}-{number}", list.id),
                heading: format!("{} {} {}", verb(list), step.count, step.piece),
                about: style.size(step.size),
                piece: Some(step.piece.clone()),
                count: step.count,
                cautions: if is_by_hand(list, step) { words::BY_HAND.to_vec() } else { Vec::new() },
                said: told(list, step, number == steps.len()),
                holds: Vec::new(),
                steps: step.what.split("; ").map(str::to_owned).collect(),
                title: step.piece.clone(),
                is_scored: false,
                panels: piece(batch, &step.piece)
                    .map(|it| table.lying(it, step, list.id == "glue"))
                    .into_iter()
                    .collect(),
            })),
        })
        .collect()
}

/// What is said of a step: where its shape is to be seen, and after the last one what is waited for.
fn told(list: &WorkList, step: &PieceStep, is_last: bool) -> Vec<String> {
    let shape = lists::has_shape(step.part).then(|| words::FULL_SIZE.to_owned());
    let then = Some(list.then.clone()).filter(|then| is_last && !then.is_empty());
    shape.into_iter().chain(then).collect()
}

/// Of what is glued, only the liner of an envelope is trimmed.
fn is_by_hand(list: &WorkList, step: &PieceStep) -> bool {
    list.by_hand && (!step.part.is_stuck() || step.part == Part::EnvelopeLiner)
}

/// What is done, before how many of what.
fn verb(list: &WorkList) -> &'static str {
    match list.id {
        "fold" | "finish" | "glue" => list.title,
        _ => "Make up",
    }
}

fn piece<'a>(batch: &Batch<'a>, id: &str) -> Option<&'a Piece> {
    batch.made.job.bill.pieces.iter().find(|piece| piece.id == id)
}

/// The first order line that needs a piece.
fn line<'a>(batch: &Batch<'a>, piece: &Piece) -> Option<&'a OrderLine> {
    let share = piece.shares.first()?;
    batch.made.job.order.lines.iter().find(|line| line.name.value == share.line)
}

impl WorkTable<'_> {
    fn panel(&self, piece: &Piece, name: String) -> PanelView {
        PanelView {
            name,
            size: piece.size,
            lines: steps::scores(self.batch, &piece.id),
            fill: steps::fill(self.batch, &piece.id),
            host: None,
            opened: self.shapes.opened(piece),
            is_cut_out: false,
            sides: None,
        }
    }

    /// A piece, and the card that it is glued to, if it is glued now.
    fn lying(&self, piece: &Piece, step: &PieceStep, is_glued: bool) -> PanelView {
        let host = match step.part {
            part if !part.is_stuck() || !is_glued => None,
            Part::Band | Part::EnvelopeLiner => None,
            _ => host(self.batch, piece),
        };
        let is_cut_out = lists::has_shape(step.part);
        PanelView { host, is_cut_out, ..self.panel(piece, String::new()) }
    }

    /// The pieces of a finished set, those of sets that lie in its envelope too: what is called `of` such a line is named.
    fn set(&self, line: &str, of: &str) -> Vec<PanelView> {
        let pieces = self.batch.made.job.bill.pieces.iter();
        let own = pieces.filter(|piece| piece.shares.iter().any(|share| share.line == line));
        let named = |piece: &Piece| format!("{of} {}", piece.part.name()).trim().to_owned();
        let mut panels: Vec<PanelView> = own.map(|it| self.panel(it, named(it))).collect();
        for inner in self.nesting.inside(line) {
            let name = inner.name.value.as_str();
            panels.extend(self.set(name, name));
        }
        panels
    }
}

/// A liner lies in the opened card, a folded one over all of it and a flat one on one panel; a mat on its front.
fn host(batch: &Batch, layer: &Piece) -> Option<HostView> {
    let line = line(batch, layer)?;
    let is_base = |piece: &&Piece| {
        piece.part == Part::Card && piece.shares.iter().any(|share| share.line == line.name.value)
    };
    let base = batch.made.job.bill.pieces.iter().find(is_base);
    let base = base.filter(|_| layer.part == Part::Liner && line.fold.opens().is_some());
    Some(match base {
        Some(card) => {
            let lines = steps::scores(batch, &card.id);
            let opened = blank::inner(card.size, &lines);
            let lying = Blank { size: card.size, scores: lines, grain_along: None };
            HostView {
                panel: host_panel(line, &lying),
                opened,
                size: card.size,
                lines: lying.scores,
            }
        }
        None => {
            let style = batch.made.job.workshop.style();
            let size = match layer.part {
                Part::Mat => mat_face(line.card.value, line.fold, style),
                _ => line.card.value,
            };
            let opened = blank::inner(size, &[]);
            HostView { panel: None, opened, size, lines: Vec::new() }
        }
    })
    .filter(|host| layer.size.width <= host.size.width && layer.size.height <= host.size.height)
}

/// The panel that the liner of a line lies on.
fn host_panel(line: &OrderLine, opened: &Blank) -> Option<HostPanel> {
    let across = line.fold.opens()?;
    let panel = line.liner.as_ref()?.kind.panel()?;
    let span = folds::inner_panels(opened, across).get(panel).copied()?;
    Some(HostPanel { across, span })
}

/// Most lines that are packed at stops of their own.
const MOST_PACKED: usize = 100;

fn packing(table: &WorkTable) -> Vec<Timed> {
    let batch = table.batch;
    let rows = lists::packing(batch);
    let (of, rate) = (rows.len(), batch.made.job.workshop.rates.pack);
    if of > MOST_PACKED {
        let seconds = rows.iter().map(|row| rate * row.count + row.seconds).sum();
        return vec![Timed { place: "Pack".to_owned(), seconds, task: Doing::Section("pack") }];
    }
    rows.into_iter()
        .zip(1..)
        .map(|(row, number)| Timed {
            place: place("Pack", number, of),
            seconds: rate * row.count + row.seconds,
            task: Doing::Work(Box::new(packed(table, row, number))),
        })
        .collect()
}

fn packed(table: &WorkTable, row: PackRow, number: usize) -> WorkStop {
    let due = row.due.map(|due| format!("due {due}"));
    let note = Some(row.note).filter(|note| !note.is_empty());
    let about = [due, note.map(|note| format!("note on the order, not a step here: {note}"))];
    WorkStop {
        tick: format!("pack-{number}"),
        heading: format!("Pack {}: {}", row.line, row.count),
        about: about.into_iter().flatten().collect::<Vec<_>>().join(", "),
        piece: None,
        count: row.count,
        cautions: Vec::new(),
        said: Vec::new(),
        holds: row.contents,
        steps: row.tasks,
        title: format!("One {}, opened out", row.line),
        is_scored: false,
        panels: table.set(&row.line, ""),
    }
}
