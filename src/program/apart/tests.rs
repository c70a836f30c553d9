//! Two papers with answers worked out by hand.

use super::super::attainable::Attainable;
use super::super::engine::Engine;
use super::super::task::{Item, Supply};
use super::*;
use crate::measure::{Length, Size};
use crate::patterns::{Bench, Shape};
use std::sync::Arc;

const SETTINGS: Settings = Settings {
    rounds: 20,
    negligible: 1_000_000,
    pool_nodes: 20,
    nodes: 20,
    list_work: 100_000,
    steps: 100_000_000,
    stop: &|| false,
    half: &|| false,
    tell: &|_| (),
};

/// Sheets that hold two squares, of a first paper for 100 and of a second for 70; squares wanted of the
/// first paper, of the second, and of either.
fn task(wanted: [u64; 3]) -> Task {
    let size = |width| Size::new(Length::from_mm(width), Length::from_mm(10));
    let bench = Bench {
        blade: Length::ZERO,
        knife: Length::from_mm(100),
        hold: Length::ZERO,
        stages: None,
    };
    let space = |paper: usize| {
        let shape = |item| Shape { size: size(10), upright: item != 1 - paper, turned: false };
        Space::new(size(20), &[0, 1, 2].map(shape), bench)
    };
    let supply = |(paper, price): (usize, i64)| Supply {
        sheet: paper,
        paper,
        on_hand: 0,
        pack: 1,
        price: Some(price),
        value: price,
        size: size(20),
        space: paper,
    };
    let item = |piece: usize| Item { piece, demand: wanted[piece], size: size(10) };
    Task {
        papers: vec!["fern".to_owned(), "moss".to_owned()],
        items: [0, 1, 2].map(item).to_vec(),
        supplies: [(0, 100), (1, 70)].map(supply).to_vec(),
        engine: Engine::default(),
        spaces: [0, 1].map(space).into(),
        relaxed: None,
        meter: Arc::default(),
    }
}

/// Bound and spending, beginning with these prices.
fn solved(task: &Task, prices: &[f64]) -> (i64, Option<i64>) {
    let value = 3000;
    let attainable = Attainable::of(task, Level::Spend, (0, value));
    let effort = (&SETTINGS, SETTINGS.steps);
    let solved =
        solve(task, (&mut Pool::default(), prices), effort, (&attainable, 0, value)).unwrap();
    let spend = |plan: Candidate| {
        assert!(plan.is_complete(task));
        plan.cost(task).unwrap().spend
    };
    (solved.bound, solved.best.map(spend))
}

#[test]
fn every_paper_is_bounded_in_whole_sheets() {
    // One square of either kind fits beside the third of the first paper: 2 sheets of it, 11 of the other.
    // The linear program says 150 + 23 × 35 = 955.
    assert_eq!(solved(&task([3, 3, 20]), &[50.0, 35.0, 35.0]), (970, Some(970)));
}

#[test]
fn prices_find_their_way() {
    // At no price both papers leave all of these squares to the other.
    let (bound, spend) = solved(&task([3, 3, 20]), &[50.0, 35.0, 0.0]);
    assert_eq!(spend, Some(970));
    assert!((900..=970).contains(&bound), "{bound}");
}

#[test]
fn one_paper_is_not_several() {
    let mut task = task([3, 0, 20]);
    task.papers.truncate(1);
    let attainable = Attainable::of(&task, Level::Spend, (0, 3000));
    let prices = [50.0, 35.0, 35.0];
    let effort = (&SETTINGS, SETTINGS.steps);
    assert!(
        solve(&task, (&mut Pool::default(), &prices), effort, (&attainable, 0, 3000)).is_none()
    );
}
