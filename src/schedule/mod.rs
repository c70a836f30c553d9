//! The work at the bench: cuts in order, then score, fold, stick, pack.
//!
//! In: a [`Plan`] and its [`Job`]. Out: a [`Schedule`].
//! It knows nothing of files.
//!
//! Cutting goes from trees to steps: `strips` makes divisions of two-way cuts, `stacks` lays equal
//! plates together, `cuts` lists one cut for each stack and width, `sequence` orders them for the
//! fewest gauge settings, `arrange` lays the strips of the drawing in that order, `steps` names the
//! stacks and counts lifts and strokes. `settings` only counts gauge settings and strokes, for a plan that
//! is still being improved.
//!
//! The gauge is the distance between fence and knife, and what lies between them is the strip: a plate
//! is divided by setting the gauge to a strip's width, taking off all strips of that width, pushing
//! what is left to the fence again, and so on; the last strip is what remains. The blade takes its
//! width from beyond the gauge. Paper is the same all over, so the order of strips in a division is
//! free.

mod arrange;
mod colours;
mod cuts;
mod finish;
mod folds;
mod grain;
mod marks;
mod moves;
mod packing;
mod reach;
mod replay;
mod sequence;
mod settings;
mod squaring;
mod stacks;
mod steps;
mod strips;
#[cfg(test)]
mod tests;
mod timetable;
mod warnings;

pub use grain::across_grain;
pub use replay::{Astray, Indexed, KeptStrips, OnBench, Replay, UncutSheets, WaitingStack};
pub use sequence::{BenchEffort, OrderNeeds};
pub use settings::{gauges, settings, strokes};
pub use timetable::{Span, Stage, Timetable, timetable};
pub use warnings::warnings;

use crate::folds::Score;
use crate::job::Job;
use crate::measure::{Axis, Length, Size};
use crate::pieces::Part;
use crate::plan::Plan;
use crate::stock::KnownPapers;
use crate::workshop::{Rates, TrimmerWork};
use std::collections::BTreeSet;
use steps::AllCuts;

/// All the work that a plan asks for.
///
/// All runs are cut together, so that cuts with one gauge setting go together; scoring, folding,
/// sticking, envelopes and boxes cover all pieces of the order, spares too; packing covers what was ordered.
pub fn schedule(plan: &Plan, job: &Job) -> Schedule {
    let Job { order, stock, workshop, bill, .. } = job;
    let cut = finish::cut_pieces(&bill.pieces, plan, stock);
    let lines = finish::by_name(order);
    let AllCuts { runs, effort } = steps::cut_all(plan, stock, &workshop.trimmer);
    let mut schedule = Schedule {
        runs,
        effort,
        scoring: finish::scoring(&cut, &KnownPapers::of(stock)),
        folding: finish::folding(&cut, &lines, workshop),
        finishing: finish::finishing(&cut, &lines, workshop),
        sticking: finish::sticking(&cut, &lines, workshop),
        envelopes: finish::envelopes(&cut, workshop),
        boxes: finish::boxes(&cut, workshop),
        packing: packing::packing(plan, job),
        gauge_settings: 0,
        gauges: 0,
        strokes: 0,
        times: Times::default(),
    };
    let steps = || schedule.runs.iter().flat_map(|run| &run.cuts);
    schedule.gauges = steps().map(|step| step.gauge).collect::<BTreeSet<_>>().len() as u64;
    schedule.gauge_settings = steps().filter(|step| step.new_setting).count() as u64;
    schedule.strokes = steps().map(CutStep::strokes).sum();
    schedule.times = times(&schedule, &workshop.rates);
    schedule
}

/// Seconds per stage.
fn times(schedule: &Schedule, rates: &Rates) -> Times {
    let all = |steps: &[PieceStep]| steps.iter().map(|step| step.seconds).sum::<u64>();
    let scores: u64 = schedule.scoring.iter().map(|step| step.strokes() * step.count).sum();
    let packing = |step: &PackStep| rates.pack * step.count + step.seconds;
    Times {
        cutting: schedule.in_order().iter().map(|(_, step)| step.seconds(rates)).sum(),
        scoring: rates.score * scores,
        folding: all(&schedule.folding),
        finishing: all(&schedule.finishing),
        sticking: all(&schedule.sticking),
        envelopes: all(&schedule.envelopes),
        boxes: all(&schedule.boxes),
        packing: schedule.packing.iter().map(packing).sum(),
    }
}

impl Schedule {
    /// All cuts in the order in which they are made, each with its run.
    pub fn in_order(&self) -> Vec<(&RunCuts, &CutStep)> {
        let runs = self.runs.iter();
        let mut steps: Vec<(&RunCuts, &CutStep)> =
            runs.flat_map(|run| run.cuts.iter().map(move |step| (run, step))).collect();
        steps.sort_by_key(|(_, step)| step.number);
        steps
    }
}

