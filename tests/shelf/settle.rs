//! What settling does to the files, and how it is taken back.

use super::*;
use crate::messages::same;
use serde_json::json;

#[test]
fn the_files_are_those_of_after_the_batch_and_else_as_they_were() {
    let home = planned();
    same(
        &said(&home, "settle reports/spring --on 2031-05-09"),
        "
spring: settled: 4 sheets cut, 6 sheets bought, 4 offcuts put in the drawer

  sheet    size        was  bought  cut  kept  now
  fern-12  12 x 12 in    1       1    2          0
  moss-12  12 x 12 in    0       5    2          3

  offcut          size       was  bought  cut  kept  now
  moss-spring-01  5 x 5 in     0                  1    1
  moss-spring-02  2 x 7 in     0                  1    1
  moss-spring-03  7 x 2 in     0                  1    1
  moss-spring-04  5 x 12 in    0                  1    1

Entry 2 of shelf.jsonl
",
    );
    let sheets = SHEETS.replace(";1;1.10", ";0;1.10").replace(";0;5.00", ";3;5.00");
    let new = "moss-spring-01;moss;5 in;5 in;1;spring;2031-05-09;;free
moss-spring-02;moss;7 in;2 in;1;spring;2031-05-09;;free
moss-spring-03;moss;2 in;7 in;1;spring;2031-05-09;;free
moss-spring-04;moss;12 in;5 in;1;spring;2031-05-09;;free
";
    let header = "offcut;paper;height;width;count;from;since";
    let offcuts =
        OFFCUTS.replace(header, &format!("{header};print")) + &new.replace(";;free", ";free");
    assert_eq!(stock(&home), (sheets, offcuts));
}

#[test]
fn what_is_taken_from_the_drawer_leaves_its_row_or_its_count() {
    let home = Home::new();
    home.put("summer.csv", "line,card,count,paper\ntag,2 x 3,2,fern\n");
    home.put("workshop.toml", "[spares]\npercent = 0\nat_least = 0\n");
    home.put("sheets.csv", "sheet,paper,width,height,price\nfern-12,fern,12,12,1.10\n");
    let drawer = "offcut,paper,width,height,count\n# one\na,fern,2,3,1\nb,fern,2 1/4,3,4\n";
    home.put("offcuts.csv", drawer);
    home.done("plan summer.csv --quiet");
    said(&home, "settle reports/summer --on 2031-05-09");
    let expected = "offcut,paper,width,height,count\n# one\nb,fern,2 1/4,3,3\n";
    assert_eq!(home.text("offcuts.csv"), expected);
    said(&home, "settle reports/summer --undo");
    assert_eq!(home.text("offcuts.csv"), drawer);
}

#[test]
fn a_batch_is_settled_once_and_taken_back_to_the_byte() {
    let home = planned();
    said(&home, "settle reports/spring --on 2031-05-09");
    same(
        &refusal(&home, "settle reports/spring"),
        r"
error[settle-twice]: spring is settled already
 |
 = help: on 2031-05-09, as entry 2 of the journal
 = help: to undo it, use `--undo`
 = help: to make the order again, plan it again first
",
    );
    assert_eq!(
        said(&home, "settle reports/spring --undo"),
        "entry 2 undone: sheets.csv and offcuts.csv are as they were before it\n"
    );
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
    same(
        &refusal(&home, "settle reports/spring --undo"),
        r"
error[settle-undo]: spring is not settled
 |
 = help: `cardwright shelf history .` lists what was settled
",
    );
    said(&home, "settle reports/spring --on 2031-05-09");
}

/// An order that is made again from a shelf that was filled up again is another batch.
#[test]
fn an_order_may_come_back() {
    let home = Home::new();
    home.put("tags.csv", "line,card,count,paper\ntag,4 x 4,8,fern\n");
    home.put("workshop.toml", "[spares]\npercent = 0\nat_least = 1\n");
    let sheets = "sheet,paper,width,height,on hand\nfern-12,fern,12,12,1\n";
    home.put("sheets.csv", sheets);
    for _ in 0..3 {
        home.done("plan tags.csv --quiet");
        said(&home, "settle reports/tags");
        home.put("sheets.csv", sheets);
    }
    assert!(said(&home, "shelf history").contains("  files edited by hand\n"));
}

