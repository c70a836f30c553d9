//! Packs first, patterns then: the cheapest purchases whose paper suffices.
//!
//! Packs are whole, and the linear program does not know it: with five papers it buys parts of five sheets. What is
//! spent hangs on the packs alone, and these are few. A small program over them knows only some of the needs ([`need`])
//! that every plan has to meet. Its cheapest packs are tried: where the relaxed program cannot cut all pieces from
//! them, the values of the pieces say why, which is one more need; where it can, no plan spends less (Benders 1962,
//! Numerische Mathematik 4:238-252). Packs stay whole all the while, only patterns may be cut in parts, so that the
//! bound is much sharper than that of the relaxation. In `drawers`, seed 7 of the records, up to eight kinds of packs
//! took 4 to 45 needs and 5 to 2,143 ranges until the first packs were found that suffice in parts.
//!
//! Cutting whole sheets loses some paper, so that the cheapest packs need not do. Then others are tried by turns: the
//! next in price, those that would suffice for one more of each piece that was missing, and those that failed, shared
//! out otherwise ([`papers`]). Packs are dropped where a paper is proven to be short of them, and the others to be
//! short if it makes a piece less.

mod goods;
mod need;
mod papers;
mod shares;
mod simplex;
mod tree;

use super::attainable::Attainable;
use super::level::Level;
use super::pool::Pool;
use super::task::Task;
use super::words::Stop;
use goods::{Goods, Sought};
pub(super) use papers::{Means, Papers, TooFew, Trial};
use std::collections::VecDeque;
use tree::PurchaseTree;

/// Times that packs are tried, at most.
const MOST_TRIES: usize = 8;

/// Packs that are looked at one by one.
const FEW: usize = 24;

/// Purchases for a task, one after the other.
pub(super) struct Purchases<'a> {
    goods: Goods<'a>,
    /// All purchases that were not tried yet.
    tree: PurchaseTree<'a>,
    /// Pieces more that a purchase should suffice for, by item.
    margin: Vec<u64>,
    /// Packs, by goods, that failed, and how often.
    failed: VecDeque<(Vec<u64>, usize)>,
    /// Purchases so far.
    turns: usize,
}

impl<'a> Purchases<'a> {
    /// Nothing was tried yet; all plans spend at least `least`, and less than `most` is to be spent. `None`
    /// where there is nothing to choose from.
    pub fn new(
        task: &'a Task,
        attainable: &'a Attainable,
        least: i64,
        most: i64,
    ) -> Option<Purchases<'a>> {
        let goods = Goods::new(task, attainable);
        if goods.count() < 2 {
            return None;
        }
        let margin = vec![0; task.items.len()];
        let tree = goods.tree(&margin, least, most);
        Some(Purchases { goods, tree, margin, failed: VecDeque::new(), turns: 0 })
    }

    /// No plan spends less.
    pub fn bound(&self) -> i64 {
        self.tree.bound()
    }

    /// Packs by supply that cost less than `most` and have not failed too often. `None` where there are no more,
    /// or none were found in time.
    pub fn next(&mut self, most: i64, pool: &mut Pool, stop: Stop) -> Option<Vec<u64>> {
        self.turns += 1;
        let ways = [Purchases::untried, Purchases::wider, Purchases::again];
        let packs = (0..ways.len())
            .find_map(|way| ways[(self.turns - 1 + way) % ways.len()](self, most, pool, stop))?;
        Some(self.goods.by_supply(&packs))
    }

    /// All packs by supply that cost less than `most` and were not tried yet; `None` where they are more than a
    /// few, or not all found in time.
    fn rest(&mut self, most: i64, pool: &mut Pool, stop: Stop) -> Option<Vec<Vec<u64>>> {
        let mut all = Vec::new();
        while let Some(packs) = self.untried(most, pool, stop) {
            all.push(self.goods.by_supply(&packs));
            if all.len() > FEW {
                return None;
            }
        }
        self.tree.is_searched(most).then_some(all)
    }

    /// Takes note of what could be cut from packs.
    pub fn learn(&mut self, packs: &[u64], cut: &Trial, pool: &mut Pool, stop: Stop) {
        let packs = self.goods.of(packs);
        let known = self.failed.iter().position(|(failed, _)| *failed == packs);
        let tries = known.and_then(|at| self.failed.remove(at)).map_or(1, |(_, tries)| tries + 1);
        let missing = cut.plan.missing(self.goods.task);
        if missing.iter().all(|&count| count == 0) {
            self.margin.fill(0);
            return;
        }
        self.margin.iter_mut().zip(missing).for_each(|(margin, count)| *margin += count.min(1));
        // A paper that shares nothing is cut the same way every time.
        let most_tries = if self.goods.task.papers.len() > 1 { MOST_TRIES } else { 1 };
        let is_short = match &cut.shortage {
            None => false,
            Some(TooFew::Proven) => true,
            Some(TooFew::Unless(rest)) => self.goods.is_short(rest, &packs, pool, stop),
        };
        if is_short {
            self.tree.drop(&packs);
        } else if tries < most_tries {
            self.failed.push_back((packs, tries));
        }
    }

    /// The cheapest packs that were not tried yet.
    fn untried(&mut self, most: i64, pool: &mut Pool, stop: Stop) -> Option<Vec<u64>> {
        let none = vec![0; self.margin.len()];
        let packs =
            self.goods.cheapest(&mut self.tree, Sought { margin: &none, most }, pool, stop)?;
        self.tree.set_aside(&packs);
        Some(packs)
    }

    /// The cheapest packs that would suffice for more of what was missing.
    fn wider(&mut self, most: i64, pool: &mut Pool, stop: Stop) -> Option<Vec<u64>> {
        if self.margin.iter().all(|more| *more == 0) {
            return None;
        }
        let mut tree = self.goods.tree(&self.margin, self.bound(), most);
        let sought = Sought { margin: &self.margin, most };
        let packs = self.goods.cheapest(&mut tree, sought, pool, stop);
        if packs.is_none() {
            self.margin.fill(0);
        }
        packs
    }

    /// Packs that failed, the longest ago first.
    fn again(&mut self, most: i64, _: &mut Pool, _: Stop) -> Option<Vec<u64>> {
        self.failed.retain(|(packs, _)| self.goods.cost_of(packs) < most);
        self.failed.front().map(|(packs, _)| packs.clone())
    }
}

