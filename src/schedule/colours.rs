//! Which cards of a line that takes either of several papers are of which: each line in turn gets as many as it has sets,
//! one paper after the other, and what is left over are spares.

use crate::diagnostics::listed;
use crate::orders::OrderLine;
use crate::pieces::{Bill, Part};
use crate::plan::Plan;
use std::collections::BTreeMap;

/// What the layouts yield of cards of several papers, as far as no line has them yet.
pub(super) struct Colours<'a> {
    /// By the id of the piece and by paper.
    left: BTreeMap<&'a str, BTreeMap<&'a str, u64>>,
    /// The piece of each line's card.
    cards: BTreeMap<&'a str, &'a str>,
}

impl<'a> Colours<'a> {
    /// All that a plan cuts.
    pub fn of(plan: &'a Plan, bill: &'a Bill) -> Colours<'a> {
        let mixed = || {
            bill.pieces.iter().filter(|piece| piece.part == Part::Card && piece.papers.len() > 1)
        };
        let left = mixed().map(|piece| (piece.id.as_str(), plan.cut_by_paper(&piece.id)));
        let cards = mixed().flat_map(|piece| {
            piece.shares.iter().map(|share| (share.line.as_str(), piece.id.as_str()))
        });
        Colours { left: left.collect(), cards: cards.collect() }
    }

    /// The papers of a line's cards: `fern`, or `14 fern and 10 moss`.
    pub fn take(&mut self, line: &OrderLine) -> String {
        let either = || line.papers.value.join(" or ");
        let card = self.cards.get(line.name.value.as_str());
        let Some(left) = card.and_then(|card| self.left.get_mut(card)) else { return either() };
        let mut wanted = line.count.value;
        if left.values().sum::<u64>() < wanted {
            return either();
        }
        let mut taken = Vec::new();
        for (paper, left) in left {
            let count = wanted.min(*left);
            wanted -= count;
            *left -= count;
            taken.extend((count > 0).then_some((*paper, count)));
        }
        match taken.as_slice() {
            [(paper, _)] => (*paper).to_owned(),
            several => {
                let told = several.iter().map(|(paper, count)| format!("{count} {paper}"));
                listed(&told.collect::<Vec<_>>())
            }
        }
    }
}
