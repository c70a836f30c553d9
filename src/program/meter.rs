//! Work counted in steps rather than seconds, so that the same input takes the same way everywhere.
//!
//! A step is about a nanosecond of the machine on which the factors were measured. Filling a pattern table takes about
//! 8 ns a cell, since only growing points are tried and sixteen cells are worked side by side. A pattern within limits
//! takes twenty-five times that on a small sheet, for its labels and penalties. A linear program with a few hundred
//! patterns takes milliseconds from scratch, and far less after a few rows were added. So on sheets with inch fractions
//! it is never the patterns that limit a search, but the linear programs.

use crate::patterns::Space;
use std::sync::atomic::{AtomicU64, Ordering};

/// Steps of work done for one task.
#[derive(Debug, Default)]
pub(super) struct Meter(AtomicU64);

/// Rows that are added in one go as a rule.
const FEW_ROWS: usize = 8;

/// Cells of a sheet that is too large for labels.
const LARGE: usize = 30_000;

impl Meter {
    /// Steps for a pair of parts that is looked at.
    pub const PAIR: u64 = 30;

    /// Counts the filling of a sheet's table.
    pub fn count_table(&self, space: &Space) {
        self.count_cells(space.cells());
        self.add(space.long_work());
    }

    /// Counts the filling of a table for a bound, where it takes longer than that for a pattern tells.
    pub fn count_long(&self, space: &Space) {
        self.add(space.long_work());
    }

    /// Counts the filling of a table of `cells` cells.
    pub fn count_cells(&self, cells: usize) {
        self.add(cells as u64 * 8 + 4_000);
    }

    /// Counts the search for a pattern within limits: on a small sheet, a table of labels and some more.
    pub fn count_bounded_table(&self, space: &Space) {
        let cells = space.cells();
        let tables = if cells < LARGE { 25 } else { 8 };
        self.add((cells as u64 * 9 + 20_000) * tables);
        // Penalties are adjusted eight times at most.
        self.add(space.long_work() * 8 + space.long_labels());
    }

    /// Counts pairs of parts that were looked at.
    pub fn count_pairs(&self, pairs: usize) {
        self.add(pairs as u64 * Meter::PAIR);
    }

    /// Counts the solution of a linear program from scratch.
    pub fn count_program(&self, rows: usize, columns: usize) {
        self.add((rows * columns) as u64 * 100 + 50_000);
    }

    /// Counts a round of column generation: the first solves the program from scratch.
    pub fn count_round(&self, round: usize, rows: usize, columns: usize) {
        match round {
            0 => self.count_program(rows, columns),
            _ => self.count_again(rows, columns),
        }
    }

    /// Counts one more solution of a program to which a few rows were added, or bounds.
    pub fn count_again(&self, rows: usize, columns: usize) {
        self.add((rows * columns) as u64 * 12 + 20_000);
    }

    /// Counts rows added to a program one by one, beyond a few.
    pub fn count_rows(&self, added: usize, rows: usize, columns: usize) {
        for _ in FEW_ROWS..added {
            self.count_again(rows, columns);
        }
    }

    /// Counts nodes of the integer program over the patterns found, whose linear programs each differ
    /// from another in one bound.
    pub fn count_nodes(&self, nodes: u64, rows: usize, columns: usize) {
        self.add(nodes.saturating_mul((rows * columns) as u64 * 2 + 10_000));
    }

    /// Counts pivots of the program over packs alone: every one looks at all of its rows.
    pub fn count_pivots(&self, pivots: usize, rows: usize, goods: usize) {
        self.add((pivots * (rows + goods) * goods) as u64 + 500);
    }

    /// Counts a look at what is known of counts of pieces.
    pub fn count_checks(&self, known: usize, items: usize) {
        self.add((known * items) as u64 + 50);
    }

    /// All steps so far.
    pub fn steps(&self) -> u64 {
        // A task is solved by one thread: there is nothing to order.
        self.0.load(Ordering::Relaxed)
    }

    fn add(&self, steps: u64) {
        self.0.fetch_add(steps, Ordering::Relaxed);
    }
}
