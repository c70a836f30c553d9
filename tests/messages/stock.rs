//! Codes of sheets and offcuts.

use super::builder::Reading;

#[test]
fn sheet_doubled() {
    Reading::offcuts("offcut,paper,width,height\nfern-12,fern,3,4\n").says(
        r"
error[stock-sheet-doubled]: two things of your stock are called `fern-12`
 --> offcuts.csv:2:1
  |
2 | fern-12,fern,3,4
  | ^^^^^^^ first used in sheets.csv, line 2
  |
  = help: give each its own name, across all files
",
    );
}

#[test]
fn size() {
    Reading::sheets("sheet,paper,width,height\nfern-12,fern,0,A4\n").says(
        r#"
error[stock-size]: width is not above zero
 --> sheets.csv:2:14
  |
2 | fern-12,fern,0,A4
  |              ^ expected a length above zero

error[stock-size]: height is not a length
 --> sheets.csv:2:16
  |
2 | fern-12,fern,0,A4
  |                ^^ expected a length, such as 8.5, 8 1/2, 17/2, 216 mm or 8.5 in
  |
  = help: units are in, ", mm and cm; a number alone means inches

2 errors
"#,
    );
}

#[test]
fn count() {
    Reading::sheet_cell("on hand", "-1").says(
        r"
error[stock-count]: on hand is below zero
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,-1
  |                    ^^ expected a whole number of sheets, such as 12
",
    );
}

#[test]
fn count_in_a_pack() {
    Reading::sheet_cell("pack", "0").says(
        r"
error[stock-count]: pack is zero
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,0
  |                    ^ expected at least 1
",
    );
}

#[test]
fn count_too_large() {
    Reading::sheet_cell("on hand", "1000001").says(
        r"
error[stock-count]: on hand is too large
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,1000001
  |                    ^^^^^^^ expected at most 1000000
",
    );
}

#[test]
fn price_with_a_sign() {
    Reading::sheet_cell("price", "$1.10").says(
        r"
error[stock-price]: price is not an amount of money
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,$1.10
  |                    ^^^^^ expected an amount in USD, such as 12.50
  |
  = help: write the number alone, without a currency sign
",
    );
}

#[test]
fn price_too_fine() {
    Reading::sheet_cell("price", "1.105").says(
        r"
error[stock-price]: price has too many decimals
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,1.105
  |                    ^^^^^ expected an amount in USD, such as 12.50
",
    );
}

#[test]
fn price_below_zero() {
    Reading::sheet_cell("price", "-1").says(
        r"
error[stock-price]: price is below zero
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,-1
  |                    ^^ expected an amount in USD, such as 12.50
",
    );
}

#[test]
fn price_too_much() {
    Reading::sheet_cell("price", "10000000.01").says(
        r"
error[stock-price]: price is too high
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,10000000.01
  |                    ^^^^^^^^^^^ expected at most 10000000.00 USD
",
    );
}

#[test]
fn price_with_a_doubtful_comma() {
    Reading::sheet_cell("price", "\"1,250\"").says(
        r#"
error[stock-price]: price has a comma that can be read two ways
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,"1,250"
  |                    ^^^^^^^ expected an amount in USD, such as 12.50
  |
  = help: write decimals with a point (1.25) and thousands without a comma (1250)
"#,
    );
}

#[test]
fn price_free() {
    Reading::sheet_cell("price", "0.00").says(
        r"
warning[stock-price-free]: price is 0
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,0.00
  |                    ^^^^ read as: as many packs as you like, for nothing
  |
  = help: leave the cell blank if you cannot buy more
",
    );
}

#[test]
fn grain() {
    Reading::sheet_cell("grain", "long").says(
        r"
error[stock-grain]: unknown grain `long`
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,long
  |                    ^^^^ expected width or height
",
    );
}

#[test]
fn edges() {
    Reading::sheet_cell("rough edges", "3").says(
        r"
error[stock-edges]: unknown rough edges `3`
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,3
  |                    ^ expected 0, 2 or 4
",
    );
}

/// What edges there are is not known then, so nothing more is said of them.
#[test]
fn edges_with_a_mistake() {
    let text = Reading::sheet_cell("rough edges", "two")
        .with_workshop("[trimmer]\nsquaring = \"1/8 in\"\n")
        .text();
    assert!(
        text.starts_with("error[stock-edges]: ") && !text.contains("stock-edges-none"),
        "{text}"
    );
}

/// An older file says nothing of edges, and squaring was taken off every full sheet.
#[test]
fn edges_none() {
    Reading::workshop("[trimmer]\nsquaring = \"1/8 in\"\n").says(
        r"
warning[stock-edges-none]: `squaring` is 1/8 in, but no sheet has rough edges
 --> sheets.csv:2:1
  |
2 | fern-12,fern,12,12,1.10
  | ^^^^^^^ cut from edge to edge as it is: fern-12
  |
  = help: in a column `rough edges` of sheets.csv, write 4 for sheets whose edges are rough (2: cut two true, and leave the other two for the cuts that follow); or set squaring to 0
",
    );
    let rough = "sheet,paper,width,height,price,rough edges\nfern-12,fern,12,12,1.10,2\n";
    Reading::sheets(rough).with_workshop("[trimmer]\nsquaring = \"1/8 in\"\n").says("");
}

