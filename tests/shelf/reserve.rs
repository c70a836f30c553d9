//! Paper that is set aside for a batch.

use super::*;
use crate::messages::same;

/// Two orders of a paper that cannot be bought.
fn few_sheets() -> Home {
    let home = Home::new();
    home.put("spring.csv", "line,card,count,paper\ntag,6 x 6,8,fern\n");
    home.put("summer.csv", "line,card,count,paper\ntag,6 x 6,8,fern\n");
    home.put("workshop.toml", "[spares]\npercent = 0\nat_least = 0\n");
    home.put("sheets.csv", "sheet,paper,width,height,on hand\nfern-12,fern,12,12,5\n");
    home
}

#[test]
fn what_is_set_aside_is_nobody_elses() {
    let home = few_sheets();
    home.done("plan summer.csv --quiet");
    said(&home, "plan spring.csv --quiet --reserve");
    let out = said(&home, "shelf");
    assert!(out.contains("\n  fern-12  fern   12 x 12 in      5          2\n"), "{out}");
    assert!(out.ends_with("Set aside for spring\n"), "{out}");
    // Planned before, summer may have two of the other three; a third batch finds none.
    said(&home, "settle reports/summer --on 2031-05-09");
    home.done("plan spring.csv --quiet --reserve");
    home.put("autumn.csv", "line,card,count,paper\ntag,6 x 6,8,fern\n");
    let answer = home.run("plan autumn.csv --quiet");
    assert_eq!(answer.code, Some(1));
    same(
        &answer.err,
        r"
error[program-stock-short]: the stock of fern is not enough
 --> autumn.csv:2:15
  |
2 | tag,6 x 6,8,fern
  |             ^^^^ 4 of `tag.card` are missing
  |
  = help: some is set aside for spring: `cardwright shelf .` shows it, `cardwright shelf drop spring .` releases it
  = help: 1 more of `fern-12` on hand would be enough
  = help: add sheets on hand, or a price in sheets.csv if more can be bought
  = help: or name a second paper in the order, joined by `|`
  = help: can be made: 4 of 8 tag
  = help: `cardwright plan autumn.csv --as-many` plans these
"
        .replace(":15\n", ":13\n")
        .as_str(),
    );
    // Its own plan is not in its way.
    home.done("plan spring.csv --quiet --reserve");
    said(&home, "settle reports/spring --on 2031-05-10");
    assert!(!said(&home, "shelf").contains("Set aside"));
}

#[test]
fn paper_that_is_bought_beside_some_set_aside_is_told() {
    let home = few_sheets();
    let sheets = "sheet,paper,width,height,on hand,price\nfern-12,fern,12,12,3,0.90\n";
    home.put("sheets.csv", sheets);
    home.done("plan spring.csv --quiet --reserve");
    // One sheet is left; the other has to be bought.
    let answer = home.run("plan summer.csv --quiet");
    assert_eq!(answer.code, Some(0));
    same(
        &answer.err,
        r"
warning[program-set-aside]: fern is bought while some is set aside
 |
 = help: some is set aside for spring: `cardwright shelf .` shows it, `cardwright shelf drop spring .` releases it
",
    );
    // Its own batch does not mind.
    assert_eq!(home.run("plan spring.csv --quiet --reserve").err, "");
    said(&home, "shelf drop spring");
    assert_eq!(home.run("plan summer.csv --quiet").err, "");
}

#[test]
fn a_plan_of_before_does_not_take_what_is_set_aside() {
    let home = few_sheets();
    home.put("sheets.csv", "sheet,paper,width,height,on hand\nfern-12,fern,12,12,3\n");
    home.done("plan summer.csv --quiet");
    said(&home, "plan spring.csv --quiet --reserve");
    same(
        &refusal_of_one_file(&home, "settle reports/summer"),
        r"
error[settle-changed]: not enough `fern-12`: the plan cuts 2, 1 free
 --> sheets.csv:2:1
  |
2 | fern-12,fern,12,12,3
  | ^^^^^^^ expected at least 4
  |
  = help: set aside for spring: 2

error[settle-unfit]: the plan of summer no longer fits the shelf
 |
 = help: plan the order again, or correct the files

2 errors
",
    );
    assert_eq!(said(&home, "shelf drop spring"), "released: 2 fern-12\n");
    said(&home, "settle reports/summer --on 2031-05-09");
}

