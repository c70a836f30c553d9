//! Why a batch cannot be settled: where plan and shelf differ.

use super::event::{Entry, Event};
use super::journal::Journal;
use super::settle::{Ground, Planned};
use crate::diagnostics::{Place, Problem, Problems, counted, listed};
use crate::measure::{AmountUnit, Size};
use crate::plan::{Plan, PlannedSupply, UsedSheet};
use crate::stock::{Counts, Sheet, StockItem};

/// Holds what a batch takes and brings against what lies on the shelf.
///
/// # Errors
/// Everything that differs, one problem a kind of sheet.
pub(super) fn check(
    batch: &Planned,
    Turnover { cut, bought, stacks, supplies }: Turnover,
    ground: &Ground,
) -> Result<(), Problems> {
    let mut problems = Problems::new();
    problems.extend(stacks.iter().filter_map(|(name, count)| missing(name, *count, ground)));
    let reserved = ground.journal.reserved_beside(&batch.plan.order);
    for planned in &batch.plan.sheets {
        let count = |counts: &Counts| counts.get(&planned.id).copied().unwrap_or_default();
        let want = Want { used: count(cut), bought: count(bought), reserved: count(&reserved) };
        if want.used + want.bought > 0 {
            let lying = ground.stock.sheets.iter().find(|sheet| sheet.id == planned.id);
            problems.extend(match lying {
                Some(sheet) => difference(planned, sheet, want, ground),
                None => Some(gone(&planned.id, format!("the plan cuts {}", want.used))),
            });
        }
    }
    for planned in &batch.plan.supplies {
        let count = |counts: &Counts| counts.get(&planned.id).copied().unwrap_or_default();
        let used = count(supplies);
        let want = Want { used, bought: count(bought), reserved: count(&reserved) };
        if want.used > 0 || want.bought > 0 {
            problems.extend(match ground.stock.supply(&planned.id) {
                Some((_, supply)) => is_as_planned(planned, supply, ground)
                    .or_else(|| Shelved::of_supply(planned, supply).difference(want, ground)),
                None => {
                    let used = AmountUnit::of(&planned.unit).told(used);
                    Some(gone(&planned.id, format!("the plan uses {used}")))
                }
            });
        }
    }
    if problems.is_empty() {
        return Ok(());
    }
    let title = format!("the plan of {} no longer fits the shelf", batch.plan.order);
    let mut last = Problem::error("settle-unfit", title);
    let since = since(batch, ground.journal);
    if !since.is_empty() {
        last = last.help(format!("since it was planned, {}", listed(&since)));
    }
    problems.push(last.help("plan the order again, or correct the files"));
    Err(problems)
}

/// What leaves the shelf and comes on it, by name.
#[derive(Clone, Copy)]
pub(super) struct Turnover<'a> {
    /// Sheets that are cut.
    pub cut: &'a Counts,
    /// Sheets that were bought.
    pub bought: &'a Counts,
    /// Plates of the batch's own stacks.
    pub stacks: &'a Counts,
    /// Envelopes and sundries that are taken or spoiled.
    pub supplies: &'a Counts,
}

/// What is wrong with a stack that should wait in the drawer.
fn missing(name: &str, count: u64, ground: &Ground) -> Option<Problem> {
    let lying = ground.stock.sheets.iter().find(|sheet| sheet.id == name);
    let there = lying.map_or(0, |sheet| sheet.on_hand);
    let title = format!("the stack `{name}` has {there} in the drawer, not {count}");
    (there < count).then(|| {
        Problem::error("settle-changed", title)
            .at(lying.and_then(|it| it.place.as_ref()), format!("expected at least {count}"))
            .help("the rest of the schedule is cut from it")
            .help("if it was used for something else, plan the rest: `plan ORDER --rest`")
    })
}

/// What is wanted of one kind of sheet.
#[derive(Clone, Copy)]
struct Want {
    used: u64,
    bought: u64,
    /// Set aside for other batches.
    reserved: u64,
}

fn gone(name: &str, wanted: String) -> Problem {
    Problem::error("settle-changed", format!("`{name}` is gone from the shelf")).help(wanted)
}

fn difference(planned: &UsedSheet, sheet: &Sheet, want: Want, ground: &Ground) -> Option<Problem> {
    let style = ground.workshop.style();
    let size = Size::new(planned.width, planned.height);
    let problem = |title: String, label: String| {
        Some(Problem::error("settle-changed", title).at(sheet.place.as_ref(), label))
    };
    if (&planned.paper, planned.kind, size) != (&sheet.paper, sheet.kind, sheet.size) {
        return problem(
            format!("`{}` is not as planned", planned.id),
            format!("planned as {} of {}", style.size(size), planned.paper),
        );
    }
    Shelved::of_sheet(planned, sheet).difference(want, ground)
}

/// Why an envelope or a sundry is not the one that was planned with: another unit, another size.
fn is_as_planned(planned: &PlannedSupply, supply: &StockItem, ground: &Ground) -> Option<Problem> {
    let style = ground.workshop.style();
    let size = ground.stock.envelope(&supply.name).map(|envelope| envelope.size);
    let label = match planned.size() {
        Some(was) if Some(was) != size => format!("planned as {}", style.size(was)),
        _ if planned.unit != supply.unit.word() => match planned.unit.as_str() {
            "" => "planned with single ones".to_owned(),
            unit => format!("planned in {unit}"),
        },
        _ => return None,
    };
    let title = format!("`{}` is not as planned", planned.id);
    Some(Problem::error("settle-changed", title).at(supply.place.as_ref(), label))
}

