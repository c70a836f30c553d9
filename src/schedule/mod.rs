//! The work at the bench: cuts in order, then score, fold, stick, pack.
//!
//! In: a checked [`Plan`](crate::plan::Plan), the [`Bill`](crate::pieces::Bill), the order and the
//! workshop. Out: a [`Schedule`]. It knows nothing of files.

use crate::measure::{Axis, Length, Size};
use crate::pieces::{Part, Score};

/// All the work of a batch.
#[derive(Clone, Debug, PartialEq)]
pub struct Schedule {
    /// Cutting, a run at a time.
    pub runs: Vec<RunCuts>,
    /// Scoring, a piece at a time.
    pub scoring: Vec<ScoreStep>,
    /// Folding, a piece at a time.
    pub folding: Vec<PieceStep>,
    /// Glueing layers on and in.
    pub sticking: Vec<PieceStep>,
    /// Making up cut envelopes.
    pub envelopes: Vec<PieceStep>,
    /// Packing, an order line at a time.
    pub packing: Vec<PackStep>,
    /// How often the gauge is set.
    pub gauge_settings: u64,
    /// How often the knife comes down.
    pub strokes: u64,
    /// Seconds of work per stage.
    pub times: Times,
}

/// The cuts of one run, in order.
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
    /// Distance set on the gauge.
    pub gauge: Length,
    /// Whether the gauge has to be moved for it.
    pub new_setting: bool,
    /// Whether the distance is off the trimmer's graduation.
    pub off_graduation: bool,
    /// Cuts at this setting in one lift (equal strips beside each other).
    pub cuts_per_lift: u64,
    /// Lifts the stack makes.
    pub lifts: u64,
    /// Sheets in the last lift where it is a short one.
    pub short_lift: Option<u64>,
    /// What comes out, by sheet of the stack.
    pub yields: Vec<Yield>,
    /// The cut lines on the sheet, for the drawing.
    pub lines: Vec<CutLine>,
}

/// A pile of equal plates.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stack {
    /// The letter written on it: `A` … `Z`, `AA` …
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
    pub what: Outcome,
    /// Its size as it lies on the sheet.
    pub size: Size,
    /// How many, over all sheets of the stack.
    pub count: u64,
}

/// What a plate is after a cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
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
}

/// Seconds of work per stage.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Times {
    /// Setting the gauge and cutting.
    pub cutting: u64,
    /// Scoring.
    pub scoring: u64,
    /// Folding.
    pub folding: u64,
    /// Glueing.
    pub sticking: u64,
    /// Making up envelopes.
    pub envelopes: u64,
    /// Packing.
    pub packing: u64,
}
