//! From a report folder and a shelf to the shelf after the batch, and back again.
//!
//! A report is judged by the copies in its note first, then held against the shelf as it is now. From a folder in which
//! it does not lie where its note says, nothing is settled unless the shelf is named. Paper that is set aside is for
//! the plan that asked for it, and for those made later.

mod account;
mod learned;
mod report;
mod take;

pub use account::{Account, HowFar};
pub use learned::{STAGES, sentence as learned_sentence};
use report::Sound;
pub use report::{ToSettle, copies, is_in_use, is_under_way, kept, order_name, origin};
pub use take::{EnteredTake, PlanNeeds, StockNeed, UnmetNeed, preview_take, read_take, take};

use crate::batch::{Remainder, Source, read_workshop};
use crate::diagnostics::{Problem, Problems, listed, one_word};
use crate::pieces::Before;
use crate::plan::Plan;
pub use crate::plan::Reached;
use crate::plan::check::Verdict;
use crate::shelf::{
    self, Disk, Event, Ground, Journal, Past, Planned, Refusal, Reversal, Settlement, Shelf, Spot,
    StoreError, Texts,
};
use crate::stock::{self, Counts, Stock, USUAL_NAMES};
use crate::table::Named;
use crate::workshop::Workshop;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// Why a shelf was not changed.
#[derive(Debug)]
pub enum Trouble {
    /// What a person has to know.
    Problems(Problems),
    /// A fault of the program.
    Fault(String),
    /// The shelf could not be read or written.
    Store(StoreError),
}

impl From<StoreError> for Trouble {
    fn from(error: StoreError) -> Trouble {
        match error {
            StoreError::Problem(problem) => Trouble::from(*problem),
            error => Trouble::Store(error),
        }
    }
}

impl From<Refusal> for Trouble {
    fn from(refusal: Refusal) -> Trouble {
        match refusal {
            Refusal::Problems(problems) => Trouble::Problems(problems),
            Refusal::Fault(fault) => Trouble::Fault(fault),
        }
    }
}

impl From<Problem> for Trouble {
    fn from(problem: Problem) -> Trouble {
        Trouble::Problems(problem.into())
    }
}

/// Settles a report, or a part of it: the files of the shelf are written, and the journal. `bench` is that of the shelf.
///
/// # Errors
/// The plan is no plan, or does not fit the shelf; the shelf has mistakes, or cannot be written.
pub fn settle<D: Disk>(
    report: &ToSettle,
    bench: Option<&Source>,
    account: &Account,
    shelf: &mut Shelf<D>,
) -> Result<SettledReport, Trouble> {
    let texts = ready(shelf)?;
    let workshop = &workshop(bench)?;
    let sound = report::judged(report, bench, &shelf.journal)?;
    is_of_this_past(&sound.read.batch(), &shelf.journal)?;
    goes_on(&sound, &shelf.journal)?;
    set_aside_for(&sound.read.batch(), shelf)?;
    let (journal, stock) = (&shelf.journal, &stock(shelf, workshop)?);
    let ground = Ground { journal, texts: &texts, stock, workshop };
    let request = &account.request;
    let portion = account::portion(&sound, account, journal, stock)?;
    let Sound { read, verdict, .. } = sound;
    let settlement = shelf::settle(&read.batch(), &portion, request, &ground)?;
    let mut events = shelf.catching_up(&texts)?;
    events.push(settlement.event());
    shelf.commit(&request.on.to_string(), events, Some(&settlement.texts))?;
    let copies = read.origin.copies.into_iter().flat_map(|copies| copies.orders);
    let orders = copies.map(|order| order.name).collect();
    Ok(SettledReport { settlement, plan: read.plan, verdict, orders })
}

/// A report that was settled.
#[derive(Debug)]
pub struct SettledReport {
    /// What became of the shelf.
    pub settlement: Settlement,
    /// The plan.
    pub plan: Plan,
    /// What is not proven of it.
    pub verdict: Verdict,
    /// The orders that it was made from, as its copies name them; none where it keeps none, and was judged by what it records
    /// itself.
    pub orders: Vec<String>,
}