/// What lies on the shelf under one name, beside what the plan was made with.
struct Shelved<'a> {
    name: &'a str,
    place: Option<&'a Place>,
    unit: AmountUnit,
    planned: u64,
    on_hand: u64,
    /// What the plan does with it.
    does: &'static str,
}

impl<'a> Shelved<'a> {
    fn of_sheet(planned: &'a UsedSheet, sheet: &'a Sheet) -> Shelved<'a> {
        let UsedSheet { id, on_hand, .. } = planned;
        Shelved {
            name: id,
            place: sheet.place.as_ref(),
            unit: AmountUnit::default(),
            planned: *on_hand,
            on_hand: sheet.on_hand,
            does: "cuts",
        }
    }

    fn of_supply(planned: &'a PlannedSupply, supply: &'a StockItem) -> Shelved<'a> {
        let PlannedSupply { id, on_hand, .. } = planned;
        Shelved {
            name: id,
            place: supply.place.as_ref(),
            unit: supply.unit.clone(),
            planned: *on_hand,
            on_hand: supply.on_hand,
            does: "uses",
        }
    }

    /// Why there is not what the plan wants.
    fn difference(&self, want: Want, ground: &Ground) -> Option<Problem> {
        let Shelved { name, planned, does, .. } = *self;
        let told = |amount: u64| self.unit.told(amount);
        let problem = |title: String, label: String| {
            Some(Problem::error("settle-changed", title).at(self.place, label))
        };
        let Want { used, bought, reserved } = want;
        let free = self.on_hand.saturating_sub(reserved);
        if bought > 0 && free != planned {
            let found = problem(
                format!("`{name}`: planned with {} on hand, now {}", told(planned), told(free)),
                format!(
                    "expected {}: the plan buys {} and {does} {}",
                    told(planned),
                    told(bought),
                    told(used)
                ),
            );
            let help = match free == planned + bought {
                true => "if you have already counted in what you bought, settle with `--counted`",
                false => {
                    "count what you have, with what you bought, write it here and settle with `--counted`"
                }
            };
            return found.map(|problem| problem.help(help));
        }
        if free + bought >= used {
            return None;
        }
        let there = if reserved == 0 { "on hand" } else { "free" };
        let has = told(free + bought);
        let found = problem(
            format!("not enough `{name}`: the plan {does} {}, {has} {there}", told(used)),
            format!(
                "expected at least {}",
                told(used.saturating_sub(bought).saturating_add(reserved))
            ),
        );
        found.map(|problem| match reserved {
            0 => problem,
            _ => {
                problem.help(format!("set aside for {}: {}", holders(name, ground), told(reserved)))
            }
        })
    }
}

/// The batches for which what has this name is set aside.
fn holders(name: &str, ground: &Ground) -> String {
    let reserved = ground.journal.reserved();
    let holders = reserved.iter().filter(|(_, paper)| paper.contains_key(name));
    listed(&holders.map(|(batch, _)| batch.as_str()).collect::<Vec<_>>())
}

/// What has changed on the shelf since the plan was made.
fn since(batch: &Planned, journal: &Journal) -> Vec<String> {
    let is_own = |event: &Event| matches!(event, Event::Settled(it) if it.plan == batch.identity);
    let later = journal.entries().iter().filter(|entry| entry.number > batch.entries);
    let later = later.filter(|entry| !is_own(&entry.event));
    later.filter_map(|entry| told(&entry.event)).collect()
}

/// `tags was settled`.
pub(super) fn told(event: &Event) -> Option<String> {
    match event {
        Event::Settled(settled) if settled.whole => Some(format!("{} was settled", settled.batch)),
        Event::Settled(settled) => Some(format!("{} was settled in part", settled.batch)),
        Event::Counted(_) => Some("the stock was counted".to_owned()),
        Event::Undone { entry, .. } => Some(format!("entry {entry} was undone")),
        Event::Rebuilt { .. } => Some("the shelf was rebuilt".to_owned()),
        Event::Edited(_) => Some("the files were edited".to_owned()),
        Event::Begun { .. }
        | Event::Named { .. }
        | Event::Reserved { .. }
        | Event::Dropped { .. }
        | Event::Done { .. } => None,
    }
}

/// The batch was settled before.
pub fn settled_already(batch: &Planned, journal: &Journal) -> Problem {
    let title = format!("{} is settled already", batch.plan.order);
    let problem = Problem::error("settle-twice", title);
    let problem = match journal.last_settled(batch.identity) {
        Some((Entry { number, on, .. }, _)) => {
            problem.help(format!("on {on}, as entry {number} of the journal"))
        }
        None => problem,
    };
    problem.help("to undo it, use `--undo`").help("to make the order again, plan it again first")
}

/// A part that the plan does not have.
pub(super) fn no_such_part(plan: &Plan, run: &str, count: u64, left: Option<u64>) -> Problem {
    match left {
        Some(0) => {
            Problem::error("settle-part", format!("all sheets of {run} are settled already"))
        }
        Some(left) => Problem::error(
            "settle-part",
            format!("{run} has {} left to settle, not {count}", counted(left, "sheet")),
        )
        .help("give the number of sheets cut, at least 1"),
        None => {
            let runs: Vec<&str> = plan.runs.iter().map(|run| run.id.as_str()).collect();
            let known = match runs.as_slice() {
                [first, .., last] => format!("its runs are {first} to {last}"),
                other => format!("its runs are {}", listed(other)),
            };
            Problem::error("settle-part", format!("{} has no run {run}", plan.order)).help(known)
        }
    }
}
