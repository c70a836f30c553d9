//! What the stock lacks, as a problem for the person, and what can still be made.

use super::as_many::SetCounting;
use super::effort::Deadline;
use super::inputs::{Aside, Readied};
use super::supplies::of_all;
use super::{How, IfShort};
use crate::diagnostics::{Problem, Problems, listed, one_word};
use crate::job::Job;
use crate::orders::{Order, SetCount, told_left_out, told_sets};
use crate::plan::Plan;
use crate::program::{Shortage, Start, Task};
use crate::stock::SheetKind;
use crate::workshop::Spares;
use std::collections::BTreeSet;

/// Most kinds of pieces of which is told how many are missing.
const MISSING: usize = 6;

/// Where to look for what others have set aside.
fn shown<'a>(aside: impl Iterator<Item = &'a Aside>, batch: &Readied) -> String {
    let holders: Vec<&str> = aside.map(|aside| aside.holder.as_str()).collect();
    let drop = |holder: &&str| {
        format!("`{}`", batch.names.shelf_command(&format!("drop {}", one_word(holder))))
    };
    let drops: Vec<String> = holders.iter().map(drop).collect();
    let release = if drops.len() == 1 { "releases" } else { "release" };
    format!(
        "some is set aside for {}: `{}` shows it, {} {release} it",
        listed(&holders),
        batch.names.shelf_command(""),
        listed(&drops)
    )
}

/// A paper that is bought while some of it is set aside: the person may have forgotten for what.
pub(super) fn bought_beside(batch: &Readied, plan: &Plan) -> Option<Problem> {
    let bought = plan.sheets.iter().filter(|sheet| sheet.packs_bought > 0);
    let bought: BTreeSet<&str> = bought.map(|sheet| sheet.paper.as_str()).collect();
    let is_held = |paper: &&str| batch.set_aside.iter().any(|aside| aside.names.contains(*paper));
    let papers: Vec<&str> = bought.into_iter().filter(is_held).collect();
    let holds = |aside: &&Aside| papers.iter().any(|paper| aside.names.contains(*paper));
    let title = format!("{} is bought while some is set aside", listed(&papers));
    let told = Problem::warning("program-set-aside", title);
    (!papers.is_empty()).then(|| told.help(shown(batch.set_aside.iter().filter(holds), batch)))
}

/// The full sheets that would be enough if they were on hand too; `None` where that is not known, or where it would
/// take offcuts, which nobody can get.
fn would_do(shortage: &Shortage, batch: &Readied) -> Option<String> {
    let sheets = &batch.job.stock.sheets;
    let is_full = |&(sheet, _): &(usize, u64)| sheets[sheet].kind == SheetKind::Sheet;
    let known = !shortage.more.is_empty() && shortage.more.len() <= MISSING;
    let more = |&(sheet, count): &(usize, u64)| format!("{count} more of `{}`", sheets[sheet].id);
    (known && shortage.more.iter().all(is_full))
        .then(|| listed(&shortage.more.iter().map(more).collect::<Vec<_>>()))
}

/// Whether a paper that is short can be bought at all.
fn can_be_bought(shortage: &Shortage, batch: &Readied) -> bool {
    let mut priced = batch.job.stock.sheets.iter().filter(|sheet| sheet.price.is_some());
    priced.any(|sheet| shortage.papers.contains(&sheet.paper))
}

/// A batch for which the paper is enough.
pub(super) struct Fitted {
    pub batch: Readied,
    /// Sheets of a plan for it.
    pub start: Start,
}

