//! The way of the data, from the files' bytes to a checked plan and its schedule.

use crate::diagnostics::{Place, Problem, Problems, Source as Lines, listed};
pub use crate::effort::Effort;
use crate::effort::{Work, weight};
use crate::orders::{self, Order};
use crate::pieces::{self, Bill};
use crate::plan::{self, Gains, Ground, Handling, Node, Plan, check};
pub use crate::program::Engine;
use crate::program::{self, Answer, Shortage, Task};
use crate::progress::{Board, Watch};
use crate::schedule::{self, Schedule};
use crate::stock::{self, Counts, SheetKind, Stock};
use crate::workshop::{self, GrainRule, Workshop};
use rayon::prelude::*;
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::path::Path;
use std::time::Duration;

/// A file that was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// Its name as the person gave it.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// All files a batch is made from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Inputs {
    /// One or more orders, planned as one batch.
    pub orders: Vec<Source>,
    /// The full sheets.
    pub sheets: Source,
    /// The drawer.
    pub offcuts: Option<Source>,
    /// The bench.
    pub workshop: Option<Source>,
    /// Paper that is set aside, by batch.
    pub reserved: BTreeMap<String, Counts>,
}

/// A file's name and its bytes.
type Named<'a> = (&'a str, &'a [u8]);

impl Source {
    fn named(&self) -> Named<'_> {
        (&self.name, &self.bytes)
    }
}

impl Inputs {
    /// The files of sheets and, where there is one, offcuts.
    fn stock(&self) -> (Named<'_>, Option<Named<'_>>) {
        (self.sheets.named(), self.offcuts.as_ref().map(Source::named))
    }
}

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
    plan_watched(inputs, options, &|_| ())
}

/// Plans a batch while somebody watches how far it is.
pub fn plan_watched(inputs: &Inputs, options: &Options, watch: Watch) -> Outcome {
    let mut problems = Problems::new();
    let Some(batch) = read(inputs, &mut problems) else {
        return Outcome { problems, ..Outcome::default() };
    };
    make(batch, (options, watch), problems)
}

/// Another order planned from the stock and on the bench of a batch; `None` where it cannot be made.
pub(crate) fn replanned(made: &Made, order: Order, options: &Options) -> Option<Made> {
    let Made { stock, workshop, .. } = made;
    let mut problems = Problems::new();
    let mut bill = pieces::pieces(&order, workshop, &mut problems);
    pieces::shorten_flaps(&mut bill, stock, workshop, &mut problems);
    let (stock, workshop) = (stock.clone(), workshop.clone());
    let batch = Batch { order, stock, workshop, bill, set_aside: Vec::new() };
    make(batch, (options, &|_| ()), problems).made
}

/// Plans a batch that was read: program, plan, schedule, judge.
fn make(batch: Batch, how: (&Options, Watch), mut problems: Problems) -> Outcome {
    let Some(solved) = solve(&batch, how, &mut problems) else {
        return Outcome { problems, ..Outcome::default() };
    };
    let options = how.0;
    let (mut plan, mut gains, mut schedule) = assembled(&batch, &solved, options);
    let mut faults = judged(&batch, &plan);
    if faults.is_empty()
        && let Some(better) = along_the_grain(&batch, solved, &plan, options)
    {
        (plan, gains, schedule) = better;
        faults = judged(&batch, &plan);
    }
    if !faults.is_empty() {
        return Outcome { problems, made: None, faults };
    }
    let Batch { order, stock, workshop, bill, .. } = batch;
    problems.append(schedule::warnings(&schedule, (&plan, &bill), (&stock, &workshop)));
    let made = Some(Made { order, stock, workshop, bill, plan, gains, schedule });
    Outcome { problems, made, faults: Vec::new() }
}

