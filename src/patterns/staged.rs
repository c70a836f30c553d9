//! Good patterns with a limited number of stages, that is, of changes of the cutting direction.
//!
//! With S_k(x, y) the most that a plate of x by y is worth whose next cuts all go one way and which may
//! have k stages, S' the same with the other way next, and S_0 a piece of exactly that size:
//!
//! ```text
//! S_k(x, y) = max { S'_{k−1}(x, y)                       no cut this way
//!                   S_k(x', y)                           trimmed to the next shorter point
//!                   S'_{k−1}(u, y) + S_k(⟨x − u⟩, y) }    a strip u wide, and the rest
//! ```
//!
//! (Gilmore & Gomory 1965, Operations Research 13:94-120, for any number of stages; trims count.) Blade,
//! knife and hold enter as in the table without stages. Where the sums of piece sides are too many, only
//! each side and some of its multiples are points. Bounds come from patterns with any number of stages, so
//! this need not be the best.

use super::finder::GridCell;
use super::grid::{Grid, Seat};
use super::lay_out::split;
use super::raster::{multiples, sums};
use super::space::{Best, Space};
use super::within::raise;
use crate::cuts::{Content, Layout, Leaf};
use std::collections::BTreeSet;

/// Sums along one side, at most, before their multiples do …
const MOST_SUMS: usize = 240;
/// … of which there are no more than this.
const MOST_POINTS: usize = 360;
/// Its tables take as much longer than one without stages: points along one side are fewer by this factor …
const FEWER: usize = 4;
/// … but at least this many.
const LEAST_POINTS: usize = 24;
/// How often penalties are adjusted for a pattern within limits.
const MOST_ROUNDS: usize = 8;

/// The best pattern found that has at most so many stages.
pub(super) fn best(space: &Space, values: &[i64], stages: u32) -> Best {
    let layout = solved(space, values, stages);
    Best::made(layout, values)
}

/// The same with at most `limits[i]` pieces of shape i; `free` is the one without limits.
pub(super) fn best_within(
    space: &Space,
    free: &Best,
    values: &[i64],
    limits: &[u64],
    stages: u32,
) -> Best {
    let mut penalties = vec![0; values.len()];
    let mut relaxed = free.layout();
    let mut best = Best::made(Layout::remnant(space.plate), values);
    for _ in 0..MOST_ROUNDS {
        let mut kept = relaxed.clone();
        kept.leave_out(&mut limits.to_vec());
        let kept = Best::made(kept, values);
        if kept.value() > best.value() {
            best = kept;
        }
        let gap = i128::from(free.value()) - i128::from(best.value());
        let relaxed_counts = relaxed.counts(values.len());
        if gap <= 0 || !raise(&relaxed_counts, values, limits, &mut penalties, gap) {
            break;
        }
        let charges = values.iter().zip(&penalties).zip(limits);
        let charged: Vec<i64> = charges
            .map(|((value, penalty), &most)| if most > 0 { value - penalty } else { 0 })
            .collect();
        relaxed = solved(space, &charged, stages);
    }
    best
}

/// Points along each side of a sheet's tables: its lengths, and as many sums or multiples.
pub(super) fn most_points(space: &Space) -> [usize; 2] {
    let most = MOST_POINTS.min((space.points / FEWER).max(LEAST_POINTS));
    space.grid().rasters.each_ref().map(|raster| raster.len().min(2 * most))
}

fn solved(space: &Space, values: &[i64], stages: u32) -> Layout {
    let staged = Staged::new(space, values, stages);
    let mut layout = staged.layout();
    layout.prune();
    layout
}

/// What is laid on a plate with these sides.
type Lay<'f> = &'f dyn Fn([i64; 2]) -> Layout;

/// What may still be cut: in so many stages, the first along this side.
#[derive(Clone, Copy)]
struct Stages {
    left: usize,
    side: usize,
}

