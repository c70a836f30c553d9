//! From parts to a cut tree in true sizes.
//!
//! Every plate is first trimmed to what its content needs, so that remnants are few and large, and only
//! then cut on. A rest that is no wider than the blade vanishes under it: it stands in the tree as a
//! remnant of zero width (or height) at the far edge, the only case in which a part has no area. What
//! is lost there is the rest times the length of the cut.

use super::grid::{Grid, Seat};
use super::part::{Core, PartKind};
use crate::cuts::{Content, Layout, Leaf};
use crate::measure::Area;
use std::rc::Rc;

/// What the pieces of a layout are worth.
pub(super) fn worth(layout: &Layout, values: &[i64]) -> i64 {
    let counts = layout.counts(values.len());
    counts.iter().zip(values).map(|(&count, value)| count as i64 * value.max(&0)).sum()
}

/// What a layout of the grid's sheet cuts, less its trims. Not for grids where holding matters, since
/// there a trim may be what makes a cut possible.
pub(super) fn gather(grid: &Grid, layout: &Layout) -> Core {
    match &layout.content {
        Content::Leaf(Leaf::Remnant) => Core::nothing([0, 0]),
        Content::Leaf(Leaf::Piece(shape, turned)) => {
            let seat = |seat: &Seat| seat.shape == *shape && seat.turned == *turned;
            let seat = grid.seats.iter().position(seat);
            seat.map_or(Core::nothing([0, 0]), |seat| Core::piece(grid, seat))
        }
        Content::Cut(cut) => {
            let side = usize::from(cut.axis != grid.across);
            Core::joined(side, cut.parts.each_ref().map(|part| Rc::new(gather(grid, part))))
        }
    }
}

/// The part laid out on the whole sheet.
pub(super) fn lay_out(grid: &Grid, part: &Core) -> Layout {
    LayOut { grid }.place(part, grid.sides)
}

struct LayOut<'a> {
    grid: &'a Grid,
}

impl LayOut<'_> {
    /// The part on a plate with these inflated sides, at least as large as it needs.
    fn place(&self, part: &Core, sides: [i64; 2]) -> Layout {
        if part.kind == PartKind::Nothing {
            return self.remnant(sides);
        }
        if let Some(side) = self.first_trim(part.sides, sides) {
            let [kept, rest] = split(sides, side, part.sides[side]);
            return self.cut(side, sides, [self.place(part, kept), self.remnant(rest)]);
        }
        match &part.kind {
            PartKind::Nothing => self.remnant(sides),
            PartKind::Piece(seat) => {
                let seat = self.grid.seats[*seat];
                Layout::piece(self.grid.true_size(sides), seat.shape, seat.turned)
            }
            PartKind::Cut(side, parts) => {
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
        Layout::remnant(self.grid.true_size(sides))
    }

    fn cut(&self, side: usize, sides: [i64; 2], parts: [Layout; 2]) -> Layout {
        let axis = if side == 0 { self.grid.across } else { self.grid.across.other() };
        Layout::divided(self.grid.true_size(sides), axis, parts)
    }
}

/// The two plates that a cut after `length` leaves.
pub(super) fn split(sides: [i64; 2], side: usize, length: i64) -> [[i64; 2]; 2] {
    let mut plates = [sides, sides];
    plates[0][side] = length;
    plates[1][side] -= length;
    plates
}