/// The plan that the answers make, and its schedule.
fn assembled(
    batch: &Batch,
    solved: &[(Task, Answer)],
    options: &Options,
) -> (Plan, Gains, Schedule) {
    let Batch { order, stock, workshop, bill, .. } = batch;
    let ground = Ground { order: &order.name, bill, stock, workshop };
    let handling = Handling {
        gauges: &|layout: &Node, kind: SheetKind| schedule::gauges(layout, kind, &workshop.trimmer),
        settings: &|sheets: &[(&Node, SheetKind)]| schedule::settings(sheets, &workshop.trimmer),
    };
    let (mut plan, gains) = plan::assemble(ground, solved, (handling, options.effort.care()));
    let schedule = schedule::schedule(&plan, bill, order, workshop, stock);
    plan.totals.gauge_settings = schedule.gauge_settings;
    (plan, gains, schedule)
}

/// What the judge finds wrong with a plan.
fn judged(batch: &Batch, plan: &Plan) -> Vec<String> {
    let Batch { stock, workshop, bill, .. } = batch;
    let faults = check::check(plan, &check::Given { bill, stock, workshop }).err();
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
) -> Option<(Plan, Gains, Schedule)> {
    let Batch { stock, bill, workshop, .. } = batch;
    let across = |plan: &Plan| schedule::across_grain(plan, bill, stock).values().sum::<u64>();
    let has_time = options.limit.is_none();
    if workshop.grain != GrainRule::Prefer || !has_time || across(plan) == 0 {
        return None;
    }
    let strict = Batch {
        workshop: Workshop { grain: GrainRule::Strict, ..workshop.clone() },
        order: batch.order.clone(),
        stock: stock.clone(),
        bill: bill.clone(),
        set_aside: Vec::new(),
    };
    let strictly = solve(&strict, (options, &|_| ()), &mut Problems::new())?;
    let costs = |answer: &Answer| (answer.spend.value, answer.stock.value);
    let pairs = solved.into_iter().zip(strictly);
    let chosen: Vec<(Task, Answer)> = pairs
        .map(|(free, strict)| if costs(&strict.1) == costs(&free.1) { strict } else { free })
        .collect();
    let (mut better, gains, schedule) = assembled(batch, &chosen, options);
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

/// Judges a `plan.json` by itself and by the rules of the bench.
pub fn judge(plan: &Source, source: Option<&Source>) -> Problems {
    let mut problems = Problems::new();
    let workshop = read_workshop(source, &mut problems);
    let parsed: Plan = match serde_json::from_slice(&plan.bytes) {
        Ok(plan) => plan,
        Err(error) => {
            problems.push(no_plan(plan, &error));
            return problems;
        }
    };
    for fault in check::check_alone(&parsed, &workshop).err().unwrap_or_default() {
        let title = format!("{}: {fault}", plan.name);
        let problem = Problem::error("plan-fault", title).help("plan the order again");
        problems.push(match source {
            Some(_) => problem,
            None => problem.help(
                "it was judged by a bench of defaults: name with --workshop the one it was made for",
            ),
        });
    }
    problems
}

fn no_plan(plan: &Source, error: &serde_json::Error) -> Problem {
    let text = String::from_utf8_lossy(&plan.bytes);
    let line = Lines::new(&plan.name, &text).line(error.line());
    let place = Place {
        file: plan.name.as_str().into(),
        line: error.line(),
        column: error.column().clamp(1, line.chars().count() + 1),
        length: 0,
        text: line,
    };
    let said = error.to_string();
    let expected = said.split(" at line ").next().unwrap_or_default();
    Problem::error("plan-unreadable", format!("{} is no plan", plan.name))
        .at(Some(&place).filter(|place| place.line > 0), expected)
        .help("name a plan.json that `cardwright plan` wrote")
}

/// Everything that was read for a batch.
struct Batch {
    order: Order,
    stock: Stock,
    workshop: Workshop,
    bill: Bill,
    /// The batches for which paper is set aside that this one could use.
    set_aside: Vec<String>,
}

/// Reads all files and finds all their mistakes; `None` where there are any.
fn read(inputs: &Inputs, problems: &mut Problems) -> Option<Batch> {
    let workshop = read_workshop(inputs.workshop.as_ref(), problems);
    let sound_bench = !problems.has_errors();
    // Every file is read before any is given up.
    let orders = read_orders(&inputs.orders, &workshop, problems);
    let mut of_stock = Problems::new();
    let stock = read_stock(inputs, &workshop, &mut of_stock);
    let sound_stock = !of_stock.has_errors();
    problems.append(of_stock);
    let mut stock = stock?;
    check_papers(inputs, problems);
    let order = together(orders.into_iter().flatten().collect());
    let set_aside = set_aside(&mut stock, &order.name, &inputs.reserved);
    let names: Vec<&str> = inputs.orders.iter().map(|source| source.name.as_str()).collect();
    let mut of_pieces = Problems::of_file(&listed(&names));
    let mut bill = pieces::pieces(&order, &workshop, &mut of_pieces);
    // Pieces held against a stock or bench that was misread would be blamed for its mistakes.
    if sound_bench && sound_stock {
        pieces::shorten_flaps(&mut bill, &stock, &workshop, &mut of_pieces);
        pieces::check_fit(&bill, &stock, &workshop, &mut of_pieces);
    }
    problems.append(of_pieces);
    (!problems.has_errors()).then_some(Batch { order, stock, workshop, bill, set_aside })
}

fn read_orders(
    sources: &[Source],
    workshop: &Workshop,
    problems: &mut Problems,
) -> Vec<Option<Order>> {
    let mut read = |Source { name, bytes }: &Source| {
        let style = (workshop.style(), &workshop.formats);
        orders::read(batch_name(name), name, bytes, style, problems)
    };
    sources.iter().map(&mut read).collect()
}

/// The paper of a batch's files; `None` where they are not understood.
pub fn read_stock(inputs: &Inputs, workshop: &Workshop, problems: &mut Problems) -> Option<Stock> {
    let (sheets, offcuts) = inputs.stock();
    stock::read(sheets, offcuts, workshop, problems)
}

/// Takes what is set aside for other batches from the stock, and names those batches.
fn set_aside(stock: &mut Stock, batch: &str, reserved: &BTreeMap<String, Counts>) -> Vec<String> {
    let mut holders = Vec::new();
    for (holder, paper) in reserved.iter().filter(|(holder, _)| *holder != batch) {
        for sheet in &mut stock.sheets {
            let count = paper.get(&sheet.id).copied().unwrap_or_default();
            sheet.on_hand = sheet.on_hand.saturating_sub(count);
        }
        holders.push(holder.clone());
    }
    holders
}

/// Tells of papers in the orders that no file of the stock names.
fn check_papers(inputs: &Inputs, problems: &mut Problems) {
    let (sheets, offcuts) = inputs.stock();
    let papers = stock::papers([sheets].into_iter().chain(offcuts));
    for Source { name, bytes } in &inputs.orders {
        orders::check_papers(name, bytes, &papers, problems);
    }
}

/// Reads the bench, all defaults where there is no file.
pub(crate) fn read_workshop(source: Option<&Source>, problems: &mut Problems) -> Workshop {
    match source {
        Some(source) => workshop::read(&source.name, &source.bytes, problems),
        None => Workshop::default(),
    }
}

/// The name of an order: its file's, without folders and ending.
fn batch_name(file: &str) -> &str {
    Path::new(file).file_stem().and_then(|stem| stem.to_str()).unwrap_or("order")
}

/// Several orders as one batch; the lines then carry their order's name.
fn together(mut orders: Vec<Order>) -> Order {
    if orders.len() == 1 {
        return orders.swap_remove(0);
    }
    let names: Vec<&str> = orders.iter().map(|order| order.name.as_str()).collect();
    let name = names.join("+");
    let lines = orders.into_iter().flat_map(|order| {
        let Order { name, lines } = order;
        lines.into_iter().map(move |mut line| {
            line.name.value = format!("{name}.{}", line.name.value);
            line
        })
    });
    Order { name, lines: lines.collect() }
}

/// Solves every group of papers, side by side; the result does not depend on the threads.
fn solve(
    batch: &Batch,
    (options, watch): (&Options, Watch),
    problems: &mut Problems,
) -> Option<Vec<(Task, Answer)>> {
    let mut tasks = program::tasks(&batch.bill, &batch.stock, &batch.workshop);
    tasks.iter_mut().for_each(|task| task.engine = options.engine);
    let work = Work::new(options.effort, &tasks, (options.limit, options.threads));
    let board = Board::new(tasks.len(), batch.workshop.currency.clone(), watch);
    let one = |at: usize| {
        let task = &tasks[at];
        let tell = |known| board.tell(at, known);
        let answer = work.on(task, &tell, |settings| program::solve(task, settings));
        board.end(at);
        (at, answer)
    };
    // The hardest first, so that all threads end at about the same time.
    let mut order: Vec<usize> = (0..tasks.len()).collect();
    order.sort_by_key(|&at| Reverse(weight(&tasks[at])));
    let all = || order.iter().par_bridge().map(|&at| one(at)).collect();
    let pool = rayon::ThreadPoolBuilder::new().num_threads(options.threads.unwrap_or(0)).build();
    let mut answers: Vec<(usize, Result<Answer, Shortage>)> = match pool {
        Ok(pool) => pool.install(all),
        Err(_) => order.iter().map(|&at| one(at)).collect(),
    };
    answers.sort_by_key(|&(at, _)| at);
    let answers = answers.into_iter().map(|(_, answer)| answer).collect();
    let solved = collect(tasks, answers, batch, problems);
    (!problems.has_errors()).then_some(solved)
}

fn collect(
    tasks: Vec<Task>,
    answers: Vec<Result<Answer, Shortage>>,
    batch: &Batch,
    problems: &mut Problems,
) -> Vec<(Task, Answer)> {
    let mut solved = Vec::new();
    for (task, answer) in tasks.into_iter().zip(answers) {
        match answer {
            Ok(answer) => solved.push((task, answer)),
            Err(shortage) => problems.push(short_of_stock(&shortage, batch)),
        }
    }
    solved
}

/// Most kinds of pieces of which is told how many are missing.
const MISSING: usize = 6;

/// What the stock lacks, as a problem for the person.
fn short_of_stock(shortage: &Shortage, batch: &Batch) -> Problem {
    let bill = &batch.bill;
    let missing = shortage.pieces.iter();
    let mut missing: Vec<String> =
        missing.map(|&(piece, count)| format!("{count} of `{}`", bill.pieces[piece].id)).collect();
    if missing.len() > MISSING {
        let more = missing.split_off(MISSING - 1).len();
        missing.push(format!("those of {more} kinds more"));
    }
    let papers = listed(&shortage.papers);
    let title = match shortage.proven {
        true => format!(
            "the stock of {papers} cannot suffice, and no sheet that can be bought yields what is missing"
        ),
        false => format!("no way was found to cut the order from the stock of {papers}"),
    };
    let place = shortage.pieces.first().and_then(|&(piece, _)| bill.pieces[piece].place.as_ref());
    let label = match missing.is_empty() {
        true => "wants more paper than there is".to_owned(),
        false => format!("{} would stay uncut", listed(&missing)),
    };
    let problem = Problem::error("program-stock-short", title).at(place, label);
    let problem = match batch.set_aside.as_slice() {
        [] => problem,
        holders => problem.help(format!(
            "paper is set aside for {}: `cardwright shelf` shows it, `cardwright shelf drop` gives it free",
            listed(holders)
        )),
    };
    problem
        .help("add sheets on hand, or give a sheet of the paper a price so that it can be bought")
        .help("or name a second paper in the order, joined by `|`")
}
