//! Batches that are not settled, and why.

use super::*;
use crate::messages::same;
use std::fs;

#[test]
fn a_batch_that_another_one_left_no_paper_for() {
    let home = planned();
    said(&home, "settle reports/spring --on 2031-05-09");
    same(
        &refusal(&home, "settle reports/summer"),
        r"
error[settle-changed]: not enough `fern-12`: the plan cuts 1, 0 on hand
 --> sheets.csv:3:1
  |
3 | fern-12;fern;12;12;0;1.10;1
  | ^^^^^^^ expected at least 1

error[settle-unfit]: the plan of summer no longer fits the shelf
 |
 = help: since it was planned, spring was settled
 = help: plan the order again, or correct the files

2 errors
",
    );
}

#[test]
fn sheets_that_are_others_or_gone() {
    let home = planned();
    let other = SHEETS.replace("fern-12;fern;12;12", "fern-12;fern;11;12");
    home.put("sheets.csv", other.replace("moss-12;", "moss-14;"));
    let err = refusal(&home, "settle reports/spring");
    same(
        &err,
        r"
error[settle-changed]: `fern-12` is not as planned
 --> sheets.csv:3:1
  |
3 | fern-12;fern;11;12;1;1.10;1
  | ^^^^^^^ planned as 12 x 12 in of fern

error[settle-changed]: `moss-12` is gone from the shelf
 |
 = help: the plan cuts 2

error[settle-unfit]: the plan of spring no longer fits the shelf
 |
 = help: plan the order again, or correct the files

3 errors
",
    );
}

/// She went to the shop and counted in what she bought.
#[test]
fn a_purchase_that_is_counted_already() {
    let home = planned();
    let counted = SHEETS.replace(";1;1.10", ";2;1.10").replace(";0;5.00", ";4;5.00");
    home.put("sheets.csv", &counted);
    let err = refusal(&home, "settle reports/spring");
    same(
        &err,
        r"
error[settle-changed]: `fern-12`: planned with 1 on hand, now 2
 --> sheets.csv:3:1
  |
3 | fern-12;fern;12;12;2;1.10;1
  | ^^^^^^^ expected 1: the plan buys 1 and cuts 2
  |
  = help: if you have already counted in what you bought, settle with `--counted`

error[settle-changed]: `moss-12`: planned with 0 on hand, now 4
 --> sheets.csv:4:1
  |
4 | moss-12;moss;12;12;4;5.00;5
  | ^^^^^^^ expected 0: the plan buys 5 and cuts 2
  |
  = help: count what you have, with what you bought, write it here and settle with `--counted`

error[settle-unfit]: the plan of spring no longer fits the shelf
 |
 = help: plan the order again, or correct the files

3 errors
",
    );
    home.put("sheets.csv", counted.replace(";4;5.00", ";5;5.00"));
    said(&home, "settle reports/spring --counted --on 2031-05-09");
    let sheets = SHEETS.replace(";1;1.10", ";0;1.10").replace(";0;5.00", ";3;5.00");
    assert_eq!(home.text("sheets.csv"), sheets);
}

#[test]
fn undoing_waits_for_what_came_after() {
    let home = planned();
    said(&home, "settle reports/summer --on 2031-05-09");
    home.done("plan spring.csv --quiet");
    said(&home, "settle reports/spring --on 2031-05-10");
    let sheets = home.text("sheets.csv");
    home.put("sheets.csv", sheets.replace(";3;5.00", ";2;5.00"));
    same(
        &refusal(&home, "settle reports/summer --undo"),
        r"
error[settle-undo]: the shelf has changed since summer was settled as entry 2
 |
 = help: spring was settled (entry 4): undo the last one first, or go back to before summer with `cardwright shelf rebuild . --to 1`
 = help: the files were edited after the last entry
 = help: - moss-12;moss;12;12;3;5.00;5
 = help: + moss-12;moss;12;12;2;5.00;5
 = help: `cardwright shelf rebuild .` undoes the edit
",
    );
    said(&home, "shelf rebuild");
    said(&home, "settle reports/spring --undo");
    said(&home, "settle reports/summer --undo");
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
}