fn refusal_of_one_file(home: &Home, arguments: &str) -> String {
    let before = home.text("sheets.csv");
    let answer = home.run(arguments);
    assert_eq!((answer.code, answer.out.as_str()), (Some(1), ""), "{}", answer.err);
    assert_eq!(home.text("sheets.csv"), before);
    answer.err
}

#[test]
fn dropping_what_is_not_there() {
    let home = few_sheets();
    same(
        &refusal_of_one_file(&home, "shelf drop spring"),
        r"
error[reserve-none]: no paper is set aside for spring
 |
 = help: plan an order with --reserve to set its paper aside
",
    );
    said(&home, "plan summer.csv --quiet --reserve");
    same(
        &refusal_of_one_file(&home, "shelf drop spring"),
        r"
error[reserve-none]: no paper is set aside for spring
 |
 = help: paper is set aside for summer
",
    );
}

/// Somebody settles between the reading of the files and the end of planning.
#[test]
fn paper_that_was_taken_meanwhile() {
    use cardwright::diagnostics::Problems;
    use cardwright::settling::{Reservation, Trouble};
    let home = few_sheets();
    home.done("plan spring.csv --quiet");
    home.put("sheets.csv", "sheet,paper,width,height,on hand\nfern-12,fern,12,12,1\n");
    let plan = serde_json::from_str(&home.text("reports/spring/plan.json")).unwrap();
    let shelf = opened(&home);
    let mut read = Problems::new();
    let workshop = cardwright::workshop::read("", b"", &mut read);
    let Err(Trouble::Problems(problems)) = Reservation::of(&plan, "x", &workshop, &shelf) else {
        panic!("it was set aside");
    };
    same(
        &cardwright::cli::render::problems(&problems, false),
        r"
error[reserve-taken]: `fern-12` was taken while spring was planned
 |
 = help: needed: 2, left: 1; plan the order again
",
    );
    assert!(shelf.journal.entries().is_empty());
}

/// What the rest of a batch takes stays set aside, what was bought for it too.
#[test]
fn the_rest_of_a_batch_stays_set_aside() {
    let home = few_sheets();
    home.put("spring.csv", "line,card,count,paper\ntag,12 x 12,8,fern\n");
    home.put("sheets.csv", "sheet,paper,width,height,on hand,price\nfern-12,fern,12,12,5,1\n");
    said(&home, "plan spring.csv --quiet --reserve");
    said(&home, "settle reports/spring --partly R1=2 --on 2031-05-09");
    let out = said(&home, "shelf");
    let row = "\n  fern-12  fern   12 x 12 in      6          6        1.00\n";
    assert!(out.contains(row), "{out}");
    home.done("plan summer.csv --quiet");
    said(&home, "settle reports/summer --on 2031-05-10");
    said(&home, "settle reports/spring --on 2031-05-10");
    assert!(!said(&home, "shelf").contains("Set aside"));
}

/// A batch that is settled needs nothing any more, whichever of its plans was cut.
#[test]
fn settling_frees_what_an_earlier_plan_set_aside() {
    let home = few_sheets();
    said(&home, "plan spring.csv --quiet --reserve");
    home.done("plan spring.csv --quiet");
    said(&home, "settle reports/spring --on 2031-05-09");
    assert!(!said(&home, "shelf").contains("Set aside"));
}

/// A plan whose paper cannot be set aside leaves the reports of before.
#[test]
fn a_refused_reservation_writes_no_reports() {
    let home = few_sheets();
    said(&home, "plan spring.csv --quiet --reserve");
    let before = home.text("reports/spring/origin.json");
    home.put("other.csv", "offcut,paper,width,height\nq,fern,12,13\n");
    let answer = home.run("plan spring.csv --quiet --reserve --offcuts other.csv");
    assert_eq!(answer.code, Some(1));
    same(
        &answer.err,
        r"
error[shelf-journal]: shelf.jsonl is the journal of sheets.csv and offcuts.csv
 |
 = help: a folder has one shelf: name these files, or put the others in their own folder
",
    );
    assert_eq!(home.text("reports/spring/origin.json"), before);
}
