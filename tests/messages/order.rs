//! Codes of orders.

use super::builder::Reading;

fn card(card: &str) -> Reading {
    Reading::order(format!("line,card,count,paper\ntag,{card},12,fern\n"))
}

fn count(count: &str) -> Reading {
    Reading::order(format!("line,card,count,paper\ntag,2 x 3,{count},fern\n"))
}

fn paper(paper: &str) -> Reading {
    Reading::order(format!("line,card,count,paper\ntag,2 x 3,12,{paper}\n"))
}

#[test]
fn empty() {
    Reading::order("line,card,count,paper\n").says(
        r"
error[order-empty]: orders/spring.csv orders nothing
 |
 = help: write a line for each kind of card below the header
",
    );
}

#[test]
fn line_doubled() {
    Reading::order("line,card,count,paper\ntag,2 x 3,12,fern\ntag,2 x 3,1,fern\n").says(
        r"
error[order-line-doubled]: two lines are called `tag`
 --> orders/spring.csv:3:1
  |
3 | tag,2 x 3,1,fern
  | ^^^ the first stands in line 2
  |
  = help: give each line a name of its own
",
    );
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
  = help: any size will do, such as 5 1/2 x 4 1/4; `cardwright sizes` lists all formats
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
  = help: any size will do, such as 5 1/2 x 4 1/4; `cardwright sizes` lists all formats
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
  = help: any size will do, such as 5 1/2 x 4 1/4; `cardwright sizes` lists all formats
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
  = help: any size will do, such as 5 1/2 x 4 1/4; `cardwright sizes` lists all formats
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
  = help: width comes first: across, when the card stands as read
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
  = help: units are in, ", mm and cm; a bare number is read as inches
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
  = help: units are in, ", mm and cm; a bare number is read as inches
"#,
    );
}

#[test]
fn size_of_nothing() {
    card("0 x 3").says(
        r"
error[order-size]: card has a side of no length
 --> orders/spring.csv:2:5
  |
2 | tag,0 x 3,12,fern
  |     ^^^^^ expected two lengths above zero
",
    );
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
  |     ^^^^^ expected a whole number of 0.000025 mm
  |
  = help: the settings of the trimmer around it are 8 5/16 in and 8 3/8 in
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
  = help: write decimals with a point, and thousands without a separator
"#,
    );
}

#[test]
fn fold() {
    Reading::order_cells("fold", "left").says(
        r"
error[order-fold]: unknown fold `left`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,left
  |                   ^^^^ expected side, top or flat
  |
  = help: side: a book, spine left; top: spine on top; flat: no fold
",
    );
}

#[test]
fn count_of_zero() {
    count("0").says(
        r"
error[order-count]: count is zero
 --> orders/spring.csv:2:11
  |
2 | tag,2 x 3,0,fern
  |           ^ expected at least 1
  |
  = help: delete the line where none is wanted, or begin it with `# `
",
    );
}

#[test]
fn count_below_zero() {
    count("-3").says(
        r"
error[order-count]: count is below zero
 --> orders/spring.csv:2:11
  |
2 | tag,2 x 3,-3,fern
  |           ^^ expected a whole number of cards, such as 12
",
    );
}

#[test]
fn count_in_words() {
    count("twelve").says(
        r"
error[order-count]: count is not a whole number
 --> orders/spring.csv:2:11
  |
2 | tag,2 x 3,twelve,fern
  |           ^^^^^^ expected a whole number of cards, such as 12
  |
  = help: write the number in digits
",
    );
}

#[test]
fn count_with_decimals() {
    count("12.5").says(
        r"
error[order-count]: count is not whole
 --> orders/spring.csv:2:11
  |
2 | tag,2 x 3,12.5,fern
  |           ^^^^ expected a whole number: 12 or 13
",
    );
}

#[test]
fn count_with_empty_decimals() {
    count("12.0").says(
        r"
error[order-count]: count is not in plain digits
 --> orders/spring.csv:2:11
  |
2 | tag,2 x 3,12.0,fern
  |           ^^^^ expected a whole number of cards, such as 12
  |
  = help: write a count without decimals or fractions
",
    );
}

#[test]
fn count_with_a_separator() {
    count("\"1,000\"").says(
        r#"
error[order-count]: count has a separator
 --> orders/spring.csv:2:11
  |
2 | tag,2 x 3,"1,000",fern
  |           ^^^^^^^ expected a whole number of cards, such as 1000
  |
  = help: write the digits of a count without commas, points or spaces
"#,
    );
}

#[test]
fn count_too_large() {
    count("1000001").says(
        r"
error[order-count]: count is too large
 --> orders/spring.csv:2:11
  |
2 | tag,2 x 3,1000001,fern
  |           ^^^^^^^ expected at most 1000000
  |
  = help: order more than a million in several batches
",
    );
}

