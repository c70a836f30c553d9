//! The way of the data, from the files' bytes to a checked plan and its schedule.

mod inputs;
mod judging;
mod shortage;

pub(crate) use inputs::read_workshop;
pub use inputs::{Inputs, Source, read_stock};
pub use judging::{By, Judgement, judge};
pub(crate) use judging::{is_of_first_schema, parsed};

use crate::diagnostics::Problems;
pub use crate::effort::Effort;
use crate::effort::{Deadline, Work, weight};
use crate::measure::Ratio;
use crate::orders::Order;
use crate::pieces::{self, Bill};
use crate::plan::{self, Gains, Ground, Handling, Node, Plan, check};
use crate::program::{self, Answer, Shortage, Stop, Task};
pub use crate::program::{Engine, Tried, Way};
use crate::progress::{Board, Watch};
use crate::schedule::{self, Schedule};
use crate::stock::{Prices, SheetKind, Stock};
use crate::threads::on_threads;
use crate::workshop::{GrainRule, Workshop};
use inputs::{Batch, read};
use rayon::prelude::*;
use shortage::{bought_beside, short_of_stock};
use std::cmp::Reverse;
use std::time::Duration;

/// How to plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// Stop looking for better plans after this time.
    pub limit: Option<Duration>,
    /// How hard to try.
    pub effort: Effort,
    /// Threads to use; `None` is one a core.
    pub threads: Option<usize>,
    /// What solves the linear programs.
    pub engine: Engine,
}

impl Options {
    /// The same, with no more work than has to be done.
    fn in_haste(self) -> Options {
        Options { effort: Effort::Quick, ..self }
    }
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
    /// What was gained for drawer and bench after the program had settled on the runs.
    pub gains: Gains,
    /// The work at the bench.
    pub schedule: Schedule,
    /// Cells of the pattern tables of all sheets.
    pub cells: usize,
    /// Steps of work that went into patterns and proof, each about a nanosecond.
    pub work: u64,
    /// What was tried last for each group of papers, on levels 1 and 2.
    pub tried: Vec<[Option<Tried>; 2]>,
}

impl Made {
    /// What all paper that the plan uses is worth, in minor units.
    pub fn worth_used(&self) -> Ratio {
        plan::worth_used(&self.plan, &self.stock, &Prices::of(&self.stock, &self.workshop))
    }
}

/// How planning ended.
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    /// What there is to tell the person.
    pub problems: Problems,
    /// The plan; `None` where the input has mistakes or the order cannot be made.
    pub made: Option<Made>,
    /// What the judge found wrong with our own plan: a fault of the program.
    pub faults: Vec<String>,
}

/// Plans a batch from the files' bytes: read, bill, program, plan, schedule, judge.
pub fn plan(inputs: &Inputs, options: &Options) -> Outcome {
    plan_watched(inputs, options, Watch::NOBODY)
}

/// Plans a batch while somebody watches how far it is, and may call it off: then the best plan so far is
/// made up and checked.
pub fn plan_watched(inputs: &Inputs, options: &Options, watch: Watch) -> Outcome {
    let mut problems = Problems::new();
    let Some(batch) = read(inputs, &mut problems) else {
        return Outcome { problems, ..Outcome::default() };
    };
    on_threads(options.threads, || make(batch, options, watch, problems))
}

/// Another order, or from another stock, planned on the bench of a batch; `None` where it cannot be made.
pub(crate) fn replanned(
    made: &Made,
    order: Order,
    stock: Stock,
    options: &Options,
    stop: Stop,
) -> Option<Made> {
    let workshop = &made.workshop;
    let mut problems = Problems::new();
    let bill = pieces::pieces(&order, &stock, workshop, &mut problems);
    let workshop = workshop.clone();
    let batch = Batch { order, stock, workshop, bill, set_aside: Vec::new() };
    make(batch, options, Watch { stop, ..Watch::NOBODY }, problems).made
}

/// Plans a batch that was read: program, plan, schedule, judge.
fn make(batch: Batch, options: &Options, watch: Watch, mut problems: Problems) -> Outcome {
    // What comes after the search has its own share of the time.
    let limit = options.limit;
    let (searched, over) =
        (Deadline::after(limit), Deadline::after(limit.map(|limit| limit + limit / 5)));
    let stop = || (watch.stop)() || over.is_past();
    let Some(solved) = solve(&batch, How { options, watch, until: searched }, &mut problems) else {
        return Outcome { problems, ..Outcome::default() };
    };
    let cells = solved.iter().map(|(task, _)| task.cells()).sum();
    let work = solved.iter().map(|(task, _)| task.work()).sum();
    let tried = solved.iter().map(|(_, answer)| [answer.spend.tried, answer.stock.tried]).collect();
    let in_haste = (watch.stop)() || searched.is_past();
    let options = &if in_haste { options.in_haste() } else { *options };
    let (mut plan, mut gains, mut schedule) = assembled(&batch, &solved, options, &stop);
    let mut faults = judged(&batch, &plan);
    if faults.is_empty()
        && let Some(better) = along_the_grain(&batch, solved, &plan, options, watch.stop)
    {
        (plan, gains, schedule) = better;
        faults = judged(&batch, &plan);
    }
    if !faults.is_empty() {
        return Outcome { problems, made: None, faults };
    }
    problems.extend(bought_beside(&batch, &plan));
    let Batch { order, stock, workshop, bill, .. } = batch;
    problems.append(schedule::warnings(&schedule, &plan, &bill, &stock, &workshop));
    let made = Made { order, stock, workshop, bill, plan, gains, schedule, cells, work, tried };
    let made = Some(made);
    Outcome { problems, made, faults: Vec::new() }
}

