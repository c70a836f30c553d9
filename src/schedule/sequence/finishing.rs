//! Orders in which all that lies there can be finished within the room, at any time.
//!
//! Stacks of one sheet are brought and cut up by its own cuts alone, so that a sheet once begun can be finished whatever lies
//! beside it, if there is room. A cut is made only where, after it, the sheets that are begun can be finished one by one, as a
//! bank lends only what it can pay out whoever asks first (E. W. Dijkstra, Cooperating sequential processes, 1965). So no
//! order ends with a full table and work left, however many sheets there are; and each setting makes as many cuts as that allows.

use super::GaugeCut;
use super::room::{BenchState, RoomSearch};
use crate::measure::Length;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// Gauges that are tried at each setting: those with the most cuts that can be made.
const TRIED: usize = 6;

/// Ways of cutting sheets that are looked at for the bound, at most.
const MOST_WAYS: usize = 20_000;

/// No order has fewer stacks that wait: the most that any sheet by itself needs, as far as it was looked at.
pub(super) fn least_waiting(cuts: &[GaugeCut]) -> usize {
    let sheets = split(cuts);
    let (mut least, mut ways) = (0, MOST_WAYS);
    for sheet in &sheets {
        let search = RoomSearch::new(&sheet.cuts, 0);
        let work = SheetWork { search, numbers: &sheet.numbers };
        let most = work.start().most;
        while least < most && work.is_too_much(least, &mut ways) {
            least += 1;
        }
    }
    least
}

/// The cuts of each setting, in which sheets are finished within the room; with more room than there is only where a single
/// sheet takes it.
pub(super) fn settings(cuts: &[GaugeCut], room: usize) -> Vec<Vec<usize>> {
    let sheets = split(cuts);
    let works = sheets.iter().map(|sheet| SheetWork {
        search: RoomSearch::new(&sheet.cuts, 0),
        numbers: &sheet.numbers,
    });
    let works: Vec<SheetWork> = works.collect();
    let lying: Vec<LyingSheet> = works.iter().map(SheetWork::start).collect();
    let room = lying.iter().map(|sheet| sheet.most).fold(room, usize::max);
    let mut left: BTreeMap<Length, usize> = BTreeMap::new();
    cuts.iter().for_each(|cut| *left.entry(cut.gauge).or_insert(0) += 1);
    let mut finishing = Finishing { works: &works, room, lying, begun: BTreeSet::new(), left };
    let mut settings = Vec::new();
    while let Some(made) = finishing.next() {
        let numbers = made.cuts.iter().map(|it| works[it.sheet].numbers[it.cut]);
        settings.push(numbers.collect());
        finishing.go_on(made);
    }
    settings
}

/// The cuts of one sheet, by their numbers among all.
#[derive(Default)]
struct SheetCuts {
    cuts: Vec<GaugeCut>,
    numbers: Vec<usize>,
}

/// The cuts of each sheet, which wait for each other alone.
fn split(cuts: &[GaugeCut]) -> Vec<SheetCuts> {
    let mut sheets: BTreeMap<usize, SheetCuts> = BTreeMap::new();
    let mut places = Vec::new();
    for (number, cut) in cuts.iter().enumerate() {
        let sheet = sheets.entry(cut.run).or_default();
        places.push(sheet.cuts.len());
        sheet.cuts.push(cut.clone());
        sheet.numbers.push(number);
    }
    for sheet in sheets.values_mut() {
        let after = sheet.cuts.iter_mut().flat_map(|cut| &mut cut.after);
        after.for_each(|before| *before = places[*before]);
    }
    sheets.into_values().collect()
}

/// The work on one sheet.
struct SheetWork<'a> {
    search: RoomSearch<'a>,
    numbers: &'a [usize],
}

/// How far a sheet is cut, and the most stacks of it that wait while it is finished.
#[derive(Clone)]
struct LyingSheet {
    bench: BenchState,
    most: usize,
}

