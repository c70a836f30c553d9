//! Codes of an order's papers.

use crate::messages::builder::Reading;

fn paper(paper: &str) -> Reading {
    Reading::order(format!("line,card,count,paper\ntag,2 x 3,12,{paper}\n"))
}

#[test]
fn paper_with_a_gap() {
    paper("fern||moss").says(
        r"
error[order-paper]: a `|` needs a paper on both sides
 --> orders/spring.csv:2:14
  |
2 | tag,2 x 3,12,fern||moss
  |              ^^^^^^^^^^ expected papers joined by |, such as fern|moss

error[order-paper-unknown]: unknown paper `moss`
 --> orders/spring.csv:2:20
  |
2 | tag,2 x 3,12,fern||moss
  |                    ^^^^ expected a paper listed in sheets.csv or offcuts.csv
  |
  = help: write its name as in the column `paper` of sheets.csv, or add it there

2 errors
",
    );
}

#[test]
fn paper_doubled() {
    paper("fern|fern").says(
        r"
warning[order-paper-doubled]: paper `fern` appears twice
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
error[order-paper-unknown]: unknown paper `fren`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern|fren
  |                   ^^^^ did you mean `fern`?
  |
  = help: write its name as in the column `paper` of sheets.csv, or add it there
",
    );
}

#[test]
fn paper_of_a_part_in_the_plural() {
    Reading::order_cells("liner,mat", "fern|moss,velvet+velvet").says(
        r"
error[order-paper-unknown]: unknown paper `fern|moss`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,fern|moss,velvet+velvet
  |                   ^^^^^^^^^ expected a single paper
  |
  = help: only the card itself can take either of two papers, joined by | in the column `paper`: name one here

error[order-paper-unknown]: unknown paper `velvet`
 --> orders/spring.csv:2:29
  |
2 | tag,2 x 3,12,fern,fern|moss,velvet+velvet
  |                             ^^^^^^ expected a paper listed in sheets.csv or offcuts.csv
  |
  = help: write its name as in the column `paper` of sheets.csv, or add it there

2 errors
",
    );
}

#[test]
fn paper_unknown() {
    Reading::order_cells("liner,mat,envelope", "velvet,satin,silk").says(
        r"
error[order-paper-unknown]: unknown paper `velvet`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,velvet,satin,silk
  |                   ^^^^^^ expected a paper listed in sheets.csv or offcuts.csv
  |
  = help: write its name as in the column `paper` of sheets.csv, or add it there

error[order-paper-unknown]: unknown paper `satin`
 --> orders/spring.csv:2:26
  |
2 | tag,2 x 3,12,fern,velvet,satin,silk
  |                          ^^^^^ expected a paper listed in sheets.csv or offcuts.csv
  |
  = help: write its name as in the column `paper` of sheets.csv, or add it there

error[order-paper-unknown]: unknown paper `silk`
 --> orders/spring.csv:2:32
  |
2 | tag,2 x 3,12,fern,velvet,satin,silk
  |                                ^^^^ expected a paper listed in sheets.csv or offcuts.csv
  |
  = help: write its name as in the column `paper` of sheets.csv, or add it there
  = help: or write `bought`, or an envelope of envelopes.csv; leave the cell blank for a card without an envelope

3 errors
",
    );
}

#[test]
fn envelope_with_a_misspelt_word() {
    Reading::order_cells("envelope", "bougth").says(
        r"
error[order-paper-unknown]: unknown paper `bougth`
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,bougth
  |                   ^^^^^^ did you mean `bought`?
  |
  = help: write its name as in the column `paper` of sheets.csv, or add it there
  = help: or write `bought`, or an envelope of envelopes.csv; leave the cell blank for a card without an envelope
",
    );
}
