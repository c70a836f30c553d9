//! Codes of an order's cards: formats by name, and sizes.

use crate::messages::builder::Reading;

fn card(card: &str) -> Reading {
    Reading::order(format!("line,card,count,paper\ntag,{card},12,fern\n"))
}

#[test]
fn card_with_a_near_name() {
    card("placecard").says(
        r"
error[order-card]: unknown card format `placecard`
 --> orders/spring.csv:2:5
  |
2 | tag,placecard,12,fern
  |     ^^^^^^^^^ did you mean `place card`?
  |
  = help: or write a size, such as 5 1/2 x 4 1/4; `cardwright sizes` lists all formats
",
    );
}

#[test]
fn card_unknown() {
    card("banner").says(
        r"
error[order-card]: unknown card format `banner`
 --> orders/spring.csv:2:5
  |
2 | tag,banner,12,fern
  |     ^^^^^^ expected a format name, or width x height
  |
  = help: or write a size, such as 5 1/2 x 4 1/4; `cardwright sizes` lists all formats
",
    );
}

#[test]
fn card_with_two_meanings() {
    card("A6").says(
        r"
error[order-card]: card format `A6` has several meanings
 --> orders/spring.csv:2:5
  |
2 | tag,A6,12,fern
  |     ^^ expected `ISO A6` (105 x 148 mm) or `US A6` (4 1/2 x 6 1/4 in)
  |
  = help: or write a size, such as 5 1/2 x 4 1/4; `cardwright sizes` lists all formats
",
    );
}

#[test]
fn card_without_its_family() {
    card("A2").says(
        r"
error[order-card]: unknown card format `A2`
 --> orders/spring.csv:2:5
  |
2 | tag,A2,12,fern
  |     ^^ did you mean `US A2` (4 1/4 x 5 1/2 in)?
  |
  = help: or write a size, such as 5 1/2 x 4 1/4; `cardwright sizes` lists all formats
",
    );
}

#[test]
fn size_without_a_cross() {
    card("5 1/2 by 4 1/4").says(
        r"
error[order-size]: card is not a size
 --> orders/spring.csv:2:5
  |
2 | tag,5 1/2 by 4 1/4,12,fern
  |     ^^^^^^^^^^^^^^ expected width x height, such as 5 1/2 x 4 1/4
  |
  = help: width comes first: across the card as you read it
",
    );
}

#[test]
fn size_with_a_word() {
    card("5 1/2 x tall").says(
        r#"
error[order-size]: the card's height is not a length
 --> orders/spring.csv:2:13
  |
2 | tag,5 1/2 x tall,12,fern
  |             ^^^^ expected a length, such as 8.5, 8 1/2, 17/2, 216 mm or 8.5 in
  |
  = help: units are in, ", mm and cm; a number alone means inches
"#,
    );
}

#[test]
fn size_in_an_unknown_unit() {
    card("5 pt x 4 pt").says(
        r#"
error[order-size]: the card's width is not a length
 --> orders/spring.csv:2:5
  |
2 | tag,5 pt x 4 pt,12,fern
  |     ^^^^ expected a length, such as 8.5, 8 1/2, 17/2, 216 mm or 8.5 in
  |
  = help: units are in, ", mm and cm; a number alone means inches
"#,
    );
}

#[test]
fn size_of_nothing() {
    card("0 x 3").says(
        r"
error[order-size]: card has a side of 0
 --> orders/spring.csv:2:5
  |
2 | tag,0 x 3,12,fern
  |     ^^^^^ expected two lengths above zero
",
    );
}

#[test]
fn size_too_small() {
    card("0.999 mm x 3").says(
        r"
error[order-size]: card is too small to cut
 --> orders/spring.csv:2:5
  |
2 | tag,0.999 mm x 3,12,fern
  |     ^^^^^^^^^^^^ expected two lengths of at least 1 mm
  |
  = help: if you mean another unit, write it: 4 x 6 in, 105 x 148 mm
",
    );
    // So small a card is doubtful, and can be cut.
    for size in ["1 mm x 3", "1.001 mm x 3"] {
        let text = card(size).with_workshop("[trimmer]\nsmallest_hold = 0\n").text();
        assert!(text.starts_with("warning[order-size-small]: "), "{text}");
        assert!(!text.contains("error"), "{text}");
    }
}

#[test]
fn size_too_long() {
    card("5 x 5000000").says(
        r"
error[order-size]: the card's height is too long
 --> orders/spring.csv:2:9
  |
2 | tag,5 x 5000000,12,fern
  |         ^^^^^^^ expected at most 100000 mm
",
    );
}

#[test]
fn size_not_exact() {
    card("8 1/3 x 4").says(
        r"
error[order-size]: the card's width is not an exact length
 --> orders/spring.csv:2:5
  |
2 | tag,8 1/3 x 4,12,fern
  |     ^^^^^ expected a multiple of 0.000025 mm
  |
  = help: the nearest gauge settings are 8 5/16 in and 8 3/8 in
  = help: the nearest exact lengths are 211.66665 mm and 211.666675 mm
",
    );
}

#[test]
fn size_with_a_doubtful_comma() {
    card("\"1,250 mm x 80 mm\"").says(
        r#"
error[order-size]: the card's width has a comma that can be read two ways
 --> orders/spring.csv:2:6
  |
2 | tag,"1,250 mm x 80 mm",12,fern
  |      ^^^^^^^^ expected a length, such as 8.5, 8 1/2, 17/2, 216 mm or 8.5 in
  |
  = help: write decimals with a point (1.25) and thousands without a comma (1250)
"#,
    );
}

#[test]
fn size_small() {
    card("1 x 1/2").says("");
    card("4 x 6 mm").with_workshop("[trimmer]\nsmallest_hold = 0\n").says(
        r"
warning[order-size-small]: a very small card
 --> orders/spring.csv:2:5
  |
2 | tag,4 x 6 mm,12,fern
  |     ^^^^^^^^ 4 x 6 mm is smaller than a stamp
  |
  = help: if you mean another unit, write it: 4 x 6 in, 105 x 148 mm
",
    );
}
