//! How much work layouts are at the bench (level 4), as the schedule says.

use super::Care;
use crate::assembly::surplus::Sheaf;
use crate::cuts::Tree;
use crate::job::Job;
use crate::measure::Length;
use crate::plan::Node;
use crate::program::Stop;
use crate::schedule;
use crate::stock::{RoughEdges, Stock};
use crate::workshop::Trimmer;
use std::collections::BTreeSet;

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

/// Of so many pairs of plates, the gauge settings are counted in a step.
const SQUARES_A_STEP: u64 = 10_000;

impl Handling<'_> {
    /// Times that the settings of all these runs may be counted: with very many cuts it takes long.
    pub(super) fn counts(&self, runs: &[Sheaf]) -> u64 {
        let all: u64 = runs.iter().map(|run| run.layout.plates().count() as u64).sum();
        self.care.handling * SQUARES_A_STEP / all.saturating_mul(all).max(1)
    }

    /// How often the gauge is set for layouts, each with the index of its sheet in the stock.
    pub(super) fn settings<'n>(
        &self,
        job: &Job,
        runs: impl Iterator<Item = (usize, &'n Node)>,
    ) -> u64 {
        let edges = |sheet: usize| job.stock.sheets[sheet].rough_edges;
        let sheets: Vec<SheetCut> = runs.map(|(sheet, node)| (node, edges(sheet))).collect();
        self.bench.settings(&sheets)
    }
}
