//! Plates that are equal lie in one stack and are cut on together: same size, same strips from them,
//! wherever they come from in the run.

use super::CutLine;
use super::strips::{Division, Plate};
use crate::measure::{Axis, Length, Size};
use crate::plan::Leaf;
use std::collections::BTreeMap;

/// A number of a kind in its [`Catalogue`].
pub(super) type KindId = usize;

/// All kinds of plates of one sheet.
#[derive(Debug, Default)]
pub(super) struct Catalogue<'plan> {
    pub kinds: Vec<Kind<'plan>>,
    ids: BTreeMap<(Size, Treatment<'plan>), KindId>,
}

/// Equal plates.
#[derive(Debug)]
pub(super) struct Kind<'plan> {
    /// Their size.
    pub size: Size,
    /// What becomes of them.
    pub form: Treatment<'plan>,
    /// Where they lie on the sheet.
    pub spots: Vec<OnePlate>,
}

/// What becomes of equal plates; the order of their strips makes no difference.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Treatment<'plan> {
    /// They are cut no further.
    Done(&'plan Leaf),
    /// They are divided into strips of these kinds, sorted.
    Strips(Axis, Vec<KindId>),
}

/// One plate of a kind.
#[derive(Debug)]
pub(super) struct OnePlate {
    x: Length,
    y: Length,
    /// Kind and end of each strip, by position.
    strips: Vec<(KindId, Length)>,
}

impl<'plan> Catalogue<'plan> {
    /// Adds a plate with all that is cut from it.
    pub fn add(&mut self, plate: &Plate<'plan>) -> KindId {
        let (form, strips) = match &plate.content {
            Division::Done(leaf) => (Treatment::Done(leaf), Vec::new()),
            Division::Strips(axis, strips) => {
                let strips: Vec<_> =
                    strips.iter().map(|strip| (self.add(strip), strip.end(*axis))).collect();
                let mut kinds: Vec<_> = strips.iter().map(|(kind, _)| *kind).collect();
                kinds.sort_unstable();
                (Treatment::Strips(*axis, kinds), strips)
            }
        };
        let id = self.id(plate.size, form);
        self.kinds[id].spots.push(OnePlate { x: plate.x, y: plate.y, strips });
        id
    }

    /// The kind of this size and form.
    pub fn kind(&self, size: Size, form: Treatment<'plan>) -> Option<KindId> {
        self.ids.get(&(size, form)).copied()
    }

    /// Forgets where the plates lay and takes their places from a plate of the same kinds.
    pub fn lay_again(&mut self, plate: &Plate<'plan>) {
        self.kinds.iter_mut().for_each(|kind| kind.spots.clear());
        self.add(plate);
    }

    fn id(&mut self, size: Size, form: Treatment<'plan>) -> KindId {
        let next = self.kinds.len();
        let id = *self.ids.entry((size, form.clone())).or_insert(next);
        if id == next {
            self.kinds.push(Kind { size, form, spots: Vec::new() });
        }
        id
    }

    /// The lines of the cuts that take strips of width `gauge` off the plates of a kind.
    ///
    /// A strip's cut is drawn at its edge towards the strip that remains: before that one at its end,
    /// behind it at its start.
    pub fn lines(&self, kind: KindId, remainder: KindId, gauge: Length) -> Vec<CutLine> {
        let Kind { size, form: Treatment::Strips(axis, _), spots } = &self.kinds[kind] else {
            return Vec::new();
        };
        let width_of = |strip: KindId| self.kinds[strip].size.along(*axis);
        spots
            .iter()
            .flat_map(|spot| spot.cuts(remainder).map(move |cut| (spot, cut)))
            .filter(|(_, (strip, _))| width_of(*strip) == gauge)
            .map(|(spot, (_, at))| spot.line(*axis, *size, at))
            .collect()
    }
}

impl OnePlate {
    /// Each strip but the one that remains, with the place of its cut.
    fn cuts(&self, remainder: KindId) -> impl Iterator<Item = (KindId, Length)> {
        let last = self.strips.iter().rposition(|(kind, _)| *kind == remainder);
        let before = last.unwrap_or(self.strips.len());
        let ends = self.strips.iter().map(|(_, end)| *end);
        let early = self.strips.iter().take(before).copied();
        let late = self.strips.iter().skip(before + 1).map(|(kind, _)| *kind);
        early.chain(late.zip(ends.skip(before)))
    }

    fn line(&self, axis: Axis, size: Size, at: Length) -> CutLine {
        match axis {
            Axis::Width => CutLine { x1: at, y1: self.y, x2: at, y2: self.y + size.height },
            Axis::Height => CutLine { x1: self.x, y1: at, x2: self.x + size.width, y2: at },
        }
    }
}
