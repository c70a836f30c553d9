//! The order of cuts with the fewest settings where only so many stacks may wait.
//!
//! With little room, to make all cuts at a setting may be too much. A cut after which no more stacks wait is still always made
//! at once: later it would do no better, and it is in no other cut's way. Of the others, all choices are tried, as far
//! as there is room; where there are too many ways, the most promising are kept.

use super::room::{BenchState, RoomSearch};
use std::collections::BTreeSet;
use std::rc::Rc;

/// Ways kept, times cuts, times gauges, times about as many settings as they take.
const EFFORT: usize = 6_000_000;
/// So many cuts take about one setting for each gauge.
const CUTS: usize = 64;
/// Fewest choices of cuts at one setting.
const FEWEST: usize = 3;
/// So few cuts are gone through whole, and so few nearly.
const FEWEST_CUTS: usize = 8;
const FEW_CUTS: usize = 16;
/// What is kept at most of the fewest cuts, of few, and of more.
const OF_FEWEST: Breadth = Breadth { ways: 256, choices: 128 };
const OF_FEW: Breadth = Breadth { ways: 48, choices: 32 };
const OF_MORE: Breadth = Breadth { ways: 12, choices: 8 };

/// How much is kept.
#[derive(Clone, Copy)]
struct Breadth {
    /// Ways after each setting.
    ways: usize,
    /// Choices of cuts at one setting.
    choices: usize,
}

/// What was found of orders for so much room.
pub(super) struct OrderFound {
    /// The cuts of each setting, in an order that keeps to the room; `None` where none was found.
    pub settings: Option<Vec<Vec<usize>>>,
    /// Whether every way was looked at, so that no order does better.
    pub is_whole: bool,
}

/// A search for one room.
pub(super) struct Narrow<'a> {
    search: &'a RoomSearch<'a>,
    room: usize,
    kept: Breadth,
    is_whole: bool,
}

/// Cuts that were made, by setting, and what is left.
#[derive(Clone)]
struct SettingsWay {
    bench: BenchState,
    /// Those of the last setting.
    made: Vec<usize>,
    before: Option<Rc<SettingMade>>,
}

/// The cuts of a setting, and those before it.
struct SettingMade {
    cuts: Vec<usize>,
    before: Option<Rc<SettingMade>>,
}

impl SettingsWay {
    /// All settings from the first on.
    fn settings(&self) -> Vec<Vec<usize>> {
        let mut settings = vec![self.made.clone()];
        let mut before = self.before.as_ref();
        while let Some(setting) = before {
            settings.push(setting.cuts.clone());
            before = setting.before.as_ref();
        }
        settings.retain(|cuts| !cuts.is_empty());
        settings.reverse();
        settings
    }

    /// The same before the next setting.
    fn set(&self) -> SettingsWay {
        let setting = SettingMade { cuts: self.made.clone(), before: self.before.clone() };
        let before = Some(Rc::new(setting));
        SettingsWay { bench: self.bench.clone(), made: Vec::new(), before }
    }
}