#[test]
fn a_drawer_is_made_where_there_is_none() {
    let home = Home::new();
    home.put("spring.csv", SPRING);
    home.put("sheets.csv", SHEETS);
    home.done("plan spring.csv --quiet");
    said(&home, "settle reports/spring --on 2031-05-09");
    let drawer = home.text("offcuts.csv");
    assert!(
        drawer.starts_with("offcut;paper;width;height;count;grain;print;from;since\nmoss-"),
        "{drawer}"
    );
    said(&home, "settle reports/spring --undo");
    assert!(!home.path("offcuts.csv").exists());
}

#[test]
fn a_batch_is_settled_in_parts() {
    let home = planned();
    same(
        &said(&home, "settle reports/spring --partly R1=1 --on 2031-05-09"),
        "
spring: settled in part: 1 sheet cut, 6 sheets bought

  sheet    size        was  bought  cut  kept  now
  fern-12  12 x 12 in    1       1    1          1
  moss-12  12 x 12 in    0       5               5

Entry 2 of shelf.jsonl
Go on by the same schedule, or plan what is left: `cardwright plan spring.csv --rest`
",
    );
    same(
        &refusal(&home, "settle reports/spring --partly R1=2,R9=1 --partly R2=0"),
        r"
error[settle-part]: R1 has 1 sheet left to settle, not 2
 |
 = help: give the number of sheets cut, at least 1

error[settle-part]: R2 has 1 sheet left to settle, not 0
 |
 = help: give the number of sheets cut, at least 1

error[settle-part]: spring has no run R9
 |
 = help: its runs are R1 to R3

3 errors
",
    );
    let rest = said(&home, "settle reports/spring --partly R1=1 --on 2031-05-10");
    assert!(rest.starts_with("spring: settled in part: 1 sheet cut\n"), "{rest}");
    same(
        &refusal(&home, "settle reports/spring --partly R1=1"),
        "error[settle-part]: all sheets of R1 are settled already\n",
    );
    let rest = said(&home, "settle reports/spring --on 2031-05-10");
    assert!(
        rest.starts_with("spring: settled: 2 sheets cut, 4 offcuts put in the drawer\n"),
        "{rest}"
    );
    let parts = stock(&home);
    for _ in 0..3 {
        said(&home, "settle reports/spring --undo");
    }
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
    said(&home, "settle reports/spring --on 2031-05-10");
    assert_eq!(stock(&home), parts, "in parts or at once");
}

/// The parts of a run add to the same offcuts.
#[test]
fn parts_of_a_run_fill_one_row() {
    let home = Home::new();
    home.put("tags.csv", "line,card,count,paper\ntag,10 x 12,3,fern\n");
    home.put("workshop.toml", "[spares]\npercent = 0\nat_least = 0\n");
    home.put("sheets.csv", "sheet,paper,width,height,on hand,price\nfern-12,fern,12,12,3,1\n");
    home.done("plan tags.csv --quiet");
    said(&home, "settle reports/tags --partly R1=1 --on 2031-05-09");
    said(&home, "settle reports/tags --partly R1=2 --on 2031-05-10");
    let drawer = home.text("offcuts.csv");
    assert_eq!(
        drawer.lines().skip(1).collect::<Vec<_>>(),
        ["fern-tags-01,fern,2 in,12 in,3,,free,tags,2031-05-09"]
    );
}

#[test]
fn several_orders_settle_as_the_one_batch_they_were() {
    let home = planned();
    home.done("plan spring.csv summer.csv --quiet");
    let out = said(&home, "settle reports/spring+summer/plan.json --on 2031-05-09");
    assert!(out.starts_with("spring+summer: settled: "), "{out}");
    assert!(
        refusal(&home, "settle reports/spring")
            .contains("since it was planned, spring+summer was settled")
    );
}

/// Names that a spreadsheet would run are written harmless, and read again as they are.
#[test]
fn names_are_harmless_in_the_drawer() {
    let home = Home::new();
    home.put("tags.csv", "line,card,count,paper\ntag,10 x 12,3,'=fern()\n");
    home.put("sheets.csv", "sheet,paper,width,height,price\nfern-12,'=fern(),12,12,1\n");
    home.done("plan tags.csv --quiet");
    said(&home, "settle reports/tags --on 2031-05-09");
    let drawer = home.text("offcuts.csv");
    assert!(drawer.contains("\n'=fern()-tags-01,'=fern(),2 in,12 in,"), "{drawer}");
    home.done("plan tags.csv --quiet");
    said(&home, "settle reports/tags --on 2031-05-09");
    assert!(home.text("offcuts.csv").contains("\n'=fern()-tags-02,"));
}

