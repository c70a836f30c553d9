//! How long planning takes, as a person waits for it. What is asserted in seconds is only tried when asked for:
//! `cargo test --release --test all limits -- --ignored --nocapture`, on a machine with nothing else to do.
#![cfg(unix)]

use super::*;
use crate::bench::hostile::{Hostile, PLAIN};
use std::time::{Duration, Instant};

const COARSE: Hostile = Hostile { coarse: true, offcuts: 0, ..PLAIN };
const ORDERS: [Hostile; 12] = [
    Hostile { name: "25 coarse", ..COARSE },
    Hostile { name: "60 coarse", lines: 60, ..COARSE },
    Hostile { name: "600 coarse", lines: 600, ..COARSE },
    Hostile { name: "25 fine", ..PLAIN },
    Hostile { name: "60 fine", lines: 60, ..PLAIN },
    Hostile { name: "600 fine", lines: 600, ..PLAIN },
    Hostile { name: "60 joined", lines: 60, papers: 4, joined: true, ..PLAIN },
    Hostile { name: "60 narrow", lines: 60, narrow: true, ..PLAIN },
    Hostile { name: "60 stages", lines: 60, trimmer: "stages = 3\n", ..PLAIN },
    Hostile {
        name: "60 hold",
        lines: 60,
        narrow: true,
        trimmer: "smallest_hold = \"30 mm\"\n",
        ..PLAIN
    },
    Hostile { name: "60 blade", lines: 60, trimmer: "blade = \"1.337 mm\"\n", ..PLAIN },
    Hostile { name: "60 layers", lines: 60, papers: 3, layers: true, ..PLAIN },
];

/// A call for an order, with its files.
fn call(order: &Hostile, options: &str) -> Call {
    let call = Call::new(&format!("plan hostile.csv --quiet {options}"));
    order.files().into_iter().fold(call, |call, (name, bytes)| call.file(&name, bytes))
}

/// How long a call takes that has to end well.
fn taken(order: &Hostile, options: &str) -> Duration {
    let call = call(order, options);
    let begun = Instant::now();
    let answer = call.run();
    assert_eq!(answer.code, Some(0), "{}: {}", order.name, answer.err);
    begun.elapsed()
}

fn told(order: &Hostile, options: &str, most: f64) -> Option<String> {
    let taken = taken(order, options).as_secs_f64();
    let line = format!("{:<12} {options:<16} {taken:6.2} s of {most:.2} s", order.name);
    eprintln!("{line}");
    (taken > most).then_some(line)
}

#[test]
#[ignore = "asserts seconds"]
fn quick_plans_take_seconds() {
    let most = |order: &Hostile| if order.lines > 60 { 10.0 } else { 2.0 };
    let late: Vec<String> =
        ORDERS.iter().filter_map(|order| told(order, "--effort quick", most(order))).collect();
    assert!(late.is_empty(), "{late:#?}");
}

#[test]
#[ignore = "asserts seconds"]
fn limits_are_kept() {
    let mut late = Vec::new();
    for limit in [0.1, 1.0, 5.0] {
        let options = format!("--limit {limit}");
        late.extend(ORDERS.iter().filter_map(|order| told(order, &options, 1.5 * limit + 0.5)));
    }
    assert!(late.is_empty(), "{late:#?}");
}
