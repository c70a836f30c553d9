//! Few gauge settings (level 4): which of equal layouts, and in which order the runs are cut.
//!
//! The gauge stays as the last cut of a run left it, so a run that can begin there saves a setting. How
//! often the gauge is set for a run, the schedule says.

use crate::measure::Length;
use crate::plan::Node;
use crate::stock::SheetKind;
use std::collections::{BTreeMap, BTreeSet};

/// How one run is cut at the bench.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Handled {
    /// How often the gauge is set.
    pub settings: u64,
    /// Where it stands at the end; `None` where nothing is cut.
    pub last: Option<Length>,
    /// Distances at which the run can begin: standing at another one makes no difference.
    pub first: Vec<Length>,
}

/// How a layout on a sheet of this kind is cut where the gauge stands at a distance.
pub type Handling<'a> = &'a dyn Fn(&Node, SheetKind, Option<Length>) -> Handled;

/// Layouts of one run that are equally good but for their handling, the first by default.
pub(super) struct Choice {
    pub kind: SheetKind,
    pub layouts: Vec<Node>,
}

/// A run and which of its layouts it is cut by.
pub(super) type Cut = (usize, usize);

/// The runs, and what is known of their handling.
pub(super) struct Batch<'a> {
    handling: Handling<'a>,
    runs: &'a [Choice],
    fresh: BTreeMap<Cut, (Handled, BTreeSet<Length>)>,
    known: BTreeMap<(Cut, Length), (u64, Option<Length>)>,
    steps: u64,
}

/// An order of cutting, and after each run how many settings there were and where the gauge stands.
#[derive(Clone)]
struct Order {
    cuts: Vec<Cut>,
    after: Vec<(u64, Option<Length>)>,
}

impl Order {
    fn total(&self) -> u64 {
        self.after.last().map_or(0, |last| last.0)
    }
}

impl<'a> Batch<'a> {
    pub fn new(runs: &'a [Choice], handling: Handling<'a>, steps: u64) -> Batch<'a> {
        Batch { handling, runs, fresh: BTreeMap::new(), known: BTreeMap::new(), steps }
    }

    /// The settings of the runs in their order, by their first layouts.
    pub fn in_order(&mut self) -> u64 {
        self.given().total()
    }

    fn given(&mut self) -> Order {
        self.walk((0..self.runs.len()).map(|run| (run, 0)).collect())
    }

    /// An order with as few settings as were found, and how many these are.
    pub fn ordered(&mut self) -> (Vec<Cut>, u64) {
        let mut best = self.given();
        let easiest: Vec<Cut> = (0..self.runs.len()).map(|run| self.easiest(run)).collect();
        for start in [self.walk(easiest.clone()), self.chained(&easiest)] {
            if start.total() < best.total() {
                best = start;
            }
        }
        while self.step(&mut best) {}
        let settings = best.total();
        (best.cuts, settings)
    }

    /// How often the gauge is set for a run where it stands at `gauge`, and where it stands then.
    fn cut(&mut self, cut: Cut, gauge: Option<Length>) -> (u64, Option<Length>) {
        self.steps = self.steps.saturating_sub(1);
        let (run, layout) = (&self.runs[cut.0], &self.runs[cut.0].layouts[cut.1]);
        let handling = self.handling;
        let (fresh, begins) = self.fresh.entry(cut).or_insert_with(|| {
            let handled = handling(layout, run.kind, None);
            let begins = handled.first.iter().copied().collect();
            (handled, begins)
        });
        match gauge.filter(|gauge| begins.contains(gauge)) {
            None => (fresh.settings, fresh.last.or(gauge)),
            Some(gauge) => *self.known.entry((cut, gauge)).or_insert_with(|| {
                let handled = handling(layout, run.kind, Some(gauge));
                (handled.settings, handled.last)
            }),
        }
    }

    fn walk(&mut self, cuts: Vec<Cut>) -> Order {
        let mut state = (0, None);
        let mut after = Vec::new();
        for cut in &cuts {
            let (settings, gauge) = self.cut(*cut, state.1);
            state = (state.0 + settings, gauge);
            after.push(state);
        }
        Order { cuts, after }
    }

    /// A run by the layout that needs the fewest settings by itself, the first of equals.
    fn easiest(&mut self, run: usize) -> Cut {
        let layouts = (0..self.runs[run].layouts.len()).map(|layout| (run, layout));
        layouts.min_by_key(|cut| self.cut(*cut, None).0).unwrap_or((run, 0))
    }

    /// Always the run next that saves most by where the gauge stands, the first of equals.
    fn chained(&mut self, easiest: &[Cut]) -> Order {
        let mut left: Vec<(Cut, u64)> =
            easiest.iter().map(|cut| (*cut, self.cut(*cut, None).0)).collect();
        let mut cuts = Vec::new();
        let mut gauge = None;
        while !left.is_empty() && self.steps > 0 {
            let mut best = (0, 0, left[0].0);
            for (at, (cut, alone)) in left.iter().enumerate() {
                for layout in 0..self.runs[cut.0].layouts.len() {
                    let here = self.cut((cut.0, layout), gauge).0;
                    let saved = alone.saturating_sub(here);
                    if saved > best.0 {
                        best = (saved, at, (cut.0, layout));
                    }
                }
            }
            left.remove(best.1);
            gauge = self.cut(best.2, gauge).1;
            cuts.push(best.2);
        }
        cuts.extend(left.into_iter().map(|(cut, _)| cut));
        self.walk(cuts)
    }

    /// Moves one run, or cuts it by another layout, where that spares a setting; whether it did.
    fn step(&mut self, order: &mut Order) -> bool {
        for from in 0..order.cuts.len() {
            let (run, _) = order.cuts[from];
            for layout in 0..self.runs[run].layouts.len() {
                for to in 0..order.cuts.len() {
                    if self.steps == 0 {
                        return false;
                    }
                    if let Some(better) = self.moved(order, (from, to), (run, layout)) {
                        *order = better;
                        return true;
                    }
                }
            }
        }
        false
    }

    /// The order with the run at `from` at place `to`, if it has fewer settings.
    fn moved(&mut self, order: &Order, (from, to): (usize, usize), cut: Cut) -> Option<Order> {
        let (first, last) = (from.min(to), from.max(to));
        let mut state = first.checked_sub(1).map_or((0, None), |before| order.after[before]);
        let mut cuts = order.cuts.clone();
        cuts.remove(from);
        cuts.insert(to, cut);
        for (at, cut) in cuts.iter().enumerate().skip(first) {
            let (settings, gauge) = self.cut(*cut, state.1);
            state = (state.0 + settings, gauge);
            let was = order.after[at];
            // From here on nothing differs.
            if at >= last && state.1 == was.1 {
                return (state.0 < was.0).then(|| self.walk(cuts));
            }
        }
        (state.0 < order.total()).then(|| self.walk(cuts))
    }
}
