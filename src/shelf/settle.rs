//! A batch that was cut: what comes off the shelf, and what goes on it.

use super::audit::audit;
use super::changes::NewCounts;
use super::event::{Event, PartCost, Settled, Shift, Stored, SupplyUnits};
use super::journal::{Journal, terms};
use super::newcomers::Newcomers;
use super::portion::Portion;
use super::unfit::{self, Turnover};
use crate::diagnostics::{Problem, Problems};
use crate::measure::{AmountUnit, Ratio, Size};
use crate::plan::{Plan, PlannedSupply, UsedSheet};
use crate::stock::{Counts, Prices, Sheet, SheetKind, Stock, SupplyKind};
use crate::stock::{PerFile, Texts};
use crate::table::Change;
use crate::workshop::Workshop;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// What is to be settled.
#[derive(Clone, Copy, Debug)]
pub struct Planned<'a> {
    /// The plan, judged already.
    pub plan: &'a Plan,
    /// What tells it from others.
    pub identity: &'a str,
    /// Entries of the journal when it was made.
    pub entries: u64,
    /// The plan of which it makes the rest.
    pub rest_of: Option<&'a str>,
    /// Its report folder, where the note says it.
    pub report: Option<&'a str>,
}

impl Planned<'_> {
    /// The names in the drawer of stacks that earlier plans of the batch have left; whether they still lie there, the stock
    /// says.
    pub fn earlier_stacks<'a>(&'a self, journal: &'a Journal) -> BTreeSet<&'a str> {
        let names = |plan: &'a str| {
            let stacks = journal.parts(plan).flat_map(|part| &part.stacks);
            stacks.map(|stack| stack.offcut.as_str())
        };
        let chain = self.rest_of.map(|plan| journal.chain(plan)).unwrap_or_default();
        let earlier: BTreeSet<&str> = chain.into_iter().flat_map(names).collect();
        // A name that was free again is that of a later stack.
        &earlier - &names(self.identity).collect()
    }
}

/// How it is to be entered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Request {
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
    /// Envelopes and sundries that moved.
    pub supplies: Vec<SupplyMove>,
    /// Whether the whole batch is made with that.
    pub is_complete: bool,
}

/// What happened to an envelope or a sundry; amounts are in parts of its unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SupplyMove {
    /// Which file it is in.
    pub kind: SupplyKind,
    /// Its name.
    pub name: String,
    /// What it is counted in.
    pub unit: AmountUnit,
    /// How much lay there.
    pub was: u64,
    /// How much was bought.
    pub bought: u64,
    /// How much was taken or spoiled.
    pub used: u64,
}

