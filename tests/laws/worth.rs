//! What paper is worth, held against fractions that share nothing with the program: every sum that is shown is the exact
//! one, rounded once; and prices that are any number of times as high change nothing but money.

use crate::bench::batches::{Batch, Extent, Paper, makeable};
use crate::bench::cases;
use crate::bench::instances::{METRIC, inputs};
use crate::program::Home;
use cardwright::batch::{self, Effort, Inputs, Made, Options};
use cardwright::plan::Plan;
use cardwright::quote;
use cardwright::stock::SheetKind;
use num_rational::BigRational;
use proptest::prelude::*;

const SMALL: Extent =
    Extent { lines: 4, kinds: 3, most_count: 12, piece: (8, 40), sheet: (30, 90), most_blade: 2 };

/// What an offcut is worth, in percent, where the bench does not say.
const KEEP: i64 = 30;

fn ratio(above: i64, below: i64) -> BigRational {
    BigRational::new(above.into(), below.into())
}

/// To the nearest whole number, halves up.
fn nearest(amount: &BigRational) -> i64 {
    i64::try_from((amount + ratio(1, 2)).floor().to_integer()).unwrap()
}

/// The lowest price of a square millimetre of a paper; nothing where it has none.
fn lowest(batch: &Batch, paper: &str) -> BigRational {
    let offers = batch.sheets.iter().filter(|sheet| sheet.paper == paper);
    let offers = offers.filter_map(|sheet| {
        let whole = sheet.pack as i64 * sheet.width * sheet.height;
        Some(ratio(sheet.price? as i64, whole))
    });
    offers.min().unwrap_or(ratio(0, 1))
}

fn worth(batch: &Batch, sheet: &Paper) -> BigRational {
    let by_area = lowest(batch, sheet.paper) * ratio(sheet.width * sheet.height, 1);
    match sheet.price {
        _ if sheet.name.starts_with("offcut") => by_area * ratio(KEEP, 100),
        Some(price) => ratio(price as i64, sheet.pack as i64),
        None => by_area,
    }
}

/// What a plan uses and keeps of a paper, in cents.
fn used_and_kept(batch: &Batch, plan: &Plan, paper: &str) -> [BigRational; 2] {
    let known = |id: &str| batch.stock().find(|sheet| sheet.name == id).unwrap();
    let used = plan.sheets.iter().filter(|used| used.paper == paper);
    let used = used.map(|used| worth(batch, known(&used.id)) * ratio(used.used as i64, 1));
    let kept = plan.offcuts.iter().filter(|kept| kept.paper == paper).map(|kept| {
        let millimetres = |length: cardwright::measure::Length| length.ticks() / 40_000;
        let area = millimetres(kept.width) * millimetres(kept.height) * kept.count as i64;
        lowest(batch, paper) * ratio(area * KEEP, 100)
    });
    [used.sum(), kept.sum()]
}

/// What a customer pays beyond that for offcuts from the drawer, which are charged like new paper, in cents.
fn as_new(batch: &Batch, plan: &Plan, paper: &str) -> BigRational {
    let used = plan.sheets.iter().filter(|used| used.paper == paper);
    let from_drawer = used.filter(|used| used.kind == SheetKind::Offcut);
    let more = from_drawer.map(|used| {
        let millimetres = |length: cardwright::measure::Length| length.ticks() / 40_000;
        let area = millimetres(used.width) * millimetres(used.height) * used.used as i64;
        lowest(batch, paper) * ratio(area * (100 - KEEP), 100)
    });
    more.sum()
}

/// The batch with packs of odd sizes, by these numbers.
fn odd(mut batch: Batch, packs: &[u64], prices: &[u64]) -> Batch {
    for ((sheet, pack), price) in batch.sheets.iter_mut().zip(packs).zip(prices) {
        (sheet.pack, sheet.price) = (*pack, sheet.price.map(|_| *price));
    }
    batch
}

fn odd_batches() -> impl Strategy<Value = Batch> {
    let packs = prop::collection::vec(1_u64..1000, 3);
    let prices = prop::collection::vec(1_u64..900, 3);
    (makeable(SMALL), packs, prices).prop_map(|(batch, packs, prices)| odd(batch, &packs, &prices))
}

/// All of a plan but money, as text.
fn without_money(made: &Made, times: u64) -> String {
    let mut plan = made.plan.clone();
    for sheet in &mut plan.sheets {
        sheet.price = sheet.price.map(|_| Default::default());
    }
    plan.totals.spend = Default::default();
    (plan.totals.stock, plan.totals.kept) = Default::default();
    for proof in &mut plan.proof {
        proof.price_unit = Default::default();
        // The unit is so many times as large.
        let unit = proof.unit.map(|[above, below]| ratio(above, below) / ratio(times as i64, 1));
        proof.unit = None;
        proof.papers.extend(unit.map(|unit| unit.to_string()));
        proof.spend.value =
            cardwright::measure::Money::from_minor(proof.spend.value.minor() / times as i64);
        proof.spend.bound =
            cardwright::measure::Money::from_minor(proof.spend.bound.minor() / times as i64);
    }
    serde_json::to_string_pretty(&plan).unwrap()
}

