//! Branch and bound on how many sheets of each supply are cut and how many packs are bought.
//!
//! These limits never touch the pricing, so that every branch is bounded by the same exact patterns, which are made on
//! the way (Vanderbeck & Wolsey 1996; Vanderbeck 2000). Where all patterns are listed that a better plan may use
//! (`listed.rs`), the search also branches on how many sheets are cut by each, bounds every node in whole numbers, and
//! is complete.

use super::attainable::Attainable;
use super::candidate::{Candidate, Cost};
use super::level::{Branch, Level, Range};
use super::listed::{self, List};
use super::master::master;
use super::pool::Pool;
use super::relaxation::relax;
use super::rounding::{dive, over_pool, piece_values};
use super::task::{Supply, Task};
use super::words::Settings;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// How a search ended.
pub(super) struct SearchEnd {
    /// The best plan, no worse than the one it began with.
    pub best: Candidate,
    /// No plan costs less at this level.
    pub bound: i64,
}

/// What a search works on.
pub(super) struct Search<'a> {
    task: &'a Task,
    level: Level,
    settings: &'a Settings<'a>,
    attainable: &'a Attainable,
    pool: &'a mut Pool,
    source: PatternSource<'a>,
    /// Steps when the search began.
    begun: u64,
    /// Steps spent on looking for plans.
    looking: u64,
}

/// Where the patterns of a search come from.
pub(super) enum PatternSource<'a> {
    /// From the sheets, by pricing.
    Sheets,
    /// From the list of all that matter.
    List(&'a mut List),
}

/// The patterns of a search: those it begins with, and where more come from.
pub(super) struct Patterns<'a> {
    pub pool: &'a mut Pool,
    pub source: PatternSource<'a>,
}

/// A branch that is still open, and what it costs at least.
struct Open {
    branch: Branch,
    bound: i64,
}

