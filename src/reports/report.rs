//! The neutral report: what every format tells, already in the workshop's unit and currency.
//!
//! Texts are as they were typed; each translator escapes them in its own way.

use super::drawing::{self, Drawing};
use super::offer::OfferReport;
use super::picture::{DrawingRoom, Picture, Scale};
use super::quote::{self, QuoteReport};
use super::timetable::{self, TimetableRows};
use super::walk::{self, WalkStop};
use super::{
    Batch, ReportError, answers, buying, gained, labels, lists, rest, steps, supplies, sureness,
};
use crate::measure::{Axis, Size, Unit};
use crate::pieces::Part;
use crate::stock::SheetKind;
use rayon::prelude::*;

/// Everything there is to tell about a batch.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// Name of the batch.
    pub title: String,
    /// Whether it can be made, in a sentence.
    pub verdict: String,
    /// Where only a part of what was ordered is made, how much of each line that is.
    pub part: Option<String>,
    /// The answers a person asks first.
    pub answers: Answers,
    /// What was done of the batch before, in sentences; empty where this is all of it.
    pub before: Vec<String>,
    /// What must be bought.
    pub purchases: Vec<Purchase>,
    /// Money for all of it, with its code.
    pub spend: String,
    /// Whether other packs or sizes would be cheaper, in a sentence.
    pub buying: Vec<String>,
    /// What is taken from shelf and drawer.
    pub taken: Vec<Taken>,
    /// Envelopes and sundries.
    pub supplies: Vec<SupplyRow>,
    /// The runs with their drawings.
    pub runs: Vec<RunReport>,
    /// The scale of most drawings.
    pub scale: Scale,
    /// Cutting, a gauge setting at a time.
    pub cutting: Vec<Setting>,
    /// How near the settings come to the fewest that there can be.
    pub settings: String,
    /// What must lie on the table after cutting.
    pub pieces: Vec<PieceRow>,
    /// Score lines: the pieces by the distances at which they are scored.
    pub scoring: Vec<ScoreSetting>,
    /// Folding, gluing, envelopes, boxes: only those with work in them.
    pub work: Vec<WorkList>,
    /// Finished sets.
    pub packing: Vec<PackRow>,
    /// New offcuts for the drawer.
    pub drawer: Vec<NewOffcuts>,
    /// What is written on stacks and strips.
    pub labels: Vec<Label>,
    /// When the work is done.
    pub timetable: TimetableRows,
    /// What it costs, and what the post says.
    pub quote: QuoteReport,
    /// Who offers it to whom.
    pub offer: OfferReport,
    /// The proof of each group of papers.
    pub proofs: Vec<sureness::ProofRow>,
    /// What was gained for drawer and bench, with all figures.
    pub improved: String,
    /// The unit lengths are written in.
    pub unit: Unit,
    /// All of it one step at a time.
    pub walk: Vec<WalkStop>,
}

/// The short answers; `None` of what does not matter here.
#[derive(Clone, Debug, PartialEq)]
pub struct Answers {
    /// What was done before.
    pub before: Option<String>,
    /// What to buy.
    pub buy: String,
    /// What is cut up.
    pub used: String,
    /// What is left over.
    pub left: String,
    /// How long it takes, and when to start.
    pub time: Option<String>,
    /// What it sells for and costs.
    pub price: Option<String>,
    /// What the post takes.
    pub post: Option<String>,
    /// How sure the plan is.
    pub proof: String,
    /// What got better for drawer and bench among plans that cost the same.
    pub gain: Option<String>,
}

/// Something to buy.
#[derive(Clone, Debug, PartialEq)]
pub struct Purchase {
    /// Name of the sheet, envelope or sundry.
    pub name: String,
    /// Which of these it is.
    pub kind: &'static str,
    /// The paper of a sheet, else empty.
    pub paper: String,
    /// Its size; empty of a sundry.
    pub size: String,
    /// Packs to buy.
    pub packs: u64,
    /// What is in a pack.
    pub pack: String,
    /// Whether that is a single one.
    pub is_single: bool,
    /// Whether it is measured, not counted.
    pub is_measured: bool,
    /// What is in all of them.
    pub amount: String,
    /// Price of a pack, without the currency.
    pub price: String,
    /// Price of all of them, without the currency.
    pub cost: String,
    /// The currency's code.
    pub currency: String,
}

/// An envelope or a sundry that the cards take, its amounts ready to print.
#[derive(Clone, Debug, PartialEq)]
pub struct SupplyRow {
    /// Its name.
    pub name: String,
    /// Its size; empty of a sundry.
    pub size: String,
    /// What the cards take.
    pub need: String,
    /// Where it is found.
    pub from: String,
    /// What is left over.
    pub stays: String,
}

