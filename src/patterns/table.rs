//! The dynamic program.
//!
//! F(x, y) is the most that a plate of x by y is worth (Gilmore & Gomory 1966; Beasley 1985), for x and
//! y in the reduced raster points R of the sheet's sides and ⟨a⟩ the largest such point not above a:
//!
//! ```text
//! F(x, y) = max { v_i                            : a piece i with w_i ≤ x, h_i ≤ y
//!                 F(u, y) + F(⟨x − u⟩, y)        : u in R, 0 < u ≤ x/2
//!                 F(x, s) + F(x, ⟨y − s⟩)        : s in R, 0 < s ≤ y/2 }
//! ```
//!
//! F grows along both axes, so a first part is only worth trying where F is larger than at the point
//! before (its row "grows"). Rows are worked off in blocks that are lower than the lowest piece: then
//! both parts of every cut down a block's rows lie in finished rows, and all columns are worked side by
//! side; after that, the cuts across are worked with all rows of the block side by side.

use super::grid::Grid;
use std::ops::Add;

/// Cells that are worked side by side.
const LANES: usize = 16;
type Lanes<V> = [V; LANES];

/// What the table counts in.
pub(super) trait Value: Copy + Ord + Default + Add<Output = Self> {}
impl Value for i32 {}
impl Value for i64 {}

/// F for all cells of a sheet. Columns are stored by sixteens, each sixteen from the top row down.
#[derive(Clone, Debug)]
pub(super) struct ValueTable<V> {
    rows: usize,
    cells: Vec<Lanes<V>>,
}

impl<V: Value> ValueTable<V> {
    /// The finished table for these values of the grid's seats.
    pub fn fill(grid: &Grid, values: &[V]) -> ValueTable<V> {
        pulp::Arch::new().dispatch(TableJob { grid, values })
    }

    /// F of a cell.
    #[inline(always)]
    pub fn at(&self, [column, row]: [usize; 2]) -> V {
        self.cells[column / LANES * self.rows + row][column % LANES]
    }

    #[inline(always)]
    fn set(&mut self, [column, row]: [usize; 2], value: V) {
        self.cells[column / LANES * self.rows + row][column % LANES] = value;
    }

    #[inline(always)]
    fn chunk(&self, chunk: usize) -> &[Lanes<V>] {
        &self.cells[chunk * self.rows..][..self.rows]
    }
}

struct TableJob<'a, V> {
    grid: &'a Grid,
    values: &'a [V],
}

impl<V: Value> pulp::NullaryFnOnce for TableJob<'_, V> {
    type Output = ValueTable<V>;

    #[inline(always)]
    fn call(self) -> ValueTable<V> {
        let mut work = TableWork::new(self.grid, self.values);
        let mut row = self.grid.held[1];
        while row < work.table.rows {
            let end = work.block_end(row);
            work.block(row, end);
            row = end;
        }
        work.table
    }
}

/// A table being filled.
struct TableWork<'a, V> {
    grid: &'a Grid,
    table: ValueTable<V>,
    /// For each sixteen columns, the rows where some column grows.
    grown_rows: Vec<Vec<u32>>,
    /// The rows of the block, transposed: one entry a column.
    strip: Vec<Lanes<V>>,
    /// The columns where some row of the block grows.
    grown_columns: Vec<u32>,
}

