//! Other ways to buy are planned anew: each costs what the same order costs from files changed by hand.

use crate::bench::cases;
use crate::bench::instances::inputs;
use cardwright::batch::buying::otherwise;
use cardwright::batch::{self, Options, Outcome};
use cardwright::measure::Money;
use cardwright::quote::{Bought, OtherBuying};
use cardwright::stock::rounded;
use proptest::prelude::*;

/// The name of a sheet, its sides in inches, how many lie there, and the price of how many.
type Row = (&'static str, (i64, i64), u64, Option<i64>, u64);

fn planned(cards: &[(i64, i64, u64)], rows: &[Row]) -> Outcome {
    let mut order = "line,card,count,paper\n".to_owned();
    for ((width, height, count), line) in cards.iter().zip('a'..) {
        order.push_str(&format!("{line},{width} x {height},{count},fern\n"));
    }
    let mut sheets = "sheet,paper,width,height,on hand,price,pack\n".to_owned();
    for (name, (width, height), on_hand, price, pack) in rows {
        let price = price.map(|cents| format!("{}.{:02}", cents / 100, cents % 100));
        let price = price.unwrap_or_default();
        sheets.push_str(&format!("{name},fern,{width},{height},{on_hand},{price},{pack}\n"));
    }
    let inputs = inputs("may", order, sheets, None, String::new());
    batch::plan(&inputs, &Options::default())
}

/// What other buying comes to.
fn others(outcome: &Outcome) -> Vec<OtherBuying> {
    let made = outcome.made.as_ref().unwrap();
    otherwise(made, &outcome.searched, &Options::default(), &|| false)
}

fn of(others: &[OtherBuying], how: Bought, sheet: &str) -> Option<Option<(Money, Money)>> {
    let other = others.iter().find(|other| other.how == how && other.sheet == sheet)?;
    Some(other.spend.zip(other.stock.as_ref().map(rounded)))
}

#[test]
fn a_paper_of_which_nothing_is_bought_is_left_alone() {
    let outcome = planned(&[(4, 4, 4)], &[("small", (9, 9), 5, Some(100), 1)]);
    assert_eq!(others(&outcome), []);
}

#[test]
fn what_took_long_is_not_planned_again() {
    let mut outcome = planned(&[(4, 4, 4)], &[("small", (9, 9), 0, Some(100), 1)]);
    assert_eq!(others(&outcome).len(), 1);
    outcome.searched.work = u64::MAX;
    assert_eq!(others(&outcome), []);
}

proptest! {
    #![proptest_config(cases(24))]

    #[test]
    fn other_buying_is_the_plan_of_other_files(
        cards in prop::collection::vec((2..6_i64, 2..6_i64, 1..30_u64), 1..3),
        (small, large) in ((0..3_u64, 50..200_i64, 1..4_u64), (0..3_u64, 100..400_i64, 1..4_u64)),
    ) {
        let small: Row = ("small", (8, 9), small.0, Some(small.1), small.2);
        let large: Row = ("large", (12, 12), large.0, Some(large.1), large.2);
        let outcome = planned(&cards, &[small, large]);
        let others = others(&outcome);
        let plan = outcome.made.unwrap().plan;
        if plan.totals.spend == Money::ZERO {
            prop_assert_eq!(others.len(), 0);
            return Err(TestCaseError::reject("nothing is bought"));
        }
        // Hard orders are planned once only.
        prop_assume!(!others.is_empty() || outcome.searched.work < 400_000_000);
        prop_assert_eq!(others.len(), 4);
        let more = planned(&cards, &[(small.0, small.1, small.2 + small.4, small.3, small.4), large]);
        let totals = more.made.unwrap().plan.totals;
        let paid = Money::from_minor(small.3.unwrap());
        let expected = Some((totals.spend + paid, totals.stock));
        prop_assert_eq!(of(&others, Bought::OneMore, "small"), Some(expected));
        let alone = planned(&cards, &[(small.0, small.1, small.2, None, 1), large]);
        let spend = alone.made.map(|made| made.plan.totals.spend);
        let told = of(&others, Bought::Alone, "large").unwrap().map(|(spend, _)| spend);
        prop_assert_eq!(told, spend);
        // What is proven to be the least is never undercut.
        for other in others.iter().filter_map(|other| other.spend) {
            let bound: Money = plan.proof.iter().map(|proof| proof.spend.bound).sum();
            prop_assert!(other >= bound);
        }
    }
}
