//! A batch that was cut: what comes off the shelf, and what goes on it.

use super::audit::audit;
use super::event::{Event, Settled, Shift, Stored};
use super::journal::Journal;
use super::pair::{Pair, Texts};
use super::unfit;
use crate::cuts::Tree;
use crate::diagnostics::{Problem, Problems};
use crate::measure::{LengthStyle, Size};
use crate::plan::{KeptOffcut, Leaf, Plan, Run, UsedSheet};
use crate::stock::{
    Counts, Sheet, SheetKind, Stock, empty_drawer, offcuts_changed, sheets_changed,
};
use crate::table::{Change, changed};
use crate::workshop::Workshop;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// What is to be settled.
#[derive(Clone, Copy, Debug)]
pub struct Planned<'a> {
    /// The plan, judged already.
    pub plan: &'a Plan,
    /// What tells it from others.
    pub identity: &'a str,
    /// Entries of the journal when it was made.
    pub entries: u64,
}

/// How much of it was cut, and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Request {
    /// Sheets cut of some runs; `None` is all that is left of all runs.
    pub partly: Option<BTreeMap<String, u64>>,
    /// Whether what was bought is counted in the file of sheets already.
    pub counted: bool,
    /// The day new offcuts go in the drawer.
    pub on: Date,
}

/// The shelf that it is settled against.
#[derive(Clone, Copy, Debug)]
pub struct Ground<'a> {
    /// Every change to it.
    pub journal: &'a Journal,
    /// What is in its files.
    pub texts: &'a Texts,
    /// The same, read.
    pub stock: &'a Stock,
    /// The bench.
    pub workshop: &'a Workshop,
}

/// A batch that can be settled.
#[derive(Clone, Debug, PartialEq)]
pub struct Settlement {
    /// For the journal.
    pub event: Settled,
    /// For the files.
    pub texts: Texts,
    /// For the person: everything that moved, sheets first.
    pub moves: Vec<Move>,
}

/// What happened to the sheets or offcuts of one name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Move {
    /// Full sheets or offcuts.
    pub kind: SheetKind,
    /// Their name.
    pub name: String,
    /// Their paper.
    pub paper: String,
    /// Their size.
    pub size: Size,
    /// How many lay there.
    pub was: u64,
    /// How many were bought.
    pub bought: u64,
    /// How many were cut.
    pub used: u64,
    /// How many were put in the drawer.
    pub kept: u64,
    /// Their name in the plan, where the drawer has another thing of that name.
    pub planned: Option<String>,
}

impl Move {
    /// How many lie there now.
    pub fn is(&self) -> u64 {
        (self.was + self.bought + self.kept).saturating_sub(self.used)
    }
}

/// Why a batch was not settled.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// What a person has to know.
    Problems(Problems),
    /// The files would not add up afterwards: a fault of the program.
    Fault(String),
}

impl From<Problem> for Refusal {
    fn from(problem: Problem) -> Refusal {
        Refusal::Problems(problem.into())
    }
}

/// Works out what the shelf's files are when a batch, or a part of it, was cut. Nothing is written.
///
/// # Errors
/// The batch was settled before, or does not fit the shelf.
pub fn settle(batch: &Planned, request: &Request, ground: &Ground) -> Result<Settlement, Refusal> {
    let runs = runs_cut(batch, request, ground.journal)?;
    let used = used(batch.plan, &runs);
    let bought = bought(batch, request, ground.journal);
    unfit::check(batch, &used, &bought, ground).map_err(Refusal::Problems)?;
    let (news, kept) = kept(batch, &runs, request.on, ground);
    let moves = moves(&used, &bought, &news, &kept, ground.stock);
    let changes = changes(&moves, &news, ground);
    let Some((shift, texts)) = Shift::by(ground.texts, changes) else {
        return Err(Refusal::Fault("a change does not fit the file it is made for".to_owned()));
    };
    let rest = rest(batch, ground.journal, &runs);
    let event = Settled {
        batch: batch.plan.order.clone(),
        plan: batch.identity.to_owned(),
        whole: rest.is_empty(),
        rest,
        runs,
        bought,
        used,
        kept,
        shift,
    };
    let settlement = Settlement { event, texts, moves };
    audit(batch.plan, &settlement, ground)?;
    Ok(settlement)
}

impl Settlement {
    /// The entry for the journal.
    pub fn event(&self) -> Event {
        Event::Settled(Box::new(self.event.clone()))
    }
}