impl<'a> Narrow<'a> {
    pub fn new(search: &'a RoomSearch<'a>, room: usize) -> Narrow<'a> {
        let (cuts, gauges) = (search.queue.cuts.len(), search.queue.gauges.len());
        let most = EFFORT / (cuts * gauges * (cuts / CUTS + 1)).max(1);
        let widest = if cuts <= FEWEST_CUTS {
            OF_FEWEST
        } else if cuts <= FEW_CUTS {
            OF_FEW
        } else {
            OF_MORE
        };
        let ways = (most / 8).clamp(1, widest.ways);
        let choices = (most / 16).clamp(FEWEST, widest.choices);
        Narrow { search, room, kept: Breadth { ways, choices }, is_whole: true }
    }

    /// Looks for an order with fewer settings than `most`.
    pub fn run(mut self, most: usize) -> OrderFound {
        let bench = self.search.start();
        let mut level = vec![SettingsWay { bench, made: Vec::new(), before: None }];
        let mut settings = None;
        for _ in 1..most {
            level = self.next(&level);
            settings =
                level.iter().find(|way| way.bench.state.merit.0 == 0).map(SettingsWay::settings);
            if level.is_empty() || settings.is_some() {
                break;
            }
        }
        OrderFound { settings, is_whole: self.is_whole }
    }

    /// The ways after one more setting.
    fn next(&mut self, level: &[SettingsWay]) -> Vec<SettingsWay> {
        let mut seen = BTreeSet::new();
        let mut next = Vec::new();
        for way in level {
            for gauge in 0..self.search.queue.gauges.len() {
                let choices = self.at(way, gauge).into_iter();
                next.extend(choices.filter(|way| seen.insert(way.bench.state.waiting.clone())));
            }
        }
        let hope = |way: &SettingsWay| {
            (way.bench.state.merit.0, way.bench.state.merit.1 + way.bench.lying.count)
        };
        next.sort_by_key(hope);
        self.is_whole &= next.len() <= self.kept.ways;
        next.truncate(self.kept.ways);
        next
    }

    /// What can be made at one setting, more cuts before fewer. As many as there is room for are always among them.
    fn at(&mut self, way: &SettingsWay, gauge: usize) -> Vec<SettingsWay> {
        if self.search.queue.ready(&way.bench.state, gauge).next().is_none() {
            return Vec::new();
        }
        let mut first = way.set();
        self.make_free(&mut first, gauge);
        let mut seen: BTreeSet<Vec<u32>> = [first.bench.state.waiting.clone()].into();
        let mut open = vec![first];
        let mut ends = Vec::new();
        while let Some(way) = open.pop() {
            let mut more: Vec<SettingsWay> = Vec::new();
            for cut in self.fitting(&way.bench, gauge) {
                let is_full = seen.len() >= 2 * self.kept.choices;
                if is_full && !more.is_empty() {
                    self.is_whole = false;
                    break;
                }
                let next = self.with(&way, gauge, cut);
                if seen.insert(next.bench.state.waiting.clone()) {
                    more.push(next);
                }
            }
            // The first one is looked at next.
            open.extend(more.into_iter().rev());
            if !way.made.is_empty() {
                ends.push(way);
            }
        }
        ends.sort_by_key(|way| way.bench.state.merit);
        self.spread(ends)
    }

    /// Of too many choices, those all over their range.
    fn spread(&mut self, ends: Vec<SettingsWay>) -> Vec<SettingsWay> {
        let (all, most) = (ends.len(), self.kept.choices);
        if all <= most {
            return ends;
        }
        self.is_whole = false;
        let kept: BTreeSet<usize> = (0..most).map(|at| at * (all - 1) / (most - 1)).collect();
        let ends = ends.into_iter().enumerate().filter(|(at, _)| kept.contains(at));
        ends.map(|(_, way)| way).collect()
    }

    /// The cuts at a gauge for which there is room.
    fn fitting(&self, bench: &BenchState, gauge: usize) -> Vec<usize> {
        let fits = |&cut: &usize| self.search.stacks.after(&bench.lying, cut) <= self.room;
        self.search.queue.ready(&bench.state, gauge).filter(fits).collect()
    }

    /// The way with one more cut, and all that is free after it.
    fn with(&self, way: &SettingsWay, gauge: usize, cut: usize) -> SettingsWay {
        let mut way = way.clone();
        self.make(&mut way, cut);
        self.make_free(&mut way, gauge);
        way
    }

    fn make_free(&self, way: &mut SettingsWay, gauge: usize) {
        let free = |bench: &BenchState| {
            let mut ready = self.search.queue.ready(&bench.state, gauge);
            ready.find(|&cut| self.search.stacks.after(&bench.lying, cut) <= bench.lying.count)
        };
        while let Some(cut) = free(&way.bench) {
            self.make(way, cut);
        }
    }

    fn make(&self, way: &mut SettingsWay, cut: usize) {
        self.search.make(&mut way.bench, cut);
        way.made.push(cut);
    }
}
