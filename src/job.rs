//! What a batch is made from, once it is read.

use crate::diagnostics::Problems;
use crate::orders::{Order, SetCount};
use crate::pieces::{self, Before, Bill};
use crate::stock::Stock;
use crate::workshop::Workshop;
use std::collections::BTreeMap;

/// An order, and what there is to make it with.
#[derive(Clone, Debug)]
pub struct Job {
    /// What was ordered.
    pub order: Order,
    /// What there is, at hand and in the shop.
    pub stock: Stock,
    /// The bench, its rules and its rates.
    pub workshop: Workshop,
    /// What it takes.
    pub bill: Bill,
    /// What earlier plans of the batch have come to, where this one makes the rest of it.
    pub before: Option<Before>,
    /// Where the order is only that part of another which the paper is enough for: how much of each line that is, in
    /// the order in which they come first. Else empty.
    pub part: Vec<SetCount>,
}

impl Job {
    /// The same with its bill, which [`pieces::pieces`] makes.
    pub fn new(mut order: Order, stock: Stock, workshop: Workshop, problems: &mut Problems) -> Job {
        order.name_envelopes(|name| stock.envelope(name).is_some());
        let bill = pieces::pieces(&order, &stock, &workshop, problems);
        Job { order, stock, workshop, bill, before: None, part: Vec::new() }
    }

    /// The rest of it, once this was done before. What was done of pieces that are not as they were is a problem.
    #[must_use]
    pub fn after(mut self, before: Option<Before>, problems: &mut Problems) -> Job {
        if let Some(before) = &before {
            self.bill.take_off(before, &self.stock, problems);
        }
        Job { before, ..self }
    }

    /// Sets that are made of each line of which fewer are made than ordered.
    pub fn sets(&self) -> BTreeMap<String, u64> {
        let short = self.part.iter().filter(|count| !count.is_all());
        short.map(|count| (count.line.clone(), count.found)).collect()
    }
}
