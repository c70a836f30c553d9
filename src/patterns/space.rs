//! One sheet, built once and asked with many values.

use super::grid::{Detail, Grid, MOST_POINTS, Rounding};
use super::lay_out::{lay_out, worth};
use super::solved::Solved;
use super::{Pattern, Shape, fill, labels, listing, staged, within};
use crate::cuts::{Bench, Layout};
use crate::measure::{Axis, Length, Size};
use std::sync::Arc;

/// Pairs of parts that may be looked at for the proof that a pattern is best.
const PROOF_WORK: usize = 20_000_000;

/// Nanoseconds of a table above which its cells do not tell how long it takes.
const LONG_TABLE: u64 = 30_000_000;

/// Counts of labels above which the cells do not tell how long they take.
const LONG_LABELS: u64 = 20_000_000;

/// One sheet with the shapes that may be cut from it.
#[derive(Clone, Debug)]
pub struct Space {
    grid: Arc<Grid>,
    pub(super) shapes: Vec<Shape>,
    pub(super) plate: Size,
    pub(super) bench: Bench,
    /// Points along one side, at most.
    pub(super) points: usize,
}

impl Space {
    /// A sheet of usable size `plate` (squaring already taken off).
    ///
    /// Time and memory of [`Space::best`] grow with the number of raster points, which is small where
    /// lengths share a coarse step (1/8 in, 1 mm) or only few pieces lie beside each other. Where there
    /// would be more than a few thousand along a side, pieces are rounded up by less than a two
    /// thousandth of that side while patterns are sought, and [`Space::is_exact`] says so; layouts have
    /// the true sizes all the same.
    pub fn new(plate: Size, shapes: &[Shape], bench: Bench) -> Space {
        Space::of_points(plate, shapes, bench, MOST_POINTS)
    }

    /// The same with no more than so many points along a side.
    pub fn of_points(plate: Size, shapes: &[Shape], bench: Bench, points: usize) -> Space {
        Space::with(plate, shapes, bench, Detail { rounding: Rounding::Up, points })
    }

    /// The same sheet for upper bounds: no strip is too narrow to be held, there may be any number of
    /// stages, and where lengths have to be rounded, they are rounded down. Its best value is never less than that of [`Space::new`]; its
    /// layouts are only fit for the bench where neither hold nor rounding matters.
    pub fn relaxed(plate: Size, shapes: &[Shape], bench: Bench) -> Space {
        Space::relaxed_of_points(plate, shapes, bench, MOST_POINTS)
    }

    /// The same with no more than so many points along a side.
    pub fn relaxed_of_points(plate: Size, shapes: &[Shape], bench: Bench, points: usize) -> Space {
        let bench = Bench { hold: Length::ZERO, stages: None, ..bench };
        Space::with(plate, shapes, bench, Detail { rounding: Rounding::Down, points })
    }

    fn with(plate: Size, shapes: &[Shape], bench: Bench, detail: Detail) -> Space {
        let grid = Arc::new(Grid::new(plate, shapes, bench, None, detail));
        Space { grid, shapes: shapes.to_vec(), plate, bench, points: detail.points }
    }

    /// Whether [`Space::best`] is exact: no side of a piece is below the smallest hold, no length had to be rounded,
    /// and the stages are not limited. [`Space::best_within`] gives a pattern within limits that need not be the best
    /// even then.
    pub fn is_exact(&self) -> bool {
        let cut_short = self.grid.rounded || self.grid.by_area;
        !self.grid.strict && !cut_short && self.bench.stages.is_none()
    }

    pub(super) fn grid(&self) -> &Grid {
        &self.grid
    }

    /// How many pieces of one shape a plate yields; `None` where finding out would take long.
    pub fn most_of(plate: Size, shape: Shape, bench: Bench) -> Option<u64> {
        /// Cells of a table that is filled in a few milliseconds.
        const LARGEST: usize = 200_000;
        let space = Space::new(plate, &[shape], bench);
        let small = space.cells() <= LARGEST && !space.grid.rounded;
        small.then(|| u64::try_from(space.best(&[1]).value()).unwrap_or_default())
    }

    /// A shape, and how it may lie on the sheet.
    pub fn shape(&self, shape: usize) -> Shape {
        self.shapes[shape]
    }

