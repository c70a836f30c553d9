//! A report folder: its plan, and the note of what that was made from.

use super::Trouble;
use crate::batch::{
    By, Inputs, Judgement, Rest, SoundPlan, Source, is_of_first_schema, judge, parsed,
};
use crate::diagnostics::Problem;
use crate::job::Job;
use crate::plan::check::Verdict;
use crate::plan::{Plan, unrepeated};
use crate::shelf::{
    self, Copies, FIRST_ORIGIN_SCHEMA, Journal, ORIGIN_SCHEMA, OrderCopy, Origin, Planned,
    identity, identity_of_files,
};
use std::path::Path;

/// What is settled: a plan, and the note of what it was made from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToSettle {
    /// `plan.json`.
    pub plan: Source,
    /// `origin.json`.
    pub origin: Source,
}

/// A report that was read.
pub(super) struct Read {
    /// Its plan.
    pub plan: Plan,
    identity: String,
    entries: u64,
    /// The note of what it was made from.
    pub origin: Origin,
}

/// A report whose plan is sound.
pub(super) struct Sound {
    pub read: Read,
    /// What it was made from; `None` where it keeps no copies.
    pub job: Option<Job>,
    /// What is not proven of the plan.
    pub verdict: Verdict,
}

impl Read {
    /// The batch that its plan cuts.
    pub fn batch(&self) -> Planned<'_> {
        Planned {
            plan: &self.plan,
            identity: &self.identity,
            entries: self.entries,
            rest_of: self.origin.rest_of.as_deref(),
            report: self.origin.report.as_deref(),
        }
    }
}

/// Reads a report, and judges its plan by the copies of what it was made from. An earlier version kept none: then by
/// itself and this bench.
///
/// # Errors
/// It is no report, or its plan is not sound.
pub(super) fn judged(
    report: &ToSettle,
    bench: Option<&Source>,
    journal: &Journal,
) -> Result<Sound, Trouble> {
    let read = read(report, journal)?;
    let kept = read.origin.copies.as_ref().map(kept);
    let by = match (&kept, bench) {
        (Some(kept), _) => By::Kept(kept),
        (None, Some(bench)) => By::Bench(bench),
        (None, None) => By::Defaults,
    };
    let Judgement { problems, sound } = judge(&report.plan, by);
    match sound {
        Some(SoundPlan { job, verdict, .. }) => Ok(Sound { read, job, verdict }),
        None => Err(Trouble::Problems(problems)),
    }
}

/// Reads a report as what it says it is.
///
/// # Errors
/// It is no report.
pub(super) fn read(report: &ToSettle, journal: &Journal) -> Result<Read, Trouble> {
    let told = |problem: Box<Problem>| Trouble::from(*problem);
    let plan = parsed(&report.plan).map_err(told)?;
    let origin = origin(&report.origin).map_err(told)?;
    if origin.copies.is_none() && !is_of_first_schema(&plan) {
        let what =
            format!("it lacks the copies of order and stock that a plan of {} needs", plan.schema);
        return Err(told(no_note(&report.origin.name, what)));
    }
    let identity = known_as(report, &plan, &origin, journal)?;
    let entries = origin.entries;
    Ok(Read { plan, identity, entries, origin })
}

/// What the journal knows a plan by. Earlier versions went by the bytes of its files.
fn known_as(
    report: &ToSettle,
    plan: &Plan,
    origin: &Origin,
    journal: &Journal,
) -> Result<String, Trouble> {
    let of_files = identity_of_files(&report.plan.bytes, &report.origin.bytes);
    if journal.knows(&of_files) {
        return Ok(of_files);
    }
    identity(plan, origin).map_err(|error| Trouble::Fault(error.to_string()))
}

/// The note of a report folder.
///
/// # Errors
/// It is none.
pub fn origin(source: &Source) -> Result<Origin, Box<Problem>> {
    let refused = |what: String| no_note(&source.name, what);
    let origin: Origin =
        unrepeated::read(&source.bytes).map_err(|error| refused(error.to_string()))?;
    match (origin.schema.as_str(), &origin.copies) {
        (ORIGIN_SCHEMA, Some(_)) | (FIRST_ORIGIN_SCHEMA, None) => Ok(origin),
        (ORIGIN_SCHEMA, None) => Err(refused("it lacks `copies`".to_owned())),
        (FIRST_ORIGIN_SCHEMA, Some(_)) => {
            Err(refused(format!("{FIRST_ORIGIN_SCHEMA} has no `copies`")))
        }
        (other, _) => Err(refused(format!("its schema is {other}, not {ORIGIN_SCHEMA}"))),
    }
}

