//! The order of cuts with the fewest gauge settings, with room for so many stacks.
//!
//! All sheets of a batch are cut together. Cuts have a gauge and cuts that come before them. Where there is room, all
//! cuts that can be made at a setting are made, of whatever run: leaving one out never helps. So an order is a sequence of
//! settings. That is a shortest common supersequence of many trees, which is hard, but has two easy sides: a gauge that
//! is never wanted again after a setting is set at once, since later would do no better; and no order has fewer
//! settings than there are gauges. The schedule states both numbers.
//!
//! Between these, the search goes through the sets of cuts that are done after one, two, three … settings. Where no
//! gauge can be set at once, all that can be set are tried, and where there are too many sets, those are kept in which
//! the fewest gauges are still wanted. Where none ever had to be left out, no order has fewer settings.
//!
//! Stacks that wait take room (`trimmer.waiting`): that is the problem of open stacks, and deciding whether so many are enough is
//! hard as well (H. H. Yanasse, European Journal of Operational Research 100, 1997). Where the order above needs
//! more room than there is, `narrow.rs` looks for one that does not. An order that always makes the cut after which the
//! fewest stacks wait (as in B. J. Yuen, European Journal of Operational Research 84, 1995) is known from the
//! beginning. Of orders with as few settings, one with the least handling is taken: a paper is finished before the
//! next, and what lies in the hand is cut on. The number of cuts is the same in any order.

mod finishing;
mod lying;
mod narrow;
mod room;

use super::cuts::GaugeCut;
use crate::measure::Length;
use room::RoomSearch;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// Sets of cuts kept per setting, times cuts, times gauges.
const EFFORT: usize = 2_000_000;
/// Most sets of cuts kept per setting.
const WIDEST: usize = 24;

/// Cuts in order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Sequence {
    /// Numbers of the cuts.
    pub order: Vec<usize>,
    /// What the order takes.
    pub effort: BenchEffort,
}

/// What an order of cuts takes, and what others would.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BenchEffort {
    /// The most stacks that wait at once.
    pub waiting: u64,
    /// No order within the room there is has fewer settings.
    pub least_settings: u64,
    /// No order has fewer stacks that wait.
    pub least_waiting: u64,
    /// What the best order takes that was found for less room.
    pub with_less: Option<OrderNeeds>,
    /// What an order takes that has fewer settings, with more room.
    pub with_more: Option<OrderNeeds>,
}

/// What an order takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct OrderNeeds {
    /// How often the gauge is set.
    pub settings: u64,
    /// The most stacks that wait at once.
    pub waiting: u64,
}

/// The cuts in an order that keeps all that comes before what, with as few changes of the gauge as were found among
/// those with at most so many stacks waiting; where none was found, with few stacks waiting.
pub(super) fn order(cuts: &[GaugeCut], room: u64) -> Sequence {
    RoomSearch::new(cuts, room).run()
}

/// How often the gauge is set in an order with all the room it needs.
pub(super) fn settings(cuts: &[GaugeCut]) -> usize {
    Queue::new(cuts).settings().first().map_or(0, Vec::len)
}

/// The cuts by gauge, and what waits for what.
struct Queue<'a> {
    cuts: &'a [GaugeCut],
    /// Distances: those of the longest cuts first, then the large ones.
    gauges: Vec<Length>,
    /// The place of each cut's gauge among them.
    gauge_of: Vec<usize>,
    /// The cuts at each gauge.
    at_gauge: Vec<Vec<usize>>,
    /// The cuts that wait for each cut.
    next: Vec<Vec<usize>>,
}

