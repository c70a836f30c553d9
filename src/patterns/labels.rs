//! One label a plate: the best way found to cut it, and how many of each shape that takes.
//!
//! Two parts are joined less what they have too many of together, so that a label always keeps to the
//! limits; what it lacks is left out when the pattern is laid out.

use super::finder::{CellCut, Finder, GridCell, PlateWorth, with};
use super::grid::Grid;
use super::part::Core;
use super::solved::Solved;

/// Pairs of parts that are looked at, at most; a sheet with more has no labels.
pub(super) const MOST_PAIRS: usize = 10_000_000;

/// Counts of shapes, by eights, that are looked at for all pairs: a tenth of a second.
pub(super) const MOST_LOOKS: usize = 60_000_000;

/// Counts of shapes that all labels of a sheet may hold, by eights: 64 MB.
const MOST_COUNTS: usize = 2_000_000;

/// Shapes that are counted side by side.
const LANES: usize = 8;
type Lanes = [i32; LANES];

/// A way to cut the grid's sheet; its surplus is to be left out. `loose` is solved without limits.
pub(super) fn search(grid: &Grid, values: &[i64], limits: &[u64], loose: &Solved) -> Core {
    if !has_labels(grid) {
        return Core::nothing(grid.sides);
    }
    let labels = pulp::Arch::new().dispatch(Labelling { grid, values, limits, loose });
    Finder::find(grid, &labels)
}

/// Whether labels take moderate time and memory.
fn has_labels(grid: &Grid) -> bool {
    let cells = grid.rasters[0].len() * grid.rasters[1].len();
    grid.pairs() <= MOST_PAIRS && looks(grid) <= MOST_LOOKS && cells * width(grid) <= MOST_COUNTS
}

/// Entries of the counts of a label.
fn width(grid: &Grid) -> usize {
    let mut shapes: Vec<usize> = grid.seats.iter().map(|seat| seat.shape).collect();
    shapes.dedup();
    shapes.len().div_ceil(LANES)
}

/// Counts that labels look at on a sheet, by eights.
pub(super) fn looks(grid: &Grid) -> usize {
    grid.pairs() * width(grid)
}

struct Labelling<'a> {
    grid: &'a Grid,
    values: &'a [i64],
    limits: &'a [u64],
    loose: &'a Solved,
}

impl<'a> pulp::NullaryFnOnce for Labelling<'a> {
    type Output = Labels<'a>;

    #[inline(always)]
    fn call(self) -> Labels<'a> {
        let [columns, rows] = [0, 1].map(|side: usize| self.grid.rasters[side].len());
        let mut labels = Labels::new(self.grid, self.values, self.limits, self.loose.value());
        for row in 1..rows {
            for column in 1..columns {
                let most = self.loose.cell([column, row]) >> labels.shift;
                labels.settle([column, row], most as i32);
            }
        }
        labels
    }
}

/// How a plate is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum LabelWay {
    Nothing,
    Piece(u32),
    /// Like some shorter plate.
    Trim,
    /// First and second part along the side.
    Cut(u8, u32, u32),
}

struct Labels<'a> {
    grid: &'a Grid,
    /// Bits taken off all values so that they can be counted in an `i32`.
    shift: u32,
    /// Entries of `counts` a plate has.
    width: usize,
    values: Vec<Lanes>,
    limits: Vec<Lanes>,
    /// The worth of all that the limits allow.
    all: i32,
    worth: Vec<i32>,
    ways: Vec<LabelWay>,
    /// For each plate the count of each shape that has a seat.
    counts: Vec<Lanes>,
}

