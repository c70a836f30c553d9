//! The program as a person starts it: what it prints where, and how it ends.

// Only so are its helpers known as tests.
#![cfg(test)]

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use tempfile::TempDir;

/// One call of the program in a folder of its own.
struct Call {
    folder: TempDir,
    arguments: Vec<String>,
}

struct Answer {
    code: Option<i32>,
    out: String,
    err: String,
}

impl Call {
    fn new(arguments: &str) -> Call {
        let arguments = arguments.split_whitespace().map(str::to_owned).collect();
        Call { folder: tempfile::tempdir().unwrap(), arguments }
    }

    fn file(self, name: &str, text: &str) -> Call {
        let path = self.folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::File::create(&path).unwrap().write_all(text.as_bytes()).unwrap();
        self
    }

    fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_cardwright"));
        command.args(&self.arguments).current_dir(self.folder.path()).env_remove("NO_COLOR");
        command
    }

    fn run(&self) -> Answer {
        let output = self.command().output().unwrap();
        Answer {
            code: output.status.code(),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }

    /// The answer to wrong use or file access: code 2, nothing on stdout, nothing written.
    fn refused(&self) -> String {
        let before = listing(self.folder.path());
        let answer = self.run();
        assert_eq!((answer.code, answer.out.as_str()), (Some(2), ""), "{}", answer.err);
        assert_eq!(listing(self.folder.path()), before);
        answer.err
    }
}

fn listing(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
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

#[test]
fn an_order_that_is_not_there() {
    assert_eq!(
        Call::new("plan spring.csv").file("sheets.csv", "").refused(),
        "error[file-missing]: there is no spring.csv\n |\n\
         \x20= help: check the spelling, and in which folder you are\n"
    );
}

#[test]
fn sheets_that_are_not_there() {
    assert_eq!(
        Call::new("plan orders/spring.csv").file("orders/spring.csv", "").refused(),
        "error[file-missing]: there is no orders/sheets.csv\n |\n\
         \x20= help: sheets.csv lists the paper you have or can buy: write one beside the order\n\
         \x20= help: or say with --sheets where it is\n"
    );
}

#[test]
fn a_folder_for_an_order() {
    assert_eq!(
        Call::new("plan orders").file("orders/spring.csv", "").file("sheets.csv", "").refused(),
        "error[file-folder]: orders is a folder, not a file\n |\n\
         \x20= help: name the file in it\n"
    );
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
    let file =
        fs::OpenOptions::new().write(true).open(call.folder.path().join("spring.csv")).unwrap();
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
fn colour_only_on_a_terminal() {
    let plain = |call: Call| !call.refused().contains('\u{1b}');
    assert!(plain(Call::new("plan spring.csv")));
    let answer = Call::new("plan --help").run();
    assert!(!answer.out.contains('\u{1b}'));
}

#[test]
fn a_reader_who_goes_away_is_no_error() {
    let mut child = Call::new("explain").command().stdout(Stdio::piped()).spawn().unwrap();
    drop(child.stdout.take());
    assert_eq!(child.wait().unwrap().code(), Some(0));
}
