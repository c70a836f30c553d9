//! Stock-takes: what was counted, in the files, in the journal, and what it means for plans.

use super::*;
use crate::messages::same;
use std::fs;

/// The files of a workshop, and what is in the folder.
fn state(home: &Home) -> (String, String, Vec<String>) {
    let (sheets, offcuts) = stock(home);
    (sheets, offcuts, crate::program::listing(&home.path("")))
}

const TAKE: &str = "shelf take counted.csv --on 2031-05-09";

/// A workshop of one shelf alone: nothing is planned from it.
fn counted(table: &str) -> Home {
    let home = Home::new();
    home.put("sheets.csv", SHEETS);
    home.put("offcuts.csv", OFFCUTS);
    home.put("counted.csv", table);
    home
}

/// Comments, order of columns, blanks and columns of her own stay; a row of nothing goes, as it does when it is cut.
#[test]
fn only_what_was_counted_otherwise_is_written() {
    let home = counted(COUNTED);
    same(
        &said(&home, TAKE),
        r"
stock-take: 1 sheet corrected, 2 offcuts added, 1 offcut not found

  sheet    paper  size        was  now  what
  fern-12  fern   12 x 12 in    1    0  corrected

  offcut         paper  size              was  now  what
  old-1          fern   2 1/4 x 3 1/2 in    2    1  not found
  moss-found-01  moss   2 x 3 1/4 in        0    2  added

1 other name is as the files say

Entry 2 of shelf.jsonl; `cardwright shelf rebuild . --to 1` undoes it
Write its name on each new strip
",
    );
    assert_eq!(home.text("sheets.csv"), SHEETS.replace(";12;1;1.10", ";12;0;1.10"));
    let offcuts = OFFCUTS.replace("count;from;since", "count;from;since;print");
    let offcuts = offcuts.replace("2 1/4;2;winter", "2 1/4;1;winter");
    let new = "moss-found-01;moss;3 1/4 in;2 in;2;;2031-05-09;two-way\n";
    assert_eq!(home.text("offcuts.csv"), offcuts + new);
    home.put("counted.csv", "name;count;what\nold-1;;thrown away\nold-2;0;\n");
    let out = said(&home, TAKE);
    assert!(out.starts_with("stock-take: 1 offcut corrected, 1 thrown away\n"), "{out}");
    let left = home.text("offcuts.csv");
    assert!(left.contains("# the good ones") && !left.contains("old-"), "{left}");
    let history = said(&home, "shelf history");
    assert!(history.ends_with("and your files match the last\n"), "{history}");
    assert!(
        history.contains("stock-take: 1 sheet corrected, 2 offcuts added, 1 offcut not found\n"),
        "{history}"
    );
    // All of it back, to the byte.
    said(&home, "shelf rebuild --to 1");
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
    assert!(said(&home, "shelf history").ends_with("match the last\n"));
}

/// What the preview shows is what is done, and it does nothing, not even a lock.
#[test]
fn a_preview_changes_nothing_and_tells_the_truth() {
    let home = counted(COUNTED);
    let before = state(&home);
    let shown = said(&home, &format!("{TAKE} --preview"));
    let entry = said(&home, &format!("{TAKE} --preview --json"));
    assert_eq!(state(&home), before);
    assert!(shown.contains("\nNothing is changed yet: "), "{shown}");
    assert_eq!(said(&home, &format!("{TAKE} --json")), entry);
    said(&home, "shelf rebuild --to 1");
    let told = said(&home, TAKE);
    let tables = |text: &str| text.split("\n1 other").next().unwrap().to_owned();
    assert_eq!(tables(&told), tables(&shown));
}

/// The list, as it is, says that all is right; the journal holds that somebody looked.
#[test]
fn a_list_as_it_is_written_confirms_all() {
    let home = counted("");
    home.put("counted.csv", said(&home, "shelf count"));
    let out = said(&home, TAKE);
    assert!(out.starts_with("stock-take: all as the files say\n"), "{out}");
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
    let history = said(&home, "shelf history");
    assert!(history.contains("2031-05-09  stock-take: all as the files say\n"), "{history}");
}

