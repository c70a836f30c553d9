//! Codes of an order's counts.

use crate::messages::builder::Reading;

fn count(count: &str) -> Reading {
    Reading::order(format!("line,card,count,paper\ntag,2 x 3,{count},fern\n"))
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
  = help: if you want none, delete the line or start it with `# `
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
  = help: leave out decimals and fractions
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
  = help: write only digits, without commas, points or spaces
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
  = help: split more than a million over several orders
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
  = help: split more than a million over several orders
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
