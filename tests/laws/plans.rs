//! What holds for every plan, whatever was ordered, and between the plans of orders that differ in one
//! thing.

use crate::bench::batches::{Batch, Extent, Line, Paper, Rules, fitted, makeable};
use crate::bench::cases;
use crate::laws::judge::leaves;
use cardwright::batch::{Effort, Made, Options};
use cardwright::measure::Axis;
use cardwright::plan::{Content, Leaf, Node, Proof};
use proptest::prelude::*;
use std::collections::BTreeMap;

const SMALL: Extent =
    Extent { lines: 5, kinds: 3, most_count: 12, piece: (8, 40), sheet: (30, 90), most_blade: 2 };

fn bytes(made: &Made) -> String {
    serde_json::to_string_pretty(&made.plan).unwrap()
}

/// Bound and value of each level.
fn levels(proof: &Proof) -> [(i64, i64); 2] {
    let Proof { spend, stock, .. } = proof;
    let spend = (spend.bound.minor(), spend.value.minor());
    [spend, (stock.bound.units(), stock.value.units())]
}

/// Values and bounds of the first level over all papers.
fn spend(made: &Made) -> (i64, i64) {
    let of = |proof: &Proof| (proof.spend.value.minor(), proof.spend.bound.minor());
    made.plan.proof.iter().map(of).fold((0, 0), |sum, one| (sum.0 + one.0, sum.1 + one.1))
}

/// How often cuts go another way than those before.
fn turns(node: &Node, before: Option<Axis>) -> u32 {
    let Content::Cut(cut) = &node.content else { return 0 };
    let below = cut.parts.iter().map(|part| turns(part, Some(cut.axis))).max().unwrap_or(0);
    below + u32::from(before != Some(cut.axis))
}

fn unmade() -> TestCaseError {
    TestCaseError::reject("it cannot be made")
}

/// A batch, and the same with its rows in another order.
fn changed() -> impl Strategy<Value = (Batch, Batch)> {
    (makeable(SMALL), any::<prop::sample::Index>(), any::<prop::sample::Index>()).prop_map(
        |(batch, turn, turn_stock)| {
            let mut other = batch.clone();
            other.lines.rotate_left(turn.index(batch.lines.len()));
            other.sheets.rotate_left(turn_stock.index(batch.sheets.len()));
            other.offcuts.reverse();
            (batch, other)
        },
    )
}

/// Of both kinds more are cut than are wanted, and which is left uncut first decides what is kept.
#[test]
fn the_order_of_lines_does_not_decide_what_is_left_uncut() {
    let offcuts = [(33, 30, 1), (46, 31, 1)];
    let mut batch = Batch::plain(&[(33, 11, 8), (23, 9, 6)], &[(72, 70, 0, Some(1))], &offcuts);
    batch.lines[1].fold = "side";
    batch.lines.iter_mut().for_each(|line| line.turn = "");
    batch.sheets[0].print = "two-way";
    batch.rules =
        Rules { knife: 900, blade: 2, squaring: 2, keep: (12, 41), spares: 1, ..batch.rules };
    let mut other = batch.clone();
    other.lines.reverse();
    assert_eq!(bytes(&batch.made().unwrap()), bytes(&other.made().unwrap()));
}