/// A plan was made from what the shelf was then: not from a journal that is longer than this one, and not before
/// another plan of the same batch was settled.
///
/// # Errors
/// It was.
fn is_of_this_past(batch: &Planned, journal: &Journal) -> Result<(), Trouble> {
    let name = &batch.plan.order;
    let length = journal.entries().len() as u64;
    if batch.entries > length {
        let title = format!("{name} was planned when the journal had {} entries", batch.entries);
        return Err(Problem::error("settle-past", title)
            .help(format!(
                "it has {length} now: the report belongs to another shelf, or entries are missing"
            ))
            .help(format!("plan {name} again"))
            .into());
    }
    match journal.last_of(name) {
        Some((entry, settled))
            if settled.plan != batch.identity
                && journal.chain(&settled.plan).contains(&batch.identity) =>
        {
            let title = format!("the rest of {name} was settled since, as entry {}", entry.number);
            let report = settled.report.as_deref().unwrap_or("REPORT");
            Err(Problem::error("settle-past", title)
                .help("this report is finished with: what comes next is recorded with the report of the rest")
                .help(format!(
                    "what you found spoiled since too: `cardwright settle {} --done STEP --spoiled \"PIECE=COUNT\"`",
                    one_word(report)
                ))
                .into())
        }
        Some((entry, settled))
            if settled.plan != batch.identity && batch.entries < entry.number =>
        {
            let title = format!("another plan of {name} was settled as entry {}", entry.number);
            Err(Problem::error("settle-past", title)
                .help("this report is older, so the same cards would be settled twice")
                .help(format!("to make them again, plan {name} again"))
                .into())
        }
        _ => Ok(()),
    }
}

/// A plan that makes the rest of a batch goes on from what the journal says was done before, and no other plan goes on from
/// anything.
///
/// # Errors
/// It says otherwise.
fn goes_on(sound: &Sound, journal: &Journal) -> Result<(), Trouble> {
    let batch = sound.read.batch();
    let copies = sound.read.origin.copies.as_ref();
    let said = copies.and_then(|copies| copies.before.clone());
    let known = batch.rest_of.and_then(|plan| journal.before(plan).filter(|_| journal.knows(plan)));
    if said == known && batch.rest_of.is_some() == said.is_some() {
        return Ok(());
    }
    let name = &batch.plan.order;
    let title = format!("the report of {name} does not fit what is settled of it");
    let rest = if journal.last_of(name).is_some() { " --rest" } else { "" };
    Err(Problem::error("settle-past", title)
        .help("it makes the rest of a batch, and what was done before has changed since")
        .help(format!("plan it again: `plan ORDER{rest}`"))
        .into())
}

/// Paper that is set aside for a plan is not for one that was made, or changed, before. A later plan of the batch may
/// have it.
///
/// # Errors
/// It is set aside for another plan.
fn set_aside_for<D: Disk>(batch: &Planned, shelf: &Shelf<D>) -> Result<(), Trouble> {
    let name = &batch.plan.order;
    match shelf.journal.reserved_for(name) {
        Some((number, plan)) if plan != batch.identity && batch.entries < number => {
            let title = format!("the paper is set aside for another plan of {name}");
            Err(Problem::error("settle-reserved", title)
                .help(format!("plan {name} again with --reserve, and settle that plan"))
                .help(format!("or release the paper: `{}`", drop_command(name, &shelf.spot)))
                .into())
        }
        _ => Ok(()),
    }
}

/// The command that releases what is set aside for a batch.
fn drop_command(batch: &str, spot: &Spot) -> String {
    spot.command(&format!("drop {}", one_word(batch)))
}

/// A batch of which something is settled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Begun {
    /// What its plans have come to.
    pub before: Before,
    /// The last of them.
    pub plan: String,
    /// The folder of its report, as its note says.
    pub report: Option<String>,
}

