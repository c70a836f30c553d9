//! How the gauge is set for layouts, and how often the knife comes down, without the rest of the schedule.

use super::cuts::{CutOf, GaugeCut};
use super::sequence;
use super::steps::{Prepared, sheets_per_lift, together};
use crate::measure::Length;
use crate::plan::Node;
use crate::stock::{Sheet, SheetKind};
use crate::workshop::Trimmer;
use std::collections::BTreeSet;

/// Distances to which the gauge is set for a sheet of this layout.
pub fn gauges(layout: &Node, kind: SheetKind, trimmer: &Trimmer) -> BTreeSet<Length> {
    cuts(layout, kind, trimmer).into_iter().map(|cut| cut.gauge).collect()
}

/// How often the gauge is set where sheets of all these layouts are cut together.
pub fn settings(sheets: &[(&Node, SheetKind)], trimmer: &Trimmer) -> u64 {
    let works: Vec<Vec<GaugeCut>> =
        sheets.iter().map(|&(layout, kind)| cuts(layout, kind, trimmer)).collect();
    let works: Vec<&[GaugeCut]> = works.iter().map(Vec::as_slice).collect();
    sequence::settings(&together(&works)) as u64
}

/// Strokes of the knife for this many sheets of a layout; the order of the cuts makes no difference to that.
pub fn strokes(layout: &Node, sheets: u64, sheet: &Sheet, trimmer: &Trimmer) -> u64 {
    let prepared = Prepared::new(layout, Some(sheet.kind), trimmer);
    let lift = sheets_per_lift(trimmer.lift, sheet.thickness);
    let strokes = |cut: &GaugeCut| {
        let stack = match cut.of {
            CutOf::Trim(_) => sheets,
            CutOf::Plates(kind) => sheets * prepared.plates(kind),
        };
        cut.per_lift() * stack.div_ceil(lift)
    };
    prepared.work.cuts.iter().map(strokes).sum()
}

fn cuts(layout: &Node, kind: SheetKind, trimmer: &Trimmer) -> Vec<GaugeCut> {
    Prepared::new(layout, Some(kind), trimmer).work.cuts
}
