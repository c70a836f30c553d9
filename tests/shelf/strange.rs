//! What lies at the program's own names and is not as it left it.
#![cfg(unix)]

use super::*;
use std::fs;
use std::os::unix::fs::symlink;

/// One that is settled, with its journal.
fn settled() -> (Home, String) {
    let home = planned();
    said(&home, "settle reports/summer --on 2031-05-09");
    let journal = home.text("shelf.jsonl");
    (home, journal)
}

/// Only what a writer was cut off in is taken off.
#[test]
fn a_journal_that_somebody_else_wrote_in_stays() {
    let (home, journal) = settled();
    let half = &journal[..journal.len() - 9];
    for other in [
        journal.replace('\n', "\r"),
        journal.replace('\n', ""),
        "dear diary".to_owned(),
        format!("{journal}dear diary"),
        format!("{half}\r"),
    ] {
        home.put("shelf.jsonl", &other);
        for arguments in ["settle reports/spring", "settle reports/summer --undo", "shelf rebuild"]
        {
            let err = refusal(&home, arguments);
            assert!(
                err.starts_with("error[shelf-journal]: shelf.jsonl was changed or damaged"),
                "{err}"
            );
            assert_eq!(home.text("shelf.jsonl"), other, "{arguments}");
        }
        assert_eq!(home.run("shelf history").code, Some(1), "{other}");
    }
    // The very last line, half of it there, and what some systems write where nothing was written any more.
    for rest in ["", "\0\0\0"] {
        home.put("shelf.jsonl", format!("{half}{rest}"));
        let _ = fs::remove_file(home.path(".shelf.lock"));
        assert!(home.done("shelf history").err.contains("shelf-restored"), "{rest:?}");
        assert_eq!(home.text("shelf.jsonl").lines().count(), 3);
    }
}

#[test]
fn a_journal_that_is_gone_is_missed_until_its_note_is_gone_too() {
    let (home, _) = settled();
    fs::remove_file(home.path("shelf.jsonl")).unwrap();
    let err = refusal(&home, "settle reports/summer");
    let gone = "error[shelf-cut]: shelf.jsonl is gone or empty, but 3 entries were written\n";
    assert!(err.starts_with(gone), "{err}");
    assert!(err.contains("or remove .shelf.lock: a new one starts"), "{err}");
    assert!(!home.path("shelf.jsonl").exists());
    fs::remove_file(home.path(".shelf.lock")).unwrap();
    home.done("plan summer.csv --quiet");
    said(&home, "settle reports/summer");
}

#[test]
fn a_lock_that_leads_elsewhere_is_not_written_in() {
    let home = planned();
    home.put("diary", "dear diary");
    for make in [symlink as fn(_, _) -> _, fs::hard_link] {
        let _ = fs::remove_file(home.path(".shelf.lock"));
        make(home.path("diary"), home.path(".shelf.lock")).unwrap();
        home.run("settle reports/spring");
        assert_eq!(home.text("diary"), "dear diary");
    }
}

/// The files may come to be those of after a batch by another way than that of the journal.
#[test]
fn what_counts_as_settled_is_what_was_when_it_was_rebuilt_to() {
    let (home, _) = settled();
    let (sheets, offcuts) = stock(&home);
    said(&home, "shelf rebuild --to 1");
    home.put("sheets.csv", sheets);
    home.put("offcuts.csv", offcuts);
    home.done("shelf rebuild --to 3");
    let err = refusal(&home, "settle reports/summer");
    assert!(err.starts_with("error[settle-twice]: "), "{err}");
}

/// Its new offcuts are promised to another batch.
#[test]
fn paper_set_aside_outlasts_an_undo() {
    let home = planned();
    said(&home, "settle reports/spring");
    let made = home.text("offcuts.csv");
    let kept: Vec<&str> = made.lines().filter(|line| line.contains("spring")).collect();
    assert!(!kept.is_empty(), "{made}");
    home.put("late.csv", "line,card,count,paper\nslip,1 x 1,1,fern\nstrip,1 x 2,1,moss\n");
    home.done("plan late.csv --quiet --reserve");
    let reserved = home.text("shelf.jsonl");
    let of_spring = reserved.lines().last().unwrap().contains("spring");
    assert!(of_spring, "expected an offcut of spring to be set aside: {reserved}");
    let err = refusal(&home, "settle reports/spring --undo");
    assert!(
        err.starts_with("error[settle-undo]: ") && err.contains("set aside for another batch: "),
        "{err}"
    );
    said(&home, "shelf drop late");
    said(&home, "settle reports/spring --undo");
}
