//! Of which papers the pieces are cut that may be of either of several.

use super::{Leaf, Plan};
use crate::cuts::Tree;
use std::collections::BTreeMap;

impl Plan {
    /// How many of a piece are cut from each of its papers, in the order of their names.
    pub fn cut_by_paper(&self, piece: &str) -> BTreeMap<&str, u64> {
        let mut counts = BTreeMap::new();
        let is_it = |leaf: &&Leaf| matches!(leaf, Leaf::Piece(id, _) if id == piece);
        for run in &self.runs {
            let sheet = self.sheets.iter().find(|sheet| sheet.id == run.sheet);
            let each = run.layout.leaves().filter(is_it).count() as u64;
            if let (Some(sheet), 1..) = (sheet, each) {
                *counts.entry(sheet.paper.as_str()).or_default() += each * run.count;
            }
        }
        counts
    }
}
