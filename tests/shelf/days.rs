//! Days that do not go as planned: stop, spoil, go on, plan the rest, take back, edit by hand.

use super::said;
use crate::bench::batches::{Extent as Sizes, makeable};
use crate::bench::cases;
use crate::bench::mortal::MortalDisk;
use crate::bench::workroom::Workroom;
use crate::program::Home;
use cardwright::batch::{Effort, Inputs, Made, Options, Source};
use cardwright::measure::Ratio;
use cardwright::pieces::Before;
use cardwright::settling::{self, Account, HowFar, Reached, ToSettle, Trouble};
use cardwright::shelf::{Request, Settled, SystemDisk, area, identity};
use cardwright::stock::{Counts, Prices};
use proptest::prelude::*;
use serde_json::Value;
use std::cell::Cell;
use std::collections::BTreeMap;

const SMALL: Sizes =
    Sizes { lines: 3, kinds: 2, most_count: 9, piece: (2, 9), sheet: (6, 20), most_blade: 1 };

/// Something that happens at the bench; what of it, a number decides.
#[derive(Clone, Copy, Debug)]
enum Turn {
    Stop(u32, u64),
    Spoil(usize, u64),
    SpoilStack(usize, u64),
    SpoilSupply(usize, u64),
    Rest,
    Finish,
    Undo,
    Edit,
    /// The next time that something is settled or taken back, the program is killed after so many changes of files.
    Kill(u32),
}

fn turns() -> impl Strategy<Value = Vec<Turn>> {
    let turn = prop_oneof![
        4 => (any::<u32>(), any::<u64>()).prop_map(|(step, lift)| Turn::Stop(step, lift)),
        2 => (any::<usize>(), 1_u64..4).prop_map(|(piece, count)| Turn::Spoil(piece, count)),
        1 => (any::<usize>(), 1_u64..3).prop_map(|(stack, count)| Turn::SpoilStack(stack, count)),
        1 => (any::<usize>(), 1_u64..4).prop_map(|(supply, count)| Turn::SpoilSupply(supply, count)),
        2 => Just(Turn::Rest),
        1 => Just(Turn::Finish),
        1 => Just(Turn::Undo),
        1 => Just(Turn::Edit),
        2 => (0_u32..20).prop_map(Turn::Kill),
    ];
    prop::collection::vec(turn, 1..9)
}

/// A batch on its way.
struct Day {
    room: Workroom,
    reports: Vec<(Made, ToSettle)>,
    options: Options,
    order: Source,
    /// Whether somebody wrote into the files.
    is_edited: bool,
    /// Changes of files after which the program is killed the next time.
    kill: Cell<Option<u32>>,
}

impl Day {
    fn account(&self, extent: HowFar, spoiled: Counts) -> Account {
        let request = Request { counted: false, on: "2031-05-09".parse().unwrap() };
        Account { extent, spoiled, took: Counts::new(), request }
    }

    fn last(&self) -> &(Made, ToSettle) {
        self.reports.last().unwrap()
    }

    /// Settles; what cannot be is refused and changes nothing.
    fn settle(&self, extent: HowFar, spoiled: Counts) -> bool {
        let before = self.room.shelf().bytes;
        let lying = area(&self.room.stock());
        let account = self.account(extent, spoiled);
        let parts = self.parts().len();
        self.killed(|disk| self.room.settle_on(disk, &self.last().1, &account).is_ok());
        if self.parts().len() > parts {
            return true;
        }
        match self.room.settle_so(&self.last().1, &account) {
            Ok(_) => {
                // Paper only leaves a shelf, but for what is bought.
                let (stock, parts) = (self.room.stock(), self.parts());
                let bought = parts.last().unwrap().bought.iter().filter_map(|(name, count)| {
                    let sheet = stock.sheets.iter().find(|sheet| sheet.id == *name)?;
                    Some(sheet.size.area() * *count)
                });
                assert!(area(&stock) <= lying + bought.sum());
                true
            }
            Err(Trouble::Problems(_)) => {
                assert_eq!(self.room.shelf().bytes, before);
                false
            }
            Err(trouble) => panic!("{trouble:?}"),
        }
    }

    /// Does something under a program that is killed, where its time has come. Whoever comes next finds the files as they were,
    /// or as they would be had it lived, and a journal that leads to them.
    fn killed(&self, act: impl FnOnce(MortalDisk) -> bool) {
        let Some(changes) = self.kill.take() else { return };
        let before = self.room.shelf().bytes;
        let parts = self.parts();
        let lived = act(MortalDisk::with(changes));
        let after = self.room.shelf();
        let is_changed = after.journal.settled().count() != parts.len();
        assert!(is_changed || !lived && after.bytes == before);
        assert!(!is_changed || after.journal.texts() == after.texts().ok());
        assert!(after.unfinished.is_none());
    }

