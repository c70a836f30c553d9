//! The order of cuts with the fewest gauge settings.
//!
//! All sheets of a batch are cut together. Cuts have a gauge and cuts that come before them. Whenever the gauge is set,
//! all cuts that can be made at it are made, of whatever run: leaving one out never helps. So an order is a sequence of
//! settings. That is a shortest common supersequence of many trees, which is hard, but has two easy sides: a gauge that
//! is never wanted again after a setting is set at once, since later would do no better; and no order has fewer
//! settings than there are gauges. The schedule states both numbers.
//!
//! Between these, the search goes through the sets of cuts that are done after one, two, three … settings. Where no
//! gauge can be set at once, all that can be set are tried, and where there are too many sets, those are kept in which
//! the fewest gauges are still wanted. Where none ever had to be left out, no order has fewer settings. Of orders with
//! as few, one with the least handling is taken; how often the knife comes down does not hang on the order.

use super::cuts::GaugeCut;
use crate::measure::Length;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// Sets of cuts kept per setting, times cuts, times gauges.
const EFFORT: usize = 2_000_000;
/// Most sets of cuts kept per setting.
const WIDEST: usize = 24;

/// The cuts in an order that keeps all that comes before what, with as few changes of the gauge as
/// were found.
pub(super) fn order(cuts: &[GaugeCut]) -> Vec<usize> {
    let work = Queue::new(cuts);
    let orders = work.settings().into_iter().map(|settings| work.ordered(&settings));
    orders.min_by_key(|order| handling(cuts, order)).unwrap_or_default()
}

/// How often the gauge is set in such an order.
pub(super) fn settings(cuts: &[GaugeCut]) -> usize {
    Queue::new(cuts).settings().first().map_or(0, Vec::len)
}

/// How often something is turned or put aside: cuts in another direction than the one before, and cuts
/// of something that the one before did not leave in the hand.
fn handling(cuts: &[GaugeCut], order: &[usize]) -> usize {
    let effort = |pair: &[usize]| {
        let (last, next) = (&cuts[pair[0]], &cuts[pair[1]]);
        usize::from(last.axis != next.axis) + usize::from(!next.after.contains(&pair[0]))
    };
    order.windows(2).map(effort).sum()
}

/// The cuts by gauge, and what waits for what.
struct Queue<'a> {
    cuts: &'a [GaugeCut],
    /// Distances: those of the longest cuts first, then the large ones.
    gauges: Vec<Length>,
    /// The place of each cut's gauge among them.
    gauge_of: Vec<usize>,
    /// The cuts that wait for each cut.
    next: Vec<Vec<usize>>,
}

/// What is done and what can be done.
#[derive(Clone)]
struct State {
    /// Cuts that each cut still waits for; `DONE` once it is made.
    waiting: Vec<u32>,
    /// Cuts that can be made, by gauge.
    ready: Vec<Vec<usize>>,
    /// Cuts not made yet, by gauge.
    left: Vec<usize>,
    /// How far it is from the end.
    merit: Remaining,
    /// The settings so far.
    settings: Vec<usize>,
}

const DONE: u32 = u32::MAX;

/// How far a state is from the end: gauges still wanted, then cuts still to make.
type Remaining = (usize, usize);