/// Sheets that were cut of each run.
fn runs_cut(
    batch: &Planned,
    request: &Request,
    journal: &Journal,
) -> Result<BTreeMap<String, u64>, Refusal> {
    let before = journal.cut(batch.identity);
    let left =
        |run: &Run| run.count.saturating_sub(before.get(&run.id).copied().unwrap_or_default());
    if batch.plan.runs.iter().all(|run| left(run) == 0) {
        return Err(unfit::settled_already(batch, journal).into());
    }
    let Some(partly) = &request.partly else {
        let all = batch.plan.runs.iter().map(|run| (run.id.clone(), left(run)));
        return Ok(all.filter(|(_, count)| *count > 0).collect());
    };
    let mut problems = Problems::new();
    for (id, count) in partly {
        match batch.plan.runs.iter().find(|run| run.id == *id) {
            Some(run) if (1..=left(run)).contains(count) => {}
            run => problems.push(unfit::no_such_part(batch.plan, id, *count, run.map(left))),
        }
    }
    match problems.is_empty() {
        true => Ok(partly.clone()),
        false => Err(Refusal::Problems(problems)),
    }
}

/// Sheets that come off the shelf.
fn used(plan: &Plan, runs: &BTreeMap<String, u64>) -> Counts {
    let mut used = Counts::new();
    for run in &plan.runs {
        if let Some(count) = runs.get(&run.id) {
            *used.entry(run.sheet.clone()).or_insert(0) += count;
        }
    }
    used
}

/// Sheets that come on the shelf because their packs were bought: with the first part that is settled.
fn bought(batch: &Planned, request: &Request, journal: &Journal) -> Counts {
    let first = journal.last_settled(batch.identity).is_none();
    let sheets = batch.plan.sheets.iter().filter(|_| first && !request.counted);
    let packs = sheets.map(|sheet: &UsedSheet| (sheet.id.clone(), sheet.packs_bought * sheet.pack));
    packs.filter(|(_, count)| *count > 0).collect()
}

/// Sheets that the runs take which are not cut yet.
fn rest(batch: &Planned, journal: &Journal, runs: &BTreeMap<String, u64>) -> Counts {
    let before = journal.cut(batch.identity);
    let left = batch.plan.runs.iter().map(|run| {
        let cut = [&before, runs].map(|cut| cut.get(&run.id).copied().unwrap_or_default());
        (run.id.clone(), run.count.saturating_sub(cut[0] + cut[1]))
    });
    let mut rest = used(batch.plan, &left.collect());
    rest.retain(|_, count| *count > 0);
    rest
}

/// The offcuts that go in the drawer, as they will lie there, and as the journal tells of them.
fn kept(
    batch: &Planned,
    runs: &BTreeMap<String, u64>,
    on: Date,
    ground: &Ground,
) -> (Vec<Sheet>, Vec<Stored>) {
    let (plan, stock) = (batch.plan, ground.stock);
    let mut names = Names::of(plan, stock);
    let earlier = earlier_names(batch, ground.journal);
    let (mut news, mut all) = (Vec::new(), Vec::new());
    for planned in &plan.offcuts {
        let left = left_by(planned, plan, runs);
        let Some((first, _)) = left.first() else { continue };
        let Some(sheet) = stock.sheets.iter().find(|it| it.id == first.sheet) else { continue };
        let mut new = Sheet {
            id: earlier.get(planned.id.as_str()).copied().unwrap_or(&planned.id).to_owned(),
            kind: SheetKind::Offcut,
            size: Size::new(planned.width, planned.height),
            on_hand: left.iter().map(|(_, count)| count).sum(),
            price: None,
            pack: 1,
            from: Some(plan.order.clone()),
            since: Some(on),
            place: None,
            ..sheet.clone()
        };
        if !stock.sheets.iter().any(|other| is_alike(other, &new)) {
            new.id = names.free(&new.id);
        }
        all.extend(left.into_iter().map(|(run, count)| Stored {
            planned: planned.id.clone(),
            offcut: new.id.clone(),
            count,
            run: run.id.clone(),
        }));
        news.push(new);
    }
    (news, all)
}

/// How many strips of one kind the runs that were cut have left; each sheet of a run leaves as many.
fn left_by<'a>(
    planned: &KeptOffcut,
    plan: &'a Plan,
    runs: &BTreeMap<String, u64>,
) -> Vec<(&'a Run, u64)> {
    let is_it = |leaf: &&Leaf| matches!(leaf, Leaf::Offcut(id) if *id == planned.id);
    let left = plan.runs.iter().filter_map(|run| {
        let cut = runs.get(&run.id).copied()?;
        Some((run, run.layout.leaves().filter(is_it).count() as u64 * cut))
    });
    left.filter(|(_, count)| *count > 0).collect()
}