    /// Entries of the batch that are in force.
    fn parts(&self) -> Vec<Settled> {
        self.room.shelf().journal.settled().map(|(_, settled)| settled.clone()).collect()
    }

    fn before(&self) -> Option<Before> {
        let journal = self.room.shelf().journal;
        let name = &self.last().0.plan.order;
        settling::begun(name, &journal).ok().map(|begun| begun.before)
    }

    /// Plans the rest; the codes of what stands in its way.
    fn rest(&mut self) -> Result<(), Vec<&'static str>> {
        let (made, report) =
            self.room.rest_of(self.order.clone(), &self.last().1, &self.options)?;
        self.reports.push((made, report));
        Ok(())
    }

    fn stop(&self, step: u32, lift: u64) {
        let steps = self.last().0.schedule.in_order();
        if steps.is_empty() {
            return;
        }
        let at = step as usize % steps.len();
        let lifts = steps[at].1.lifts;
        let lifts = Some(lift % lifts + 1);
        self.settle(HowFar::Upto(Reached { step: at as u32 + 1, lifts }), Counts::new());
    }

    /// Where the last plan is now.
    fn reached(&self) -> Option<HowFar> {
        let parts = self.parts();
        let last = parts.last()?;
        Some(last.reached.map_or(HowFar::All, HowFar::Upto))
    }

    fn spoil(&self, piece: usize, count: u64) {
        let pieces = &self.last().0.job.bill.pieces;
        let id = pieces[piece % pieces.len()].id.clone();
        let extent = self.reached().unwrap_or(HowFar::All);
        self.settle(extent, [(id, count)].into());
    }

    fn spoil_stack(&self, stack: usize, count: u64) {
        let parts = self.parts();
        let Some(last) = parts.last().filter(|last| !last.stacks.is_empty()) else { return };
        let stack = &last.stacks[stack % last.stacks.len()];
        let extent = HowFar::Upto(last.reached.unwrap());
        self.settle(extent, [(stack.letter.clone(), count)].into());
    }

    fn spoil_supply(&self, supply: usize, count: u64) {
        let name = ["big", "seal", "ribbon"][supply % 3].to_owned();
        let extent = self.reached().unwrap_or(HowFar::All);
        self.settle(extent, [(name, count)].into());
    }

    /// How much of each envelope and sundry there is.
    fn supplies(&self) -> Counts {
        let stock = self.room.stock();
        stock.supplies().map(|(_, supply)| (supply.name.clone(), supply.on_hand)).collect()
    }

    /// Whether something that is bought ready-made is not enough for the last plan any more.
    fn is_short(&self) -> bool {
        let lies = self.supplies();
        let mut needs = self.last().0.job.bill.supplies.iter();
        needs.any(|need| lies[&need.supply] < need.need())
    }

    /// Takes the last thing back that was settled.
    fn undo(&mut self) -> bool {
        let parts = self.parts();
        let Some(last) = parts.last() else { return false };
        let report = self.reports.iter().find(|it| identity_of(it) == last.plan).unwrap();
        self.killed(|disk| self.room.undo_on(disk, &report.1).is_ok());
        let undone = self.parts() != parts || self.room.undo_on(SystemDisk, &report.1).is_ok();
        // What was planned after it goes on from something that is not there any more.
        while undone && self.reports.len() > 1 && !self.is_in_force(self.last()) {
            self.reports.pop();
        }
        undone
    }

    /// Whether a report has a part that is settled, or goes on from all that is.
    fn is_in_force(&self, report: &(Made, ToSettle)) -> bool {
        let identity = identity_of(report);
        self.parts().iter().any(|part| part.plan == identity)
            || self.before().is_some_and(|before| report.0.job.before == Some(before))
    }

    /// One sheet more of the first kind, counted in by hand.
    fn edit(&mut self) {
        let text = String::from_utf8(self.room.shelf().bytes.sheets.unwrap()).unwrap();
        self.room.put("sheets.csv", format!("# counted\n{text}").as_bytes());
        self.is_edited = true;
    }
}

