//! Orders in which all that lies there can be finished within the room, at any time.
//!
//! Stacks of one sheet are brought and cut up by its own cuts alone, so that a sheet once begun can be finished whatever lies
//! beside it, if there is room. A cut is made only where, after it, the sheets that are begun can be finished one by one, as a
//! bank lends only what it can pay out whoever asks first (E. W. Dijkstra, Cooperating sequential processes, 1965). So no
//! order ends with a full table and work left, however many sheets there are; and each setting makes as many cuts as that allows.

use super::room::{BenchState, RoomSearch};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// Beyond so many cuts, one sheet is finished after the other.
const MOST_CUTS: usize = 5000;

/// Gauges that are tried at each setting: those with the most cuts that can be made.
const TRIED: usize = 6;

/// A search for one order.
pub(super) struct Finishing<'a> {
    search: &'a RoomSearch<'a>,
    room: usize,
    /// The cuts of each sheet.
    sheets: Vec<Vec<usize>>,
    /// The sheet of each cut.
    sheet_of: Vec<usize>,
}

/// Sheets on the table.
#[derive(Clone)]
struct SheetsOnTable {
    bench: BenchState,
    /// By sheet.
    begun: Vec<SheetNeed>,
}

/// How much room a sheet takes.
#[derive(Clone, Copy, Default)]
struct SheetNeed {
    /// Stacks of it that wait.
    lying: usize,
    /// The most of them while it is finished.
    most: usize,
}

/// The table after a setting, and the cuts that were made at it.
struct TableAfter {
    table: SheetsOnTable,
    cuts: Vec<usize>,
}

impl<'a> Finishing<'a> {
    pub fn new(search: &'a RoomSearch<'a>, room: usize) -> Finishing<'a> {
        let mut numbers: BTreeMap<usize, usize> = BTreeMap::new();
        let mut sheets: Vec<Vec<usize>> = Vec::new();
        let mut sheet_of = Vec::new();
        for (number, cut) in search.queue.cuts.iter().enumerate() {
            let sheet = *numbers.entry(cut.run).or_insert(sheets.len());
            sheets.resize(sheets.len().max(sheet + 1), Vec::new());
            sheets[sheet].push(number);
            sheet_of.push(sheet);
        }
        Finishing { search, room, sheets, sheet_of }
    }

    /// The cuts of each setting; with more room than there is only where a single sheet takes it.
    pub fn settings(mut self) -> Vec<Vec<usize>> {
        if self.sheet_of.len() > MOST_CUTS {
            return self.one_by_one();
        }
        let bench = self.search.start();
        let most = self.sheets.iter().map(|cuts| self.most(&bench, cuts));
        let begun: Vec<SheetNeed> = most.map(|most| SheetNeed { lying: 0, most }).collect();
        self.room = begun.iter().map(|begun| begun.most).fold(self.room, usize::max);
        let mut table = SheetsOnTable { bench, begun };
        let mut settings = Vec::new();
        while let Some(made) = self.next(&table) {
            table = made.table;
            settings.push(made.cuts);
        }
        settings
    }

    /// Each sheet whole, before the next.
    fn one_by_one(&self) -> Vec<Vec<usize>> {
        let mut bench = self.search.start();
        let mut settings = Vec::new();
        for cuts in &self.sheets {
            while let Some((_, cut)) = self.least(&bench, cuts) {
                self.search.make(&mut bench, cut);
                settings.push(vec![cut]);
            }
        }
        settings
    }

    /// The cut of these after which the fewest stacks wait, and how many do.
    fn least(&self, bench: &BenchState, cuts: &[usize]) -> Option<(usize, usize)> {
        let ready = cuts.iter().copied().filter(|&cut| bench.state.waiting[cut] == 0);
        ready.map(|cut| (self.search.stacks.after(&bench.lying, cut), cut)).min()
    }

    /// The best setting: one that ends a gauge, then one that makes many cuts, then one after which few stacks wait.
    fn next(&self, table: &SheetsOnTable) -> Option<TableAfter> {
        let queue = &self.search.queue;
        let mut gauges: Vec<(usize, usize)> = (0..queue.gauges.len())
            .map(|gauge| (queue.ready(&table.bench.state, gauge).count(), gauge))
            .filter(|(ready, _)| *ready > 0)
            .collect();
        let ends = |&(ready, gauge): &(usize, usize)| ready == table.bench.state.left[gauge];
        gauges.sort_by_key(|gauge| (Reverse(ends(gauge)), Reverse(gauge.0), gauge.1));
        let mut best: Option<((usize, Reverse<usize>, usize), TableAfter)> = None;
        for (at, (_, gauge)) in gauges.into_iter().enumerate() {
            if at >= TRIED && best.is_some() {
                break;
            }
            let made = self.at(table, gauge);
            if made.cuts.is_empty() {
                continue;
            }
            let bench = &made.table.bench;
            let key = (bench.state.merit.0, Reverse(made.cuts.len()), bench.lying.count);
            if best.as_ref().is_none_or(|(known, _)| key < *known) {
                best = Some((key, made));
            }
        }
        best.map(|(_, made)| made)
    }

    /// All cuts at a gauge after which everything can be finished, those first that take the least room.
    fn at(&self, table: &SheetsOnTable, gauge: usize) -> TableAfter {
        let mut made = TableAfter { table: table.clone(), cuts: Vec::new() };
        loop {
            let bench = &made.table.bench;
            let mut ready: Vec<(usize, usize)> = self
                .search
                .queue
                .ready(&bench.state, gauge)
                .map(|cut| (self.search.stacks.after(&bench.lying, cut), cut))
                .filter(|(after, _)| *after <= self.room)
                .collect();
            ready.sort_unstable();
            let next =
                ready.into_iter().find_map(|(_, cut)| Some((cut, self.after(&made.table, cut)?)));
            let Some((cut, sheet)) = next else { return made };
            self.search.make(&mut made.table.bench, cut);
            made.table.begun[self.sheet_of[cut]] = sheet;
            made.cuts.push(cut);
        }
    }

    /// What its sheet takes after a cut, if all sheets can be finished then.
    fn after(&self, table: &SheetsOnTable, cut: usize) -> Option<SheetNeed> {
        let sheet = self.sheet_of[cut];
        let mut bench = table.bench.clone();
        let before = bench.lying.count;
        self.search.make(&mut bench, cut);
        let lying = table.begun[sheet].lying + bench.lying.count - before;
        let most = lying + self.most(&bench, &self.sheets[sheet]) - bench.lying.count;
        let next = SheetNeed { lying, most };
        let other = table.begun.iter().enumerate();
        let begun = other.map(|(at, begun)| if at == sheet { next } else { *begun });
        let mut open: Vec<SheetNeed> = begun.filter(|begun| begun.lying > 0).collect();
        open.sort_by_key(|begun| begun.most - begun.lying);
        let mut free = self.room.checked_sub(bench.lying.count)?;
        open.iter()
            .all(|begun| {
                let is_enough = begun.most - begun.lying <= free;
                free += begun.lying;
                is_enough
            })
            .then_some(next)
    }

    /// The most stacks that wait while the cuts of a sheet are made, always the one next after which the fewest wait.
    fn most(&self, bench: &BenchState, cuts: &[usize]) -> usize {
        let mut bench = bench.clone();
        let mut most = bench.lying.count;
        while let Some((waiting, cut)) = self.least(&bench, cuts) {
            most = most.max(waiting);
            self.search.make(&mut bench, cut);
        }
        most
    }
}
