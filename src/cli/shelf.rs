//! `cardwright shelf`: what lies there, what changed it, and how to put it right.

use super::access::{self, SystemShelf};
use super::arguments::{ShelfArguments, ShelfCommand, ShelfPlace, WorkshopArguments};
use super::console::{Console, Exit};
use super::files;
use super::json;
use super::settings::{NamedFile, Sources, sources};
use super::table::{add, table};
use super::take::{self, TakeAsked};
use super::today::day;
use crate::diagnostics::{Problems, counted, listed};
use crate::measure::AmountUnit;
use crate::measure::Ratio;
use crate::reports::visible::shown;
use crate::reports::words::{area, not_counted};
use crate::settling::{self, Trouble};
use crate::shelf::{
    End, Entry, Event, Inventory, Journal, Lying, SupplyUnits, differing_lines, digests,
};
use crate::stock::{Counts, SupplyKind, rounded};
use crate::workshop::Workshop;
use jiff::civil::Date;
use std::path::{Path, PathBuf};

/// Does what is asked of a shelf.
pub fn run(typed: ShelfArguments, console: &mut Console) -> Exit {
    let (place, json, what) = match typed.command {
        None => (typed.place, typed.json, Topic::List),
        Some(ShelfCommand::History { place, json }) => (place, json, Topic::History),
        Some(ShelfCommand::Count { place }) => (place, false, Topic::Count),
        Some(ShelfCommand::Take { table, place, preview, json }) => {
            (place, json, Topic::Take(TakeAsked { table, preview, json }))
        }
        Some(ShelfCommand::Rebuild { place, to }) => (place, false, Topic::Rebuild(to)),
        Some(ShelfCommand::Drop { batch, place }) => (place, false, Topic::Drop(batch)),
    };
    let sources = of(&place);
    let on = day(place.on);
    let done = match what {
        Topic::List => list(&sources, on, json, console).map(Shown::sound),
        Topic::History => history(&sources, json, console),
        Topic::Count => take::count(&sources, console).map(Shown::raw),
        Topic::Take(asked) => take::take(&sources, &asked, on, console).map(Shown::sound),
        Topic::Rebuild(to) => rebuild(&sources, to, on, console).map(Shown::sound),
        Topic::Drop(batch) => release(&sources, &batch, on, console).map(Shown::sound),
    };
    match done {
        Ok(Shown { text, is_sound, is_raw }) => {
            let exit = match json || is_raw {
                true => console.result(text.as_bytes()),
                false => console.page(&text),
            };
            if exit == Exit::Done && !is_sound { Exit::Mistakes } else { exit }
        }
        Err(NotShown::Exit(exit)) => exit,
        Err(NotShown::Trouble(trouble)) => access::troubled(trouble, console),
    }
}

/// What is shown.
struct Shown {
    text: String,
    /// Whether it tells of no mistake.
    is_sound: bool,
    /// Whether a program reads it, whatever was asked for.
    is_raw: bool,
}

impl Shown {
    fn sound(text: String) -> Shown {
        Shown { text, is_sound: true, is_raw: false }
    }

    fn raw(text: String) -> Shown {
        Shown { is_raw: true, ..Shown::sound(text) }
    }
}

enum Topic {
    List,
    History,
    Count,
    Take(TakeAsked),
    Rebuild(Option<u64>),
    Drop(String),
}

/// Why nothing is shown.
pub(super) enum NotShown {
    /// It is told already.
    Exit(Exit),
    Trouble(Trouble),
}

impl<T: Into<Trouble>> From<T> for NotShown {
    fn from(trouble: T) -> NotShown {
        NotShown::Trouble(trouble.into())
    }
}

/// The files of the folder that is named, else of this one, else of `orders` in it.
fn of(place: &ShelfPlace) -> Sources {
    let named: &WorkshopArguments = &place.workshop;
    let here = || match Path::new("sheets.csv").symlink_metadata() {
        Err(_) if Path::new("orders/sheets.csv").exists() => PathBuf::from("orders"),
        _ => PathBuf::new(),
    };
    let folder = place.folder.clone().unwrap_or_else(here);
    sources(Vec::new(), named, &[folder.join("sheets.csv")])
}

