//! Branch and bound on the packs alone, until the cheapest that meet all needs known.
//!
//! Every range of packs is bounded in whole numbers: rows times whole multipliers, each pack at the cheaper end of its
//! range.

use super::super::attainable::Attainable;
use super::super::meter::Meter;
use super::need::{Need, NeedRow, Purchasable, bound};
use super::simplex::{Optimum, minimise};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// How far from whole packs may be to be taken for whole.
const WHOLE: f64 = 1e-6;

/// All purchases that are left, in ranges.
pub(super) struct PurchaseTree<'a> {
    cost: Vec<i64>,
    attainable: &'a Attainable,
    meter: &'a Meter,
    /// What every purchase has to meet.
    rows: Vec<NeedRow>,
    /// Needs that it knows.
    known: usize,
    /// By what they cost at least; of those that cost the same, the newest first.
    open: BTreeMap<(i64, Reverse<usize>), Purchasable>,
    /// Ranges made so far.
    made: usize,
    /// Purchases that were set aside, and what they cost.
    aside: Vec<(i64, Vec<u64>)>,
    /// What purchases cost at least that could not be decided on.
    unsettled: i64,
}

/// What came of a step.
pub(super) enum Stepped {
    /// There is more to do.
    On,
    /// The cheapest packs that meet all rows, in parts.
    Parts(Vec<f64>),
    /// The cheapest packs that meet all rows.
    Packs(Vec<u64>),
    /// No more purchase is left.
    End,
}

