//! How often the gauge is set for one run, without the rest of the schedule.

use super::cuts::{Cut, list};
use super::sequence;
use super::squaring::{Squared, square};
use super::stacks::Catalogue;
use super::strips::flatten;
use crate::measure::Length;
use crate::plan::{Handled, Node};
use crate::stock::SheetKind;
use crate::workshop::Trimmer;

/// How a sheet of this layout is cut where the gauge stands at a distance.
pub fn handled(
    layout: &Node,
    kind: SheetKind,
    trimmer: &Trimmer,
    gauge: Option<Length>,
) -> Handled {
    let Trimmer { blade, smallest_hold, squaring, .. } = *trimmer;
    let squaring = if kind == SheetKind::Sheet { squaring } else { Length::ZERO };
    let Squared { trims, inner } = square(layout, squaring, blade);
    let mut catalogue = Catalogue::default();
    catalogue.add(&flatten(inner, smallest_hold));
    let cuts = list(&trims, &catalogue, blade, smallest_hold).cuts;
    let order = sequence::order(&cuts, gauge);
    let (mut settings, mut last) = (0, gauge);
    for cut in order {
        let set = cuts[cut].gauge;
        settings += u64::from(last.replace(set) != Some(set));
    }
    Handled { settings, last, first: first(&cuts) }
}

/// The gauges of cuts that wait for no other.
fn first(cuts: &[Cut]) -> Vec<Length> {
    cuts.iter().filter(|cut| cut.after.is_empty()).map(|cut| cut.gauge).collect()
}
