//! Layouts chosen together with the order of the cuts (level 4): a trim costs a setting, and often spares none.
//!
//! What is cut off first at a distance of its own may as well be left over at the end, and where a plate is cut to size by
//! two trims, either may come first. So each distance in turn is taken from all layouts that want it, where as much is
//! kept without it; then each layout is tried with its cuts in another order. What sets the gauge less often, and takes no
//! more time with its strokes, stays; and what takes fewer strokes with as many settings.

use super::handling::Handling;
use super::laying::{Taste, Ties};
use super::{LayingTable, node};
use crate::assembly::surplus::Sheaf;
use crate::job::Job;
use crate::measure::Length;
use crate::plan::Node;
use crate::workshop::TrimmerWork;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// What all runs take.
#[derive(Clone, Copy, Default)]
struct BenchWork {
    settings: u64,
    strokes: u64,
    seconds: u64,
}

impl BenchWork {
    /// Whether it is less than another.
    fn is_less(self, other: BenchWork) -> bool {
        let is_quick = self.seconds <= other.seconds;
        is_quick && (self.settings, self.strokes) < (other.settings, other.strokes)
    }
}

/// A run with what its cuts take.
#[derive(Clone)]
struct RunWork {
    sheaf: Sheaf,
    /// Its layout as the bench sees it.
    node: Node,
    gauges: BTreeSet<Length>,
    strokes: u64,
}

/// What is tried.
enum Rematch {
    /// No run is cut at this distance.
    Without(Length),
    /// The cuts of a run come in another order.
    Turned(usize, Ties),
}

/// Runs that are cut together.
pub(super) struct Matching<'a> {
    job: &'a Job,
    handling: Handling<'a>,
    runs: Vec<RunWork>,
    work: BenchWork,
    /// Times that the settings of all may still be counted: with very many cuts it takes long.
    left: u64,
}