#[test]
fn a_report_that_cannot_be_settled() {
    let home = planned();
    fs::remove_file(home.path("reports/spring/origin.json")).unwrap();
    let answer = home.run("settle reports/spring");
    assert_eq!(answer.code, Some(2));
    assert!(
        answer.err.starts_with("error[file-missing]: there is no reports/spring/origin.json\n")
    );
    home.put("reports/spring/origin.json", "{}");
    same(
        &refusal(&home, "settle reports/spring"),
        r"
error[settle-origin]: reports/spring/origin.json does not say what was planned
 |
 = help: missing field `schema` at line 1 column 2
 = help: plan the order again: reports of an earlier version cannot be settled
",
    );
    let answer = home.run("settle spring.csv");
    assert_eq!(answer.code, Some(2));
    assert!(
        answer.err.starts_with("error[file-missing]: spring.csv is a file, not a report folder\n")
    );
    let answer = home.run("settle reports/winter");
    assert_eq!(answer.code, Some(2));
    assert!(answer.err.starts_with("error[file-missing]: there is no reports/winter/plan.json\n"));
}

/// A note may come from anybody: it leads nowhere but into this folder.
#[test]
fn a_note_that_leads_out() {
    let home = planned();
    let note = home.text("reports/spring/origin.json");
    home.put("reports/spring/origin.json", note.replace("\"sheets.csv\"", "\"../sheets.csv\""));
    same(
        &refusal(&home, "settle reports/spring"),
        r"
error[settle-path]: origin.json names a file outside this folder: ../sheets.csv
 |
 = help: name the file with --sheets
",
    );
    said(&home, "settle reports/spring --sheets sheets.csv");
}

#[test]
fn a_plan_that_was_changed() {
    let home = planned();
    let plan = home.text("reports/spring/plan.json");
    home.put("reports/spring/plan.json", plan.replacen("\"need\": 45", "\"need\": 99", 1));
    let err = refusal(&home, "settle reports/spring");
    assert!(err.starts_with("error[plan-fault]: reports/spring/plan.json: "), "{err}");
}

#[test]
fn files_with_mistakes() {
    let home = planned();
    home.put("offcuts.csv", OFFCUTS.replace("2 1/4", "wide"));
    let err = refusal(&home, "settle reports/spring");
    assert!(err.contains(" --> offcuts.csv:3:20\n"), "{err}");
    home.put("offcuts.csv", [OFFCUTS.as_bytes(), b"\xff"].concat());
    let answer = home.run("settle reports/spring");
    assert_eq!(answer.code, Some(1));
    assert!(answer.err.starts_with("error[table-encoding]: offcuts.csv is not written in UTF-8\n"));
}

#[test]
fn a_file_that_is_no_text_is_put_back_once_it_is_out_of_the_way() {
    let home = planned();
    said(&home, "settle reports/summer --on 2031-05-09");
    let drawer = home.text("offcuts.csv");
    home.put("offcuts.csv", b"\xff");
    let answer = home.run("shelf rebuild");
    assert_eq!((answer.code, answer.out.as_str()), (Some(2), ""));
    assert!(answer.err.contains("offcuts.csv is not written in UTF-8\n"), "{}", answer.err);
    assert!(answer.err.contains(" = help: save it in UTF-8, or move it away"), "{}", answer.err);
    fs::remove_file(home.path("offcuts.csv")).unwrap();
    said(&home, "shelf rebuild");
    assert_eq!(home.text("offcuts.csv"), drawer);
}

#[test]
fn a_file_that_has_vanished() {
    let home = planned();
    said(&home, "settle reports/summer --on 2031-05-09");
    home.done("plan spring.csv --quiet");
    let drawer = home.text("offcuts.csv");
    fs::remove_file(home.path("offcuts.csv")).unwrap();
    let answer = home.run("settle reports/spring");
    assert_eq!(answer.code, Some(1));
    same(
        &answer.err,
        r"
error[shelf-vanished]: the file of offcuts is gone
 |
 = help: `cardwright shelf rebuild .` writes it again from the journal
 = help: if you have no offcuts left, make a file with only the header
",
    );
    said(&home, "shelf rebuild");
    assert_eq!(home.text("offcuts.csv"), drawer);
    fs::remove_file(home.path("sheets.csv")).unwrap();
    let answer = home.run("settle reports/spring");
    assert_eq!(answer.code, Some(2));
    assert!(answer.err.starts_with("error[file-missing]: there is no sheets.csv\n"));
}

