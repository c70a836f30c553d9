//! Costs and prices by the conventions of the trade, through a whole plan.

use crate::bench::instances::inputs;
use cardwright::batch::pricing::prices;
use cardwright::batch::{self, Made, Options, Outcome};
use cardwright::measure::Money;
use cardwright::quote::{Costs, FinishedSet, STEPS, quote};

fn made(order: &str, workshop: &str) -> Made {
    let outcome = outcome(order, workshop);
    outcome.made.unwrap_or_else(|| panic!("{:?}", outcome.problems))
}

fn outcome(order: &str, workshop: &str) -> Outcome {
    let sheets = "sheet,paper,width,height,price,gsm,thickness\n\
                  fern-12,fern,12 in,12 in,1.10,80 lb cover,0.011 in\n\
                  mist-18,mist,12 in,18 in,0.40,24 lb bond,\n";
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

/// By arithmetic: what lies in an envelope counts with it, however deep. A line with an envelope of its own is judged alone,
/// too, as its guest sends it.
#[test]
fn a_set_weighs_what_lies_in_it_too() {
    let rows = |goes_in: [&str; 2]| {
        let [reply, map] = goes_in;
        let head = "line,card,fold,count,paper,envelope,goes in\n";
        made(
            &format!(
                "{head}invite,5 x 7,side,40,fern,mist,\nreply,3 1/2 x 5,flat,40,fern,bought,{reply}\nmap,3 x 4,top,40,mist,,{map}\n"
            ),
            "",
        )
    };
    let sets = |goes_in| -> Vec<FinishedSet> {
        quote(&rows(goes_in)).lines.into_iter().map(|line| line.set).collect()
    };
    let weight = |set: &FinishedSet| set.weight.unwrap();
    let thick = |set: &FinishedSet| set.thickness.unwrap();
    let apart = sets(["", ""]);
    let [invite, reply, map] = [0, 1, 2].map(|at| (weight(&apart[at]), thick(&apart[at])));
    for goes_in in [["invite", "invite"], ["invite", "reply"]] {
        let together = sets(goes_in);
        assert_eq!(weight(&together[0]), invite.0 + reply.0 + map.0);
        assert_eq!(thick(&together[0]), invite.1 + reply.1 + map.1);
        let is_in_reply = goes_in[1] == "reply";
        let whole = if is_in_reply { reply.0 + map.0 } else { reply.0 };
        assert_eq!(weight(&together[1]), whole);
        assert!(together[1].post.is_some());
        assert_eq!(weight(&together[2]), map.0);
    }
}

/// The envelope is made for whatever is larger, either way round: one of 5 x 7 in for a card of 4 x 5 in that has a set of
/// 7 x 5 in with it, and the room that any card has.
#[test]
fn an_envelope_holds_what_goes_in() {
    let order = "line,card,fold,count,paper,envelope,goes in\n\
                 invite,4 x 5,flat,2,fern,mist,\nmap,7 x 5,flat,2,fern,,invite\n";
    let alone = "line,card,fold,count,paper,envelope\nmap,5 x 7,flat,2,fern,mist\n";
    let face = |order: &str| quote(&made(order, "")).lines[0].set.outside.unwrap();
    assert_eq!(face(order), face(alone));
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

/// 36.00 an hour is a cent a second; 25 min a line are 15.00, whatever its count. By arithmetic, and so prices fall as counts
/// rise, as they do in the trade (common practice, no source).
#[test]
fn what_is_fixed_is_shared_by_all_cards() {
    let rates = |setup: u64| {
        format!(
            "[rates]\nlabour_per_hour = 36.00\noverhead_percent = 0\nmargin_percent = 0\nsetup_minutes = {setup}\n"
        )
    };
    let [without, with] = [0, 25].map(|setup| quote(&made(ORDER, &rates(setup))));
    for (one, other) in without.lines.iter().zip(&with.lines) {
        assert_eq!(other.costs.labour.minor() - one.costs.labour.minor(), 1500);
    }
    let outcome = outcome(ORDER, &rates(25));
    let made = outcome.made.unwrap();
    let steps = &prices(&made, &outcome.searched, &Options::default(), &|| false)[1].steps;
    let each =
        steps.iter().zip(STEPS).map(|(price, count)| price.unwrap().minor() * 200 / count as i64);
    let each: Vec<i64> = each.collect();
    assert!(each.is_sorted_by(|fewer, more| fewer > more), "{each:?}");
}

/// A strip from the drawer saves the maker a sheet; the customer pays for paper.
#[test]
fn offcuts_are_charged_like_new_paper() {
    let order = "line,card,fold,count,paper\nthanks,6 x 6,flat,2,fern\n";
    let planned = |offcuts: Option<&str>| {
        let sheets = "sheet,paper,width,height,price\nfern-12,fern,12 in,12 in,1.20\n";
        let bench = "[spares]\npercent = 0\nat_least = 0\n";
        let offcuts = offcuts.map(str::to_owned);
        let inputs = inputs("may", order.to_owned(), sheets.to_owned(), offcuts, bench.to_owned());
        batch::plan(&inputs, &Options::default()).made.unwrap()
    };
    let paper = |made: &Made| quote(made).total.paper.minor();
    let drawer = planned(Some("offcut,paper,width,height,count\nstrip,fern,12 in,6 in,1\n"));
    assert_eq!(drawer.plan.sheets[0].id, "strip");
    assert_eq!(paper(&drawer), 60, "half a sheet");
    // Of a new sheet, the half that goes in the drawer is worth 30 % of its price.
    assert_eq!(paper(&planned(None)), 120 - 18);
}

/// By arithmetic: 60 % of a price of which 30 % is the margin is less than the cost, 70 % is the cost.
#[test]
fn wholesale_below_cost_is_told() {
    let told = |percent: u64| {
        let rates = format!("[rates]\nwholesale_percent = {percent}\n");
        let outcome = outcome(ORDER, &rates);
        outcome.problems.iter().any(|problem| problem.code == "quote-wholesale")
    };
    assert!(told(60) && !told(71));
}

fn bought(card: &str, workshop: &str) -> cardwright::quote::LineQuote {
    let order = format!("line,card,fold,count,paper,envelope\nthanks,{card},flat,40,fern,bought\n");
    quote(&made(&order, workshop)).lines.remove(0)
}

/// USPS DMM 101.1.2a: a letter whose length to height is below 1.3 is nonmachinable, so a square one is.
#[test]
fn a_roomier_envelope_is_offered_where_the_post_takes_it_better() {
    let prices = "[post]\nprices = [{ class = \"letter\", up_to = \"1 oz\", price = 0.70 }, \
                  { class = \"letter nonmachinable\", up_to = \"1 oz\", price = 1.10 }]\n";
    let line = bought("5 x 5", prices);
    assert_eq!(line.set.post.unwrap().verdict.word(), "letter nonmachinable");
    let roomier = line.set.roomier.unwrap();
    assert_eq!((roomier.name.as_str(), roomier.post.verdict.word()), ("US A7", "letter"));
    assert_eq!(roomier.saves, Some(Money::from_minor(40)));
    // Without prices it is offered all the same; where it costs no less, it is not.
    assert_eq!(bought("5 x 5", "").set.roomier.unwrap().saves, None);
    let alike = prices.replace("0.70", "1.10");
    assert_eq!(bought("5 x 5", &alike).set.roomier, None);
    // Nothing is better than a letter.
    assert_eq!(bought("5 x 7", prices).set.roomier, None);
}

/// ISO 269 for workshops in millimetres; US sizes in inches are common practice, no source.
#[test]
fn the_envelope_is_of_the_workshops_own_system() {
    let outside = |card: &str, workshop: &str| {
        let size = bought(card, workshop).set.outside.unwrap();
        (size.width, size.height)
    };
    use cardwright::measure::Length;
    let inches = crate::bench::inches;
    let metric = (Length::from_mm(229), Length::from_mm(162));
    assert_eq!(outside("215 x 145 mm", "unit = \"mm\"\n"), metric);
    assert_eq!(outside("215 x 145 mm", ""), (inches("9 1/2"), inches("6")), "US A10");
    let own = "unit = \"mm\"\n[formats.envelopes]\nlong = \"224 x 155 mm\"\n";
    let long = (Length::from_mm(224), Length::from_mm(155));
    assert_eq!(outside("215 x 145 mm", own), long, "its own");
}

/// USPS DMM 101.6.2.2 and 6.2.4: a single sheet, unfolded, of at most 6 x 4 1/4 in is a postcard.
#[test]
fn a_card_is_posted_without_an_envelope_where_the_order_says_so() {
    let order = "line,card,fold,count,paper,mat,envelope\n\
                 date,4 1/4 x 6,flat,4,fern,,posted without\n\
                 note,4 1/4 x 6,side,4,fern,,Posted  without\n\
                 frame,4 1/4 x 6,flat,4,fern,mist,posted without\n\
                 menu,4 1/4 x 6,flat,4,fern,,\n";
    let made = made(
        order,
        "[post]\nprices = [{ class = \"postcard\", up_to = \"1 oz\", price = 0.60 }]\n",
    );
    let quote = quote(&made);
    let word =
        |at: usize| quote.lines[at].set.post.as_ref().map(|post| post.verdict.word().to_owned());
    assert_eq!(word(0).as_deref(), Some("postcard"));
    assert_eq!(word(1).as_deref(), Some("letter nonmachinable"));
    assert_eq!(word(2).as_deref(), Some("letter"));
    assert_eq!(word(3), None, "nobody said that it is posted");
    let post = quote.lines[0].set.post.as_ref().unwrap();
    assert_eq!((post.price, post.up_to), (Some(Money::from_minor(60)), None));
    assert_eq!(quote.lines[0].set.outside, Some(crate::bench::size("4 1/4 x 6")));
    let packed = &made.schedule.packing[0].contents;
    assert_eq!(packed.last().unwrap(), "posted without an envelope");
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
    let letter = Letter::enveloped(size);
    let verdict = rules_of("usps").unwrap().judge(&letter);
    assert_eq!(verdict.class, None);
    let style = crate::bench::workshop().style();
    assert_eq!(verdict.why(style), "no flat: 12 1/2 in high, at most 12 in");
}