impl Schedule {
    /// All steps at the trimmer in short: what tells one schedule of cuts from another.
    pub fn steps_in_short(&self) -> String {
        let steps = self.in_order();
        let mut text = String::new();
        for (run, step) in steps {
            let from = &step.from;
            let axis = if step.across == Axis::Width { "across" } else { "down" };
            let (gauge, lift) = (step.gauge.ticks(), run.lift);
            text += &format!("{} {} {} {}", step.number, run.run, from.letter, from.count);
            text += &format!(" {axis} {gauge} {}x{} of {lift}", step.cuts_per_lift, step.lifts);
            for part in &step.yields {
                let size = part.size;
                let (width, height) = (size.width.ticks(), size.height.ticks());
                text += &format!(" {} {} {width}x{height}", part.count, in_short(&part.what));
            }
            text.push('\n');
        }
        text
    }
}

fn in_short(fate: &Fate) -> String {
    match fate {
        Fate::Stack(letter) => format!("stack {letter}"),
        Fate::Piece(id, false) => format!("piece {id}"),
        Fate::Piece(id, true) => format!("turned {id}"),
        Fate::Offcut(id) => format!("offcut {id}"),
        Fate::Waste => "waste".to_owned(),
    }
}

impl CutStep {
    /// How often the knife comes down.
    pub fn strokes(&self) -> u64 {
        self.cuts_per_lift * self.lifts
    }

    /// How long it takes, in seconds.
    pub fn seconds(&self, rates: &Rates) -> u64 {
        let (settings, strokes) = (u64::from(self.new_setting), self.strokes());
        rates.cutting(TrimmerWork { settings, strokes, moves: self.moves })
    }

    /// How many of a part that comes out one plate of the stack gives.
    pub fn per_plate(&self, part: &Yield) -> u64 {
        part.count / self.from.count.max(1)
    }
}

/// All the work of a batch.
#[derive(Clone, Debug, PartialEq)]
pub struct Schedule {
    /// Cutting: the runs, whose cuts are numbered through all of them in the order in which they are made.
    pub runs: Vec<RunCuts>,
    /// What the order of cuts takes, and what others would.
    pub effort: BenchEffort,
    /// Scoring, a piece at a time; those with the same score lines follow each other.
    pub scoring: Vec<ScoreStep>,
    /// Folding, a piece at a time.
    pub folding: Vec<PieceStep>,
    /// What is done to cards by hand besides, a card at a time.
    pub finishing: Vec<PieceStep>,
    /// Glueing layers on and in.
    pub sticking: Vec<PieceStep>,
    /// Making up cut envelopes.
    pub envelopes: Vec<PieceStep>,
    /// Making up boxes.
    pub boxes: Vec<PieceStep>,
    /// Packing, an order line at a time.
    pub packing: Vec<PackStep>,
    /// How often the gauge is set.
    pub gauge_settings: u64,
    /// Distances to which it is set: no order has fewer settings.
    pub gauges: u64,
    /// How often the knife comes down.
    pub strokes: u64,
    /// Seconds of work per stage.
    pub times: Times,
}

/// The cuts of one run, in order; those of other runs may come between.
#[derive(Clone, Debug, PartialEq)]
pub struct RunCuts {
    /// Id of the run, such as `R1`.
    pub run: String,
    /// Id of the sheet.
    pub sheet: String,
    /// Its paper.
    pub paper: String,
    /// Its full size.
    pub size: Size,
    /// Sheets cut by this pattern.
    pub sheets: u64,
    /// Sheets under the knife at once.
    pub lift: u64,
    /// The cuts.
    pub cuts: Vec<CutStep>,
    /// What becomes of the sheet, strips in the order in which they come off.
    pub places: Vec<FinalPlate>,
}

/// A rectangle of the sheet that is cut no further.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FinalPlate {
    /// Left edge.
    pub x: Length,
    /// Upper edge.
    pub y: Length,
    /// Its size as it lies on the sheet.
    pub size: Size,
    /// What it is; never a stack.
    pub what: Fate,
}

/// One or more equal cuts made with one gauge setting on one stack.
#[derive(Clone, Debug, PartialEq)]
pub struct CutStep {
    /// Number of the step, counted through the whole schedule from 1; written on the drawing.
    pub number: u32,
    /// Whether it squares a rough edge.
    pub squaring: bool,
    /// The stack that is taken.
    pub from: Stack,
    /// The direction the gauge measures: `Width` cuts at an x, so that the knife runs down the sheet.
    pub across: Axis,
    /// The edge that lies against the fence, as the sheet is drawn.
    pub fence: Edge,
    /// The fresh edge that lies against the side lay, on a sheet that has rough ones.
    pub side_lay: Option<Edge>,
    /// Distance set on the gauge, between fence and knife: the width of the strips that come off, or
    /// what stays after squaring.
    pub gauge: Length,
    /// Whether the gauge has to be moved for it; turning the stack moves nothing.
    pub new_setting: bool,
    /// Whether the distance is off the trimmer's graduation.
    pub off_graduation: bool,
    /// Cuts at this setting in one lift (equal strips beside each other).
    pub cuts_per_lift: u64,
    /// Lifts the stack makes.
    pub lifts: u64,
    /// Sheets in the last lift where it is a short one, the only lift too.
    pub short_lift: Option<u64>,
    /// How often a stack is fetched, turned or put aside.
    pub moves: u64,
    /// What comes out, by sheet of the stack.
    pub yields: Vec<Yield>,
    /// Index of the one of which a plate lies beyond the knife at the end; `None` where the blade takes it.
    pub beyond: Option<usize>,
    /// The cut lines on the sheet, for the drawing.
    pub lines: Vec<CutLine>,
}