/// A table is recorded once if it brings new strips; counts alone may be said again, and stay what they are.
#[test]
fn nothing_is_counted_twice() {
    let home = counted(COUNTED);
    said(&home, TAKE);
    same(
        &refusal(&home, TAKE),
        r"
error[take-twice]: this table is recorded already, as entry 2
 |
 = help: on 2031-05-09; its new strips would be in the drawer twice
 = help: for more strips, write a new table: `cardwright shelf count`
",
    );
    home.put("counted.csv", "name,count\nold-1,1\n");
    let once = stock(&home);
    said(&home, TAKE);
    said(&home, TAKE);
    assert_eq!(stock(&home), once);
    // Taken back, the first one is free again; a strip found later has another name.
    home.put("counted.csv", "name,count,paper,width,height\n,1,moss,1,5\n,1,moss,1,6\n");
    said(&home, TAKE);
    assert!(
        home.text("offcuts.csv").contains("\nmoss-found-03;moss;6 in;1 in;1;;2031-05-09;free\n")
    );
    said(&home, "shelf rebuild --to 1");
    home.put("counted.csv", COUNTED);
    said(&home, TAKE);
    assert!(home.text("offcuts.csv").contains("\nmoss-found-01;"));
}

/// Mistakes of a table come all at once, and nothing is changed.
#[test]
fn a_table_with_mistakes_changes_nothing() {
    let home = counted("name,count,what\nold-1,lots,\nold-3,1,\nold-2,1,gone\n");
    let before = state(&home);
    for how in ["", " --preview"] {
        let answer = home.run(&format!("{TAKE}{how}"));
        assert_eq!((answer.code, answer.out.as_str()), (Some(1), ""));
        let codes = ["[stock-count]", "[take-name]", "[take-what]"];
        assert!(codes.iter().all(|code| answer.err.contains(code)), "{}", answer.err);
        assert_eq!((state(&home).0, state(&home).1), (before.0.clone(), before.1.clone()));
    }
    assert!(!home.path("shelf.jsonl").exists());
    let answer = home.run("shelf take none.csv");
    assert_eq!((answer.code, answer.out.as_str()), (Some(2), ""));
}

/// Both orders are planned: what is not there any more is told of each, and of what is set aside.
#[test]
fn plans_that_lose_their_paper_are_named() {
    let home = planned();
    home.done("plan summer.csv --quiet --reserve");
    home.put("counted.csv", "name,count,what\nfern-12,0,\nold-1,,not found\n");
    let answer = home.run(&format!("{TAKE} --preview"));
    let told = &answer.err;
    assert_eq!(answer.code, Some(0), "{told}");
    assert!(
        told.contains("warning[take-reserved]: set aside for summer, and no longer all there: `fern-12` (0 of 1)"),
        "{told}"
    );
    assert!(told.contains("`cardwright shelf drop summer .` releases what is left"), "{told}");
    assert!(
        told.contains("warning[take-plan]: reports/spring was planned with 1 of `fern-12`, now 0"),
        "{told}"
    );
    assert!(
        told.contains("warning[take-plan]: reports/summer uses `fern-12`, which is gone"),
        "{told}"
    );
    assert!(told.contains("plan it again: `cardwright plan summer.csv`"), "{told}");
    assert_eq!(home.done(TAKE).err, *told, "as the preview says");
    // Settling either would be refused, as it was told.
    for report in ["spring", "summer"] {
        let err = refusal(&home, &format!("settle reports/{report}"));
        assert!(err.contains("[settle-unfit]") && err.contains("the stock was counted"), "{err}");
    }
}

/// What is cut already, or keeps its paper, is not spoken of.
#[test]
fn plans_that_keep_their_paper_are_not_named() {
    let home = planned();
    said(&home, "settle reports/summer --on 2031-05-09");
    fs::remove_dir_all(home.path("reports/spring")).unwrap();
    home.put("counted.csv", "name,count,what,paper,width,height\nold-2,1,,,,\n,4,,fern,3,3\n");
    said(&home, TAKE);
    home.put("counted.csv", "name,count\nfern-12,0\nmoss-12,0\n");
    said(&home, TAKE);
}