    /// Whether the shape can be cut from the sheet at all.
    pub fn holds(&self, shape: usize) -> bool {
        self.grid.seats.iter().any(|seat| seat.shape == shape)
            || self.grid.left_out.contains(&shape)
    }

    /// Whether the bench can make all cuts of a layout.
    pub fn can_make(&self, layout: &Layout) -> bool {
        let few = self.bench.stages.is_none_or(|most| layout.stages() <= most);
        few && self.bench.can_make(layout)
    }

    /// Width lost per cut.
    pub fn blade(&self) -> Length {
        self.bench.blade
    }

    /// Number of cells of the dynamic program's table.
    pub fn cells(&self) -> usize {
        self.grid.rasters[0].len() * self.grid.rasters[1].len()
    }

    /// About how many nanoseconds its table takes, if most of its plates differ.
    pub fn work(&self) -> u64 {
        let staged = self.bench.stages.map_or(0, |stages| self.staged_work(stages));
        self.grid.work() + staged
    }

    /// Work on its table that the cells do not tell: that of sheets whose sizes had to be rounded, which hardly have two
    /// plates alike, of very long tables, and of tables by stages.
    pub fn long_work(&self) -> u64 {
        let long = self.grid.work().saturating_sub(self.cells() as u64 * 8);
        let long = if self.grid.rounded { long } else { long.saturating_sub(LONG_TABLE) };
        self.bench.stages.map_or(long, |stages| long + self.staged_work(stages))
    }

    /// The same for a pattern within limits, beyond that of several tables.
    pub fn long_labels(&self) -> u64 {
        let looks = labels::looks(&self.grid).min(labels::MOST_LOOKS) as u64;
        looks.saturating_sub(LONG_LABELS)
    }

    fn staged_work(&self, stages: u32) -> u64 {
        let [across, down] = staged::most_points(self).map(|points| points as u64);
        across * down * (across + down) * u64::from(stages)
    }

    /// No pattern is worth more than this: the best one of [`Space::best`], or what the area has room for where
    /// a piece is too small to be looked at otherwise.
    pub fn most(&self, values: &[i64]) -> i64 {
        if self.grid.by_area { self.by_area(values) } else { self.best(values).value() }
    }

    /// The sheet's area times the most that a piece is worth for its own.
    fn by_area(&self, values: &[i64]) -> i64 {
        let area = |sides: [i64; 2]| i128::from(sides[0]) * i128::from(sides[1]);
        let sheet = area(self.grid.sides);
        let most = self.grid.seats.iter().map(|seat| {
            let value = i128::from(values[seat.shape].max(0));
            value.saturating_mul(sheet) / area(seat.sides).max(1) + 1
        });
        most.max().unwrap_or(0).clamp(0, i64::MAX.into()) as i64
    }

    /// A pattern with at most `left[i]` pieces of shape i, found at once: the most valuable first, each where it
    /// leaves the largest remnant. Nothing is looked at twice, so it takes no time even where tables would take long.
    pub fn at_once(&self, values: &[i64], left: &[u64]) -> Best {
        let mut layout = Layout::remnant(self.plate);
        fill::fill(&mut layout, self, values, &mut left.to_vec());
        layout.prune();
        Best::made(layout, values)
    }

    /// The pattern worth most, with any number of each shape. `values` has one entry a shape; shapes
    /// with a value of 0 or less are left out. The worth of a full sheet has to fit an `i64`.
    ///
    /// The value is exact where [`Space::is_exact`]; elsewhere it is that of a pattern which can be cut.
    /// With a smallest hold that matters, parts are always trimmed to raster points before they are cut
    /// on, a plate with a side below the hold is never cut, and nothing lies below more than
    /// [`MOST_DEPTH`](crate::cuts::MOST_DEPTH) cuts.
    pub fn best(&self, values: &[i64]) -> Best {
        if let Some(stages) = self.bench.stages {
            return staged::best(self, values, stages);
        }
        let solved = Solved::new(self.grid.clone(), values);
        if !self.grid.strict {
            return Best::solved(solved);
        }
        let mut layout = lay_out(&self.grid, &solved.part());
        let pruned = layout.prune();
        let chain = Best::made(layout, values);
        let halves = if pruned { self.halves(values) } else { None };
        halves.filter(|halves| halves.value() > chain.value()).unwrap_or(chain)
    }