impl<'a> Labels<'a> {
    fn new(grid: &'a Grid, values: &[i64], limits: &[u64], most: i64) -> Labels<'a> {
        let mut shapes: Vec<usize> = grid.seats.iter().map(|seat| seat.shape).collect();
        shapes.dedup();
        let limits: Vec<i64> = shapes
            .iter()
            .map(|&shape| limits[shape].min(most_pieces(grid, shape)) as i64)
            .collect();
        let all = |shift: u32| -> i128 {
            let worth = |(&shape, &limit): (&usize, &i64)| {
                i128::from(limit) * i128::from(scaled(values[shape], shift))
            };
            shapes.iter().zip(&limits).map(worth).sum()
        };
        let fits = |shift: &u32| all(*shift) < 1 << 30 && most >> shift < 1 << 30;
        let shift = (0..63).find(fits).unwrap_or(63);
        let width = shapes.len().div_ceil(LANES);
        let cells = grid.rasters[0].len() * grid.rasters[1].len();
        let lanes = |list: Vec<i64>| -> Vec<Lanes> {
            let lane = |chunk: &[i64]| {
                std::array::from_fn(|lane| chunk.get(lane).map_or(0, |&value| value as i32))
            };
            list.chunks(LANES).map(lane).collect()
        };
        let mut labels = Labels {
            grid,
            shift,
            width,
            values: lanes(shapes.iter().map(|&shape| scaled(values[shape], shift)).collect()),
            limits: lanes(limits.clone()),
            all: all(shift) as i32,
            worth: vec![0; cells],
            ways: vec![LabelWay::Nothing; cells],
            counts: vec![[0; LANES]; cells * width],
        };
        for (index, seat) in grid.seats.iter().enumerate() {
            let shape = shapes.partition_point(|&shape| shape < seat.shape);
            labels.seat(index, shape);
        }
        labels
    }

    #[inline(always)]
    fn index(&self, [column, row]: GridCell) -> usize {
        row * self.grid.rasters[0].len() + column
    }

    #[inline(always)]
    fn counts_of(&self, index: usize) -> &[Lanes] {
        &self.counts[index * self.width..][..self.width]
    }

    /// Labels a cell with a piece.
    fn seat(&mut self, seat: usize, shape: usize) {
        let index = self.index(self.grid.seats[seat].cell);
        let value = self.values[shape / LANES][shape % LANES];
        if value > self.worth[index] {
            self.worth[index] = value;
            self.ways[index] = LabelWay::Piece(seat as u32);
            let counts = &mut self.counts[index * self.width..][..self.width];
            counts.fill([0; LANES]);
            counts[shape / LANES][shape % LANES] = 1;
        }
    }

    /// Labels the cell; no way to cut it is worth more than `most`.
    #[inline(always)]
    fn settle(&mut self, cell: GridCell, most: i32) {
        let top = cell[1] + 1 == self.grid.rasters[1].len();
        let held = cell[0] >= self.grid.held[0] && cell[1] >= self.grid.held[1];
        let narrow = cell[0] < self.grid.wide;
        let sides = [held && (narrow || top), held && narrow];
        for side in [0, 1].into_iter().filter(|&side| sides[side]) {
            self.trim(cell, side);
        }
        for side in [0, 1].into_iter().filter(|&side| sides[side]) {
            self.cut(cell, side, most.min(self.all));
        }
    }

    #[inline(always)]
    fn trim(&mut self, cell: GridCell, side: usize) {
        let first = if cell[side] == self.grid.held[side] { 0 } else { cell[side] - 1 };
        let own = self.index(cell);
        for shorter in first..cell[side] {
            let other = self.index(with(cell, side, shorter));
            if self.worth[other] > self.worth[own] {
                self.worth[own] = self.worth[other];
                self.ways[own] = LabelWay::Trim;
                let from = other * self.width;
                self.counts.copy_within(from..from + self.width, own * self.width);
            }
        }
    }

    #[inline(always)]
    fn cut(&mut self, cell: GridCell, side: usize, most: i32) {
        let own = self.index(cell);
        let step = if side == 0 { 1 } else { self.grid.rasters[0].len() };
        let begin = own - cell[side] * step;
        let rests = self.grid.rasters[side].rests(cell[side]);
        // From the middle outwards, so that no chain of cuts gets long.
        for (first, &second) in rests.iter().enumerate().skip(1).rev() {
            let parts = [begin + first * step, begin + second as usize * step];
            // What the parts are worth less their surplus is at most their sum.
            let sum = self.worth[parts[0]] + self.worth[parts[1]];
            if sum <= self.worth[own] || self.worth[parts[0]] == self.worth[parts[0] - step] {
                continue;
            }
            if sum - self.surplus(parts) > self.worth[own] {
                self.join(own, parts);
                self.ways[own] = LabelWay::Cut(side as u8, first as u32, second);
                if self.worth[own] >= most {
                    return;
                }
            }
        }
    }

    /// What the pieces are worth that two parts have too many of.
    #[inline(always)]
    fn surplus(&self, parts: [usize; 2]) -> i32 {
        let counts = self.counts_of(parts[0]).iter().zip(self.counts_of(parts[1]));
        let mut surplus = [0; LANES];
        for ((one, other), (limit, value)) in counts.zip(self.limits.iter().zip(&self.values)) {
            for lane in 0..LANES {
                surplus[lane] += (one[lane] + other[lane] - limit[lane]).max(0) * value[lane];
            }
        }
        surplus.iter().sum()
    }

    /// Takes both parts less their surplus.
    #[inline(always)]
    fn join(&mut self, own: usize, parts: [usize; 2]) {
        self.worth[own] = self.worth[parts[0]] + self.worth[parts[1]] - self.surplus(parts);
        for word in 0..self.width {
            let [one, other] = parts.map(|part| self.counts[part * self.width + word]);
            let limit = self.limits[word];
            self.counts[own * self.width + word] =
                std::array::from_fn(|lane| (one[lane] + other[lane]).min(limit[lane]));
        }
    }
}

/// A value in the labels' numbers, at least 1.
fn scaled(value: i64, shift: u32) -> i64 {
    (value >> shift).max(1)
}

/// How many pieces of a shape the sheet has room for.
pub(super) fn most_pieces(grid: &Grid, shape: usize) -> u64 {
    let area =
        |sides: [i64; 2]| u128::from(sides[0].unsigned_abs()) * u128::from(sides[1].unsigned_abs());
    let piece =
        grid.seats.iter().find(|seat| seat.shape == shape).map_or(1, |seat| area(seat.sides));
    (area(grid.sides) / piece.max(1)).min(1 << 30) as u64
}

impl PlateWorth for Labels<'_> {
    fn is_nothing(&self, cell: GridCell) -> bool {
        self.worth[self.index(cell)] == 0
    }