#[test]
fn a_journal_that_was_changed() {
    let home = planned();
    said(&home, "settle reports/summer --on 2031-05-09");
    let journal = home.text("shelf.jsonl");
    home.put("shelf.jsonl", journal.replacen("\"batch\":\"summer\"", "\"batch\":\"winter\"", 1));
    let err = refusal(&home, "settle reports/summer --undo");
    assert!(err.starts_with("error[shelf-journal]: "), "{err}");
    assert!(err.contains("shelf.jsonl:3:1\n"), "{err}");
    assert!(err.contains("the line before it was changed"), "{err}");
    // Moved away, the files are what counts.
    fs::remove_file(home.path("shelf.jsonl")).unwrap();
    let gone = "[shelf-cut]: shelf.jsonl is gone or empty, but 3 entries were written\n";
    let answer = home.done("plan summer.csv --quiet");
    assert!(answer.err.starts_with(&format!("warning{gone}")), "{}", answer.err);
    assert!(refusal(&home, "settle reports/summer").starts_with(&format!("error{gone}")));
    fs::remove_file(home.path(".shelf.lock")).unwrap();
    said(&home, "settle reports/summer");
    said(&home, "shelf history");
}

/// The power went, or somebody stopped the program: what the next command says.
#[test]
fn a_command_that_was_cut_off() {
    let home = planned();
    said(&home, "settle reports/summer --on 2031-05-09");
    let settled = stock(&home);
    let journal = home.text("shelf.jsonl");
    let lines: Vec<&str> = journal.split_inclusive('\n').collect();
    // What is noted of the journal's end is never ahead of it.
    let cut_off = |journal: String| {
        home.put("shelf.jsonl", journal);
        home.put(".shelf.lock", "");
    };
    // All but the last line: the files may not be written yet.
    cut_off(lines[..2].concat());
    home.put("sheets.csv", SHEETS);
    let answer = home.run("plan spring.csv --quiet");
    assert_eq!(answer.code, Some(0));
    same(
        &answer.err,
        r"
warning[shelf-restored]: settling summer (entry 2) was interrupted
 |
 = help: it is finished now, and the files are complete
",
    );
    assert_eq!(stock(&home), settled);
    // A line and a half: it never counted.
    cut_off(lines[0].to_owned() + &lines[1][..lines[1].len() / 2]);
    home.put("sheets.csv", SHEETS);
    home.put("offcuts.csv", OFFCUTS);
    let answer = home.run("shelf history");
    same(
        &answer.err,
        r"
warning[shelf-restored]: a change to the shelf was interrupted before it counted
 |
 = help: it was undone: the files are as they were before it
",
    );
    assert_eq!(home.text("shelf.jsonl"), lines[0]);
    // Cut off, and then edited.
    cut_off(lines[..2].concat());
    home.put("sheets.csv", SHEETS.replace("1.10", "1.20"));
    let err = refusal(&home, "settle reports/summer");
    same(
        &err,
        r"
error[shelf-unfinished]: settling summer (entry 2) was interrupted, and sheets.csv was edited since
 |
 = help: `cardwright shelf rebuild .` finishes it and keeps your edit in the journal
",
    );
    said(&home, "shelf rebuild");
    assert_eq!(stock(&home), settled);
}

#[test]
fn a_run_that_is_named_twice() {
    let home = planned();
    same(
        &refusal(&home, "settle reports/spring --partly R1=1,R1=2"),
        "
error[settle-part]: R1 is named twice
 |
 = help: add up its sheets and name it once
",
    );
}

/// A report counts its paths from the folder that it lies in.
#[test]
fn a_report_of_another_workshop() {
    let home = planned();
    home.put("other/sheets.csv", SHEETS);
    home.put("other/offcuts.csv", OFFCUTS);
    let mut command = home.command("settle ../reports/spring");
    let answer = Answer::of(command.current_dir(home.path("other")).output().unwrap());
    assert_eq!(answer.code, Some(1));
    let planned_in = home.path("").canonicalize().unwrap();
    same(
        &answer.err,
        &format!(
            r"
error[settle-path]: ../reports/spring was planned from another folder
 |
 = help: go to the folder it was planned in: `cd {}`, then `cardwright settle reports/spring`
",
            planned_in.display()
        ),
    );
    assert_eq!(home.text("other/sheets.csv"), SHEETS);
    // The drawer lies beside the sheets that are named.
    let out = said(&home, "settle reports/spring --sheets other/sheets.csv --on 2031-05-09");
    assert!(out.ends_with("Entry 2 of other/shelf.jsonl\n"), "{out}");
    assert_ne!(home.text("other/offcuts.csv"), OFFCUTS);
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
}

