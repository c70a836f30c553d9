//! Codes of orders.

mod cards;
mod counts;
mod finishes;
mod nesting;
mod papers;
mod parts;

use crate::messages::builder::Reading;

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
  | ^^^ first used in line 2
  |
  = help: give each line its own name
",
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
  |                   ^^^^ expected side, top, flat, gate, letter, french or accordion 4
  |
  = help: side: like a book, spine on the left; top: spine on top; flat: no fold
  = help: gate: two halves meet in front; letter: one panel is folded in; french: in half both ways; accordion: to and fro; ` top` behind gate, letter or accordion lays the panels below each other
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
  = help: write the year first, then month and day in two digits; the day must exist
",
    );
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
