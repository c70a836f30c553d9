//! Whole tiny orders against an exhaustive search that shares nothing with the program: every pattern of
//! every sheet by plain recursion over whole millimetres, and the cheapest way to cover the demand by
//! trying every number of every sheet.

use crate::bench::batches::{Batch, Extent, Line, Paper, batches, makeable};
use crate::bench::cases;
use cardwright::batch::{Made, Options, Outcome};
use cardwright::stock;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use std::collections::{BTreeMap, BTreeSet};

/// Pieces of each line, at most as many as are wanted.
pub(super) type Counts = Vec<u64>;
/// Money spent, and value of the paper used.
pub(super) type Cost = (i64, i64);

/// What can be cut from plates of one sheet, each plate looked at once.
struct Patterns<'a> {
    batch: &'a Batch,
    sheet: &'a Paper,
    wanted: &'a Counts,
    known: BTreeMap<(i64, i64), Vec<Counts>>,
}

impl Patterns<'_> {
    /// All that a plate can yield, less what yields no more of anything than something else.
    fn of(&mut self, width: i64, height: i64) -> Vec<Counts> {
        if width <= 0 || height <= 0 {
            return vec![vec![0; self.wanted.len()]];
        }
        if let Some(known) = self.known.get(&(width, height)) {
            return known.clone();
        }
        let mut all: BTreeSet<Counts> = self.whole(width, height);
        let rules = self.batch.rules.clone();
        let held = width.min(height) >= rules.hold;
        for at in (1..width).filter(|_| held && height <= rules.knife) {
            let (first, rest) = (self.of(at, height), self.of(width - at - rules.blade, height));
            all.extend(self.sums(&first, &rest));
        }
        for at in (1..height).filter(|_| held && width <= rules.knife) {
            let (first, rest) = (self.of(width, at), self.of(width, height - at - rules.blade));
            all.extend(self.sums(&first, &rest));
        }
        let most = undominated(all);
        self.known.insert((width, height), most.clone());
        most
    }

    /// What an uncut plate is: one piece, or waste.
    fn whole(&self, width: i64, height: i64) -> BTreeSet<Counts> {
        let none = vec![0; self.wanted.len()];
        let mut all = BTreeSet::from([none.clone()]);
        for (at, line) in self.batch.lines.iter().enumerate() {
            let (across, down) = line.blank();
            let (upright, turned) = ways(line, self.sheet, self.batch.rules.grain);
            let lies = (upright && (width, height) == (across, down))
                || (turned && (width, height) == (down, across));
            if lies {
                let mut one = none.clone();
                one[at] = 1;
                all.insert(one);
            }
        }
        all
    }

    fn sums(&self, first: &[Counts], rest: &[Counts]) -> Vec<Counts> {
        let pairs = first.iter().flat_map(|one| rest.iter().map(move |other| (one, other)));
        pairs.map(|(one, other)| sum(one, other, self.wanted)).collect()
    }
}

/// Whether a line's blank may lie on a sheet as it is, and after a quarter turn: only on its papers;
/// turned only where neither the order nor the print forbids it; strictly with its fold along the grain.
fn ways(line: &Line, sheet: &Paper, rule: &str) -> (bool, bool) {
    let has_paper = line.papers.contains(&sheet.paper);
    let free = match line.turn {
        "" => sheet.print == "free",
        turn => turn == "free",
    };
    let fold = match line.fold {
        "side" => "height",
        "top" => "width",
        _ => "",
    };
    let strict = rule == "strict" && !fold.is_empty() && !sheet.grain.is_empty();
    let (along, across) = (fold == sheet.grain, fold != sheet.grain);
    (has_paper && (!strict || along), has_paper && free && (!strict || across))
}

fn sum(one: &Counts, other: &Counts, wanted: &Counts) -> Counts {
    one.iter().zip(other).zip(wanted).map(|((a, b), most)| (a + b).min(*most)).collect()
}