fn list(
    sources: &Sources,
    on: Date,
    json: bool,
    console: &mut Console,
) -> Result<String, NotShown> {
    let view = access::view(sources, console)?;
    let inputs = match files::inputs(sources) {
        Ok(inputs) => inputs,
        Err(problems) => {
            console.problems(&problems);
            return Err(NotShown::Exit(Exit::Use));
        }
    };
    let journal = match view {
        Some(view) => {
            console.problems(&view.told);
            access::is_theirs(&view)?;
            console.problems(&access::vanished(&view, sources));
            view.journal
        }
        None => Journal::default(),
    };
    let mut problems = Problems::new();
    let workshop = crate::batch::read_workshop(inputs.workshop.as_ref(), &mut problems);
    let stock = crate::batch::read_stock(&inputs, &workshop, &mut problems);
    console.problems(&problems);
    let Some(stock) = stock.filter(|_| !problems.has_errors()) else {
        return Err(NotShown::Exit(Exit::Mistakes));
    };
    let inventory = Inventory::of(&stock, &workshop, &journal.reserved_in_all(), on);
    let holders: Vec<String> = journal.reserved().into_keys().collect();
    Ok(match json {
        true => json::text(&json::shelf(&inventory, &workshop, &holders)),
        false => listing(&inventory, &workshop, &holders),
    })
}

fn listing(inventory: &Inventory, workshop: &Workshop, holders: &[String]) -> String {
    let Inventory { papers, sheets, offcuts, supplies } = inventory;
    let total = |what: fn(&Lying) -> u64, of: &[Lying]| of.iter().map(what).sum::<u64>();
    let value: Ratio = papers.iter().filter_map(|paper| paper.value.clone()).sum();
    let unpriced = papers.iter().filter(|paper| paper.value.is_none());
    let unpriced: Vec<String> = unpriced.map(|paper| paper.paper.clone()).collect();
    let mut text = format!(
        "{} and {}, worth {}{}\n",
        counted(total(|it| it.count, sheets), "sheet"),
        counted(total(|it| it.count, offcuts), "offcut"),
        workshop.currency.with_code(rounded(&value)),
        shown(&not_counted(&unpriced)),
    );
    let titles = ["paper", ">sheets", ">offcuts", ">area", ">worth"];
    let rows = papers.iter().map(|paper| {
        vec![
            paper.paper.clone(),
            paper.sheets.to_string(),
            paper.offcuts.to_string(),
            area(paper.area, workshop.unit),
            worth(paper.value.as_ref(), workshop),
        ]
    });
    add(&mut text, table(&titles, rows.collect()));
    let aside = sheets.iter().chain(offcuts).any(|it| it.reserved > 0);
    let titles = ["sheet", "paper", "size", ">count", ">worth each"];
    let rows = sheets.iter().map(|it| lying(it, workshop));
    add(&mut text, lying_table(&titles, sheets, aside, rows.collect()));
    let titles =
        ["offcut", "paper", "size", ">count", ">worth each", "since", ">days", "yields each"];
    let rows = offcuts.iter().map(|it| {
        let mut row = lying(it, workshop);
        row.push(it.since.map(|(since, _)| since.to_string()).unwrap_or_default());
        row.push(it.since.map(|(_, days)| days.to_string()).unwrap_or_default());
        let cards = it.cards.iter().map(|(name, count)| format!("{count} x {name}"));
        row.push(cards.collect::<Vec<_>>().join(" or "));
        row
    });
    add(&mut text, lying_table(&titles, offcuts, aside, rows.collect()));
    for kind in [SupplyKind::Envelope, SupplyKind::Sundry] {
        let own = supplies.iter().filter(|it| it.kind == kind);
        let rows = own.map(|it| {
            let size = it.size.map(|size| workshop.style().size(size)).unwrap_or_default();
            let aside = if it.reserved == 0 { String::new() } else { it.unit.told(it.reserved) };
            let name = it.name.clone();
            vec![name, size, it.unit.told(it.amount), aside, worth(it.value.as_ref(), workshop)]
        });
        let mut rows: Vec<Vec<String>> = rows.collect();
        let mut titles = vec![kind.word(), "size", ">on hand", ">set aside", ">worth"];
        // What is nowhere in the rows has no column.
        for column in (1..titles.len()).rev() {
            if rows.iter().all(|row| row[column].is_empty()) {
                titles.remove(column);
                rows.iter_mut().for_each(|row| drop(row.remove(column)));
            }
        }
        add(&mut text, table(&titles, rows));
    }
    if let Some((oldest, since, days)) =
        inventory.oldest().and_then(|it| Some((it, it.since?.0, it.since?.1)))
    {
        let days = counted(days.unsigned_abs().into(), "day");
        text.push_str(&format!(
            "\nLongest in the drawer: {}, since {since}, {days}\n",
            shown(&oldest.name)
        ));
    }
    if !holders.is_empty() {
        text.push_str(&format!("Set aside for {}\n", shown(&listed(holders))));
    }
    text
}

