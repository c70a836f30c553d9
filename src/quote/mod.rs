//! What a batch costs and should sell for, and whether the post takes it.
//!
//! In: order, bill, checked plan, schedule, stock and workshop. Out: a [`Quote`]. It decides nothing and knows nothing
//! of files.
//!
//! All money is whole minor units, and parts add up: a total is rounded once, to the nearest minor unit, and then
//! shared by largest remainder. Paper, an exact fraction until then, is shared by the area of a line's pieces on each
//! paper, work by the seconds that a line takes in each stage, overhead and margin by what they are on:
//! `price = cost / (1 − margin)`.

mod asked;
mod costs;
mod set;
mod share;

pub use asked::CustomerTotals;
pub use set::{FinishedSet, PostAnswer, RoomierEnvelope};
pub use share::shared;

use crate::made::Made;
use crate::measure::{Money, Percent, Ratio};
use crate::pieces::Piece;
use std::collections::BTreeMap;

/// What a batch costs.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Quote {
    /// Line by line, in the order of the order.
    pub lines: Vec<LineQuote>,
    /// The whole batch: the sums of the lines.
    pub total: Costs,
    /// What the customer is asked for.
    pub asked: CustomerTotals,
    /// Papers that no sheet of the stock has a price for, and supplies without one: what was used of them is not counted.
    pub unpriced: Vec<String>,
}

impl Quote {
    /// The lines that cost more than resellers pay for them.
    pub fn below_cost(&self) -> Vec<String> {
        let is_below =
            |line: &&LineQuote| line.wholesale.is_some_and(|price| price < line.costs.cost());
        self.lines.iter().filter(is_below).map(|line| line.line.clone()).collect()
    }
}

/// What a line costs.
#[derive(Clone, Debug, PartialEq)]
pub struct LineQuote {
    /// Its name.
    pub line: String,
    /// Cards ordered.
    pub cards: u64,
    /// What they cost.
    pub costs: Costs,
    /// What resellers pay for them; `None` where there are none.
    pub wholesale: Option<Money>,
    /// One of them, ready for the post.
    pub set: FinishedSet,
}

/// The parts of a price.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Costs {
    /// Paper used, less what is kept.
    pub paper: Money,
    /// Envelopes bought.
    pub envelopes: Money,
    /// Ribbon, seals and the like.
    pub sundries: Money,
    /// What finishes cost beside the work.
    pub finishes: Money,
    /// Work at the bench.
    pub labour: Money,
    /// On all of these.
    pub overhead: Money,
    /// What is earned.
    pub margin: Money,
}

impl Costs {
    /// All but the margin.
    pub fn cost(&self) -> Money {
        let bought = self.paper + self.envelopes + self.sundries + self.finishes;
        bought + self.labour + self.overhead
    }

    /// What it should sell for.
    pub fn price(&self) -> Money {
        self.cost() + self.margin
    }

    fn and(self, other: Costs) -> Costs {
        Costs {
            paper: self.paper + other.paper,
            envelopes: self.envelopes + other.envelopes,
            sundries: self.sundries + other.sundries,
            finishes: self.finishes + other.finishes,
            labour: self.labour + other.labour,
            overhead: self.overhead + other.overhead,
            margin: self.margin + other.margin,
        }
    }
}

/// Counts of which a price is told.
pub const STEPS: [u64; 4] = [25, 50, 100, 200];

/// What a line would sell for in other counts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LinePrices {
    /// For each of [`STEPS`], the line ordered alone: the price of all its cards; `None` where there is too little
    /// paper.
    pub steps: [Option<Money>; STEPS.len()],
    /// What the batch would sell for more with one more card of the line, never below zero; `None` likewise.
    pub one_more: Option<Money>,
    /// The sheets that one more card takes more of.
    pub takes: Vec<MoreSheets>,
}

/// Sheets of one kind that another plan takes beyond those of this one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MoreSheets {
    /// Their name.
    pub sheet: String,
    /// How many more are cut.
    pub used: u64,
    /// How many more packs are bought.
    pub packs: u64,
    /// Sheets in a pack.
    pub pack: u64,
}

/// What the whole batch would cost if one paper were bought otherwise, planned anew.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherBuying {
    /// How it would be bought.
    pub how: Bought,
    /// The sheet that it is about.
    pub sheet: String,
    /// Its paper.
    pub paper: String,
    /// Money for all packs, that one too; `None` where the order could not be made.
    pub spend: Option<Money>,
    /// What all paper used is worth, in minor units; `None` likewise.
    pub stock: Option<Ratio>,
    /// Whether it is proven that nobody who buys so pays less.
    pub proven: bool,
}

/// How a paper would be bought otherwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bought {
    /// One pack of the sheet more, whatever else then is bought less.
    OneMore,
    /// The sheet alone, none of the paper's others.
    Alone,
}

/// The pieces of each line, with how many it needs of them, spares too.
type Needs<'a> = Vec<Vec<(&'a Piece, u64)>>;

/// What a planned batch costs, line by line.
pub fn quote(made: &Made) -> Quote {
    let needs = needs(made);
    let costs = costs::of_lines(made, &needs);
    let total = costs.iter().fold(Costs::default(), |sum, costs| sum.and(*costs));
    let mut sets = set::of_lines(made, &needs);
    let rates = &made.job.workshop.rates;
    let wholesale = rates.wholesale_percent;
    let lines = made.job.order.lines.iter().zip(costs);
    let lines = lines.map(|(line, costs)| LineQuote {
        line: line.name.value.clone(),
        cards: line.count.value,
        costs,
        wholesale: wholesale.map(|percent| asked::share(costs.price(), Percent::whole(percent))),
        set: sets.remove(line.name.value.as_str()).unwrap_or_default(),
    });
    let asked = CustomerTotals::of(total.price(), rates);
    Quote { lines: lines.collect(), total, asked, unpriced: costs::unpriced(made) }
}

fn needs<'a>(made: &'a Made) -> Needs<'a> {
    let lines = made.job.order.lines.iter().enumerate().rev();
    // Of lines with one name the first counts, so it comes last here.
    let lines: BTreeMap<&str, usize> =
        lines.map(|(at, line)| (line.name.value.as_str(), at)).collect();
    let mut needs: Needs = vec![Vec::new(); made.job.order.lines.len()];
    for piece in &made.job.bill.pieces {
        for share in &piece.shares {
            if let Some(&line) = lines.get(share.line.as_str()) {
                needs[line].push((piece, share.need + share.spares));
            }
        }
    }
    needs
}