pub(super) fn undominated(all: BTreeSet<Counts>) -> Vec<Counts> {
    let all: Vec<Counts> = all.into_iter().collect();
    let below =
        |one: &Counts, other: &Counts| one != other && one.iter().zip(other).all(|(a, b)| a <= b);
    all.iter().filter(|one| !all.iter().any(|other| below(one, other))).cloned().collect()
}

/// The costs of all ways to have cut these pieces, less those that another beats at both levels.
pub(super) type Reached = BTreeMap<Counts, BTreeSet<Cost>>;

fn reach(reached: &mut Reached, counts: Counts, cost: Cost) {
    let costs = reached.entry(counts).or_default();
    if !costs.iter().any(|other| other.0 <= cost.0 && other.1 <= cost.1) {
        costs.retain(|other| !(cost.0 <= other.0 && cost.1 <= other.1));
        costs.insert(cost);
    }
}

/// All ways to go on from `before` with any number of sheets of one kind.
fn use_sheets(
    before: Reached,
    patterns: &[Counts],
    (sheet, value): (&Paper, i64),
    wanted: &Counts,
) -> Reached {
    let mut all = before.clone();
    let mut layer = before;
    let most = if sheet.price.is_some() { wanted.iter().sum() } else { sheet.on_hand };
    for used in 1..=most {
        let mut next = Reached::new();
        for (counts, costs) in &layer {
            for pattern in patterns {
                let more = sum(counts, pattern, wanted);
                if more != *counts {
                    costs.iter().for_each(|&cost| reach(&mut next, more.clone(), cost));
                }
            }
        }
        let packs = used.saturating_sub(sheet.on_hand).div_ceil(sheet.pack);
        let spend = (packs * sheet.price.unwrap_or(0)) as i64;
        for (counts, costs) in &next {
            let after = |cost: &Cost| (cost.0 + spend, cost.1 + value * used as i64);
            costs.iter().for_each(|cost| reach(&mut all, counts.clone(), after(cost)));
        }
        layer = next;
    }
    all
}

/// The least spend and, at that, the least value of paper used; `None` where the order cannot be made.
pub(super) fn optimum(batch: &Batch, values: &[i64]) -> Option<Cost> {
    reached(batch, values).get(&wanted(batch)).and_then(|costs| costs.first().copied())
}

/// All that can be cut of what is wanted, and what it costs.
pub(super) fn reached(batch: &Batch, values: &[i64]) -> Reached {
    let wanted = wanted(batch);
    let mut reached = Reached::from([(vec![0; wanted.len()], BTreeSet::from([(0, 0)]))]);
    for ((sheet, patterns), &value) in patterns(batch).iter().zip(values) {
        reached = use_sheets(reached, patterns, (sheet, value), &wanted);
    }
    reached
}

/// Pieces of each line, spares included.
pub(super) fn wanted(batch: &Batch) -> Counts {
    batch.lines.iter().map(|line| line.count + batch.rules.spares).collect()
}

/// Full sheets and offcuts, each with all its patterns that are not beaten by another; none where its
/// edges cannot be made true.
pub(super) fn patterns<'a>(batch: &'a Batch) -> Vec<(&'a Paper, Vec<Counts>)> {
    let wanted = wanted(batch);
    let of = |sheet: &'a Paper| {
        let margin = sheet.margin(&batch.rules);
        if margin > 0 && !can_be_squared(sheet, margin, batch.rules.knife) {
            return (sheet, Vec::new());
        }
        let known = BTreeMap::new();
        let (width, height) = (sheet.width - 2 * margin, sheet.height - 2 * margin);
        (sheet, Patterns { batch, sheet, wanted: &wanted, known }.of(width, height))
    };
    batch.stock().map(of).collect()
}