/// The rows; behind the count, what is set aside where anything is.
fn lying_table(
    titles: &[&'static str],
    lying: &[Lying],
    aside: bool,
    mut rows: Vec<Vec<String>>,
) -> String {
    let mut titles = titles.to_vec();
    if aside {
        titles.insert(4, ">set aside");
        for (row, it) in rows.iter_mut().zip(lying) {
            row.insert(4, if it.reserved == 0 { String::new() } else { it.reserved.to_string() });
        }
    }
    table(&titles, rows)
}

fn lying(it: &Lying, workshop: &Workshop) -> Vec<String> {
    vec![
        it.name.clone(),
        it.paper.clone(),
        workshop.style().size(it.size),
        it.count.to_string(),
        worth(it.value.as_ref(), workshop),
    ]
}

fn worth(value: Option<&Ratio>, workshop: &Workshop) -> String {
    value.map(|value| workshop.currency.number(rounded(value))).unwrap_or_default()
}

fn history(sources: &Sources, json: bool, console: &mut Console) -> Result<Shown, NotShown> {
    let view = access::view(sources, console)?;
    let mut unread = Problems::new();
    files::required(&sources.stock.sheets.path, &mut unread);
    let Some(view) = view.filter(|_| unread.is_empty()) else {
        console.problems(&unread);
        return Err(NotShown::Exit(Exit::Use));
    };
    console.problems(&view.told);
    access::is_theirs(&view)?;
    let end = view.end;
    let entries = view.journal.entries().iter();
    let entries = entries.filter(|entry| !matches!(entry.event, Event::Done { .. }));
    let entries: Vec<(&Entry, String)> = entries.map(|entry| (entry, told(entry))).collect();
    let proof = proof(&view.journal, sources)?;
    let is_sound = !matches!(proof, ChainProof::Contradicted);
    if json {
        return Ok(Shown {
            text: json::text(&json::history(&entries, &proof, end)),
            is_sound,
            is_raw: false,
        });
    }
    if entries.is_empty() {
        let text =
            "nothing settled yet: the journal starts with the first batch you settle\n".to_owned();
        return Ok(Shown { text, is_sound, is_raw: false });
    }
    let rows = entries.into_iter();
    let rows = rows.map(|(entry, told)| vec![entry.number.to_string(), entry.on.clone(), told]);
    let mut text = table(&[">entry", "on", "what"], rows.collect());
    text.push_str(&format!("\n{}{}\n", whole(end), proven(&proof)));
    Ok(Shown { text, is_sound, is_raw: false })
}

/// Where the entries of a journal lead.
pub enum ChainProof {
    /// Not from one to the next.
    Contradicted,
    /// To the files as they are.
    Current,
    /// To files that were edited since: the lines, `- old`, `+ new`.
    Edited(Vec<String>),
}

fn proof(journal: &Journal, sources: &Sources) -> Result<ChainProof, Trouble> {
    if journal.entries().is_empty() {
        return Ok(ChainProof::Current);
    }
    let Some(texts) = journal.texts() else { return Ok(ChainProof::Contradicted) };
    let mut unread = Problems::new();
    let text = |bytes: Vec<u8>| String::from_utf8_lossy(&bytes).into_owned();
    let read = |file: &NamedFile| files::optional(file, &mut unread).map(|it| text(it.bytes));
    let now = sources.stock.each().map(read);
    if !unread.is_empty() {
        return Err(Trouble::Problems(unread));
    }
    Ok(match digests(&texts) == digests(&now) {
        true => ChainProof::Current,
        false => ChainProof::Edited(differing_lines(&texts, &now)),
    })
}

/// What is not proven of the journal's end.
fn whole(end: End) -> &'static str {
    match end {
        End::Whole => "",
        End::Cut => "Entries are missing at the end. ",
        End::Unknown => "Entries may be missing at the end: nothing says how many there were. ",
    }
}

fn proven(proof: &ChainProof) -> String {
    let proven = "Each entry follows from the one before";
    match proof {
        ChainProof::Contradicted => {
            "The journal contradicts itself: it was changed after it was written".to_owned()
        }
        ChainProof::Current => format!("{proven}, and your files match the last"),
        ChainProof::Edited(lines) => {
            let lines = lines.iter().map(|line| format!("\n  {}", shown(line)));
            format!("{proven}; your files were edited since:{}", lines.collect::<String>())
        }
    }
}