struct Staged<'a> {
    grid: &'a Grid,
    /// Narrowest plate that can be held, inflated by the blade.
    hold: i64,
    values: &'a [i64],
    points: [Vec<i64>; 2],
    /// The points to which rests are trimmed, by side, plate and strip.
    rests: [Vec<Vec<u32>>; 2],
    /// S by stages, then by the side that the next cuts go along, then by cell.
    tables: Vec<[Vec<i64>; 2]>,
}

impl Stages {
    /// One stage less, its cuts along the other side.
    fn below(self) -> Stages {
        Stages { left: self.left - 1, side: 1 - self.side }
    }
}

impl<'a> Staged<'a> {
    fn new(space: &'a Space, values: &'a [i64], stages: u32) -> Staged<'a> {
        let grid = space.grid();
        let blade = space.bench.blade.ticks().max(0);
        let hold = space.bench.hold.ticks().max(0) + blade;
        let most = MOST_POINTS.min((space.points / FEWER).max(LEAST_POINTS));
        // The largest shapes come first: where there are too many, the others are left out.
        let wanted = grid.seats.iter().filter(|seat| values[seat.shape] > 0);
        let seats: Vec<Seat> = wanted.take(most).copied().collect();
        let points = [0, 1].map(|side: usize| points(&seats, side, most, grid.sides[side]));
        let rests = points.each_ref().map(|points| rests(points, hold));
        let mut staged = Staged { grid, hold, values, points, rests, tables: Vec::new() };
        let pieces = staged.pieces(&seats);
        staged.tables.push([pieces.clone(), pieces]);
        for _ in 0..stages {
            let next = [0, 1].map(|side| staged.next(side));
            staged.tables.push(next);
        }
        staged
    }

    fn index(&self, [across, down]: GridCell) -> usize {
        across * self.points[1].len() + down
    }

    fn lengths(&self, cell: GridCell) -> [i64; 2] {
        [self.points[0][cell[0]], self.points[1][cell[1]]]
    }

    /// S_0: what a piece of just that size is worth.
    fn pieces(&self, seats: &[Seat]) -> Vec<i64> {
        let mut pieces = vec![0; self.points[0].len() * self.points[1].len()];
        for seat in seats {
            let place =
                [0, 1].map(|side: usize| self.points[side].binary_search(&seat.sides[side]));
            if let [Ok(across), Ok(down)] = place {
                let at = self.index([across, down]);
                pieces[at] = pieces[at].max(self.values[seat.shape]);
            }
        }
        pieces
    }

    /// S for one stage more than there are tables for, its cuts along `side`.
    fn next(&self, side: usize) -> Vec<i64> {
        let base = &self.tables[self.tables.len() - 1][1 - side];
        let mut next = base.clone();
        for other in 1..self.points[1 - side].len() {
            let cell = |along: usize| if side == 0 { [along, other] } else { [other, along] };
            let at = |along: usize| self.index(cell(along));
            let mut strips: Vec<usize> = Vec::new();
            for (along, rests) in self.rests[side].iter().enumerate().skip(1) {
                if self.can_cut(cell(along), side) {
                    let mut most = next[at(along)].max(next[at(along - 1)]);
                    for &strip in &strips {
                        let rest = rests[strip] as usize;
                        most = most.max(base[at(strip)] + next[at(rest)]);
                    }
                    next[at(along)] = most;
                }
                // A strip that is worth no more than a narrower one is never cut.
                let known = strips.last().map_or(0, |&strip| base[at(strip)]);
                if base[at(along)] > known {
                    strips.push(along);
                }
            }
        }
        next
    }

    fn can_cut(&self, cell: GridCell, side: usize) -> bool {
        let lengths = self.lengths(cell);
        lengths[1 - side] <= self.grid.knife && lengths.iter().all(|&length| length >= self.hold)
    }

    /// The point to which the rest of a plate after a strip is trimmed; 0 where it cannot be.
    fn rest(&self, side: usize, along: usize, strip: usize) -> usize {
        self.rests[side][along][strip] as usize
    }

    /// The cut tree of the whole sheet.
    fn layout(&self) -> Layout {
        let top = [0, 1].map(|side: usize| self.points[side].len() - 1);
        let stages = self.tables.len() - 1;
        let worth = |side: usize| self.tables[stages][side][self.index(top)];
        let side = usize::from(worth(1) > worth(0));
        self.lay(Stages { left: stages, side }, top, self.grid.sides)
    }

    /// The cell on a plate that is as long in the other direction, and at least as long in this one.
    fn lay(&self, stages: Stages, cell: GridCell, sides: [i64; 2]) -> Layout {
        let (size, side) = (self.grid.true_size(sides), stages.side);
        let value = self.tables[stages.left][side][self.index(cell)];
        if value == 0 {
            return Layout::remnant(size);
        }
        if stages.left == 0 {
            return Layout { size, content: Content::Leaf(self.piece(sides, value)) };
        }
        if sides[side] > self.points[side][cell[side]] {
            return self.trimmed(stages, cell, side, sides);
        }
        let strips = self.strips(stages, cell);
        self.beside(stages, &strips, cell, sides)
    }

    /// The strips of a cell, first to last: what is cut off it along a side, one after the other.
    fn strips(&self, stages: Stages, cell: GridCell) -> Vec<usize> {
        let (Stages { side, .. }, below) = (stages, stages.below());
        let own = &self.tables[stages.left][side];
        let below = &self.tables[below.left][below.side];
        let at = |along: usize| {
            let mut shorter = cell;
            shorter[side] = along;
            self.index(shorter)
        };
        let mut strips = Vec::new();
        let mut along = cell[side];
        while own[at(along)] > 0 {
            let value = own[at(along)];
            let attains =
                |&strip: &usize| below[at(strip)] + own[at(self.rest(side, along, strip))] == value;
            if below[at(along)] == value {
                strips.push(along);
                break;
            } else if own[at(along - 1)] == value {
                along -= 1;
            } else if let Some(strip) = (1..along).find(attains) {
                strips.push(strip);
                along = self.rest(side, along, strip);
            } else {
                break;
            }
        }
        strips
    }

    /// Strips beside each other on a plate, divided near the middle first, so that few cuts lie below each
    /// other; where strips are narrow, one is cut off after the other, or the last could not be held.
    fn beside(&self, stages: Stages, strips: &[usize], cell: GridCell, sides: [i64; 2]) -> Layout {
        let side = stages.side;
        if let [only] = strips {
            let mut own = cell;
            own[side] = *only;
            return match sides[side] > self.points[side][*only] {
                true => self.trimmed(stages.below(), own, side, sides),
                false => self.lay(stages.below(), own, sides),
            };
        }
        if strips.is_empty() {
            return self.remnant(sides);
        }
        let lengths: Vec<i64> = strips.iter().map(|&strip| self.points[side][strip]).collect();
        let (used, last) = (lengths.iter().sum(), lengths[strips.len() - 1]);
        let waste = sides[side] - used;
        if waste > 0 && last + waste < self.hold {
            // Beside the last strip, it could not be cut off any more.
            let whole = |plate| self.beside(stages, strips, cell, plate);
            return self.cut(side, sides, used, [&whole, &|plate| self.remnant(plate)]);
        }
        let held = |&near: &usize| near == 1 || lengths[near - 2] + lengths[near - 1] >= self.hold;
        let middle = |&near: &usize| (2 * near).abs_diff(strips.len());
        let near = (1..strips.len()).filter(held).min_by_key(middle).unwrap_or(1);
        let [before, after] = [&strips[..near], &strips[near..]];
        let first = |plate| self.beside(stages, before, cell, plate);
        let second = |plate| self.beside(stages, after, cell, plate);
        self.cut(side, sides, lengths[..near].iter().sum(), [&first, &second])
    }

    /// A plate trimmed to the cell along a side.
    fn trimmed(&self, stages: Stages, cell: GridCell, side: usize, sides: [i64; 2]) -> Layout {
        let first = |plate| self.lay(stages, cell, plate);
        let length = self.points[side][cell[side]];
        self.cut(side, sides, length, [&first, &|plate| self.remnant(plate)])
    }

    fn cut(&self, side: usize, sides: [i64; 2], length: i64, [first, second]: [Lay; 2]) -> Layout {
        let [near, far] = split(sides, side, length);
        let axis = if side == 0 { self.grid.across } else { self.grid.across.other() };
        Layout::divided(self.grid.true_size(sides), axis, [first(near), second(far)])
    }

    fn remnant(&self, sides: [i64; 2]) -> Layout {
        Layout::remnant(self.grid.true_size(sides))
    }

    fn piece(&self, sides: [i64; 2], value: i64) -> Leaf {
        let fits = |seat: &&Seat| seat.sides == sides && self.values[seat.shape] == value;
        let seat = self.grid.seats.iter().find(fits);
        seat.map_or(Leaf::Remnant, |seat| Leaf::Piece(seat.shape, seat.turned))
    }
}