proptest! {
    #![proptest_config(cases(60))]

    #[test]
    fn plans_give_what_was_ordered(batch in makeable(SMALL)) {
        let made = batch.case()?;
        let mut cut: BTreeMap<String, u64> = BTreeMap::new();
        for run in &made.plan.runs {
            leaves(&run.layout, &mut |node| if let Content::Leaf(Leaf::Piece(id, _)) = &node.content {
                *cut.entry(id.clone()).or_default() += run.count;
            });
        }
        let ordered: u64 = batch.lines.iter().map(|line| line.count).sum();
        let wanted = batch.lines.iter().map(|line| line.count + batch.rules.spares);
        prop_assert_eq!(made.plan.pieces.iter().map(|piece| piece.need).sum::<u64>(), ordered);
        let planned = made.plan.pieces.iter().map(|piece| piece.need + piece.spares);
        prop_assert_eq!(planned.sum::<u64>(), wanted.sum::<u64>());
        for piece in &made.plan.pieces {
            prop_assert!(cut[&piece.id] >= piece.need + piece.spares, "{}", piece.id);
        }
    }

    #[test]
    fn a_bound_is_never_above_its_value(batch in makeable(SMALL)) {
        let made = batch.case()?;
        for (bound, value) in made.plan.proof.iter().flat_map(levels) {
            prop_assert!(bound <= value);
        }
    }

    #[test]
    fn offcuts_kept_reach_the_keep_rule(batch in makeable(SMALL)) {
        let made = batch.case()?;
        let keep = &made.job.workshop.keep;
        for offcut in &made.plan.offcuts {
            let (short, long) = (offcut.width.min(offcut.height), offcut.width.max(offcut.height));
            prop_assert!(short >= keep.short && long >= keep.long, "{:?}", offcut);
        }
    }

    #[test]
    fn the_order_of_rows_does_not_show((batch, other) in changed()) {
        prop_assume!(format!("{batch:?}") != format!("{other:?}"));
        let (one, two) = (batch.made(), other.made());
        prop_assert_eq!(one.is_some(), two.is_some());
        let (Some(one), Some(two)) = (one, two) else { return Err(unmade()) };
        prop_assert_eq!(bytes(&one), bytes(&two));
    }

    #[test]
    fn few_stages_are_enough(batch in makeable(SMALL), stages in 2..5_u32) {
        let mut few = batch.clone();
        few.rules.stages = stages;
        let (any, few) = (batch.case()?, few.case()?);
        for run in &few.plan.runs {
            // Each edge that is squared is a turn more at most.
            prop_assert!(turns(&run.layout, None) <= stages + 4, "{}", run.id);
        }
        // What any number of stages cannot do, few of them cannot.
        prop_assert!(spend(&few).0 >= spend(&any).1);
    }

    #[test]
    fn threads_do_not_show(batch in makeable(SMALL)) {
        let with = |threads| Options { threads: Some(threads), effort: Effort::Quick, ..Options::default() };
        let [one, two] = [1, 2].map(|threads| batch.plan_with(with(threads)).made);
        prop_assert_eq!(one.as_ref().map(bytes), two.as_ref().map(bytes));
        prop_assume!(one.is_some());
    }

    #[test]
    fn doubling_every_length_changes_no_count(batch in makeable(SMALL)) {
        let mut batch = batch;
        // Without a price, paper is worth its area, and that does change.
        batch.sheets.iter_mut().for_each(|sheet| sheet.price = sheet.price.or(Some(9)));
        batch.offcuts.iter_mut().for_each(|offcut| offcut.paper = batch.sheets[0].paper);
        let batch = fitted(batch);
        let (Some(one), Some(two)) = (batch.made(), batch.scaled(2).made()) else {
            prop_assert!(batch.made().is_none() && batch.scaled(2).made().is_none());
            return Err(unmade());
        };
        let told = |made: &Made| {
            let counts = made.plan.runs.iter().map(|run| (run.sheet.clone(), run.count));
            let totals = &made.plan.totals;
            let money = (totals.spend, totals.stock, totals.kept);
            (counts.collect::<Vec<_>>(), money, totals.gauge_settings, made.plan.proof.clone())
        };
        prop_assert_eq!(told(&one), told(&two));
    }

    #[test]
    fn more_stock_never_costs_more(batch in makeable(SMALL), at in any::<prop::sample::Index>(), more in 1..4_u64) {
        let mut richer = batch.clone();
        let at = at.index(batch.stock().count());
        let stock = richer.sheets.iter_mut().chain(&mut richer.offcuts);
        stock.enumerate().filter(|(index, _)| *index == at).for_each(|(_, one)| one.on_hand += more);
        never_dearer(&richer, &batch)?;
    }

    #[test]
    fn a_cheaper_price_never_costs_more(batch in makeable(SMALL), at in any::<prop::sample::Index>(), part in 0..100_u64) {
        let mut cheaper = batch.clone();
        let mut dear: Vec<&mut Paper> =
            cheaper.sheets.iter_mut().filter(|sheet| sheet.price > Some(1)).collect();
        prop_assume!(!dear.is_empty());
        let at = at.index(dear.len());
        dear[at].price = dear[at].price.map(|price| (price * part / 100).max(1));
        never_dearer(&cheaper, &batch)?;
    }

    #[test]
    fn fewer_cards_never_cost_more(batch in makeable(SMALL), at in any::<prop::sample::Index>()) {
        let mut fewer = batch.clone();
        let line = &mut fewer.lines[at.index(batch.lines.len())];
        prop_assume!(line.count > 1);
        line.count = line.count.div_ceil(2);
        never_dearer(&fewer, &batch)?;
    }

    #[test]
    fn one_batch_never_costs_more_than_two(batch in makeable(SMALL)) {
        // What lies in the workshop can only be used once.
        let mut batch = batch;
        batch.sheets.iter_mut().for_each(|sheet| {
            (sheet.on_hand, sheet.price) = (0, sheet.price.or(Some(9)));
        });
        batch.offcuts.clear();
        let there: Vec<&str> = batch.sheets.iter().map(|sheet| sheet.paper).collect();
        batch.lines.iter_mut().for_each(|line| {
            line.papers.retain(|paper| there.contains(paper));
            line.papers.extend(line.papers.is_empty().then_some(there[0]));
        });
        if let [only] = &batch.lines[..] {
            batch.lines.push(Line { name: "other".to_owned(), ..only.clone() });
        }
        let batch = fitted(batch);
        let middle = batch.lines.len() / 2;
        let (mut first, mut second) = (batch.clone(), batch.clone());
        first.lines.truncate(middle);
        second.lines.drain(..middle);
        let both = batch.case()?;
        let parts = [first, second].map(|part| spend(&part.made().unwrap()));
        prop_assert!(spend(&both).1 <= parts[0].0 + parts[1].0);
    }
}

/// The bound of the better placed batch is no higher than the value of the other, and where both are
/// proven its value is no higher either.
fn never_dearer(better: &Batch, worse: &Batch) -> Result<(), TestCaseError> {
    let worse = worse.case()?;
    let Some(better) = better.made() else {
        return Err(TestCaseError::fail("what could be made can be made no more"));
    };
    let (better, worse) = (spend(&better), spend(&worse));
    prop_assert!(better.1 <= worse.0, "bound {} above value {}", better.1, worse.0);
    if better.0 == better.1 {
        prop_assert!(better.0 <= worse.0, "value {} above value {}", better.0, worse.0);
    }
    Ok(())
}