impl<'a> Queue<'a> {
    fn new(cuts: &'a [GaugeCut]) -> Queue<'a> {
        let mut longest: BTreeMap<Length, Length> = BTreeMap::new();
        for cut in cuts {
            let length = longest.entry(cut.gauge).or_insert(cut.length);
            *length = cut.length.max(*length);
        }
        let mut gauges: Vec<Length> = longest.keys().copied().collect();
        gauges.sort_by_key(|gauge| Reverse((longest[gauge], *gauge)));
        let places: BTreeMap<Length, usize> = gauges.iter().copied().zip(0..).collect();
        let gauge_of = cuts.iter().map(|cut| places[&cut.gauge]).collect();
        let mut next = vec![Vec::new(); cuts.len()];
        for (number, cut) in cuts.iter().enumerate() {
            cut.after.iter().for_each(|before| next[*before].push(number));
        }
        Queue { cuts, gauges, gauge_of, next }
    }

    fn start(&self) -> State {
        let mut state = State {
            waiting: self.cuts.iter().map(|cut| cut.after.len() as u32).collect(),
            ready: vec![Vec::new(); self.gauges.len()],
            left: vec![0; self.gauges.len()],
            merit: (self.gauges.len(), self.cuts.len()),
            settings: Vec::new(),
        };
        for (number, &gauge) in self.gauge_of.iter().enumerate() {
            state.left[gauge] += 1;
            if state.waiting[number] == 0 {
                state.ready[gauge].push(number);
            }
        }
        state
    }

    /// Few settings after which all is cut; all ways that were found which have as few.
    fn settings(&self) -> Vec<Vec<usize>> {
        let width = EFFORT / (self.cuts.len() * self.gauges.len()).max(1);
        let width = width.clamp(1, WIDEST);
        let mut level = vec![self.start()];
        loop {
            let done = level.iter().filter(|state| state.merit.0 == 0);
            let done: Vec<Vec<usize>> = done.map(|state| state.settings.clone()).collect();
            if !done.is_empty() {
                return done;
            }
            let mut offers: Vec<(Remaining, usize, usize)> = Vec::new();
            for (at, state) in level.iter().enumerate() {
                offers.extend(self.offers(state).map(|(merit, gauge)| (merit, at, gauge)));
            }
            // Where cuts wait for each other, which no tree brings about, nothing is left to set.
            if offers.is_empty() {
                return vec![level.swap_remove(0).settings];
            }
            // Where there is one way on, as there mostly is, nothing has to be kept of the way there.
            if let (&[(_, 0, gauge)], [only]) = (&offers[..], &mut level[..]) {
                self.set(only, gauge);
                continue;
            }
            offers.sort_unstable();
            level = self.best(&level, &offers, width);
        }
    }

    /// The states after the best offers, none twice but those in which all is cut.
    fn best(
        &self,
        level: &[State],
        offers: &[(Remaining, usize, usize)],
        width: usize,
    ) -> Vec<State> {
        let mut seen = BTreeSet::new();
        let mut next = Vec::new();
        for &(_, at, gauge) in offers {
            let mut state = level[at].clone();
            self.set(&mut state, gauge);
            if seen.insert(state.waiting.clone()) || state.merit.0 == 0 {
                next.push(state);
            }
            if next.len() == width {
                break;
            }
        }
        next
    }

    /// What can be set, and how far from the end that leads: one gauge that is not wanted again, if
    /// there is one.
    fn offers(&self, state: &State) -> impl Iterator<Item = (Remaining, usize)> {
        let (gauges, cuts) = state.merit;
        let able = (0..self.gauges.len()).filter(|&gauge| !state.ready[gauge].is_empty());
        let mut offers = Vec::new();
        for gauge in able {
            let made = self.made(state, gauge);
            let ends = made == state.left[gauge];
            let offer = ((gauges - usize::from(ends), cuts - made), gauge);
            if ends {
                offers = vec![offer];
                break;
            }
            offers.push(offer);
        }
        offers.into_iter()
    }

    /// How many cuts are made when the gauge is set so.
    fn made(&self, state: &State, gauge: usize) -> usize {
        let mut made = state.ready[gauge].clone();
        let mut freed: BTreeMap<usize, u32> = BTreeMap::new();
        let mut at = 0;
        while let Some(&cut) = made.get(at) {
            at += 1;
            for &next in self.next[cut].iter().filter(|&&next| self.gauge_of[next] == gauge) {
                let freed = freed.entry(next).or_insert(0);
                *freed += 1;
                if *freed == state.waiting[next] {
                    made.push(next);
                }
            }
        }
        made.len()
    }

    /// Sets the gauge and makes all cuts at it.
    fn set(&self, state: &mut State, gauge: usize) {
        state.settings.push(gauge);
        while let Some(cut) = state.ready[gauge].pop() {
            self.make(state, cut);
        }
    }

    /// Makes a cut that is ready, already taken from the list.
    fn make(&self, state: &mut State, cut: usize) {
        let left = &mut state.left[self.gauge_of[cut]];
        *left -= 1;
        state.merit = (state.merit.0 - usize::from(*left == 0), state.merit.1 - 1);
        state.waiting[cut] = DONE;
        for &next in &self.next[cut] {
            state.waiting[next] -= 1;
            if state.waiting[next] == 0 {
                state.ready[self.gauge_of[next]].push(next);
            }
        }
    }

    /// The cuts in the order of these settings: at each, what needs no turn of the stack first, then
    /// what is in the hand already, then long cuts.
    fn ordered(&self, settings: &[usize]) -> Vec<usize> {
        let mut state = self.start();
        let mut order: Vec<usize> = Vec::new();
        for &gauge in settings {
            loop {
                let last = order.last().copied();
                let key = |&at: &usize| {
                    let cut = state.ready[gauge][at];
                    let own = &self.cuts[cut];
                    let turned = last.is_some_and(|last| self.cuts[last].axis != own.axis);
                    let taken = last.is_none_or(|last| !own.after.contains(&last));
                    (turned, taken, Reverse(own.length), cut)
                };
                let Some(place) = (0..state.ready[gauge].len()).min_by_key(key) else { break };
                let cut = state.ready[gauge].swap_remove(place);
                self.make(&mut state, cut);
                order.push(cut);
            }
        }
        order
    }
}

#[cfg(test)]
mod tests {
    use super::super::cuts::CutOf;
    use super::*;
    use crate::measure::Axis;
    use proptest::prelude::*;