/// Whether the knife reaches over a trim along one side of the sheet and then over one along what is left of the other.
fn can_be_squared(sheet: &Paper, margin: i64, knife: i64) -> bool {
    let sides = [(sheet.width, sheet.height), (sheet.height, sheet.width)];
    sides.iter().any(|(first, second)| *first <= knife && second - margin <= knife)
}

/// What one sheet of each kind counts at the second level, in units of its group of papers. Groups are solved apart, so
/// that sums over all of them can be compared. Whether that is right is for the tests of the stock.
pub(super) fn values(batch: &Batch) -> Vec<i64> {
    let inputs = batch.inputs();
    let mut problems = cardwright::diagnostics::Problems::new();
    let workshop = inputs.workshop.as_ref().unwrap();
    let workshop = cardwright::workshop::read(&workshop.name, &workshop.bytes, &mut problems);
    let stock = cardwright::batch::read_stock(&inputs, &workshop, &mut problems).unwrap();
    let prices = stock::Prices::of(&stock, &workshop);
    let count = |sheet: &stock::Sheet| {
        let group = group(batch, &sheet.paper);
        let has = |paper: &str| group.contains(paper);
        stock::Counting::of(has, &stock, &prices, &workshop).count(sheet).units()
    };
    stock.sheets.iter().map(count).collect()
}

/// The papers that lines join with this one.
pub(super) fn group<'a>(batch: &'a Batch, paper: &'a str) -> BTreeSet<&'a str> {
    let mut group = BTreeSet::from([paper]);
    for _ in &batch.lines {
        for line in &batch.lines {
            if line.papers.iter().any(|paper| group.contains(paper)) {
                group.extend(line.papers.iter());
            }
        }
    }
    group
}

/// Values and bounds of both levels, summed over the groups of papers.
#[derive(Debug)]
struct Sums {
    spend: (i64, i64),
    stock: (i64, i64),
}

fn sums(made: &Made) -> Sums {
    let mut sums = Sums { spend: (0, 0), stock: (0, 0) };
    for proof in &made.plan.proof {
        sums.spend.0 += proof.spend.value.minor();
        sums.spend.1 += proof.spend.bound.minor();
        sums.stock.0 += proof.stock.value.units();
        sums.stock.1 += proof.stock.bound.units();
    }
    sums
}

/// Whether the plan is proven at both levels.
fn compare(batch: &Batch, outcome: &Outcome) -> Result<bool, String> {
    compare_with(optimum(batch, &values(batch)), outcome)
}

/// The same where the optimum is known; an error tells of a value or bound that it refutes.
pub(super) fn compare_with(best: Option<Cost>, outcome: &Outcome) -> Result<bool, String> {
    let titles: Vec<&str> = outcome.problems.iter().map(|problem| problem.title.as_str()).collect();
    let (made, best) = match (&outcome.made, best) {
        (None, None) => return Ok(true),
        (Some(_), None) => return Err("made what cannot be made".to_owned()),
        (None, Some(best)) => {
            let honest = titles.iter().any(|title| title.starts_with("no way was found"));
            let told = format!("{best:?} is possible, but: {titles:?}");
            return if honest { Ok(false) } else { Err(told) };
        }
        (Some(made), Some(best)) => (made, best),
    };
    let Sums { spend, stock } = sums(made);
    let used = made.plan.sheets.iter().map(|sheet| sheet.value.units() * sheet.used as i64);
    let totals = (made.plan.totals.spend.minor(), used.sum::<i64>());
    let told = format!("best {best:?}, spend {spend:?}, stock {stock:?}, totals {totals:?}");
    if totals != (spend.0, stock.0) {
        return Err(format!("the proof is of another plan: {told}"));
    }
    if spend.0 < best.0 || best.0 < spend.1 {
        return Err(format!("level 1: {told}"));
    }
    if spend.0 == best.0 && (stock.0 < best.1 || best.1 < stock.1) {
        return Err(format!("level 2: {told}"));
    }
    Ok(spend.0 == spend.1 && stock.0 == stock.1)
}