#[test]
fn a_bench_that_the_note_leads_out_to() {
    let home = planned();
    let note = home.text("reports/spring/origin.json");
    home.put("reports/spring/origin.json", note.replace("\"workshop.toml\"", "\"/etc/passwd\""));
    same(
        &refusal(&home, "settle reports/spring"),
        r"
error[settle-path]: origin.json names a file outside this folder: /etc/passwd
 |
 = help: name the file with --workshop
",
    );
}

#[test]
fn files_that_are_one_or_not_the_persons() {
    let home = planned();
    same(
        &refusal(&home, "settle reports/spring --offcuts sheets.csv"),
        r"
error[shelf-files]: sheets.csv and sheets.csv are the same file
 |
 = help: sheets, offcuts, envelopes and sundries are tables: keep each in its own file
",
    );
    for name in ["shelf.jsonl", ".shelf.lock", ".sheets.csv.new"] {
        let err = refusal(&home, &format!("settle reports/spring --offcuts {name}"));
        assert!(
            err.starts_with(&format!(
                "error[shelf-files]: {name} is one of cardwright's own files\n"
            )),
            "{err}"
        );
    }
}

/// An order that was settled in part and is planned again, although its report is gone.
#[test]
fn a_plan_in_place_of_a_half_settled_one() {
    let home = planned();
    said(&home, "settle reports/spring --partly R1=1 --on 2031-05-09");
    fs::remove_dir_all(home.path("reports/spring")).unwrap();
    let answer = home.run("plan spring.csv --quiet");
    assert_eq!(answer.code, Some(0));
    same(
        &answer.err,
        r"
warning[settle-open]: part of spring is already settled, as entry 2
 |
 = help: this plan makes all its cards, those already cut too
 = help: `--rest` plans only what is left
",
    );
    same(
        &refusal(&home, "settle reports/spring --undo"),
        r"
error[settle-undo]: spring is not settled
 |
 = help: an earlier plan of it was settled as entry 2; its report has been replaced
 = help: `cardwright shelf rebuild . --to 1` goes back to before that
 = help: `cardwright shelf history .` lists what was settled
",
    );
    said(&home, "shelf rebuild --to 1");
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
}

/// A pack so large that a file may not say how much of it is left.
#[test]
fn a_shelf_beyond_its_limits() {
    let home = Home::new();
    home.put("tags.csv", "line,card,count,paper\ntag,12 x 12,5,fern\n");
    let sheets = "sheet,paper,width,height,on hand,price,pack\nfern-12,fern,12,12,3,1,1000000\n";
    home.put("sheets.csv", sheets);
    home.done("plan tags.csv --quiet");
    let answer = home.run("settle reports/tags --partly R1=1");
    assert_eq!(answer.code, Some(1));
    assert!(answer.err.starts_with("error[stock-count]: on hand is too large\n"), "{}", answer.err);
    assert!(
        answer.err.contains("\nerror[settle-limits]: the files would exceed their limits\n"),
        "{}",
        answer.err
    );
    assert_eq!(home.text("sheets.csv"), sheets);
}

/// What a person writes never steers the terminal.
#[test]
fn control_characters_are_shown() {
    let home = planned();
    said(&home, "settle reports/spring --on 2031-05-09");
    home.put("sheets.csv", home.text("sheets.csv") + "# \u{1b}[31mred\n");
    let out = said(&home, "shelf history");
    assert!(out.ends_with("since:\n  + # \\u{1b}[31mred\n"), "{out}");
}

/// A drawer that has gone is missed by those who plan, too.
#[test]
fn a_drawer_that_is_gone_is_missed() {
    let home = planned();
    said(&home, "settle reports/spring --on 2031-05-09");
    fs::remove_file(home.path("offcuts.csv")).unwrap();
    let answer = home.run("plan summer.csv --quiet");
    assert_eq!(answer.code, Some(0));
    same(
        &answer.err,
        r"
warning[shelf-vanished]: offcuts.csv is gone
 |
 = help: `cardwright shelf rebuild .` writes it again from the journal
",
    );
}
