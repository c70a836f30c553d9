//! One label a plate: the best way found to cut it, and how many of each shape that takes.

use super::finder::{Cell, Cut, Finder, Worth, with};
use super::grid::Grid;
use super::part::Part;
use super::solved::Solved;

/// Pairs of parts that are worth looking at, at most.
const MOST_PAIRS: usize = 100_000_000;

/// A way to cut the sheet; its surplus is to be left out.
pub(super) fn search(grid: &Grid, values: &[i64], limits: &[u64], loose: &Solved) -> Part {
    let pairs = |side: usize| grid.rasters[side].pairs();
    let [columns, rows] = [0, 1].map(|side: usize| grid.rasters[side].len());
    if pairs(0) * rows + pairs(1) * columns > MOST_PAIRS {
        return Part::nothing(grid.sides);
    }
    let mut labels = Labels::new(grid, values, limits);
    for row in 1..rows {
        for column in 1..columns {
            labels.settle([column, row], loose.cell([column, row]));
        }
    }
    Finder::find(grid, &labels)
}

/// How a plate is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    Nothing,
    Piece(u32),
    /// Like some shorter plate.
    Trim,
    /// First and second part along the side.
    Cut(u8, u32, u32),
}

struct Labels<'a> {
    grid: &'a Grid,
    /// The shapes that have a seat.
    shapes: Vec<usize>,
    values: Vec<i64>,
    limits: Vec<u32>,
    worth: Vec<i64>,
    ways: Vec<Way>,
    /// For each plate the count of each shape.
    counts: Vec<u32>,
}

impl<'a> Labels<'a> {
    fn new(grid: &'a Grid, values: &[i64], limits: &[u64]) -> Labels<'a> {
        let mut shapes: Vec<usize> = grid.seats.iter().map(|seat| seat.shape).collect();
        shapes.dedup();
        let cells = grid.rasters[0].len() * grid.rasters[1].len();
        let limit = |&shape: &usize| limits[shape].min(1 << 30) as u32;
        let mut labels = Labels {
            grid,
            values: shapes.iter().map(|&shape| values[shape]).collect(),
            limits: shapes.iter().map(limit).collect(),
            worth: vec![0; cells],
            ways: vec![Way::Nothing; cells],
            counts: vec![0; cells * shapes.len()],
            shapes,
        };
        for (index, seat) in grid.seats.iter().enumerate() {
            labels.seat(index, seat.cell, values[seat.shape]);
        }
        labels
    }

    fn index(&self, [column, row]: [usize; 2]) -> usize {
        row * self.grid.rasters[0].len() + column
    }

    fn seat(&mut self, seat: usize, cell: [usize; 2], value: i64) {
        let index = self.index(cell);
        if value > self.worth[index] {
            let shape = self.shapes.partition_point(|&shape| shape < self.grid.seats[seat].shape);
            self.worth[index] = value;
            self.ways[index] = Way::Piece(seat as u32);
            let counts = self.counts_mut(index);
            counts.fill(0);
            counts[shape] = 1;
        }
    }

    fn counts_of(&self, index: usize) -> &[u32] {
        &self.counts[index * self.shapes.len()..][..self.shapes.len()]
    }

    fn counts_mut(&mut self, index: usize) -> &mut [u32] {
        &mut self.counts[index * self.shapes.len()..][..self.shapes.len()]
    }

    /// Labels the cell; none of its labels can be worth more than `most`.
    fn settle(&mut self, cell: [usize; 2], most: i64) {
        let top = cell[1] + 1 == self.grid.rasters[1].len();
        let held = cell[0] >= self.grid.held[0] && cell[1] >= self.grid.held[1];
        let narrow = cell[0] < self.grid.wide;
        for side in [0, 1] {
            if held && (narrow || (top && side == 0)) {
                self.trim(cell, side);
                self.cut(cell, side, most);
            }
        }
    }

    fn trim(&mut self, cell: [usize; 2], side: usize) {
        let first = if cell[side] == self.grid.held[side] { 0 } else { cell[side] - 1 };
        let own = self.index(cell);
        for shorter in first..cell[side] {
            let other = self.index(with(cell, side, shorter));
            if self.worth[other] > self.worth[own] {
                self.worth[own] = self.worth[other];
                self.ways[own] = Way::Trim;
                let (from, many) = (other * self.shapes.len(), self.shapes.len());
                self.counts.copy_within(from..from + many, own * many);
            }
        }
    }

    fn cut(&mut self, cell: [usize; 2], side: usize, most: i64) {
        let own = self.index(cell);
        let grid = self.grid;
        let rests = grid.rasters[side].rests(cell[side]);
        // From the middle outwards, so that no chain of cuts gets long.
        for (first, &second) in rests.iter().enumerate().skip(1).rev() {
            if self.worth[own] >= most {
                return;
            }
            let parts = [first, second as usize].map(|point| self.index(with(cell, side, point)));
            // What the parts are worth less their surplus is at most their sum.
            if self.worth[parts[0]] + self.worth[parts[1]] <= self.worth[own] {
                continue;
            }
            if self.join(own, parts) {
                self.ways[own] = Way::Cut(side as u8, first as u32, second);
            }
        }
    }

    /// Takes both parts less their surplus, if that is worth more.
    fn join(&mut self, own: usize, parts: [usize; 2]) -> bool {
        let counts = self.counts_of(parts[0]).iter().zip(self.counts_of(parts[1]));
        let kept = counts.zip(self.limits.iter().zip(&self.values));
        let worth: i64 = kept
            .map(|((one, other), (&limit, value))| i64::from((one + other).min(limit)) * value)
            .sum();
        if worth <= self.worth[own] {
            return false;
        }
        self.worth[own] = worth;
        let many = self.shapes.len();
        for shape in 0..many {
            let sum = self.counts[parts[0] * many + shape] + self.counts[parts[1] * many + shape];
            self.counts[own * many + shape] = sum.min(self.limits[shape]);
        }
        true
    }
}

impl Worth for Labels<'_> {
    fn is_nothing(&self, cell: Cell) -> bool {
        self.worth[self.index(cell)] == 0
    }

    fn equal(&self, one: Cell, other: Cell) -> bool {
        let [one, other] = [one, other].map(|cell| self.index(cell));
        self.worth[one] == self.worth[other] && self.counts_of(one) == self.counts_of(other)
    }

    fn attains(&self, cell: Cell, parts: [Cell; 2]) -> bool {
        let [whole, first, second] = [cell, parts[0], parts[1]].map(|cell| self.index(cell));
        let sums = self
            .counts_of(first)
            .iter()
            .zip(self.counts_of(second))
            .map(|(one, other)| one + other);
        self.worth[first] + self.worth[second] == self.worth[whole]
            && self.counts_of(whole).iter().copied().eq(sums)
    }

    fn piece(&self, cell: Cell) -> Option<usize> {
        match self.ways[self.index(cell)] {
            Way::Piece(seat) => Some(seat as usize),
            _ => None,
        }
    }

    fn otherwise(&self, cell: Cell) -> Option<Cut> {
        match self.ways[self.index(cell)] {
            Way::Cut(side, first, second) => Some((side.into(), [first as usize, second as usize])),
            _ => None,
        }
    }
}
