//! The best layout of a part on a plate: where remnants lie, and how they are cut off.
//!
//! A part is laid on a plate that is larger by one of:
//!
//! - cutting off what is too much, in one direction or the other;
//! - dividing the plate into the strips of the part, each as wide as the plate. The strips of the
//!   part stand in the order of what they need across, so those that need most can go to one side,
//!   and what the others leave over is cut off them together. What the plate has too much along the
//!   strips goes to one of them.
//!
//! All of these are tried, and of each plate the best is remembered. Best is what is worth most for the
//! drawer; of equals, what is likely to need the fewest gauge settings.

use super::kept::{Drawer, Kept};
use super::parts::{Form, PartId, Parts};
use super::steps::Steps;
use crate::cuts::{Bench, Layout};
use crate::measure::{Axis, Length, Size};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// Lays out parts on the plates of one kind of sheet.
pub(super) struct Laying<'a> {
    pub drawer: Drawer<'a>,
    bench: Bench,
    parts: Parts,
    taste: Taste,
    /// Plates that may still be looked at.
    steps: &'a Steps<'a>,
    known: BTreeMap<(Strips, Size), Option<Laid>>,
}

/// Which of layouts is taken that keep as much.
#[derive(Clone, Debug, Default)]
pub(super) struct Taste {
    /// Distances at which something is cut anyway.
    pub liked: Rc<BTreeSet<Length>>,
    pub ties: Ties,
}

/// Which of equals is taken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Ties {
    #[default]
    First,
    Last,
}

/// Consecutive strips of a joined part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Strips {
    part: PartId,
    /// The first of them.
    from: usize,
    /// The one behind the last.
    to: usize,
}

/// A part on a plate.
#[derive(Clone, Debug)]
struct Laid {
    kept: Kept,
    /// What its cuts are likely to cost in gauge settings.
    cost: Reverse<u64>,
    layout: Layout,
}

/// Kinds of strips beside each other that are looked at in one step.
const MANY_STRIPS: u64 = 12;

/// Cost of a gauge setting that is wanted nowhere else, and of one that is.
const NEW: u64 = 8;
const LIKED: u64 = 1;

impl<'a> Laying<'a> {
    pub fn new(drawer: Drawer<'a>, bench: Bench, steps: &'a Steps<'a>) -> Laying<'a> {
        let (parts, taste, known) = Default::default();
        Laying { drawer, bench, parts, taste, steps, known }
    }

    /// The same by another taste.
    pub fn with(&self, taste: Taste) -> Laying<'a> {
        Laying { taste, ..Laying::new(self.drawer.clone(), self.bench, self.steps) }
    }

    /// The best layout found of what a layout cuts, on the same plate; `None` where the bench cannot
    /// cut it, or where the steps are used up.
    pub fn best(&mut self, of: &Layout) -> Option<Layout> {
        let Some(part) = self.parts.add(of, self.bench.blade) else {
            return Some(Layout::remnant(of.size));
        };
        let laid = self.lay(self.whole(part), of.size)?;
        self.bench.can_make(&laid.layout).then_some(laid.layout)
    }

    fn whole(&self, part: PartId) -> Strips {
        match &self.parts.part(part).form {
            Form::Piece(..) => Strips { part, from: 0, to: 1 },
            Form::Joined(_, strips) => Strips { part, from: 0, to: strips.len() },
        }
    }

    /// Strips by themselves: a single one is the part that it is.
    fn alone(&self, strips: Strips) -> Strips {
        let Strips { part, from, to } = strips;
        match &self.parts.part(part).form {
            Form::Joined(_, all) => match &all[from..to] {
                &[(only, 1)] => self.whole(only),
                _ => strips,
            },
            Form::Piece(..) => strips,
        }
    }

    /// The smallest plate for strips.
    fn need(&self, Strips { part, from, to }: Strips) -> Size {
        let Form::Joined(axis, strips) = &self.parts.part(part).form else {
            return self.parts.part(part).size;
        };
        let across = self.parts.part(strips[from].0).size;
        across.with(*axis, self.parts.along(*axis, &strips[from..to], self.bench.blade))
    }

    fn lay(&mut self, strips: Strips, plate: Size) -> Option<Laid> {
        if let Some(known) = self.known.get(&(strips, plate)) {
            return known.clone();
        }
        self.steps.take()?;
        let need = self.need(strips);
        let mut ways = Vec::new();
        for axis in [Axis::Width, Axis::Height] {
            if plate.along(axis) > need.along(axis) {
                ways.push(self.trimmed(strips, plate, axis, need.along(axis)));
            }
        }
        match self.parts.part(strips.part).form {
            Form::Piece(shape, turned) if need == plate => {
                let layout = Layout::piece(plate, shape, turned);
                ways.push(Some(Laid { kept: Kept::default(), cost: Reverse(0), layout }));
            }
            Form::Piece(..) => {}
            Form::Joined(axis, _) => self.divided(strips, plate, axis, &mut ways),
        }
        let better = |best: Laid, way: Laid| {
            let is_better = match self.taste.ties {
                Ties::First => (way.kept, way.cost) > (best.kept, best.cost),
                Ties::Last => (way.kept, way.cost) >= (best.kept, best.cost),
            };
            if is_better { way } else { best }
        };
        let best = ways.into_iter().flatten().reduce(better);
        self.known.insert((strips, plate), best.clone());
        best
    }