impl SupplyMove {
    /// How much lies there now.
    pub fn is(&self) -> u64 {
        (self.was + self.bought).saturating_sub(self.used)
    }
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

/// Works out what the shelf's files are when a portion of a batch was cut. Nothing is written.
///
/// # Errors
/// It does not fit the shelf.
pub fn settle(
    batch: &Planned,
    portion: &Portion,
    request: &Request,
    ground: &Ground,
) -> Result<Settlement, Refusal> {
    let bought = bought(batch, request, ground.journal);
    let newcomers = Newcomers::of(batch, portion, request.on, ground);
    let cut = used_by(batch.plan, &portion.runs);
    let taken = taken(batch, portion, ground.journal);
    let supplies = together(&taken, &portion.wasted);
    let turnover =
        Turnover { cut: &cut, bought: &bought, stacks: &newcomers.fetched, supplies: &supplies };
    unfit::check(batch, turnover, ground).map_err(Refusal::Problems)?;
    let mut used = cut;
    let more = newcomers.fetched.iter().chain(&portion.thrown).chain(&supplies);
    for (name, count) in more {
        *used.entry(name.clone()).or_insert(0) += count;
    }
    let Newcomers { sheets: news, kept, stacks, .. } = newcomers;
    let moves = moves(&used, &bought, &news, &kept, ground.stock);
    let supply_moves = supply_moves(&used, &bought, ground.stock);
    let changes = changes(&moves, &supply_moves, &news, ground);
    let Some((shift, texts)) = Shift::by(ground.texts, changes) else {
        return Err(Refusal::Fault("a change does not fit the file it is made for".to_owned()));
    };
    let mut rest = used_by(batch.plan, &portion.left);
    stacks.iter().for_each(|it| *rest.entry(it.offcut.clone()).or_insert(0) += it.count);
    let whole = rest.is_empty();
    if !whole {
        let left = batch
            .plan
            .supplies
            .iter()
            .map(|supply| (supply, lies_now(supply, &used, &bought, ground)));
        let left = left.map(|(supply, lies)| (supply.id.clone(), supply.wanted().min(lies)));
        rest.extend(left.filter(|(_, amount)| *amount > 0));
    }
    let mut event = Settled {
        batch: batch.plan.order.clone(),
        plan: batch.identity.to_owned(),
        whole,
        rest,
        runs: portion.runs.clone(),
        bought,
        used,
        kept,
        reached: portion.reached,
        stacks,
        spoiled: portion.spoiled.clone(),
        pieces: portion.pieces.clone(),
        aside: None,
        rest_of: batch.rest_of.map(str::to_owned),
        report: batch.report.map(str::to_owned),
        work: portion.work.clone(),
        units: units(batch.plan),
        taken,
        wasted: portion.wasted.clone(),
        cost: Some(cost(batch, portion, &moves, ground)),
        shift,
    };
    event.aside = aside(batch, portion, &event, ground);
    let (supplies, is_complete) = (supply_moves, portion.is_complete);
    let settlement = Settlement { event, texts, moves, supplies, is_complete };
    audit(portion.gone, &settlement, ground)?;
    Ok(settlement)
}

impl Settlement {
    /// The entry for the journal.
    pub fn event(&self) -> Event {
        Event::Settled(Box::new(self.event.clone()))
    }
}

/// Sheets that come off the shelf when so many are cut of the runs.
fn used_by(plan: &Plan, runs: &Counts) -> Counts {
    let mut used = Counts::new();
    for run in &plan.runs {
        if let Some(count) = runs.get(&run.id).filter(|count| **count > 0) {
            *used.entry(run.sheet.clone()).or_insert(0) += count;
        }
    }
    used
}

/// Whether nothing of the plan was settled yet.
fn is_first(batch: &Planned, journal: &Journal) -> bool {
    journal.last_settled(batch.identity).is_none()
}

/// What comes on the shelf because packs were bought: with the first part that is settled.
fn bought(batch: &Planned, request: &Request, journal: &Journal) -> Counts {
    if !is_first(batch, journal) || request.counted {
        return Counts::new();
    }
    let sheets = batch.plan.sheets.iter();
    let packs = sheets.map(|sheet: &UsedSheet| (sheet.id.clone(), sheet.packs_bought * sheet.pack));
    let supplies = batch.plan.supplies.iter().map(|supply| (supply.id.clone(), supply.bought()));
    packs.chain(supplies).filter(|(_, count)| *count > 0).collect()
}

/// Envelopes and sundries that go to the cards: all that the plan needs, once all of it is cut. Spares stay.
fn taken(batch: &Planned, portion: &Portion, journal: &Journal) -> Counts {
    let is_cut = portion.left.is_empty() && portion.stacks.is_empty();
    if !is_cut || journal.parts(batch.identity).any(|part| part.whole) {
        return Counts::new();
    }
    let needs = batch.plan.supplies.iter().map(|supply| (supply.id.clone(), supply.need));
    needs.filter(|(_, amount)| *amount > 0).collect()
}

/// What the supplies of a plan are counted in.
pub fn units(plan: &Plan) -> SupplyUnits {
    plan.supplies.iter().map(|supply| (supply.id.clone(), supply.unit.clone())).collect()
}

fn together(one: &Counts, other: &Counts) -> Counts {
    let mut sum = one.clone();
    for (name, amount) in other {
        let sum = sum.entry(name.clone()).or_insert(0_u64);
        *sum = sum.saturating_add(*amount);
    }
    sum
}

/// How much of a supply lies there after all of that.
fn lies_now(supply: &PlannedSupply, used: &Counts, bought: &Counts, ground: &Ground) -> u64 {
    let of = |counts: &Counts| counts.get(&supply.id).copied().unwrap_or_default();
    let lay = ground.stock.supply(&supply.id).map_or(0, |(_, lying)| lying.on_hand);
    (lay + of(bought)).saturating_sub(of(used))
}

fn supply_moves(used: &Counts, bought: &Counts, stock: &Stock) -> Vec<SupplyMove> {
    let count = |counts: &Counts, name: &str| counts.get(name).copied().unwrap_or_default();
    let moves = stock.supplies().map(|(kind, supply)| SupplyMove {
        kind,
        name: supply.name.clone(),
        unit: supply.unit.clone(),
        was: supply.on_hand,
        bought: count(bought, &supply.name),
        used: count(used, &supply.name),
    });
    moves.filter(|moved| moved.used + moved.bought > 0).collect()
}

/// What is set aside for the batch from now on; `None` where stacks have no part in that.
fn aside(batch: &Planned, portion: &Portion, event: &Settled, ground: &Ground) -> Option<Counts> {
    let journal = ground.journal;
    let lies = |name: &str| -> u64 {
        let lying = ground.stock.sheets.iter().find(|sheet| sheet.id == name);
        let used = event.used.get(name).copied().unwrap_or_default();
        lying.map_or(0, |sheet| sheet.on_hand.saturating_sub(used))
    };
    let earlier = batch.earlier_stacks(journal);
    let had = journal.parts(batch.identity).any(|part| !part.stacks.is_empty());
    if event.stacks.is_empty() && earlier.is_empty() && !had {
        return None;
    }
    if portion.is_complete {
        return Some(Counts::new());
    }
    let reserved = journal.reserved_for(&batch.plan.order);
    let is_reserved = reserved.is_some_and(|(_, plan)| plan == batch.identity);
    let mut aside = if is_reserved { event.rest.clone() } else { Counts::new() };
    let left = earlier.into_iter().map(|name| (name.to_owned(), lies(name)));
    aside.extend(left.filter(|(_, count)| *count > 0));
    // Now these have the name, if both do.
    aside.extend(event.stacks.iter().map(|stack| (stack.offcut.clone(), stack.count)));
    Some(aside)
}

/// What the portion cost: all packs with the first one, and the paper that left the shelf.
fn cost(batch: &Planned, portion: &Portion, moves: &[Move], ground: &Ground) -> PartCost {
    let first = is_first(batch, ground.journal);
    let packs = batch.plan.sheets.iter().filter(|_| first);
    let spent = packs.map(|sheet| sheet.price.unwrap_or_default() * sheet.packs_bought);
    let supplies = batch.plan.supplies.iter().filter(|_| first).map(PlannedSupply::cost);
    let prices = Prices::of(ground.stock, ground.workshop);
    // What the batch itself has left in the drawer was charged with the sheets that it comes from.
    let is_planned = |name: &str| batch.plan.sheets.iter().any(|sheet| sheet.id == name);
    let is_new = |name: &str| batch.rest_of.is_none() && is_planned(name);
    let worth = |moved: &Move| {
        let lying = ground.stock.sheets.iter().find(|sheet| sheet.id == moved.name);
        let kept = match lying {
            Some(sheet) => prices.sheet(sheet),
            None => prices.offcut(moved.size, &moved.paper),
        };
        let used = match lying {
            Some(sheet) if is_new(&moved.name) => prices.charged(sheet),
            _ => kept.clone(),
        };
        &used * i128::from(moved.used) - &kept * i128::from(moved.kept)
    };
    let paper: Ratio = moves.iter().map(worth).sum();
    PartCost { spent: spent.chain(supplies).sum(), paper: terms(&paper), seconds: portion.seconds }
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

fn changes(
    moves: &[Move],
    supplies: &[SupplyMove],
    news: &[Sheet],
    ground: &Ground,
) -> PerFile<Vec<Change>> {
    let counts = |kind: SheetKind| -> Counts {
        let of_kind = moves.iter().filter(|moved| moved.kind == kind);
        of_kind.map(|moved| (moved.name.clone(), moved.is())).collect()
    };
    let known = |new: &&Sheet| !ground.stock.sheets.iter().any(|sheet| sheet.id == new.id);
    let supplies = supplies.iter().map(|it| (it.name.clone(), it.unit.number(it.is())));
    let new = NewCounts {
        sheets: counts(SheetKind::Sheet),
        offcuts: counts(SheetKind::Offcut),
        supplies: supplies.collect(),
        added: news.iter().filter(known).cloned().collect(),
    };
    new.changes(ground)
}