impl<'a> Matching<'a> {
    /// Of these runs, shapes numbered as in the bill.
    pub fn new(job: &'a Job, runs: Vec<Sheaf>, handling: Handling<'a>) -> Matching<'a> {
        let left = handling.counts(&runs);
        let none = Matching { job, handling, runs: Vec::new(), work: BenchWork::default(), left };
        let runs: Vec<RunWork> = runs.into_iter().map(|sheaf| none.cut(sheaf)).collect();
        Matching { work: none.work(&runs), runs, ..none }
    }

    /// How often the gauge is set.
    pub fn settings(&self) -> u64 {
        self.work.settings
    }

    /// The runs by their layouts.
    pub fn runs(self) -> Vec<Sheaf> {
        self.runs.into_iter().map(|run| run.sheaf).collect()
    }

    /// Tries one thing after the other until none is left that is less work.
    pub fn run(mut self, table: &mut LayingTable) -> Matching<'a> {
        let mut in_vain = 0;
        loop {
            let rematches = self.rematches();
            for rematch in &rematches {
                if in_vain >= rematches.len() || self.left == 0 || (self.handling.stop)() {
                    return self;
                }
                let other = match rematch {
                    Rematch::Without(gauge) => self.without(*gauge, table),
                    Rematch::Turned(run, ties) => self.turned(*run, *ties, table),
                };
                let is_less = other.is_some_and(|runs| self.takes(runs));
                in_vain = if is_less { 0 } else { in_vain + 1 };
            }
        }
    }

    fn cut(&self, sheaf: Sheaf) -> RunWork {
        let node = node(self.job, &sheaf, &sheaf.layout);
        let bench = self.handling.bench;
        let edges = self.job.stock.sheets[sheaf.sheet].rough_edges;
        let gauges = bench.gauges(&node, edges);
        let strokes = bench.strokes(&node, sheaf.sheet, sheaf.count);
        RunWork { sheaf, node, gauges, strokes }
    }

    fn work(&self, runs: &[RunWork]) -> BenchWork {
        let nodes = runs.iter().map(|run| (run.sheaf.sheet, &run.node));
        let settings = self.handling.settings(self.job, nodes);
        let strokes = runs.iter().map(|run| run.strokes).sum();
        let work = TrimmerWork { settings, strokes, moves: 0 };
        let seconds = self.job.workshop.rates.cutting(work);
        BenchWork { settings, strokes, seconds }
    }

    fn rematches(&self) -> Vec<Rematch> {
        let without = self.rarest_first().into_iter().map(Rematch::Without);
        let ways = |run| [Ties::First, Ties::Last].map(|ties| Rematch::Turned(run, ties));
        without.chain((0..self.runs.len()).flat_map(ways)).collect()
    }

    /// All distances, those that few runs want first.
    fn rarest_first(&self) -> Vec<Length> {
        let mut wanted: BTreeMap<Length, usize> = BTreeMap::new();
        let all = self.runs.iter().flat_map(|run| &run.gauges);
        all.for_each(|gauge| *wanted.entry(*gauge).or_insert(0) += 1);
        let mut gauges: Vec<Length> = wanted.keys().copied().collect();
        gauges.sort_by_key(|gauge| (wanted[gauge], *gauge));
        gauges
    }

    fn gauges(&self) -> BTreeSet<Length> {
        self.runs.iter().flat_map(|run| run.gauges.iter().copied()).collect()
    }

    /// The runs without a distance; `None` where one of them needs it, or another in its place.
    fn without(&self, gauge: Length, table: &mut LayingTable) -> Option<Vec<RunWork>> {
        let mut liked = self.gauges();
        liked.remove(&gauge);
        let liked = Rc::new(liked);
        let mut others = Vec::new();
        for (at, run) in self.runs.iter().enumerate() {
            if run.gauges.contains(&gauge) {
                let mut tastes = [Ties::First, Ties::Last]
                    .into_iter()
                    .map(|ties| Taste { liked: liked.clone(), ties });
                others.push((at, tastes.find_map(|taste| self.other(run, taste, table))?));
            }
        }
        Some(self.exchanged(others))
    }

    /// The runs with the cuts of one of them in another order, at no other distance.
    fn turned(&self, run: usize, ties: Ties, table: &mut LayingTable) -> Option<Vec<RunWork>> {
        let taste = Taste { liked: Rc::new(self.gauges()), ties };
        let other = self.other(&self.runs[run], taste, table)?;
        Some(self.exchanged(vec![(run, other)]))
    }

    /// The runs with others in the places of some.
    fn exchanged(&self, others: Vec<(usize, RunWork)>) -> Vec<RunWork> {
        let mut runs = self.runs.clone();
        others.into_iter().for_each(|(at, other)| runs[at] = other);
        runs
    }

    /// A run by another layout, cut at no distances but those that are liked.
    fn other(&self, run: &RunWork, taste: Taste, table: &mut LayingTable) -> Option<RunWork> {
        let Sheaf { sheet, layout, count } = &run.sheaf;
        let liked = taste.liked.clone();
        let other = table.equal(*sheet, layout, taste)?;
        if other == *layout {
            return None;
        }
        let other = self.cut(Sheaf { sheet: *sheet, layout: other, count: *count });
        other.gauges.is_subset(&liked).then_some(other)
    }

    /// Takes runs where they are less work.
    fn takes(&mut self, runs: Vec<RunWork>) -> bool {
        self.left -= 1;
        let work = self.work(&runs);
        let is_less = work.is_less(self.work);
        if is_less {
            (self.runs, self.work) = (runs, work);
        }
        is_less
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_setting_is_not_spared_with_more_time_at_the_knife() {
        let work = |settings, strokes, seconds| BenchWork { settings, strokes, seconds };
        let now = work(5, 20, 200);
        assert!(work(4, 22, 200).is_less(now));
        assert!(!work(4, 23, 201).is_less(now));
        assert!(work(5, 19, 196).is_less(now));
        assert!(!work(6, 10, 190).is_less(now) && !now.is_less(now));
    }
}
