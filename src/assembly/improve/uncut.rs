//! Surplus places that are left uncut (level 4): what nobody wants is worth no stroke.
//!
//! On all sheets of a run or on none, so that no run is divided, and never so that less is kept or the gauge is set
//! more often. Those at the far end go first, as many as can: what is left uncut together is one remnant.

use super::handling::Handling;
use super::{LayingTable, node};
use crate::assembly::surplus::Sheaf;
use crate::assembly::tidy::without_last;
use crate::cuts::Layout;
use crate::job::Job;
use crate::plan::Node;

/// The runs, shapes numbered as in the bill, without surplus places that only cost strokes.
pub(super) fn spared(
    job: &Job,
    runs: Vec<Sheaf>,
    table: &mut LayingTable,
    handling: Handling,
) -> Vec<Sheaf> {
    if (handling.stop)() {
        return runs;
    }
    let nodes = runs.iter().map(|run| node(job, run, &run.layout)).collect();
    let shapes = job.bill.pieces.len();
    let yields = runs.iter().map(|run| run.layout.counts(shapes)).collect();
    let left = handling.counts(&runs);
    let mut spared = Spared { job, handling, runs, nodes, yields, settings: 0, left };
    spared.settings = spared.settings_of(spared.nodes.iter().enumerate());
    let mut surplus: Vec<u64> = (0..shapes).map(|shape| spared.surplus(shape)).collect();
    let order = job.bill.largest_first();
    for run in 0..spared.runs.len() {
        for &shape in &order {
            surplus[shape] -= spared.spare(run, shape, surplus[shape], table);
        }
    }
    spared.join();
    spared.runs
}

struct Spared<'a> {
    job: &'a Job,
    handling: Handling<'a>,
    runs: Vec<Sheaf>,
    /// Their layouts as the bench sees them.
    nodes: Vec<Node>,
    /// Pieces that a sheet of each yields, by shape.
    yields: Vec<Vec<u64>>,
    /// How often the gauge is set for all of them.
    settings: u64,
    /// Times that this may still be counted: with very many cuts it takes long.
    left: u64,
}

impl Spared<'_> {
    /// Leaves as many places of a shape uncut on all sheets of a run as can be, of so many that nobody wants; how many
    /// pieces these are.
    fn spare(&mut self, run: usize, shape: usize, surplus: u64, table: &mut LayingTable) -> u64 {
        let Sheaf { count: sheets, .. } = self.runs[run];
        let (mut left, mut count) = (surplus, u64::MAX);
        loop {
            let yields = &self.yields[run];
            count = count.min(left / sheets).min(yields[shape]);
            let is_over = count == 0 || self.left == 0 || (self.handling.stop)();
            if is_over || table.look(&self.runs[run].layout).is_none() {
                return surplus - left;
            }
            let fewer = without_last(&self.runs[run].layout, yields, shape, count);
            if fewer.is_some_and(|fewer| self.takes(run, fewer, table)) {
                self.yields[run] = self.runs[run].layout.counts(self.job.bill.pieces.len());
                left -= count * sheets;
            } else {
                count /= 2;
            }
        }
    }

    /// How many more of a shape the runs yield than are wanted.
    fn surplus(&self, shape: usize) -> u64 {
        let runs = self.runs.iter().zip(&self.yields);
        let piece = &self.job.bill.pieces[shape];
        let wanted = piece.wanted();
        runs.map(|(run, yields)| yields[shape] * run.count).sum::<u64>().saturating_sub(wanted)
    }

    /// Takes what is cut of a run for its layout, laid anew or as it is, where that is less work and keeps as much.
    fn takes(&mut self, run: usize, fewer: Layout, table: &mut LayingTable) -> bool {
        let Sheaf { sheet, count, .. } = self.runs[run];
        let before = table.kept(sheet, &self.runs[run].layout);
        let strokes = self.handling.bench.strokes(&self.nodes[run], sheet, count);
        for layout in [table.laid(sheet, fewer.clone()), table.tidied(fewer)] {
            if table.kept(sheet, &layout) < before {
                continue;
            }
            let node = node(self.job, &self.runs[run], &layout);
            if self.handling.bench.strokes(&node, sheet, count) >= strokes {
                continue;
            }
            let nodes = self.nodes.iter().enumerate();
            let Some(left) = self.left.checked_sub(1) else { return false };
            self.left = left;
            let changed = nodes.map(|(at, other)| (at, if at == run { &node } else { other }));
            let settings = self.settings_of(changed);
            if settings <= self.settings {
                self.settings = settings;
                self.nodes[run] = node;
                self.runs[run].layout = layout;
                return true;
            }
        }
        false
    }

    /// Runs of a sheet whose layouts are the same now as one, where that sets the gauge no more often.
    fn join(&mut self) {
        for at in (1..self.runs.len()).rev() {
            let same = |run: &Sheaf| {
                (run.sheet, &run.layout) == (self.runs[at].sheet, &self.runs[at].layout)
            };
            let Some(first) = self.runs[..at].iter().position(same) else { continue };
            if (self.handling.stop)() {
                return;
            }
            let others = (0..self.runs.len()).filter(|run| *run != at);
            let settings = self.settings_of(others.map(|run| (run, &self.nodes[run])));
            if settings <= self.settings {
                self.settings = settings;
                self.nodes.remove(at);
                self.runs[first].count += self.runs.remove(at).count;
            }
        }
    }

    /// How often the gauge is set for these runs, cut by these layouts.
    fn settings_of<'n>(&self, runs: impl Iterator<Item = (usize, &'n Node)>) -> u64 {
        self.handling.settings(self.job, runs.map(|(run, node)| (self.runs[run].sheet, node)))
    }
}
