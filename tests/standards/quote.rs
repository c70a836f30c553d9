//! Costs and prices by the conventions of the trade, through a whole plan.

use crate::bench::instances::inputs;
use cardwright::batch::pricing::prices;
use cardwright::batch::{self, Made, Options, Outcome};
use cardwright::measure::Money;
use cardwright::quote::{Costs, STEPS, quote};

fn made(order: &str, workshop: &str) -> Made {
    let outcome = outcome(order, workshop);
    outcome.made.unwrap_or_else(|| panic!("{:?}", outcome.problems))
}

fn outcome(order: &str, workshop: &str) -> Outcome {
    let sheets = "sheet,paper,width,height,price,gsm,thickness\n\
                  fern-12,fern,12,12,1.10,80 lb cover,0.011\n\
                  mist-18,mist,12,18,0.40,24 lb bond,\n";
    let inputs = inputs("may", order.to_owned(), sheets.to_owned(), None, workshop.to_owned());
    batch::plan(&inputs, &Options::default())
}

const ORDER: &str = "line,card,fold,count,paper,liner,mat,envelope\n\
                     invite,5 x 7,side,40,fern,mist,fern,mist\n\
                     reply,3 1/2 x 5,flat,40,fern,,,bought\n";

/// Price = cost / (1 - margin), as a margin is understood (common practice, no source). By arithmetic, one of 20, 30, 40
/// or 50 percent is a markup of 25, 42.86, 66.67 or 100.
#[test]
fn a_margin_is_part_of_the_price() {
    for (margin, markup) in [(0, 0), (20, 2500), (30, 4286), (40, 6667), (50, 10_000)] {
        let made = made(ORDER, &format!("[rates]\nmargin_percent = {margin}\n"));
        let Costs { margin: earned, .. } = quote(&made).total;
        let cost = quote(&made).total.cost();
        let found = (earned.minor() * 10_000 + cost.minor() / 2) / cost.minor();
        assert!((found - markup).abs() <= 1, "{margin} %: {found}");
    }
}

/// Materials, labour and overhead, then profit (University of Missouri Extension, MP598, Pricing Your Work).
#[test]
fn costs_are_paper_envelopes_work_and_overhead() {
    let made = made(
        ORDER,
        "[rates]\nlabour_per_hour = 36.00\noverhead_percent = 10\n[envelope]\nprice = 0.25\n",
    );
    let quote = quote(&made);
    let total = quote.total;
    assert_eq!(total.envelopes, Money::from_minor(40 * 25));
    // A second of work is a cent.
    assert_eq!(total.labour.minor(), made.schedule.times.total() as i64);
    let base = total.paper + total.envelopes + total.labour;
    assert_eq!(total.overhead.minor(), (base.minor() * 10 + 50) / 100);
    let used: Money = made.plan.totals.stock - made.plan.totals.kept;
    assert_eq!(total.paper, used);
    let lines = quote.lines.iter().map(|line| line.costs.price());
    assert_eq!(lines.sum::<Money>(), total.price());
    assert!(quote.lines[0].costs.paper > quote.lines[1].costs.paper, "it is larger");
}

/// A worked example, exact units and no source: base 10 x 7 in and mat of 80 lb cover, liner of 24 lb bond weigh
/// 9.770, 4.475 and 1.866 g where both are 6 3/4 x 4 3/4 in.
#[test]
fn a_set_weighs_what_its_parts_weigh() {
    let order =
        "line,card,fold,count,paper,liner,mat,mat inset\ninvite,5 x 7,side,1,fern,mist,fern,1/8\n";
    let made = made(order, "[envelope]\nliner_inset = \"1/8 in\"\n");
    let set = &quote(&made).lines[0].set;
    assert_eq!(set.weight.unwrap().grams(), "16.1 g");
    // Two layers of the card, a mat of 0.011 in, and a liner whose thickness is a guess.
    assert!(set.guessed);
    let guess = cardwright::formats::guessed_thickness(90_234);
    let cards = cardwright::measure::Thickness::from(crate::bench::inches("0.033"));
    assert_eq!(set.thickness.unwrap(), cards + guess);
    assert_eq!((set.outside, set.post.clone()), (None, None));
}

/// USPS DMM 101: a square card goes in a square envelope, which is not machinable; the smallest cards are not
/// mailable at all.
#[test]
fn the_post_is_asked_about_every_set_in_an_envelope() {
    let order = "line,card,fold,count,paper,envelope\nsquare,5 x 5,flat,1,fern,mist\nsmall,3 x 3,flat,1,fern,mist\n";
    let prices =
        "[[post.prices]]\nclass = \"letter nonmachinable\"\nup_to = \"1 oz\"\nprice = 1.19\n";
    let made = made(order, prices);
    let quote = quote(&made);
    let [square, small] = [0, 1].map(|at: usize| quote.lines[at].set.post.clone().unwrap());
    assert_eq!(square.verdict.class.unwrap().name, "letter nonmachinable");
    assert_eq!(square.price, Some(Money::from_minor(119)));
    assert_eq!(small.verdict.class, None);
    assert_eq!(small.verdict.refused.len(), 3);
}

/// More of the same never costs less, and the more, the cheaper is each, but for a coin.
#[test]
fn other_counts_are_planned() {
    let Outcome { made, searched, .. } = outcome("line,card,count,paper\nnote,5 x 7,60,fern\n", "");
    let prices = prices(&made.unwrap(), &searched, &Options::default(), &|| false);
    let steps: Vec<i64> = prices[0].steps.iter().map(|price| price.unwrap().minor()).collect();
    assert!(steps.is_sorted(), "{steps:?}");
    let each: Vec<i64> =
        steps.iter().zip(STEPS).map(|(price, count)| price * 100 / count as i64).collect();
    assert!(each[0] > each[3], "{each:?}");
    assert!(prices[0].one_more.is_some());
}

/// Paper that has no price costs nothing that anybody knows: it is not counted, and named.
#[test]
fn paper_without_a_price_is_not_counted() {
    let sheets = "sheet,paper,width,height,on hand\nfern-12,fern,12,12,3\n";
    let order = "line,card,count,paper\na,4 x 5,4,fern\n";
    let inputs = inputs("may", order.into(), sheets.into(), None, String::new());
    let made = batch::plan(&inputs, &Options::default()).made.unwrap();
    let quote = quote(&made);
    assert_eq!((quote.total.paper, quote.unpriced), (Money::ZERO, vec!["fern".to_owned()]));
}

/// A letter that nobody takes is told the limits that stand most nearly in its way (USPS DMM 201.4: a flat is at
/// most 12 in high).
#[test]
fn the_decisive_reason_is_told() {
    use cardwright::formats::{Letter, rules_of};
    let size = crate::bench::size("13 x 12 1/2");
    let letter = Letter { length: size.width, height: size.height, thickness: None, weight: None };
    let verdict = rules_of("usps").unwrap().judge(&letter);
    assert_eq!(verdict.class, None);
    let style = crate::bench::workshop().style();
    assert_eq!(verdict.why(style), "no flat: 12 1/2 in high, at most 12 in");
}
