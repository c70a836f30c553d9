//! `cardwright settle`: a batch was cut, and the shelf is brought up to it.

use super::access::{self, SystemShelf};
use super::arguments::SettleArguments;
use super::console::{Console, Exit};
use super::files;
use super::settings::NamedFile;
use super::table::{add, table};
use super::today::day;
use crate::batch::Source;
use crate::diagnostics::{Problem, Problems, counted, listed, one_word};
use crate::reports::verdict::{Against, Judged};
use crate::reports::visible::shown;
use crate::settling::{self, Account, HowFar, SettledReport, ToSettle, Trouble};
use crate::shelf::{Move, Request, Settlement, SupplyMove};
use crate::stock::{Counts, SheetKind};
use crate::stock::{PerFile, SupplyKind, USUAL_NAMES};
use crate::workshop::Workshop;
use jiff::civil::Date;
use std::path::{Path, PathBuf};

/// All that a command has to read.
struct SettleInput {
    report: ToSettle,
    workshop: Option<Source>,
    files: PerFile<PathBuf>,
}

/// Settles a report, or takes it back.
pub fn run(typed: &SettleArguments, console: &mut Console) -> Exit {
    let read = match read(typed) {
        Ok(read) => read,
        Err((problems, exit)) => {
            console.problems(&problems);
            return exit;
        }
    };
    match settled(typed, &read, console) {
        Ok(text) if typed.json => console.result(text.as_bytes()),
        Ok(text) => console.page(&text),
        Err(trouble) => access::troubled(trouble, console),
    }
}

fn read(typed: &SettleArguments) -> Result<SettleInput, (Problems, Exit)> {
    let mut unread = Problems::new();
    let folder = match typed.report.file_name() {
        Some(name) if name == "plan.json" => typed.report.parent().unwrap_or(Path::new("")),
        _ => &typed.report,
    };
    if folder.is_file() {
        let title = format!("{} is a file, not a report folder", folder.display());
        let problem = Problem::error("file-missing", title);
        unread.push(problem.help("name the folder, such as reports/wedding"));
        return Err((unread, Exit::Use));
    }
    let Some(report) = report(folder, &mut unread) else { return Err((unread, Exit::Use)) };
    let (files, bench) = paths(typed, folder, &report.origin).map_err(|it| (it, Exit::Mistakes))?;
    // A shelf without sheets is none: this says so before anything is locked.
    files::required(&files.sheets, &mut unread);
    let workshop = files::optional(&bench, &mut unread);
    match unread.is_empty() {
        true => Ok(SettleInput { report, workshop, files }),
        false => Err((unread, Exit::Use)),
    }
}

/// Plan and note of one report: read once more where the folder was exchanged for a later one meanwhile.
fn report(folder: &Path, unread: &mut Problems) -> Option<ToSettle> {
    let path = folder.join("plan.json");
    loop {
        let plan = files::required(&path, unread)?;
        let origin = files::required(&folder.join("origin.json"), unread)?;
        if files::now(&path).is_none_or(|now| now == plan.bytes) {
            return Some(ToSettle { plan, origin });
        }
    }
}