/// The names in the plan are taken by now: others are given, and told.
#[test]
fn a_name_that_is_taken_is_replaced() {
    let home = planned();
    home.put("offcuts.csv", format!("{OFFCUTS}moss-spring-01;fern;1;1;1;me;\n"));
    let out = said(&home, "settle reports/spring --on 2031-05-09");
    assert!(out.contains("\n  moss-spring-05 (in the plan: moss-spring-01)  5 x 5 in "), "{out}");
    assert!(out.ends_with("; write the names that differ from the plan on the labels\n"), "{out}");
}

#[test]
fn a_script_gets_the_entry() {
    let home = planned();
    let out = said(&home, "settle reports/spring --json --on 2031-05-09");
    let entry: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!(entry["event"]["settled"]["bought"]["moss-12"], 5);
    let out = said(&home, "settle reports/spring --undo --json");
    let entry: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!(entry["event"]["undone"]["entry"], 2);
}

#[test]
fn the_shelf_is_shown() {
    let home = planned();
    said(&home, "settle reports/spring --on 2031-05-09");
    same(
        &said(&home, "shelf --on 2031-06-01"),
        "
3 sheets and 7 offcuts, worth 3.28 USD

  paper  sheets  offcuts         area  worth
  fern        0        3   19.8 sq in   0.05
  moss        3        4  545.0 sq in   3.24

  sheet    paper  size        count  worth each
  fern-12  fern   12 x 12 in      0        1.10
  moss-12  moss   12 x 12 in      3        1.00

  offcut          paper  size              count  worth each  since       days  yields each
  old-1           fern   2 1/4 x 3 1/2 in      2        0.02  2030-01-05   512  1 x ISO ID-1 or 1 x place card or 1 x ISO A8
  old-2           fern   1 x 4 in              1        0.01  2030-01-05   512
  moss-spring-01  moss   5 x 5 in              1        0.05  2031-05-09    23  1 x square 5 or 3 x ISO A8 or 1 x US A1
  moss-spring-02  moss   2 x 7 in              1        0.03  2031-05-09    23  2 x place card or 1 x bookmark
  moss-spring-03  moss   7 x 2 in              1        0.03  2031-05-09    23  2 x place card or 1 x bookmark
  moss-spring-04  moss   5 x 12 in             1        0.13  2031-05-09    23  9 x ISO A8 or 3 x US A1 or 2 x US postcard

Longest in the drawer: old-1, since 2030-01-05, 512 days
",
    );
}

#[test]
fn the_history_tells_every_change_and_proves_it() {
    let home = planned();
    assert_eq!(
        said(&home, "shelf history"),
        "nothing settled yet: the journal starts with the first batch you settle\n"
    );
    said(&home, "settle reports/spring --on 2031-05-09");
    said(&home, "settle reports/spring --undo --on 2031-05-10");
    home.put("sheets.csv", SHEETS.replace(";0;5.00", ";2;5.00"));
    said(&home, "settle reports/summer --on 2031-05-11");
    same(
        &said(&home, "shelf history"),
        "
  entry  on          what
      1  2031-05-09  journal started
      2  2031-05-09  spring settled: 6 bought, 4 cut, 4 offcuts kept
      4  2031-05-10  entry 2 undone
      6  2031-05-11  files edited by hand
      7  2031-05-11  summer settled: 1 cut

Each entry follows from the one before, and your files match the last
",
    );
    home.put("sheets.csv", SHEETS);
    let out = said(&home, "shelf history");
    assert!(
        out.ends_with(
            "Each entry follows from the one before; your files were edited since:\n  \
             - fern-12;fern;12;12;0;1.10;1\n  - moss-12;moss;12;12;2;5.00;5\n  \
             + fern-12;fern;12;12;1;1.10;1\n  + moss-12;moss;12;12;0;5.00;5\n"
        ),
        "{out}"
    );
}

