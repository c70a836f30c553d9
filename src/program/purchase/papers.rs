//! Plans within a purchase, paper by paper.
//!
//! Once the packs are chosen, papers have nothing in common but the pieces that several of them hold. The relaxed plan
//! with most room shares these out, and every paper is then a small order of its own: cut sheet by sheet first, and
//! settled by all the ways of `settle.rs` if that fails. Where one cannot be cut, the next plan has to leave a piece of
//! it to another paper.

use super::super::candidate::Candidate;
use super::super::descent::{Descent, descend};
use super::super::fill::{fill, fill_up};
use super::super::level::Level;
use super::super::part::{OnePaper, parts};
use super::super::pool::Pool;
use super::super::settle::{Aim, settle};
use super::super::task::{Item, Supply, Task};
use super::super::words::{Chance, Proven, Settings};
use super::bought;
use super::shares::{Limit, shares};
use std::collections::BTreeMap;

/// Times that a paper is cut sheet by sheet.
const DESCENTS: u64 = 3;
/// How far the weights of pieces lie apart.
const MOST_WEIGHT: i64 = 4;
/// Parts of the steps left in which one paper is settled, the first time and later.
const SETTLED: [u64; 3] = [8, 4, 2];

/// What decides, and how long it may take.
pub(in super::super) struct Means<'a, 'b> {
    pub chance: &'a mut Chance,
    pub settings: &'a Settings<'b>,
    /// Steps of the task's meter.
    pub steps: u64,
}

/// The papers of a task, and what could be cut from them.
pub(in super::super) struct Papers<'a> {
    task: &'a Task,
    parts: Vec<OnePaper>,
    known: BTreeMap<PaperOrder, Memory>,
    /// Purchases so far.
    purchases: usize,
}

/// What one paper has to make, and from what.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct PaperOrder {
    /// Index of the part.
    paper: usize,
    /// Packs bought, by its own supplies.
    packs: Vec<u64>,
    /// Pieces wanted, by item.
    wanted: Vec<u64>,
}

/// What is known of an order.
#[derive(Default)]
struct Memory {
    /// The most that could be cut.
    plan: Candidate,
    is_complete: bool,
    /// Times that it was tried.
    tries: usize,
    /// No plan for it spends less.
    bound: i64,
}

/// What came of a purchase.
pub(in super::super) struct Trial {
    /// All that could be cut.
    pub plan: Candidate,
    /// What speaks against the packs, where all could not be cut.
    pub shortage: Option<TooFew>,
}

/// Packs do not suffice.
pub(in super::super) enum TooFew {
    /// That is proven.
    Proven,
    /// Unless this, a part of the task, can be made.
    Unless(Task),
}

