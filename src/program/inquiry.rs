//! Whether the stock is enough for other counts of the same pieces, asked again and again.
//!
//! Only pieces count that nothing holds that can be bought: of all others there is enough. As in `shortage.rs`, more
//! sheets are let in at their value, and counts can be made where that comes to nothing. What one question brings to
//! light answers others:
//!
//! - A plan from the stock is enough for all counts that it yields.
//! - Whatever the pieces are taken to be worth, those of a plan are worth no more than the best patterns of all sheets
//!   at hand: `Σ n_i π_i ≤ Σ h_s σ_s`, with `σ_s` as in `mod.rs`. Counts above that cannot be made.
//! - Where a search has proven that counts cannot be made, no larger ones can.

use super::by_area::by_area;
use super::candidate::Candidate;
use super::certificate::{Certificate, worth_of_wanted};
use super::fill::{Rework, area_values, fill_anyhow, fill_up, rework};
use super::level::{Branch, Level};
use super::pool::Pool;
use super::relaxation::{certify, relax};
use super::settle::{Aim, settle};
use super::shortage::{FREE, at_hand, bound_items, thought};
use super::start::Start;
use super::task::Task;
use super::words::{Known, Settings};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// The part of the steps of a question that goes into taking sheets out and filling up again.
const REWORKED: u64 = 4;
/// Times its steps after which a question ends whatever was begun.
const OVERRUN: u64 = 2;

/// Plans that filling the stock begins with.
const MOST_STARTS: usize = 8;

/// What is known of which counts can be made.
pub struct Inquiry {
    /// The task as if more of its sheets could be bought.
    thought: Task,
    /// Whether only sheets that cannot be bought hold a piece, by item.
    bound: Vec<bool>,
    plans: Vec<FromStock>,
    ceilings: Vec<Ceiling>,
    /// Counts that cannot be made.
    refuted: Vec<Vec<u64>>,
}

/// How stock is to be filled; all by item.
pub struct StockFilling<'a> {
    /// Pieces that a plan is known for, which stays.
    pub settled: &'a [u64],
    /// Pieces wanted, those among them.
    pub counts: &'a [u64],
    /// What a piece is worth for its area.
    pub worth: &'a [u64],
}

/// A plan from the stock at hand, and what it yields, by item.
struct FromStock {
    plan: Candidate,
    yields: Vec<u64>,
}

/// `Σ n_i π_i ≤ Σ h_s σ_s` for the counts of every plan.
struct Ceiling {
    /// `π`, by item.
    pieces: Vec<i64>,
    /// `Σ h_s σ_s`.
    at_hand: i128,
}

impl Ceiling {
    fn of(task: &Task, certificate: &Certificate) -> Ceiling {
        let pieces = certificate.pieces.clone();
        let at_hand = worth_of_wanted(task, &pieces) - certificate.bound;
        Ceiling { pieces, at_hand }
    }

    fn forbids(&self, counts: &[u64]) -> bool {
        let worth = counts.iter().zip(&self.pieces);
        let worth = worth.map(|(&count, &value)| i128::from(count) * i128::from(value));
        worth.sum::<i128>() > self.at_hand
    }
}

/// Whether each of `counts` is at most its counterpart.
fn within(counts: &[u64], most: &[u64]) -> bool {
    counts.iter().zip(most).all(|(count, most)| count <= most)
}

impl Inquiry {
    /// Nothing is known yet; its work is counted apart from that of the task.
    pub fn new(task: &Task) -> Inquiry {
        let bound = bound_items(task);
        let mut thought = thought(task, &bound);
        thought.meter = Arc::default();
        let nothing =
            FromStock { plan: Candidate::default(), yields: vec![0; thought.items.len()] };
        Inquiry { thought, bound, plans: vec![nothing], ceilings: Vec::new(), refuted: Vec::new() }
    }

    /// Steps of work done for it so far.
    pub fn steps(&self) -> u64 {
        self.thought.work()
    }

    /// Counts by item, without those of pieces of which there is enough.
    fn scarce(&self, counts: &[u64]) -> Vec<u64> {
        let counts = counts.iter().zip(&self.bound);
        counts.map(|(&count, bound)| if *bound { count } else { 0 }).collect()
    }

    /// Whether so many pieces, by item, can be made, as far as that is known.
    pub fn known(&self, counts: &[u64]) -> Option<bool> {
        let counts = &self.scarce(counts);
        let known = self.plans.len() + self.ceilings.len() + self.refuted.len();
        self.thought.meter.count_checks(known, counts.len());
        if self.plans.iter().any(|plan| within(counts, &plan.yields)) {
            return Some(true);
        }
        let refuted = self.ceilings.iter().any(|ceiling| ceiling.forbids(counts))
            || self.refuted.iter().any(|refuted| within(refuted, counts));
        refuted.then_some(false)
    }

