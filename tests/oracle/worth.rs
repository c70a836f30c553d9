//! Tiny orders with odd prices and packs, enumerated: a plan that is proven uses paper of the least exact worth, to within a
//! unit for each sheet that counts by area.

use super::orders::{TINY, group, optimum};
use crate::bench::batches::{Batch, Paper, makeable};
use crate::bench::cases;
use cardwright::batch::Made;
use proptest::prelude::*;

/// A fraction.
type Exact = (i128, i128);

fn lowest_terms((above, below): Exact) -> Exact {
    let divisor = divisor(above, below);
    (above / divisor, below / divisor)
}

fn divisor(one: i128, other: i128) -> i128 {
    if other == 0 { one } else { divisor(other, one % other) }
}

fn is_less(one: Exact, other: Exact) -> bool {
    one.0 * other.1 < other.0 * one.1
}

fn least(all: impl Iterator<Item = Exact>) -> Option<Exact> {
    all.reduce(|least, one| if is_less(one, least) { one } else { least })
}

/// The lowest price of a square millimetre of these papers.
fn rate(batch: &Batch, papers: impl Fn(&str) -> bool) -> Option<Exact> {
    let offers = batch.sheets.iter().filter(|sheet| papers(sheet.paper));
    least(offers.filter_map(|sheet| {
        let whole = i128::from(sheet.pack) * i128::from(sheet.width * sheet.height);
        Some((i128::from(sheet.price?), whole))
    }))
}

/// What a sheet counts, before anything is rounded: its share of a pack; without a price, its area at the lowest price of its
/// paper, else at a thousandth of the lowest of all papers that it is planned with; where these have none, its area.
fn counts(batch: &Batch, sheet: &Paper) -> Exact {
    let is_offcut = sheet.name.starts_with("offcut");
    if let (Some(price), false) = (sheet.price, is_offcut) {
        return (price.into(), sheet.pack.into());
    }
    let area = i128::from(sheet.width * sheet.height) * if is_offcut { 30 } else { 100 };
    let papers = group(batch, sheet.paper);
    let own = rate(batch, |paper| paper == sheet.paper);
    let all = rate(batch, |paper| papers.contains(paper)).map(|all| (all.0, all.1 * 1000));
    let (above, below) = own.or(all).unwrap_or((1, 1));
    lowest_terms((above * area, below * 100))
}

/// The same of all sheets over a common denominator, which is told.
fn exact(batch: &Batch) -> Option<(Vec<i64>, i128)> {
    let all: Vec<Exact> = batch.stock().map(|sheet| lowest_terms(counts(batch, sheet))).collect();
    let mut common = 1_i128;
    for (_, below) in &all {
        common = common / divisor(common, *below) * below;
    }
    let whole = all.iter().map(|(above, below)| i64::try_from(above * (common / below)).ok());
    let whole = whole.collect::<Option<Vec<i64>>>()?;
    // Sums of a few dozen have to fit as well.
    whole.iter().all(|value| *value < i64::MAX / 1000).then_some((whole, common))
}

/// What the plan uses, and by how much the units in which it was planned may have hidden something cheaper.
fn used(batch: &Batch, made: &Made, (values, common): (&[i64], i128)) -> (i128, i128) {
    let (mut used, mut hidden) = (0, 0);
    for (paper, value) in batch.stock().zip(values) {
        let sheets = made.plan.sheets.iter().filter(|sheet| sheet.id == paper.name);
        let count: i128 = sheets.map(|sheet| i128::from(sheet.used)).sum();
        used += i128::from(*value) * count;
        let proof = made.plan.proof.iter().find(|it| it.papers.iter().any(|it| it == paper.paper));
        let Some(proof) = proof.filter(|_| paper.price.is_none()) else { continue };
        // A unit where worth is money; no more than a thousandth of the smallest full sheet where area counts.
        let unit = match proof.unit {
            Some([above, below]) => i128::from(above) * common / i128::from(below) + 1,
            None => common * 64 / 1000 + 1,
        };
        // Without a price of its own it may count a unit though it is worth less.
        let has_price = rate(batch, |other| other == paper.paper).is_some();
        hidden += unit * if has_price { count } else { count + i128::from(paper.on_hand) };
    }
    (used, hidden)
}

fn odd() -> impl Strategy<Value = Batch> {
    let packs = prop::collection::vec(1_u64..9, 2);
    let prices = prop::collection::vec(1_u64..60, 2);
    (makeable(TINY), packs, prices).prop_map(|(mut batch, packs, prices)| {
        for ((sheet, pack), price) in batch.sheets.iter_mut().zip(packs).zip(prices) {
            (sheet.pack, sheet.price) = (pack, sheet.price.map(|_| price));
            // Often there is enough of it, so that the worth of what is used decides.
            sheet.on_hand += pack;
        }
        batch
    })
}

proptest! {
    #![proptest_config(cases(256))]

    #[test]
    fn a_proven_plan_uses_the_least_exact_worth(batch in odd()) {
        let made = batch.case()?;
        let mut levels = made.plan.proof.iter().flat_map(|proof| proof.statuses());
        let is_proven = levels.all(|status| status == cardwright::plan::Status::Optimal);
        prop_assume!(is_proven);
        let exact = exact(&batch);
        prop_assume!(exact.is_some());
        let (values, common) = exact.unwrap();
        let (spend, least) = optimum(&batch, &values).unwrap();
        prop_assert_eq!(made.plan.totals.spend.minor(), spend);
        let (used, hidden) = used(&batch, &made, (&values, common));
        let least = i128::from(least);
        prop_assert!(least <= used && used <= least + hidden, "{least} <= {used} <= {least} + {hidden} of {common}: {:?}", made.plan.sheets);
    }
}
