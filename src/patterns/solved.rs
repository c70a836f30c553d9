//! A table filled for some values, in the narrowest numbers that hold them.

use super::finder::{Finder, Priced};
use super::grid::Grid;
use super::part::Core;
use super::table::ValueTable;
use crate::measure::greatest_common_divisor;

use std::sync::Arc;

/// The best pattern of every plate of a sheet.
#[derive(Clone, Debug)]
pub(super) struct Solved {
    pub grid: Arc<Grid>,
    /// What the table counts in.
    step: i64,
    filled: Filled,
}

/// A table and the seats' values in it.
#[derive(Clone, Debug)]
enum Filled {
    Narrow(ValueTable<i32>, Vec<i32>),
    Wide(ValueTable<i64>, Vec<i64>),
}

impl Solved {
    /// For these values of the grid's shapes.
    pub fn new(grid: Arc<Grid>, values: &[i64]) -> Solved {
        let step = common_step(&grid, values);
        let worth: Vec<i64> =
            grid.seats.iter().map(|seat| values[seat.shape].max(0) / step).collect();
        let filled = if fits_narrow(&grid, &worth) {
            let worth: Vec<i32> = worth.iter().map(|&value| value as i32).collect();
            Filled::Narrow(ValueTable::fill(&grid, &worth), worth)
        } else {
            Filled::Wide(ValueTable::fill(&grid, &worth), worth)
        };
        Solved { grid, step, filled }
    }

    /// What the whole sheet is worth.
    pub fn value(&self) -> i64 {
        self.cell(self.grid.top())
    }

    /// What a plate is worth.
    pub fn cell(&self, cell: [usize; 2]) -> i64 {
        self.step
            * match &self.filled {
                Filled::Narrow(table, _) => i64::from(table.at(cell)),
                Filled::Wide(table, _) => table.at(cell),
            }
    }

    /// How the whole sheet is cut.
    pub fn part(&self) -> Core {
        let grid = self.grid.as_ref();
        match &self.filled {
            Filled::Narrow(table, values) => Finder::find(grid, &Priced { grid, table, values }),
            Filled::Wide(table, values) => Finder::find(grid, &Priced { grid, table, values }),
        }
    }

    /// How many pieces of each shape that gives.
    pub fn counts(&self) -> Vec<u64> {
        self.part().counts(&self.grid)
    }
}

/// The greatest common divisor of all values that count, at least 1.
fn common_step(grid: &Grid, values: &[i64]) -> i64 {
    let worth = grid.seats.iter().map(|seat| values[seat.shape]).filter(|&value| value > 0);
    greatest_common_divisor(worth).max(1)
}

/// Whether no pattern is worth more than an `i32` holds, by the best value per area.
fn fits_narrow(grid: &Grid, worth: &[i64]) -> bool {
    let area = |sides: [i64; 2]| i128::from(sides[0]) * i128::from(sides[1]);
    let lengths =
        |cell: [usize; 2]| [0, 1].map(|side: usize| grid.rasters[side].points()[cell[side]]);
    let sheet = area(grid.sides);
    grid.seats.iter().zip(worth).all(|(seat, &value)| {
        // Where lengths are rounded down, the piece takes even less.
        let piece = area(seat.sides).min(area(lengths(seat.cell)));
        let total = i128::from(value).checked_mul(sheet);
        total.is_some_and(|total| total <= i128::from(i32::MAX) * piece)
    })
}