    fn equal(&self, one: GridCell, other: GridCell) -> bool {
        let [one, other] = [one, other].map(|cell| self.index(cell));
        self.worth[one] == self.worth[other] && self.counts_of(one) == self.counts_of(other)
    }

    fn is_less(&self, one: GridCell, other: GridCell) -> bool {
        self.worth[self.index(one)] < self.worth[self.index(other)]
    }

    fn attains(&self, cell: GridCell, parts: [GridCell; 2]) -> bool {
        let [whole, first, second] = [cell, parts[0], parts[1]].map(|cell| self.index(cell));
        let counts = self.counts_of(first).iter().zip(self.counts_of(second));
        let sums = counts.map(|(one, other)| std::array::from_fn(|lane| one[lane] + other[lane]));
        self.worth[first] + self.worth[second] == self.worth[whole]
            && self.counts_of(whole).iter().copied().eq(sums)
    }

    fn piece(&self, cell: GridCell) -> Option<usize> {
        match self.ways[self.index(cell)] {
            LabelWay::Piece(seat) => Some(seat as usize),
            _ => None,
        }
    }

    fn otherwise(&self, cell: GridCell) -> Option<CellCut> {
        match self.ways[self.index(cell)] {
            LabelWay::Cut(side, first, second) => {
                Some((side.into(), [first as usize, second as usize]))
            }
            _ => None,
        }
    }
}