/// One kind of sheet that is taken from shelf or drawer.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// Id of the sheet.
    pub sheet: String,
    /// Full sheet or offcut.
    pub kind: SheetKind,
    /// Its paper.
    pub paper: String,
    /// Its size.
    pub size: String,
    /// How many are taken.
    pub count: u64,
    /// How many of them have to be bought first.
    pub bought: u64,
    /// How many are left over.
    pub stays: u64,
    /// Those of them that are pieces as they are, and are not cut.
    pub whole: Option<WholeSheets>,
}

/// Sheets that are pieces as they are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WholeSheets {
    /// How many.
    pub count: u64,
    /// Id of the piece that each is.
    pub piece: String,
}

/// One run at the bench.
#[derive(Clone, Debug, PartialEq)]
pub struct RunReport {
    /// Its name, such as `R1`.
    pub name: String,
    /// Id of the sheet.
    pub sheet: String,
    /// Its paper.
    pub paper: String,
    /// Its size.
    pub size: String,
    /// Sheets cut this way.
    pub sheets: u64,
    /// Sheets under the knife at once.
    pub lift: u64,
    /// The sheet as it is cut.
    pub picture: Picture,
}

/// All that is cut before the gauge is moved again.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// The distance to set, with its unit.
    pub gauge: String,
    /// Whether the distance lies between two marks of the gauge.
    pub off_graduation: bool,
    /// How long setting it and cutting takes, in words.
    pub time: String,
    /// The cuts in order.
    pub steps: Vec<Step>,
}

/// One step at the trimmer.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Its number, as on the drawing.
    pub number: u32,
    /// The run that it belongs to.
    pub run: String,
    /// Id of its sheet.
    pub sheet: String,
    /// Sheets to take, where it is the first step of its run.
    pub fetch: Option<u64>,
    /// Whether it squares a rough edge.
    pub squaring: bool,
    /// Letter of the stack that is taken.
    pub stack: String,
    /// Size of its plates.
    pub stack_size: String,
    /// Plates in it.
    pub stack_count: u64,
    /// Whether its top edge was marked, since its sides look alike.
    pub marked: bool,
    /// The direction that the gauge measures.
    pub across: Axis,
    /// The edge that lies against the fence: `left`, `right`, `top` or `bottom`.
    pub fence: &'static str,
    /// The edge that lies against the side lay, where that matters.
    pub side_lay: Option<&'static str>,
    /// The distance to set, with its unit.
    pub gauge: String,
    /// Whether the gauge has to be moved.
    pub new_setting: bool,
    /// Cuts with this setting in one lift.
    pub cuts: u64,
    /// Lifts.
    pub lifts: u64,
    /// Sheets in the last of several lifts, where it is a short one.
    pub short_lift: Option<u64>,
    /// Times the knife comes down.
    pub strokes: u64,
    /// What comes out.
    pub yields: Vec<YieldRow>,
}

/// What a step brings.
#[derive(Clone, Debug, PartialEq)]
pub struct YieldRow {
    /// What becomes of it.
    pub kind: YieldKind,
    /// A stack's letter, a piece's or an offcut's id; empty for waste.
    pub name: String,
    /// Its size as it lies on the sheet.
    pub size: String,
    /// How many.
    pub count: u64,
    /// Whether its top edge has to be marked, since its sides look alike.
    pub mark: bool,
    /// Where it goes next: `step 7`, `score`, `glue`, `pack`, `drawer`; empty for waste.
    pub next: String,
}

/// What becomes of a plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum YieldKind {
    /// It is cut on.
    Stack,
    /// It is a finished piece.
    Piece,
    /// It goes in the drawer.
    Drawer,
    /// It is thrown away.
    Waste,
}

impl YieldKind {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            YieldKind::Stack => "stack",
            YieldKind::Piece => "piece",
            YieldKind::Drawer => "drawer",
            YieldKind::Waste => "waste",
        }
    }
}

/// One kind of piece and how many there are.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceRow {
    /// Its id.
    pub piece: String,
    /// The order lines that need it.
    pub line: String,
    /// What it becomes.
    pub part: Part,
    /// Its papers.
    pub papers: Vec<String>,
    /// The papers that it is cut from: `fern`, or `14 of fern and 10 of moss`.
    pub colours: String,
    /// Both sides and the whole size.
    pub sides: (String, String),
    /// Size in one text.
    pub size: String,
    /// How it may lie.
    pub turn: crate::orders::Turn,
    /// Wanted by the order.
    pub need: u64,
    /// Added by the spares rule.
    pub spares: u64,
    /// Good ones that were cut before.
    pub done: u64,
    /// Spoiled before.
    pub spoiled: u64,
    /// Cut by the plan.
    pub cut: u64,
    /// Its score lines.
    pub scores: Vec<String>,
    /// Tint and hatch of its order line.
    pub fill: usize,
}