impl<'a> PurchaseTree<'a> {
    /// All purchases of up to so many packs, whose cost is known to be at least `least`.
    pub fn new(
        cost: Vec<i64>,
        attainable: &'a Attainable,
        meter: &'a Meter,
        most: Vec<u64>,
        least: i64,
    ) -> PurchaseTree<'a> {
        let all = Purchasable { lower: vec![0; most.len()], upper: most };
        let open = BTreeMap::from([((least, Reverse(0)), all)]);
        PurchaseTree {
            cost,
            attainable,
            meter,
            rows: Vec::new(),
            known: 0,
            open,
            made: 0,
            aside: Vec::new(),
            unsettled: i64::MAX,
        }
    }

    /// No purchase costs less that meets what is needed.
    pub fn bound(&self) -> i64 {
        let open = self.open.first_key_value().map_or(i64::MAX, |((cost, _), _)| *cost);
        let aside = self.aside.iter().map(|(cost, _)| *cost).min().unwrap_or(i64::MAX);
        open.min(aside).min(self.unsettled)
    }

    /// Takes up the needs that it does not know yet, for so many pieces more.
    pub fn learn(&mut self, needs: &[Need], margin: &[u64]) {
        self.rows.extend(needs[self.known..].iter().flat_map(|need| need.rows(margin)));
        self.known = needs.len();
    }

    /// Works on the cheapest range.
    pub fn step(&mut self) -> Stepped {
        let Some(((least, _), range)) = self.open.pop_first() else { return Stepped::End };
        let solved = minimise(&self.cost, &range, &self.rows);
        self.meter.count_pivots(solved.pivots + 1, self.rows.len(), self.cost.len());
        if !solved.is_met {
            self.drop_conflict(least, &range, &solved);
            return Stepped::On;
        }
        let (above, below) = bound(&self.cost, &range, &self.rows, &solved.multipliers);
        let better = self.attainable.round_up(above, below).max(least);
        if better > least {
            self.put(better, range);
            return Stepped::On;
        }
        match self.furthest(&solved.packs) {
            Some(at) => {
                self.split(least, range, at, solved.packs[at].max(0.0) as u64);
                Stepped::Parts(solved.packs)
            }
            None => {
                // More rows may follow, which these packs break.
                self.put(least, range);
                let whole = solved.packs.iter().map(|packs| packs.round().max(0.0) as u64);
                Stepped::Packs(whole.collect())
            }
        }
    }

    /// Takes a range off that holds no purchase, if that can be shown in whole numbers.
    fn drop_conflict(&mut self, least: i64, range: &Purchasable, solved: &Optimum) {
        let free = vec![0; self.cost.len()];
        if bound(&free, range, &self.rows, &solved.multipliers).0 <= 0 {
            self.unsettled = self.unsettled.min(least);
        }
    }

    /// The pack that is furthest from whole, the dear ones before the cheap ones.
    fn furthest(&self, packs: &[f64]) -> Option<usize> {
        let far = |at: usize| (packs[at] - packs[at].round()).abs();
        let weight = |at: usize| far(at) * self.cost[at].max(1) as f64;
        let broken = (0..packs.len()).filter(|&at| far(at) > WHOLE);
        broken.max_by(|&a, &b| weight(a).total_cmp(&weight(b)))
    }

    /// At most so many of a pack, or at least one more.
    fn split(&mut self, least: i64, range: Purchasable, at: usize, whole: u64) {
        let (mut low, mut high) = (range.clone(), range);
        low.upper[at] = whole;
        high.lower[at] = whole + 1;
        for half in [low, high] {
            if half.lower[at] <= half.upper[at] {
                self.put(least, half);
            }
        }
    }

    /// Takes one purchase out of the ranges, without saying that it does not suffice.
    pub fn set_aside(&mut self, packs: &[u64]) {
        let holds = |range: &Purchasable| {
            let sides = range.lower.iter().zip(&range.upper);
            packs.iter().zip(sides).all(|(packs, (lower, upper))| lower <= packs && packs <= upper)
        };
        let Some(&key) = self.open.iter().find(|(_, range)| holds(range)).map(|(key, _)| key)
        else {
            return;
        };
        let Some(mut range) = self.open.remove(&key) else { return };
        self.aside.push((key.0, packs.to_vec()));
        for (at, &packs) in packs.iter().enumerate() {
            if packs > range.lower[at] {
                let mut less = range.clone();
                less.upper[at] = packs - 1;
                self.put(key.0, less);
            }
            if packs < range.upper[at] {
                let mut more = range.clone();
                more.lower[at] = packs + 1;
                self.put(key.0, more);
            }
            (range.lower[at], range.upper[at]) = (packs, packs);
        }
    }

    /// Forgets a purchase that was set aside: it does not suffice.
    pub fn drop(&mut self, packs: &[u64]) {
        self.aside.retain(|(_, aside)| aside != packs);
    }

    /// Whether all purchases that cost less than `most` were set aside or do not suffice.
    pub fn is_searched(&self, most: i64) -> bool {
        self.next() >= most && self.unsettled >= most
    }

    /// What the purchases cost at least that were not set aside.
    pub fn next(&self) -> i64 {
        self.open.first_key_value().map_or(i64::MAX, |((cost, _), _)| *cost)
    }

    fn put(&mut self, least: i64, range: Purchasable) {
        self.made += 1;
        self.open.insert((least, Reverse(self.made)), range);
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::words::Chance;
    use super::*;

    /// The least cost of up to `most` of three packs that meet all needs.
    fn enumerated(cost: &[i64], most: u64, needs: &[Need]) -> Option<i64> {
        let all = (0..=most)
            .flat_map(|a| (0..=most).flat_map(move |b| (0..=most).map(move |c| vec![a, b, c])));
        let met = all.filter(|packs| needs.iter().all(|need| need.is_met(packs, &[])));
        met.map(|packs| packs.iter().zip(cost).map(|(&packs, cost)| packs as i64 * cost).sum())
            .min()
    }

    /// The cheapest packs that were not set aside yet, and what they cost.
    fn next(tree: &mut PurchaseTree) -> Option<(Vec<u64>, i64)> {
        loop {
            match tree.step() {
                Stepped::End => return None,
                Stepped::Packs(packs) => {
                    tree.set_aside(&packs);
                    let cost = packs.iter().zip(&tree.cost);
                    let cost = cost.map(|(&packs, cost)| packs as i64 * cost).sum();
                    return Some((packs, cost));
                }
                Stepped::On | Stepped::Parts(_) => {}
            }
        }
    }

    /// The least cost according to the tree, which has to be its bound.
    fn found(tree: &mut PurchaseTree, needs: &[Need]) -> Option<i64> {
        tree.learn(needs, &[]);
        let (packs, cost) = next(tree)?;
        assert!(needs.iter().all(|need| need.is_met(&packs, &[])), "{packs:?}");
        assert_eq!(tree.bound(), cost);
        Some(cost)
    }

    #[test]
    fn the_cheapest_packs_are_those_of_enumeration() {
        let mut chance = Chance::new(3);
        let meter = Meter::default();
        let (mut made, mut refused) = (0, 0);
        for _ in 0..400 {
            let cost: Vec<i64> = (0..3).map(|_| chance.between(1, 30)).collect();
            let needs: Vec<Need> = (0..chance.between(1, 4))
                .map(|_| {
                    let factors = (0..3).map(|_| chance.between(0, 40).into()).collect();
                    Need::plain(factors, chance.between(1, 300).into())
                })
                .collect();
            let attainable = Attainable::all();
            let mut tree = PurchaseTree::new(cost.clone(), &attainable, &meter, vec![6; 3], 0);
            let best = enumerated(&cost, 6, &needs);
            assert_eq!(found(&mut tree, &needs), best, "{cost:?}");
            made += usize::from(best.is_some());
            refused += usize::from(best.is_none());
        }
        assert!(made > 100 && refused > 20, "{made} {refused}");
    }

    #[test]
    fn what_is_set_aside_still_bounds_and_the_next_comes() {
        let (attainable, meter) = (Attainable::all(), Meter::default());
        let needs = [Need::plain(vec![2, 3], 12)];
        let mut tree = PurchaseTree::new(vec![10, 14], &attainable, &meter, vec![9; 2], 0);
        // Four of the second for 56; three of the first and two of the second cost 58.
        assert_eq!(found(&mut tree, &needs), Some(56));
        assert_eq!(next(&mut tree), Some((vec![3, 2], 58)));
        assert_eq!(tree.bound(), 56);
        tree.drop(&[0, 4]);
        assert_eq!(tree.bound(), 58);
    }
}
