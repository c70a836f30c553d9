//! Small programs with answers that can be worked out by hand, for every engine there is.

use super::{Engine, Maximum, Minimum};
use approx::assert_abs_diff_eq;

const ENGINES: &[Engine] = &[
    Engine::Microlp,
    #[cfg(feature = "highs")]
    Engine::Highs,
];

fn assert_near(found: Option<Vec<f64>>, wanted: &[f64]) {
    let found = found.unwrap();
    assert_eq!(found.len(), wanted.len());
    for (found, wanted) in found.iter().zip(wanted) {
        assert_abs_diff_eq!(*found, *wanted, epsilon = 1e-6);
    }
}

/// The corners of `x + 2y` over `x <= 4`, `y <= 10`, then with `x + y <= 5`, then with `y <= 3`, then with
/// `x + 3y <= 10`.
#[test]
fn rows_added_after_a_solve_count() {
    for &engine in ENGINES {
        let mut program = Maximum::new(engine, vec![1.0, 2.0], vec![4.0, 10.0]);
        assert_near(program.solve(), &[4.0, 10.0]);
        program.add_row(vec![(0, 1.0), (1, 1.0)], 5.0);
        assert_near(program.solve(), &[0.0, 5.0]);
        program.add_row(vec![(1, 1.0)], 3.0);
        program.add_row(vec![(0, 1.0), (1, 3.0)], 10.0);
        assert_near(program.solve(), &[2.5, 2.5]);
        assert_near(program.solve(), &[2.5, 2.5]);
    }
}

#[test]
fn waiting_rows_count_once_they_are_broken() {
    for &engine in ENGINES {
        let mut program = Maximum::new(engine, vec![1.0, 2.0], vec![4.0, 10.0]);
        program.add_row(vec![(0, 1.0), (1, 1.0)], 5.0);
        program.add_waiting_row(vec![(1, 1.0)], 3.0);
        program.add_waiting_row(vec![(0, 1.0), (1, 3.0)], 10.0);
        program.add_waiting_row(vec![(0, 1.0)], 9.0);
        assert_near(program.solve(), &[2.5, 2.5]);
    }
}

#[test]
fn what_has_no_limit_has_no_answer() {
    for &engine in ENGINES {
        let mut program = Maximum::new(engine, vec![1.0], vec![f64::INFINITY]);
        assert_eq!(program.solve(), None, "{engine:?}");
        program.add_row(vec![(0, 2.0)], 3.0);
        assert_near(program.solve(), &[1.5]);
    }
}

/// Two pieces of one kind and three of another from patterns (1, 1), (0, 2) and (2, 0) that cost 2, 1, 4.
fn cover(engine: Engine, most: f64) -> Minimum {
    let rows = vec![(vec![(0, 1.0), (2, 2.0)], 2.0), (vec![(0, 1.0), (1, 2.0)], 3.0)];
    Minimum { engine, cost: vec![2.0, 1.0, 4.0], lower: vec![0.0; 3], upper: vec![most; 3], rows }
}

#[test]
fn whole_and_broken_numbers_differ() {
    for &engine in ENGINES {
        // 2 and 1/2 sheets cost 4.5; with whole ones, 2 and 1 cost 5.
        assert_near(cover(engine, f64::INFINITY).solve(), &[2.0, 0.5, 0.0]);
        assert_eq!(cover(engine, f64::INFINITY).solve_whole(100).0, Some(vec![2, 1, 0]));
        // At most one sheet of each: the third pattern has to help.
        assert_eq!(cover(engine, 1.0).solve_whole(100).0, Some(vec![1, 1, 1]));
    }
}

#[test]
fn what_cannot_be_has_no_answer() {
    for &engine in ENGINES {
        assert_eq!(cover(engine, 0.5).solve(), None, "{engine:?}");
        assert_eq!(cover(engine, 0.5).solve_whole(100).0, None, "{engine:?}");
    }
}

#[test]
fn counts_in_millions_change_no_value() {
    // Two pieces, one or two of them a sheet that costs 7 or 9.
    let values = |counts: [f64; 2]| {
        let mut program = Maximum::new(Engine::Microlp, counts.to_vec(), vec![100.0, 100.0]);
        program.add_row(vec![(0, 2.0), (1, 1.0)], 7.0);
        program.add_row(vec![(0, 1.0), (1, 2.0)], 9.0);
        program.solve().unwrap()
    };
    let sheets = |counts: [f64; 2]| {
        let rows =
            vec![(vec![(0, 2.0), (1, 1.0)], counts[0]), (vec![(0, 1.0), (1, 2.0)], counts[1])];
        let (cost, lower) = (vec![7.0, 9.0], vec![0.0, 0.0]);
        let upper = vec![f64::INFINITY; 2];
        Minimum { engine: Engine::Microlp, cost, lower, upper, rows }.solve().unwrap()
    };
    for (one, many) in values([30.0, 40.0]).iter().zip(values([3e8, 4e8])) {
        approx::assert_relative_eq!(*one, many, max_relative = 1e-9);
    }
    for (one, many) in sheets([30.0, 40.0]).iter().zip(sheets([3e8, 4e8])) {
        approx::assert_relative_eq!(one * 1e7, many, max_relative = 1e-9);
    }
}