impl<'a, V: Value> TableWork<'a, V> {
    #[inline(always)]
    fn new(grid: &'a Grid, values: &[V]) -> TableWork<'a, V> {
        let [columns, rows] = [0, 1].map(|side: usize| grid.rasters[side].len());
        let chunks = columns.div_ceil(LANES);
        let cells = vec![Lanes::<V>::default(); chunks * rows];
        let mut table = ValueTable { rows, cells };
        for (seat, &value) in grid.seats.iter().zip(values) {
            table.set(seat.cell, table.at(seat.cell).max(value));
        }
        let strip = vec![Lanes::<V>::default(); columns];
        let grown_rows = vec![Vec::new(); chunks];
        let mut work = TableWork { grid, table, grown_rows, strip, grown_columns: Vec::new() };
        work.note_rows(1, grid.held[1].min(rows));
        work
    }

    /// The end of the block that begins with this row.
    #[inline(always)]
    fn block_end(&self, begin: usize) -> usize {
        let points = self.grid.rasters[1].points();
        let rows = points.len();
        let top_alone = self.grid.wide < self.strip.len() && begin + 1 < rows;
        let last = (begin + LANES).min(if top_alone { rows - 1 } else { rows });
        (begin + 1..last).find(|&row| points[row] - points[begin] >= points[1]).unwrap_or(last)
    }

    /// Works off the rows from `begin` up to `end`.
    #[inline(always)]
    fn block(&mut self, begin: usize, end: usize) {
        let columns = self.strip.len();
        self.grown_columns.clear();
        if self.grid.symmetric {
            // Left of the diagonal block first; its mirror image completes the columns of the block.
            self.cut_down([begin, end], [0, begin]);
            self.cut_across([begin, end], [0, begin]);
            self.mirror(begin, end);
            self.cut_down([begin, end], [begin, end]);
            self.cut_across([begin, end], [begin, end]);
        } else {
            let wide = self.grid.wide.min(columns);
            self.cut_down([begin, end], [self.grid.held[0], wide]);
            let width = if end == self.table.rows { columns } else { wide };
            self.cut_across([begin, end], [0, width]);
        }
        self.note_rows(begin, end);
    }

    /// Cuts at a height, for the cells of these rows and columns.
    #[inline(always)]
    fn cut_down(&mut self, rows: [usize; 2], columns: [usize; 2]) {
        for chunk in columns[0] / LANES..columns[1].div_ceil(LANES) {
            let first = chunk * LANES;
            let inside = columns[0].saturating_sub(first)..(columns[1] - first).min(LANES);
            for row in rows[0]..rows[1] {
                let best = self.best_cut_down(chunk, row);
                let cell = &mut self.table.cells[chunk * self.table.rows + row];
                cell[inside.clone()].copy_from_slice(&best[inside.clone()]);
            }
        }
    }

    #[inline(always)]
    fn best_cut_down(&self, chunk: usize, row: usize) -> Lanes<V> {
        let cells = self.table.chunk(chunk);
        let mut best = cells[row];
        let before = if row == self.grid.held[1] { 0 } else { row - 1 };
        for cell in &cells[before..row] {
            best = larger(&best, cell);
        }
        let rests = self.grid.rasters[1].rests(row);
        for &first in &self.grown_rows[chunk] {
            let Some(&second) = rests.get(first as usize) else { break };
            best = larger_sum(&best, &cells[first as usize], &cells[second as usize]);
        }
        best
    }

    /// Cuts at a width, for the cells of these rows and columns; columns come in ascending order.
    #[inline(always)]
    fn cut_across(&mut self, rows: [usize; 2], columns: [usize; 2]) {
        self.load(rows, columns);
        for column in columns[0].max(1)..columns[1] {
            let before = if column == self.grid.held[0] { 0 } else { column - 1 };
            if column >= self.grid.held[0] {
                self.strip[column] = self.best_cut_across(column, before);
            }
            let grows = if self.grid.strict { 0 } else { column - 1 };
            if differ(&self.strip[column], &self.strip[grows]) {
                self.grown_columns.push(column as u32);
            }
        }
        self.store(rows, columns);
    }

    #[inline(always)]
    fn best_cut_across(&self, column: usize, before: usize) -> Lanes<V> {
        let strip = self.strip.as_slice();
        let mut best = strip[column];
        for cell in &strip[before..column] {
            best = larger(&best, cell);
        }
        let rests = self.grid.rasters[0].rests(column);
        for &first in &self.grown_columns {
            let Some(&second) = rests.get(first as usize) else { break };
            best = larger_sum(&best, &strip[first as usize], &strip[second as usize]);
        }
        // Elsewhere a higher row never lags behind; here its parts may be too narrow to be trimmed.
        for lane in 1..if self.grid.strict { LANES } else { 0 } {
            best[lane] = best[lane].max(best[lane - 1]);
        }
        best
    }

    #[inline(always)]
    fn load(&mut self, rows: [usize; 2], columns: [usize; 2]) {
        for column in columns[0]..columns[1] {
            let chunk = self.table.chunk(column / LANES);
            self.strip[column] = Lanes::<V>::default();
            for (lane, row) in (rows[0]..rows[1]).enumerate() {
                self.strip[column][lane] = chunk[row][column % LANES];
            }
        }
    }

    #[inline(always)]
    fn store(&mut self, rows: [usize; 2], columns: [usize; 2]) {
        for column in columns[0]..columns[1] {
            for (lane, row) in (rows[0]..rows[1]).enumerate() {
                self.table.set([column, row], self.strip[column][lane]);
            }
        }
    }

    /// Copies the block's rows left of the diagonal to the columns above it.
    #[inline(always)]
    fn mirror(&mut self, begin: usize, end: usize) {
        for column in 0..begin {
            for row in begin..end {
                self.table.set([row, column], self.strip[column][row - begin]);
            }
        }
        for chunk in begin / LANES..end.div_ceil(LANES) {
            self.grown_rows[chunk].clear();
            self.note_rows_of(chunk, 1, begin);
        }
    }

    #[inline(always)]
    fn note_rows(&mut self, begin: usize, end: usize) {
        for chunk in 0..self.grown_rows.len() {
            self.note_rows_of(chunk, begin, end);
        }
    }

    /// Notes which of these rows grow in some column of the chunk.
    #[inline(always)]
    fn note_rows_of(&mut self, chunk: usize, begin: usize, end: usize) {
        for row in begin..end {
            let cells = self.table.chunk(chunk);
            let grows = if self.grid.strict { 0 } else { row - 1 };
            if differ(&cells[row], &cells[grows]) {
                self.grown_rows[chunk].push(row as u32);
            }
        }
    }
}

#[inline(always)]
fn larger<V: Value>(one: &Lanes<V>, other: &Lanes<V>) -> Lanes<V> {
    std::array::from_fn(|lane| one[lane].max(other[lane]))
}

#[inline(always)]
fn larger_sum<V: Value>(best: &Lanes<V>, first: &Lanes<V>, second: &Lanes<V>) -> Lanes<V> {
    std::array::from_fn(|lane| best[lane].max(first[lane] + second[lane]))
}

#[inline(always)]
fn differ<V: Value>(one: &Lanes<V>, other: &Lanes<V>) -> bool {
    (0..LANES).fold(false, |differs, lane| differs | (one[lane] != other[lane]))
}
