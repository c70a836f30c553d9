//! The last of sets put end to end that can still be made.
//!
//! Sets are asked for from above, as long as what rules them out rules out others, too: that leaps to what the relaxed
//! program allows. Where the first question finds no answer, the stock is filled with fewer sets and more, which is soon
//! done. Then the middle is asked for. Where no answer is found, lower sets that can be made are looked for, then higher
//! ones that cannot; last, the first set in doubt gets more steps than the others.

use crate::program::{Inquiry, Settings, StockFilling};

/// How far one comes with sets put end to end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Reach {
    /// So many can be made.
    pub found: u64,
    /// So many cannot; it is above `found`.
    pub ruled_out: u64,
}

impl Reach {
    /// That of two groups of papers which both have to be enough.
    pub fn and(self, other: Reach) -> Reach {
        Reach { found: self.found.min(other.found), ruled_out: self.ruled_out.min(other.ruled_out) }
    }

    /// That of the rest behind so many sets, all of which can be made.
    pub fn after(self, sets: u64) -> Reach {
        Reach { found: self.found - sets, ruled_out: self.ruled_out - sets }
    }

    /// Whether nothing lies between both.
    fn is_closed(self) -> bool {
        self.found + 1 >= self.ruled_out
    }
}

/// The part of its steps that a search gives to one question, as a rule.
const QUESTION: u64 = 6;
/// The part of the steps left that it gives to a question in doubt at last.
const LAST: u64 = 2;

/// A search that has not begun.
pub(super) struct ReachSearch<'a, 'b> {
    pub inquiry: &'a mut Inquiry,
    /// The pieces of so many sets, by item.
    pub pieces: &'a dyn Fn(u64) -> Vec<u64>,
    /// How questions are asked.
    pub asking: Settings<'b>,
    pub times: StepEnds,
}

/// Steps of an inquiry after which something ends.
#[derive(Clone, Copy)]
pub(super) struct StepEnds {
    /// No more questions are asked.
    pub asking: u64,
    /// What is known already is not even looked up.
    pub all: u64,
    /// So many steps have to be left for a question to be worth asking.
    pub least: u64,
}

/// Sets that were asked for in vain: the fewest and the most.
#[derive(Clone, Copy)]
struct Doubt {
    least: u64,
    most: u64,
}

impl ReachSearch<'_, '_> {
    /// How far one comes, from so many sets that can be made up to so many.
    pub fn run(mut self, least: u64, most: u64) -> Reach {
        let reach = Reach { found: least.min(most), ruled_out: most + 1 };
        if !self.is_before(self.times.all) {
            return reach;
        }
        self.asked(reach)
    }

    /// How far one comes by asking, from what is known on.
    fn asked(&mut self, reach: Reach) -> Reach {
        let mut reach = self.known(reach);
        let question = self.left() / QUESTION;
        let mut doubt: Option<Doubt> = None;
        let mut leaps = true;
        while !reach.is_closed() && self.may_ask() {
            doubt = doubt.filter(|it| reach.found < it.most && it.least < reach.ruled_out);
            let Some(at) = next(reach, doubt, leaps) else {
                return self.last(reach);
            };
            match self.ask(at, question) {
                Some(_) => {
                    let closer = self.known(reach);
                    // One less each time would be a long way down.
                    leaps &= doubt.is_none() && closer.ruled_out + 1 < reach.ruled_out;
                    reach = closer;
                }
                None => {
                    reach = match doubt {
                        None => self.filled(reach),
                        Some(_) => self.known(reach),
                    };
                    let (least, most) = doubt.map_or((at, at), |it| (it.least, it.most));
                    doubt = Some(Doubt { least: least.min(at), most: most.max(at) });
                    leaps = false;
                }
            }
        }
        match doubt {
            None if !reach.is_closed() => self.filled(reach),
            _ => reach,
        }
    }

    /// How far one comes by filling the stock alone, half the way each time.
    fn filled(&mut self, reach: Reach) -> Reach {
        let mut reach = self.known(reach);
        let mut end = reach.ruled_out;
        let begun = self.inquiry.steps();
        let most = begun + self.times.all.saturating_sub(begun) / 2;
        while reach.found + 1 < end && self.is_before(most) {
            let middle = reach.found + (end - reach.found) / 2;
            if self.fill(middle) {
                reach = self.known(reach);
                end = end.max(reach.found + 1);
            } else {
                end = middle;
            }
        }
        // Questions have as many steps as without that.
        self.times.asking += self.inquiry.steps() - begun;
        self.known(reach)
    }

    /// Whether filling the stock brings so many sets to light.
    fn fill(&mut self, sets: u64) -> bool {
        let counts = &(self.pieces)(sets);
        let (settled, worth) = (&vec![0; counts.len()], &vec![1; counts.len()]);
        self.inquiry.fill(&StockFilling { settled, counts, worth }, &self.asking);
        self.inquiry.known(counts) == Some(true)
    }

    /// Gives the first set in doubt what is left.
    fn last(&mut self, reach: Reach) -> Reach {
        let mut reach = reach;
        while !reach.is_closed() && self.may_ask() {
            if self.ask(reach.found + 1, self.left() / LAST).is_none() {
                break;
            }
            reach = self.known(reach);
        }
        reach
    }

    /// Steps until no more questions are asked.
    fn left(&self) -> u64 {
        self.times.asking.saturating_sub(self.inquiry.steps())
    }

    fn may_ask(&self) -> bool {
        self.is_before(self.times.asking) && self.left() >= self.times.least
    }

    fn is_before(&self, end: u64) -> bool {
        !(self.asking.stop)() && self.inquiry.steps() < end
    }

    fn ask(&mut self, sets: u64, steps: u64) -> Option<bool> {
        let pieces = (self.pieces)(sets);
        self.inquiry.ask(&pieces, &Settings { steps, ..self.asking })
    }

    /// How far one comes by what is known already.
    fn known(&self, Reach { found, ruled_out }: Reach) -> Reach {
        let known = |sets: u64| self.inquiry.known(&(self.pieces)(sets));
        let found = last(found, ruled_out, |sets| known(sets) == Some(true));
        let ruled_out = last(found, ruled_out, |sets| known(sets) != Some(false)) + 1;
        Reach { found, ruled_out }
    }
}

/// The last number from `least` on and below `end` of which something holds that holds of `least` and, once it does not, of
/// no larger one.
fn last(least: u64, end: u64, holds: impl Fn(u64) -> bool) -> u64 {
    let (mut least, mut end) = (least, end);
    while least + 1 < end {
        let middle = least + (end - least) / 2;
        if holds(middle) { least = middle } else { end = middle }
    }
    least
}

/// What to ask for next; `None` where all that is open was asked for in vain.
fn next(reach: Reach, doubt: Option<Doubt>, leaps: bool) -> Option<u64> {
    let Reach { found, ruled_out } = reach;
    let below = doubt.map_or(ruled_out, |it| it.least.max(found + 1));
    match doubt {
        None if leaps => Some(ruled_out - 1),
        _ if found + 1 < below => Some(found + (below - found) / 2),
        Some(Doubt { most, .. }) if most + 1 < ruled_out => Some(most + (ruled_out - most) / 2),
        _ => None,
    }
}