/// What was settled of a batch.
///
/// # Errors
/// Nothing was, or an earlier version did not note what.
pub fn begun(batch: &str, journal: &Journal) -> Result<Begun, Box<Problem>> {
    let Some((entry, settled)) = journal.last_of(batch) else {
        let title = format!("nothing of {batch} is settled yet");
        let problem = Problem::error("rest-none", title);
        let open = journal
            .settled()
            .map(|(_, settled)| settled)
            .filter(|settled| journal.last_of(&settled.batch).is_some_and(|(_, last)| !last.whole));
        let open: BTreeSet<&str> = open.map(|settled| settled.batch.as_str()).collect();
        let problem = match open.is_empty() {
            true => problem,
            false => problem.help(format!(
                "under way: {}; name its orders as they were named then",
                listed(&open.into_iter().collect::<Vec<_>>())
            )),
        };
        return Err(Box::new(
            problem
                .help("plan it without `--rest`")
                .help("or record first what is cut: `cardwright settle REPORT --done STEP`"),
        ));
    };
    match journal.before(&settled.plan) {
        Some(before) => {
            Ok(Begun { before, plan: settled.plan.clone(), report: settled.report.clone() })
        }
        None => {
            let title = format!("entry {} does not say what was finished of {batch}", entry.number);
            let problem = Problem::error("rest-unknown", title)
                .help("an earlier version of Cardwright settled it")
                .help("take it back with `settle REPORT --undo`, and settle it again");
            Err(Box::new(problem))
        }
    }
}

/// What a plan had left to cut when it was settled last, stacks by their names in the drawer; `None` where the report is
/// another one, or its steps are not known.
pub fn remainder(report: &ToSettle, plan: &str, journal: &Journal) -> Option<Remainder> {
    let sound = report::judged(report, None, journal).ok()?;
    account::remainder(&sound, plan, journal)
}

/// Takes the last part of a report that was settled back.
///
/// # Errors
/// It was not settled, or the shelf has changed since, or cannot be written.
pub fn undo<D: Disk>(
    report: &ToSettle,
    on: Date,
    shelf: &mut Shelf<D>,
) -> Result<Reversal, Trouble> {
    let texts = ready(shelf)?;
    let read = report::read(report, &shelf.journal)?;
    let batch = read.batch();
    let past = Past { journal: &shelf.journal, texts: &texts, spot: &shelf.spot };
    let reversal = shelf::undo(&batch.plan.order, batch.identity, past)?;
    promised_stays(&batch.plan.order, &reversal.texts, shelf)?;
    // Edits that lead nowhere are no event: the texts are those of after the batch.
    shelf.commit(&on.to_string(), vec![reversal.event.clone()], Some(&reversal.texts))?;
    Ok(reversal)
}

/// Paper that is set aside for other batches is there after a batch was taken back, too.
///
/// # Errors
/// It is not: its offcuts are set aside, or so many sheets.
fn promised_stays<D: Disk>(name: &str, texts: &Texts, shelf: &Shelf<D>) -> Result<(), Trouble> {
    let promised = shelf.journal.reserved_beside(name);
    if promised.is_empty() {
        return Ok(());
    }
    let mut problems = Problems::new();
    let files = shelf.spot.shown.each().with(texts.each());
    let files = files.map(|(name, text)| Some(Named::new(name, text.as_deref()?)));
    // Sizes do not matter here, so no bench has to say their unit.
    let Some(stock) = stock::read(files, &Workshop::default(), &mut problems) else {
        return Ok(());
    };
    let lies = |id: &String| {
        let sheets = stock.sheets.iter().filter(|sheet| sheet.id == *id);
        let supply = stock.supply(id).map_or(0, |(_, supply)| supply.on_hand);
        sheets.map(|sheet| sheet.on_hand).sum::<u64>() + supply
    };
    let gone: Vec<&String> =
        promised.iter().filter(|(id, count)| lies(id) < **count).map(|(id, _)| id).collect();
    if gone.is_empty() {
        return Ok(());
    }
    let reserved = shelf.journal.reserved();
    let holds = |paper: &Counts| gone.iter().any(|id| paper.contains_key(*id));
    let holders = reserved.iter().filter(|(batch, paper)| *batch != name && holds(paper));
    let drops: Vec<String> =
        holders.map(|(batch, _)| format!("`{}`", drop_command(batch, &shelf.spot))).collect();
    let title = format!("set aside for another batch: {}", listed(&gone));
    Err(Problem::error("settle-undo", title)
        .help(format!("undoing {name} would remove it"))
        .help(format!(
            "`{}` shows for which, {} {} it",
            shelf.spot.command(""),
            listed(&drops),
            if drops.len() == 1 { "releases" } else { "release" }
        ))
        .into())
}

/// Paper on hand that a plan takes and that is free, not set aside yet.
#[derive(Debug)]
pub struct Reservation {
    events: Vec<Event>,
}