#[test]
fn a_script_reads_the_history_as_a_person_does() {
    let home = planned();
    let history =
        || serde_json::from_str::<serde_json::Value>(&said(&home, "shelf history --json")).unwrap();
    assert_eq!(
        history(),
        json!({
            "schema": "cardwright-history-1",
            "entries": [], "sound": true, "current": true, "edits": [], "complete": null,
        })
    );
    said(&home, "settle reports/spring --on 2031-05-09");
    let entry = |number, event, batch: Option<&str>, told| {
        json!({
            "number": number, "on": "2031-05-09", "event": event, "batch": batch, "told": told,
        })
    };
    let entries = json!([
        entry(1, "begun", None, "journal started"),
        entry(2, "settled", Some("spring"), "spring settled: 6 bought, 4 cut, 4 offcuts kept"),
    ]);
    assert_eq!(history()["entries"], entries);
    assert_eq!((&history()["current"], &history()["complete"]), (&true.into(), &true.into()));
    home.put("sheets.csv", SHEETS);
    let edited = history();
    assert_eq!((&edited["sound"], &edited["current"]), (&true.into(), &false.into()));
    assert_eq!(edited["edits"][0], "- fern-12;fern;12;12;0;1.10;1");
    // What the journal began with, and other digests of it.
    let begun = home.text("shelf.jsonl").lines().next().unwrap().replace(";1;1.10;1", ";7;1.10;1");
    home.put("shelf.jsonl", begun + "\n");
    let answer = home.run("shelf history --json");
    assert_eq!(answer.code, Some(1));
    let changed: serde_json::Value = serde_json::from_str(&answer.out).unwrap();
    assert_eq!((&changed["sound"], &changed["current"]), (&false.into(), &false.into()));
    assert_eq!(changed["complete"], false);
    assert!(
        answer
            .err
            .starts_with("warning[shelf-cut]: shelf.jsonl ends with entry 1, but 3 were written\n"),
        "{}",
        answer.err
    );
}

#[test]
fn a_shelf_is_rebuilt_from_its_journal() {
    let home = planned();
    said(&home, "settle reports/spring --on 2031-05-09");
    let settled = stock(&home);
    assert_eq!(said(&home, "shelf rebuild"), "the files are already as after entry 3\n");
    home.put("offcuts.csv", "offcut;paper;width;height\n");
    let out = said(&home, "shelf rebuild --on 2031-05-10");
    assert!(
        out.starts_with(
            "the files are now as after entry 3:\n  - offcut;paper;width;height\n  + offcut;"
        ),
        "{out}"
    );
    assert_eq!(stock(&home), settled);
    // What was there is kept: entry 4 is the edit.
    said(&home, "shelf rebuild --to 4 --on 2031-05-10");
    assert_eq!(home.text("offcuts.csv"), "offcut;paper;width;height\n");
    said(&home, "shelf rebuild --to 1");
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
    same(
        &refusal(&home, "shelf rebuild --to 99"),
        "
error[shelf-entry]: the journal has no entry 99
 |
 = help: its entries are 1 to 10
",
    );
}

/// A name that is replaced stays replaced for all parts of the batch.
#[test]
fn parts_keep_the_name_that_the_first_one_got() {
    let home = Home::new();
    home.put("tags.csv", "line,card,count,paper\ntag,10 x 12,3,fern\n");
    home.put("workshop.toml", "[spares]\npercent = 0\nat_least = 0\n");
    home.put("sheets.csv", "sheet,paper,width,height,on hand,price\nfern-12,fern,12,12,3,1\n");
    home.done("plan tags.csv --quiet");
    home.put("offcuts.csv", "offcut,paper,width,height\nfern-tags-01,fern,5,5\n");
    said(&home, "settle reports/tags --partly R1=1 --on 2031-05-09");
    said(&home, "settle reports/tags --partly R1=2 --on 2031-05-10");
    assert!(home.text("offcuts.csv").contains("\nfern-tags-02,fern,2 in,12 in,3,"));
}

/// What is settled after the files were put back counts again.
#[test]
fn a_batch_before_which_the_shelf_was_rebuilt_may_be_settled_again() {
    let home = planned();
    said(&home, "settle reports/spring --on 2031-05-09");
    let settled = stock(&home);
    said(&home, "shelf rebuild --to 1");
    said(&home, "settle reports/spring --on 2031-05-09");
    assert_eq!(stock(&home), settled);
    said(&home, "settle reports/spring --undo");
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
}

/// An editor that takes the end of the last line away takes no entry away.
#[test]
fn a_journal_without_its_last_line_end_is_whole() {
    let home = planned();
    said(&home, "settle reports/spring --on 2031-05-09");
    let journal = home.text("shelf.jsonl");
    home.put("shelf.jsonl", journal.trim_end());
    said(&home, "shelf history");
    assert_eq!(home.text("shelf.jsonl"), journal);
}
