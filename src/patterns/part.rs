//! What is to be cut from a plate, before it has a place.

use super::grid::Grid;
use std::rc::Rc;

/// What is to be cut from a plate, and the sides it needs for that, inflated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Core {
    pub sides: [i64; 2],
    pub kind: PartKind,
    /// Sum of the squares of the remnants' areas: few and large remnants make it large.
    pub remnants: u128,
    /// Longest chain of cuts.
    pub depth: u32,
}

/// What is to be cut from a plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum PartKind {
    /// Nothing.
    Nothing,
    /// The piece of this seat.
    Piece(usize),
    /// A cut across (side 0) or down (side 1): the first part, exactly as long as it needs, and the
    /// second part.
    Cut(usize, [Rc<Core>; 2]),
}

impl Core {
    /// A plate with these sides from which nothing is cut.
    pub const fn nothing(sides: [i64; 2]) -> Core {
        Core { sides, kind: PartKind::Nothing, remnants: 0, depth: 0 }
    }

    /// The piece of this seat.
    pub fn piece(grid: &Grid, seat: usize) -> Core {
        let sides = grid.seats[seat].sides;
        Core { sides, kind: PartKind::Piece(seat), remnants: 0, depth: 0 }
    }

    /// Two parts beside each other, needing no more than they do.
    pub fn beside(side: usize, parts: [Rc<Core>; 2]) -> Core {
        let mut sides = [0, 1].map(|side: usize| parts[0].sides[side].max(parts[1].sides[side]));
        sides[side] = parts[0].sides[side] + parts[1].sides[side];
        let inside = |part: &Rc<Core>| {
            let mut plate = sides;
            plate[side] = part.sides[side];
            part.remnants_in(plate)
        };
        let remnants = inside(&parts[0]) + inside(&parts[1]);
        let depth = 1 + parts[0].depth.max(parts[1].depth);
        Core { sides, kind: PartKind::Cut(side, parts), remnants, depth }
    }

    /// Sum of the squares of the remnants' areas where the part is cut from a plate with these sides.
    pub fn remnants_in(&self, plate: [i64; 2]) -> u128 {
        let after = |first: usize| {
            let mut kept = plate;
            kept[first] = self.sides[first];
            let area =
                |sides: [i64; 2]| sides[0].unsigned_abs() as u128 * sides[1].unsigned_abs() as u128;
            let [whole, kept, own] = [plate, kept, self.sides].map(area);
            (whole.saturating_sub(kept)).pow(2) + (kept.saturating_sub(own)).pow(2)
        };
        self.remnants + after(0).max(after(1))
    }

    /// How many pieces of each shape it has.
    pub fn counts(&self, grid: &Grid) -> Vec<u64> {
        let mut counts = vec![0; grid.shapes];
        self.count(grid, &mut counts);
        counts
    }

    fn count(&self, grid: &Grid, counts: &mut [u64]) {
        match &self.kind {
            PartKind::Nothing => {}
            PartKind::Piece(seat) => counts[grid.seats[*seat].shape] += 1,
            PartKind::Cut(_, parts) => parts.iter().for_each(|part| part.count(grid, counts)),
        }
    }

    /// The same without the pieces that there are none left of; takes the others from `left`.
    pub fn within(&self, grid: &Grid, left: &mut [u64]) -> Core {
        match &self.kind {
            PartKind::Nothing => self.clone(),
            PartKind::Piece(seat) => match &mut left[grid.seats[*seat].shape] {
                0 => Core::nothing(self.sides),
                left => {
                    *left -= 1;
                    self.clone()
                }
            },
            PartKind::Cut(side, parts) => {
                let parts = [0, 1].map(|half: usize| Rc::new(parts[half].within(grid, left)));
                if parts.iter().all(|part| part.kind == PartKind::Nothing) {
                    return Core::nothing(self.sides);
                }
                match grid.strict {
                    true => Core { kind: PartKind::Cut(*side, parts), ..self.clone() },
                    false => Core::joined(*side, parts),
                }
            }
        }
    }

    /// Two parts beside each other, of which either may be nothing.
    pub fn joined(side: usize, parts: [Rc<Core>; 2]) -> Core {
        match [0, 1].map(|half: usize| parts[half].kind == PartKind::Nothing) {
            [_, true] => parts[0].as_ref().clone(),
            [true, false] => parts[1].as_ref().clone(),
            [false, false] => Core::beside(side, parts),
        }
    }
}