impl Reservation {
    /// Finds the paper that a plan takes from what is on hand.
    ///
    /// # Errors
    /// It was taken since the plan was made, or the shelf has mistakes.
    pub fn of<D: Disk>(
        plan: &Plan,
        identity: &str,
        workshop: &Workshop,
        shelf: &Shelf<D>,
    ) -> Result<Reservation, Trouble> {
        let texts = ready(shelf)?;
        let stock = stock(shelf, workshop)?;
        let beside = shelf.journal.reserved_beside(&plan.order);
        let mut paper = Counts::new();
        let mut problems = Problems::new();
        let lying = |id: &str| stock.sheets.iter().find(|it| it.id == id).map(|it| it.on_hand);
        let sheets = plan.sheets.iter().map(|it| (&it.id, it.used.min(it.on_hand), lying(&it.id)));
        let in_stock = |id: &str| stock.supply(id).map(|(_, supply)| supply.on_hand);
        let supplies = plan.supplies.iter();
        let supplies = supplies.map(|it| (&it.id, it.wanted().min(it.on_hand), in_stock(&it.id)));
        for (id, wanted, lies) in sheets.chain(supplies) {
            let free = lies.unwrap_or_default();
            let free = free.saturating_sub(beside.get(id).copied().unwrap_or_default());
            if free < wanted {
                let title = format!("`{id}` was taken while {} was planned", plan.order);
                let unit = stock.supply(id).map(|(_, supply)| supply.unit.clone());
                let told = |amount: u64| unit.clone().unwrap_or_default().told(amount);
                problems.push(Problem::error("reserve-taken", title).help(format!(
                    "needed: {}, left: {}; plan the order again",
                    told(wanted),
                    told(free)
                )));
            }
            if wanted > 0 {
                paper.insert(id.clone(), wanted);
            }
        }
        if !problems.is_empty() {
            return Err(Trouble::Problems(problems));
        }
        let mut events = shelf.catching_up(&texts)?;
        let (batch, identity) = (plan.order.clone(), identity.to_owned());
        events.push(Event::Reserved { batch, plan: identity, paper, units: shelf::units(plan) });
        Ok(Reservation { events })
    }

    /// Sets the paper aside.
    ///
    /// # Errors
    /// The shelf cannot be written; nothing is set aside then.
    pub fn enter<D: Disk>(self, on: Date, shelf: &mut Shelf<D>) -> Result<(), Trouble> {
        Ok(shelf.commit(&on.to_string(), self.events, None)?)
    }
}

/// Releases the paper that is set aside for a batch.
///
/// # Errors
/// None is set aside for it, or the shelf cannot be written.
pub fn release<D: Disk>(batch: &str, on: Date, shelf: &mut Shelf<D>) -> Result<Counts, Trouble> {
    let texts = ready(shelf)?;
    let reserved = shelf.journal.reserved();
    let Some(paper) = reserved.get(batch) else {
        let names: Vec<&str> = reserved.keys().map(String::as_str).collect();
        let problem = Problem::error("reserve-none", format!("no paper is set aside for {batch}"));
        return Err(match names.as_slice() {
            [] => problem.help("plan an order with --reserve to set its paper aside"),
            names => problem.help(format!("paper is set aside for {}", listed(names))),
        }
        .into());
    };
    let mut events = shelf.catching_up(&texts)?;
    events.push(Event::Dropped { batch: batch.to_owned() });
    shelf.commit(&on.to_string(), events, None)?;
    Ok(paper.clone())
}