/// An edge of a plate, as it lies in the drawing of its sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Edge {
    /// At the least x.
    Left,
    /// At the greatest x.
    Right,
    /// At the least y.
    Top,
    /// At the greatest y.
    Bottom,
}

impl Edge {
    /// Where a direction starts.
    pub const fn start(axis: Axis) -> Edge {
        match axis {
            Axis::Width => Edge::Left,
            Axis::Height => Edge::Top,
        }
    }

    /// Where a direction ends.
    pub const fn end(axis: Axis) -> Edge {
        match axis {
            Axis::Width => Edge::Right,
            Axis::Height => Edge::Bottom,
        }
    }

    /// The direction in which it is an end.
    pub const fn axis(self) -> Axis {
        match self {
            Edge::Left | Edge::Right => Axis::Width,
            Edge::Top | Edge::Bottom => Axis::Height,
        }
    }

    /// Whether its direction starts there.
    pub const fn is_start(self) -> bool {
        matches!(self, Edge::Left | Edge::Top)
    }

    /// The edge across from it.
    pub const fn opposite(self) -> Edge {
        match self.is_start() {
            true => Edge::end(self.axis()),
            false => Edge::start(self.axis()),
        }
    }
}

/// A pile of equal plates.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stack {
    /// The letter written on it: `A` … `Z`, `AA` …, each once in the whole schedule.
    pub letter: String,
    /// Size of its plates.
    pub size: Size,
    /// Plates in it.
    pub count: u64,
}

/// What a cut brings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Yield {
    /// What it is.
    pub what: Fate,
    /// Its size as it lies on the sheet.
    pub size: Size,
    /// How many, over all sheets of the stack.
    pub count: u64,
}

/// What a plate is after a cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fate {
    /// A stack that is cut on, by its letter.
    Stack(String),
    /// A finished piece, by its id, and whether it lies turned.
    Piece(String, bool),
    /// A strip for the drawer, by its id.
    Offcut(String),
    /// Waste.
    Waste,
}

/// A cut line in sheet coordinates: from (`x1`, `y1`) to (`x2`, `y2`).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutLine {
    /// Start, across.
    pub x1: Length,
    /// Start, down.
    pub y1: Length,
    /// End, across.
    pub x2: Length,
    /// End, down.
    pub y2: Length,
}

/// Scoring one kind of piece.
#[derive(Clone, Debug, PartialEq)]
pub struct ScoreStep {
    /// Id of the piece.
    pub piece: String,
    /// What it becomes.
    pub part: Part,
    /// Its size.
    pub size: Size,
    /// Its score lines.
    pub scores: Vec<Score>,
    /// How many pieces.
    pub count: u64,
    /// How far apart the two scores of each line are, where the paper is too thick for one.
    pub twice: Option<Length>,
}

impl ScoreStep {
    /// Whether another one is scored at the same distances.
    pub fn is_like(&self, other: &ScoreStep) -> bool {
        (&self.scores, self.twice) == (&other.scores, other.twice)
    }

    /// Strokes at the scoring board for each piece.
    pub fn strokes(&self) -> u64 {
        let lines = self.scores.len() as u64;
        if self.twice.is_some() { lines * 2 } else { lines }
    }
}

/// Handling one kind of piece.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceStep {
    /// Id of the piece.
    pub piece: String,
    /// What it becomes.
    pub part: Part,
    /// Its size.
    pub size: Size,
    /// How many pieces.
    pub count: u64,
    /// What to do, in words.
    pub what: String,
    /// How long all of them take, in seconds.
    pub seconds: u64,
}

/// Packing one order line.
#[derive(Clone, Debug, PartialEq)]
pub struct PackStep {
    /// Name of the line.
    pub line: String,
    /// Finished sets.
    pub count: u64,
    /// What one set holds, such as `card 5 x 7 in, side fold`.
    pub contents: Vec<String>,
    /// What is done with them, one after the other.
    pub tasks: Vec<String>,
    /// Seconds that their sundries take.
    pub seconds: u64,
}

/// Seconds of work per stage.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Times {
    /// Setting the gauge, fetching and turning stacks, and cutting.
    pub cutting: u64,
    /// Scoring.
    pub scoring: u64,
    /// Folding.
    pub folding: u64,
    /// Finishing by hand.
    pub finishing: u64,
    /// Glueing.
    pub sticking: u64,
    /// Making up envelopes.
    pub envelopes: u64,
    /// Making up boxes.
    pub boxes: u64,
    /// Packing.
    pub packing: u64,
}
