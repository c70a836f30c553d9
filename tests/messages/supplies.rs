//! Codes of envelopes and sundries.

use super::builder::Reading;

#[test]
fn an_envelope_that_is_no_size() {
    Reading::default().with_envelopes("envelope,size\nA2,large\n").says(
        r"
error[stock-envelope]: size is not known
 --> envelopes.csv:2:4
  |
2 | A2,large
  |    ^^^^^ expected the size of an envelope, such as US A7 or 7 1/4 x 5 1/4
  |
  = help: `cardwright sizes envelopes` lists all names
",
    );
}

#[test]
fn an_envelope_that_is_called_like_a_paper() {
    Reading::default().with_envelopes("envelope,size\nfern,US A2\n").says(
        r"
error[stock-envelope-paper]: `fern` is a paper, too
 --> envelopes.csv:2:1
  |
2 | fern,US A2
  | ^^^^ expected a name that no paper has
  |
  = help: an order could mean either: give the envelope another name
",
    );
}

#[test]
fn a_sundry_that_is_misread() {
    Reading::default()
        .with_sundries("sundry,unit,on hand,pack,grams,thickness,seconds,post\nribbon,in,some,0,heavy,-1,4000,soft\n").says(
        r"
error[stock-count]: on hand is not a number
 --> sundries.csv:2:11
  |
2 | ribbon,in,some,0,heavy,-1,4000,soft
  |           ^^^^ expected an amount, such as 12 in

error[stock-count]: pack is zero
 --> sundries.csv:2:16
  |
2 | ribbon,in,some,0,heavy,-1,4000,soft
  |                ^ expected more than nothing

error[stock-grams]: grams is not a weight
 --> sundries.csv:2:18
  |
2 | ribbon,in,some,0,heavy,-1,4000,soft
  |                  ^^^^^ expected what one unit of it weighs in grams, such as 0.4

error[stock-thickness]: thickness is not above zero
 --> sundries.csv:2:24
  |
2 | ribbon,in,some,0,heavy,-1,4000,soft
  |                        ^^ expected a length above zero

error[stock-count]: seconds is not a number of seconds
 --> sundries.csv:2:27
  |
2 | ribbon,in,some,0,heavy,-1,4000,soft
  |                           ^^^^ expected whole seconds a card, at most 3600

error[stock-post]: unknown post `soft`
 --> sundries.csv:2:32
  |
2 | ribbon,in,some,0,heavy,-1,4000,soft
  |                                ^^^^ expected rigid or uneven

6 errors
",
    );
}

#[test]
fn one_name_in_two_files() {
    Reading::default()
        .with_envelopes("envelope,size\nseal,US A2\n")
        .with_sundries("sundry\nseal\n")
        .says(
            r"
error[stock-sheet-doubled]: two things of your stock are called `seal`
 --> sundries.csv:2:1
  |
2 | seal
  | ^^^^ first used in envelopes.csv, line 2
  |
  = help: give each its own name, across all files
",
        );
}

#[test]
fn an_unknown_sundry() {
    Reading::order("line,card,count,paper,with\ntag,2 x 3,12,fern,ribon 12 in + seal\n")
        .with_sundries("sundry,unit,on hand,price\nribbon,in,200,4.80\nribbon wide,in,200,4.80\nseal,,18,0.15\n").says(
        r"
error[order-with]: no sundry is called `ribon 12 in`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,ribon 12 in + seal
  |                   ^^^^^^^^^^^ did you mean `ribbon`?
  |
  = help: write its name as in sundries.csv, or add it there
",
    );
}

#[test]
fn no_file_of_sundries() {
    Reading::order("line,card,count,paper,with\ntag,2 x 3,12,fern,seal\n").says(
        r"
error[order-with]: no sundry is called `seal`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,seal
  |                   ^^^^ expected a sundry of sundries.csv, and how much of it
  |
  = help: sundries.csv beside sheets.csv lists ribbons, seals and the like
",
    );
}

#[test]
fn a_gap_between_sundries() {
    Reading::order("line,card,count,paper,with\ntag,2 x 3,12,fern,seal +\n")
        .with_sundries("sundry,unit,on hand,price\nribbon,in,200,4.80\nribbon wide,in,200,4.80\nseal,,18,0.15\n").says(
        r"
error[order-with]: a `+` needs a sundry on both sides
 --> orders/spring.csv:2:25
  |
2 | tag,2 x 3,12,fern,seal +
  |                         ^ expected sundries joined by +, such as ribbon 12 in + seal
",
    );
}

#[test]
fn amounts_that_are_none() {
    Reading::order(
        "line,card,count,paper,with\ntag,2 x 3,12,fern,ribbon 0 + ribbon wide twelve + seal 1/2\n",
    )
    .with_sundries(
        "sundry,unit,on hand,price\nribbon,in,200,4.80\nribbon wide,in,200,4.80\nseal,,18,0.15\n",
    )
    .says(
        r"
error[order-with-amount]: amount is zero
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,ribbon 0 + ribbon wide twelve + seal 1/2
  |                   ^^^^^^^^ expected more than nothing

error[order-with-amount]: amount is not a number
 --> orders/spring.csv:2:30
  |
2 | tag,2 x 3,12,fern,ribbon 0 + ribbon wide twelve + seal 1/2
  |                              ^^^^^^^^^^^^^^^^^^ expected an amount, such as 12 in

error[order-with-amount]: amount is too fine
 --> orders/spring.csv:2:51
  |
2 | tag,2 x 3,12,fern,ribbon 0 + ribbon wide twelve + seal 1/2
  |                                                   ^^^^^^^^ expected a whole number

3 errors
",
    );
}

#[test]
fn an_envelope_that_is_too_small() {
    Reading::order("line,card,count,paper,envelope\ntag,5 x 7,12,fern,A2 ivory\n")
        .with_envelopes("envelope,size,on hand,price\nA2 ivory,US A2,30,\n")
        .says(
            r"
error[order-envelope-small]: `A2 ivory` is too small for line `tag`
 --> orders/spring.csv:2:19
  |
2 | tag,5 x 7,12,fern,A2 ivory
  |                   ^^^^^^^^ 5 3/4 x 4 3/8 in outside, for 7 x 5 in
  |
  = help: name a larger envelope, or write `bought` for the closest fit
",
        );
}

#[test]
fn no_envelope_that_holds_the_card() {
    Reading::order("line,card,count,paper,envelope\ntag,5 x 7,12,fern,bought\n")
        .with_envelopes("envelope,size,on hand,price\nA2 ivory,US A2,30,\n")
        .says(
            r"
error[order-envelope-none]: no envelope of envelopes.csv holds line `tag`
 --> orders/spring.csv:2:5
  |
2 | tag,5 x 7,12,fern,bought
  |     ^^^^^ it needs 7 1/8 x 5 1/8 in at least
  |
  = help: add one to envelopes.csv, with a price or with some on hand
  = help: or name a paper to cut it from
",
        );
}

#[test]
fn names_that_no_order_can_mean() {
    Reading::default()
        .with_envelopes("envelope,size\nbought,US A2\n")
        .with_sundries("sundry\na+b\n")
        .says(
            r"
error[stock-supply-name]: nothing can be called `bought`
 --> envelopes.csv:2:1
  |
2 | bought,US A2
  | ^^^^^^ in an order, this word means something else
  |
  = help: give it another name

error[stock-supply-name]: nothing can be called `a+b`
 --> sundries.csv:2:1
  |
2 | a+b
  | ^^^ in an order, a + stands between two sundries
  |
  = help: give it another name

2 errors
",
        );
}
