//! The way of the data, from the files' bytes to a checked plan and its schedule.
//!
//! With `grain.rule = "prefer"`, a plan some of whose folds lie across the grain is solved once more with all folds
//! along it. Where that costs as much on levels 1 and 2, it is taken, group of papers by group, and keeps the proofs of
//! the first: its values are the same, and its patterns are among those that the proof is about. The judge checks that
//! again.

mod as_many;
pub mod buying;
mod effort;
mod inputs;
mod judging;
pub mod pricing;
mod progress;
mod shortage;
mod supplies;
mod threads;

pub use effort::Effort;
pub(crate) use inputs::read_workshop;
pub use inputs::{Inputs, Remainder, Rest, Source, read_stock};
pub use judging::{By, Judgement, SoundPlan, judge};
pub(crate) use judging::{is_of_first_schema, parsed};
pub use progress::{Progress, Watch};
pub(crate) use threads::on_threads;

use crate::assembly::{Assembled, assemble};
use crate::diagnostics::Problems;
use crate::job::Job;
pub use crate::made::Made;
use crate::orders::Order;
use crate::pieces::Bill;
use crate::plan::{Plan, check};
use crate::program::{self, Answer, Shortage, Start, Stop, Task};
pub use crate::program::{Engine, Tried, Way};
use crate::schedule;
use crate::stock::Stock;
use crate::workshop::{GrainRule, Workshop};
use effort::{Budget, Deadline, weight};
use inputs::{FileNames, Readied, read};
use progress::Board;
use rayon::prelude::*;
use shortage::{Fitted, bought_beside, fitted, tell};
use std::cmp::Reverse;
use std::time::Duration;
use supplies::supplied;

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
    /// What is done where the paper is not enough.
    pub if_short: IfShort,
}

/// What is done where the paper is not enough for an order.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum IfShort {
    /// The message says how much of the order can be made.
    #[default]
    Tell,
    /// As much of the order is planned as can be made.
    AsMany,
    /// Nothing more: who asks only wants to know whether all can be made.
    GiveUp,
}

impl Options {
    /// The same, with no more work than has to be done.
    fn in_haste(self) -> Options {
        Options { effort: Effort::Quick, ..self }
    }
}

/// What was looked at on the way to a plan.
#[derive(Clone, Debug, Default)]
pub struct Searched {
    /// Cells of the pattern tables of all sheets.
    pub cells: usize,
    /// Steps of work that went into patterns and proof, each about a nanosecond.
    pub work: u64,
    /// What was tried last for each group of papers, on levels 1 and 2.
    pub tried: Vec<[Option<Tried>; 2]>,
}

impl Searched {
    fn of(solved: &[(Task, Answer)]) -> Searched {
        Searched {
            cells: solved.iter().map(|(task, _)| task.cells()).sum(),
            work: solved.iter().map(|(task, _)| task.work()).sum(),
            tried: solved.iter().map(|(_, it)| [it.spend.tried, it.stock.tried]).collect(),
        }
    }
}

/// How planning ended.
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    /// What there is to tell the person.
    pub problems: Problems,
    /// The plan; `None` where the input has mistakes or the order cannot be made.
    pub made: Option<Made>,
    /// What was looked at for it.
    pub searched: Searched,
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
    let mut problems = Problems::new();
    let before = made.job.before.clone();
    let job = Job::new(order, stock, made.job.workshop.clone(), &mut problems);
    let job = job.after(before, &mut problems);
    // Nothing is set aside, so no command on the shelf is told.
    let batch = Readied {
        job,
        known: Start::default(),
        set_aside: Vec::new(),
        names: FileNames::default(),
    };
    let options = &Options { if_short: IfShort::GiveUp, ..*options };
    make(batch, options, Watch { stop, ..Watch::NOBODY }, problems).made
}

/// Time that it takes, for each kind of piece, to make a plan of the answers, draw it and write it.
const FINISHING: Duration = Duration::from_micros(800);

/// Plans a batch that was read: program, plan, schedule, judge.
fn make(batch: Readied, options: &Options, watch: Watch, mut problems: Problems) -> Outcome {
    let Some(batch) = supplied(batch, options, &mut problems) else {
        return Outcome { problems, ..Outcome::default() };
    };
    // What comes after the search has its own share of the time.
    let finishing = FINISHING.saturating_mul(batch.job.bill.pieces.len() as u32);
    let search = options.limit.map(|limit| limit - finishing.min(limit / 2));
    let improving = options.limit.zip(search).map(|(limit, search)| search + limit / 5);
    let (searched, over) = (Deadline::after(search), Deadline::after(improving));
    let stop = || (watch.stop)() || over.is_past();
    let how = How { options, watch, until: searched };
    let Some((batch, solved)) = solve(batch, how, &mut problems) else {
        return Outcome { problems, ..Outcome::default() };
    };
    let in_haste = (watch.stop)() || searched.is_past();
    let options = &if in_haste { options.in_haste() } else { *options };
    let searched = Searched::of(&solved);
    let job = &batch.job;
    let mut assembled = assemble(job, &solved, options.effort.care(), &stop);
    let mut faults = judged(job, &assembled.plan);
    if faults.is_empty()
        && let Some(better) = along_the_grain(job, solved, &assembled.plan, options, watch.stop)
    {
        assembled = better;
        faults = judged(job, &assembled.plan);
    }
    if !faults.is_empty() {
        return Outcome { problems, faults, ..Outcome::default() };
    }
    let Assembled { plan, gains, schedule } = assembled;
    problems.extend(bought_beside(&batch, &plan));
    problems.append(schedule::warnings(&schedule, &plan, job));
    let made = Made { job: batch.job, plan, gains, schedule };
    problems.extend(pricing::check_wholesale(&made));
    Outcome { problems, made: Some(made), searched, faults: Vec::new() }
}