    fn cost(&self, gauge: Length) -> u64 {
        if self.taste.liked.contains(&gauge) { LIKED } else { NEW }
    }

    /// What is too much in one direction is cut off first.
    fn trimmed(&mut self, strips: Strips, plate: Size, axis: Axis, at: Length) -> Option<Laid> {
        if !self.bench.can_cut(plate, axis) {
            return None;
        }
        let rest = self.bench.rest(plate, axis, at);
        let inner = self.lay(strips, plate.with(axis, at))?;
        Some(Laid {
            kept: inner.kept + self.drawer.kept(rest),
            cost: Reverse(inner.cost.0 + self.cost(at)),
            layout: Layout::divided(plate, axis, [inner.layout, Layout::remnant(rest)]),
        })
    }

    /// The plate divided into strips as wide as it is.
    fn divided(&mut self, strips: Strips, plate: Size, axis: Axis, ways: &mut Vec<Option<Laid>>) {
        let Strips { part, from, to } = strips;
        let Form::Joined(_, all) = &self.parts.part(part).form else { return };
        let all = all.clone();
        if !self.bench.can_cut(plate, axis) {
            return;
        }
        let across = |strip: &usize| self.parts.part(all[*strip].0).size.along(axis.other());
        let widest = (from..to).take_while(|strip| across(strip) == across(&from)).count();
        let slack = plate.along(axis) - self.need(strips).along(axis);
        let middle = from + widest;
        if middle == to {
            let side_by_side = &all[from..to];
            let takers = if slack.is_positive() { side_by_side.len() } else { 1 };
            if self.steps.take_many(takers as u64 / MANY_STRIPS).is_none() {
                return;
            }
            for taker in 0..takers {
                ways.push(self.side_by_side(side_by_side, plate, axis, taker));
            }
            return;
        }
        let groups = [Strips { to: middle, ..strips }, Strips { from: middle, ..strips }];
        let groups = groups.map(|group| self.alone(group));
        let room = groups.map(|group| self.need(group).along(axis));
        let mut split = |more: [Length; 2]| {
            let lengths = [room[0] + more[0], room[1] + more[1]];
            let [near, far] = [0, 1].map(|at| self.lay(groups[at], plate.with(axis, lengths[at])));
            let (near, far) = (near?, far?);
            let cost = near.cost.0 + far.cost.0 + self.cost(lengths[0]);
            let layout = Layout::divided(plate, axis, [near.layout, far.layout]);
            Some(Laid { kept: near.kept + far.kept, cost: Reverse(cost), layout })
        };
        ways.push(split([Length::ZERO, slack]));
        if slack.is_positive() {
            ways.push(split([slack, Length::ZERO]));
        }
    }

    /// Strips that need the same across; one of the kind `taker` gets what is left over.
    fn side_by_side(
        &mut self,
        strips: &[(PartId, u64)],
        plate: Size,
        axis: Axis,
        taker: usize,
    ) -> Option<Laid> {
        let slack = plate.along(axis) - self.parts.along(axis, strips, self.bench.blade);
        let (mut kept, mut cost) = (Kept::default(), 0);
        let mut layouts = Vec::new();
        let mut gauges = BTreeMap::new();
        for (at, (part, count)) in strips.iter().enumerate() {
            let length = self.parts.part(*part).size.along(axis);
            let mut add = |laying: &mut Self, length: Length, count: u64| {
                let laid = laying.lay(laying.whole(*part), plate.with(axis, length))?;
                kept = kept + laid.kept.times(count);
                cost += laid.cost.0;
                layouts.extend((0..count).map(|_| laid.layout.clone()));
                *gauges.entry(length).or_insert(0) += count;
                Some(())
            };
            let wider = u64::from(at == taker && slack.is_positive());
            if *count > wider {
                add(self, length, count - wider)?;
            }
            if wider > 0 {
                add(self, length + slack, wider)?;
            }
        }
        // One strip remains: if there is one whose width is wanted once, it needs no setting.
        let settings = gauges.iter().map(|(gauge, count)| (self.cost(*gauge), *count));
        let spared = settings.clone().filter(|(_, count)| *count == 1).map(|(cost, _)| cost).max();
        cost += settings.map(|(cost, _)| cost).sum::<u64>() - spared.unwrap_or(0);
        let layout = Layout::in_strips(plate, axis, &layouts, self.bench.blade);
        Some(Laid { kept, cost: Reverse(cost), layout })
    }
}
