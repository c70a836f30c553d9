//! Whether the drawer pays: twenty batches one after the other, with it and without.
//!
//! `cargo bench --bench drawer` prints the table of `reports/benchmarks/drawer.md`.
//!
//! The rule: sheets and bench are those of `orders/`, with nothing on hand, an empty drawer, and folds
//! along the grain where it costs nothing. Each of
//! twenty batches has one to four lines; each line draws a card from [`CARDS`], a count from 4 to 40 and a
//! paper from [`PAPERS`], with the numbers of [`Random`]. Three workshops get the same twenty batches:
//!
//! - **drawer**: every batch is planned and settled, and offcuts go back in the drawer;
//! - **no drawer**: full sheets that are left stay, but what would go in the drawer is thrown away;
//! - **new sheets**: every batch is cut from sheets that are bought for it, whatever lies there.
#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "a bench tells what it finds")]

#[path = "../tests/bench/instances.rs"]
#[allow(dead_code, reason = "only the shipped order is read here")]
mod instances;
#[path = "records/random.rs"]
#[allow(dead_code, reason = "no lengths are drawn here")]
mod random;
#[path = "../tests/bench/workroom.rs"]
#[allow(dead_code, reason = "only planning and settling is wanted here")]
mod workroom;

use cardwright::batch::{Inputs, Options, Source};
use cardwright::measure::{Currency, Money};
use random::Random;
use workroom::Workroom;

const BATCHES: usize = 20;
const SEEDS: [u64; 5] = [1, 2, 3, 4, 5];
/// Card and fold.
const CARDS: [(&str, &str); 8] = [
    ("US A2", "side"),
    ("US A2", "flat"),
    ("US A6", "side"),
    ("US A7", "flat"),
    ("square 3", "side"),
    ("tent card", "top"),
    ("bookmark", "flat"),
    ("business card", "flat"),
];
const PAPERS: [&str; 4] = ["wren", "fern", "dusk", "mist"];

/// How a workshop keeps its paper.
#[derive(Clone, Copy, PartialEq)]
enum Habit {
    Drawer,
    NoDrawer,
    NewSheets,
}

/// What twenty batches came to.
#[derive(Default)]
struct Total {
    spent: Money,
    cut: u64,
    from_drawer: u64,
}

fn main() {
    println!(
        "| draw | with the drawer | without | new sheets | the drawer saves | offcuts among the sheets cut |"
    );
    println!("| --- | --- | --- | --- | --- | --- |");
    for seed in SEEDS {
        let [drawer, without, new] =
            [Habit::Drawer, Habit::NoDrawer, Habit::NewSheets].map(|habit| twenty(seed, habit));
        let currency = Currency::default();
        let percent = |other: &Total| {
            let (ours, theirs) = (drawer.spent.minor(), other.spent.minor());
            ((theirs - ours) * 100 + theirs / 2) / theirs.max(1)
        };
        let [ours, theirs, news] =
            [&drawer, &without, &new].map(|total| currency.number(total.spent));
        println!(
            "| {seed} | {ours} | {theirs} | {news} | {} % or {} % | {} of {} |",
            percent(&without),
            percent(&new),
            drawer.from_drawer,
            drawer.from_drawer + drawer.cut
        );
    }
}

fn twenty(seed: u64, habit: Habit) -> Total {
    let mut random = Random::new(seed);
    let room = Workroom::with(&empty());
    let mut total = Total::default();
    for number in 0..BATCHES {
        let order = order(number, &mut random);
        if habit == Habit::NewSheets {
            room.put("sheets.csv", &empty().sheets.bytes);
        }
        if habit != Habit::Drawer {
            room.put("offcuts.csv", cardwright::stock::empty_drawer("").as_bytes());
        }
        let (made, report) = room.planned(order, &Options::default()).unwrap();
        let settlement = room.settle(&report).unwrap();
        total.spent += made.plan.totals.spend;
        for moved in &settlement.moves {
            match moved.kind {
                cardwright::stock::SheetKind::Sheet => total.cut += moved.used,
                cardwright::stock::SheetKind::Offcut => total.from_drawer += moved.used,
            }
        }
    }
    total
}

/// The workshop of `orders/` with nothing on hand.
fn empty() -> Inputs {
    let inputs = instances::shipped("orders/wedding.csv");
    let text = String::from_utf8(inputs.sheets.bytes).unwrap();
    let mut lines: Vec<Vec<String>> =
        text.lines().map(|line| line.split(',').map(str::to_owned).collect()).collect();
    let on_hand = lines[0].iter().position(|name| name == "on hand").unwrap();
    lines[1..].iter_mut().for_each(|line| line[on_hand] = "0".to_owned());
    let lines: Vec<String> = lines.iter().map(|line| line.join(",") + "\n").collect();
    let sheets = Source { name: "sheets.csv".to_owned(), bytes: lines.concat().into_bytes() };
    // Where a fold must lie along the grain, some cards cannot be cut from some of the papers.
    let bench = String::from_utf8(inputs.workshop.unwrap().bytes).unwrap();
    let bench = bench.replace("rule = \"strict\"", "rule = \"prefer\"").into_bytes();
    let workshop = Some(Source { name: "workshop.toml".to_owned(), bytes: bench });
    Inputs { sheets, offcuts: None, workshop, ..inputs }
}

fn order(number: usize, random: &mut Random) -> Source {
    let mut text = "line,card,fold,count,paper\n".to_owned();
    for line in 0..random.between(1, 4) {
        let (card, fold) = CARDS[random.between(0, CARDS.len() as u64 - 1) as usize];
        let paper = random.one_of(&PAPERS);
        let count = random.between(4, 40);
        text += &format!("l{line},{card},{fold},{count},{paper}\n");
    }
    Source { name: format!("batch{number:02}.csv"), bytes: text.into_bytes() }
}
