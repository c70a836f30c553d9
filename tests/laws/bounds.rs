//! No bound is below that of the area: pieces take their area, whatever else is known or not.

use crate::bench::batches::Batch;
use crate::bench::cases;
use crate::bench::hostile::{Hostile, PLAIN};
use cardwright::batch::Watch;
use cardwright::batch::{self, Effort, Options};
use cardwright::plan::{Plan, Proof};
use proptest::prelude::*;

const CALLED_OFF: Watch = Watch { stop: &|| true, ..Watch::NOBODY };

fn planned(batch: &Batch, watch: Watch) -> Option<Plan> {
    let options = Options { effort: Effort::Quick, ..Options::default() };
    let outcome = batch::plan_watched(&batch.inputs(), &options, watch);
    assert_eq!(outcome.faults, Vec::<String>::new());
    outcome.made.map(|made| made.plan)
}

/// Width, height, pieces or sheets of it, price.
type Row = (i64, i64, u64, Option<u64>);

fn area(&(width, height, ..): &Row, blade: i64) -> i128 {
    i128::from(width + blade) * i128::from(height + blade)
}

/// Whether both bounds are no lower than those of the area. Every sheet holds some piece, and all can be bought singly.
fn is_above_area(proof: &Proof, (cards, sheets): (&[Row], &[Row]), blade: i64) -> bool {
    let times = |row: &Row| area(row, blade) * i128::from(row.2);
    let wanted: i128 = cards.iter().map(times).sum();
    let at_hand: i128 = sheets.iter().map(times).sum();
    // bound >= price / area of the sheet x area, for the sheet where that is least.
    let above = |bound: i64, needed: i128| {
        let paid = |sheet: &Row| i128::from(sheet.3.unwrap_or(0)) * needed;
        sheets.iter().any(|sheet| i128::from(bound) * area(sheet, blade) >= paid(sheet))
    };
    // A sheet at hand is worth its price, which is so many units of worth.
    let [unit, units] = proof.unit.unwrap();
    let stock = |bound: i64| i128::from(bound) * i128::from(unit);
    let worth = |sheet: &Row| i128::from(sheet.3.unwrap_or(0)) * i128::from(units) * wanted;
    let stock_is_above =
        sheets.iter().any(|row| stock(proof.stock.bound.units()) * area(row, blade) >= worth(row));
    above(proof.spend.bound.minor(), wanted - at_hand) && stock_is_above
}

fn rows(
    side: std::ops::Range<i64>,
    count: std::ops::Range<u64>,
) -> impl Strategy<Value = Vec<Row>> {
    let price = (1_u64..500).prop_map(Some);
    prop::collection::vec((side.clone(), side, count, price), 1..6)
}

proptest! {
    #![proptest_config(cases(40))]

    #[test]
    fn no_bound_is_below_its_areas(
        cards in rows(8..40, 1..60),
        sheets in rows(40..90, 0..4),
        blade in 0_i64..3,
        called_off: bool,
    ) {
        let plain: Vec<_> = cards.iter().map(|&(width, height, count, _)| (width, height, count)).collect();
        let mut batch = Batch::plain(&plain, &sheets, &[]);
        batch.rules.blade = blade;
        let plan = planned(&batch, if called_off { CALLED_OFF } else { Watch::NOBODY });
        prop_assume!(plan.is_some());
        for proof in &plan.unwrap().proof {
            prop_assert!(is_above_area(proof, (&cards, &sheets), blade), "{proof:?}");
        }
    }
}

/// A hundred pieces, no two alike, on sheets of 300 x 300 mm.
#[test]
fn without_any_time_the_area_is_known() {
    let cards: Vec<(i64, i64, u64)> =
        (0..100).map(|at| (20 + at * 37 % 71, 20 + at * 53 % 67, 1)).collect();
    let sheets = [(300, 300, 0, Some(100))];
    let plan = planned(&Batch::plain(&cards, &sheets, &[]), CALLED_OFF).unwrap();
    let wanted: i64 = cards.iter().map(|(width, height, _)| width * height).sum();
    let least = (wanted + 89_999) / 90_000 * 100;
    assert!(least >= 300, "{least}");
    let [proof] = &plan.proof[..] else { panic!("{:?}", plan.proof) };
    assert_eq!(proof.spend.bound.minor(), least);
    assert_eq!((proof.unit, proof.stock.bound.units()), (Some([1, 10]), least * 10));
}

/// Cards a little larger than half a sheet each way: two of them need two sheets, of which they fill little more than one
/// half.
#[test]
fn without_any_time_what_cannot_lie_side_by_side_is_known() {
    let cards: [(i64, i64, u64); 3] = [(52, 53, 4), (60, 40, 3), (51, 70, 2)];
    let plan =
        planned(&Batch::plain(&cards, &[(100, 100, 0, Some(100))], &[]), CALLED_OFF).unwrap();
    let [proof] = &plan.proof[..] else { panic!("{:?}", plan.proof) };
    let area: i64 = cards.iter().map(|(width, height, count)| width * height * *count as i64).sum();
    assert!(area < 30_000, "three sheets by area: {area}");
    let bound = proof.spend.bound.minor();
    assert!(bound >= 600 && !proof.spend.complete_search, "{bound}");
}

/// Sides to a thousandth of a millimetre, for which no table is exact: the judge needs none.
#[test]
fn the_finest_sheets_have_a_bound() {
    for watch in [CALLED_OFF, Watch::NOBODY] {
        let options = Options { effort: Effort::Quick, ..Options::default() };
        let order = Hostile { name: "small", lines: 8, offcuts: 0, ..PLAIN };
        let outcome = batch::plan_watched(&order.inputs(), &options, watch);
        assert_eq!(outcome.faults, Vec::<String>::new());
        let plan = outcome.made.unwrap().plan;
        let stock = &plan.proof[0].stock;
        assert!(!stock.complete_search && stock.bound.units() > 0, "{stock:?}");
        let values = &stock.certificate.piece_values;
        assert!(values.values().all(|value| *value > 0), "{values:?}");
    }
}