/// The part of a batch for which the paper is enough, where that is asked for, with a warning of what is left out. Else
/// `None`, with messages of what is short and how much can be made.
pub(super) fn fitted(
    batch: Readied,
    short: &[(Task, Shortage)],
    how: How,
    problems: &mut Problems,
) -> Option<Fitted> {
    let How { options, watch, .. } = how;
    // Of a rest, nobody has counted yet what is finished of each set.
    if options.if_short == IfShort::GiveUp || batch.job.before.is_some() {
        problems.extend(tell(short, &batch));
        return None;
    }
    // Each counting has its own share of the time.
    let deadline = || Deadline::after(options.limit.map(|limit| limit / 8));
    let until = deadline();
    let stop = || (watch.stop)() || until.is_past();
    let tasks: Vec<&Task> = short.iter().map(|(task, _)| task).collect();
    let mut counting = SetCounting::new(&batch.job, &tasks, options.effort, &stop);
    let rule = &batch.job.workshop.spares;
    let part = counting.most_sets(rule);
    let start = counting.start();
    let is_all = part.iter().all(SetCount::is_all);
    let is_any = part.iter().any(|count| count.found > 0);
    if is_all {
        return Some(Fitted { batch, start });
    }
    if options.if_short == IfShort::AsMany && is_any {
        problems.push(left_out(short, &batch, &of_all(&batch.job.part, part.clone())));
        return Some(reduced(batch, part, start));
    }
    let mut told: Vec<Problem> = tell(short, &batch).collect();
    let none = Spares { percent: 0, at_least: 0 };
    let spared = (*rule != none).then(|| counting.most_sets(&none));
    if let Some(last) = told.pop() {
        told.push(can_be_made(last, &batch, &part, spared.as_deref()));
    }
    problems.extend(told);
    None
}

/// The batch with only so many sets of each line.
pub(super) fn reduced(batch: Readied, part: Vec<SetCount>, start: Start) -> Fitted {
    let Job { order, stock, workshop, bill, part: before, .. } = batch.job;
    let found = |name: &str| part.iter().find(|count| count.line == name).map(|count| count.found);
    let lines = order.lines.into_iter().map(|mut line| {
        line.count.value = found(&line.name.value).unwrap_or_default();
        line
    });
    let lines = lines.filter(|line| line.count.value > 0).collect();
    // Whatever there is to tell of the pieces was told of the whole order.
    let order = Order { name: order.name, lines };
    let part = of_all(&before, part);
    let job = Job { part, ..Job::new(order, stock, workshop, &mut Problems::new()) };
    let place = |piece: usize| {
        let mut pieces = job.bill.pieces.iter();
        pieces.position(|other| other.is_like(&bill.pieces[piece]))
    };
    let start = start.renamed(place);
    Fitted { batch: Readied { job, ..batch }, start }
}

/// What is left out of a batch, and why.
fn left_out(short: &[(Task, Shortage)], batch: &Readied, part: &[SetCount]) -> Problem {
    let reasons = short.iter().map(|(_, shortage)| lack(shortage, batch));
    let reasons = listed(&reasons.collect::<Vec<_>>());
    let title = format!("{reasons}; left out: {}", told_left_out(part));
    let mut problem = Problem::warning("program-as-many", title);
    if part.iter().any(SetCount::is_open) {
        problem = problem.help(TWO_NUMBERS_PLANNED);
    }
    let more: Option<Vec<String>> =
        short.iter().map(|(_, shortage)| would_do(shortage, batch)).collect();
    match more {
        Some(more) => problem.help(format!("{} on hand would be enough for all", listed(&more))),
        None => problem,
    }
}

/// What a plan is that may not have the most sets.
const TWO_NUMBERS_PLANNED: &str =
    "whether more can be made is not known: `--effort long` searches longer for it";
/// What two numbers of one line mean.
const TWO_NUMBERS: &str = "of two numbers, the first can be made, and no more than the second; lines after it count with the first";

