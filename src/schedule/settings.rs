//! How the gauge is set for layouts, without the rest of the schedule.

use super::cuts::Cut;
use super::sequence;
use super::steps::{Prepared, together};
use crate::measure::Length;
use crate::plan::Node;
use crate::stock::SheetKind;
use crate::workshop::Trimmer;
use std::collections::BTreeSet;

/// Distances to which the gauge is set for a sheet of this layout.
pub fn gauges(layout: &Node, kind: SheetKind, trimmer: &Trimmer) -> BTreeSet<Length> {
    cuts((layout, kind), trimmer).into_iter().map(|cut| cut.gauge).collect()
}

/// How often the gauge is set where sheets of all these layouts are cut together.
pub fn settings(sheets: &[(&Node, SheetKind)], trimmer: &Trimmer) -> u64 {
    let works: Vec<Vec<Cut>> = sheets.iter().map(|&sheet| cuts(sheet, trimmer)).collect();
    let works: Vec<&[Cut]> = works.iter().map(Vec::as_slice).collect();
    sequence::settings(&together(&works)) as u64
}

fn cuts((layout, kind): (&Node, SheetKind), trimmer: &Trimmer) -> Vec<Cut> {
    Prepared::new(layout, Some(kind), trimmer).work.cuts
}