#[test]
fn count_far_too_large() {
    count("99999999999999999999").says(
        r"
error[order-count]: count is too large
 --> orders/spring.csv:2:11
  |
2 | tag,2 x 3,99999999999999999999,fern
  |           ^^^^^^^^^^^^^^^^^^^^ expected at most 1000000
  |
  = help: order more than a million in several batches
",
    );
}

#[test]
fn count_of_nonsense() {
    count("some").says(
        r"
error[order-count]: count is not a whole number
 --> orders/spring.csv:2:11
  |
2 | tag,2 x 3,some,fern
  |           ^^^^ expected a whole number of cards, such as 12
  |
  = help: write the number in digits
",
    );
}

#[test]
fn paper_with_a_gap() {
    paper("fern||moss").says(
        r"
error[order-paper]: a `|` without a paper on both sides
 --> orders/spring.csv:2:14
  |
2 | tag,2 x 3,12,fern||moss
  |              ^^^^^^^^^^ expected papers joined by |, such as fern|moss

error[order-paper-unknown]: no sheet of paper `moss`
 --> orders/spring.csv:2:20
  |
2 | tag,2 x 3,12,fern||moss
  |                    ^^^^ expected a paper of the stock
  |
  = help: papers are named in the column `paper` of sheets.csv and offcuts.csv

2 errors
",
    );
}

#[test]
fn paper_doubled() {
    paper("fern|fern").says(
        r"
warning[order-paper-doubled]: paper `fern` stands twice
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern|fern
  |                   ^^^^ once is enough
",
    );
}

#[test]
fn paper_unknown_with_a_near_name() {
    paper("fern|fren").says(
        r"
error[order-paper-unknown]: no sheet of paper `fren`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern|fren
  |                   ^^^^ did you mean `fern`?
  |
  = help: papers are named in the column `paper` of sheets.csv and offcuts.csv
",
    );
}

#[test]
fn paper_of_a_part_in_the_plural() {
    Reading::order_cells("liner,mat", "fern|moss,velvet+velvet").says(
        r"
error[order-paper-unknown]: no sheet of paper `fern|moss`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,fern|moss,velvet+velvet
  |                   ^^^^^^^^^ expected a single paper
  |
  = help: only a card can be of one paper or another, joined by | in the column `paper`: name one of them here

error[order-paper-unknown]: no sheet of paper `velvet`
 --> orders/spring.csv:2:29
  |
2 | tag,2 x 3,12,fern,fern|moss,velvet+velvet
  |                             ^^^^^^ expected a paper of the stock
  |
  = help: papers are named in the column `paper` of sheets.csv and offcuts.csv

2 errors
",
    );
}

#[test]
fn paper_unknown() {
    Reading::order_cells("liner,mat,envelope", "velvet,satin,silk").says(
        r"
error[order-paper-unknown]: no sheet of paper `velvet`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,velvet,satin,silk
  |                   ^^^^^^ expected a paper of the stock
  |
  = help: papers are named in the column `paper` of sheets.csv and offcuts.csv

error[order-paper-unknown]: no sheet of paper `satin`
 --> orders/spring.csv:2:26
  |
2 | tag,2 x 3,12,fern,velvet,satin,silk
  |                          ^^^^^ expected a paper of the stock
  |
  = help: papers are named in the column `paper` of sheets.csv and offcuts.csv

error[order-paper-unknown]: no sheet of paper `silk`
 --> orders/spring.csv:2:32
  |
2 | tag,2 x 3,12,fern,velvet,satin,silk
  |                                ^^^^ expected a paper of the stock
  |
  = help: papers are named in the column `paper` of sheets.csv and offcuts.csv

3 errors
",
    );
}

#[test]
fn mat_inset_not_a_length() {
    Reading::order_cells("mat,mat inset", "fern,thin").says(
        r#"
error[order-mat-inset]: mat inset is not a length
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,thin
  |                        ^^^^ expected a length, such as 8.5, 8 1/2, 17/2, 216 mm or 8.5 in
  |
  = help: units are in, ", mm and cm; a bare number is read as inches
"#,
    );
}

#[test]
fn mat_inset_below_zero() {
    Reading::order_cells("mat,mat inset", "fern,-1/8").says(
        r"
error[order-mat-inset]: mat inset is below zero
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,-1/8
  |                        ^^^^ expected 0 or more
",
    );
}

