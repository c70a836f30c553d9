//! A stock-take: the shelf is brought up to what was found, and the plans that this leaves without their paper are named.

use super::report::{self, ToSettle};
use super::{Trouble, drop_command, is_of_this_past, not_vanished, ready, stock};
use crate::batch::Source;
use crate::diagnostics::{Problem, Problems, listed};
use crate::measure::AmountUnit;
use crate::plan::Plan;
use crate::shelf::{
    self, Disk, Entry, Event, Ground, Journal, Shelf, Spot, StockTaken, TakenRow, catching_up,
    digest,
};
use crate::stock::{Stock, StockTake};
use crate::table::Named;
use crate::workshop::Workshop;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// A stock-take that was entered, or would be.
#[derive(Clone, Debug, PartialEq)]
pub struct EnteredTake {
    /// What became of the shelf.
    pub taken: StockTaken,
    /// Its entry of the journal.
    pub entry: Entry,
    /// Counts that are now below what is set aside.
    pub warnings: Problems,
}

/// Reads the table of a stock-take; `None` where it is no such table, or its new strips are in the drawer already. All
/// mistakes become problems.
pub fn read_take(
    table: &Source,
    stock: &Stock,
    journal: &Journal,
    workshop: &Workshop,
    problems: &mut Problems,
) -> Option<StockTake> {
    let digest = digest(&table.bytes);
    // Told alone: the other mistakes of a table that was recorded come of that.
    if let Some(twice) = shelf::taken_already(&digest, journal) {
        problems.push(twice);
        return None;
    }
    let file = Named::new(&table.name, &table.bytes);
    let found = crate::stock::read_take(file, stock, workshop, problems)?;
    Some(StockTake { table: Some(digest), ..found })
}

/// Brings the files of a shelf, and its journal, up to what was found.
///
/// # Errors
/// What was found does not fit the stock or was entered before; the shelf has mistakes, or cannot be written.
pub fn take<D: Disk>(
    found: &StockTake,
    on: Date,
    shelf: &mut Shelf<D>,
    workshop: &Workshop,
) -> Result<EnteredTake, Trouble> {
    let texts = ready(shelf)?;
    let stock = &stock(shelf, workshop)?;
    let ground = Ground { journal: &shelf.journal, texts: &texts, stock, workshop };
    let (entered, events) = worked_out(found, on, &ground, &shelf.spot)?;
    shelf.commit(&on.to_string(), events, Some(&entered.taken.texts))?;
    Ok(entered)
}

/// The same, without a change to anything.
///
/// # Errors
/// As there, but for what can go wrong with writing.
pub fn preview_take(
    found: &StockTake,
    on: Date,
    ground: &Ground,
    spot: &Spot,
) -> Result<EnteredTake, Trouble> {
    not_vanished(ground.texts, ground.journal, spot)?;
    Ok(worked_out(found, on, ground, spot)?.0)
}

/// What is entered, and the events that do it.
fn worked_out(
    found: &StockTake,
    on: Date,
    ground: &Ground,
    spot: &Spot,
) -> Result<(EnteredTake, Vec<Event>), Trouble> {
    let taken = shelf::take(found, on, ground)?;
    let mut events = catching_up(ground.journal, spot, ground.texts)?;
    events.push(taken.event());
    let mut journal = ground.journal.clone();
    journal
        .add(&on.to_string(), events.clone())
        .map_err(|error| Trouble::Fault(error.to_string()))?;
    let entry = journal.entries().last().cloned();
    let entry = entry.ok_or_else(|| Trouble::Fault("nothing was entered".to_owned()))?;
    let warnings = below_promised(&taken, ground.journal, spot);
    Ok((EnteredTake { taken, entry, warnings }, events))
}

/// Warns of all that is now below what is set aside of it, once for the same batches.
fn below_promised(taken: &StockTaken, journal: &Journal, spot: &Spot) -> Problems {
    let promised = journal.reserved_in_all();
    let reserved = journal.reserved();
    let mut missing: BTreeMap<Vec<&str>, Vec<String>> = BTreeMap::new();
    for TakenRow { change, unit, .. } in &taken.rows {
        let Some(aside) = promised.get(&change.name).filter(|aside| **aside > change.is) else {
            continue;
        };
        let holders = reserved.iter().filter(|(_, paper)| paper.contains_key(&change.name));
        let holders = holders.map(|(batch, _)| batch.as_str()).collect();
        let [is, aside] = [change.is, *aside].map(|amount| unit.told(amount));
        missing.entry(holders).or_default().push(format!("`{}` ({is} of {aside})", change.name));
    }
    let mut problems = Problems::new();
    problems.extend(missing.into_iter().map(|(holders, names)| {
        let drops = holders.iter().map(|batch| format!("`{}`", drop_command(batch, spot)));
        let drops: Vec<String> = drops.collect();
        let (holders, names) = (listed(&holders), listed(&names));
        let title = format!("set aside for {holders}, and no longer all there: {names}");
        let release = if drops.len() == 1 { "releases" } else { "release" };
        Problem::warning("take-reserved", title)
            .help(format!("plan {holders} again with --reserve"))
            .help(format!("or {} {release} what is left", listed(&drops)))
    }));
    problems
}

