//! The judge's own table against published optima: gcut1 to gcut12 (instances: Beasley 1985, JORS
//! 36:297-306; optima: Cintra, Miyazawa, Wakabayashi & Xavier 2008, EJOR 191:61-85).

use crate::bench::{sheet, workshop};
use cardwright::measure::{Length, Money, Size};
use cardwright::orders::Turn;
use cardwright::pieces::{Bill, Part, Piece, Share};
use cardwright::plan::check::{Fault, Given, check};
use cardwright::plan::{Certificate, Level, Plan, Proof, SCHEMA, Status, Totals};
use cardwright::stock::Stock;
use std::path::{Path, PathBuf};

/// The folder of open instances, if it is there.
fn benchmarks() -> Option<PathBuf> {
    let beside = || PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/benchmarks");
    let folder = std::env::var_os("CARDWRIGHT_BENCHMARKS").map_or_else(beside, PathBuf::from);
    folder.join("published.tsv").is_file().then_some(folder)
}

fn size(width: i64, height: i64) -> Size {
    Size::new(Length::from_ticks(width), Length::from_ticks(height))
}

/// The sheet and the pieces of an instance; a tick stands for its unit.
fn read(folder: &Path, instance: &str, turn: Turn) -> (Stock, Bill) {
    let text =
        std::fs::read_to_string(folder.join("gcut").join(format!("{instance}.txt"))).unwrap();
    let mut numbers = text.split_ascii_whitespace().map(|word| word.parse::<i64>().unwrap());
    let mut next = || numbers.next().unwrap();
    let mut plate = sheet("plate", "fern", size(next(), next()));
    (plate.on_hand, plate.price) = (1, None);
    let pieces = (0..next()).map(|index| {
        let (width, height) = (next(), next());
        // Value and demand: the value is the area.
        next();
        next();
        Piece {
            id: format!("{index:02}.base"),
            part: Part::Base,
            papers: vec!["fern".to_owned()],
            size: size(width, height),
            turn: Some(turn),
            fold_along: None,
            scores: vec![],
            shares: vec![Share { line: format!("{index:02}"), need: 1, spares: 0 }],
            place: None,
        }
    });
    let bill = Bill { pieces: pieces.collect() };
    (Stock { sheets: vec![plate] }, bill)
}

/// A plan that does nothing, but values each piece at its area and the sheet at `sheet_value`.
fn plan(bill: &Bill, sheet_value: i64) -> Plan {
    let level = |budget_value| Level {
        value: Money::ZERO,
        bound: Money::ZERO,
        status: Status::Optimal,
        complete_search: false,
        certificate: Certificate { scale: 1, budget_value, ..Certificate::default() },
    };
    let mut spend = level(None);
    let area = |piece: &Piece| piece.size.area().square_ticks() as i64;
    spend.certificate.piece_values =
        bill.pieces.iter().map(|piece| (piece.id.clone(), area(piece))).collect();
    spend.certificate.sheet_values = [("plate".to_owned(), sheet_value)].into();
    Plan {
        schema: SCHEMA.to_owned(),
        ticks_per_mm: Length::TICKS_PER_MM,
        order: "spring".to_owned(),
        currency: "USD".to_owned(),
        pieces: vec![],
        sheets: vec![],
        runs: vec![],
        offcuts: vec![],
        totals: Totals::default(),
        proof: vec![Proof { papers: vec!["fern".to_owned()], spend, stock: level(Some(0)) }],
    }
}

/// What the judge finds the best pattern to be worth, where that is above `sheet_value`.
fn found(stock: &Stock, bill: &Bill, sheet_value: i64) -> Option<i128> {
    let workshop = workshop();
    let faults = check(&plan(bill, sheet_value), &Given { bill, stock, workshop: &workshop });
    faults.unwrap_err().iter().find_map(|fault| match fault {
        Fault::CertificatePattern { found, .. } => Some(*found),
        _ => None,
    })
}

#[test]
fn the_judge_knows_the_published_optima() {
    let Some(folder) = benchmarks() else {
        println!("skipped: no folder of benchmarks");
        return;
    };
    let published = std::fs::read_to_string(folder.join("published.tsv")).unwrap();
    let mut checked = 0;
    for row in published.lines() {
        let cells: Vec<&str> = row.split('\t').collect();
        // The thirteenth takes too long for an unoptimised build.
        if cells[0] != "gcut" || cells[1] == "gcut13" {
            continue;
        }
        let turn = if cells[2] == "turned" { Turn::Free } else { Turn::None };
        let optimum: i64 = cells[4].parse().unwrap();
        let (stock, bill) = read(&folder, cells[1], turn);
        assert_eq!(found(&stock, &bill, optimum), None, "{row}");
        assert_eq!(found(&stock, &bill, optimum - 1), Some(i128::from(optimum)), "{row}");
        checked += 1;
    }
    assert_eq!(checked, 24);
}
