//! Too few envelopes or sundries.

use super::builder::Reading;
use cardwright::batch::IfShort;

fn few(rows: &str) -> Reading {
    Reading::order(format!("line,card,count,paper,envelope,due,with\n{rows}"))
        .with_envelopes("envelope,size,on hand\nA2 ivory,US A2,30\n")
        .with_sundries("sundry,unit,on hand,price\nseal,,12,\nribbon,in,0,4.80\n")
}

const ROWS: &str = "spring,5 1/2 x 4 1/4,20,fern,bought,,\n\
                    june,4 x 5,12,fern,A2 ivory,2031-06-01,ribbon 3 in + seal\n";

#[test]
fn what_is_short_and_what_can_be_made() {
    few(ROWS).says_when_planned(
        r"
error[program-supply-short]: there is not enough `A2 ivory`
 --> orders/spring.csv:2:22
  |
2 | spring,5 1/2 x 4 1/4,20,fern,bought,,
  |                      ^^ 34 needed, 30 on hand
  |
  = help: write what you have under `on hand`, or a price if more can be bought

error[program-supply-short]: there is not enough `seal`
 --> orders/spring.csv:3:12
  |
3 | june,4 x 5,12,fern,A2 ivory,2031-06-01,ribbon 3 in + ...
  |            ^^ 13 needed, 12 on hand
  |
  = help: write what you have under `on hand`, or a price if more can be bought
  = help: there are enough of these for 11 of 12 june and 17 of 20 spring
  = help: `cardwright plan orders/spring.csv --sheets sheets.csv --envelopes envelopes.csv --sundries sundries.csv --workshop workshop.toml --as-many` plans as many as there is paper for, too

2 errors
",
    );
}

/// Named twice, a sundry is taken twice, and a card takes as long as for one.
#[test]
fn what_is_named_twice_is_added_up() {
    let twice = few("tag,4 x 5,3,fern,,,seal + ribbon 3 in + seal 2\n");
    let made = twice.outcome().made.unwrap();
    let seal = made.plan.supplies.iter().find(|supply| supply.id == "seal").unwrap();
    assert_eq!((seal.need, seal.spares), (9, 3));
}

/// What is due first gets its envelopes first.
#[test]
fn as_many_as_there_is_enough_for() {
    let made = few(ROWS).outcome_with(IfShort::AsMany).made.unwrap();
    let counts =
        made.job.part.iter().map(|count| (count.line.as_str(), count.ordered, count.found));
    assert_eq!(counts.collect::<Vec<_>>(), [("june", 12, 11), ("spring", 20, 17)]);
    let supplies = made.plan.supplies.iter().map(|it| (it.id.as_str(), it.need, it.spares));
    let inches = |count: u64| count * 3 * 1_016_000;
    let expected = [("A2 ivory", 28, 2), ("ribbon", inches(11), inches(1)), ("seal", 11, 1)];
    assert_eq!(supplies.collect::<Vec<_>>(), expected);
}
