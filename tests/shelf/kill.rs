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

/// A change, and what takes it back.
#[derive(Clone, Copy)]
struct Turn {
    there: &'static str,
    back: &'static str,
}

/// All of a batch, a part of it with stacks that wait and sheets of one spoiled, and a stock-take.
const TURNS: [Turn; 3] = [
    Turn { there: "settle reports/spring", back: "settle reports/spring --undo" },
    Turn {
        there: "settle reports/spring --done 7 --spoiled H=2",
        back: "settle reports/spring --undo",
    },
    Turn { there: "shelf take counted.csv", back: "shelf rebuild --to 1" },
];

#[test]
fn a_program_that_is_killed_leaves_the_old_or_the_new() {
    for turn in TURNS {
        kill(turn, FEW);
    }
}

#[test]
#[ignore = "takes minutes: the same as above with twenty times the rounds"]
fn a_program_that_is_killed_often_leaves_the_old_or_the_new() {
    for turn in TURNS {
        let (old, new) = kill(turn, MANY);
        assert!(old > 0 && new > 0, "the moments do not lie in the time that it takes");
    }
}

/// Changes and takes back, and kills the program at another moment each time; how many rounds ended as before, and how
/// many as after.
fn kill(turn: Turn, rounds: u32) -> (u32, u32) {
    let home = planned();
    home.put("counted.csv", COUNTED);
    let before = stock(&home);
    let there = &format!("{} --on 2031-05-09", turn.there);
    let back = &format!("{} --on 2031-05-09", turn.back);
    home.done(there);
    let after = stock(&home);
    home.done(back);
    let longest = longest_of(&home, there, back);
    let (mut old, mut new, mut finished, mut undone) = (0, 0, 0, 0);
    for round in 0..rounds {
        let is_settled = stock(&home) == after;
        let arguments = match is_settled {
            true => back,
            false => there,
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

/// How long a change takes, with something on top.
fn longest_of(home: &Home, there: &str, back: &str) -> Duration {
    let start = Instant::now();
    for _ in 0..5 {
        home.done(there);
        home.done(back);
    }
    start.elapsed() / 9
}
