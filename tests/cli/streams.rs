//! What is said on which stream, and to whom.

use super::*;
use std::io::{BufRead, BufReader, Read};
use std::process::Stdio;

#[test]
fn json_is_the_plan_that_is_written() {
    let call = Call::of_the_wedding("plan orders/wedding.csv --json");
    let answer = call.run();
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""));
    assert_eq!(answer.out, call.home.text("reports/wedding/plan.json"));
    let plan: serde_json::Value = serde_json::from_str(&answer.out).unwrap();
    assert_eq!(plan["order"], "wedding");
}

#[test]
fn json_of_no_plan_is_nothing() {
    let call = Call::of_tags("plan spring.csv --json").file("spring.csv", "line\n");
    assert!(call.ends_with(1).starts_with("error[table-column-missing]: "));
}

#[test]
fn quiet_is_quiet_of_all_but_problems() {
    for quiet in ["-q", "--quiet"] {
        let call = Call::of_tags(&format!("plan spring.csv {quiet}"));
        let answer = call.run();
        assert_eq!((answer.code, answer.out.as_str(), answer.err.as_str()), (Some(0), "", ""));
        assert!(call.home.path("reports/spring/schedule.html").is_file());
    }
    let call = Call::of_tags("plan spring.csv --quiet").file("spring.csv", "line\n");
    assert!(call.ends_with(1).starts_with("error[table-column-missing]: "));
}

#[test]
fn colour_only_on_a_terminal() {
    for arguments in
        ["plan spring.csv", "plan --help", "--help", "check none.csv", "plan", "explain"]
    {
        for no_colour in [None, Some("1")] {
            let call = Call::of_tags(arguments);
            let mut command = call.command();
            command.envs(no_colour.map(|value| ("NO_COLOR", value)));
            let answer = Answer::of(command.output().unwrap());
            assert!(!(answer.out + &answer.err).contains('\u{1b}'), "{arguments}");
        }
    }
}

/// `plan … --json | head -1`.
#[test]
fn a_reader_who_goes_away_is_no_error() {
    for arguments in [
        "plan orders/wedding.csv --json",
        "plan orders/wedding.csv",
        "check orders/wedding.csv",
        "shelf orders",
        "shelf history orders",
        "sizes",
        "sizes --json",
        "explain",
        "completion zsh",
        "manual plan",
        "new cards",
        "--help",
    ] {
        let call = Call::of_the_wedding(arguments);
        let mut command = call.command();
        let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let mut first = String::new();
        BufReader::with_capacity(16, child.stdout.take().unwrap()).read_line(&mut first).unwrap();
        let mut err = String::new();
        child.stderr.take().unwrap().read_to_string(&mut err).unwrap();
        assert_eq!((child.wait().unwrap().code(), err.as_str()), (Some(0), ""), "{arguments}");
        assert!(!first.is_empty());
    }
}

#[test]
fn a_reader_who_never_came_is_no_error() {
    for (arguments, code) in [("plan orders/wedding.csv", 0), ("explain", 0), ("plan none.csv", 2)]
    {
        let call = Call::of_the_wedding(arguments);
        let mut command = call.command();
        let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        drop((child.stdout.take(), child.stderr.take()));
        assert_eq!(child.wait().unwrap().code(), Some(code), "{arguments}");
    }
}

/// A device that is always full.
#[cfg(target_os = "linux")]
#[test]
fn a_result_that_cannot_be_written_is_told() {
    let full = || fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let output = Call::new("explain").command().stdout(full()).output().unwrap();
    let err = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{err}");
    assert!(err.starts_with("error: cannot write the result: "), "{err}");
}