    /// Fills the stock with so many pieces, by item, as far as it goes, those first that are worth most for their area;
    /// sheets that a plan which is known for what is `settled` cuts are cut as it says. That is soon done, and proves nothing;
    /// what the stock has no area for, is known then, too.
    pub fn fill(&mut self, filling: &StockFilling, settings: &Settings) {
        let mut task = self.wanting(filling.counts);
        let values = area_values(&task).into_iter().zip(filling.worth);
        let values: Vec<i64> =
            values.map(|(value, &worth)| value.saturating_mul(worth as i64)).collect();
        self.limit(&task, &by_area(&task, Level::Spend));
        task.supplies.iter_mut().for_each(|supply| supply.price = None);
        let end = task.meter.steps().saturating_add(settings.steps);
        let urgent = || (settings.urgent)() || task.meter.steps() >= end;
        // Where nothing is settled, the first plan is the empty one.
        let is_begun = self.scarce(filling.settled).iter().any(|count| *count > 0);
        let most = if is_begun { MOST_STARTS } else { 1 };
        let starts = self.plans_of(filling.settled).take(most);
        let starts: Vec<Candidate> = starts.map(|known| known.plan.clone()).collect();
        for start in starts {
            let plan = fill_up(&task, start, &values, &urgent);
            self.learn(&task, &plan);
        }
    }

    /// The task with so many pieces, by item.
    fn wanting(&self, counts: &[u64]) -> Task {
        let mut task = self.thought.clone();
        for (item, count) in task.items.iter_mut().zip(self.scarce(counts)) {
            item.demand = count;
        }
        task
    }

    /// Whether so many pieces, by item, can be made; `None` where that is not found out within the settings.
    pub fn ask(&mut self, counts: &[u64], settings: &Settings) -> Option<bool> {
        let known = self.known(counts);
        if known.is_some() {
            return known;
        }
        let task = self.wanting(counts);
        let begun = task.meter.steps();
        let is_past = |times: u64| {
            task.meter.steps() >= begun.saturating_add(settings.steps.saturating_mul(times))
        };
        let refuted = AtomicBool::new(false);
        let stop = || (settings.stop)() || is_past(1) || refuted.load(Ordering::Relaxed);
        let urgent = || (settings.urgent)() || is_past(OVERRUN);
        // A bound above nothing is all that is asked for.
        let tell = |known: Known| refuted.store(known.bound > 0, Ordering::Relaxed);
        let settings =
            &Settings { stop: &stop, half: &stop, urgent: &urgent, tell: &tell, ..*settings };
        self.look(&task, settings);
        self.known(counts)
    }

    /// Goes the ways to a plan or a bound, the cheap ones first, until one of both answers the question.
    fn look(&mut self, task: &Task, settings: &Settings) {
        if self.limit(task, &by_area(task, Level::Spend)) {
            return;
        }
        let values = area_values(task);
        let Some(plan) = fill_anyhow(task, Candidate::default(), &values, settings.urgent) else {
            self.refuted.push(demands(task));
            return;
        };
        if self.learn(task, &plan) || (settings.stop)() {
            return;
        }
        let mut pool = Pool::default();
        plan.add_to(&mut pool);
        let root = Branch::root(task);
        let pieces = relax(task, Level::Spend.on(&root), &mut pool, &|_| (settings.stop)()).pieces;
        if self.limit(task, &certify(task, Level::Spend, &pieces)) || (settings.stop)() {
            return;
        }
        let most = task.meter.steps() + settings.steps / REWORKED;
        let late = || (settings.stop)() || task.meter.steps() >= most;
        let (rounds, urgent) = (4 * settings.rounds, settings.urgent);
        let effort = Rework { rounds, target: FREE, stop: &late, urgent };
        let plan = rework(task, plan, &values, effort);
        if self.learn(task, &plan) || (settings.stop)() {
            return;
        }
        let aim = Aim { level: Level::Spend, settings, steps: task.meter.steps() };
        let (plan, spend) = settle(task, aim, &mut pool, plan, None);
        let is_known = self.learn(task, &plan) || self.limit(task, &spend.certificate);
        if !is_known && spend.bound > 0 {
            self.refuted.push(demands(task));
        }
    }

    /// Keeps what the stock at hand allows of a plan, and says whether that is all of it.
    fn learn(&mut self, task: &Task, plan: &Candidate) -> bool {
        let plan = at_hand(task, plan);
        let mut yields = vec![0; task.items.len()];
        for (column, times) in &plan.runs {
            for (sum, count) in yields.iter_mut().zip(column.counts.iter()) {
                *sum += count * times;
            }
        }
        let complete = within(&demands(task), &yields);
        if !self.plans.iter().any(|known| within(&yields, &known.yields)) {
            self.plans.push(FromStock { plan, yields });
        }
        complete
    }