/// Puts the files back to what they were after an entry of the journal, the last one unless it is named.
/// What is in them now goes into the journal first. Gives the lines that this changed: `- old`, `+ new`.
///
/// # Errors
/// There is no such entry, the journal contradicts itself, or the shelf cannot be written.
pub fn rebuild<D: Disk>(
    entry: Option<u64>,
    on: Date,
    shelf: &mut Shelf<D>,
) -> Result<Rebuilt, Trouble> {
    let last = shelf.journal.entries().len() as u64;
    if last == 0 {
        return Err(Problem::error("shelf-entry", "there is no journal yet")
            .help("it starts with the first batch you settle")
            .into());
    }
    let entry = entry.unwrap_or(last);
    if entry == 0 || entry > last {
        let problem = Problem::error("shelf-entry", format!("the journal has no entry {entry}"));
        return Err(problem.help(format!("its entries are 1 to {last}")).into());
    }
    let texts = shelf.journal.texts_after(entry).ok_or_else(|| shelf.contradiction())?;
    let now = shelf.texts()?;
    let mut events = match shelf.journal.pending() {
        // Nobody could finish it: it counts as done, and what is in the files as an edit.
        Some(pending) => vec![Event::Done { entry: pending.number }],
        None => Vec::new(),
    };
    events.extend(shelf.catching_up(&now)?);
    // The files may be as they were then by another way; what counts as settled has to be as well.
    let mut later = shelf.journal.entries().iter().filter(|later| later.number > entry);
    if texts == now && !later.any(|later| later.event.writes()) {
        if !events.is_empty() {
            shelf.commit(&on.to_string(), events, None)?;
        }
        return Ok(Rebuilt { entry, lines: Vec::new() });
    }
    let lines = shelf::differing_lines(&now, &texts);
    events.push(Event::Rebuilt { entry, shift: shelf::Shift::between(&now, &texts) });
    shelf.commit(&on.to_string(), events, Some(&texts))?;
    Ok(Rebuilt { entry, lines })
}

/// What rebuilding came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rebuilt {
    /// The entry whose files they are now.
    pub entry: u64,
    /// Lines that changed: `- old`, `+ new`; none where the files were these already.
    pub lines: Vec<String>,
}

/// The texts of a shelf that can be changed: nothing unfinished, no file vanished.
fn ready<D: Disk>(shelf: &Shelf<D>) -> Result<Texts, Trouble> {
    if let Some(problem) = &shelf.unfinished {
        return Err(problem.clone().into());
    }
    let texts = match shelf.texts() {
        // Why a file is no text is told as of any other file.
        Err(StoreError::NoText { .. }) => return Err(not_read(shelf)),
        texts => texts?,
    };
    not_vanished(&texts, &shelf.journal, &shelf.spot)?;
    Ok(texts)
}

/// Every file that the journal knows is there.
fn not_vanished(texts: &Texts, journal: &Journal, spot: &Spot) -> Result<(), Trouble> {
    let known = journal.after().cloned().unwrap_or_default();
    let is_gone =
        |(now, known): (&Option<String>, Option<String>)| now.is_none() && known.is_some();
    let gone = texts.each().with(known).map(is_gone).with(USUAL_NAMES).array();
    let vanished = gone.into_iter().find(|(is_gone, _)| *is_gone);
    match vanished.map(|(_, usual)| usual.trim_end_matches(".csv")) {
        Some(what) => Err(Problem::error("shelf-vanished", format!("the file of {what} is gone"))
            .help(format!("`{}` writes it again from the journal", spot.command("rebuild")))
            .help(format!("if you have no {what} left, make a file with only the header"))
            .into()),
        None => Ok(()),
    }
}

fn not_read<D: Disk>(shelf: &Shelf<D>) -> Trouble {
    match stock(shelf, &Workshop::default()) {
        Err(trouble) => trouble,
        Ok(_) => Trouble::Fault("a file that is no text was read as a table".to_owned()),
    }
}

/// The bench of a report, all defaults where there is no file.
///
/// # Errors
/// All its mistakes.
pub fn workshop(bench: Option<&Source>) -> Result<Workshop, Trouble> {
    let mut problems = Problems::new();
    let workshop = read_workshop(bench, &mut problems);
    match problems.has_errors() {
        true => Err(Trouble::Problems(problems)),
        false => Ok(workshop),
    }
}

/// The stock of a shelf, whose files have to be without mistakes.
///
/// # Errors
/// All their mistakes.
pub fn stock<D: Disk>(shelf: &Shelf<D>, workshop: &Workshop) -> Result<Stock, Trouble> {
    let mut problems = Problems::new();
    let files = shelf.spot.shown.each().with(shelf.bytes.each());
    let files = files.map(|(name, bytes)| Some(Named::new(name, bytes.as_deref()?)));
    match stock::read(files, workshop, &mut problems) {
        Some(stock) if !problems.has_errors() => Ok(stock),
        _ => Err(Trouble::Problems(problems)),
    }
}
