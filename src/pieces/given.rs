//! What recipes are told.

use crate::folds::FoldedPaper;
use crate::orders::OrderLine;
use crate::stock::{KnownPapers, Stock};
use crate::workshop::Workshop;

/// What recipes are told.
#[derive(Clone, Copy)]
pub(super) struct Given<'a> {
    pub papers: &'a KnownPapers<'a>,
    pub stock: &'a Stock,
    pub workshop: &'a Workshop,
}

impl Given<'_> {
    /// The paper of a line's card, as far as its folds go.
    pub fn folded_paper(&self, line: &OrderLine) -> FoldedPaper {
        let thickness = self.papers.heaviest(&line.papers.value).thickness;
        FoldedPaper {
            thickness: thickness.unwrap_or_default().length(),
            style: self.workshop.style(),
        }
    }
}
