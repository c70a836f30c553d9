//! The cuts of a run, before their order is known: one for each stack and gauge, with the cuts that
//! have to come before it.

use super::squaring::Trim;
use super::stacks::{Catalogue, KindId, Treatment};
use crate::measure::{Axis, Length};
use crate::plan::Leaf;
use crate::workshop::Trimmer;
use std::collections::{BTreeMap, BTreeSet};

/// All that one gauge setting takes off one stack.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct GaugeCut {
    /// What is cut.
    pub of: CutOf,
    /// Number of the run.
    pub run: usize,
    /// Number of its paper.
    pub paper: usize,
    /// The direction in which the gauge measures.
    pub axis: Axis,
    /// Distance between fence and knife.
    pub gauge: Length,
    /// Length of each cut.
    pub length: Length,
    /// The kinds of strips taken off, one a cut; empty for a trim.
    pub strips: Vec<KindId>,
    /// The cuts that come before it.
    pub after: Vec<usize>,
}

impl GaugeCut {
    /// How often the knife comes down for one lift.
    pub fn per_lift(&self) -> u64 {
        self.strips.len().max(1) as u64
    }
}

/// What is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum CutOf {
    /// The sheet, by this trim.
    Trim(usize),
    /// The plates of this kind.
    Plates(KindId),
}

/// The cuts of a run, and which strip remains of each kind that is divided.
#[derive(Debug)]
pub(super) struct CutList {
    pub cuts: Vec<GaugeCut>,
    pub remainders: BTreeMap<KindId, KindId>,
}

/// Lists the cuts of a sheet: its trims, then the divisions of all kinds of plates.
///
/// Each division gets one cut per width of its strips; one strip remains and is not cut.
pub(super) fn list(trims: &[Trim], catalogue: &Catalogue<'_>, trimmer: &Trimmer) -> CutList {
    let demand = demand(catalogue);
    let mut work = CutList {
        cuts: trims.iter().enumerate().map(|(number, trim)| trim_cut(number, trim)).collect(),
        remainders: BTreeMap::new(),
    };
    // Strips are catalogued before the plate they come from: backwards, plates come first.
    for (kind, plate) in catalogue.kinds.iter().enumerate().rev() {
        let Treatment::Strips(axis, strips) = &plate.form else { continue };
        let division = StripParts { catalogue, axis: *axis, strips };
        let tight = division.narrowest_pair() + trimmer.blade < trimmer.smallest_hold;
        let remainder = if tight { division.widest() } else { division.spared(&demand, trimmer) };
        work.remainders.extend(remainder.map(|remainder| (kind, remainder)));
        let first = work.cuts.len();
        work.cuts.extend(division.cuts(kind, remainder));
        if tight {
            // Narrow strips first keeps what is held as wide as can be.
            (first + 1..work.cuts.len()).for_each(|cut| work.cuts[cut].after.push(cut - 1));
        }
    }
    let trims = trims.len();
    add_precedence(&mut work, trims);
    work
}

fn trim_cut(number: usize, trim: &Trim) -> GaugeCut {
    GaugeCut {
        of: CutOf::Trim(number),
        run: 0,
        paper: 0,
        axis: trim.axis,
        gauge: trim.gauge,
        length: trim.from.along(trim.axis.other()),
        strips: Vec::new(),
        after: number.checked_sub(1).into_iter().collect(),
    }
}

/// In how many divisions each width is wanted, remnants aside.
fn demand(catalogue: &Catalogue<'_>) -> BTreeMap<Length, usize> {
    let mut demand = BTreeMap::new();
    for kind in &catalogue.kinds {
        let Treatment::Strips(axis, strips) = &kind.form else { continue };
        let parts = StripParts { catalogue, axis: *axis, strips };
        let wanted = strips.iter().filter(|strip| parts.rank(**strip) == 2);
        let widths: BTreeSet<Length> = wanted.map(|strip| parts.width(*strip)).collect();
        widths.into_iter().for_each(|width| *demand.entry(width).or_insert(0) += 1);
    }
    demand
}

