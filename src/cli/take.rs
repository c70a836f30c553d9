//! `cardwright shelf count` and `cardwright shelf take`: a table of all that is on file, and what was found by it.

use super::access;
use super::console::{Console, Exit};
use super::files;
use super::json;
use super::settings::Sources;
use super::shelf::{NotShown, open};
use super::table::{add, table};
use super::typed::as_typed;
use crate::batch::{Inputs, Source};
use crate::diagnostics::{Problem, Problems, counted, listed};
use crate::reports::visible::shown;
use crate::settling::{self, EnteredTake, PlanNeeds, ToSettle, Trouble, UnmetNeed};
use crate::shelf::{Ground, Journal, Recount, RecountReason, Spot, TakeRecord, TakenRow, inside};
use crate::stock::{Stock, StockKind, Texts, take_list};
use crate::workshop::Workshop;
use jiff::civil::Date;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// What is asked of a stock-take.
pub struct TakeAsked {
    /// The table of what was found.
    pub table: PathBuf,
    /// Whether nothing is to be changed.
    pub preview: bool,
    /// Whether a script reads the entry.
    pub json: bool,
}

/// The table to count by.
///
/// # Errors
/// The files have mistakes, or cannot be read.
pub fn count(sources: &Sources, console: &mut Console) -> Result<String, NotShown> {
    let view = access::view(sources, console)?;
    let inputs = read_inputs(sources, console)?;
    if let Some(view) = view {
        console.problems(&view.told);
        access::is_theirs(&view)?;
    }
    let workshop = settling::workshop(inputs.workshop.as_ref())?;
    let stock = read_stock(&inputs, &workshop)?;
    let sheets = String::from_utf8_lossy(&inputs.sheets.bytes).into_owned();
    Ok(take_list(&stock, &sheets, workshop.style()))
}

fn read_inputs(sources: &Sources, console: &mut Console) -> Result<Inputs, NotShown> {
    files::inputs(sources).map_err(|problems| {
        console.problems(&problems);
        NotShown::Exit(Exit::Use)
    })
}

/// What the files say, as whoever changes them reads it: what is only doubtful is told by other commands.
fn read_stock(inputs: &Inputs, workshop: &Workshop) -> Result<Stock, Trouble> {
    let mut problems = Problems::new();
    let stock = crate::batch::read_stock(inputs, workshop, &mut problems);
    stock.filter(|_| !problems.has_errors()).ok_or(Trouble::Problems(problems))
}

/// Records a stock-take, or shows what it would change.
///
/// # Errors
/// The table or the files have mistakes, or a file cannot be read or written.
pub fn take(
    sources: &Sources,
    asked: &TakeAsked,
    on: Date,
    console: &mut Console,
) -> Result<String, NotShown> {
    let mut unread = Problems::new();
    let table = files::required(&asked.table, &mut unread);
    let Some(table) = table else {
        console.problems(&unread);
        return Err(NotShown::Exit(Exit::Use));
    };
    // What is missing is told before anything is locked.
    let inputs = read_inputs(sources, console)?;
    let workshop = &settling::workshop(inputs.workshop.as_ref())?;
    let (entered, journal, spot) = match asked.preview {
        true => previewed(sources, &table, on, workshop, console)?,
        false => entered(sources, &table, on, workshop, console)?,
    };
    let mut warnings = entered.warnings.clone();
    warnings.append(unfit(&entered, &journal, &spot));
    console.problems(&warnings);
    match asked.json {
        true => Ok(json::entry(&entered.entry).map_err(|it| Trouble::Fault(it.to_string()))?),
        false => Ok(told(&entered, asked.preview, &spot, workshop)),
    }
}

/// What a stock-take came to, the journal and the place of the shelf.
type ShelfTake = (EnteredTake, Journal, Spot);

fn entered(
    sources: &Sources,
    table: &Source,
    on: Date,
    workshop: &Workshop,
    console: &mut Console,
) -> Result<ShelfTake, NotShown> {
    let mut shelf = open(sources, console)?;
    let stock = settling::stock(&shelf, workshop)?;
    let found = found(table, &stock, &shelf.journal, workshop, console)?;
    let entered = settling::take(&found, on, &mut shelf, workshop)?;
    Ok((entered, shelf.journal, shelf.spot))
}

