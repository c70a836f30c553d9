//! Codes of any CSV file.

use super::builder::Reading;

#[test]
fn binary() {
    Reading::order(b"line,card\0\x01").says(
        r"
error[table-binary]: orders/spring.csv is not a text file
 |
 = help: a table is plain text, one row a line: save it as CSV in UTF-8
",
    );
}

#[test]
fn a_workbook_is_no_table() {
    Reading::order(b"PK\x03\x04\x14").says(
        r"
error[table-binary]: orders/spring.csv is not a text file
 |
 = help: it looks like a spreadsheet's own format: save it from there as CSV in UTF-8
",
    );
}

#[test]
fn encoding() {
    Reading::order(b"line,card,count,paper\ncaf\xe9,2 x 3,12,fern\n").says(
        r"
error[table-encoding]: orders/spring.csv is not written in UTF-8
 --> orders/spring.csv:2:4
  |
2 | caf�,2 x 3,12,fern
  |    ^ not a UTF-8 character
  |
  = help: save it from the spreadsheet as CSV in UTF-8
",
    );
}

#[test]
fn encoding_of_two_bytes_a_letter() {
    Reading::order(b"\xff\xfel\0i\0").says(
        r"
error[table-encoding]: orders/spring.csv is written in UTF-16
 |
 = help: save it from the spreadsheet as CSV in UTF-8
",
    );
}

#[test]
fn size() {
    Reading::order(vec![b'\n'; (16 << 20) + 1]).says(
        r"
error[table-size]: orders/spring.csv is larger than 16 MiB
 |
 = help: split it into several files
",
    );
}

#[test]
fn rows() {
    let order = |rows: usize| {
        let rows: String = (1..=rows).map(|row| format!("t{row},2 x 3,1,fern\n")).collect();
        Reading::order(format!("line,card,count,paper\n{rows}"))
    };
    order(100_001).says(
        r"
error[table-rows]: the file has too many rows
      --> orders/spring.csv:100002:1
       |
100002 | t100001,2 x 3,1,fern
       | ^^^^^^^^^^^^^^^^^^^^ expected at most 100000 rows
       |
       = help: split it into several files
",
    );
    assert_eq!(order(100_000).text(), "");
}

#[test]
fn cell_long() {
    let note = |letters: usize| Reading::order_cells("note", &"\u{e9}".repeat(letters));
    note(10_001).says(
        r"
error[table-cell-long]: a cell is too long
 --> orders/spring.csv:2:19
  |
2 | tag,2 x 3,12,fern,éééééééééééééééééééééééééééééééééééééééééééééééééééééééééééé...
  |                   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ expected at most 10000 characters
  |
  = help: shorten it, or check whether a quote before it was not closed
",
    );
    assert_eq!(note(10_000).text(), "");
}

#[test]
fn empty() {
    Reading::order("\n# nothing yet\n").says(
        r"
error[table-empty]: orders/spring.csv has nothing to read
 |
 = help: the first line names the columns, with commas between them
",
    );
}

#[test]
fn header() {
    Reading::order("tag,2 x 3,12,fern\n").says(
        r"
error[table-header]: the first line does not name the columns
 --> orders/spring.csv:1:1
  |
1 | tag,2 x 3,12,fern
  | ^^^ expected columns such as line, card, count and paper
  |
  = help: put a line with the column names above the rows
",
    );
}

#[test]
fn column_missing() {
    Reading::order("line,card,paper\ntag,2 x 3,fern\n").says(
        r"
error[table-column-missing]: no column `count`
 --> orders/spring.csv:1:16
  |
1 | line,card,paper
  |                ^ expected column `count`
  |
  = help: needed columns: line, card, count and paper
",
    );
}

#[test]
fn columns_missing() {
    Reading::order("line;card\ntag;2 x 3\n").says(
        r"
error[table-column-missing]: no columns `count` and `paper`
 --> orders/spring.csv:1:10
  |
1 | line;card
  |          ^ expected columns `count` and `paper`
  |
  = help: needed columns: line, card, count and paper
",
    );
}

