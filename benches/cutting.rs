//! What the order of cuts takes, on the shipped orders and on 40 made by rule:
//!
//! ```text
//! cargo bench --bench cutting
//! ```
//!
//! Everything is counted from the steps alone, as the maker would at the bench. A row is a line of
//! `reports/benchmarks/cutting.md`.

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
use cardwright::schedule::{CutStep, Fate, Schedule};
use instances::shipped;
use std::collections::BTreeSet;
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

fn main() {
    println!(
        "| order | settings | distances | cuts | stacks waiting | stacks moved | minutes | seconds to plan |"
    );
    println!("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
    for order in SHIPPED {
        row(order, &shipped(order));
    }
    for seed in 1..=SEEDS {
        row(&format!("scarce/{seed}"), &generated::scarce(seed));
    }
    for seed in 1..=SEEDS {
        row(&format!("packs/{seed}"), &generated::packs(seed));
    }
    for seed in 1..=SEEDS {
        row(&format!("odd-pieces/{seed}"), &generated::odd_pieces(seed));
    }
    for seed in 1..=SEEDS {
        row(&format!("drawers/{seed}"), &generated::drawers(seed, 1));
    }
}

fn row(name: &str, inputs: &Inputs) {
    let begun = Instant::now();
    let made = batch::plan(inputs, &Options::default()).made.unwrap();
    let seconds = begun.elapsed().as_secs_f64();
    let BenchCount { settings, distances, strokes, waiting, moves } = count(&made.schedule);
    // As the bench's own times are by default.
    let minutes = (20 * settings + 6 * strokes + 10 * moves) / 60;
    println!(
        "| {name} | {settings} | {distances} | {strokes} | {waiting} | {moves} | {minutes} | {seconds:.2} |"
    );
}

/// What the steps take.
struct BenchCount {
    settings: u64,
    distances: u64,
    strokes: u64,
    /// The most stacks that wait at once.
    waiting: u64,
    /// Stacks fetched, turned or put aside.
    moves: u64,
}

fn count(schedule: &Schedule) -> BenchCount {
    let steps: Vec<&CutStep> = schedule.in_order().into_iter().map(|(_, step)| step).collect();
    let mut lying: BTreeSet<&str> = BTreeSet::new();
    let (mut waiting, mut moves) = (0, 0);
    for (at, step) in steps.iter().enumerate() {
        let from = step.from.letter.as_str();
        let before = at.checked_sub(1).map(|before| steps[before]);
        let in_hand = before.filter(|before| stacks(before).any(|left| left == from));
        moves += u64::from(in_hand.is_none_or(|before| before.across != step.across));
        let next = steps.get(at + 1).map(|next| next.from.letter.as_str());
        moves += stacks(step).filter(|left| Some(*left) != next).count() as u64;
        lying.remove(from);
        lying.extend(stacks(step));
        waiting = waiting.max(lying.len() as u64);
    }
    BenchCount {
        settings: steps.iter().filter(|step| step.new_setting).count() as u64,
        distances: steps.iter().map(|step| step.gauge).collect::<BTreeSet<_>>().len() as u64,
        strokes: steps.iter().map(|step| step.cuts_per_lift * step.lifts).sum(),
        waiting,
        moves,
    }
}

/// The letters of the stacks that a step leaves.
fn stacks(step: &CutStep) -> impl Iterator<Item = &str> {
    step.yields.iter().filter_map(|part| match &part.what {
        Fate::Stack(letter) => Some(letter.as_str()),
        _ => None,
    })
}
