//! Work counted in steps rather than seconds, so that the same input takes the same way everywhere.

use std::sync::atomic::{AtomicU64, Ordering};

/// Steps of work done for one task.
#[derive(Debug, Default)]
pub(super) struct Meter(AtomicU64);

impl Meter {
    /// Counts the filling of a table of `cells` cells: about the root of them are looked at for each.
    pub fn count_table(&self, cells: usize) {
        let cells = cells as u64;
        self.add(cells * cells.isqrt() / 8 + 2_000);
    }

    /// Counts the search for a pattern within limits, which fills a few tables.
    pub fn count_bounded_table(&self, cells: usize) {
        (0..4).for_each(|_| self.count_table(cells));
    }

    /// Counts pairs of parts that were looked at.
    pub fn count_pairs(&self, pairs: usize) {
        self.add(pairs as u64 * 16);
    }

    /// Counts one solution of a linear program.
    pub fn count_program(&self, rows: usize, columns: usize) {
        self.add((rows * columns) as u64 * 40 + 20_000);
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