impl<'a> Search<'a> {
    /// A search that has not begun.
    pub fn new(
        task: &'a Task,
        level: Level,
        settings: &'a Settings<'a>,
        attainable: &'a Attainable,
        Patterns { pool, source }: Patterns<'a>,
    ) -> Search<'a> {
        let begun = task.meter.steps();
        Search { task, level, settings, attainable, pool, source, begun, looking: 0 }
    }

    /// Searches from the root, whose bound is known, until the best plan is proven or the nodes are
    /// used up.
    pub fn run(mut self, start: Candidate, root_bound: i64) -> SearchEnd {
        let mut best = start;
        let mut open: BTreeMap<(i64, Reverse<usize>), Open> = BTreeMap::new();
        let mut settled = i64::MAX;
        let mut nodes = 0;
        open.insert(
            (root_bound, Reverse(0)),
            Open { branch: Branch::root(self.task), bound: root_bound },
        );
        while let Some((_, node)) = open.pop_first() {
            let cost = self.value(&best);
            if node.bound >= cost {
                break;
            }
            if nodes >= self.settings.nodes || (self.settings.stop)() {
                settled = settled.min(node.bound);
                break;
            }
            nodes += 1;
            for (number, child) in
                self.expand(node, &mut best, &mut settled).into_iter().enumerate()
            {
                open.insert((child.bound, Reverse(nodes * 4 + number)), child);
            }
        }
        let bound = settled.min(self.value(&best)).max(root_bound);
        SearchEnd { best, bound }
    }

    fn value(&self, candidate: &Candidate) -> i64 {
        let cost = candidate.cost(self.task).unwrap_or(Cost { spend: i64::MAX, stock: i64::MAX });
        match self.level {
            Level::Spend => cost.spend,
            Level::Stock { budget } if cost.spend > budget => i64::MAX,
            Level::Stock { .. } => cost.stock,
        }
    }

    fn offer(&self, best: &mut Candidate, candidate: Option<Candidate>) {
        let Some(candidate) = candidate.filter(|candidate| candidate.is_complete(self.task)) else {
            return;
        };
        if self.value(&candidate) < self.value(best) {
            *best = candidate;
        }
    }

    /// Bounds a node, looks for plans in it, and splits it. What can be neither split nor closed
    /// lowers `settled`.
    fn expand(&mut self, node: Open, best: &mut Candidate, settled: &mut i64) -> Vec<Open> {
        let subproblem = self.level.on(&node.branch);
        let cost = self.value(best);
        let attainable = self.attainable;
        let stop = self.settings.stop;
        let closed = |bound: (i128, i128)| stop() || attainable.round_up(bound.0, bound.1) >= cost;
        let relaxed = match &mut self.source {
            PatternSource::Sheets => relax(self.task, subproblem, self.pool, &closed),
            PatternSource::List(list) => {
                listed::relax(self.task, subproblem, list, self.pool, &closed)
            }
        };
        let bound = attainable.round_up(relaxed.bound.0, relaxed.bound.1).max(node.bound);
        if bound >= cost {
            return Vec::new();
        }
        self.task.meter.count_program(self.task.items.len(), self.pool.columns().len());
        let Some(parts) = master(self.task, subproblem, self.pool).solve() else {
            // No pattern found so far fits the limits: split on nothing, leave it open.
            *settled = (*settled).min(bound);
            return Vec::new();
        };
        let (parts, packs) = parts.split_at(self.pool.columns().len());
        self.offer(best, self.whole_plan(parts));
        if bound >= self.value(best) {
            return Vec::new();
        }
        let children = self.split(&node.branch, parts, packs);
        // Looking for plans may take half of the work; it always happens where nothing is left to split.
        let now = self.task.meter.steps();
        if self.looking * 2 <= now - self.begun || children.is_empty() {
            self.look_for_plans(&node.branch, &piece_values(&relaxed.pieces), best);
            self.looking += self.task.meter.steps() - now;
            if bound >= self.value(best) {
                return Vec::new();
            }
        }
        if children.is_empty() {
            *settled = (*settled).min(bound);
        }
        children.into_iter().map(|branch| Open { branch, bound }).collect()
    }

    /// The plan that a relaxed solution is, if it is one.
    fn whole_plan(&self, parts: &[f64]) -> Option<Candidate> {
        let mut plan = Candidate::default();
        for (column, part) in self.pool.columns().iter().zip(parts) {
            if (part - part.round()).abs() > 1e-6 {
                return None;
            }
            plan.add(column, part.round().max(0.0) as u64);
        }
        Some(plan)
    }

    fn look_for_plans(&mut self, branch: &Branch, values: &[i64], best: &mut Candidate) {
        let place = self.level.on(branch);
        if let PatternSource::Sheets = self.source {
            let dived = dive(self.task, place, self.pool, self.settings.stop, self.settings.urgent);
            self.offer(best, dived);
        }
        let pooled = over_pool(self.task, place, self.pool, values, self.settings);
        self.offer(best, pooled);
    }

    /// Splits on the sheets or packs that are furthest from whole; else fixes one that is whole.
    fn split(&self, branch: &Branch, parts: &[f64], packs: &[f64]) -> Vec<Branch> {
        let columns = self.pool.columns();
        let mut used = vec![0.0; self.task.supplies.len()];
        columns.iter().zip(parts).for_each(|(column, part)| used[column.supply] += part);
        let distance = |amount: f64| (amount - amount.round()).abs();
        // What is dear decides more than what is cheap.
        let furthest = |amounts: &[f64], cost: &dyn Fn(&Supply) -> i64| {
            let weight =
                |at: usize| distance(amounts[at]) * cost(&self.task.supplies[at]).max(1) as f64;
            let far = (0..amounts.len()).filter(|&at| distance(amounts[at]) > 1e-5);
            far.max_by(|&a, &b| weight(a).total_cmp(&weight(b))).map(|at| (at, weight(at)))
        };
        let on_used = furthest(&used, &|supply| supply.value);
        let on_packs = furthest(packs, &Supply::pack_worth);
        // Spending hangs on the packs alone, the value of the stock on what weighs more.
        let packs_first = match (self.level, on_packs, on_used) {
            (Level::Stock { .. }, Some((_, packs)), Some((_, used))) => packs > used,
            (_, on_packs, _) => on_packs.is_some(),
        };
        let children = match (on_packs, on_used) {
            (Some((at, _)), _) if packs_first => {
                Some(halves(branch, packs[at], |branch| &mut branch.packs[at]))
            }
            (_, on_used) => {
                on_used.map(|(at, _)| halves(branch, used[at], |branch| &mut branch.used[at]))
            }
        };
        if let Some(children) = children {
            return children;
        }
        if let PatternSource::List(_) = self.source {
            return self.split_columns(branch, parts);
        }
        let loose = (0..used.len()).find(|&at| {
            let range = branch.used[at];
            range.most != Some(range.least)
        });
        loose.map_or(Vec::new(), |at| thirds(branch, at, used[at].round().max(0.0) as u64))
    }

    /// Splits on the pattern whose number of sheets is furthest from whole.
    fn split_columns(&self, branch: &Branch, parts: &[f64]) -> Vec<Branch> {
        let distance = |at: usize| (parts[at] - parts[at].round()).abs();
        let far = (0..parts.len()).filter(|&at| distance(at) > 1e-6);
        let Some(at) = far.max_by(|&a, &b| distance(a).total_cmp(&distance(b)).then(b.cmp(&a)))
        else {
            return Vec::new();
        };
        halves(branch, parts[at], |branch| branch.columns.entry(at).or_insert(Range::ANY))
    }
}

/// At most the whole part, or at least one more.
fn halves(branch: &Branch, amount: f64, range: impl Fn(&mut Branch) -> &mut Range) -> Vec<Branch> {
    let whole = amount.floor().max(0.0) as u64;
    let (mut low, mut high) = (branch.clone(), branch.clone());
    range(&mut low).most = Some(whole);
    range(&mut high).least = whole + 1;
    vec![low, high].into_iter().filter(possible).collect()
}

/// Exactly so many, fewer, or more.
fn thirds(branch: &Branch, at: usize, amount: u64) -> Vec<Branch> {
    let with = |least: u64, most: Option<u64>| {
        let mut branch = branch.clone();
        branch.used[at] = Range { least, most };
        branch
    };
    let range = branch.used[at];
    let mut children = vec![with(amount, Some(amount))];
    if amount > range.least {
        children.push(with(range.least, Some(amount - 1)));
    }
    if range.most.is_none_or(|most| most > amount) {
        children.push(with(amount + 1, range.most));
    }
    children.into_iter().filter(possible).collect()
}

fn possible(branch: &Branch) -> bool {
    let mut ranges = branch.used.iter().chain(&branch.packs).chain(branch.columns.values());
    ranges.all(|range| range.most.is_none_or(|most| range.least <= most))
}
