//! The last of sets put end to end that can still be made.
//!
//! Sets are asked for from above, as long as what rules them out rules out others, too: that leaps to what the relaxed
//! program allows. Then the middle is asked for. Where no answer is found, it is looked for lower sets that can be made,
//! then for higher ones that cannot; last, the first set in doubt gets more steps than the others.

use crate::program::{Inquiry, Settings};

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

/// The part of all steps that one question gets, as a rule.
const QUESTION: u64 = 10;
/// The part of the steps left that a question in doubt gets at last.
const LAST: u64 = 3;

/// A search that has not begun.
pub(super) struct Search<'a, 'b> {
    pub inquiry: &'a mut Inquiry,
    /// The pieces of so many sets, by item.
    pub pieces: &'a dyn Fn(u64) -> Vec<u64>,
    /// How questions are asked; the steps are those of all of them.
    pub asking: Settings<'b>,
    /// Steps of the inquiry after which nothing more is asked.
    pub end: u64,
}

/// Sets that were asked for in vain: the fewest and the most.
#[derive(Clone, Copy)]
struct Doubt {
    least: u64,
    most: u64,
}

impl Search<'_, '_> {
    /// How far one comes, up to so many sets.
    pub fn run(mut self, most: u64) -> Reach {
        let mut reach = Reach { found: 0, ruled_out: most + 1 };
        let mut doubt: Option<Doubt> = None;
        let mut leaps = true;
        while self.has_time(2) {
            reach = self.known(reach);
            doubt = doubt.filter(|it| reach.found < it.most && it.least < reach.ruled_out);
            if reach.is_closed() || !self.has_time(1) {
                break;
            }
            let Some(at) = next(reach, doubt, leaps) else {
                return self.last(reach);
            };
            leaps &= doubt.is_none();
            match self.ask(at, self.asking.steps / QUESTION) {
                Some(_) => {
                    let closer = self.known(reach);
                    // One less each time would be a long way down.
                    leaps &= closer.ruled_out + 1 < reach.ruled_out;
                    reach = closer;
                }
                None => {
                    let (least, most) = doubt.map_or((at, at), |it| (it.least, it.most));
                    doubt = Some(Doubt { least: least.min(at), most: most.max(at) });
                    leaps = false;
                }
            }
        }
        reach
    }

    /// Gives the first set in doubt what is left.
    fn last(&mut self, reach: Reach) -> Reach {
        let mut reach = reach;
        while !reach.is_closed() && self.has_time(1) {
            let left = self.end.saturating_sub(self.inquiry.steps());
            if self.ask(reach.found + 1, left / LAST).is_none() {
                break;
            }
            reach = self.known(reach);
        }
        reach
    }

    /// Whether less than `times` its steps are used, and nobody has called it off.
    fn has_time(&self, times: u64) -> bool {
        let over = self.inquiry.steps().saturating_sub(self.end);
        !(self.asking.stop)() && over <= self.asking.steps * (times - 1)
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