/// What an entry says, in a line.
fn told(entry: &Entry) -> String {
    // What is measured is no sheet.
    let sum = |counts: &Counts, units: &SupplyUnits| -> u64 {
        let sheets = counts.iter().filter(|(name, _)| !units.contains_key(*name));
        sheets.map(|(_, count)| count).sum()
    };
    match &entry.event {
        Event::Begun { .. } => "journal started".to_owned(),
        Event::Named { .. } => "files added to the shelf".to_owned(),
        Event::Edited(_) => "files edited by hand".to_owned(),
        Event::Settled(settled) => {
            let part = match settled.reached {
                Some(reached) => format!(" up to {reached}"),
                None if settled.whole => String::new(),
                None => " in part".to_owned(),
            };
            let kept = settled.kept.iter().map(|kept| kept.count).sum::<u64>();
            let counts = [
                (sum(&settled.bought, &settled.units), None, "bought"),
                (sum(&settled.used, &settled.units), None, "cut"),
                (kept, Some("offcut"), "kept"),
                (settled.stacks.len() as u64, Some("stack"), "waiting"),
                (settled.spoiled_pieces(), Some("piece"), "spoiled"),
            ];
            let told = counts.into_iter().filter(|(count, ..)| *count > 0);
            let told = told.map(|(count, noun, how)| match noun {
                Some(noun) => format!("{} {how}", counted(count, noun)),
                None => format!("{count} {how}"),
            });
            let supplies = [(&settled.taken, "used"), (&settled.wasted, "spoiled")];
            let supplies = supplies.into_iter().filter(|(amounts, _)| !amounts.is_empty());
            let supplies = supplies.map(|(amounts, how)| {
                format!("{} {how}", listed(&supplied(amounts, &settled.units)))
            });
            let told: Vec<String> = told.chain(supplies).collect();
            let told =
                if told.is_empty() { String::new() } else { format!(": {}", told.join(", ")) };
            format!("{} settled{part}{told}", settled.batch)
        }
        Event::Counted(record) => take::sentence(record),
        Event::Undone { entry, .. } => format!("entry {entry} undone"),
        Event::Rebuilt { entry, .. } => format!("rebuilt as after entry {entry}"),
        Event::Reserved { batch, paper, units, .. } => {
            let sheets = sum(paper, units);
            let sheets = (sheets > 0).then(|| counted(sheets, "sheet"));
            let all: Vec<String> = sheets.into_iter().chain(supplied(paper, units)).collect();
            format!("{} set aside for {batch}", listed(&all))
        }
        Event::Dropped { batch } => format!("paper of {batch} released"),
        Event::Done { entry } => format!("entry {entry} done"),
    }
}

/// Envelopes and sundries of an entry: `A7 pine (40)`, `ribbon (880 in)`.
fn supplied(amounts: &Counts, units: &SupplyUnits) -> Vec<String> {
    let told = amounts.iter().filter_map(|(name, amount)| {
        let unit = AmountUnit::of(units.get(name)?);
        Some(format!("{name} ({})", unit.told(*amount)))
    });
    told.collect()
}

pub(super) fn open(sources: &Sources, console: &mut Console) -> Result<SystemShelf, NotShown> {
    let mut shelf = access::open(sources.shelf(), console)?;
    console.problems(&std::mem::take(&mut shelf.told));
    Ok(shelf)
}

fn rebuild(
    sources: &Sources,
    to: Option<u64>,
    on: Date,
    console: &mut Console,
) -> Result<String, NotShown> {
    let mut shelf = open(sources, console)?;
    let rebuilt = settling::rebuild(to, on, &mut shelf)?;
    let entry = rebuilt.entry;
    Ok(match rebuilt.lines.is_empty() {
        true => format!("the files are already as after entry {entry}\n"),
        false => {
            let lines = rebuilt.lines.iter().map(|line| format!("  {}\n", shown(line)));
            format!("the files are now as after entry {entry}:\n{}", lines.collect::<String>())
        }
    })
}

fn release(
    sources: &Sources,
    batch: &str,
    on: Date,
    console: &mut Console,
) -> Result<String, NotShown> {
    let mut shelf = open(sources, console)?;
    let paper = settling::release(batch, on, &mut shelf)?;
    let units = shelf.journal.units();
    let freed = paper.iter().map(|(name, count)| {
        let amount = units.get(name.as_str()).map(|unit| unit.told(*count));
        format!("{} {}", amount.unwrap_or_else(|| count.to_string()), shown(name))
    });
    let freed: Vec<String> = freed.collect();
    Ok(format!("released: {}\n", listed(&freed)))
}