#[test]
fn mat_inset_too_large() {
    Reading::order_cells("mat,mat inset", "fern,1").says(
        r"
error[order-mat-inset]: mat inset leaves nothing of the mat
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,1
  |                        ^ expected less than 1 in
  |
  = help: the card is 2 x 3 in
",
    );
    // Two of half an inch leave nothing, although each is less than an inch.
    let mats = Reading::order_cells("mat,mat inset", "fern+fern,1/2").text();
    assert!(mats.contains("^^^ expected less than 1 in for all mats together"), "{mats}");
}

#[test]
fn mat_missing() {
    Reading::order_cells("mat,mat inset", ",1/8").says(
        r"
warning[order-mat-missing]: a mat inset without a mat
 --> orders/spring.csv:2:20
  |
2 | tag,2 x 3,12,fern,,1/8
  |                    ^^^ not used
  |
  = help: name the mat's paper in the column `mat`, or clear this cell
",
    );
}

#[test]
fn turn() {
    Reading::order_cells("turn", "never").says(
        r"
error[order-turn]: unknown turn `never`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,never
  |                   ^^^^^ expected free, half or none
",
    );
}

#[test]
fn date() {
    Reading::order_cells("due", "30.5.2026").says(
        r"
error[order-date]: due is not a date
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,30.5.2026
  |                   ^^^^^^^^^ expected year-month-day, such as 2026-05-30
  |
  = help: months and days have two digits, and the day must be in the calendar
",
    );
}

#[test]
fn mats_with_a_gap() {
    Reading::order_cells("mat", "fern+").says(
        r"
error[order-mat]: a `+` without a paper on both sides
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,fern+
  |                   ^^^^^ expected papers joined by +, such as fern+moss
"
        .replace(":17\n", ":19\n")
        .as_str(),
    );
}

#[test]
fn liner_kind() {
    Reading::order_cells("liner,liner kind", "fern,folden").says(
        r"
error[order-liner-kind]: unknown liner kind `folden`
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,folden
  |                        ^^^^^^ did you mean `folded`?
  |
  = help: it can be panel or folded
",
    );
}

#[test]
fn liner_kind_of_a_flat_card() {
    Reading::order_cells("liner,liner kind", "fern,folded").says(
        r"
error[order-liner-kind]: liner kind does not suit a flat card
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,folded
  |                        ^^^^^^ expected panel
  |
  = help: a folded liner lies in the fold of a card: give `fold` as side or top
",
    );
}

#[test]
fn insert_size() {
    Reading::order_cells("insert,insert size", "fern,3 1/8 x 2").says(
        r"
error[order-insert-size]: insert size is larger than the card
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,3 1/8 x 2
  |                        ^^^^^^^^^ expected at most 2 x 3 in
  |
  = help: envelope and box are made for the card; order a larger insert as a line
",
    );
    assert_eq!(Reading::order_cells("insert,insert size", "fern,3 x 2").text(), "");
}

#[test]
fn band_width() {
    Reading::order_cells("band,band width", "fern,3 1/16").says(
        r"
error[order-band-width]: band width is more than the card is high
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,3 1/16
  |                        ^^^^^^ expected at most the card's height, 3 in
",
    );
    assert_eq!(Reading::order_cells("band,band width", "fern,3").text(), "");
    Reading::order_cells("band,band width", "fern,0").says(
        r"
error[order-band-width]: band width is not above zero
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,0
  |                        ^ expected a length above zero
",
    );
}

#[test]
fn per_box() {
    let with_thickness = |holds: &str| Reading {
        sheets: "sheet,paper,width,height,price,thickness\nfern,fern,12,12,1,0.01\n".into(),
        ..Reading::order_cells("box,per box", &format!("fern,{holds}"))
    };
    with_thickness("0").says(
        r"
error[order-per-box]: per box is zero
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,0
  |                        ^ expected at least 1
",
    );
    with_thickness("1001").says(
        r"
error[order-per-box]: per box is too large
 --> orders/spring.csv:2:24
  |
2 | tag,2 x 3,12,fern,fern,1001
  |                        ^^^^ expected at most 1000
  |
  = help: it is the number of finished sets in one box
",
    );
    assert_eq!(with_thickness("1").text(), "");
}

#[test]
fn unused() {
    Reading::order_cells("band,band width", ",1").says(
        r"
warning[order-unused]: `band width` without `band`
 --> orders/spring.csv:2:20
  |
2 | tag,2 x 3,12,fern,,1
  |                    ^ not used
  |
  = help: fill in the column `band`, or clear this cell
",
    );
    Reading::order_cells("envelope liner", "fern").says(
        r"
warning[order-unused]: `envelope liner` without `envelope`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,fern
  |                   ^^^^ not used
  |
  = help: fill in the column `envelope`, or clear this cell
",
    );
}
