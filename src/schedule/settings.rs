//! How the gauge is set for layouts, and how often the knife comes down, without the rest of the schedule.

use super::cuts::{CutOf, GaugeCut};
use super::sequence;
use super::steps::{Prepared, together};
use crate::measure::Length;
use crate::plan::Node;
use crate::stock::{RoughEdges, Sheet};
use crate::workshop::Trimmer;
use std::collections::BTreeSet;

/// Distances to which the gauge is set for a sheet of this layout.
pub fn gauges(layout: &Node, edges: RoughEdges, trimmer: &Trimmer) -> BTreeSet<Length> {
    cuts(layout, edges, trimmer).into_iter().map(|cut| cut.gauge).collect()
}

/// How often the gauge is set where sheets of all these layouts are cut together.
pub fn settings(sheets: &[(&Node, RoughEdges)], trimmer: &Trimmer) -> u64 {
    let works: Vec<Vec<GaugeCut>> =
        sheets.iter().map(|&(layout, edges)| cuts(layout, edges, trimmer)).collect();
    let works: Vec<&[GaugeCut]> = works.iter().map(Vec::as_slice).collect();
    sequence::settings(&together(&works)) as u64
}

/// Strokes of the knife for this many sheets of a layout; the order of the cuts makes no difference to that.
pub fn strokes(layout: &Node, sheets: u64, sheet: &Sheet, trimmer: &Trimmer) -> u64 {
    let prepared = Prepared::new(layout, sheet.rough_edges, trimmer);
    let lift = trimmer.lift.of(sheet.thickness);
    let strokes = |cut: &GaugeCut| {
        let stack = match cut.of {
            CutOf::Trim(_) => sheets,
            CutOf::Plates(kind) => sheets * prepared.plates(kind),
        };
        cut.per_lift() * stack.div_ceil(lift)
    };
    prepared.work.cuts.iter().map(strokes).sum()
}

fn cuts(layout: &Node, edges: RoughEdges, trimmer: &Trimmer) -> Vec<GaugeCut> {
    Prepared::new(layout, edges, trimmer).work.cuts
}