fn no_note(name: &str, what: String) -> Box<Problem> {
    let title = format!("{name} does not say what was planned");
    let problem = Problem::error("settle-origin", title).help(what);
    Box::new(problem.help("plan the order again: reports of an earlier version cannot be settled"))
}

/// What the note of a report calls the file of an order: its path from here, or its name where that leads elsewhere.
pub fn order_name(path: &Path) -> String {
    let file = || path.file_name().map(|name| name.to_string_lossy().into_owned());
    shelf::noted(path).or_else(file).unwrap_or_default()
}

/// Whether a batch is under way: a part of it is settled and the rest is not, or paper is set aside for it.
pub fn is_under_way(report: &ToSettle, journal: &Journal) -> bool {
    let Ok(read) = read(report, journal) else { return false };
    let Planned { plan, identity, .. } = read.batch();
    let has_paper = journal.reserved_for(&plan.order).is_some_and(|(_, of)| of == identity);
    has_paper || is_open(read.batch(), journal)
}

/// Whether a part of a report is settled, and the rest is not.
pub fn is_in_use(report: &ToSettle, journal: &Journal) -> bool {
    read(report, journal).is_ok_and(|read| is_open(read.batch(), journal))
}

/// Whether a part of a plan is settled and the rest is not, neither by it nor by a later plan of the batch.
fn is_open(Planned { plan, identity, .. }: Planned, journal: &Journal) -> bool {
    let is_settled = journal.last_settled(identity).is_some();
    let last = journal.last_of(&plan.order).map(|(_, last)| last).filter(|last| !last.whole);
    // The same order may be made again: then its earlier plans are none of those that made it.
    is_settled && last.is_some_and(|last| journal.chain(&last.plan).contains(&identity))
}

/// Copies of all files of a batch.
///
/// # Errors
/// One is no text, from which nothing was planned: a fault of the program.
pub fn copies(inputs: &Inputs) -> Result<Copies, std::string::FromUtf8Error> {
    let text = |source: &Source| String::from_utf8(source.bytes.clone());
    let order = |source: &Source| {
        Ok(OrderCopy { name: order_name(Path::new(&source.name)), text: text(source)? })
    };
    Ok(Copies {
        orders: inputs.orders.iter().map(order).collect::<Result<_, _>>()?,
        sheets: text(&inputs.sheets)?,
        offcuts: inputs.offcuts.as_ref().map(text).transpose()?,
        envelopes: inputs.envelopes.as_ref().map(text).transpose()?,
        sundries: inputs.sundries.as_ref().map(text).transpose()?,
        workshop: inputs.workshop.as_ref().map(text).transpose()?,
        set_aside: inputs.reserved.clone(),
        before: inputs.rest.as_ref().map(|rest| rest.before.clone()),
        sets: inputs.sets.clone(),
    })
}

/// The files of a batch as its report keeps them.
pub fn kept(copies: &Copies) -> Inputs {
    let source = |name: &str, text: &String| Source {
        name: format!("{name} in origin.json"),
        bytes: text.clone().into_bytes(),
    };
    let order = |order: &OrderCopy| Source {
        // Its name without the ending is the order's.
        name: order.name.clone(),
        bytes: order.text.clone().into_bytes(),
    };
    Inputs {
        orders: copies.orders.iter().map(order).collect(),
        sheets: source("sheets.csv", &copies.sheets),
        offcuts: copies.offcuts.as_ref().map(|text| source("offcuts.csv", text)),
        envelopes: copies.envelopes.as_ref().map(|text| source("envelopes.csv", text)),
        sundries: copies.sundries.as_ref().map(|text| source("sundries.csv", text)),
        workshop: copies.workshop.as_ref().map(|text| source("workshop.toml", text)),
        reserved: copies.set_aside.clone(),
        rest: copies.before.clone().map(Rest::of),
        sets: copies.sets.clone(),
    }
}