    /// The sheet cut near its middle, and the best of both halves: shorter chains of cuts.
    fn halves(&self, values: &[i64]) -> Option<Best> {
        let axis = if self.plate.width >= self.plate.height { Axis::Width } else { Axis::Height };
        let whole = self.plate.along(axis);
        let raster = &self.grid.rasters[usize::from(axis != self.grid.across)];
        let blade = self.bench.blade;
        let point = raster.points()[raster.at_most(whole.ticks() / 2 + blade.ticks())];
        let first = Length::from_ticks(point) - blade;
        let second = whole - first - blade;
        let cuttable = self.bench.can_cut(self.plate, axis);
        if !cuttable || !first.is_positive() || !second.is_positive() {
            return None;
        }
        let best = |length| {
            let plate = self.plate.with(axis, length);
            Space::of_points(plate, &self.shapes, self.bench, self.points).best(values)
        };
        let halves = [best(first), best(second)];
        let [one, other] = halves.each_ref().map(Best::layout);
        let mut layout = Layout::divided(self.plate, axis, [one, other]);
        layout.prune();
        Some(Best::made(layout, values))
    }

    /// A pattern with at most `limits[i]` pieces of shape i: that of [`Space::best`] where it keeps to
    /// the limits, else as good a one as is found quickly.
    pub fn best_within(&self, values: &[i64], limits: &[u64]) -> Best {
        self.within(&self.best(values), values, limits)
    }

    /// The same where the best pattern without limits is known.
    pub fn within(&self, free: &Best, values: &[i64], limits: &[u64]) -> Best {
        match self.bench.stages {
            Some(stages) => staged::best_within(self, free, values, limits, stages),
            None => within::search(self, free, values, limits),
        }
    }

    /// All patterns with a piece and at most `limits[i]` pieces of shape i that are worth at least
    /// `least`, but for those that have no more of anything than another one has. `None` where they are too many to be
    /// listed, or where the space is not exact. No value may be negative. `work` is how many pairs of parts may be looked at;
    /// those that were are taken off.
    pub fn list(
        &self,
        values: &[i64],
        limits: &[u64],
        least: i64,
        work: &mut usize,
    ) -> Option<Vec<Pattern>> {
        listing::list(self, values, limits, least, work)
    }

    /// A pattern with at most `limits[i]` pieces of shape i than which none is worth more; `None` where
    /// that cannot be proven with moderate work.
    pub fn best_proven_within(&self, values: &[i64], limits: &[u64]) -> Option<Best> {
        let values: Vec<i64> = values.iter().map(|&value| value.max(0)).collect();
        let found = self.best_within(&values, limits);
        let better = self.list(&values, limits, found.value() + 1, &mut PROOF_WORK.clone())?;
        let worth = |pattern: &Pattern| worth(&pattern.layout, &values);
        let best = better.into_iter().max_by_key(worth);
        Some(best.map_or(found, |best| Best::made(best.layout, &values)))
    }
}

/// A pattern and what it is worth.
#[derive(Clone, Debug)]
pub struct Best {
    value: i64,
    shapes: usize,
    source: BestSource,
}

/// Where a pattern can be read from.
#[derive(Clone, Debug)]
enum BestSource {
    Table(Solved),
    Layout(Layout),
}

impl Best {
    /// The best pattern of a filled table.
    pub(super) fn solved(solved: Solved) -> Best {
        let (value, shapes) = (solved.value(), solved.grid.shapes);
        Best { value, shapes, source: BestSource::Table(solved) }
    }

    /// A pattern that is already a cut tree.
    pub(super) fn made(layout: Layout, values: &[i64]) -> Best {
        let value = worth(&layout, values);
        Best { value, shapes: values.len(), source: BestSource::Layout(layout) }
    }

    /// What it is worth.
    pub fn value(&self) -> i64 {
        self.value
    }

    /// How many pieces of each shape it has.
    pub fn counts(&self) -> Vec<u64> {
        match &self.source {
            BestSource::Layout(layout) => layout.counts(self.shapes),
            BestSource::Table(solved) => solved.counts(),
        }
    }

    /// The cut tree over the whole sheet, in true sizes.
    pub fn layout(&self) -> Layout {
        match &self.source {
            BestSource::Layout(layout) => layout.clone(),
            BestSource::Table(solved) => lay_out(&solved.grid, &solved.part()),
        }
    }
}
