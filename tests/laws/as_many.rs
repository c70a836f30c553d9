//! As many as can be made: what holds of the counts, and of the plans for them.

use crate::bench::batches::{Batch, Extent, batches};
use crate::bench::cases;
use crate::bench::instances::inputs;
use cardwright::batch::{self, By, Effort, IfShort, Inputs, Made, Options, Outcome, Source};
use cardwright::orders::SetCount;
use proptest::prelude::*;

const SMALL: Extent =
    Extent { lines: 4, kinds: 3, most_count: 20, piece: (8, 40), sheet: (30, 90), most_blade: 2 };

/// The batch with nothing to buy.
fn from_stock(mut batch: Batch) -> Batch {
    batch.sheets.iter_mut().for_each(|sheet| {
        (sheet.price, sheet.on_hand) = (None, sheet.on_hand.max(1));
    });
    batch
}

fn as_many(effort: Effort) -> Options {
    Options { effort, threads: Some(1), if_short: IfShort::AsMany, ..Options::default() }
}

fn in_part() -> TestCaseError {
    TestCaseError::reject("all of it can be made, or nothing")
}

/// What is planned of an order that can be made in part.
fn part(batch: &Batch, effort: Effort) -> Result<Made, TestCaseError> {
    let made = batch.plan_with(as_many(effort)).made;
    made.filter(|made| !made.job.part.is_empty()).ok_or_else(in_part)
}

/// Sets of each line as far as nothing is open, and then none of those that depend on it.
fn closed(counts: &[SetCount]) -> Option<Vec<u64>> {
    let is_closed = counts.iter().all(|count| !count.is_open());
    is_closed.then(|| counts.iter().map(|count| count.found).collect())
}

/// The plan as a file, judged by its order with so many sets.
fn judged(made: &Made, inputs: Inputs) -> Vec<String> {
    let bytes = serde_json::to_vec(&made.plan).unwrap();
    let plan = Source { name: "plan.json".to_owned(), bytes };
    let problems = batch::judge(&plan, By::Kept(&inputs)).problems;
    problems.iter().map(|problem| problem.title.clone()).collect()
}

proptest! {
    #![proptest_config(cases(40))]

    #[test]
    fn what_is_counted_can_be_planned(batch in batches(SMALL).prop_map(from_stock)) {
        let made = part(&batch, Effort::Quick)?;
        for count in &made.job.part {
            prop_assert!(count.found <= count.most && count.most <= count.ordered);
        }
        let sets = made.job.sets();
        prop_assert_eq!(judged(&made, Inputs { sets, ..batch.inputs() }), [""; 0]);
        let whole = judged(&made, batch.inputs());
        prop_assert!(!whole.is_empty(), "it was judged by the whole order");
    }

    /// A line may lose what one before it wins.
    #[test]
    fn counts_never_fall_when_stock_grows(
        batch in batches(SMALL).prop_map(from_stock),
        at in any::<prop::sample::Index>(),
        more in 1..4_u64,
    ) {
        let mut richer = batch.clone();
        let at = at.index(batch.stock().count());
        let stock = richer.sheets.iter_mut().chain(&mut richer.offcuts);
        stock.enumerate().filter(|(index, _)| *index == at).for_each(|(_, one)| one.on_hand += more);
        let before = part(&batch, Effort::Quick)?;
        let Some(after) = richer.plan_with(as_many(Effort::Quick)).made else {
            return Err(TestCaseError::fail("what could be made can be made no more"));
        };
        if let (Some(before), Some(after)) = (closed(&before.job.part), closed(&after.job.part)) {
            prop_assert!(after.is_empty() || before <= after, "{before:?}, then {after:?}");
        }
    }

    #[test]
    fn nothing_proven_impossible_is_made_with_more_effort(batch in batches(SMALL).prop_map(from_stock)) {
        let (quick, usual) = (part(&batch, Effort::Quick)?, batch.plan_with(as_many(Effort::Normal)).made);
        let Some(usual) = usual else {
            return Err(TestCaseError::fail("what can be made quickly can be made"));
        };
        for (quick, usual) in quick.job.part.iter().zip(&usual.job.part) {
            prop_assert!(usual.found <= quick.most && quick.found <= usual.most, "{quick:?}, {usual:?}");
            if quick.found != usual.found {
                break;
            }
        }
    }

    #[test]
    fn threads_do_not_change_the_counts(batch in batches(SMALL).prop_map(from_stock)) {
        let with = |threads| {
            let options = Options { threads: Some(threads), ..as_many(Effort::Quick) };
            batch.plan_with(options).made.map(|made| (made.job.part, made.plan))
        };
        let one = with(1);
        prop_assume!(one.is_some());
        prop_assert_eq!(one, with(2));
    }
}