/// All pieces that are scored at the same distances.
#[derive(Clone, Debug, PartialEq)]
pub struct ScoreSetting {
    /// Where, a line each.
    pub lines: Vec<String>,
    /// Strokes at the scoring board for each piece.
    pub strokes: u64,
    /// The pieces.
    pub rows: Vec<ScoreRow>,
}

/// Scoring one kind of piece.
#[derive(Clone, Debug, PartialEq)]
pub struct ScoreRow {
    /// Id of the piece.
    pub piece: String,
    /// Its size.
    pub size: String,
    /// How many.
    pub count: u64,
}

/// A list of equal handling steps.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkList {
    /// Its name as part of an address, such as `fold`.
    pub id: &'static str,
    /// Its heading.
    pub title: &'static str,
    /// Whether something is cut by hand.
    pub by_hand: bool,
    /// Whether its pieces have shapes of their own.
    pub has_shapes: bool,
    /// What is waited for when all is done; empty where it is nothing.
    pub then: String,
    /// The steps.
    pub rows: Vec<WorkRow>,
}

/// Handling one kind of piece.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkRow {
    /// Id of the piece.
    pub piece: String,
    /// Its size.
    pub size: String,
    /// How many.
    pub count: u64,
    /// What to do.
    pub what: String,
}

/// Packing one order line.
#[derive(Clone, Debug, PartialEq)]
pub struct PackRow {
    /// Name of the line.
    pub line: String,
    /// Finished sets.
    pub count: u64,
    /// What a set holds.
    pub contents: Vec<String>,
    /// What is done with it, one after the other.
    pub tasks: Vec<String>,
    /// Seconds that the sundries of all sets take.
    pub seconds: u64,
    /// When it is wanted, as an ISO 8601 date.
    pub due: Option<String>,
    /// The note of the order line.
    pub note: String,
}

/// New offcuts of one kind.
#[derive(Clone, Debug, PartialEq)]
pub struct NewOffcuts {
    /// Its id, to be written on it.
    pub offcut: String,
    /// Its paper.
    pub paper: String,
    /// Its size.
    pub size: String,
    /// How many.
    pub count: u64,
    /// The runs that leave it, such as `R1 and R3`.
    pub runs: String,
}

/// A label for a stack, for strips of one kind, or for finished pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The stack's letter, or the id of the offcut or piece.
    pub name: String,
    /// What else is written on it.
    pub lines: Vec<String>,
    /// What it is for, as it lies upright; its outline is drawn with an arrow up.
    pub size: Size,
}

impl Report {
    /// The verdict as an answer to the question whether all can be made.
    pub fn answer(&self) -> String {
        let answer = if self.part.is_some() { "In part" } else { "Yes" };
        format!("{answer}: {}.", self.verdict)
    }

    /// The report of a batch.
    ///
    /// # Errors
    /// The plan or the schedule names a sheet or run that is not there.
    pub fn of(batch: &Batch) -> Result<Report, ReportError> {
        let plan = &batch.made.plan;
        let currency = &batch.made.job.workshop.currency;
        let quote = quote::quote(batch);
        let packing = lists::packing(batch);
        let offer = OfferReport::of(batch, &quote, &packing);
        let priced = quote.unpriced.is_empty();
        let purchases = lists::purchases(batch);
        let cuts = batch.made.schedule.runs.iter();
        let drawings = cuts.map(|cuts| drawing::of_run(batch, cuts));
        let drawings = drawings.collect::<Result<Vec<Drawing>, ReportError>>()?;
        let scale =
            Scale::common(drawings.iter().map(|drawing| drawing.sheet), DrawingRoom::SCREEN);
        let runs = batch.made.schedule.runs.par_iter().zip(drawings);
        let runs = runs.map(|(cuts, drawing)| {
            steps::run(batch, cuts, Picture::readable(drawing, scale, DrawingRoom::SCREEN))
        });
        let cutting = steps::cutting(batch);
        Ok(Report {
            walk: walk::walk(batch, &cutting),
            title: plan.order.clone(),
            verdict: answers::verdict(batch),
            part: answers::made_of(batch),
            answers: answers::answers(batch, &purchases, &quote),
            before: rest::sentences(batch),
            purchases,
            spend: currency.with_code(plan.spend()),
            supplies: supplies::rows(batch),
            buying: buying::sentences(batch),
            taken: lists::taken(batch),
            runs: runs.collect(),
            scale,
            cutting,
            settings: answers::settings(&batch.made.schedule),
            pieces: steps::pieces(batch),
            scoring: lists::scoring(batch),
            work: lists::work(batch),
            packing,
            drawer: lists::drawer(batch),
            labels: labels::labels(batch)?,
            timetable: timetable::timetable(batch),
            quote,
            offer,
            proofs: sureness::rows(batch),
            improved: gained::long(&batch.made.gains, currency, priced),
            unit: batch.made.job.workshop.unit,
        })
    }
}
