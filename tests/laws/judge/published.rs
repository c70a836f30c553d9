//! The judge's own table against published optima: gcut1 to gcut12 (instances: Beasley 1985, JORS
//! 36:297-306; optima: Cintra, Miyazawa, Wakabayashi & Xavier 2008, EJOR 191:61-85).

use crate::bench::instances::{Instance, benchmarks, published};
use crate::bench::{sheet, workshop};
use cardwright::job::Job;
use cardwright::measure::{Length, Money};
use cardwright::orders::Order;
use cardwright::orders::Turn;
use cardwright::pieces::{Bill, Part, Piece, Share};
use cardwright::plan::check::{Fault, check};
use cardwright::plan::{Certificate, Level, Plan, Proof, SCHEMA, Status, Totals};
use cardwright::stock::Stock;
use std::path::Path;

/// The sheet and the pieces of an instance; a tick stands for its unit.
fn read(folder: &Path, name: &str, turn: Turn) -> (Stock, Bill) {
    let instance = Instance::read(folder, "gcut", name);
    let mut plate = sheet("plate", "fern", instance.plate);
    (plate.on_hand, plate.price) = (1, None);
    let pieces = instance.shapes(false).into_iter().enumerate().map(|(index, shape)| Piece {
        id: format!("{index:02}.card"),
        part: Part::Card,
        papers: vec!["fern".to_owned()],
        size: shape.size,
        turn: Some(turn),
        grain_along: None,
        scores: vec![],
        shares: vec![Share { line: format!("{index:02}"), need: 1, spares: 0 }],
        done: Default::default(),
        place: None,
    });
    let bill = Bill::of_pieces(pieces.collect());
    (Stock::of_sheets(vec![plate]), bill)
}

/// A plan that does nothing, but values each piece at its area and the sheet at `sheet_value`.
fn plan(bill: &Bill, sheet_value: i64) -> Plan {
    let mut spend: Level<Money> = level(None);
    let area = |piece: &Piece| piece.size.area().square_ticks() as i64;
    spend.certificate.piece_values =
        bill.pieces.iter().map(|piece| (piece.id.clone(), area(piece))).collect();
    spend.certificate.sheet_values = [("plate".to_owned(), sheet_value)].into();
    Plan {
        supplies: Vec::new(),
        schema: SCHEMA.to_owned(),
        ticks_per_mm: Length::TICKS_PER_MM,
        order: "spring".to_owned(),
        currency: "USD".to_owned(),
        pieces: vec![],
        sheets: vec![],
        runs: vec![],
        offcuts: vec![],
        totals: Totals::default(),
        proof: vec![Proof {
            papers: vec!["fern".to_owned()],
            price_unit: Money::from_minor(1),
            unit: None,
            spend,
            stock: level(Some(0)),
        }],
    }
}

fn level<Amount: Default>(budget_value: Option<i64>) -> Level<Amount> {
    Level {
        value: Amount::default(),
        bound: Amount::default(),
        status: Status::Optimal,
        complete_search: false,
        certificate: Certificate { scale: 1, budget_value, ..Certificate::default() },
    }
}

/// What the judge finds the best pattern to be worth, where that is above `sheet_value`.
fn found(stock: &Stock, bill: &Bill, sheet_value: i64) -> Option<i128> {
    let order = Order { name: "spring".to_owned(), lines: Vec::new() };
    let (stock, workshop) = (stock.clone(), workshop());
    let job = Job { order, stock, workshop, bill: bill.clone(), before: None, part: Vec::new() };
    let faults = check(&plan(bill, sheet_value), &job);
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
    let mut checked = 0;
    // The thirteenth takes too long for an unoptimised build.
    let rows = published(&folder).into_iter().filter(|row| row.set == "gcut");
    for row in rows.filter(|row| row.instance != "gcut13") {
        let turn = if row.turned { Turn::Free } else { Turn::None };
        let (stock, bill) = read(&folder, &row.instance, turn);
        assert_eq!(found(&stock, &bill, row.value), None, "{row:?}");
        assert_eq!(found(&stock, &bill, row.value - 1), Some(i128::from(row.value)), "{row:?}");
        checked += 1;
    }
    assert_eq!(checked, 24);
}