/// The same batch with an envelope and sundries for each card.
fn supplied(mut inputs: Inputs) -> Inputs {
    let order = &mut inputs.orders[0];
    let text = String::from_utf8(order.bytes.clone()).unwrap();
    let rows = text.lines().enumerate().map(|(at, row)| match at {
        0 => format!("{row},envelope,with\n"),
        _ => format!("{row},bought,seal + ribbon 7 mm\n"),
    });
    order.bytes = rows.collect::<String>().into_bytes();
    let source = |name: &str, text: &str| Source { name: name.to_owned(), bytes: text.into() };
    let envelopes = "envelope,size,on hand,price,pack\nbig,500 x 500 mm,2,0.30,7\n";
    let sundries = "sundry,unit,on hand,price,pack\nseal,,3,0.10,5\nribbon,cm,4,1.00,50\n";
    inputs.envelopes = Some(source("envelopes.csv", envelopes));
    inputs.sundries = Some(source("sundries.csv", sundries));
    inputs
}

fn identity_of((made, report): &(Made, ToSettle)) -> String {
    identity(&made.plan, &settling::origin(&report.origin).unwrap()).unwrap()
}

/// Whatever is left of a plan, at the value that it has now.
fn worth_left(made: &Made, room: &Workroom, report: &ToSettle, plan: &str) -> Option<Ratio> {
    let known = settling::remainder(report, plan, &room.shelf().journal)?;
    let prices = Prices::of(&made.job.stock, &made.job.workshop);
    let worth = known.sheets.iter().map(|uncut| {
        let sheet = made.job.stock.sheets.iter().find(|sheet| sheet.id == uncut.sheet).unwrap();
        &prices.sheet(sheet) * i128::from(uncut.count)
    });
    Some(worth.sum())
}

proptest! {
    #![proptest_config(cases(300))]

    /// Whatever happens on the way, at the end there is what was ordered, with the spares that were left; the shelf
    /// balances after each step (the program's audit and the areas here), its journal leads to its files, and all of it
    /// can be taken back to the byte.
    #[test]
    fn a_day_ends_with_what_was_ordered(batch in makeable(SMALL), turns in turns()) {
        let inputs = supplied(batch.inputs());
        let room = Workroom::with(&inputs);
        let begin = room.shelf().bytes;
        let lay = room.stock();
        let options = Options { effort: Effort::Quick, threads: Some(1), ..Options::default() };
        let order = inputs.orders[0].clone();
        let first = room.planned(order.clone(), &options);
        prop_assume!(first.is_some());
        let first = first.unwrap();
        let mut day = Day { room, reports: vec![first], options, order, is_edited: false, kill: Cell::new(None) };
        for turn in turns {
            match turn {
                Turn::Stop(step, lift) => day.stop(step, lift),
                Turn::Spoil(piece, count) => day.spoil(piece, count),
                Turn::SpoilStack(stack, count) => day.spoil_stack(stack, count),
                Turn::SpoilSupply(supply, count) => day.spoil_supply(supply, count),
                Turn::Finish => drop(day.settle(HowFar::All, Counts::new())),
                Turn::Undo => drop(day.undo()),
                Turn::Edit => day.edit(),
                Turn::Kill(changes) => day.kill.set(Some(changes)),
                Turn::Rest => {
                    let left = day.before().map(|before| before.pieces.iter().all(|it| it.spoiled + it.lost == 0));
                    let spoilt = left != Some(true);
                    let last = day.last().1.clone();
                    let plan = day.parts().last().map(|last| last.plan.clone());
                    if day.rest().is_ok() && !spoilt {
                        let made = &day.last().0;
                        // All was bought with the first part; what is left is enough.
                        prop_assert_eq!(made.plan.totals.spend.minor(), 0);
                        if let Some(most) = worth_left(made, &day.room, &last, &plan.unwrap()) {
                            prop_assert!(made.worth_used() <= most, "{:?} > {most:?}", made.worth_used());
                        }
                    }
                }
            }
        }
        // The evening: all that is left is cut, and planned, and cut.
        for _ in 0..4 {
            let identity = identity_of(day.last());
            let parts = day.parts();
            let last = parts.iter().rfind(|part| part.plan == identity);
            if !last.is_some_and(|last| last.whole) {
                let is_done = day.settle(HowFar::All, Counts::new());
                // Envelopes that were spoiled since it was planned are bought by the next plan.
                prop_assert!(is_done || day.is_short(), "{:?}", day.parts().last());
            }
            if let Err(codes) = day.rest() {
                // There may be no paper left that holds what was spoiled.
                prop_assume!(codes == ["rest-done"]);
                break;
            }
        }
        let before = day.before().unwrap();
        let made = &day.reports[0].0;
        for piece in &made.job.bill.pieces {
            let names = piece.names();
            let tally = before.pieces.iter().find(|tally| tally.names == names).unwrap();
            let good = tally.finished - tally.spoiled;
            let spoiled = tally.spoiled + tally.lost;
            let all = piece.need() + piece.spares();
            prop_assert!(good >= piece.need(), "{}: {good}", piece.id);
            prop_assert!(good >= all.saturating_sub(spoiled), "{}: {good} of {all}", piece.id);
        }
        // Each card has its envelope and its sundries, once, and the rest lies there.
        let lies = day.supplies();
        for need in &made.job.bill.supplies {
            let sum = |of: fn(&Settled) -> &Counts| -> u64 {
                day.parts().iter().filter_map(|part| of(part).get(&need.supply)).sum()
            };
            let lay = lay.supply(&need.supply).unwrap().1.on_hand;
            prop_assert_eq!(sum(|part| &part.taken), need.need());
            let gone = need.need() + sum(|part| &part.wasted);
            prop_assert_eq!(lies[&need.supply] + gone, lay + sum(|part| &part.bought));
        }
        // Nothing is left over for the batch, and nothing kept back for it.
        let journal = day.room.shelf().journal;
        prop_assert!(journal.reserved().is_empty(), "{:?}", journal.reserved());
        if !day.is_edited {
            prop_assert_eq!(journal.texts(), day.room.shelf().texts().ok());
            while day.undo() {}
            let parts = day.parts();
            prop_assert!(parts.is_empty(), "{:?}", parts.last());
            prop_assert_eq!(day.room.shelf().bytes, begin);
        }
    }
}

