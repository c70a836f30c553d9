//! One sheet, built once and asked with many values.

use super::grid::Grid;
use super::solved::Solved;
use super::{Bench, Layout, Shape, layout, within};
use crate::measure::Size;
use std::sync::Arc;

/// One sheet with the shapes that may be cut from it.
#[derive(Clone, Debug)]
pub struct Space {
    grid: Arc<Grid>,
    pub(super) shapes: Vec<Shape>,
    pub(super) plate: Size,
    pub(super) bench: Bench,
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
        Best::solved(Solved::new(self.grid.clone(), values))
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
    Table(Solved),
    Layout(Box<Layout>),
}

impl Best {
    /// The best pattern of a filled table.
    pub(super) fn solved(solved: Solved) -> Best {
        let (value, shapes) = (solved.value(), solved.grid.shapes);
        Best { value, shapes, source: Source::Table(solved) }
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
            Source::Table(solved) => solved.counts(),
        }
    }

    /// The cut tree over the whole sheet, in true sizes.
    pub fn layout(&self) -> Layout {
        match &self.source {
            Source::Layout(layout) => layout.as_ref().clone(),
            Source::Table(solved) => layout::lay_out(&solved.grid, &solved.part()),
        }
    }
}