proptest! {
    #![proptest_config(cases(60))]

    #[test]
    fn every_sum_is_the_exact_one_rounded_once(batch in odd_batches()) {
        let made = batch.case()?;
        let (mut used, mut kept, mut paid) = (ratio(0, 1), ratio(0, 1), ratio(0, 1));
        for paper in ["fern", "moss"] {
            let [own, left] = used_and_kept(&batch, &made.plan, paper);
            let charged = &own + as_new(&batch, &made.plan, paper);
            paid += (charged - &left).max(ratio(0, 1));
            used += own;
            kept += left;
        }
        let totals = &made.plan.totals;
        prop_assert_eq!((totals.stock.minor(), totals.kept.minor()), (nearest(&used), nearest(&kept)));
        let quote = quote::quote(&made);
        prop_assert_eq!(quote.total.paper.minor(), nearest(&paid));
        prop_assert_eq!(made.gains.kept.1, totals.kept);
    }

    #[test]
    fn prices_any_number_of_times_as_high_change_nothing_but_money(
        batch in odd_batches(),
        times in prop::sample::select(vec![1000_u64, 7, 999_983]),
    ) {
        let mut dear = batch.clone();
        dear.sheets.iter_mut().for_each(|sheet| sheet.price = sheet.price.map(|price| price * times));
        let (Some(made), Some(dear)) = (batch.made(), dear.made()) else {
            prop_assert!(batch.made().is_none() && dear.made().is_none());
            return Err(TestCaseError::reject("it cannot be made"));
        };
        prop_assert_eq!(made.plan.totals.spend * times, dear.plan.totals.spend);
        prop_assert_eq!(without_money(&made, 1), without_money(&dear, times));
    }
}

/// So many flat cards of a size on these sheets, in inches and without spares.
fn cards(count: u64, card: &str, sheets: &str, workshop: &str) -> Inputs {
    let order = format!("line,card,count,paper\nplain,{card},{count},copy\n");
    let sheets = format!("sheet,paper,width,height,on hand,price,pack\n{sheets}");
    let workshop = format!("{workshop}\n[spares]\npercent = 0\nat_least = 0\n");
    inputs("plain", order, sheets, None, workshop)
}

fn planned(inputs: &Inputs) -> Made {
    let outcome = batch::plan(inputs, &Options { effort: Effort::Quick, ..Options::default() });
    outcome.made.unwrap_or_else(|| panic!("{:?}", outcome.problems))
}

#[test]
fn sheets_of_a_pack_of_five_hundred_are_worth_their_share() {
    // 1.2, 1.498 and 0.48 of a cent a sheet.
    for (price, worth) in [("6.00", 126), ("7.49", 157), ("2.40", 50)] {
        let row = format!("letter,copy,8 1/2,11,500,{price},500\n");
        let totals = planned(&cards(105, "8 1/2 x 11", &row, "")).plan.totals;
        assert_eq!((totals.sheets_used, totals.stock.minor()), (105, worth), "{price}");
    }
}

#[test]
fn the_least_paper_is_the_least_at_its_exact_worth() {
    // Two of 5 x 7 in from a letter for 0.48 of a cent, one from a half for 0.24: eleven letters would be 5.28 cents.
    let sheets =
        "copy-letter,copy,8 1/2,11,500,2.40,500\ncopy-half,copy,8 1/2,5 1/2,500,1.20,500\n";
    let plan = planned(&cards(21, "5 x 7", sheets, "")).plan;
    let used: Vec<(&str, u64)> =
        plan.sheets.iter().map(|sheet| (sheet.id.as_str(), sheet.used)).collect();
    assert_eq!(used, [("copy-half", 21)]);
    assert_eq!(plan.totals.stock.minor(), 5);
    let stock = &plan.proof[0].stock;
    assert_eq!((plan.proof[0].unit, stock.value.units()), (Some([3, 12_500]), 21_000));
    assert_eq!(stock.bound, stock.value);
}

#[test]
fn yen_have_no_smaller_coin_and_their_parts_count_all_the_same() {
    // A thousand sheets for 500 yen: seven are worth 3.5, which is 4.
    let sheets = "a4,copy,210 mm,297 mm,9,500,1000\n";
    let made = planned(&cards(7, "210 mm x 297 mm", sheets, "currency = \"JPY\""));
    assert_eq!(made.plan.totals.stock.minor(), 4);
    assert_eq!(made.plan.proof[0].unit, Some([1, 2000]));
}

/// A hundred strips of 1 x 4 in at 0.1 of a cent each are worth a tenth of a dollar, not one; and one is worth nothing that
/// can be paid.
#[test]
fn strips_that_are_worth_less_than_a_coin_add_up() {
    let home = Home::new();
    home.put("sheets.csv", "sheet,paper,width,height,on hand,price,pack\na,copy,8,12,10,4.00,50\n");
    home.put("offcuts.csv", "offcut,paper,width,height,count\nstrip,copy,1,4,100\n");
    home.put("workshop.toml", METRIC.replace("\"mm\"", "\"in\""));
    let told = home.done("shelf").out;
    // 8 cents a sheet; a strip has a 24th of it, at 30 %.
    assert!(told.starts_with("10 sheets and 100 offcuts, worth 0.90 USD\n"), "{told}");
    let strip = told.lines().find(|line| line.trim_start().starts_with("strip")).unwrap();
    assert!(strip.contains(" 0.00"), "{strip}");
}