/// The plan that the answers make, and its schedule.
fn assembled(
    batch: &Batch,
    solved: &[(Task, Answer)],
    options: &Options,
    stop: Stop,
) -> (Plan, Gains, Schedule) {
    let Batch { order, stock, workshop, bill, .. } = batch;
    let ground = Ground { order: &order.name, bill, stock, workshop };
    let handling = Handling {
        gauges: &|layout: &Node, kind: SheetKind| schedule::gauges(layout, kind, &workshop.trimmer),
        settings: &|sheets: &[(&Node, SheetKind)]| schedule::settings(sheets, &workshop.trimmer),
        strokes: &|layout: &Node, sheet: usize, count: u64| {
            schedule::strokes(layout, count, &stock.sheets[sheet], &workshop.trimmer)
        },
        care: options.effort.care(),
        stop,
    };
    let (mut plan, gains) = plan::assemble(ground, solved, handling);
    let schedule = schedule::schedule(&plan, bill, order, workshop, stock);
    plan.totals.gauge_settings = schedule.gauge_settings;
    (plan, gains, schedule)
}

/// What the judge finds wrong with a plan.
fn judged(batch: &Batch, plan: &Plan) -> Vec<String> {
    let Batch { order, stock, workshop, bill, .. } = batch;
    let faults =
        check::check(plan, &check::Given { order: &order.name, bill, stock, workshop }).err();
    faults.unwrap_or_default().iter().map(ToString::to_string).collect()
}

/// A plan that costs as much on levels 1 and 2 with fewer folds across the grain, where folds along it are
/// preferred; `None` where none is found.
///
/// The papers are solved once more with folds along the grain only. Where that costs no more, it is as good as
/// the plan at hand, and what was proven of that holds for it, too.
fn along_the_grain(
    batch: &Batch,
    solved: Vec<(Task, Answer)>,
    plan: &Plan,
    options: &Options,
    stop: Stop,
) -> Option<(Plan, Gains, Schedule)> {
    let Batch { stock, bill, workshop, .. } = batch;
    let across = |plan: &Plan| schedule::across_grain(plan, bill, stock).values().sum::<u64>();
    let has_time = options.limit.is_none() && !stop();
    if workshop.grain != GrainRule::Prefer || !has_time || across(plan) == 0 {
        return None;
    }
    let strict = Workshop { grain: GrainRule::Strict, ..workshop.clone() };
    let watch = Watch { stop, ..Watch::NOBODY };
    let how = How { options, watch, until: Deadline::after(None) };
    let strictly = answers(bill, stock, &strict, how);
    let costs = |answer: &Answer| (answer.spend.value, answer.stock.value);
    let pairs = solved.into_iter().zip(strictly);
    let chosen: Vec<(Task, Answer)> = pairs
        .map(|(free, (task, strict))| match strict {
            Ok(strict) if costs(&strict) == costs(&free.1) => (task, strict),
            _ => free,
        })
        .collect();
    let (mut better, gains, schedule) = assembled(batch, &chosen, options, stop);
    better.proof.clone_from(&plan.proof);
    let holds = judged(batch, &better).is_empty();
    (holds && across(&better) < across(plan)).then_some((better, gains, schedule))
}

/// Reads all files of a batch and says what is wrong with them.
pub fn check(inputs: &Inputs) -> Problems {
    let mut problems = Problems::new();
    read(inputs, &mut problems);
    problems
}

/// How groups of papers are solved.
#[derive(Clone, Copy)]
struct How<'a> {
    options: &'a Options,
    watch: Watch<'a>,
    /// When their search has to end, what is made ready for it included.
    until: Deadline,
}

/// Solves every group of papers; `None` where one of them cannot be.
fn solve(batch: &Batch, how: How, problems: &mut Problems) -> Option<Vec<(Task, Answer)>> {
    let mut solved = Vec::new();
    for (task, answer) in answers(&batch.bill, &batch.stock, &batch.workshop, how) {
        match answer {
            Ok(answer) => solved.push((task, answer)),
            Err(shortage) => problems.push(short_of_stock(&shortage, batch)),
        }
    }
    (!problems.has_errors()).then_some(solved)
}

/// The groups of papers, each with its answer, found side by side; the result does not depend on the
/// threads.
fn answers(
    bill: &Bill,
    stock: &Stock,
    workshop: &Workshop,
    How { options, watch, until }: How,
) -> Vec<(Task, Result<Answer, Shortage>)> {
    let mut tasks = program::tasks(bill, stock, workshop, options.effort.room());
    tasks.iter_mut().for_each(|task| task.engine = options.engine);
    let work = Work::new(options.effort, &tasks, until, watch.stop);
    let board = Board::new(tasks.len(), workshop.currency.clone(), watch);
    let one = |at: usize| {
        let task = &tasks[at];
        let tell = |known| board.tell(at, known, &task.units);
        let answer = work.on(task, &tell, |settings| program::solve(task, settings));
        board.end(at);
        (at, answer)
    };
    // The hardest first, so that all threads end at about the same time.
    let mut order: Vec<usize> = (0..tasks.len()).collect();
    order.sort_by_key(|&at| Reverse(weight(&tasks[at])));
    let answers = order.iter().par_bridge().map(|&at| one(at));
    let mut answers: Vec<(usize, Result<Answer, Shortage>)> = answers.collect();
    answers.sort_by_key(|&(at, _)| at);
    tasks.into_iter().zip(answers.into_iter().map(|(_, answer)| answer)).collect()
}
