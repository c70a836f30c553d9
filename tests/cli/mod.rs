//! The program as a person starts it: what it prints where, and how it ends.

// Only so are its helpers known as tests.
#![cfg(test)]

mod as_many;
mod check;
mod claim;
mod folder;
mod hostile;
mod interrupt;
mod large;
mod limits;
mod meanings;
mod mixed;
mod narrow;
mod new;
mod scripts;
mod shells;
mod sizes;
mod streams;
mod suggested;
mod watch;

use crate::program::{Answer, Home, commands, listing};
use std::fs;
use std::process::Command;

/// One call of the program in a folder of its own.
struct Call {
    home: Home,
    arguments: String,
}

impl Call {
    fn new(arguments: &str) -> Call {
        Call { home: Home::new(), arguments: arguments.to_owned() }
    }

    /// The call beside the files of the project's workshop.
    fn of_the_wedding(arguments: &str) -> Call {
        Call { home: Home::with(&["orders"]), arguments: arguments.to_owned() }
    }

    /// The call beside a small order and its sheets.
    fn of_tags(arguments: &str) -> Call {
        Call::new(arguments)
            .file("spring.csv", "line,card,count,paper\ntag,2 x 3,12,fern\n")
            .file("sheets.csv", "sheet,paper,width,height,price\nfern-12,fern,12,12,1.10\n")
    }

    fn file(self, name: &str, bytes: impl AsRef<[u8]>) -> Call {
        self.home.put(name, bytes);
        self
    }

    fn command(&self) -> Command {
        self.home.command(&self.arguments)
    }

    fn run(&self) -> Answer {
        self.home.run(&self.arguments)
    }

    fn names(&self) -> Vec<String> {
        listing(&self.home.path(""))
    }

    /// What is said where nothing is done: nothing on stdout, nothing written.
    #[track_caller]
    fn ends_with(&self, code: i32) -> String {
        let before = self.names();
        let answer = self.run();
        assert_eq!((answer.code, answer.out.as_str()), (Some(code), ""), "{}", answer.err);
        assert_eq!(self.names(), before);
        answer.err
    }

    /// The answer to wrong use or file access.
    #[track_caller]
    fn refused(&self) -> String {
        self.ends_with(2)
    }
}

#[test]
fn help_has_an_example() {
    let answer = Call::new("plan --help").run();
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""));
    assert!(answer.out.contains("cardwright plan orders/wedding.csv"));
    for option in [
        "--sheets",
        "--offcuts",
        "--workshop",
        "--out",
        "--limit",
        "--effort",
        "--threads",
        "--json",
    ] {
        assert!(answer.out.contains(option), "{option}");
    }
}

/// The name alone shows what to do first, and it works.
#[test]
fn the_name_alone_says_what_to_do_first() {
    let call = Call::new("");
    let page = call.refused();
    let lines: Vec<&str> = page.lines().collect();
    assert_eq!(
        lines[..8],
        [
            "Plans batches of handmade cards: what to cut, from which sheets, in what order.",
            "",
            "To start:",
            "",
            "  cardwright new cards             makes a small workshop in the folder cards",
            "  cardwright plan cards/cards.csv  plans its order",
            "  reports/cards/schedule.html      is the schedule: open it, and cut by it",
            "",
        ]
    );
    for command in commands() {
        assert!(page.contains(&format!("\n  {command} ")), "{command}: {page}");
    }
    call.home.done("new cards");
    call.home.done("plan cards/cards.csv");
    assert!(call.home.path("reports/cards/schedule.html").is_file());
}

#[test]
fn an_order_that_is_not_there() {
    assert_eq!(
        Call::new("plan spring.csv").file("sheets.csv", "").refused(),
        "error[file-missing]: there is no spring.csv\n |\n\
         \x20= help: check the spelling, and which folder you are in\n"
    );
}

#[test]
fn sheets_that_are_not_there() {
    assert_eq!(
        Call::new("plan orders/spring.csv").file("orders/spring.csv", "").refused(),
        "error[file-missing]: there is no orders/sheets.csv\n |\n\
         \x20= help: sheets.csv lists the paper you have or can buy: put one there\n\
         \x20= help: or name it with --sheets\n"
    );
}

#[test]
fn a_folder_for_an_order() {
    assert_eq!(
        Call::new("plan orders")
            .file("orders/spring.csv", "")
            .file("orders/sheets.csv", "")
            .refused(),
        "error[file-folder]: orders is a folder, not a file\n |\n\
         \x20= help: did you mean orders/spring.csv?\n"
    );
    let two = Call::new("plan orders").file("orders/spring.csv", "").file("orders/may.csv", "");
    assert!(two.refused().ends_with("\x20= help: name a file in it\n"));
    let report = Call::new("check reports/may").file("reports/may/plan.json", "");
    assert!(report.refused().ends_with("\x20= help: did you mean reports/may/plan.json?\n"));
}

/// A shelf is asked for without any order.
#[test]
fn a_shelf_without_sheets() {
    let err = Call::new("shelf").refused();
    assert!(err.starts_with("error[file-missing]: there is no "), "{err}");
    assert!(err.contains("sheets.csv\n |\n\x20= help: sheets.csv lists the paper"), "{err}");
}

#[cfg(unix)]
#[test]
fn a_file_for_a_folder() {
    let err =
        Call::new("plan spring.csv/may.csv --sheets spring.csv").file("spring.csv", "").refused();
    assert!(err.starts_with("error[file-unreadable]: cannot read spring.csv/may.csv: "), "{err}");
}

#[test]
fn a_file_that_is_far_too_large() {
    let call = Call::new("plan spring.csv").file("spring.csv", "").file("sheets.csv", "");
    let file = fs::OpenOptions::new().write(true).open(call.home.path("spring.csv")).unwrap();
    file.set_len(64 * 1024 * 1024 + 1).unwrap();
    assert!(call.refused().starts_with("error[file-size]: spring.csv is larger than 64 MiB\n"));
}

#[test]
fn wrong_use_names_the_right_one() {
    let err = Call::new("plan spring.csv --effort huge").refused();
    assert!(err.contains("quick, normal, long"), "{err}");
}

#[test]
fn a_code_is_explained() {
    let answer = Call::new("explain file-folder").run();
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""));
    assert!(answer.out.starts_with("file-folder: a folder is named where a file is expected\n\n"));
}

#[test]
fn a_code_that_is_none_is_refused_with_the_nearest() {
    assert_eq!(
        Call::new("explain file-floder").refused(),
        "error: there is no code \"file-floder\"\n = help: did you mean file-folder?\n"
    );
}

#[test]
fn every_code_that_is_listed_is_explained() {
    let answer = Call::new("explain").run();
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""));
    for line in answer.out.lines() {
        let (code, meaning) = line.split_once("  ").unwrap();
        let explained = Home::new().done(&format!("explain {code}")).out;
        assert!(explained.starts_with(&format!("{code}: {}\n\n", meaning.trim_start())), "{line}");
    }
}