fn previewed(
    sources: &Sources,
    table: &Source,
    on: Date,
    workshop: &Workshop,
    console: &mut Console,
) -> Result<ShelfTake, NotShown> {
    let view = access::view(sources, console)?;
    // Read once more, now that nothing can change it.
    let inputs = read_inputs(sources, console)?;
    let Some(view) = view else { return Err(NotShown::Exit(Exit::Use)) };
    console.problems(&view.told);
    access::is_theirs(&view)?;
    let stock = &read_stock(&inputs, workshop)?;
    let found = found(table, stock, &view.journal, workshop, console)?;
    let text = |source: &Source| String::from_utf8_lossy(&source.bytes).into_owned();
    let texts = &Texts {
        sheets: Some(text(&inputs.sheets)),
        offcuts: inputs.offcuts.as_ref().map(text),
        envelopes: inputs.envelopes.as_ref().map(text),
        sundries: inputs.sundries.as_ref().map(text),
    };
    let ground = Ground { journal: &view.journal, texts, stock, workshop };
    let entered = settling::preview_take(&found, on, &ground, &view.spot)?;
    Ok((entered, view.journal, view.spot))
}

fn found(
    table: &Source,
    stock: &Stock,
    journal: &Journal,
    workshop: &Workshop,
    console: &mut Console,
) -> Result<crate::stock::StockTake, NotShown> {
    let mut problems = Problems::new();
    let found = settling::read_take(table, stock, journal, workshop, &mut problems);
    match found.filter(|_| !problems.has_errors()) {
        None => Err(Trouble::Problems(problems).into()),
        Some(found) => {
            console.problems(&problems);
            Ok(found)
        }
    }
}

/// Warns of every report that still waits to be cut and no longer has its paper: those in `reports`, and those that the
/// journal knows.
fn unfit(entered: &EnteredTake, journal: &Journal, spot: &Spot) -> Problems {
    let lying = Path::new("reports").read_dir().into_iter().flatten().flatten();
    let lying = lying.map(|entry| entry.path());
    let noted = journal.settled().filter_map(|(_, settled)| inside(settled.report.as_deref()?));
    let folders: BTreeSet<PathBuf> = lying.chain(noted).collect();
    let mut problems = Problems::new();
    problems.extend(folders.iter().filter_map(|folder| unfit_in(folder, entered, journal, spot)));
    problems
}

fn unfit_in(
    folder: &Path,
    entered: &EnteredTake,
    journal: &Journal,
    spot: &Spot,
) -> Option<Problem> {
    let report = files::report_now(folder)?;
    let origin = settling::origin(&report.origin).ok()?;
    access::is_here(folder, &origin).ok()?;
    let sheets = inside(origin.sheets.as_deref()?)?.canonicalize().ok()?;
    // A report of another shelf has paper of its own.
    if sheets != spot.files.sheets.canonicalize().ok()? {
        return None;
    }
    let needs = PlanNeeds::of_report(&report, journal)?;
    let unmet = needs.unmet(&entered.taken, journal);
    let (first, others) = unmet.split_first()?;
    let title = format!("{} {}", folder.display(), first.sentence());
    let problem = Problem::warning("take-plan", title);
    let also = others.iter().map(UnmetNeed::sentence);
    let problem = also.fold(problem, |problem, other| problem.help(format!("it {other}")));
    Some(problem.help(format!("plan it again: {}", again(&report, journal)?)))
}

/// The command that plans a report again.
fn again(report: &ToSettle, journal: &Journal) -> Option<String> {
    let copies = settling::origin(&report.origin).ok()?.copies?;
    let orders = copies.orders.iter().map(|order| as_typed(Path::new(&order.name)));
    let orders: Vec<String> = orders.collect();
    let rest = if settling::is_in_use(report, journal) { " --rest" } else { "" };
    Some(format!("`cardwright plan {}{rest}`", orders.join(" ")))
}