/// The strips of one division.
struct StripParts<'a, 'plan> {
    catalogue: &'a Catalogue<'plan>,
    axis: Axis,
    strips: &'a [KindId],
}

impl StripParts<'_, '_> {
    fn width(&self, strip: KindId) -> Length {
        self.catalogue.kinds[strip].size.along(self.axis)
    }

    /// Waste before offcuts before all that is wanted.
    fn rank(&self, strip: KindId) -> u8 {
        match self.catalogue.kinds[strip].form {
            Treatment::Done(Leaf::Waste) => 0,
            Treatment::Done(Leaf::Offcut(_)) => 1,
            _ => 2,
        }
    }

    /// The strip to leave over: one that goes under the blade, after which nothing is left; else one that the gauge cannot
    /// be set to; else a remnant if there is one, else one whose width is needed nowhere else, so that it spares a setting,
    /// else the narrowest.
    fn spared(&self, demand: &BTreeMap<Length, usize>, trimmer: &Trimmer) -> Option<KindId> {
        self.strips.iter().copied().min_by_key(|strip| {
            let width = self.width(*strip);
            let alone =
                self.strips.iter().filter(|other| self.width(**other) == width).count() == 1;
            let elsewhere = demand.get(&width).is_some_and(|divisions| *divisions > 1);
            let is_there = width.is_positive();
            (
                is_there,
                trimmer.can_set(width),
                self.rank(*strip),
                !alone || elsewhere,
                width,
                *strip,
            )
        })
    }

    /// The widest strip, unless there is one that goes under the blade.
    fn widest(&self) -> Option<KindId> {
        let key = |strip: &KindId| (!self.width(*strip).is_positive(), self.width(*strip), *strip);
        self.strips.iter().copied().max_by_key(key)
    }

    fn narrowest_pair(&self) -> Length {
        let mut widths: Vec<Length> = self.strips.iter().map(|strip| self.width(*strip)).collect();
        widths.sort_unstable();
        widths.into_iter().take(2).sum()
    }

    /// One cut for each width, narrow ones first, the strip that remains left out.
    fn cuts(&self, kind: KindId, remainder: Option<KindId>) -> Vec<GaugeCut> {
        let mut by_width: BTreeMap<Length, Vec<KindId>> = BTreeMap::new();
        let left_out = self.strips.iter().position(|strip| Some(*strip) == remainder);
        for (position, strip) in self.strips.iter().enumerate() {
            let width = self.width(*strip);
            if Some(position) != left_out && width.is_positive() {
                by_width.entry(width).or_default().push(*strip);
            }
        }
        let length = self.catalogue.kinds[kind].size.along(self.axis.other());
        let cut = |(gauge, strips)| GaugeCut {
            of: CutOf::Plates(kind),
            run: 0,
            paper: 0,
            axis: self.axis,
            gauge,
            length,
            strips,
            after: Vec::new(),
        };
        by_width.into_iter().map(cut).collect()
    }
}

/// Every stack exists before it is cut: plates come after the cuts that take them off, and after all
/// cuts of a division whose remainder they are.
fn add_precedence(work: &mut CutList, trims: usize) {
    let mut sources: BTreeMap<KindId, Vec<usize>> = BTreeMap::new();
    for (number, cut) in work.cuts.iter().enumerate() {
        let CutOf::Plates(kind) = cut.of else { continue };
        let remainder = work.remainders.get(&kind);
        let made: BTreeSet<KindId> = cut.strips.iter().chain(remainder).copied().collect();
        made.into_iter().for_each(|strip| sources.entry(strip).or_default().push(number));
    }
    for cut in &mut work.cuts {
        let CutOf::Plates(kind) = cut.of else { continue };
        match sources.get(&kind) {
            Some(sources) => cut.after.extend(sources),
            // The sheet itself: only squaring comes before it.
            None => cut.after.extend(trims.checked_sub(1)),
        }
    }
}
