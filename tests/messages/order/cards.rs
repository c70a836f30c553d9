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
  |     ^^ expected `ISO A6` or `US A6`
  |
  = help: write `ISO A6` for the size of ISO 216, 105 x 148 mm
  = help: write `US A6` for the card of the US A6 envelope, 4 1/2 x 6 1/4 in
",
    );
    card("DIN A6").says("");
    card("iso a6").says("");
    // Of two families, in whatever words.
    for name in ["A7", "A8", "A6 card", "UK A6"] {
        let text = card(name).text();
        assert!(text.contains(&format!("card format `{name}` has several meanings")), "{text}");
        assert!(text.contains("write `ISO A") && text.contains("write `US A"), "{text}");
    }
}

/// ISO A4 is a sheet, and as a card it has no name of its own.
#[test]
fn card_that_may_be_as_large_as_a_sheet() {
    card("A4").with_workshop("unit = \"mm\"").says(
        r"
error[order-card]: card format `A4` has several meanings
 --> orders/spring.csv:2:5
  |
2 | tag,A4,12,fern
  |     ^^ expected `US A4` or `210 x 297 mm`
  |
  = help: write `US A4` for the card of the US A4 envelope, 101.6 x 152.4 mm
  = help: write `210 x 297 mm` for a card as large as ISO A4
",
    );
}

#[test]
fn card_of_several_kinds() {
    card("card").says(
        r"
error[order-card]: card format `card` has several meanings
 --> orders/spring.csv:2:5
  |
2 | tag,card,12,fern
  |     ^^^^ expected `place card` or `tent card` or `business card`
  |
  = help: or write a size, such as 5 1/2 x 4 1/4; `cardwright sizes` lists all formats
",
    );
}

/// DL is the envelope of ISO 269, and people call the card that goes into it by that name: 99 x 210 mm.
#[test]
fn card_called_as_its_envelope() {
    for name in ["DL", "DIN DL", "DIN lang"] {
        card(name).says("");
    }
    card("C6").says(
        r"
error[order-card]: `C6` is an envelope, not a card
 --> orders/spring.csv:2:5
  |
2 | tag,C6,12,fern
  |     ^^ did you mean the card that it holds, `ISO A6` (105 x 148 mm)?
  |
  = help: or write a size, such as 5 1/2 x 4 1/4; `cardwright sizes` lists all formats
",
    );
    card("#10 envelope").says(
        r#"
error[order-card]: `#10 envelope` is an envelope, not a card
 --> orders/spring.csv:2:5
  |
2 | tag,#10 envelope,12,fern
  |     ^^^^^^^^^^^^ expected the card that it holds
  |
  = help: `cardwright sizes "No. 10"` lists the cards that it holds
"#,
    );
}

#[test]
fn card_that_is_a_sheet() {
    card("Letter").says(
        r"
error[order-card]: `Letter` is a sheet, not a card
 --> orders/spring.csv:2:5
  |
2 | tag,Letter,12,fern
  |     ^^^^^^ expected a card format, or width x height
  |
  = help: write 8 1/2 x 11 in for a card as large as the sheet
",
    );
}

/// A name of another number is another size, however alike it is spelt.
#[test]
fn card_of_another_number() {
    for name in ["ISO A9", "US A3", "DIN A2", "square"] {
        let text = card(name).text();
        assert!(text.contains("expected a ") && !text.contains("did you mean"), "{text}");
    }
    assert!(card("sqare 6").text().contains("did you mean `square 6`?"));
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
  |     ^^^^^ expected 64ths or thousandths of an inch
  |
  = help: the nearest gauge settings are 8 5/16 in and 8 3/8 in
  = help: the nearest thousandths of an inch are 8.333 in and 8.334 in
",
    );
    // In the unit that it was written in.
    card("1000/3 mm x 5 1/3 in").says(
        r"
error[order-size]: the card's width is not an exact length
 --> orders/spring.csv:2:5
  |
2 | tag,1000/3 mm x 5 1/3 in,12,fern
  |     ^^^^^^^^^ expected thousandths of a millimetre
  |
  = help: the nearest gauge settings are 13 1/16 in and 13 1/8 in
  = help: the nearest thousandths of a millimetre are 333.333 mm and 333.334 mm
",
    );
    let metric = card("5 1/3 in x 100").with_workshop("unit = \"mm\"").text();
    assert!(metric.contains("gauge settings are 135 mm and 136 mm\n"), "{metric}");
    assert!(metric.contains("thousandths of an inch are 5.333 in and 5.334 in\n"), "{metric}");
}

#[test]
fn size_with_a_doubtful_fraction() {
    card("41\u{2044}4 x 5").says(
        r"
error[order-size]: the card's width has a fraction that can be read two ways
 --> orders/spring.csv:2:5
  |
2 | tag,41⁄4 x 5,12,fern
  |     ^^^^ expected a blank before the fraction, such as 4 1/4
  |
  = help: write 41/4 with a plain slash if all the digits belong to it
",
    );
}

#[test]
fn sizes_as_people_write_them() {
    for size in [
        "4\u{bc} x 5\u{bd}",
        "4 \u{bc}\u{2033} \u{d7} 5 \u{bd}\u{2033}",
        "4-1/4 x 5\u{2013}1/2",
        "4 1\u{2044}4 in x 5\u{b9}\u{2044}\u{2082} in",
        "square 6",
        "6 in square",
        "square 150 mm",
    ] {
        card(size).says("");
    }
    let metric = |text| card(text).with_workshop("unit = \"mm\"").with_sheet("300 x 300");
    metric("square 150").says("");
    // As it always was: a name of the trade, 6 in.
    metric("square 6").says("");
    card("square 5 pt").says(
        r#"
error[order-size]: the card's side is not a length
 --> orders/spring.csv:2:5
  |
2 | tag,square 5 pt,12,fern
  |     ^^^^^^^^^^^ expected a length, such as 8.5, 8 1/2, 17/2, 216 mm or 8.5 in
  |
  = help: units are in, ", mm and cm; a number alone means inches
"#,
    );
    let stamp = metric("square 15").text();
    assert!(stamp.contains("15 x 15 mm is smaller than a stamp"), "{stamp}");
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