/// Adds to a problem how much of the order can be made: with the spares of the workshop, and without any.
fn can_be_made(
    problem: Problem,
    batch: &Readied,
    part: &[SetCount],
    spared: Option<&[SetCount]>,
) -> Problem {
    let is_any = |part: &[SetCount]| part.iter().any(|count| count.most > 0);
    let told = |part: &[SetCount]| match is_any(part) {
        true => told_sets(part),
        false => "no complete card".to_owned(),
    };
    let spared = spared.map(|spared| (spared, spared == part));
    let told = match spared {
        None => told(part),
        Some((_, true)) => format!("{}, with spares or without", told(part)),
        Some((spared, false)) => format!("{}; without spares {}", told(part), told(spared)),
    };
    let problem = problem.help(format!("can be made: {told}"));
    let mut all = part.iter().chain(spared.map(|(spared, _)| spared).unwrap_or_default());
    let problem = match all.any(SetCount::is_open) {
        true => problem.help(TWO_NUMBERS),
        false => problem,
    };
    let plans = if let Some((_, false)) = spared { "those with spares" } else { "these" };
    match part.iter().any(|count| count.found > 0) {
        true => problem.help(format!("`{}` plans {plans}", batch.names.plan_command("--as-many"))),
        false => problem,
    }
}

/// Adds to a problem for how much of the order there is enough, and where to look for what others have set aside.
pub(super) fn told_part(problem: Problem, batch: &Readied, part: &[SetCount]) -> Problem {
    let told = match part.iter().any(|count| count.found > 0) {
        true => told_sets(part),
        false => return problem,
    };
    let command = batch.names.plan_command("--as-many");
    let problem = problem.help(format!("there are enough of these for {told}"));
    problem.help(format!("`{command}` plans as many as there is paper for, too"))
}

/// Where others have set aside some of it.
pub(super) fn with_aside(problem: Problem, batch: &Readied, name: &str) -> Problem {
    let holders: Vec<&Aside> =
        batch.set_aside.iter().filter(|aside| aside.names.contains(name)).collect();
    match holders.is_empty() {
        true => problem,
        false => problem.help(shown(holders.into_iter(), batch)),
    }
}

/// Problems that tell what the stock lacks.
pub(super) fn tell<'a>(
    short: &'a [(Task, Shortage)],
    batch: &'a Readied,
) -> impl Iterator<Item = Problem> + 'a {
    short.iter().map(|(_, shortage)| short_of_stock(shortage, batch))
}

/// `the stock of fern is not enough`.
fn lack(shortage: &Shortage, batch: &Readied) -> String {
    let papers = listed(&shortage.papers);
    match shortage.proven {
        true if can_be_bought(shortage, batch) => {
            format!("the stock of {papers} is not enough, even with what can be bought")
        }
        true => format!("the stock of {papers} is not enough"),
        false => format!("no plan was found for the stock of {papers}"),
    }
}

/// What the stock lacks, as a problem for the person.
fn short_of_stock(shortage: &Shortage, batch: &Readied) -> Problem {
    let bill = &batch.job.bill;
    let missing = shortage.pieces.iter();
    let is_one = matches!(shortage.pieces.as_slice(), [(_, 1)]);
    let mut missing: Vec<String> =
        missing.map(|&(piece, count)| format!("{count} of `{}`", bill.pieces[piece].id)).collect();
    if missing.len() > MISSING {
        let more = missing.split_off(MISSING - 1).len();
        missing.push(format!("{more} more kinds"));
    }
    let title = lack(shortage, batch);
    let place = shortage.pieces.first().and_then(|&(piece, _)| bill.pieces[piece].place.as_ref());
    let label = match missing.is_empty() {
        true => "needs more paper than there is".to_owned(),
        false => format!("{} {} missing", listed(&missing), if is_one { "is" } else { "are" }),
    };
    let problem = Problem::error("program-stock-short", title).at(place, label);
    let problem = match batch.set_aside.as_slice() {
        [] => problem,
        aside => problem.help(shown(aside.iter(), batch)),
    };
    let problem = match would_do(shortage, batch) {
        Some(more) => problem.help(format!("{more} on hand would be enough")),
        None => problem,
    };
    problem
        .help("add sheets on hand, or a price in sheets.csv if more can be bought")
        .help("or name a second paper in the order, joined by `|`")
}