    fn cut(gauge: i64, after: &[usize]) -> GaugeCut {
        GaugeCut {
            of: CutOf::Plates(0),
            axis: Axis::Width,
            gauge: Length::from_mm(gauge),
            length: Length::from_mm(10),
            strips: Vec::new(),
            after: after.to_vec(),
        }
    }

    fn counted(cuts: &[GaugeCut], order: &[usize]) -> usize {
        let mut gauge = None;
        let moved =
            |number: &&usize| gauge.replace(cuts[**number].gauge) != Some(cuts[**number].gauge);
        order.iter().filter(moved).count()
    }

    /// Fewest settings over all orders, by trying them all.
    fn fewest(cuts: &[GaugeCut], order: &mut Vec<usize>, best: &mut usize) {
        if order.len() == cuts.len() {
            *best = (*best).min(counted(cuts, order));
        }
        for number in 0..cuts.len() {
            let ready = cuts[number].after.iter().all(|before| order.contains(before));
            if ready && !order.contains(&number) {
                order.push(number);
                fewest(cuts, order, best);
                order.pop();
            }
        }
    }

    #[test]
    fn waits_for_a_later_stack_of_the_same_gauge() {
        // 3 is ready at once, but 2 at the same gauge only after 0 and 1.
        let cuts = [cut(50, &[]), cut(40, &[0]), cut(30, &[1]), cut(30, &[])];
        assert_eq!(order(&cuts), [0, 1, 2, 3]);
    }

    #[test]
    fn turning_and_putting_aside_are_handling() {
        let mut cuts = [cut(50, &[]), cut(40, &[0]), cut(30, &[1]), cut(20, &[])];
        assert_eq!(handling(&cuts, &[0, 1, 2]), 0);
        assert_eq!(handling(&cuts, &[0, 3, 1, 2]), 2, "3 and 1 come from elsewhere");
        cuts[2].axis = Axis::Height;
        assert_eq!(handling(&cuts, &[0, 1, 2, 3]), 3, "2 is turned, 3 turned and from elsewhere");
    }

    /// One strip wants 50 and then 40, another 40 and then 50: either gauge may be set first.
    #[test]
    fn all_ways_with_as_few_settings_are_found() {
        let cuts = [cut(50, &[]), cut(40, &[0]), cut(40, &[]), cut(50, &[2])];
        let work = Queue::new(&cuts);
        assert_eq!(work.settings(), [vec![0, 1, 0], vec![1, 0, 1]]);
    }

    /// What is freed at the same gauge is cut at once, where it waits for nothing else.
    #[test]
    fn a_setting_makes_all_that_follows_at_its_gauge() {
        let made = |cuts: &[GaugeCut]| {
            let work = Queue::new(cuts);
            work.made(&work.start(), 0)
        };
        assert_eq!(made(&[cut(50, &[]), cut(50, &[0]), cut(50, &[1])]), 3);
        assert_eq!(made(&[cut(50, &[]), cut(50, &[]), cut(50, &[0, 1])]), 3);
        assert_eq!(made(&[cut(50, &[]), cut(40, &[]), cut(50, &[0, 1])]), 1);
    }

    #[test]
    fn at_one_gauge_cuts_without_a_turn_come_first() {
        let mut cuts = [cut(50, &[]), cut(50, &[]), cut(50, &[])];
        cuts[1].axis = Axis::Height;
        assert_eq!(order(&cuts), [0, 2, 1]);
    }

    #[test]
    fn nothing_to_cut_is_no_order() {
        assert_eq!(order(&[]), Vec::<usize>::new());
    }

    proptest! {
        #[test]
        fn no_order_has_fewer_settings(
            shape in prop::collection::vec((1_i64..4, prop::option::of(any::<prop::sample::Index>())), 1..8),
        ) {
            let cuts: Vec<GaugeCut> = shape.iter().enumerate().map(|(number, (gauge, before))| {
                let before = before.filter(|_| number > 0).map(|before| before.index(number));
                cut(*gauge, before.as_slice())
            }).collect();
            let found = order(&cuts);
            let mut best = usize::MAX;
            fewest(&cuts, &mut Vec::new(), &mut best);
            prop_assert_eq!(counted(&cuts, &found), best);
            prop_assert_eq!(settings(&cuts), best);
        }
    }
}