    /// Keeps a certificate, and says whether it forbids what is asked for.
    fn limit(&mut self, task: &Task, certificate: &Certificate) -> bool {
        let forbids = certificate.bound > 0;
        if forbids {
            self.ceilings.push(Ceiling::of(task, certificate));
        }
        forbids
    }

    /// A plan that is known for so many pieces, by item.
    pub fn start(&self, counts: &[u64]) -> Option<Start> {
        self.plans_of(counts).next().map(|known| Start::of(&self.thought, &known.plan))
    }

    /// The plans that are known for so many pieces, by item.
    fn plans_of(&self, counts: &[u64]) -> impl Iterator<Item = &FromStock> {
        let counts = self.scarce(counts);
        self.plans.iter().filter(move |known| within(&counts, &known.yields))
    }
}

fn demands(task: &Task) -> Vec<u64> {
    task.items.iter().map(|item| item.demand).collect()
}

#[cfg(test)]
mod tests {
    use super::super::samples::{SETTINGS, two_papers};
    use super::*;

    /// Two sheets of a first paper and one of a second, each of which holds two squares.
    fn three_sheets() -> Task {
        let mut task = two_papers([9, 9, 9]);
        for (supply, on_hand) in task.supplies.iter_mut().zip([2, 1]) {
            (supply.price, supply.on_hand) = (None, on_hand);
        }
        task
    }

    #[test]
    fn counts_can_be_made_up_to_the_stock() {
        let task = three_sheets();
        let mut inquiry = Inquiry::new(&task);
        assert_eq!(inquiry.known(&[0, 0, 0]), Some(true));
        for (counts, can) in
            [([4, 2, 0], true), ([3, 1, 2], true), ([5, 0, 0], false), ([2, 2, 3], false)]
        {
            assert_eq!(inquiry.ask(&counts, &SETTINGS), Some(can), "{counts:?}");
        }
        // What was found out answers other questions.
        assert_eq!(inquiry.known(&[2, 1, 1]), Some(true));
        assert_eq!(inquiry.known(&[5, 2, 3]), Some(false));
        let start = inquiry.start(&[3, 1, 2]).unwrap();
        let plan = start.on(&task);
        assert!(plan.cost(&task).is_some());
        let missing = plan.missing(&task);
        assert!(missing.iter().zip([6, 8, 7]).all(|(missing, most)| *missing <= most));
    }

    #[test]
    fn of_what_can_be_bought_there_is_enough() {
        let mut task = three_sheets();
        task.supplies[1].price = Some(70);
        let mut inquiry = Inquiry::new(&task);
        assert_eq!(inquiry.known(&[0, 1_000, 1_000]), Some(true));
        assert_eq!(inquiry.ask(&[4, 1_000, 1_000], &SETTINGS), Some(true));
        assert_eq!(inquiry.ask(&[5, 0, 0], &SETTINGS), Some(false));
    }

    #[test]
    fn filling_finds_what_comes_first() {
        let task = three_sheets();
        let mut inquiry = Inquiry::new(&task);
        let fill = |inquiry: &mut Inquiry, settled: &[u64], worth: &[u64]| {
            inquiry.fill(&StockFilling { settled, counts: &[9, 9, 9], worth }, &SETTINGS);
        };
        fill(&mut inquiry, &[0, 0, 0], &[8, 1, 1]);
        assert_eq!(inquiry.known(&[4, 0, 0]), Some(true));
        assert_eq!(inquiry.known(&[9, 9, 9]), Some(false));
        // What is settled stays, and the rest of the stock is filled.
        let mut inquiry = Inquiry::new(&task);
        assert_eq!(inquiry.ask(&[2, 0, 0], &SETTINGS), Some(true));
        fill(&mut inquiry, &[2, 0, 0], &[1, 8, 1]);
        assert_eq!(inquiry.known(&[2, 2, 0]), Some(true));
    }

    /// Pieces of one bill are others of the next; what is not there is left uncut.
    #[test]
    fn a_start_holds_for_another_bill() {
        let task = three_sheets();
        let mut inquiry = Inquiry::new(&task);
        assert_eq!(inquiry.ask(&[4, 2, 0], &SETTINGS), Some(true));
        let start = inquiry.start(&[4, 2, 0]).unwrap();
        let start = start.renamed(|piece| (piece == 0).then_some(1));
        let mut other = three_sheets();
        other.items.iter_mut().zip([1, 5, 6]).for_each(|(item, piece)| item.piece = piece);
        assert_eq!(start.on(&other).missing(&other), [5, 9, 9]);
    }
}