/// What was found, as tables and in a sentence.
fn told(entered: &EnteredTake, is_preview: bool, spot: &Spot, workshop: &Workshop) -> String {
    let EnteredTake { taken, entry, .. } = entered;
    let mut text = shown(&sentence(&taken.record)) + "\n";
    for kind in StockKind::ALL {
        let rows = taken.rows.iter().filter(|row| row.change.kind == kind);
        let rows: Vec<Vec<String>> = rows.map(|row| cells(row, workshop)).collect();
        let titles = match kind {
            StockKind::Sheet | StockKind::Offcut => {
                [kind.word(), "paper", "size", ">was", ">now", "what"].to_vec()
            }
            StockKind::Envelope | StockKind::Sundry => {
                [kind.word(), ">was", ">now", "what"].to_vec()
            }
        };
        add(&mut text, table(&titles, rows));
    }
    let confirmed = taken.record.confirmed;
    if confirmed > 0 && !taken.rows.is_empty() {
        let are = if confirmed == 1 { "is" } else { "are" };
        text.push_str(&format!("\n{} {are} as the files say\n", counted(confirmed, "other name")));
    }
    let ending = match is_preview {
        true => "Nothing is changed yet: leave out `--preview` to record it".to_owned(),
        false => format!(
            "Entry {} of {}; `{} --to {}` undoes it",
            entry.number,
            shown(&spot.journal_shown()),
            spot.command("rebuild"),
            entry.number.saturating_sub(1)
        ),
    };
    text.push_str(&format!("\n{ending}\n"));
    if !is_preview && taken.rows.iter().any(|row| row.change.why == RecountReason::Added) {
        text.push_str("Write its name on each new strip\n");
    }
    text
}

fn cells(row: &TakenRow, workshop: &Workshop) -> Vec<String> {
    let TakenRow { change, paper, size, unit } = row;
    let mut cells = vec![change.name.clone()];
    if let Some(size) = size {
        cells.extend([paper.clone(), workshop.style().size(*size)]);
    }
    cells.extend([unit.told(change.was), unit.told(change.is), word(change.why).to_owned()]);
    cells
}

fn word(why: RecountReason) -> &'static str {
    match why {
        RecountReason::Corrected => "corrected",
        RecountReason::Added => "added",
        RecountReason::ThrownAway => "thrown away",
        RecountReason::NotFound => "not found",
    }
}

/// What a stock-take found, in a line: `stock-take: 2 offcuts corrected, 1 added, 1 not found`. Names that were corrected are
/// counted, and the strips that came or went.
pub fn sentence(record: &TakeRecord) -> String {
    let kinds: BTreeSet<StockKind> = record.changes.iter().map(|change| change.kind).collect();
    let reasons = [
        RecountReason::Corrected,
        RecountReason::Added,
        RecountReason::ThrownAway,
        RecountReason::NotFound,
    ];
    let mut parts: Vec<String> = Vec::new();
    for why in reasons {
        let sums = kinds.iter().map(|kind| {
            let changes = record.changes.iter();
            let changes = changes.filter(|change| (change.kind, change.why) == (*kind, why));
            (*kind, changes.map(number).sum::<u64>())
        });
        // Where all is of one kind, it is named once.
        let is_clear = kinds.len() == 1 && !parts.is_empty();
        let sums = sums.filter(|(_, sum)| *sum > 0).map(|(kind, sum)| match is_clear {
            true => sum.to_string(),
            false => counted(sum, kind.word()),
        });
        let sums: Vec<String> = sums.collect();
        if !sums.is_empty() {
            parts.push(format!("{} {}", listed(&sums), word(why)));
        }
    }
    match parts.is_empty() {
        true => "stock-take: all as the files say".to_owned(),
        false => format!("stock-take: {}", parts.join(", ")),
    }
}

/// What a change counts for in a sentence.
fn number(change: &Recount) -> u64 {
    let is_paper = matches!(change.kind, StockKind::Sheet | StockKind::Offcut);
    match is_paper && change.why != RecountReason::Corrected {
        true => change.was.abs_diff(change.is),
        false => 1,
    }
}
