//! Names for what is put in the drawer.

use crate::plan::Plan;
use crate::stock::Stock;
use std::collections::{BTreeMap, BTreeSet};

/// Names that are taken on the shelf, and those that are given or promised.
pub(super) struct Names<'a> {
    taken: BTreeSet<&'a str>,
    given: BTreeSet<String>,
    /// The last number behind a stem.
    last: BTreeMap<String, u64>,
}

impl<'a> Names<'a> {
    /// Beside what lies on the shelf and these.
    pub fn beside(stock: &'a Stock, given: BTreeSet<String>) -> Names<'a> {
        Names { taken: stock.names().collect(), given, last: BTreeMap::new() }
    }

    /// Beside what lies on the shelf and what a plan names.
    pub fn of_plan(plan: &Plan, stock: &'a Stock) -> Names<'a> {
        Names::beside(stock, plan.offcuts.iter().map(|offcut| offcut.id.clone()).collect())
    }

    /// The name, or where it is taken one like it with the next number that is free.
    pub fn free(&mut self, name: &str) -> String {
        if !self.taken.contains(name) {
            return name.to_owned();
        }
        self.next(name.trim_end_matches(|letter: char| letter.is_ascii_digit()))
    }

    /// A name of this stem with the next number that is free.
    pub fn next(&mut self, stem: &str) -> String {
        let last = self.last.entry(stem.to_owned()).or_default();
        let mut free = String::new();
        while free.is_empty() || self.taken.contains(free.as_str()) || self.given.contains(&free) {
            *last += 1;
            free = format!("{stem}{last:02}");
        }
        self.given.insert(free.clone());
        free
    }
}