/// The bench as `cuts.csv` alone tells of it: stacks by letter, finished pieces, strips for the drawer.
#[derive(Default)]
struct Table {
    stacks: BTreeMap<String, u64>,
    pieces: BTreeMap<String, u64>,
    drawer: BTreeMap<String, u64>,
}

impl Table {
    /// Does what a row says: takes its stack, and lays down what it yields.
    fn cut(&mut self, row: &csv::StringRecord) {
        self.stacks.remove(&row[3]);
        for part in row[11].split("; ") {
            let mut words = part.split(' ');
            let count: u64 = words.next().unwrap().parse().unwrap();
            let kind = words.next().unwrap();
            let list = match kind {
                "stack" => &mut self.stacks,
                "piece" => &mut self.pieces,
                "drawer" => &mut self.drawer,
                _ => continue,
            };
            *list.entry(words.next().unwrap().to_owned()).or_insert(0) += count;
        }
    }
}

fn counts(list: &Value, name: &str, count: &str) -> BTreeMap<String, u64> {
    let rows = list.as_array().into_iter().flatten();
    let mut sums = BTreeMap::new();
    for row in rows {
        *sums.entry(row[name].as_str().unwrap().to_owned()).or_insert(0) +=
            row[count].as_u64().unwrap();
    }
    sums.retain(|_, count| *count > 0);
    sums
}

/// After each step of the wedding's schedule there lies what its table says.
#[test]
fn the_table_of_cuts_says_the_same() {
    let home = Home::with(&["orders"]);
    home.done("plan orders/wedding.csv --quiet --limit 5");
    let table = home.text("reports/wedding/cuts.csv");
    let mut rows = csv::Reader::from_reader(table.as_bytes());
    let rows: Vec<csv::StringRecord> = rows.records().map(Result::unwrap).collect();
    let mut bench = Table::default();
    for row in &rows[..rows.len() - 1] {
        bench.cut(row);
        let step = &row[0];
        let entry =
            said(&home, &format!("settle reports/wedding --done {step} --on 2027-03-01 --json"));
        let entry: Value = serde_json::from_str(&entry).unwrap();
        let settled = &entry["event"]["settled"];
        assert_eq!(settled["reached"]["step"].to_string(), *step);
        assert_eq!(counts(&settled["stacks"], "letter", "count"), bench.stacks, "step {step}");
        assert_eq!(counts(&settled["kept"], "planned", "count"), bench.drawer, "step {step}");
        let finished = settled["pieces"].as_array().unwrap().iter().map(|piece| {
            let names = piece["names"].as_array().unwrap().iter();
            let names: Vec<&str> = names.map(|name| name.as_str().unwrap()).collect();
            (names.join("+"), piece["finished"].as_u64().unwrap())
        });
        assert_eq!(finished.collect::<BTreeMap<_, _>>(), bench.pieces, "step {step}");
        said(&home, "settle reports/wedding --undo");
    }
}