/// Where sheets, drawer and bench are: as named; else beside the sheets that are named; else as when the
/// batch was planned.
fn paths(
    typed: &SettleArguments,
    folder: &Path,
    note: &Source,
) -> Result<(PerFile<PathBuf>, NamedFile), Problems> {
    let mut problems = Problems::new();
    let origin = settling::origin(note).map_err(|problem| {
        problems.push(*problem);
        std::mem::take(&mut problems)
    })?;
    if typed.sheets.is_none()
        && let Err(problem) = access::is_here(folder, &origin)
    {
        return Err((*problem).into());
    }
    let mut path = |(named, (known, usual)): (
        &Option<PathBuf>,
        (&Option<String>, &'static str),
    )| match (named, &typed.sheets) {
        (Some(named), _) => named.clone(),
        (None, Some(sheets)) => sheets.with_file_name(usual),
        (None, None) => access::noted(known, usual).unwrap_or_else(|problem| {
            problems.push(*problem);
            PathBuf::new()
        }),
    };
    let SettleArguments { sheets, offcuts, envelopes, sundries, .. } = typed;
    let named = PerFile { sheets, offcuts, envelopes, sundries };
    // Notes of earlier versions know of no others: these lie beside the sheets, if anywhere.
    let beside = |usual: &str| {
        Some(Path::new(origin.sheets.as_deref()?).with_file_name(usual).display().to_string())
    };
    let known = origin.stock().with(USUAL_NAMES);
    let known = known.map(|(known, usual)| (known.clone().or_else(|| beside(usual)), usual));
    let files = named.with(known.each().map(|(known, usual)| (known, *usual))).map(&mut path);
    let bench = path((&typed.workshop, (&origin.workshop, "workshop.toml")));
    match problems.is_empty() {
        true => Ok((files, NamedFile { path: bench, named: typed.workshop.is_some() })),
        false => Err(problems),
    }
}

/// What was said of the batch.
fn account(typed: &SettleArguments, on: Date) -> Result<Account, Trouble> {
    let runs = once(&typed.partly, "settle-part", "add up its sheets and name it once")?;
    let extent = match typed.done {
        Some(reached) => HowFar::Upto(reached),
        None if runs.is_empty() => HowFar::All,
        None => HowFar::Runs(runs),
    };
    let spoiled = once(&typed.spoiled, "settle-spoiled", "add up what was spoiled of it")?;
    let took = once(&typed.hours, "settle-hours", "add up its hours")?;
    Ok(Account { extent, spoiled, took, request: Request { counted: typed.counted, on } })
}

/// Counts by names, each named once.
fn once(typed: &[(String, u64)], code: &'static str, help: &str) -> Result<Counts, Trouble> {
    let mut parts = Counts::new();
    for (run, count) in typed {
        if parts.insert(run.clone(), *count).is_some() {
            let title = format!("{run} is named twice");
            return Err(Problem::error(code, title).help(help).into());
        }
    }
    Ok(parts)
}

fn settled(
    typed: &SettleArguments,
    read: &SettleInput,
    console: &mut Console,
) -> Result<String, Trouble> {
    let mut shelf = access::open(read.files.each().map(PathBuf::as_path), console)?;
    console.problems(&std::mem::take(&mut shelf.told));
    let on = day(typed.on);
    if typed.undo {
        return undone(typed, read, on, &mut shelf);
    }
    let account = account(typed, on)?;
    let bench = read.workshop.as_ref();
    let outcome = settling::settle(&read.report, bench, &account, &mut shelf)?;
    if typed.json {
        return entry(&shelf);
    }
    let mut text = told(&outcome.settlement, &settling::workshop(bench)?, &shelf);
    text.push_str(&goes_on(&outcome));
    let SettledReport { plan, verdict, orders, .. } = outcome;
    let against = match bench {
        _ if !orders.is_empty() => Against::Kept,
        Some(bench) => Against::Bench(bench.name.clone()),
        None => Against::Defaults,
    };
    let name = read.report.plan.name.clone();
    add(&mut text, Judged { name, against, plan, verdict }.doubts());
    Ok(text)
}

fn undone(
    typed: &SettleArguments,
    read: &SettleInput,
    on: Date,
    shelf: &mut SystemShelf,
) -> Result<String, Trouble> {
    let reversal = settling::undo(&read.report, on, shelf)?;
    if typed.json {
        return entry(shelf);
    }
    let files = shelf.spot.shown.each().with(reversal.texts.each());
    let names = files.array().into_iter().filter(|(_, text)| text.is_some());
    let names = listed(&names.map(|(name, _)| shown(name)).collect::<Vec<_>>());
    Ok(format!("entry {} undone: {names} are as they were before it\n", reversal.entry))
}

/// The last entry of the journal that says more than that another is done.
fn entry(shelf: &SystemShelf) -> Result<String, Trouble> {
    let entry = shelf.journal.entries().iter().rev().find(|entry| entry.event.writes());
    let text = serde_json::to_string_pretty(&entry);
    text.map(|text| text + "\n").map_err(|error| Trouble::Fault(error.to_string()))
}

/// What was done, as a table and in a sentence.
fn told(settlement: &Settlement, workshop: &Workshop, shelf: &SystemShelf) -> String {
    let event = &settlement.event;
    let style = workshop.style();
    let count = |count: u64| if count == 0 { String::new() } else { count.to_string() };
    let row = |moved: &Move| {
        let name = match &moved.planned {
            Some(planned) => format!("{} (in the plan: {planned})", moved.name),
            None => moved.name.clone(),
        };
        vec![
            name,
            style.size(moved.size),
            moved.was.to_string(),
            count(moved.bought),
            count(moved.used),
            count(moved.kept),
            moved.is().to_string(),
        ]
    };
    let rows = |kind: SheetKind| {
        settlement.moves.iter().filter(|moved| moved.kind == kind).map(row).collect::<Vec<_>>()
    };
    let mut text = format!("{}: {}\n", shown(&event.batch), sentence(settlement));
    for (title, kind) in [("sheet", SheetKind::Sheet), ("offcut", SheetKind::Offcut)] {
        let titles = [title, "size", ">was", ">bought", ">cut", ">kept", ">now"];
        add(&mut text, table(&titles, rows(kind)));
    }
    for kind in [SupplyKind::Envelope, SupplyKind::Sundry] {
        let moved = settlement.supplies.iter().filter(|moved| moved.kind == kind);
        let rows = moved.map(|moved| {
            let told =
                |amount: u64| if amount == 0 { String::new() } else { moved.unit.told(amount) };
            let SupplyMove { name, was, bought, used, .. } = moved;
            let is = moved.unit.told(moved.is());
            vec![name.clone(), moved.unit.told(*was), told(*bought), told(*used), is]
        });
        let titles = [kind.word(), ">was", ">bought", ">used", ">now"];
        add(&mut text, table(&titles, rows.collect()));
    }
    let entries = shelf.journal.entries().iter().rev();
    let number = entries.filter(|entry| entry.event.writes()).map(|entry| entry.number).next();
    let journal = shown(&shelf.spot.journal_shown());
    text.push_str(&format!("\nEntry {} of {journal}", number.unwrap_or_default()));
    if settlement.moves.iter().any(|moved| moved.planned.is_some()) {
        text.push_str("; write the names that differ from the plan on the labels");
    }
    text.push('\n');
    if !event.stacks.is_empty() {
        text.push_str("\nWrite its name on each stack: it is set aside for this batch.\n");
    }
    text
}

/// How to go on with a batch that is under way; nothing where it is made, or nobody knows from which orders.
fn goes_on(SettledReport { settlement, orders, .. }: &SettledReport) -> String {
    let how = match settlement.event.whole {
        true => "Plan what is missing",
        false => "Go on by the same schedule, or plan what is left",
    };
    match settlement.is_complete || orders.is_empty() {
        true => String::new(),
        false => {
            let orders: Vec<String> = orders.iter().map(|name| one_word(name)).collect();
            format!("{how}: `cardwright plan {} --rest`\n", orders.join(" "))
        }
    }
}

/// `settled: 199 sheets and 22 offcuts cut, 18 sheets bought, 163 offcuts put in the drawer`.
fn sentence(settlement: &Settlement) -> String {
    let sum = |kind: SheetKind, what: fn(&Move) -> u64| -> u64 {
        settlement.moves.iter().filter(|moved| moved.kind == kind).map(what).sum()
    };
    let cut = [
        (sum(SheetKind::Sheet, |moved| moved.used), "sheet"),
        (sum(SheetKind::Offcut, |moved| moved.used), "offcut"),
    ];
    let cut: Vec<String> = cut
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, noun)| counted(*count, noun))
        .collect();
    let mut parts = Vec::new();
    if !cut.is_empty() {
        parts.push(format!("{} cut", listed(&cut)));
    }
    let bought = sum(SheetKind::Sheet, |moved| moved.bought);
    if bought > 0 {
        parts.push(format!("{} bought", counted(bought, "sheet")));
    }
    let event = &settlement.event;
    let kept: u64 = event.kept.iter().map(|kept| kept.count).sum();
    if kept > 0 {
        parts.push(format!("{} put in the drawer", counted(kept, "offcut")));
    }
    let stacks = event.stacks.len() as u64;
    if stacks > 0 {
        let wait = if stacks == 1 { "waits" } else { "wait" };
        parts.push(format!("{} {wait} there", counted(stacks, "stack")));
    }
    let spoiled = event.spoiled_pieces();
    if spoiled > 0 {
        parts.push(format!("{} spoiled", counted(spoiled, "piece")));
    }
    let named = |amounts: &Counts| -> Vec<String> {
        let moved = |name: &str| settlement.supplies.iter().find(|moved| moved.name == name);
        let told = |(name, amount): (&String, &u64)| {
            Some(format!("{name} ({})", moved(name)?.unit.told(*amount)))
        };
        amounts.iter().filter_map(told).collect()
    };
    for (amounts, what) in [(&event.taken, "used"), (&event.wasted, "spoiled")] {
        let named = named(amounts);
        if !named.is_empty() {
            parts.push(format!("{} {what}", listed(&named)));
        }
    }
    let how = match event.reached {
        Some(reached) => format!("settled up to {reached}"),
        None if event.whole => "settled".to_owned(),
        None => "settled in part".to_owned(),
    };
    match parts.is_empty() {
        true => how,
        false => format!("{how}: {}", parts.join(", ")),
    }
}
