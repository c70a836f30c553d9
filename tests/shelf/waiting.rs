//! Commands that wait for each other.
#![cfg(unix)]

use super::*;
use crate::program::signal;
use std::fs::File;
use std::io::{BufRead, BufReader, Read};
use std::process::{Child, Stdio};
use std::time::{Duration, Instant};

/// The lock of a shelf, held as by another command.
fn held(home: &Home) -> File {
    let path = home.path(".shelf.lock");
    let lock = File::options().write(true).create(true).truncate(false).open(path).unwrap();
    lock.lock().unwrap();
    lock
}

/// A command that has said that it waits, and how it said so.
fn waiting(home: &Home, arguments: &str) -> (Child, BufReader<std::process::ChildStderr>, String) {
    let mut command = home.command(arguments);
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let mut told = BufReader::new(child.stderr.take().unwrap());
    let mut line = String::new();
    told.read_line(&mut line).unwrap();
    (child, told, line)
}

fn expected(home: &Home) -> String {
    let lock = std::fs::canonicalize(home.path(".shelf.lock")).unwrap();
    format!(
        "waiting for {}: another command is using this shelf; Ctrl-C stops waiting\n",
        lock.display()
    )
}

const ALL: [&str; 6] = [
    "settle reports/spring",
    "plan summer.csv",
    "shelf",
    "shelf history",
    "shelf rebuild",
    "shelf drop spring",
];

#[test]
fn who_waits_says_so_and_goes_on() {
    let home = planned();
    let lock = held(&home);
    let start = Instant::now();
    let (child, mut told, line) = waiting(&home, "settle reports/spring");
    assert!(start.elapsed() > Duration::from_millis(400), "{:?}", start.elapsed());
    assert_eq!(line, expected(&home));
    drop(lock);
    let mut rest = String::new();
    told.read_to_string(&mut rest).unwrap();
    let answer = Answer::of(child.wait_with_output().unwrap());
    assert_eq!((answer.code, rest.as_str()), (Some(0), ""));
    assert!(answer.out.contains("spring: settled: "), "{}", answer.out);
}

#[test]
fn ctrl_c_ends_the_wait_at_once() {
    let home = planned();
    let _lock = held(&home);
    let before = crate::program::files(&home.path("reports/summer"));
    for arguments in ALL {
        let (child, mut told, line) = waiting(&home, arguments);
        assert_eq!(line, expected(&home), "{arguments}");
        let start = Instant::now();
        signal(&child, "INT");
        let mut rest = String::new();
        told.read_to_string(&mut rest).unwrap();
        let answer = Answer::of(child.wait_with_output().unwrap());
        assert!(start.elapsed() < Duration::from_secs(5), "{arguments}: {:?}", start.elapsed());
        assert_eq!((answer.code, answer.out.as_str()), (Some(130), ""), "{arguments}: {rest}");
        assert!(rest.ends_with("stopped by Ctrl-C: nothing was changed\n"), "{rest}");
        assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
        assert!(!home.path("shelf.jsonl").exists());
    }
    assert_eq!(crate::program::files(&home.path("reports/summer")), before);
}

/// A short wait is nothing to talk of.
#[test]
fn a_short_wait_is_silent() {
    let home = planned();
    let lock = held(&home);
    let mut command = home.command("settle reports/spring");
    let child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    std::thread::sleep(Duration::from_millis(100));
    drop(lock);
    let answer = Answer::of(child.wait_with_output().unwrap());
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""));
}
