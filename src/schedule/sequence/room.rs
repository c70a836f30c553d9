//! The order with the fewest settings for so many stacks that may wait.

use super::finishing;
use super::lying::{OnTable, Stacks};
use super::narrow::{Narrow, OrderFound};
use super::{BenchEffort, OrderNeeds, Queue, Sequence, State};
use crate::schedule::cuts::GaugeCut;
use std::cmp::Reverse;
use std::collections::BTreeSet;

/// Orders that are made with care, for a room and for less.
const MARGINS: usize = 4;

/// Beyond so many cuts, what is made with care is taken: another search would take long and find little.
const MOST_SEARCHED: usize = 800;

/// How often something is turned, fetched or put aside: cuts in another direction than the one before, of another paper, and
/// of something that the one before did not leave in the hand.
pub(super) fn handling(cuts: &[GaugeCut], order: &[usize]) -> usize {
    let effort = |pair: &[usize]| {
        let (last, next) = (&cuts[pair[0]], &cuts[pair[1]]);
        let (is_turned, is_other) = (last.axis != next.axis, last.paper != next.paper);
        usize::from(is_turned) + usize::from(is_other) + usize::from(!next.after.contains(&pair[0]))
    };
    order.windows(2).map(effort).sum()
}

/// An order, and what the next one takes that needs less room.
struct Tighter {
    order: Vec<usize>,
    with_less: Option<OrderNeeds>,
}

/// The search for an order.
pub(super) struct RoomSearch<'a> {
    pub queue: Queue<'a>,
    pub stacks: Stacks,
    room: usize,
}

/// What is done and what can be done, with the stacks that wait.
#[derive(Clone)]
pub(super) struct BenchState {
    pub state: State,
    pub lying: OnTable,
}

