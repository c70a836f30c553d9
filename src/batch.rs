//! The way of the data, from the files' bytes to a checked plan and its schedule.

use crate::diagnostics::{Problem, Problems, counted, listed};
use crate::orders::{self, Order};
use crate::pieces::{self, Bill};
use crate::plan::{self, Ground, Plan, check};
use crate::program::{self, Answer, Settings, Shortage, Task};
use crate::schedule::{self, Schedule};
use crate::stock::{self, Stock};
use crate::workshop::{self, Workshop};
use rayon::prelude::*;

/// A file that was read.
#[derive(Clone, Debug)]
pub struct Source {
    /// Its name as the person gave it.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// All files a batch is made from.
#[derive(Clone, Debug)]
pub struct Inputs {
    /// One or more orders, planned as one batch.
    pub orders: Vec<Source>,
    /// The full sheets.
    pub sheets: Source,
    /// The drawer.
    pub offcuts: Option<Source>,
    /// The bench.
    pub workshop: Option<Source>,
}

/// How hard to try.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effort {
    /// What a person waits for without noticing.
    Quick,
    /// The usual.
    Normal,
    /// For a proof that is hard to get.
    Long,
}

/// A batch that can be cut.
#[derive(Clone, Debug)]
pub struct Made {
    /// What was ordered.
    pub order: Order,
    /// The paper there was.
    pub stock: Stock,
    /// The bench.
    pub workshop: Workshop,
    /// The pieces.
    pub bill: Bill,
    /// The checked plan.
    pub plan: Plan,
    /// The work at the bench.
    pub schedule: Schedule,
}

/// How planning ended.
#[derive(Debug)]
pub enum Outcome {
    /// There is a plan.
    Made(Box<Made>),
    /// The input has mistakes, or the order cannot be made: see the problems.
    Refused,
    /// The judge found fault with the plan: our own mistake.
    Faulty(Vec<String>),
}

/// Everything that was read for a batch.
pub struct Batch {
    /// What was ordered.
    pub order: Order,
    /// The paper there is.
    pub stock: Stock,
    /// The bench.
    pub workshop: Workshop,
    /// The pieces.
    pub bill: Bill,
}

/// Reads all files and finds all their mistakes; `None` where there are any.
pub fn read(inputs: &Inputs, problems: &mut Problems) -> Option<Batch> {
    let workshop = match &inputs.workshop {
        Some(source) => workshop::read(&source.name, &source.bytes, problems),
        None => Workshop::default(),
    };
    let files = inputs.orders.iter().map(|source| (source.name.as_str(), &source.bytes[..]));
    let order = orders::read_all(files, &workshop, problems);
    let sheets = (inputs.sheets.name.as_str(), &inputs.sheets.bytes[..]);
    let offcuts = inputs.offcuts.as_ref().map(|source| (source.name.as_str(), &source.bytes[..]));
    let stock = stock::read(sheets, offcuts, &workshop, problems);
    let (order, stock) = (order?, stock?);
    pieces::check_papers(&order, &stock, problems);
    let bill = pieces::pieces(&order, &workshop, problems);
    if !problems.has_errors() {
        pieces::check_fit(&bill, &stock, &workshop, problems);
    }
    (!problems.has_errors()).then_some(Batch { order, stock, workshop, bill })
}

/// Plans a batch: the program of every group of papers, the plan, the schedule, the judge.
pub fn plan(batch: Batch, settings: &Settings, problems: &mut Problems) -> Outcome {
    let Batch { order, stock, workshop, bill } = batch;
    let tasks = program::tasks(&bill, &stock, &workshop);
    let answers: Vec<Result<Answer, Shortage>> =
        tasks.par_iter().map(|task| program::solve(task, settings)).collect();
    let solved = collect(tasks, answers, &bill, problems);
    if problems.has_errors() {
        return Outcome::Refused;
    }
    let ground = Ground { order: &order.name, bill: &bill, stock: &stock, workshop: &workshop };
    let mut plan = plan::assemble(ground, &solved);
    let schedule = schedule::schedule(&plan, &bill, &order, &workshop, &stock);
    plan.totals.gauge_settings = schedule.gauge_settings;
    let given = check::Given { bill: &bill, stock: &stock, workshop: &workshop };
    if let Err(faults) = check::check(&plan, &given) {
        return Outcome::Faulty(faults.iter().map(ToString::to_string).collect());
    }
    Outcome::Made(Box::new(Made { order, stock, workshop, bill, plan, schedule }))
}

fn collect(
    tasks: Vec<Task>,
    answers: Vec<Result<Answer, Shortage>>,
    bill: &Bill,
    problems: &mut Problems,
) -> Vec<(Task, Answer)> {
    let mut solved = Vec::new();
    for (task, answer) in tasks.into_iter().zip(answers) {
        match answer {
            Ok(answer) => solved.push((task, answer)),
            Err(shortage) => problems.push(short_of_stock(&shortage, bill)),
        }
    }
    solved
}

/// What the stock lacks, as a problem for the person.
fn short_of_stock(shortage: &Shortage, bill: &Bill) -> Problem {
    let missing = shortage.pieces.iter();
    let missing: Vec<String> = missing
        .map(|&(piece, count)| format!("{count} of {}", bill.pieces[piece].id))
        .collect();
    let papers = listed(&shortage.papers);
    let title = match shortage.proven {
        true => format!("the stock of {papers} cannot suffice, and none of it can be bought"),
        false => format!("no way was found to cut the order from the stock of {papers}"),
    };
    let place = shortage.pieces.first().and_then(|&(piece, _)| bill.pieces[piece].place.as_ref());
    let kinds = counted(missing.len() as u64, "kind of piece");
    let label = match missing.is_empty() {
        true => "wants more paper than there is".to_owned(),
        false => format!("{kinds} would stay uncut: {}", listed(&missing)),
    };
    Problem::error("program-stock-short", title)
        .at(place, label)
        .help("add sheets on hand, or give a sheet of the paper a price so that it can be bought")
        .help("or name a second paper in the order, joined by `|`")
}
