//! The order of cuts with the fewest gauge settings.
//!
//! Cuts have a gauge and cuts that come before them. Whenever the gauge is set, all cuts that can be
//! made at it are made: leaving one out never helps. So an order is a sequence of settings, and the
//! search goes through the sets of cuts that are done after one, two, three … settings, long cuts and
//! large gauges first. Each gauge still wanted costs a setting more, so sets that cannot beat the
//! order at hand are dropped. The first order is the one that always takes the setting after which the
//! fewest gauges are wanted. Where there are too many sets, the most promising are kept; where that
//! never happens, no order has fewer settings.

use super::cuts::Cut;
use crate::measure::Length;
use std::cmp::Reverse;
use std::collections::BTreeSet;

/// Sets of cuts kept per setting, times cuts, times gauges.
const EFFORT: usize = 400_000;
/// Most sets of cuts kept per setting.
const WIDEST: usize = 256;

/// The cuts in an order that keeps all that comes before what, with as few changes of the gauge as
/// were found; `gauge` is what it is set to at the start.
pub(super) fn order(cuts: &[Cut], gauge: Option<Length>) -> Vec<usize> {
    let mut start = Progress { done: vec![false; cuts.len()], order: Vec::new() };
    if let Some(gauge) = gauge {
        start.make_all(cuts, gauge);
    }
    let gauges = start.left(cuts).0;
    let Some((quick, settings)) = search(cuts, &start, 1, usize::MAX) else {
        // Cuts that wait for each other, which no tree brings about.
        return start.order;
    };
    let width = (EFFORT / (cuts.len() * gauges).max(1)).clamp(1, WIDEST);
    match settings == gauges || width == 1 {
        true => quick,
        false => search(cuts, &start, width, settings).map_or(quick, |(order, _)| order),
    }
}

/// The first order found with fewer settings than `limit`, and how many it has. At most `width` sets
/// are kept per setting.
fn search(
    cuts: &[Cut],
    start: &Progress,
    width: usize,
    limit: usize,
) -> Option<(Vec<usize>, usize)> {
    let mut level = vec![start.clone()];
    for settings in 0.. {
        if let Some(whole) = level.iter().find(|progress| progress.order.len() == cuts.len()) {
            return Some((whole.order.clone(), settings));
        }
        let mut next = after_one_setting(&level, cuts);
        next.retain(|progress| settings + 1 + progress.left(cuts).0 < limit);
        if next.is_empty() {
            return None;
        }
        level = best(next, width, cuts);
    }
    None
}

/// The cuts made so far.
#[derive(Clone, Debug)]
struct Progress {
    done: Vec<bool>,
    order: Vec<usize>,
}

impl Progress {
    fn is_ready(&self, number: usize, cut: &Cut) -> bool {
        !self.done[number] && cut.after.iter().all(|before| self.done[*before])
    }

    /// Makes all cuts at `gauge`, and those that become possible by it; those of one direction
    /// together.
    fn make_all(&mut self, cuts: &[Cut], gauge: Length) {
        loop {
            let ready = cuts
                .iter()
                .enumerate()
                .filter(|(number, cut)| cut.gauge == gauge && self.is_ready(*number, cut));
            let axis = self.order.last().map(|last| cuts[*last].axis);
            let Some((number, _)) = ready
                .min_by_key(|(number, cut)| (Some(cut.axis) != axis, Reverse(cut.length), *number))
            else {
                return;
            };
            self.done[number] = true;
            self.order.push(number);
        }
    }

    /// The gauges at which something can be cut: those with the longest cuts first, then large ones.
    fn gauges(&self, cuts: &[Cut]) -> Vec<Length> {
        let ready = cuts.iter().enumerate().filter(|(number, cut)| self.is_ready(*number, cut));
        let mut gauges: Vec<_> = ready.map(|(_, cut)| (cut.length, cut.gauge)).collect();
        gauges.sort_unstable_by(|one, other| other.cmp(one));
        let mut seen = BTreeSet::new();
        gauges.into_iter().map(|(_, gauge)| gauge).filter(|gauge| seen.insert(*gauge)).collect()
    }

    /// Gauges still wanted, then cuts still to make.
    fn left(&self, cuts: &[Cut]) -> (usize, usize) {
        let open = cuts.iter().zip(&self.done).filter(|(_, done)| !**done);
        let gauges: BTreeSet<Length> = open.map(|(cut, _)| cut.gauge).collect();
        (gauges.len(), cuts.len() - self.order.len())
    }
}

fn after_one_setting(level: &[Progress], cuts: &[Cut]) -> Vec<Progress> {
    let mut seen = BTreeSet::new();
    let mut next = Vec::new();
    for progress in level {
        for gauge in progress.gauges(cuts) {
            let mut more = progress.clone();
            more.make_all(cuts, gauge);
            if seen.insert(more.done.clone()) {
                next.push(more);
            }
        }
    }
    next
}

fn best(mut level: Vec<Progress>, width: usize, cuts: &[Cut]) -> Vec<Progress> {
    if level.len() > width {
        level.sort_by_cached_key(|progress| progress.left(cuts));
        level.truncate(width);
    }
    level
}

#[cfg(test)]
mod tests {
    use super::super::cuts::Source;
    use super::*;
    use crate::measure::Axis;
    use proptest::prelude::*;

    fn cut(gauge: i64, after: &[usize]) -> Cut {
        Cut {
            of: Source::Plates(0),
            axis: Axis::Width,
            gauge: Length::from_mm(gauge),
            length: Length::from_mm(10),
            strips: Vec::new(),
            after: after.to_vec(),
        }
    }

    fn settings(cuts: &[Cut], order: &[usize], mut gauge: Option<Length>) -> usize {
        let moved =
            |number: &&usize| gauge.replace(cuts[**number].gauge) != Some(cuts[**number].gauge);
        order.iter().filter(moved).count()
    }

    /// Fewest settings over all orders, by trying them all.
    fn fewest(cuts: &[Cut], order: &mut Vec<usize>, best: &mut usize) {
        if order.len() == cuts.len() {
            *best = (*best).min(settings(cuts, order, None));
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
        assert_eq!(order(&cuts, None), [0, 1, 2, 3]);
    }

    #[test]
    fn begins_with_the_gauge_that_is_set() {
        let cuts = [cut(50, &[]), cut(40, &[])];
        assert_eq!(order(&cuts, Some(Length::from_mm(40))), [1, 0]);
        assert_eq!(order(&cuts, None), [0, 1]);
    }

    #[test]
    fn nothing_to_cut_is_no_order() {
        assert_eq!(order(&[], None), Vec::<usize>::new());
    }

    proptest! {
        #[test]
        fn no_order_has_fewer_settings(
            shape in prop::collection::vec((1_i64..4, prop::option::of(any::<prop::sample::Index>())), 1..8),
        ) {
            let cuts: Vec<Cut> = shape.iter().enumerate().map(|(number, (gauge, before))| {
                let before = before.filter(|_| number > 0).map(|before| before.index(number));
                cut(*gauge, before.as_slice())
            }).collect();
            let found = order(&cuts, None);
            let mut best = usize::MAX;
            fewest(&cuts, &mut Vec::new(), &mut best);
            prop_assert_eq!(settings(&cuts, &found, None), best);
        }
    }
}