/// The names that offcuts of the plan got in the drawer when an earlier part was settled.
fn earlier_names<'a>(batch: &Planned, journal: &'a Journal) -> BTreeMap<&'a str, &'a str> {
    let parts = journal.settled().filter(|(_, settled)| settled.plan == batch.identity);
    let kept = parts.flat_map(|(_, settled)| &settled.kept);
    kept.map(|kept| (kept.planned.as_str(), kept.offcut.as_str())).collect()
}

/// Whether an offcut in the drawer is the same, left by an earlier part of the batch.
fn is_alike(old: &Sheet, new: &Sheet) -> bool {
    let looks = |sheet: &Sheet| (sheet.size, sheet.grain, sheet.print, sheet.back);
    (&old.id, &old.paper, old.kind, &old.from) == (&new.id, &new.paper, new.kind, &new.from)
        && looks(old) == looks(new)
}

/// Names that are taken on the shelf, and those that the plan gives.
struct Names<'a> {
    taken: BTreeSet<&'a str>,
    given: BTreeSet<String>,
}

impl<'a> Names<'a> {
    fn of(plan: &Plan, stock: &'a Stock) -> Names<'a> {
        Names {
            taken: stock.sheets.iter().map(|sheet| sheet.id.as_str()).collect(),
            given: plan.offcuts.iter().map(|offcut| offcut.id.clone()).collect(),
        }
    }

    /// The name, or where it is taken one like it with the next number that is free.
    fn free(&mut self, name: &str) -> String {
        if !self.taken.contains(name) {
            return name.to_owned();
        }
        let stem = name.trim_end_matches(|letter: char| letter.is_ascii_digit());
        let mut numbered = (1..).map(|number| format!("{stem}{number:02}"));
        let is_free =
            |name: &String| !self.taken.contains(name.as_str()) && !self.given.contains(name);
        let free = numbered.find(is_free).unwrap_or_default();
        self.given.insert(free.clone());
        free
    }
}

fn moves(
    used: &Counts,
    bought: &Counts,
    news: &[Sheet],
    kept: &[Stored],
    stock: &Stock,
) -> Vec<Move> {
    let count = |counts: &Counts, name: &str| counts.get(name).copied().unwrap_or_default();
    let of = |sheet: &Sheet, was: u64| Move {
        kind: sheet.kind,
        name: sheet.id.clone(),
        paper: sheet.paper.clone(),
        size: sheet.size,
        was,
        bought: count(bought, &sheet.id),
        used: count(used, &sheet.id),
        kept: news.iter().filter(|new| new.id == sheet.id).map(|new| new.on_hand).sum(),
        planned: kept
            .iter()
            .find(|kept| kept.offcut == sheet.id && kept.planned != kept.offcut)
            .map(|kept| kept.planned.clone()),
    };
    let mut moves: Vec<Move> = stock.sheets.iter().map(|sheet| of(sheet, sheet.on_hand)).collect();
    let known = |new: &&Sheet| !stock.sheets.iter().any(|sheet| sheet.id == new.id);
    moves.extend(news.iter().filter(known).map(|new| of(new, 0)));
    moves.retain(|moved| moved.used + moved.bought + moved.kept > 0);
    moves
}

fn changes(moves: &[Move], news: &[Sheet], ground: &Ground) -> Pair<Vec<Change>> {
    let counts = |kind: SheetKind| -> Counts {
        let of_kind = moves.iter().filter(|moved| moved.kind == kind);
        of_kind.map(|moved| (moved.name.clone(), moved.is())).collect()
    };
    let known = |new: &&Sheet| !ground.stock.sheets.iter().any(|sheet| sheet.id == new.id);
    let added: Vec<Sheet> = news.iter().filter(known).cloned().collect();
    let text = |text: &Option<String>| text.clone().unwrap_or_default();
    let sheets = sheets_changed(&text(&ground.texts.sheets), &counts(SheetKind::Sheet));
    let left = counts(SheetKind::Offcut);
    let style = ground.workshop.style();
    let offcuts = match &ground.texts.offcuts {
        Some(drawer) => offcuts_changed(drawer, &left, &added, style),
        None if added.is_empty() => Vec::new(),
        None => new_drawer(&text(&ground.texts.sheets), &added, style),
    };
    Pair { sheets, offcuts }
}

/// The change that makes a drawer.
fn new_drawer(sheets: &str, added: &[Sheet], style: LengthStyle) -> Vec<Change> {
    let empty = empty_drawer(sheets);
    let changes = offcuts_changed(&empty, &Counts::new(), added, style);
    let text = changed(&empty, &changes).unwrap_or_default();
    Change::between("", &text)
}
