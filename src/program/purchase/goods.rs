//! What can be bought, what is known to be needed of it, and the cheapest packs that meet that.

use super::super::attainable::Attainable;
use super::super::certificate::scaled;
use super::super::level::{Branch, Level, Range};
use super::super::listed::most_packs;
use super::super::pool::Pool;
use super::super::relaxation::{relax, worth_of};
use super::super::task::Task;
use super::super::words::Stop;
use super::need::Need;
use super::tree::{PurchaseTree, Stepped};
use std::collections::BTreeSet;

/// Worth of a pattern in the whole numbers of the needs; small enough for 32-bit tables.
const WORTH: i64 = 1 << 28;
/// Ranges of packs at the beginning of a search, each of which is asked for a need.
const FIRST: usize = 40;
/// Later one of so many is.
const ASKED: usize = 128;

/// Packs that cost less than `most`, for so many pieces more than are wanted.
#[derive(Clone, Copy)]
pub(super) struct Sought<'a> {
    pub margin: &'a [u64],
    pub most: i64,
}

/// A task, and one that wants as much or more.
struct Enlarged<'a> {
    task: &'a Task,
    wider: &'a Task,
}

/// What can be bought for a task.
pub(super) struct Goods<'a> {
    pub task: &'a Task,
    attainable: &'a Attainable,
    /// The supplies of which packs can be bought.
    supplies: Vec<usize>,
    /// What a pack of each costs.
    cost: Vec<i64>,
    needs: Vec<Need>,
}

impl<'a> Goods<'a> {
    /// No needs are known yet.
    pub fn new(task: &'a Task, attainable: &'a Attainable) -> Goods<'a> {
        let all = 0..task.supplies.len();
        let supplies: Vec<usize> = all.filter(|&at| task.supplies[at].price.is_some()).collect();
        let cost = supplies.iter().filter_map(|&at| task.supplies[at].price).collect();
        Goods { task, attainable, supplies, cost, needs: Vec::new() }
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.supplies.len()
    }

    /// What packs cost.
    pub fn cost_of(&self, packs: &[u64]) -> i64 {
        packs.iter().zip(&self.cost).map(|(&packs, &cost)| packs as i64 * cost).sum()
    }

    /// Of amounts by supply, those of what can be bought.
    pub fn of(&self, amounts: &[u64]) -> Vec<u64> {
        self.supplies.iter().map(|&at| amounts[at]).collect()
    }

    /// Packs by supply.
    pub fn by_supply(&self, packs: &[u64]) -> Vec<u64> {
        let mut all = vec![0; self.task.supplies.len()];
        self.supplies.iter().zip(packs).for_each(|(&at, &packs)| all[at] = packs);
        all
    }

    /// All purchases that cost from `least` to `most`, where so many pieces more are wanted.
    pub fn tree(&self, margin: &[u64], least: i64, most: i64) -> PurchaseTree<'a> {
        let wider = wider(self.task, margin);
        let upper = self.supplies.iter().map(|&at| &wider.supplies[at]);
        let upper = upper.map(|supply| most_packs(&wider, Level::Spend, supply, most)).collect();
        PurchaseTree::new(self.cost.clone(), self.attainable, &self.task.meter, upper, least)
    }

    /// The cheapest packs of a tree whose paper would suffice if patterns could be cut in parts.
    pub fn cheapest(
        &mut self,
        tree: &mut PurchaseTree,
        Sought { margin, most }: Sought,
        pool: &mut Pool,
        stop: Stop,
    ) -> Option<Vec<u64>> {
        let wider = wider(self.task, margin);
        let mut tried = BTreeSet::new();
        for nodes in 0.. {
            if tree.next() >= most || stop() {
                break;
            }
            tree.learn(&self.needs, margin);
            let (packs, is_cheapest) = match tree.step() {
                Stepped::End => break,
                Stepped::On => continue,
                Stepped::Packs(packs) => (packs, true),
                Stepped::Parts(packs) => {
                    let asked = nodes < FIRST || nodes % ASKED == 0;
                    match asked.then(|| rounded(&packs, &mut tried)).flatten() {
                        Some(packs) => (packs, false),
                        None => continue,
                    }
                }
            };
            match self.lacking(Enlarged { task: self.task, wider: &wider }, &packs, pool, stop) {
                Some(need) if !need.is_met(&packs, margin) => self.needs.push(need),
                _ if is_cheapest => return Some(packs),
                _ => {}
            }
        }
        None
    }

    /// Whether what these packs buy is proven not to suffice for a part of the task.
    pub fn is_short(&self, rest: &Task, packs: &[u64], pool: &mut Pool, stop: Stop) -> bool {
        let none = vec![0; rest.items.len()];
        let asked = Enlarged { task: rest, wider: rest };
        self.lacking(asked, packs, pool, stop).is_some_and(|need| !need.is_met(packs, &none))
    }

    /// What these packs lack most for a task, if they lack anything for a wider one.
    fn lacking(
        &self,
        Enlarged { task, wider }: Enlarged,
        packs: &[u64],
        pool: &mut Pool,
        stop: Stop,
    ) -> Option<Need> {
        let mut branch = Branch::root(wider);
        let had = self.supplies.iter().zip(packs);
        for (&at, &packs) in had.filter(|(at, _)| wider.supplies[**at].price.is_some()) {
            branch.packs[at] = Range { least: packs, most: None };
        }
        let relaxed = relax(wider, Level::Spend.on(&branch), pool, &|_| stop());
        let scale = (WORTH / Level::Spend.largest_cost(wider)).max(1);
        let pieces = scaled(&relaxed.pieces, scale);
        let worth = worth_of(wider, &pieces);
        Need::new(task, &self.supplies, &pieces, &worth)
    }
}

/// Whole packs near these, less and less of them, that were not tried yet.
fn rounded(packs: &[f64], tried: &mut BTreeSet<Vec<u64>>) -> Option<Vec<u64>> {
    let near = |up: &f64| packs.iter().map(|packs| (packs + up).floor().max(0.0) as u64).collect();
    [0.5, 0.25, 1e-6].iter().map(near).find(|near| tried.insert(Vec::clone(near)))
}

/// The task with so many pieces more.
fn wider(task: &Task, margin: &[u64]) -> Task {
    let mut wider = task.clone();
    wider.items.iter_mut().zip(margin).for_each(|(item, more)| item.demand += more);
    wider
}