impl<'a> Papers<'a> {
    /// The papers with the patterns of the pool.
    pub fn new(task: &'a Task, pool: &Pool) -> Papers<'a> {
        Papers { task, parts: parts(task, pool), known: BTreeMap::new(), purchases: 0 }
    }

    /// What can be cut from these packs, by supply.
    pub fn cut(&mut self, packs: &[u64], pool: &Pool, values: &[i64], means: Means) -> Trial {
        let Means { chance, settings, steps } = means;
        let mended = self.shares(packs, pool, true, chance);
        let is_final = mended.is_none();
        let shares = mended.or_else(|| self.shares(packs, pool, false, chance));
        self.purchases += 1;
        let mut plan = Candidate::default();
        for (paper, wanted) in shares.into_iter().flatten().enumerate() {
            self.parts[paper].learn(pool);
            let order = PaperOrder { paper, packs: self.parts[paper].share(packs), wanted };
            let mut known = self.known.remove(&order).unwrap_or_default();
            if !known.is_complete {
                let means = Means { chance: &mut *chance, settings, steps };
                known = self.cut_paper(&order, known, values, means);
            }
            self.parts[paper].add_to(&mut plan, &known.plan);
            self.known.insert(order, known);
        }
        Trial { plan, shortage: is_final.then(|| self.shortage(packs)).flatten() }
    }

    /// Tries one paper, harder every time.
    fn cut_paper(
        &mut self,
        order: &PaperOrder,
        known: Memory,
        values: &[i64],
        Means { chance, settings, steps }: Means,
    ) -> Memory {
        // A paper that is alone is being settled already.
        let is_alone = self.parts.len() == 1;
        let part = &mut self.parts[order.paper];
        let mut task = part.task.clone();
        for (item, wanted) in task.items.iter_mut().zip(&order.wanted) {
            item.demand = *wanted;
        }
        let tries = known.tries + 1;
        let paid = spent(&task, &order.packs);
        if tries == 1 {
            let bought = bought(&task, &order.packs);
            let plan = most(&bought, &part.patterns, values, chance, settings);
            return Memory { is_complete: plan.is_complete(&task), plan, tries, bound: 0 };
        }
        if is_alone || known.bound > paid {
            return Memory { tries, ..known };
        }
        let now = task.meter.steps();
        let share = steps.saturating_sub(now) / SETTLED[(tries - 2).min(SETTLED.len() - 1)];
        let start = fill(&task, known.plan.clone(), values, settings.urgent);
        match start.map(|start| settled(&task, part, start, settings, now + share)) {
            Some((plan, proven)) if proven.value <= paid => {
                Memory { plan, is_complete: true, tries, bound: proven.bound }
            }
            Some((_, proven)) => Memory { tries, bound: proven.bound.max(known.bound), ..known },
            None => Memory { tries, ..known },
        }
    }

    /// The orders of a purchase that were tried in vain.
    fn in_vain(&self, packs: &[u64]) -> impl Iterator<Item = (&PaperOrder, &Memory)> {
        let own: Vec<Vec<u64>> = self.parts.iter().map(|part| part.share(packs)).collect();
        let known = self.known.iter().filter(|(_, known)| !known.is_complete && known.tries > 1);
        known.filter(move |(order, _)| order.packs == own[order.paper])
    }

    /// Pieces by part and item within these packs; if `mended`, every paper that was tried in vain makes one
    /// piece less of something that it shares.
    fn shares(
        &self,
        packs: &[u64],
        pool: &Pool,
        mended: bool,
        chance: &mut Chance,
    ) -> Option<Vec<Vec<u64>>> {
        let paid = bought(self.task, packs);
        let weight = |_: &Item| match self.purchases {
            0 => 1,
            _ => chance.between(1, MOST_WEIGHT),
        };
        let weights: Vec<i64> = paid.items.iter().map(weight).collect();
        let mut limits = Vec::new();
        for (order, _) in self.in_vain(packs).filter(|_| mended) {
            let shared = self.shared(order.paper).filter(|&item| order.wanted[item] > 0);
            let shared: Vec<usize> = shared.collect();
            let last = shared.len().checked_sub(1)?;
            let item = shared[chance.between(0, last as i64) as usize];
            let paper = self.parts[order.paper].paper;
            limits.push(Limit { paper, item, most: order.wanted[item] - 1 });
        }
        shares(&paid, &self.parts, pool, &limits, &weights)
    }

    /// The pieces of a paper that others hold too.
    fn shared(&self, paper: usize) -> impl Iterator<Item = usize> {
        let others = move |item: usize| {
            self.parts.iter().enumerate().any(|(at, part)| at != paper && part.holds[item])
        };
        (0..self.task.items.len())
            .filter(move |&item| self.parts[paper].holds[item])
            .filter(move |&item| others(item))
    }

    /// What speaks against packs, once some papers are proven to be short that share just one item: together they
    /// make too few of it, or the others would have to make the rest.
    fn shortage(&self, packs: &[u64]) -> Option<TooFew> {
        let short: Vec<(&PaperOrder, usize)> = self
            .in_vain(packs)
            .filter(|(order, known)| {
                known.bound > spent(&self.parts[order.paper].task, &order.packs)
            })
            .filter_map(|(order, _)| {
                let mut shared = self.shared(order.paper);
                Some((order, shared.next().filter(|_| shared.next().is_none())?))
            })
            .collect();
        // Of one paper, the order for the fewest pieces comes first.
        let &(first, item) = short.first()?;
        let wanted = self.task.items[item].demand;
        let is_last = |order: &PaperOrder| {
            let holding = self.parts.iter().filter(|part| part.holds[item]).count();
            let made = (first.wanted[item] + order.wanted[item]).saturating_sub(2);
            order.paper != first.paper && holding == 2 && made < wanted
        };
        if short.iter().any(|&(order, other)| other == item && is_last(order)) {
            return Some(TooFew::Proven);
        }
        Some(TooFew::Unless(self.rest(first, item)))
    }

    /// What the others have to make if a paper makes one piece less than an order for it wants of the only item that
    /// it shares.
    fn rest(&self, order: &PaperOrder, item: usize) -> Task {
        let own = &self.parts[order.paper];
        let mut rest = self.task.clone();
        for (at, wanted) in rest.items.iter_mut().enumerate().filter(|(at, _)| own.holds[*at]) {
            let left = (wanted.demand + 1).saturating_sub(order.wanted[item]);
            wanted.demand = if at == item { left } else { 0 };
        }
        for supply in rest.supplies.iter_mut().filter(|supply| supply.paper == own.paper) {
            *supply = Supply { on_hand: 0, price: None, ..*supply };
        }
        rest
    }
}

/// What packs of a task cost, by its supplies.
fn spent(task: &Task, packs: &[u64]) -> i64 {
    let bought = task.supplies.iter().zip(packs);
    bought.map(|(supply, &packs)| supply.price.unwrap_or(0) * packs as i64).sum()
}

/// The most that can be cut of a small order in a few tries.
fn most(
    task: &Task,
    pool: &Pool,
    values: &[i64],
    chance: &mut Chance,
    settings: &Settings,
) -> Candidate {
    let mut best: Option<(i128, Candidate)> = None;
    for slack in 0..DESCENTS {
        let level = Level::Stock { budget: 0 };
        let plan = descend(task, level, pool, Descent { slack, chance, stop: settings.stop });
        let plan = fill_up(task, plan, values, settings.urgent);
        let missing = task.area(&plan.missing(task));
        if best.as_ref().is_none_or(|(least, _)| missing < *least) {
            best = Some((missing, plan));
        }
        if (settings.stop)() || best.as_ref().is_some_and(|(least, _)| *least == 0) {
            break;
        }
    }
    best.map(|(_, plan)| plan).unwrap_or_default()
}

/// One paper settled as an order of its own, beginning with what was cut of it.
fn settled(
    task: &Task,
    part: &mut OnePaper,
    start: Candidate,
    settings: &Settings,
    steps: u64,
) -> (Candidate, Proven) {
    let own = steps.saturating_sub(task.meter.steps());
    let settings = Settings { steps: own, tell: &|_| (), ..*settings };
    let aim = Aim { level: Level::Spend, settings: &settings, steps };
    settle(task, aim, &mut part.patterns, start, None)
}

#[cfg(test)]
mod tests {
    use super::super::super::samples::{SETTINGS, both_ways, two_papers};
    use super::*;

