//! One sheet, built once and asked with many values.

use super::grid::Grid;
use super::table::Table;
use super::tree::{Finder, Part};
use super::{Bench, Layout, Shape, layout, within};
use crate::measure::Size;
use std::sync::Arc;

/// One sheet with the shapes that may be cut from it.
#[derive(Clone, Debug)]
pub struct Space {
    grid: Arc<Grid>,
    shapes: Vec<Shape>,
    plate: Size,
    bench: Bench,
}

impl Space {
    /// A sheet of usable size `plate` (squaring already taken off).
    ///
    /// The time and memory of [`Space::best`] grow with the number of raster points, which is small
    /// where lengths share a coarse step (1/8 in, 1 mm): see [`Space::cells`].
    pub fn new(plate: Size, shapes: &[Shape], bench: Bench) -> Space {
        let grid = Arc::new(Grid::new(plate, shapes, bench, None));
        Space { grid, shapes: shapes.to_vec(), plate, bench }
    }

    /// The same sheet with nothing too narrow to be held: [`Space::best`] of it is exact, and so an
    /// upper bound for every bench that differs only in its smallest hold.
    pub fn relaxed(plate: Size, shapes: &[Shape], bench: Bench) -> Space {
        Space::new(plate, shapes, Bench { hold: crate::measure::Length::ZERO, ..bench })
    }

    /// Whether the shape can be cut from the sheet at all.
    pub fn holds(&self, shape: usize) -> bool {
        self.grid.seats.iter().any(|seat| seat.shape == shape)
    }

    /// Number of cells of the dynamic program's table.
    pub fn cells(&self) -> usize {
        self.grid.rasters[0].len() * self.grid.rasters[1].len()
    }

    /// The pattern worth most, with any number of each shape. `values` has one entry a shape; shapes
    /// with a value of 0 or less are left out. The worth of a full sheet has to fit an `i64`.
    ///
    /// Exact, unless a smallest hold keeps some plate from being cut: then never more than is possible,
    /// with parts always trimmed to raster points before they are cut on.
    pub fn best(&self, values: &[i64]) -> Best {
        Best::of(self.grid.clone(), values)
    }

    /// A pattern with at most `limits[i]` pieces of shape i: that of [`Space::best`] where it keeps to
    /// the limits, else as good a one as is found quickly.
    pub fn best_within(&self, values: &[i64], limits: &[u64]) -> Best {
        within::search(self, values, limits)
    }
}

/// A pattern and what it is worth.
#[derive(Clone, Debug)]
pub struct Best {
    value: i64,
    shapes: usize,
    source: Source,
}

/// Where a pattern can be read from.
#[derive(Clone, Debug)]
enum Source {
    Table(Arc<Grid>, Values),
    Layout(Box<Layout>),
}

/// A filled table in the narrowest numbers that hold it, and the seats' values in it.
#[derive(Clone, Debug)]
enum Values {
    Narrow(Table<i32>, Vec<i32>),
    Wide(Table<i64>, Vec<i64>),
}

impl Best {
    fn of(grid: Arc<Grid>, values: &[i64]) -> Best {
        let step = common_step(&grid, values);
        let worth: Vec<i64> =
            grid.seats.iter().map(|seat| values[seat.shape].max(0) / step).collect();
        let (top, filled) = match fits_narrow(&grid, &worth) {
            true => {
                let worth: Vec<i32> = worth.iter().map(|&value| value as i32).collect();
                let table = Table::fill(&grid, &worth);
                (i64::from(table.at(grid.top())), Values::Narrow(table, worth))
            }
            false => {
                let table = Table::fill(&grid, &worth);
                (table.at(grid.top()), Values::Wide(table, worth))
            }
        };
        Best { value: top * step, shapes: grid.shapes, source: Source::Table(grid, filled) }
    }

    /// A pattern that is already a cut tree.
    pub(super) fn made(value: i64, shapes: usize, layout: Layout) -> Best {
        Best { value, shapes, source: Source::Layout(Box::new(layout)) }
    }

    /// What it is worth.
    pub fn value(&self) -> i64 {
        self.value
    }

    /// How many pieces of each shape it has.
    pub fn counts(&self) -> Vec<u64> {
        match &self.source {
            Source::Layout(layout) => layout::counts(layout, self.shapes),
            Source::Table(grid, values) => values.tree(grid).counts(&grid.seats, self.shapes),
        }
    }

    /// The cut tree over the whole sheet, in true sizes.
    pub fn layout(&self) -> Layout {
        match &self.source {
            Source::Layout(layout) => layout.as_ref().clone(),
            Source::Table(grid, values) => layout::lay_out(grid, &values.tree(grid)),
        }
    }
}

impl Values {
    fn tree(&self, grid: &Grid) -> Part {
        match self {
            Values::Narrow(table, worth) => Finder::new(grid, table, worth).part(grid.top()),
            Values::Wide(table, worth) => Finder::new(grid, table, worth).part(grid.top()),
        }
    }
}

/// The greatest common divisor of all values that count, at least 1.
fn common_step(grid: &Grid, values: &[i64]) -> i64 {
    let worth = grid.seats.iter().map(|seat| values[seat.shape]).filter(|&value| value > 0);
    worth.fold(0, greatest_common_divisor).max(1)
}

fn greatest_common_divisor(mut one: i64, mut other: i64) -> i64 {
    while other != 0 {
        (one, other) = (other, one % other);
    }
    one
}

/// Whether no pattern is worth more than an `i32` holds, by the best value per area.
fn fits_narrow(grid: &Grid, worth: &[i64]) -> bool {
    let area = |sides: [i64; 2]| i128::from(sides[0]) * i128::from(sides[1]);
    let sheet = area(grid.sides);
    grid.seats.iter().zip(worth).all(|(seat, &value)| {
        // Lengths are under 2^33 and an i32 under 2^31: only the first product may be too large.
        i128::from(value)
            .checked_mul(sheet)
            .is_some_and(|total| total <= i128::from(i32::MAX) * area(seat.sides))
    })
}
