//! A stock-take: what the files are once they say what was found.

use super::audit::audit_take;
use super::changes::NewCounts;
use super::event::{Event, Recount, RecountReason, Shift, TakeRecord};
use super::journal::Journal;
use super::names::Names;
use super::settle::{Ground, Refusal};
use crate::diagnostics::{Problem, Problems};
use crate::measure::{AmountUnit, Size};
use crate::stock::{Counts, Finding, KnownCount, Sheet, Stock, StockKind, StockTake, Texts};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// A stock-take that can be entered.
#[derive(Clone, Debug, PartialEq)]
pub struct StockTaken {
    /// For the journal.
    pub record: TakeRecord,
    /// For the files.
    pub texts: Texts,
    /// For the person: everything that changed, in the order of the files, new strips last.
    pub rows: Vec<TakenRow>,
}

/// What a stock-take changed, and what that is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TakenRow {
    /// The change.
    pub change: Recount,
    /// Its paper; blank of envelopes and sundries.
    pub paper: String,
    /// Its size, of a sheet or an offcut.
    pub size: Option<Size>,
    /// What it is counted in.
    pub unit: AmountUnit,
}

impl StockTaken {
    /// The entry for the journal.
    pub fn event(&self) -> Event {
        Event::Counted(Box::new(self.record.clone()))
    }
}

/// Works out what the files are once they say what was found. Nothing is written.
///
/// # Errors
/// It does not fit the stock, or was entered before.
pub fn take(found: &StockTake, on: Date, ground: &Ground) -> Result<StockTaken, Refusal> {
    let mut problems = Problems::new();
    found.check(ground.stock, &mut problems);
    problems.drop_warnings();
    if problems.has_errors() {
        return Err(Refusal::Problems(problems));
    }
    if let Some(twice) = found.table.as_deref().and_then(|it| taken_already(it, ground.journal)) {
        return Err(twice.into());
    }
    let added = added(found, on, ground);
    let mut rows = recounted(found, ground.stock);
    rows.extend(added.iter().map(new_row));
    let changes: Vec<Recount> = rows.iter().map(|row| row.change.clone()).collect();
    let new = new_counts(&rows, added);
    let Some((shift, texts)) = Shift::by(ground.texts, new.changes(ground)) else {
        return Err(Refusal::Fault("a change does not fit the file it is made for".to_owned()));
    };
    audit_take(&texts, &changes, ground)?;
    let is_supply = |row: &&TakenRow| row.size.is_none();
    let units = rows.iter().filter(is_supply);
    let units = units.map(|row| (row.change.name.clone(), row.unit.word().to_owned()));
    let confirmed = found.found.len() + found.strips.len() - rows.len();
    let record = TakeRecord {
        table: found.table.clone(),
        confirmed: confirmed as u64,
        units: units.collect(),
        changes,
        shift,
    };
    Ok(StockTaken { record, texts, rows })
}

/// Why a table is not recorded again: it put new strips in the drawer, which would be there twice. `None` where it may be.
pub fn taken_already(table: &str, journal: &Journal) -> Option<Problem> {
    let has_added = |record: &TakeRecord| {
        record.changes.iter().any(|change| change.why == RecountReason::Added)
    };
    let is_it = |record: &TakeRecord| record.table.as_deref() == Some(table) && has_added(record);
    let (entry, _) = journal.takes().find(|(_, record)| is_it(record))?;
    let title = format!("this table is recorded already, as entry {}", entry.number);
    Some(
        Problem::error("take-twice", title)
            .help(format!("on {}; its new strips would be in the drawer twice", entry.on))
            .help("for more strips, write a new table: `cardwright shelf count`"),
    )
}

/// All counts that differ from what the files say, in the order of the files.
fn recounted(found: &StockTake, stock: &Stock) -> Vec<TakenRow> {
    let on_file = stock.on_file();
    let row = |name: &str| {
        let (finding, known) = (found.found.get(name)?.value, on_file.get(name)?);
        let is = finding.is(known.count);
        (is != known.count).then(|| changed_row(name, known, finding))
    };
    stock.names().filter_map(row).collect()
}

fn changed_row(name: &str, known: &KnownCount, finding: Finding) -> TakenRow {
    let why = match finding {
        Finding::There | Finding::Count(_) => RecountReason::Corrected,
        Finding::ThrownAway { .. } => RecountReason::ThrownAway,
        Finding::NotFound { .. } => RecountReason::NotFound,
    };
    let (was, is) = (known.count, finding.is(known.count));
    TakenRow {
        change: Recount { kind: known.kind, name: name.to_owned(), was, is, why },
        paper: known.sheet.map(|sheet| sheet.paper.clone()).unwrap_or_default(),
        size: known.sheet.map(|sheet| sheet.size),
        unit: known.unit.clone(),
    }
}

fn new_row(offcut: &Sheet) -> TakenRow {
    let (kind, why) = (StockKind::Offcut, RecountReason::Added);
    TakenRow {
        change: Recount { kind, name: offcut.id.clone(), was: 0, is: offcut.on_hand, why },
        paper: offcut.paper.clone(),
        size: Some(offcut.size),
        unit: AmountUnit::default(),
    }
}

/// The new strips under names of their own: none that was ever on the label of another strip found, and none that
/// paper has which is set aside.
fn added(found: &StockTake, on: Date, ground: &Ground) -> Vec<Sheet> {
    let labels = ground.journal.takes().flat_map(|(_, record)| &record.changes);
    let labels = labels.map(|change| change.name.clone());
    let promised = ground.journal.reserved_in_all().into_keys();
    let known: BTreeSet<String> = labels.chain(promised).collect();
    let mut names = Names::beside(ground.stock, known);
    let strips = found.strips.iter();
    strips.map(|strip| strip.named(&names.next(&format!("{}-found-", strip.paper)), on)).collect()
}

fn new_counts(rows: &[TakenRow], added: Vec<Sheet>) -> NewCounts {
    let is_known = |row: &&TakenRow| row.change.why != RecountReason::Added;
    let known = || rows.iter().filter(is_known);
    let counts = |kind: StockKind| -> Counts {
        let changes = known().map(|row| &row.change).filter(|change| change.kind == kind);
        changes.map(|change| (change.name.clone(), change.is)).collect()
    };
    let supplies = known().filter(|row| row.size.is_none());
    let supplies: BTreeMap<String, String> =
        supplies.map(|row| (row.change.name.clone(), row.unit.number(row.change.is))).collect();
    let (sheets, offcuts) = (counts(StockKind::Sheet), counts(StockKind::Offcut));
    NewCounts { sheets, offcuts, supplies, added }
}