pub(super) const TINY: Extent =
    Extent { lines: 4, kinds: 2, most_count: 3, piece: (1, 5), sheet: (3, 8), most_blade: 1 };

proptest! {
    #![proptest_config(cases(256))]

    #[test]
    fn values_and_bounds_hold_the_optimum_between_them(batch in makeable(TINY)) {
        let outcome = batch.plan();
        let compared = compare(&batch, &outcome);
        prop_assert!(compared.is_ok(), "{:?}", compared);
        // An order that is rightly refused has no values.
        prop_assume!(outcome.made.is_some());
    }
}

/// How many of these orders can be made, and those of them that are not proven. They are the same every time, so that it
/// can be said how many have to be.
fn proven(orders: impl Strategy<Value = Batch>, tried: usize) -> (usize, Vec<String>) {
    let mut runner = TestRunner::deterministic();
    let (mut made, mut open) = (0, Vec::new());
    for _ in 0..tried {
        let batch = orders.new_tree(&mut runner).unwrap().current();
        let usual = Options { threads: Some(1), ..Options::default() };
        let outcome = batch.plan_with(usual);
        made += usize::from(outcome.made.is_some());
        match compare(&batch, &outcome) {
            Ok(true) => {}
            Ok(false) => open.push(format!("{:?} {batch:?}", outcome.made.map(|made| sums(&made)))),
            Err(why) => panic!("{why}\n{batch:#?}"),
        }
    }
    (made, open)
}

/// Orders of any kind, most of which cannot be made; that this is so is proven, too.
#[test]
fn tiny_orders_are_proven() {
    let (made, open) = proven(batches(TINY), 400);
    assert_eq!(open, Vec::<String>::new(), "orders that were not proven");
    assert!(made >= 100, "{made} can be made");
}

/// Of a hundred orders that can be made, at most one stays open.
#[test]
fn tiny_orders_that_can_be_made_are_proven() {
    let (made, open) = proven(makeable(TINY), 300);
    assert!(open.len() * 100 <= made, "not proven: {open:#?}");
    assert!(made >= 200, "{made} can be made");
}

/// What costs nothing has no value in a certificate.
#[test]
fn sheets_for_nothing_are_planned() {
    let free = Batch::plain(&[(4, 4, 2)], &[(4, 4, 0, Some(0))], &[(4, 4, 2)]);
    assert_eq!(compare(&free, &free.plan()), Ok(true));
    let mixed = Batch::plain(
        &[(2, 2, 1), (1, 4, 1), (2, 4, 3)],
        &[(4, 5, 0, Some(0)), (5, 6, 0, Some(17))],
        &[(4, 8, 1)],
    );
    assert_eq!(compare(&mixed, &mixed.plan()), Ok(true));
}

/// A second pack would cost more than the plan does, so nothing less than both sheets is enough.
#[test]
fn what_the_budget_cannot_buy_is_no_way_out() {
    let mut batch = Batch::plain(&[(4, 2, 3)], &[(5, 5, 1, Some(32)), (5, 7, 0, Some(28))], &[]);
    batch.sheets[0].pack = 2;
    batch.sheets[1].print = "two-way";
    batch.lines[0].turn = "";
    batch.rules.blade = 1;
    assert_eq!(compare(&batch, &batch.plan()), Ok(true));
}

/// Trims go along the side that the knife reaches over; where it reaches over neither, the sheet is left.
#[test]
fn squaring_minds_the_knife() {
    let mut batch = Batch::plain(&[(4, 4, 2)], &[(6, 10, 0, Some(5))], &[]);
    (batch.rules.squaring, batch.rules.knife) = (1, 9);
    assert_eq!(compare(&batch, &batch.plan()), Ok(true));
    assert_eq!(batch.made().unwrap().plan.totals.sheets_used, 1);
    batch.rules.knife = 8;
    assert_eq!(compare(&batch, &batch.plan()), Ok(true));
    assert!(batch.made().is_none());
}
