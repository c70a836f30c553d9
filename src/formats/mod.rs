//! The tables of the trade, with a source per row.
//!
//! In: a name. Out: what it stands for. It knows nothing of orders.

mod cards;

pub use cards::{CardFormat, alike, card, names};

/// Names of the postal rule sets.
pub const POST_RULES: [&str; 1] = ["usps"];
