//! What all ways to a plan are told, and what they answer.

use super::certificate::Certificate;
use crate::cuts::Layout;

/// Asked now and then whether time is up.
pub type Stop<'a> = &'a (dyn Fn() -> bool + Sync);

/// How much work is done for a better plan or proof.
pub struct Settings<'a> {
    /// Rounds of taking sheets out and filling up again; each way takes its part or its multiple of them.
    pub rounds: u32,
    /// A gap of one part in so many is told, but not worked on.
    pub negligible: i64,
    /// Nodes of the integer program over the patterns found.
    pub pool_nodes: u64,
    /// Nodes of a search for a proof, of which a level may make several.
    pub nodes: usize,
    /// Pairs of parts that may be looked at each time patterns are listed.
    pub list_work: usize,
    /// Steps of work for each task (counted in `meter`) after which nothing new is begun.
    pub steps: u64,
    /// The bound of a level may take so many times as many: it is worth more than better plans and proofs.
    pub bound_share: u64,
    /// Steps up to which a gap is worked on when all ways have been gone; 0 is not at all.
    pub lasting: u64,
    /// Asked now and then; once it says true, the best plan so far is taken.
    pub stop: Stop<'a>,
    /// Whether half the time is used up, which is all that level 1 may take.
    pub half: Stop<'a>,
    /// Whether to end at once: time is up, or far more steps were taken than there should be. What is half done is given
    /// up then; only where there is no plan yet, one is made up without looking long.
    pub urgent: Stop<'a>,
    /// Told what is known of level 1, as it gets better.
    pub tell: &'a (dyn Fn(Known) + Sync),
}

/// What is known of level 1: the best plan so far spends `value`, and none spends less than `bound`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Known {
    /// In units of price.
    pub value: i64,
    /// In units of price.
    pub bound: i64,
}

/// A plan for one task, with what is known of it.
pub struct Answer {
    /// Patterns cut: index of the supply, layout, sheets.
    pub runs: Vec<(usize, Layout, u64)>,
    /// Level 1.
    pub spend: Proven,
    /// Level 2.
    pub stock: Proven,
}

/// Value and bound of a level: in units of price at level 1, in units of worth at level 2.
pub struct Proven {
    /// What the plan costs.
    pub value: i64,
    /// What every plan costs at least.
    pub bound: i64,
    /// Whether the bound is higher than the certificate's: it then rests on a search, which is complete where
    /// value and bound are the same.
    pub complete_search: bool,
    /// The whole numbers that prove a bound.
    pub certificate: Certificate,
    /// What was tried last; `None` where nothing had to be.
    pub tried: Option<Tried>,
}

/// What was tried for better plans and proofs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tried {
    /// The way that was gone.
    pub way: Way,
    /// How often the ways had been gone again by then, each time with more patience.
    pub again: u32,
}

/// A way to better plans or proofs, named by the file that goes it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// The packs first, then patterns for them (`purchase`).
    Purchase,
    /// Every purchase within the budget by itself (`purchase`).
    EachPurchase,
    /// The whole part of the relaxed plan, again and again (`rounding`).
    Dive,
    /// A search among all patterns that matter (`listed`).
    List,
    /// A search that makes its patterns on the way (`search`).
    Search,
    /// Sheet by sheet (`descent`).
    Descend,
    /// Rounding, and the integer program over the patterns found (`rounding`).
    Improve,
    /// Small parts of the plan anew (`refine`).
    Refine,
}

/// A small generator of repeatable chance (xorshift, Marsaglia 2003, Journal of Statistical Software 8).
pub(super) struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Chance {
        Chance(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// A whole number from `least` to `most`.
    pub fn between(&mut self, least: i64, most: i64) -> i64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let span = (most - least).max(0) as u64 + 1;
        least + (self.0 % span) as i64
    }
}