/// What a plan takes of the shelf.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PlanNeeds {
    /// The batch.
    pub batch: String,
    /// By name, all that it takes.
    pub needs: Vec<StockNeed>,
}

/// What a plan takes of one name; of what is measured, in parts of its unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StockNeed {
    /// The name.
    pub name: String,
    /// How much.
    pub count: u64,
    /// What was on hand when it was planned, if it buys more of it: then it can be settled from that count alone.
    pub planned: Option<u64>,
}

/// A need of a plan that is no longer met.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnmetNeed<'a> {
    /// The need.
    pub need: &'a StockNeed,
    /// What lies there and is not set aside for others.
    pub free: u64,
    /// What it is counted in.
    pub unit: AmountUnit,
}

impl PlanNeeds {
    /// All that a plan takes, of which nothing is settled yet.
    pub fn of(plan: &Plan) -> PlanNeeds {
        let sheets = plan.sheets.iter().map(|it| StockNeed {
            name: it.id.clone(),
            count: it.used,
            planned: (it.packs_bought > 0).then_some(it.on_hand),
        });
        let supplies = plan.supplies.iter().map(|it| StockNeed {
            name: it.id.clone(),
            count: it.need,
            planned: (it.packs_bought > 0).then_some(it.on_hand),
        });
        PlanNeeds { batch: plan.order.clone(), needs: sheets.chain(supplies).collect() }
    }

    /// What a report still takes; `None` where that is nothing, since it is settled or another plan of its batch is.
    pub fn of_report(report: &ToSettle, journal: &Journal) -> Option<PlanNeeds> {
        let read = report::read(report, journal).ok()?;
        let batch = read.batch();
        let last = journal.last_of(&batch.plan.order);
        match journal.last_settled(batch.identity) {
            None => {
                let is_current = is_of_this_past(&batch, journal).is_ok();
                is_current.then(|| PlanNeeds::of(batch.plan))
            }
            Some((entry, settled)) => {
                let is_last = last.is_some_and(|(last, _)| last.number == entry.number);
                let need = |(name, count): (&String, &u64)| StockNeed {
                    name: name.clone(),
                    count: *count,
                    planned: None,
                };
                let needs = settled.rest.iter().map(need).collect();
                (is_last && !settled.whole)
                    .then(|| PlanNeeds { batch: batch.plan.order.clone(), needs })
            }
        }
    }

    /// Whether the plan still fits what a stock-take found: its needs of changed things that are not met, none where it
    /// does. `journal` is that of the shelf, which says what is set aside for others.
    pub fn unmet<'a>(&'a self, taken: &StockTaken, journal: &Journal) -> Vec<UnmetNeed<'a>> {
        let beside = journal.reserved_beside(&self.batch);
        let unmet = |need: &'a StockNeed| {
            let row = taken.rows.iter().find(|row| row.change.name == need.name)?;
            let aside = beside.get(&need.name).copied().unwrap_or_default();
            let free = row.change.is.saturating_sub(aside);
            let is_met = match need.planned {
                Some(planned) => free == planned,
                None => free >= need.count,
            };
            (!is_met).then(|| UnmetNeed { need, free, unit: row.unit.clone() })
        };
        self.needs.iter().filter_map(unmet).collect()
    }
}

impl UnmetNeed<'_> {
    /// What is not as the plan needs it, behind its name: `uses slate-0142, which is gone`.
    pub fn sentence(&self) -> String {
        let UnmetNeed { need, free, unit } = self;
        let (name, free) = (&need.name, unit.told(*free));
        match need.planned.map(|planned| unit.told(planned)) {
            Some(planned) => format!("was planned with {planned} of `{name}`, now {free}"),
            None if self.free == 0 => format!("uses `{name}`, which is gone"),
            None => format!("uses {} of `{name}`, now {free}", unit.told(need.count)),
        }
    }
}