#[test]
fn column_doubled() {
    Reading::order("line,card,count,paper,Count\ntag,2 x 3,12,fern,12\n").says(
        r"
error[table-column-doubled]: column `Count` appears twice
 --> orders/spring.csv:1:23
  |
1 | line,card,count,paper,Count
  |                       ^^^^^ expected each column once
  |
  = help: rename or delete one of them
",
    );
}

#[test]
fn column_unknown_with_a_near_name() {
    Reading::order_cells("envelop", "fern").says(
        r"
warning[table-column-unknown]: unknown column `envelop`
 --> orders/spring.csv:1:23
  |
1 | line,card,count,paper,envelop
  |                       ^^^^^^^ not read: did you mean `envelope`?
",
    );
}

#[test]
fn a_column_of_the_persons_own_is_left_alone() {
    for own in ["customer", "name", "date", "colour"] {
        Reading::order_cells(own, "K.").says("");
    }
}

#[test]
fn column_unknown_where_a_needed_one_is_missing() {
    let told = Reading::order("line,card,amount,paper\ntag,2 x 3,12,fern\n").text();
    assert!(told.contains("not read: did you mean `count`?"), "{told}");
    assert!(told.contains("error[table-column-missing]: no column `count`"), "{told}");
}

#[test]
fn row() {
    Reading::order("line,card,count,paper\ntag, red,2 x 3,12,fern\n").says(
        r"
error[table-row]: a row is longer than the header
 --> orders/spring.csv:2:19
  |
2 | tag, red,2 x 3,12,fern
  |                   ^^^^ the header has 4 columns
  |
  = help: put quotes around a cell that holds a comma, semicolon or tab itself
",
    );
}

#[test]
fn separator() {
    let rows = "tag;2 x 3;12;fern\ncard,2 x 3,12,fern\nnote;2 x 3;12;fern\n";
    Reading::order(format!("line,card,count,paper\n{rows}")).says(
        r"
error[table-separator]: a row with semicolons below a header with commas
 --> orders/spring.csv:2:1
  |
2 | tag;2 x 3;12;fern
  | ^^^^^^^^^^^^^^^^^ expected commas between the cells, here and in 1 more row
  |
  = help: use the same separator in all lines
",
    );
}

#[test]
fn quote_that_never_ends() {
    Reading::order("line,card,count,paper\n\"tag,2 x 3,12,fern\n").says(
        r#"
error[table-quote]: a quoted cell never ends
 --> orders/spring.csv:2:1
  |
2 | "tag,2 x 3,12,fern
  | ^^^^^^^^^^^^^^^^^^ the quote that opens here is never closed
  |
  = help: inside a quoted cell, write an inch mark or quote twice: "8 1/2"" wide"
"#,
    );
}

#[test]
fn quote_with_text_behind() {
    Reading::order("line,card,count,paper\ntag,\"2\" x 3\",12,fern\n").says(
        r#"
error[table-quote]: text after a closing quote
 --> orders/spring.csv:2:5
  |
2 | tag,"2" x 3",12,fern
  |     ^^^^^^^^ expected the cell to end at the quote
  |
  = help: inside a quoted cell, write an inch mark or quote twice: "8 1/2"" wide"
"#,
    );
}

#[test]
fn cell_blank() {
    Reading::order("line,card,count,paper\ntag,,12\n").says(
        r"
error[table-cell-blank]: card is blank
 --> orders/spring.csv:2:5
  |
2 | tag,,12
  |     ^ expected a card
  |
  = help: every row needs it

error[table-cell-blank]: paper is blank
 --> orders/spring.csv:2:8
  |
2 | tag,,12
  |        ^ expected a paper
  |
  = help: every row needs it

2 errors
",
    );
}

#[test]
fn comment() {
    Reading::order("line,card,count,paper\ntag,2 x 3,12,fern\n#2,2 x 3,12,fern\n").says(
        r"
warning[table-comment]: a comment that could be a row
 --> orders/spring.csv:3:1
  |
3 | #2,2 x 3,12,fern
  | ^^^^^^^^^^^^^^^^ not read, because it begins with #
  |
  = help: if it is a row, put its first cell in quotes; if a comment, put a space after the #
",
    );
}