/// Where all can be made, it is the plan that would be made without asking.
#[test]
fn where_all_can_be_made_nothing_is_different() {
    let batch = Batch::plain(&[(2, 2, 4), (4, 4, 1)], &[(4, 4, 2, None)], &[]);
    let plan = |if_short| {
        let made = batch.plan_with(Options { if_short, ..Options::default() }).made.unwrap();
        (made.job.part, serde_json::to_string(&made.plan).unwrap())
    };
    assert_eq!(plan(IfShort::AsMany), plan(IfShort::Tell));
}

fn planned(order: &str, sheets: &str) -> Outcome {
    let workshop = "[spares]\npercent = 0\nat_least = 0\n".to_owned();
    let inputs = inputs("may", order.to_owned(), sheets.to_owned(), None, workshop);
    batch::plan(&inputs, &as_many(Effort::Normal))
}

/// Sets of each line, in the order in which lines come first.
fn found(order: &str, sheets: &str) -> Vec<(String, u64, u64)> {
    let made = planned(order, sheets).made.unwrap();
    let counts = made.job.part.into_iter();
    counts.map(|count| (count.line, count.found, count.most)).collect()
}

/// Six cards from a sheet, one envelope of 5 x 7 in from another.
#[test]
fn cards_without_their_envelopes_are_no_sets() {
    let order = "line,card,count,paper,envelope\ncard,3 x 4,9,fern,moss\n";
    let sheets = "sheet,paper,width,height,on hand\nfern,fern,12,12,9\nmoss,moss,8 1/2,11,4\n";
    let [(_, found, most)] = &found(order, sheets)[..] else { panic!("one line") };
    assert!(found == most && *found < 9, "{found} to {most}");
    let made = planned(order, sheets).made.unwrap();
    assert!(made.plan.pieces.iter().all(|piece| piece.need == *found));
}

#[test]
fn lines_come_by_their_dates_and_those_without_one_last() {
    let sheets = "sheet,paper,width,height,on hand\nfern,fern,12,12,1\n";
    let order = |dues: [&str; 3]| {
        let [a, b, c] = dues;
        format!(
            "line,card,count,paper,due\na,6 x 6,2,fern,{a}\nb,6 x 6,2,fern,{b}\nc,6 x 6,2,fern,{c}\n"
        )
    };
    let told = |dues| found(&order(dues), sheets);
    let line = |name: &str, sets| (name.to_owned(), sets, sets);
    assert_eq!(told(["", "", ""]), [line("a", 2), line("b", 2), line("c", 0)]);
    let (third, fourth) = ("2031-05-03", "2031-05-04");
    assert_eq!(told(["", fourth, third]), [line("c", 2), line("b", 2), line("a", 0)]);
    assert_eq!(told([fourth, "", fourth]), [line("a", 2), line("c", 2), line("b", 0)]);
}

/// A box of fern holds four tags of moss: five tags need two.
#[test]
fn boxes_hold_several_sets() {
    let boxes = |fern: u64| {
        let order = "line,card,count,paper,box,per box\ntag,2 x 3,12,moss,fern,4\n";
        let sheets = format!(
            "sheet,paper,width,height,on hand,gsm\nfern,fern,5,6,{fern},200\nmoss,moss,12,12,9,200\n"
        );
        let made = planned(order, &sheets).made;
        made.map(|made| (made.job.part.first().map_or(12, |count| count.found), made.plan))
    };
    let mut least = 0;
    for fern in 0..4 {
        let Some((sets, plan)) = boxes(fern) else { continue };
        assert!(sets == 12 || sets % 4 == 0, "{sets}");
        let need = |part: &str| {
            let mut pieces = plan.pieces.iter().filter(|piece| piece.id.ends_with(part));
            pieces.next().map(|piece| piece.need)
        };
        assert_eq!((need(".card"), need(".box")), (Some(sets), Some(sets / 4)));
        assert!(sets >= least);
        least = sets;
    }
    assert_eq!(least, 12);
}
