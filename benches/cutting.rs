//! What the order of cuts takes, on the shipped orders and on 40 made by rule:
//!
//! ```text
//! cargo bench --bench cutting
//! ```
//!
//! A row is a line of `reports/benchmarks/cutting.md`.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    missing_docs,
    reason = "a bench prints, and fails by a panic"
)]

#[path = "records/generated.rs"]
#[allow(dead_code, reason = "the records use more of it")]
mod generated;
#[path = "../tests/bench/instances.rs"]
#[allow(dead_code, reason = "the tests use more of it")]
mod instances;
#[path = "records/random.rs"]
mod random;

use cardwright::batch::{self, Inputs, Options};
use cardwright::schedule::Schedule;
use cardwright::workshop::{Rates, TrimmerWork};
use instances::shipped;
use std::time::Instant;

/// Orders of each kind.
const SEEDS: u64 = 10;

/// The orders that come with the project.
const SHIPPED: [&str; 10] = [
    "orders/wedding.csv",
    "examples/afternoon/tea.csv",
    "examples/by-hand/market.csv",
    "examples/keepsake/keepsake.csv",
    "examples/markets/autumn.csv",
    "examples/markets/spring.csv",
    "examples/markets/summer.csv",
    "examples/metric/seating.csv",
    "examples/on-the-shelf/harbour.csv",
    "examples/smallest/swap.csv",
];

/// Makes the order of a seed.
type Generator = fn(u64) -> Inputs;

fn main() {
    println!(
        "| order | settings | distances | cuts | stacks waiting | stacks moved | minutes | seconds to plan |"
    );
    println!("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
    for order in SHIPPED {
        row(order, &shipped(order));
    }
    let kinds: [(&str, Generator); 4] = [
        ("scarce", generated::scarce),
        ("packs", generated::packs),
        ("odd-pieces", generated::odd_pieces),
        ("drawers", |seed| generated::drawers(seed, 1)),
    ];
    for (kind, order) in kinds {
        for seed in 1..=SEEDS {
            row(&format!("{kind}/{seed}"), &order(seed));
        }
    }
}

fn row(name: &str, inputs: &Inputs) {
    let begun = Instant::now();
    let schedule = batch::plan(inputs, &Options::default()).made.unwrap().schedule;
    let seconds = begun.elapsed().as_secs_f64();
    let Schedule { gauge_settings: settings, gauges, strokes, effort, .. } = &schedule;
    let moves: u64 = schedule.in_order().iter().map(|(_, step)| step.moves).sum();
    // At one bench's times for all of them: the usual ones.
    let work = TrimmerWork { settings: *settings, strokes: *strokes, moves };
    let minutes = Rates::default().cutting(work) / 60;
    let waiting = effort.waiting;
    println!(
        "| {name} | {settings} | {gauges} | {strokes} | {waiting} | {moves} | {minutes} | {seconds:.2} |"
    );
}