/// For each point, and each strip no longer than it: the point to which the rest is trimmed; 0 where it cannot be.
fn rests(points: &[i64], hold: i64) -> Vec<Vec<u32>> {
    let of_plate = |(along, whole): (usize, &i64)| {
        let mut point = along;
        let trimmed = |first: &i64| {
            let rest = whole - first;
            while points[point] > rest {
                point -= 1;
            }
            if points[point] == rest || rest >= hold { point as u32 } else { 0 }
        };
        points[..=along].iter().map(trimmed).collect()
    };
    points.iter().enumerate().map(of_plate).collect()
}

/// The points along one side, the sheet's own length last.
fn points(seats: &[Seat], side: usize, most: usize, whole: i64) -> Vec<i64> {
    let lengths = || seats.iter().map(|seat| seat.sides[side]);
    let times: Vec<(i64, u64)> = lengths().map(|length| (length, u64::MAX)).collect();
    let mut points: BTreeSet<i64> = match sums(&times, whole, MOST_SUMS.min(most)) {
        Some(points) => points.into_iter().collect(),
        None => multiples(lengths(), whole, most),
    };
    points.insert(whole);
    points.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::super::lay_out::worth;
    use super::*;
    use crate::cuts::{Bench, Tree};
    use crate::measure::{Length, Size};
    use crate::patterns::Shape;
    use proptest::prelude::*;
    use std::collections::BTreeMap;

    fn size((width, height): (i64, i64)) -> Size {
        Size::new(Length::from_ticks(width), Length::from_ticks(height))
    }

    fn space(plate: (i64, i64), shapes: &[(i64, i64)], blade: i64, hold: i64, most: u32) -> Space {
        let shape = |&sides| Shape { size: size(sides), upright: true, turned: false };
        let shapes: Vec<Shape> = shapes.iter().map(shape).collect();
        let [blade, knife, hold] = [blade, 1000, hold].map(Length::from_ticks);
        Space::new(size(plate), &shapes, Bench { blade, knife, hold, stages: Some(most) })
    }

    /// The most a plate is worth by trying every cut: its next cuts go along the width (`true`) or the
    /// height, in at most so many stages.
    struct Every<'a> {
        shapes: &'a [(i64, i64)],
        values: &'a [i64],
        blade: i64,
        hold: i64,
        known: BTreeMap<(i64, i64, u32, bool), i64>,
    }

    impl Every<'_> {
        fn most(&mut self, (width, height): (i64, i64), stages: u32, wide: bool) -> i64 {
            if width <= 0 || height <= 0 {
                return 0;
            }
            let key = (width, height, stages, wide);
            if let Some(&known) = self.known.get(&key) {
                return known;
            }
            let exact = self.shapes.iter().zip(self.values);
            let exact = exact.filter(|(shape, _)| **shape == (width, height));
            let mut most = exact.map(|(_, &value)| value).max().unwrap_or(0);
            if stages > 0 && width.min(height) >= self.hold {
                most = most.max(self.most((width, height), stages - 1, !wide));
                for at in 1..if wide { width } else { height } {
                    let (first, rest) = match wide {
                        true => ((at, height), (width - at - self.blade, height)),
                        false => ((width, at), (width, height - at - self.blade)),
                    };
                    let strip = self.most(first, stages - 1, !wide);
                    most = most.max(strip + self.most(rest, stages, wide));
                    // Trimmed, it goes on with as many stages.
                    most = most.max(self.most(first, stages, wide));
                }
            }
            self.known.insert(key, most);
            most
        }
    }

    /// Whether every plate that is cut can be held.
    fn is_held(layout: &Layout, hold: i64) -> bool {
        let mut cut = layout.plates().filter(|plate| plate.cut().is_some());
        cut.all(|plate| plate.size.width.min(plate.size.height).ticks() >= hold)
    }

    #[test]
    fn waste_beside_a_strip_that_cannot_be_held_comes_off_first() {
        // Seven strips of 10 from 71: the last and the waste are 11 together, less than can be held.
        let best = space((71, 30), &[(10, 15)], 0, 15, 2).best(&[1]);
        assert_eq!(best.value(), 14);
        assert!(is_held(&best.layout(), 15), "{:?}", best.layout());
    }

    #[test]
    fn a_second_turn_pays() {
        // Three strips; or three pieces above each other and one beside them; or a strip, and below it
        // one piece beside two others.
        let shapes = [(3, 1), (1, 2), (2, 1)];
        let best = |most| space((3, 3), &shapes, 0, 0, most).best(&[6, 4, 5]).value();
        assert_eq!([1, 2, 3].map(best), [18, 19, 20]);
    }

    proptest! {
        #[test]
        fn agrees_with_every_cut(
            plate in (1_i64..12, 1_i64..12),
            shapes in prop::collection::vec(((1_i64..7, 1_i64..7), 1_i64..20), 1..5),
            (blade, most) in (0_i64..2, 1_u32..5),
        ) {
            let (shapes, values): (Vec<_>, Vec<_>) = shapes.into_iter().unzip();
            let best = space(plate, &shapes, blade, 0, most).best(&values);
            let known = BTreeMap::new();
            let mut every = Every { shapes: &shapes, values: &values, blade, hold: 0, known };
            let expected = [true, false].map(|wide| every.most(plate, most, wide));
            prop_assert_eq!(best.value(), expected[0].max(expected[1]));
            prop_assert!(best.layout().stages() <= most);
            prop_assert_eq!(worth(&best.layout(), &values), best.value());
        }

        #[test]
        fn only_what_can_be_held_is_cut(
            plate in (1_i64..20, 1_i64..20),
            shapes in prop::collection::vec(((1_i64..7, 1_i64..7), 1_i64..20), 1..4),
            (blade, hold, most) in (0_i64..2, 0_i64..9, 1_u32..4),
        ) {
            let (shapes, values): (Vec<_>, Vec<_>) = shapes.into_iter().unzip();
            let best = space(plate, &shapes, blade, hold, most).best(&values);
            prop_assert!(is_held(&best.layout(), hold), "{:?}", best.layout());
            let known = BTreeMap::new();
            let mut every = Every { shapes: &shapes, values: &values, blade, hold, known };
            let expected = [true, false].map(|wide| every.most(plate, most, wide));
            prop_assert!(best.value() <= expected[0].max(expected[1]));
        }

        #[test]
        fn limits_are_kept(
            plate in (1_i64..12, 1_i64..12),
            shapes in prop::collection::vec(((1_i64..7, 1_i64..7), 1_i64..20, 0_u64..4), 1..5),
            most in 1_u32..5,
        ) {
            let sides: Vec<_> = shapes.iter().map(|shape| shape.0).collect();
            let values: Vec<_> = shapes.iter().map(|shape| shape.1).collect();
            let limits: Vec<_> = shapes.iter().map(|shape| shape.2).collect();
            let best = space(plate, &sides, 0, 0, most).best_within(&values, &limits);
            prop_assert!(best.counts().iter().zip(&limits).all(|(count, limit)| count <= limit));
            prop_assert!(best.layout().stages() <= most);
        }
    }
}