/// A cut of a sheet.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct CutOfSheet {
    sheet: usize,
    cut: usize,
}

/// What is made at one setting.
struct CutsMade {
    gauge: Length,
    cuts: Vec<CutOfSheet>,
    /// The sheets that they change, as they are then.
    lying: BTreeMap<usize, LyingSheet>,
    /// Stacks that wait then.
    waiting: usize,
}

/// Sheets on the table.
struct Finishing<'a> {
    works: &'a [SheetWork<'a>],
    room: usize,
    lying: Vec<LyingSheet>,
    /// Those of which stacks wait.
    begun: BTreeSet<usize>,
    /// Cuts not made yet, by gauge.
    left: BTreeMap<Length, usize>,
}

impl SheetWork<'_> {
    fn start(&self) -> LyingSheet {
        self.measured(self.search.start())
    }

    fn measured(&self, bench: BenchState) -> LyingSheet {
        let mut later = bench.clone();
        let mut most = bench.lying.count;
        while let Some((waiting, cut)) = self.least(&later) {
            most = most.max(waiting);
            self.search.make(&mut later, cut);
        }
        LyingSheet { bench, most }
    }

    /// Whether no order of its cuts keeps to this room; `ways` are left to be looked at.
    fn is_too_much(&self, room: usize, ways: &mut usize) -> bool {
        let mut open = vec![self.search.start()];
        let mut seen: BTreeSet<Vec<u32>> = BTreeSet::new();
        while let Some(bench) = open.pop() {
            if bench.state.merit.1 == 0 || *ways == 0 {
                return false;
            }
            *ways -= 1;
            for cut in self.ready(&bench) {
                if self.search.stacks.after(&bench.lying, cut) <= room {
                    let mut next = bench.clone();
                    self.search.make(&mut next, cut);
                    if seen.insert(next.state.waiting.clone()) {
                        open.push(next);
                    }
                }
            }
        }
        true
    }

    fn ready(&self, bench: &BenchState) -> impl Iterator<Item = usize> {
        (0..self.numbers.len()).filter(|&cut| bench.state.waiting[cut] == 0)
    }

    /// The cut after which the fewest stacks wait, and how many do.
    fn least(&self, bench: &BenchState) -> Option<(usize, usize)> {
        let ready = self.ready(bench);
        ready.map(|cut| (self.search.stacks.after(&bench.lying, cut), cut)).min()
    }

    fn gauge(&self, cut: usize) -> Length {
        self.search.queue.cuts[cut].gauge
    }
}

