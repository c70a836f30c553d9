//! From parts to a cut tree in true sizes.
//!
//! Every plate is first trimmed to what its content needs, so that remnants are few and large, and only
//! then cut on. A rest that is no wider than the blade vanishes under it: it stands in the tree as a
//! remnant of zero width (or height) at the far edge, the only case in which a part has no area. What
//! is lost there is the rest times the length of the cut.

use super::grid::{Grid, Seat};
use super::part::{Kind, Part};
use super::{Content, Layout};
use crate::measure::{Area, Axis, Size};
use std::rc::Rc;

/// How many pieces of each shape a layout has.
pub fn counts(layout: &Layout, shapes: usize) -> Vec<u64> {
    let mut counts = vec![0; shapes];
    add_counts(layout, &mut counts);
    counts
}

/// How many pieces of one shape a layout has.
pub fn count(layout: &Layout, shape: usize) -> u64 {
    match &layout.content {
        Content::CutX(_, first, second) | Content::CutY(_, first, second) => {
            count(first, shape) + count(second, shape)
        }
        Content::Piece(found, _) => u64::from(*found == shape),
        Content::Remnant => 0,
    }
}

/// A plate from which nothing is cut.
pub(super) fn remnant(size: Size) -> Layout {
    Layout { size, content: Content::Remnant }
}

/// How often cuts go another way than those before, and once for the first, at most on any plate.
pub fn stages(layout: &Layout) -> u32 {
    stages_after(layout, None)
}

fn stages_after(layout: &Layout, before: Option<Axis>) -> u32 {
    let (axis, parts) = match &layout.content {
        Content::Piece(..) | Content::Remnant => return 0,
        Content::CutX(_, first, second) => (Axis::Width, [first, second]),
        Content::CutY(_, first, second) => (Axis::Height, [first, second]),
    };
    let below = parts.map(|part| stages_after(part, Some(axis)));
    u32::from(before != Some(axis)) + below[0].max(below[1])
}

/// Leaves pieces uncut of which more than `left` are there, and takes the others off it.
pub fn leave_out(layout: &mut Layout, left: &mut [u64]) {
    match &mut layout.content {
        Content::CutX(_, first, second) | Content::CutY(_, first, second) => {
            leave_out(first, left);
            leave_out(second, left);
        }
        Content::Piece(shape, _) if left[*shape] == 0 => layout.content = Content::Remnant,
        Content::Piece(shape, _) => left[*shape] -= 1,
        Content::Remnant => {}
    }
}

/// Gives every shape another index: that at its own place in `names`.
pub(super) fn rename(layout: &mut Layout, names: &[usize]) {
    match &mut layout.content {
        Content::CutX(_, first, second) | Content::CutY(_, first, second) => {
            rename(first, names);
            rename(second, names);
        }
        Content::Piece(shape, _) => *shape = names[*shape],
        Content::Remnant => {}
    }
}

fn add_counts(layout: &Layout, counts: &mut [u64]) {
    match &layout.content {
        Content::CutX(_, first, second) | Content::CutY(_, first, second) => {
            add_counts(first, counts);
            add_counts(second, counts);
        }
        Content::Piece(shape, _) => {
            if let Some(count) = counts.get_mut(*shape) {
                *count += 1;
            }
        }
        Content::Remnant => {}
    }
}

/// What the pieces of a layout are worth.
pub(super) fn worth(layout: &Layout, values: &[i64]) -> i64 {
    let counts = counts(layout, values.len());
    counts.iter().zip(values).map(|(&count, value)| count as i64 * value.max(&0)).sum()
}

/// Cuts below each other, at most: a plan is written as nested text, two levels a cut, and what reads JSON
/// follows 128 levels.
pub const MOST_DEPTH: usize = 60;

/// Gives up what lies below too many cuts. That only happens where a smallest hold makes long chains
/// the best ways to cut: each halving would leave one more strip that cannot be held.
/// Says whether it did.
pub(super) fn prune(layout: &mut Layout) -> bool {
    prune_below(layout, MOST_DEPTH)
}

fn prune_below(layout: &mut Layout, levels: usize) -> bool {
    let (Content::CutX(_, first, second) | Content::CutY(_, first, second)) = &mut layout.content
    else {
        return false;
    };
    if levels == 0 {
        layout.content = Content::Remnant;
        return true;
    }
    let pruned = [first, second].map(|part| prune_below(part, levels - 1));
    pruned[0] || pruned[1]
}