/// What the judge finds wrong with a plan.
fn judged(job: &Job, plan: &Plan) -> Vec<String> {
    let faults = check::check(plan, job).err().unwrap_or_default();
    faults.iter().map(ToString::to_string).collect()
}

/// A plan that costs as much on levels 1 and 2 with fewer folds across the grain, where folds along it are
/// preferred; `None` where none is found.
///
/// The papers are solved once more with folds along the grain only. Where that costs no more, it is as good as
/// the plan at hand, and what was proven of that holds for it, too.
fn along_the_grain(
    job: &Job,
    solved: Vec<(Task, Answer)>,
    plan: &Plan,
    options: &Options,
    stop: Stop,
) -> Option<Assembled> {
    let across = |plan: &Plan| schedule::across_grain(plan, job).values().sum::<u64>();
    let has_time = options.limit.is_none() && !stop();
    if job.workshop.grain != GrainRule::Prefer || !has_time || across(plan) == 0 {
        return None;
    }
    let strict = Workshop { grain: GrainRule::Strict, ..job.workshop.clone() };
    let watch = Watch { stop, ..Watch::NOBODY };
    let how = How { options, watch, until: Deadline::after(None) };
    let strictly = answers(&SolvedFor { workshop: &strict, ..SolvedFor::of(job) }, how);
    let costs = |answer: &Answer| (answer.spend.value, answer.stock.value);
    let pairs = solved.into_iter().zip(strictly);
    let chosen: Vec<(Task, Answer)> = pairs
        .map(|(free, (task, strict))| match strict {
            Ok(strict) if costs(&strict) == costs(&free.1) => (task, strict),
            _ => free,
        })
        .collect();
    let mut better = assemble(job, &chosen, options.effort.care(), stop);
    better.plan.proof.clone_from(&plan.proof);
    let holds = judged(job, &better.plan).is_empty();
    (holds && across(&better.plan) < across(plan)).then_some(better)
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

/// Solves every group of papers. Where the paper is not enough, as much of the batch as can be made, if that is asked
/// for; else `None`, with messages.
fn solve(
    batch: Readied,
    how: How,
    problems: &mut Problems,
) -> Option<(Readied, Vec<(Task, Answer)>)> {
    let given = SolvedFor { known: Some(&batch.known), ..SolvedFor::of(&batch.job) };
    let (solved, short) = parted(answers(&given, how));
    if short.is_empty() {
        return Some((batch, solved));
    }
    let Fitted { batch, start } = fitted(batch, &short, how, problems)?;
    let given = SolvedFor { known: Some(&start), ..SolvedFor::of(&batch.job) };
    let (solved, short) = parted(answers(&given, how));
    problems.extend(tell(&short, &batch));
    short.is_empty().then_some((batch, solved))
}

type Short = Vec<(Task, Shortage)>;

/// The groups that have an answer, and those that are short.
fn parted(answers: Vec<(Task, Result<Answer, Shortage>)>) -> (Vec<(Task, Answer)>, Short) {
    let (mut solved, mut short) = (Vec::new(), Vec::new());
    for (task, answer) in answers {
        match answer {
            Ok(answer) => solved.push((task, answer)),
            Err(shortage) => short.push((task, shortage)),
        }
    }
    (solved, short)
}

/// What groups of papers are solved for.
#[derive(Clone, Copy)]
struct SolvedFor<'a> {
    bill: &'a Bill,
    stock: &'a Stock,
    workshop: &'a Workshop,
    /// Sheets of a plan that is known.
    known: Option<&'a Start>,
}

impl<'a> SolvedFor<'a> {
    fn of(Job { bill, stock, workshop, .. }: &'a Job) -> SolvedFor<'a> {
        SolvedFor { bill, stock, workshop, known: None }
    }
}

/// The groups of papers, each with its answer, found side by side; the result does not depend on the
/// threads.
fn answers(
    &SolvedFor { bill, stock, workshop, known }: &SolvedFor,
    How { options, watch, until }: How,
) -> Vec<(Task, Result<Answer, Shortage>)> {
    let mut tasks = program::tasks(bill, stock, workshop, options.effort.room());
    tasks.iter_mut().for_each(|task| task.engine = options.engine);
    let work = Budget::new(options.effort, &tasks, until, watch.stop);
    let board = Board::new(tasks.len(), workshop.currency.clone(), watch);
    let one = |at: usize| {
        let task = &tasks[at];
        let tell = |known| board.tell(at, known, &task.units);
        let answer = work.on(task, &tell, |settings| program::solve(task, known, settings));
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