impl<'a> RoomSearch<'a> {
    pub fn new(cuts: &'a [GaugeCut], room: u64) -> RoomSearch<'a> {
        let room = usize::try_from(room).unwrap_or(usize::MAX);
        RoomSearch { queue: Queue::new(cuts), stacks: Stacks::new(cuts), room }
    }

    pub fn run(&self) -> Sequence {
        let free = self.roomy();
        let careful = self.thrifty(0);
        let least = self.takes(&free);
        let (order, is_whole) = match least.waiting <= self.room as u64 {
            true => (free, false),
            false => self.within(self.room, &careful),
        };
        let is_cramped = self.takes(&order).waiting > self.room as u64;
        let tighter = if is_cramped {
            Tighter { order, with_less: None }
        } else {
            self.tighter(order, &careful)
        };
        let Tighter { order, with_less } = tighter;
        let takes = self.takes(&order);
        let effort = BenchEffort {
            waiting: takes.waiting,
            least_settings: if is_whole { takes.settings } else { self.queue.gauges.len() as u64 },
            least_waiting: match is_whole && is_cramped {
                true => takes.waiting,
                false => finishing::least_waiting(self.queue.cuts) as u64,
            },
            with_less,
            with_more: Some(least).filter(|least| least.settings < takes.settings),
        };
        Sequence { order, effort }
    }

    fn is_large(&self) -> bool {
        self.queue.cuts.len() > MOST_SEARCHED
    }

    /// The order with the fewest stacks that is found with as few settings.
    fn tighter(&self, order: Vec<usize>, careful: &[usize]) -> Tighter {
        let mut order = order;
        if self.is_large() {
            return Tighter { order, with_less: None };
        }
        loop {
            let takes = self.takes(&order);
            let Some(room) = takes.waiting.checked_sub(1).filter(|room| *room > 0) else {
                return Tighter { order, with_less: None };
            };
            let (other, _) = self.within(room as usize, careful);
            let less = self.takes(&other);
            let is_less = less.waiting < takes.waiting;
            if !is_less || less.settings > takes.settings {
                return Tighter { order, with_less: Some(less).filter(|_| is_less) };
            }
            order = other;
        }
    }

    /// Before the first cut.
    pub fn start(&self) -> BenchState {
        BenchState { state: self.queue.start(), lying: self.stacks.start() }
    }

    /// Makes a cut that is ready.
    pub fn make(&self, bench: &mut BenchState, cut: usize) {
        self.queue.make(&mut bench.state, cut);
        self.stacks.make(&mut bench.lying, cut);
    }

    fn takes(&self, order: &[usize]) -> OrderNeeds {
        let mut gauge = None;
        let moved = |cut: &&usize| {
            let next = self.queue.gauge_of[**cut];
            gauge.replace(next) != Some(next)
        };
        let settings = order.iter().filter(moved).count() as u64;
        OrderNeeds { settings, waiting: self.stacks.most(order) as u64 }
    }

    /// The order with the fewest settings that were found, however many stacks wait; of several one that keeps to the
    /// room if one does.
    fn roomy(&self) -> Vec<usize> {
        let settings = self.queue.settings().into_iter();
        let orders = settings.map(|settings| {
            let made = self.queue.made_at(&settings);
            self.ordered(&made, self.room)
        });
        let key = |order: &Vec<usize>| {
            let waiting = self.stacks.most(order);
            (waiting.saturating_sub(self.room), handling(self.queue.cuts, order))
        };
        orders.min_by_key(key).unwrap_or_default()
    }

    /// The order with the fewest settings of those that are careful and keep to a room; else the one that needs least.
    fn careful(&self, room: usize, careful: &[usize]) -> Vec<usize> {
        let rooms = (0..MARGINS).filter_map(|margin| room.checked_sub(margin));
        let finishing = self.kept(&finishing::settings(self.queue.cuts, room), room);
        let orders = rooms.map(|room| self.thrifty(room)).chain([careful.to_vec(), finishing]);
        let key = |order: &Vec<usize>| {
            let OrderNeeds { settings, waiting } = self.takes(order);
            (waiting.saturating_sub(room as u64), settings)
        };
        orders.min_by_key(key).unwrap_or_default()
    }

    /// An order within a room, and whether no other has fewer settings; where none is found, one with the fewest stacks
    /// that were found.
    fn within(&self, room: usize, careful: &[usize]) -> (Vec<usize>, bool) {
        let careful = &self.careful(room, careful);
        if self.is_large() {
            return (careful.clone(), false);
        }
        let known = self.takes(careful);
        let is_known = known.waiting <= room as u64;
        let most = if is_known { known.settings as usize } else { self.queue.cuts.len() + 1 };
        let OrderFound { settings, is_whole } = Narrow::new(self, room).run(most);
        match settings.map(|made| self.kept(&made, room)) {
            Some(order) => (order, is_whole),
            None if is_known => (careful.to_vec(), is_whole),
            // A little more room may be enough.
            None => {
                let (order, is_rest_whole) = self.within(room + 1, careful);
                (order, is_whole && is_rest_whole)
            }
        }
    }

    /// The cuts of each setting in a good order, if that keeps to the room, else as they are.
    fn kept(&self, made: &[Vec<usize>], room: usize) -> Vec<usize> {
        let order = self.ordered(made, room);
        match self.stacks.most(&order) <= room {
            true => order,
            false => made.concat(),
        }
    }

    /// The cuts of each setting in order: what there is room for first, then what is of the same paper, what needs no
    /// turn of the stack, what is in the hand already, and long cuts.
    fn ordered(&self, made: &[Vec<usize>], room: usize) -> Vec<usize> {
        let mut bench = self.start();
        let mut order: Vec<usize> = Vec::new();
        for made in made {
            let mut left: BTreeSet<usize> = made.iter().copied().collect();
            while let Some(cut) = self.first(&bench, &left, room, order.last().copied()) {
                left.remove(&cut);
                self.make(&mut bench, cut);
                order.push(cut);
            }
        }
        order
    }

    /// The cut of those that are left to make next.
    fn first(
        &self,
        bench: &BenchState,
        left: &BTreeSet<usize>,
        room: usize,
        last: Option<usize>,
    ) -> Option<usize> {
        let cuts = self.queue.cuts;
        let ready = left.iter().copied().filter(|&cut| bench.state.waiting[cut] == 0);
        ready.min_by_key(|&cut| {
            let own = &cuts[cut];
            let waiting = self.stacks.after(&bench.lying, cut);
            let before = last.map(|last| &cuts[last]);
            let other = before.is_some_and(|before| before.paper != own.paper);
            let turned = before.is_some_and(|before| before.axis != own.axis);
            let taken = last.is_none_or(|last| !own.after.contains(&last));
            (waiting.saturating_sub(room), other, turned, taken, Reverse(own.length), cut)
        })
    }

    /// The cuts in an order that takes little room: the cut is next after which the fewest stacks wait, beyond so many
    /// that do not matter as long as the gauge stays; then one of what is in the hand, then a long one.
    fn thrifty(&self, room: usize) -> Vec<usize> {
        let gauge_of = &self.queue.gauge_of;
        let mut bench = self.start();
        let mut order: Vec<usize> = Vec::new();
        let all = 0..gauge_of.len();
        let mut ready: BTreeSet<usize> = all.filter(|&cut| bench.state.waiting[cut] == 0).collect();
        loop {
            let last = order.last().copied();
            let key = |&cut: &usize| {
                let own = &self.queue.cuts[cut];
                let moved = last.is_none_or(|last| gauge_of[last] != gauge_of[cut]);
                let taken = last.is_none_or(|last| !own.after.contains(&last));
                let waiting = self.stacks.after(&bench.lying, cut);
                let over = waiting.saturating_sub(room);
                (over, moved, waiting, taken, Reverse(own.length), cut)
            };
            let Some(cut) = ready.iter().copied().min_by_key(key) else { break };
            self.make(&mut bench, cut);
            order.push(cut);
            ready.remove(&cut);
            let next = self.queue.next[cut].iter().copied();
            ready.extend(next.filter(|&next| bench.state.waiting[next] == 0));
        }
        order
    }
}