/// All packs by supply within a budget whose paper would suffice if patterns could be cut in parts: no plan within it
/// buys others. `None` where there is nothing to choose from, where they are more than a few, or not found in time.
pub(super) fn within_budget(
    task: &Task,
    budget: i64,
    pool: &mut Pool,
    stop: Stop,
) -> Option<Vec<Vec<u64>>> {
    let most = budget.saturating_add(1);
    let attainable = Attainable::of(task, Level::Spend, 0, most);
    Purchases::new(task, &attainable, 0, most)?.rest(most, pool, stop)
}

/// The task once these packs, by supply, are at hand, and nothing else can be bought.
fn bought(task: &Task, packs: &[u64]) -> Task {
    let mut bought = task.clone();
    for (supply, packs) in bought.supplies.iter_mut().zip(packs) {
        supply.on_hand = supply.on_hand.saturating_add(packs.saturating_mul(supply.pack));
        supply.price = None;
    }
    bought
}

#[cfg(test)]
mod tests {
    use super::super::candidate::Candidate;
    use super::super::fill::{area_values, fill};
    use super::super::samples::{SETTINGS, two_papers};
    use super::super::words::Chance;
    use super::*;

    /// Purchases until a plan costs as little as the bound: its cost, and how many it took.
    fn bought_for(task: &Task, first: i64) -> (i64, usize) {
        let attainable = Attainable::of(task, Level::Spend, 0, first);
        let values = area_values(task);
        let mut pool = Pool::default();
        fill(task, Candidate::default(), &values, &|| false).unwrap().add_to(&mut pool);
        let mut purchases = Purchases::new(task, &attainable, 0, first + 1).unwrap();
        let mut papers = Papers::new(task, &pool);
        let mut chance = Chance::new(1);
        for turn in 1.. {
            let packs = purchases.next(first + 1, &mut pool, &|| false).unwrap();
            let means = Means { chance: &mut chance, settings: &SETTINGS, steps: SETTINGS.steps };
            let cut = papers.cut(&packs, &pool, &values, means);
            purchases.learn(&packs, &cut, &mut pool, &|| false);
            let cost =
                fill(task, cut.plan, &values, &|| false).and_then(|plan| plan.cost(task)).unwrap();
            assert!(cost.spend >= purchases.bound());
            if cost.spend == purchases.bound() {
                return (cost.spend, turn);
            }
        }
        unreachable!("turns go on")
    }

    #[test]
    fn the_cheapest_packs_are_found_at_once() {
        // Two sheets for 100 and eleven for 70; one and a half of the first would do in parts.
        assert_eq!(bought_for(&two_papers([3, 3, 20]), 3000), (970, 1));
    }

    #[test]
    fn packs_are_bought_whole() {
        let mut task = two_papers([3, 3, 20]);
        (task.supplies[1].pack, task.supplies[1].price) = (10, Some(650));
        // A pack of ten and three sheets for 100: 950; two packs would do with two sheets: 1500.
        assert_eq!(bought_for(&task, 3000).0, 950);
    }

    #[test]
    fn what_a_budget_allows_is_found_whole() {
        let task = two_papers([3, 3, 20]);
        let all = |budget| within_budget(&task, budget, &mut Pool::default(), &|| false);
        // 26 pieces, two a sheet: one sheet for 100 more saves one for 70.
        assert_eq!(all(969), Some(vec![]));
        assert_eq!(all(970), Some(vec![vec![2, 11]]));
        assert_eq!(all(1000), Some(vec![vec![2, 11], vec![3, 10]]));
        assert_eq!(all(9999), None);
        assert_eq!(within_budget(&task, 1000, &mut Pool::default(), &|| true), None);
    }

    #[test]
    fn there_has_to_be_a_choice() {
        let mut task = two_papers([3, 0, 0]);
        task.supplies[1].price = None;
        let attainable = Attainable::of(&task, Level::Spend, 0, 1000);
        assert!(Purchases::new(&task, &attainable, 0, 1000).is_none());
    }

    #[test]
    fn what_failed_is_tried_again_and_then_with_more() {
        let task = two_papers([3, 3, 20]);
        let attainable = Attainable::of(&task, Level::Spend, 0, 3000);
        let mut pool = Pool::default();
        let mut purchases = Purchases::new(&task, &attainable, 0, 3000).unwrap();
        let stop = || false;
        let first = purchases.next(3000, &mut pool, &stop).unwrap();
        assert_eq!(first, [2, 11]);
        // As if a piece of the first paper had been missing.
        let missing = Trial { plan: Candidate::default(), shortage: None };
        purchases.learn(&first, &missing, &mut pool, &stop);
        let wider = purchases.next(3000, &mut pool, &stop).unwrap();
        assert!(wider[0] * 100 + wider[1] * 70 > 970, "{wider:?}");
        assert_eq!(purchases.next(3000, &mut pool, &stop).unwrap(), first);
        assert_eq!(purchases.bound(), 970);
    }
}