/// A plate cut once along the axis, after the first part.
pub(super) fn beside(plate: Size, axis: Axis, parts: [Layout; 2]) -> Layout {
    let at = parts[0].size.along(axis);
    let [first, second] = parts.map(Box::new);
    let content = match axis {
        Axis::Width => Content::CutX(at, first, second),
        Axis::Height => Content::CutY(at, first, second),
    };
    Layout { size: plate, content }
}

/// What a layout of the grid's sheet cuts, less its trims. Not for grids where holding matters, since
/// there a trim may be what makes a cut possible.
pub(super) fn gather(grid: &Grid, layout: &Layout) -> Part {
    let (axis, parts) = match &layout.content {
        Content::Remnant => return Part::nothing([0, 0]),
        Content::Piece(shape, turned) => {
            let seat = |seat: &Seat| seat.shape == *shape && seat.turned == *turned;
            let seat = grid.seats.iter().position(seat);
            return seat.map_or(Part::nothing([0, 0]), |seat| Part::piece(grid, seat));
        }
        Content::CutX(_, first, second) => (Axis::Width, [first, second]),
        Content::CutY(_, first, second) => (Axis::Height, [first, second]),
    };
    let side = usize::from(axis != grid.across);
    Part::joined(side, parts.map(|part| Rc::new(gather(grid, part))))
}

/// The part laid out on the whole sheet.
pub(super) fn lay_out(grid: &Grid, part: &Part) -> Layout {
    Laying { grid }.place(part, grid.sides)
}

struct Laying<'a> {
    grid: &'a Grid,
}

impl Laying<'_> {
    /// The part on a plate with these inflated sides, at least as large as it needs.
    fn place(&self, part: &Part, sides: [i64; 2]) -> Layout {
        if part.kind == Kind::Nothing {
            return self.remnant(sides);
        }
        if let Some(side) = self.first_trim(part.sides, sides) {
            let [kept, rest] = split(sides, side, part.sides[side]);
            return self.cut(side, sides, [self.place(part, kept), self.remnant(rest)]);
        }
        match &part.kind {
            Kind::Nothing => self.remnant(sides),
            Kind::Piece(seat) => {
                let seat = self.grid.seats[*seat];
                let content = Content::Piece(seat.shape, seat.turned);
                Layout { size: self.grid.true_size(sides), content }
            }
            Kind::Cut(side, parts) => {
                let plates = split(sides, *side, parts[0].sides[*side]);
                let parts = [0, 1].map(|half: usize| self.place(&parts[half], plates[half]));
                self.cut(*side, sides, parts)
            }
        }
    }

    /// The side to trim first, if any: where both have to be trimmed, the order that leaves the larger
    /// remnant.
    fn first_trim(&self, needed: [i64; 2], sides: [i64; 2]) -> Option<usize> {
        let over = [0, 1].map(|side: usize| sides[side] > needed[side]);
        match over {
            [false, false] => None,
            [true, _] if self.grid.is_wide(sides[0]) => Some(0),
            [false, true] if self.grid.is_wide(sides[0]) => None,
            [true, false] => Some(0),
            [false, true] => Some(1),
            [true, true] => {
                let largest = |first: usize| self.largest_remnant(needed, sides, first);
                Some(usize::from(largest(1) > largest(0)))
            }
        }
    }

    /// Area of the larger of the two remnants where `first` is trimmed first.
    fn largest_remnant(&self, needed: [i64; 2], sides: [i64; 2], first: usize) -> Area {
        let [kept, rest] = split(sides, first, needed[first]);
        let [_, later] = split(kept, 1 - first, needed[1 - first]);
        [rest, later]
            .map(|plate| self.grid.true_size(plate).area())
            .into_iter()
            .max()
            .unwrap_or_default()
    }

    fn remnant(&self, sides: [i64; 2]) -> Layout {
        Layout { size: self.grid.true_size(sides), content: Content::Remnant }
    }

    fn cut(&self, side: usize, sides: [i64; 2], parts: [Layout; 2]) -> Layout {
        let axis = if side == 0 { self.grid.across } else { self.grid.across.other() };
        beside(self.grid.true_size(sides), axis, parts)
    }
}

/// The two plates that a cut after `length` leaves.
pub(super) fn split(sides: [i64; 2], side: usize, length: i64) -> [[i64; 2]; 2] {
    let mut plates = [sides, sides];
    plates[0][side] = length;
    plates[1][side] -= length;
    plates
}
