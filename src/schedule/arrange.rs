//! Strips in the order in which they come off.
//!
//! Paper is the same all over, so the strips of a division may change places. Where each lies next to
//! the one that is cut after it, a drawing of the sheet shows every cut where the knife makes it: at the
//! gauge's distance from the edge that lies against the fence.

use super::cuts::{CutList, CutOf, GaugeCut};
use super::squaring::Trim;
use super::stacks::{Catalogue, KindId, Treatment};
use super::strips::{Division, Plate};
use super::{Fate, FinalPlate};
use crate::measure::{Axis, Length};
use crate::plan::Leaf;
use std::collections::BTreeMap;

/// Puts the strips of every division in the order of `cuts`, with the one that remains last, and
/// catalogues them where they lie then.
pub(super) fn arrange<'plan>(
    plate: &mut Plate<'plan>,
    catalogue: &mut Catalogue<'plan>,
    work: &CutList,
    cuts: &[GaugeCut],
    blade: Length,
) {
    let turns = (0..).zip(cuts).filter_map(|(turn, cut)| match cut.of {
        CutOf::Plates(kind) => Some(((kind, cut.gauge), turn)),
        CutOf::Trim(_) => None,
    });
    let order = TakeOff { remainders: &work.remainders, turns: turns.collect() };
    order.sort(plate, catalogue);
    let (x, y) = (plate.x, plate.y);
    lay(plate, x, y, blade);
    catalogue.lay_again(plate);
}

/// When each strip comes off.
struct TakeOff<'a> {
    remainders: &'a BTreeMap<KindId, KindId>,
    /// The turn of the cut that takes strips of this width off plates of this kind.
    turns: BTreeMap<(KindId, Length), usize>,
}

impl TakeOff<'_> {
    /// Sorts the strips of a plate and of all that is cut from it; returns the plate's kind.
    fn sort<'plan>(
        &self,
        plate: &mut Plate<'plan>,
        catalogue: &Catalogue<'plan>,
    ) -> Option<KindId> {
        let (axis, strips) = match &mut plate.content {
            Division::Done(leaf) => return catalogue.kind(plate.size, Treatment::Done(leaf)),
            Division::Strips(axis, strips) => (axis, strips),
        };
        let mut known = Vec::new();
        for mut strip in strips.drain(..) {
            let kind = self.sort(&mut strip, catalogue);
            known.push((kind, strip));
        }
        let mut kinds: Vec<KindId> = known.iter().filter_map(|(kind, _)| *kind).collect();
        kinds.sort_unstable();
        let kind = catalogue.kind(plate.size, Treatment::Strips(*axis, kinds));
        let remainder = kind.and_then(|kind| self.remainders.get(&kind)).copied();
        let last = known.iter().rposition(|(strip, _)| remainder.is_some() && *strip == remainder);
        let last = last.map(|last| known.remove(last));
        known.sort_by_key(|(strip, part)| {
            let width = part.size.along(*axis);
            (kind.and_then(|kind| self.turns.get(&(kind, width))).copied(), *strip)
        });
        strips.extend(known.into_iter().chain(last).map(|(_, strip)| strip));
        kind
    }
}

/// Lays a plate there, and its strips beside each other.
fn lay(plate: &mut Plate, x: Length, y: Length, blade: Length) {
    (plate.x, plate.y) = (x, y);
    let Division::Strips(axis, strips) = &mut plate.content else { return };
    let mut start = Length::ZERO;
    for strip in strips {
        match axis {
            Axis::Width => lay(strip, x + start, y, blade),
            Axis::Height => lay(strip, x, y + start, blade),
        }
        // A rest that goes under the blade comes last; it has no width, and where it lies is no matter.
        start += strip.size.along(*axis) + blade;
    }
}

/// What becomes of the sheet: what squaring takes off, and the plate as it is arranged.
pub(super) fn places(trims: &[Trim], plate: &Plate) -> Vec<FinalPlate> {
    let trimmed = trims.iter().map(|trim| {
        let (x, y) = trim.corner;
        FinalPlate { x, y, size: trim.waste, what: Fate::Waste }
    });
    let mut places = trimmed.collect();
    within(plate, &mut places);
    places.retain(|place| place.size.is_positive());
    places
}

fn within(plate: &Plate, places: &mut Vec<FinalPlate>) {
    match &plate.content {
        Division::Done(leaf) => {
            let what = outcome(leaf);
            places.push(FinalPlate { x: plate.x, y: plate.y, size: plate.size, what });
        }
        Division::Strips(_, strips) => strips.iter().for_each(|strip| within(strip, places)),
    }
}

/// What a plate is that is cut no further.
pub(super) fn outcome(leaf: &Leaf) -> Fate {
    match leaf {
        Leaf::Piece(id, turned) => Fate::Piece(id.clone(), *turned),
        Leaf::Offcut(id) => Fate::Offcut(id.clone()),
        Leaf::Waste => Fate::Waste,
    }
}
