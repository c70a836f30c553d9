//! Two papers with answers worked out by hand.

use super::super::attainable::Attainable;
use super::super::samples::two_papers as task;
use super::*;

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
