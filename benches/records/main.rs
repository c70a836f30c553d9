//! How good the plans are and how long they take, on open instances and on generated orders:
//!
//! ```text
//! CARDWRIGHT_BENCHMARKS=<folder> cargo bench --features highs --bench records -- [SET ...] [--limit SECONDS]
//! ```
//!
//! Without the feature, nothing is compared with the second engine. Every case runs in a process of its
//! own, which is ended when each of its plans has run for three times the limit and half a minute more. The results of a set replace those of the run before in
//! `reports/benchmarks/records.csv`, from which `reports/benchmarks/records.md` is written.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    clippy::disallowed_methods,
    missing_docs,
    reason = "a bench prints, writes its table itself and fails by a panic"
)]

mod case;
mod compare;
mod generated;
mod greedy;
#[path = "../../tests/bench/instances.rs"]
#[allow(dead_code, reason = "the tests use more of it")]
mod instances;
mod outcome;
mod random;
mod sets;
mod table;

use case::Case;
use outcome::Outcome;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// What was asked for on the command line.
struct Arguments {
    sets: Vec<String>,
    limit: Option<u64>,
    one: Option<String>,
}

fn main() {
    let arguments = arguments();
    let cases: Vec<Case> =
        sets::all().into_iter().filter(|case| wanted(case, &arguments)).collect();
    if let Some(name) = &arguments.one {
        let case = cases.iter().find(|case| &case.name() == name).expect("a case of that name");
        println!("{}", case.run(limit(case, &arguments)).row(case));
        return;
    }
    if cases.is_empty() {
        println!("skipped: no benchmark folder, or no such set");
        return;
    }
    let rows: Vec<String> = cases.iter().map(|case| apart(case, &arguments)).collect();
    table::write(&rows);
}

fn arguments() -> Arguments {
    let mut found = Arguments { sets: Vec::new(), limit: None, one: None };
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        match word.as_str() {
            // cargo's own word.
            "--bench" => {}
            "--limit" => found.limit = words.next().map(|word| word.parse().expect("seconds")),
            "--one" => found.one = words.next(),
            _ => found.sets.push(word),
        }
    }
    found
}

fn wanted(case: &Case, arguments: &Arguments) -> bool {
    arguments.sets.is_empty() || arguments.sets.iter().any(|set| case.name().starts_with(set))
}

fn limit(case: &Case, arguments: &Arguments) -> Duration {
    Duration::from_secs(arguments.limit.unwrap_or(case.limit))
}

/// Runs a case in a process of its own and returns its row of the table.
fn apart(case: &Case, arguments: &Arguments) -> String {
    let limit = limit(case, arguments);
    let most = (limit * 3 + Duration::from_secs(30)) * Case::PLANS;
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--one", &case.name(), "--limit", &limit.as_secs().to_string()])
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let started = Instant::now();
    while child.try_wait().unwrap().is_none() && started.elapsed() < most {
        std::thread::sleep(Duration::from_millis(5));
    }
    let ended = child.try_wait().unwrap().is_some();
    if !ended {
        child.kill().unwrap();
    }
    let output = child.wait_with_output().unwrap();
    let row = match String::from_utf8(output.stdout).unwrap().lines().last() {
        Some(row) if ended && output.status.success() => row.to_owned(),
        _ if ended => Outcome::failed("ended by a panic", started.elapsed()).row(case),
        _ => Outcome::failed("ended after this time", started.elapsed()).row(case),
    };
    println!("{row}");
    row
}
