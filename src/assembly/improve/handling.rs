//! Few gauge settings (level 4): which of equal layouts the runs are cut by.
//!
//! All runs are cut together, so a distance that two of them share is set once for both, if nothing
//! stands in the way. So layouts are chosen whose distances are few in all; how often the gauge is set
//! for them in the end, the schedule says.

use super::Care;
use crate::measure::Length;
use crate::plan::Node;
use crate::program::Stop;
use crate::schedule;
use crate::stock::{RoughEdges, Stock};
use crate::workshop::Trimmer;
use std::collections::{BTreeMap, BTreeSet};

/// A sheet to cut: its layout and its edges.
pub(in crate::assembly) type SheetCut<'a> = (&'a Node, RoughEdges);

/// Who knows how much work layouts are.
pub(in crate::assembly) trait Worker {
    /// The distances to which the gauge is set for a sheet of a layout.
    fn gauges(&self, layout: &Node, edges: RoughEdges) -> BTreeSet<Length>;

    /// How often it is set where sheets of all these layouts are cut together.
    fn settings(&self, sheets: &[SheetCut]) -> u64;

    /// Strokes of the knife for this many sheets of a layout; the sheet by its index in the stock.
    fn strokes(&self, layout: &Node, sheet: usize, count: u64) -> u64;
}

/// The bench, which works as the schedule says.
pub(in crate::assembly) struct Scheduler<'a> {
    pub stock: &'a Stock,
    pub trimmer: &'a Trimmer,
}

impl Worker for Scheduler<'_> {
    fn gauges(&self, layout: &Node, edges: RoughEdges) -> BTreeSet<Length> {
        schedule::gauges(layout, edges, self.trimmer)
    }

    fn settings(&self, sheets: &[SheetCut]) -> u64 {
        schedule::settings(sheets, self.trimmer)
    }

    fn strokes(&self, layout: &Node, sheet: usize, count: u64) -> u64 {
        schedule::strokes(layout, count, &self.stock.sheets[sheet], self.trimmer)
    }
}

/// How layouts are chosen for their work.
#[derive(Clone, Copy)]
pub(in crate::assembly) struct Handling<'a> {
    /// Who says how much it is.
    pub bench: &'a dyn Worker,
    /// How much trouble it is worth.
    pub care: Care,
    /// Asked now and then whether it is called off: then what is better so far is taken.
    pub stop: Stop<'a>,
}

/// Layouts of one run that are equally good but for their handling, the first by default.
pub(super) struct Alternatives {
    pub edges: RoughEdges,
    pub layouts: Vec<Node>,
}

/// How often the gauge is set for runs cut by these of their layouts.
pub(super) fn settings(runs: &[Alternatives], chosen: &[usize], handling: Handling) -> u64 {
    let sheets = runs.iter().zip(chosen).map(|(run, &layout)| (&run.layouts[layout], run.edges));
    handling.bench.settings(&sheets.collect::<Vec<_>>())
}

/// A layout for each run, so that the distances are few: in all, then those of each run. `steps` is how
/// often layouts may be compared.
pub(super) fn chosen(runs: &[Alternatives], handling: Handling, mut steps: u64) -> Vec<usize> {
    let gauges: Vec<Vec<BTreeSet<Length>>> = runs
        .iter()
        .map(|run| {
            run.layouts.iter().map(|layout| handling.bench.gauges(layout, run.edges)).collect()
        })
        .collect();
    let mut chosen = vec![0; runs.len()];
    let mut used = Used::default();
    gauges.iter().for_each(|layouts| used.add(&layouts[0]));
    let mut changed = true;
    while changed && steps > 0 {
        changed = false;
        for (run, layouts) in gauges.iter().enumerate() {
            steps = steps.saturating_sub(layouts.len() as u64);
            used.remove(&layouts[chosen[run]]);
            let cost = |&layout: &usize| (used.unshared(&layouts[layout]), layouts[layout].len());
            let best = (0..layouts.len()).min_by_key(cost).unwrap_or(0);
            if cost(&best) < cost(&chosen[run]) {
                (chosen[run], changed) = (best, true);
            }
            used.add(&layouts[chosen[run]]);
        }
    }
    chosen
}

/// How many runs want each distance.
#[derive(Default)]
struct Used(BTreeMap<Length, usize>);

impl Used {
    fn add(&mut self, gauges: &BTreeSet<Length>) {
        gauges.iter().for_each(|gauge| *self.0.entry(*gauge).or_insert(0) += 1);
    }

    fn remove(&mut self, gauges: &BTreeSet<Length>) {
        for gauge in gauges {
            if let Some(runs) = self.0.get_mut(gauge) {
                *runs -= 1;
            }
        }
        self.0.retain(|_, runs| *runs > 0);
    }

    /// Distances that no other run wants.
    fn unshared(&self, gauges: &BTreeSet<Length>) -> usize {
        gauges.iter().filter(|gauge| !self.0.contains_key(gauge)).count()
    }
}