/// What is done and what can be done.
#[derive(Clone)]
struct State {
    /// Cuts that each cut still waits for; `DONE` once it is made.
    waiting: Vec<u32>,
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
        let gauge_of: Vec<usize> = cuts.iter().map(|cut| places[&cut.gauge]).collect();
        let mut at_gauge = vec![Vec::new(); gauges.len()];
        gauge_of.iter().zip(0..).for_each(|(&gauge, cut)| at_gauge[gauge].push(cut));
        let mut next = vec![Vec::new(); cuts.len()];
        for (number, cut) in cuts.iter().enumerate() {
            cut.after.iter().for_each(|before| next[*before].push(number));
        }
        Queue { cuts, gauges, gauge_of, at_gauge, next }
    }

    fn start(&self) -> State {
        State {
            waiting: self.cuts.iter().map(|cut| cut.after.len() as u32).collect(),
            left: self.at_gauge.iter().map(Vec::len).collect(),
            merit: (self.gauges.len(), self.cuts.len()),
            settings: Vec::new(),
        }
    }

    /// The cuts that can be made at a gauge.
    fn ready(&self, state: &State, gauge: usize) -> impl Iterator<Item = usize> {
        self.at_gauge[gauge].iter().copied().filter(|&cut| state.waiting[cut] == 0)
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
        let able =
            (0..self.gauges.len()).filter(|&gauge| self.ready(state, gauge).next().is_some());
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
        let mut made: Vec<usize> = self.ready(state, gauge).collect();
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

    /// Sets the gauge and makes all cuts at it; gives them.
    fn set(&self, state: &mut State, gauge: usize) -> Vec<usize> {
        state.settings.push(gauge);
        let mut made: Vec<usize> = self.ready(state, gauge).collect();
        let mut at = 0;
        while let Some(&cut) = made.get(at) {
            at += 1;
            self.make(state, cut);
            let freed = self.next[cut].iter().copied();
            made.extend(
                freed.filter(|&next| self.gauge_of[next] == gauge && state.waiting[next] == 0),
            );
        }
        made
    }

    /// Makes a cut that is ready.
    fn make(&self, state: &mut State, cut: usize) {
        let left = &mut state.left[self.gauge_of[cut]];
        *left -= 1;
        state.merit = (state.merit.0 - usize::from(*left == 0), state.merit.1 - 1);
        state.waiting[cut] = DONE;
        self.next[cut].iter().for_each(|&next| state.waiting[next] -= 1);
    }

    /// The cuts of each of these settings, all that can be made at it.
    fn made_at(&self, settings: &[usize]) -> Vec<Vec<usize>> {
        let mut state = self.start();
        settings.iter().map(|&gauge| self.set(&mut state, gauge)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::cuts::CutOf;
    use super::lying::Stacks;
    use super::room::handling;
    use super::*;
    use crate::measure::Axis;
    use proptest::prelude::*;

    fn cut(gauge: i64, after: &[usize]) -> GaugeCut {
        GaugeCut {
            of: CutOf::Plates(0),
            run: 0,
            paper: 0,
            axis: Axis::Width,
            gauge: Length::from_mm(gauge),
            length: Length::from_mm(10),
            strips: Vec::new(),
            after: after.to_vec(),
        }
    }

    /// Each cut in a stack of its own.
    fn apart<const N: usize>(cuts: [GaugeCut; N]) -> [GaugeCut; N] {
        let mut kinds = 0..;
        cuts.map(|cut| GaugeCut { of: CutOf::Plates(kinds.next().unwrap()), ..cut })
    }

    /// The order with all the room there is.
    fn free(cuts: &[GaugeCut]) -> Vec<usize> {
        order(cuts, 100).order
    }

    fn counted(cuts: &[GaugeCut], order: &[usize]) -> usize {
        let mut gauge = None;
        let moved =
            |number: &&usize| gauge.replace(cuts[**number].gauge) != Some(cuts[**number].gauge);
        order.iter().filter(moved).count()
    }

    /// What each order takes, by trying them all.
    fn each(cuts: &[GaugeCut], order: &mut Vec<usize>, all: &mut BTreeSet<OrderNeeds>) {
        if order.len() == cuts.len() {
            let waiting = Stacks::new(cuts).most(order) as u64;
            all.insert(OrderNeeds { settings: counted(cuts, order) as u64, waiting });
        }
        for number in 0..cuts.len() {
            let ready = cuts[number].after.iter().all(|before| order.contains(before));
            if ready && !order.contains(&number) {
                order.push(number);
                each(cuts, order, all);
                order.pop();
            }
        }
    }

    #[test]
    fn waits_for_a_later_stack_of_the_same_gauge() {
        // 3 is ready at once, but 2 at the same gauge only after 0 and 1.
        let cuts = apart([cut(50, &[]), cut(40, &[0]), cut(30, &[1]), cut(30, &[])]);
        assert_eq!(free(&cuts), [0, 1, 2, 3]);
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
        let mut cuts = apart([cut(50, &[]), cut(50, &[]), cut(50, &[])]);
        cuts[1].axis = Axis::Height;
        assert_eq!(free(&cuts), [0, 2, 1]);
    }

    #[test]
    fn nothing_to_cut_is_no_order() {
        assert_eq!(order(&[], 10), Sequence::default());
    }

    /// Cuts of which some are made in the same stack as the one before.
    fn trees() -> impl Strategy<Value = Vec<GaugeCut>> {
        let parent = prop::option::of((any::<prop::sample::Index>(), any::<bool>()));
        let one = (1_i64..4, parent, any::<bool>());
        prop::collection::vec(one, 1..8).prop_map(|shape| {
            let mut cuts: Vec<GaugeCut> = Vec::new();
            for (number, (gauge, before, is_same)) in shape.into_iter().enumerate() {
                let before = before.filter(|_| number > 0);
                // Strips come off by one cut; what is left over comes after all cuts of its stack.
                let after = before.map_or(Vec::new(), |(before, is_strip)| {
                    let before = before.index(number);
                    cuts[before].strips.extend(is_strip.then_some(number));
                    let of = cuts[before].of;
                    let own = (0..number).filter(|&other| cuts[other].of == of);
                    if is_strip { vec![before] } else { own.collect() }
                });
                let mut next = GaugeCut { of: CutOf::Plates(number), ..cut(gauge, &after) };
                if is_same && let Some(last) = cuts.last().filter(|last| last.gauge != next.gauge) {
                    (next.of, next.after) = (last.of, last.after.clone());
                }
                cuts.push(next);
            }
            cuts
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]

        #[test]
        fn no_order_has_fewer_settings(cuts in trees()) {
            let found = free(&cuts);
            let mut all = BTreeSet::new();
            each(&cuts, &mut Vec::new(), &mut all);
            let best = all.first().unwrap().settings;
            prop_assert_eq!(counted(&cuts, &found) as u64, best);
            prop_assert_eq!(settings(&cuts) as u64, best);
        }

        /// With little room, too; and where there is too little, no order has fewer stacks that wait.
        #[test]
        fn no_order_within_the_room_has_fewer_settings(cuts in trees(), room in 0_u64..4) {
            let Sequence { order, effort: found } = order(&cuts, room);
            let mut all = BTreeSet::new();
            each(&cuts, &mut Vec::new(), &mut all);
            let fewest = all.iter().map(|it| it.waiting).min().unwrap();
            let room = room.max(fewest);
            let best = all.iter().find(|it| it.waiting <= room).unwrap();
            prop_assert!(found.waiting <= room);
            prop_assert_eq!(counted(&cuts, &order) as u64, best.settings);
            prop_assert!(found.least_settings <= best.settings && found.least_waiting <= fewest);
            let mut sorted = order;
            sorted.sort_unstable();
            prop_assert_eq!(sorted, (0..cuts.len()).collect::<Vec<_>>());
            if let Some(less) = found.with_less {
                prop_assert!(less.waiting < found.waiting && all.contains(&less));
            }
            if let Some(more) = found.with_more {
                prop_assert!(more.settings < best.settings && more.waiting > room);
            }
        }

        /// However many sheets there are: each can be finished before the next.
        #[test]
        fn many_sheets_need_no_more_room_than_one(sheets in prop::collection::vec(trees(), 1..6)) {
            let alone = sheets.iter().map(|cuts| order(cuts, 0).effort.waiting).max().unwrap();
            let works: Vec<&[GaugeCut]> = sheets.iter().map(Vec::as_slice).collect();
            let all = super::super::steps::together(&works);
            prop_assert!(order(&all, alone).effort.waiting <= alone);
        }
    }
}
