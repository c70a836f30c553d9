//! The patterns found so far.

use super::certificate::Duals;
use crate::cuts::Layout;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A pattern of one supply.
#[derive(Clone, Debug)]
pub(super) struct Column {
    /// Index of the supply.
    pub supply: usize,
    /// Pieces it yields (`a_ip`), by item.
    pub counts: Arc<[u64]>,
    /// How it is cut.
    pub layout: Layout,
}

impl Column {
    /// Whether it yields the same from the same supply, however it is cut.
    pub fn is_same(&self, other: &Column) -> bool {
        self.supply == other.supply && self.counts == other.counts
    }
}

/// Patterns without repetition, in the order of finding.
#[derive(Clone, Debug, Default)]
pub(super) struct Pool {
    columns: Vec<Column>,
    seen: BTreeSet<(usize, Arc<[u64]>)>,
    /// The dual values of the last program over them.
    pub duals: Option<Duals>,
}

impl Pool {
    /// Adds a pattern; false where an equal one is there.
    pub fn add(&mut self, column: Column) -> bool {
        let new = self.seen.insert((column.supply, column.counts.clone()));
        if new {
            self.columns.push(column);
        }
        new
    }

    /// All of them.
    pub fn columns(&self) -> &[Column] {
        &self.columns
    }
}