#[test]
fn edges_unsquared() {
    let rough = "sheet,paper,width,height,price,rough edges\nfern-12,fern,12,12,1.10,4\n";
    Reading::sheets(rough).says(
        r"
warning[stock-edges-unsquared]: `fern-12` has rough edges, but `squaring` is 0
 --> sheets.csv:2:1
  |
2 | fern-12,fern,12,12,1.10,4
  | ^^^^^^^ cut from edge to edge as it is: fern-12
  |
  = help: set `squaring` under [trimmer] in workshop.toml to what you cut off a rough edge, such as 1/8 in or 3 mm
",
    );
}

/// A parent of 20 x 26 in is the basic size of cover (GPO paper specification JCP L20), sold untrimmed.
#[test]
fn untrimmed() {
    let parent = "sheet,paper,width,height,price\nparent,fern,26,20,2.50\n";
    Reading::sheets(parent).with_workshop("[trimmer]\nknife = \"30 in\"\n").says(
        r"
warning[stock-untrimmed]: sheets of 26 x 20 in, such as `parent`, are sold untrimmed
 --> sheets.csv:2:1
  |
2 | parent,fern,26,20,2.50
  | ^^^^^^ cut from edge to edge as it is: parent
  |
  = help: add the column `rough edges` to sheets.csv: 4 if the edges of a sheet are rough, 0 if it was trimmed
",
    );
    let known = "sheet,paper,width,height,price,rough edges\nparent,fern,26,20,2.50,\n";
    Reading::sheets(known).with_workshop("[trimmer]\nknife = \"30 in\"\n").says("");
}

#[test]
fn print() {
    Reading::sheet_cell("print", "two way").says(
        r"
error[stock-print]: unknown print `two way`
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,two way
  |                    ^^^^^^^ did you mean `two-way`?
  |
  = help: it can be free, two-way or one-way
",
    );
}

#[test]
fn print_of_the_back() {
    Reading::sheet_cell("print", "one-way/tumble").says(
        r"
error[stock-print]: unknown print of the back `tumble`
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,one-way/tumble
  |                    ^^^^^^^^^^^^^^ did you mean `tumbled`?
  |
  = help: it can be free, two-way, one-way or tumbled
",
    );
    assert_eq!(Reading::sheet_cell("on hand,print", "9,One-Way / Tumbled").text(), "");
}

/// Without an up of the face, a back with an up is no more than that.
#[test]
fn print_of_the_back_without_an_up_of_the_face() {
    Reading::sheet_cell("on hand,print", "9,two-way/tumbled").says(
        r"
warning[stock-print-tumbled]: the back is tumbled, but the face has no up
 --> sheets.csv:2:22
  |
2 | fern-12,fern,12,12,9,two-way/tumbled
  |                      ^^^^^^^^^^^^^^^ read as two-way/one-way: the back has an up
  |
  = help: write `two-way/one-way`; or `one-way/tumbled` if the face has an up, at the other edge
",
    );
    let free = Reading::sheet_cell("print", "free/tumbled").text();
    assert!(free.contains("read as free/one-way"), "{free}");
}

#[test]
fn gsm() {
    Reading::sheet_cell("gsm", "65 lb").says(
        r"
error[stock-gsm]: gsm is not a weight
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,65 lb
  |                    ^^^^^ expected grams per square metre, such as 176 or 175.8, or 65 lb cover
  |
  = help: write at most three decimals; leave it blank if you do not know it
",
    );
}

#[test]
fn thickness() {
    Reading::sheet_cell("thickness", "0").says(
        r"
error[stock-thickness]: thickness is not above zero
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,0
  |                    ^ expected a length above zero
",
    );
}

/// Points and mils are not read: 12 pt are 0.012 in (common practice, no source).
#[test]
fn thickness_in_points() {
    Reading::sheet_cell("thickness", "12 pt").says(
        r"
error[stock-thickness]: thickness is not a length
 --> sheets.csv:2:20
  |
2 | fern-12,fern,12,12,12 pt
  |                    ^^^^^ expected the thickness of a sheet, such as 0.012 in or 0.3 mm
",
    );
}

#[test]
fn date() {
    Reading::offcuts("offcut,paper,width,height,since\nf-1,fern,3,4,2026-02-30\n").says(
        r"
error[stock-date]: since is not a date
 --> offcuts.csv:2:14
  |
2 | f-1,fern,3,4,2026-02-30
  |              ^^^^^^^^^^ expected year-month-day, such as 2026-05-30
  |
  = help: write the year first, then month and day in two digits; the day must exist
",
    );
}

#[test]
fn paper() {
    Reading::offcuts("offcut,paper,width,height\nf-1,Fern,3,4\n").says(
        r"
warning[stock-paper]: no full sheet of paper `Fern`
 --> offcuts.csv:2:1
  |
2 | f-1,Fern,3,4
  | ^^^ did you mean `fern`?
  |
  = help: an offcut is used only for the paper it names, letter by letter
",
    );
}
