//! The program killed in the middle, again and again.
//!
//! A few rounds run with all tests; `cargo test -- --ignored --nocapture killed` runs [`MANY`] and tells what it met.
#![cfg(unix)]

use super::*;
use std::process::Stdio;
use std::thread::sleep;
use std::time::{Duration, Instant};

const FEW: u32 = 101;
const MANY: u32 = 2000;

/// All of a batch, and a part of it, with stacks that wait and sheets of one spoiled.
const SETTLED: [&str; 2] =
    ["settle reports/spring", "settle reports/spring --done 7 --spoiled H=2"];

#[test]
fn a_program_that_is_killed_leaves_the_old_or_the_new() {
    for settle in SETTLED {
        kill(settle, FEW);
    }
}

#[test]
#[ignore = "takes minutes: the same as above with twenty times the rounds"]
fn a_program_that_is_killed_often_leaves_the_old_or_the_new() {
    for settle in SETTLED {
        let (old, new) = kill(settle, MANY);
        assert!(old > 0 && new > 0, "the moments do not lie in the time that it takes");
    }
}

/// Settles and takes back, and kills the program at another moment each time; how many rounds ended as before, and how
/// many as after.
fn kill(settle: &str, rounds: u32) -> (u32, u32) {
    let home = planned();
    let before = stock(&home);
    let settle = &format!("{settle} --on 2031-05-09");
    said(&home, settle);
    let after = stock(&home);
    said(&home, "settle reports/spring --undo --on 2031-05-09");
    let longest = longest_of(&home, settle);
    let (mut old, mut new, mut finished, mut undone) = (0, 0, 0, 0);
    for round in 0..rounds {
        let is_settled = stock(&home) == after;
        let arguments = match is_settled {
            true => "settle reports/spring --undo --on 2031-05-09",
            false => settle,
        };
        let mut command = home.command(arguments);
        let mut child = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
        // Moments all over the time that it takes.
        sleep(longest * (round * 37 % 101) / 100);
        child.kill().unwrap();
        child.wait().unwrap();
        let answer = home.done("shelf history");
        finished += u32::from(answer.err.contains("it is finished now"));
        undone += u32::from(answer.err.contains("it was undone"));
        let proven = ", and your files match the last\n";
        assert!(
            answer.out.ends_with(proven) || answer.out.starts_with("nothing"),
            "{}",
            answer.out
        );
        let now = stock(&home);
        assert!(now == before || now == after, "round {round}: {now:?}");
        match (now == after) == is_settled {
            true => old += 1,
            false => new += 1,
        }
    }
    println!(
        "{rounds} rounds: {old} ended as before, {new} as after; of these {finished} finished and \
         {undone} taken back by the next command"
    );
    (old, new)
}

/// How long settling takes, with something on top.
fn longest_of(home: &Home, settle: &str) -> Duration {
    let start = Instant::now();
    for _ in 0..5 {
        said(home, settle);
        said(home, "settle reports/spring --undo --on 2031-05-09");
    }
    start.elapsed() / 9
}
