//! What the judge says of a plan in which it finds no fault.

use crate::measure::Ratio;
use std::fmt;

/// What is not proven of a sound plan. What stands in neither list is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Verdict {
    /// Bounds that are higher than their certificates prove: they rest on a search, which is not made again.
    pub searched: Vec<OnTrust>,
    /// What could not be looked at, since nobody said what it should be.
    pub unseen: Vec<Unseen>,
}

/// A bound that rests on a search.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OnTrust {
    /// The papers, joined by `|`.
    pub papers: String,
    /// `spend` or `stock`.
    pub level: &'static str,
    /// The bound, in units.
    pub bound: i64,
    /// What the certificate proves, in units.
    pub proven: i128,
    /// Minor units to a unit; `None` where area counts.
    pub unit: Option<Ratio>,
}

/// What a plan alone does not show.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unseen {
    /// Whether its pieces are those of the order.
    Order,
    /// Sheets of its papers that it neither uses nor buys.
    OtherSheets,
    /// Whether its sheets are what it says they are.
    Stock,
    /// The worth of offcuts, of those used and those kept, and of sheets without a price.
    Worth,
    /// Prints that forbid a turn on some sheets of a paper, and not on others.
    Prints,
    /// Grain, and how it lets folds lie.
    Grain,
    /// How often the gauge is set: the schedule alone knows.
    Settings,
    /// Whether its sheets are rough: it was made when all full sheets were taken to be.
    Edges,
    /// Whether layers lie along the fold of their card: it was made when they lay as they would.
    Layers,
    /// Whether the bounds hold, since grain and print decide how pieces may lie.
    Bounds,
}

impl fmt::Display for Unseen {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(match self {
            Unseen::Order => "the order (pieces, sizes, score lines, counts)",
            Unseen::OtherSheets => "sheets that the plan does not use",
            Unseen::Stock => "the stock (what is on hand, prices)",
            Unseen::Worth => "the worth of offcuts and of sheets without a price",
            Unseen::Prints => "prints on only some sheets of a paper",
            Unseen::Grain => "the grain",
            Unseen::Settings => "the number of gauge settings (at most one a cut)",
            Unseen::Edges => "whether the full sheets have rough edges (it squares all of them)",
            Unseen::Layers => {
                "whether layers lie along the fold of their card (it says nothing of them)"
            }
            Unseen::Bounds => "the limits, which depend on grain and print",
        })
    }
}