    /// What speaks against two sheets of the first paper and eleven of the second once these orders are proven to
    /// be short: by paper, how many pieces it was to make of the item that both hold.
    fn shortage(short: &[(usize, u64)]) -> Option<TooFew> {
        let task = two_papers([3, 3, 20]);
        let mut papers = Papers::new(&task, &Pool::default());
        for &(paper, shared) in short {
            let mut wanted = vec![0, 0, shared];
            wanted[paper] = 3;
            let order = PaperOrder { paper, packs: vec![[2, 11][paper]], wanted };
            let bound = [200, 770][paper] + 1;
            papers.known.insert(order, Memory { tries: 2, bound, ..Memory::default() });
        }
        papers.shortage(&[2, 11])
    }

    #[test]
    fn papers_that_make_too_few_together_are_short() {
        // At most none and nineteen of twenty.
        assert!(matches!(shortage(&[(0, 1), (1, 20)]), Some(TooFew::Proven)));
        // One and nineteen would do.
        assert!(matches!(shortage(&[(0, 2), (1, 20)]), Some(TooFew::Unless(_))));
        assert!(shortage(&[]).is_none());
    }

    #[test]
    fn what_one_paper_lacks_the_others_have_to_make() {
        // The first makes one at most.
        let Some(TooFew::Unless(rest)) = shortage(&[(0, 2)]) else { panic!("a rest") };
        let wanted: Vec<u64> = rest.items.iter().map(|item| item.demand).collect();
        assert_eq!(wanted, [0, 3, 19]);
        assert_eq!((rest.supplies[0].price, rest.supplies[1].price), (None, Some(70)));
        // The fewest that are proven to be too many count.
        let Some(TooFew::Unless(rest)) = shortage(&[(1, 20), (1, 18)]) else { panic!("a rest") };
        assert_eq!(rest.items[2].demand, 3);
    }

    #[test]
    fn what_is_not_proven_says_nothing() {
        let task = two_papers([3, 3, 20]);
        let mut papers = Papers::new(&task, &Pool::default());
        let order = PaperOrder { paper: 0, packs: vec![2], wanted: vec![3, 0, 2] };
        papers.known.insert(order, Memory { tries: 2, bound: 200, ..Memory::default() });
        assert!(papers.shortage(&[2, 11]).is_none());
    }

    #[test]
    fn a_paper_is_cut_from_its_own_packs() {
        let task = two_papers([3, 3, 20]);
        let values = [1, 1, 1];
        let pool = both_ways(&task);
        let mut papers = Papers::new(&task, &pool);
        let mut chance = Chance::new(1);
        let mut cut = |packs: [u64; 2]| {
            let means = Means { chance: &mut chance, settings: &SETTINGS, steps: SETTINGS.steps };
            papers.cut(&packs, &pool, &values, means).plan
        };
        let plan = cut([2, 11]);
        assert!(plan.is_complete(&task));
        assert_eq!(plan.used(&task), [2, 11]);
        // One sheet too few: nothing is shared out.
        assert!(!cut([2, 10]).is_complete(&task));
    }
}
