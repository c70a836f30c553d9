//! Codes of a stock-take.

use super::builder::Reading;
use super::same;
use cardwright::batch::{Source, read_stock};
use cardwright::cli::render;
use cardwright::diagnostics::Problems;
use cardwright::settling::{self, read_take};
use cardwright::shelf::Journal;

/// What is said of a table that counts a sheet, three of one offcut, and ribbon.
#[track_caller]
fn says(table: &str, expected: &str) {
    let inputs =
        Reading::offcuts("offcut,paper,width,height,count,grain\nfern-1,fern,4,3,3,width\n")
            .with_sundries("sundry,unit,on hand\nribbon,in,200\n")
            .inputs();
    let mut problems = Problems::new();
    let workshop = settling::workshop(inputs.workshop.as_ref()).unwrap();
    let stock = read_stock(&inputs, &workshop, &mut problems).unwrap();
    assert!(problems.is_empty());
    let table = Source { name: "counted.csv".to_owned(), bytes: table.into() };
    let take = read_take(&table, &stock, &Journal::default(), &workshop, &mut problems);
    assert!(problems.has_errors(), "{take:?}");
    same(&render::problems(&problems, false), expected);
}

#[test]
fn a_name_that_nothing_has_or_that_is_counted_twice() {
    says(
        "name,count\nfern-2,1\nfern-1,2\nfern-1,1\n",
        r"
error[take-name]: nothing of your stock is called `fern-2`
 --> counted.csv:2:1
  |
2 | fern-2,1
  | ^^^^^^ did you mean `fern-1`?
  |
  = help: leave the name of a new strip blank: it gets one

error[take-name]: `fern-1` is counted twice
 --> counted.csv:4:1
  |
4 | fern-1,1
  | ^^^^^^ first counted in line 3
  |
  = help: add both counts up, in one row

2 errors
",
    );
}

#[test]
fn a_word_that_says_nothing() {
    says(
        "name,count,what,paper,width,height\nfern-1,,lost,,,\n,1,not found,fern,2,3\n",
        r"
error[take-what]: unknown word `lost`
 --> counted.csv:2:9
  |
2 | fern-1,,lost,,,
  |         ^^^^ expected thrown away or not found

error[take-what]: `what` has no name beside it
 --> counted.csv:3:4
  |
3 | ,1,not found,fern,2,3
  |    ^^^^^^^^^ expected nothing beside a strip that is new

2 errors
",
    );
}

#[test]
fn a_loss_that_is_none() {
    says(
        "name,count,what\nfern-1,3,thrown away\nribbon,210,not found\n",
        r"
error[take-count]: `fern-1`: 3 left of 3, so none are gone
 --> counted.csv:2:1
  |
2 | fern-1,3,thrown away
  | ^^^^^^ expected less than 3, as the file says
  |
  = help: `count` is what is there now; leave `what` blank to correct it

error[take-count]: `ribbon`: 210 in left of 200 in, so none are gone
 --> counted.csv:3:1
  |
3 | ribbon,210,not found
  | ^^^^^^ expected less than 200 in, as the file says
  |
  = help: `count` is what is there now; leave `what` blank to correct it

2 errors
",
    );
}

#[test]
fn a_table_of_before() {
    says(
        "name,on file,count\nfern-1,4,\nribbon,200,150\n",
        r"
error[take-since]: the files have changed since this table was written
 --> counted.csv:2:8
  |
2 | fern-1,4,
  |        ^ on file now: 3
  |
  = help: look what is there now, correct both numbers, or write a new table
  = help: `cardwright shelf count` writes a table of all you have, to count by
",
    );
}

#[test]
fn a_thing_that_would_be_another() {
    says(
        "name,count,paper,width,height,grain\nfern-1,,fern,2,3 in,height\nribbon,1,red,,,\n",
        r"
error[take-other]: width is not as the file says
 --> counted.csv:2:14
  |
2 | fern-1,,fern,2,3 in,height
  |              ^ expected 4 in
  |
  = help: a stock-take changes counts alone: for another strip, leave its name blank

error[take-other]: grain is not as the file says
 --> counted.csv:2:21
  |
2 | fern-1,,fern,2,3 in,height
  |                     ^^^^^^ expected width
  |
  = help: a stock-take changes counts alone: for another strip, leave its name blank

error[take-other]: paper is not as the file says
 --> counted.csv:3:10
  |
3 | ribbon,1,red,,,
  |          ^^^ expected nothing
  |
  = help: a stock-take changes counts alone: for another strip, leave its name blank

3 errors
",
    );
}

#[test]
fn a_strip_that_is_not_described() {
    says(
        "name,count,paper,width,height\n,2,fern,3,\n,0,fern,wide,1\n",
        r#"
error[take-strip]: a row without a name is a new strip, and says too little of it
 --> counted.csv:2:1
  |
2 | ,2,fern,3,
  | ^ expected height
  |
  = help: measure the strip in the directions of its sheet; or write the name of what you counted

error[stock-size]: width is not a length
 --> counted.csv:3:9
  |
3 | ,0,fern,wide,1
  |         ^^^^ expected a length, such as 8.5, 8 1/2, 17/2, 216 mm or 8.5 in
  |
  = help: units are in, ", mm and cm; a number alone means inches

error[stock-count]: count is zero
 --> counted.csv:3:2
  |
3 | ,0,fern,wide,1
  |  ^ expected at least 1

3 errors
"#,
    );
}

#[test]
fn a_table_that_counts_nothing() {
    says(
        "name,count\n",
        r"
error[take-empty]: nothing is counted
 |
 = help: `cardwright shelf count` writes a table of all you have, to count by
",
    );
}