impl Finishing<'_> {
    /// The best setting: one that ends a gauge, then one that makes many cuts, then one after which few stacks wait.
    fn next(&self) -> Option<CutsMade> {
        let mut ready: BTreeMap<Length, Vec<CutOfSheet>> = BTreeMap::new();
        for (sheet, (work, lying)) in self.works.iter().zip(&self.lying).enumerate() {
            for cut in work.ready(&lying.bench) {
                ready.entry(work.gauge(cut)).or_default().push(CutOfSheet { sheet, cut });
            }
        }
        let mut gauges: Vec<(Length, Vec<CutOfSheet>)> = ready.into_iter().collect();
        gauges.sort_by_key(|(gauge, cuts)| {
            (cuts.len() < self.left[gauge], Reverse(cuts.len()), Reverse(*gauge))
        });
        let mut best: Option<CutsMade> = None;
        for (at, (gauge, cuts)) in gauges.into_iter().enumerate() {
            if at >= TRIED && best.is_some() {
                break;
            }
            let made = self.at(gauge, cuts);
            let merit = |made: &CutsMade| {
                let is_open = made.cuts.len() < self.left[&made.gauge];
                (is_open, Reverse(made.cuts.len()), made.waiting)
            };
            let is_better = best.as_ref().is_none_or(|best| merit(&made) < merit(best));
            if is_better && !made.cuts.is_empty() {
                best = Some(made);
            }
        }
        best
    }

    /// All cuts at a gauge after which everything can be finished, those first that take the least room.
    fn at(&self, gauge: Length, ready: Vec<CutOfSheet>) -> CutsMade {
        let waiting = self.begun.iter().map(|sheet| self.lying[*sheet].bench.lying.count).sum();
        let mut made = CutsMade { gauge, cuts: Vec::new(), lying: BTreeMap::new(), waiting };
        let mut ready = ready;
        loop {
            let lying = |sheet: usize| made.lying.get(&sheet).unwrap_or(&self.lying[sheet]);
            ready.sort_by_key(|&CutOfSheet { sheet, cut }| {
                let OnSheet { after, count } = self.counted(lying(sheet), sheet, cut);
                (made.waiting + after - count, sheet, cut)
            });
            let next =
                ready.iter().enumerate().find_map(|(at, cut)| Some((at, self.after(&made, *cut)?)));
            let Some((at, lying)) = next else { return made };
            let CutOfSheet { sheet, cut } = ready.remove(at);
            let work = &self.works[sheet];
            let freed = work.ready(&lying.bench).filter(|&next| work.gauge(next) == gauge);
            let freed = freed.map(|cut| CutOfSheet { sheet, cut });
            let freed: Vec<CutOfSheet> = freed.filter(|next| !ready.contains(next)).collect();
            ready.extend(freed);
            let before = made.lying.get(&sheet).unwrap_or(&self.lying[sheet]).bench.lying.count;
            made.waiting = made.waiting + lying.bench.lying.count - before;
            made.lying.insert(sheet, lying);
            made.cuts.push(CutOfSheet { sheet, cut });
        }
    }

    fn counted(&self, lying: &LyingSheet, sheet: usize, cut: usize) -> OnSheet {
        let count = lying.bench.lying.count;
        OnSheet { after: self.works[sheet].search.stacks.after(&lying.bench.lying, cut), count }
    }

    /// Its sheet after a cut, if all sheets that are begun can be finished then.
    fn after(&self, made: &CutsMade, CutOfSheet { sheet, cut }: CutOfSheet) -> Option<LyingSheet> {
        let before = made.lying.get(&sheet).unwrap_or(&self.lying[sheet]);
        let work = &self.works[sheet];
        let OnSheet { after, count } = self.counted(before, sheet, cut);
        let waiting = made.waiting + after - count;
        let mut free = self.room.checked_sub(waiting)?;
        let mut bench = before.bench.clone();
        work.search.make(&mut bench, cut);
        let next = work.measured(bench);
        let changed = made.lying.keys().copied().chain([sheet]);
        let begun: BTreeSet<usize> = self.begun.iter().copied().chain(changed).collect();
        let lying = |at: usize| match at == sheet {
            true => &next,
            false => made.lying.get(&at).unwrap_or(&self.lying[at]),
        };
        let begun = begun.into_iter().map(lying).filter(|lying| lying.bench.lying.count > 0);
        let claim = |lying: &LyingSheet| lying.most - lying.bench.lying.count;
        let mut begun: Vec<&LyingSheet> = begun.collect();
        begun.sort_by_key(|lying| claim(lying));
        let can_end = begun.iter().all(|lying| {
            let is_enough = claim(lying) <= free;
            free += lying.bench.lying.count;
            is_enough
        });
        can_end.then_some(next)
    }

    /// Takes a setting as made.
    fn go_on(&mut self, made: CutsMade) {
        let left = self.left.get_mut(&made.gauge);
        left.into_iter().for_each(|left| *left -= made.cuts.len());
        for (sheet, lying) in made.lying {
            match lying.bench.lying.count {
                0 => self.begun.remove(&sheet),
                _ => self.begun.insert(sheet),
            };
            self.lying[sheet] = lying;
        }
    }
}

/// Stacks of a sheet that wait, and that would after a cut.
struct OnSheet {
    after: usize,
    count: usize,
}
