//! The engine in C++, HiGHS (Huangfu & Hall 2018, Mathematical Programming Computation 10:119-142).
//!
//! It runs with one thread and a fixed seed, and stops after nodes, never after time, so that the same input takes the
//! same way everywhere. Its plans may be others than microlp's, since there are often many that are equally good; they
//! are judged the same way. It needs cmake, a C++ compiler and libclang (on Debian and Ubuntu the packages `cmake`,
//! `g++` and `libclang-dev`), so nothing but the feature `highs` builds it in:
//!
//! ```text
//! cargo test --features highs oracle                               engines against each other and a reference
//! cargo run --release --features highs -- plan orders/wedding.csv --engine highs
//! cargo bench --features highs --bench records -- wedding packs    compared in one run
//! bash .ci/run highs                                               lints and tests with the feature, too
//! ```

use super::{Maximum, Minimum, Terms, Warm};
use good_lp::solvers::highs::{HighsParallelType, HighsProblem};
use good_lp::{Solution as _, SolverModel, Variable, highs};
use highs::{Col, HighsModelStatus, Model, RowProblem, Sense};

const SEED: i32 = 0;

/// A model with the basis of its last solution; `None` once it could not be solved.
struct Ready {
    model: Option<Model>,
    columns: Vec<Col>,
}

/// Hands the program over; it is solved when its values are asked for.
pub(super) fn start(program: &Maximum) -> Option<Box<dyn Warm>> {
    let mut problem = RowProblem::default();
    let columns: Vec<Col> = program
        .objective
        .iter()
        .zip(&program.upper)
        .map(|(&factor, &upper)| problem.add_column(factor, 0.0..=upper))
        .collect();
    for (terms, limit) in &program.rows {
        problem.add_row(..=*limit, row(&columns, terms));
    }
    let mut model = problem.try_optimise(Sense::Maximise).ok()?;
    model.try_set_option("threads", 1).ok()?;
    model.try_set_option("parallel", "off").ok()?;
    model.try_set_option("random_seed", SEED).ok()?;
    Some(Box::new(Ready { model: Some(model), columns }))
}

fn row(columns: &[Col], terms: &Terms) -> Vec<(Col, f64)> {
    terms.iter().map(|&(at, factor)| (columns[at], factor)).collect()
}

impl Warm for Ready {
    fn add_row(&mut self, terms: &Terms, limit: f64) {
        let row = row(&self.columns, terms);
        self.model = self.model.take().and_then(|mut model| {
            model.try_add_row(..=limit, row).ok()?;
            Some(model)
        });
    }

    fn values(&mut self) -> Option<Vec<f64>> {
        let solved = self.model.take()?.try_solve().ok()?;
        if solved.status() != HighsModelStatus::Optimal {
            return None;
        }
        let values = solved.get_solution().columns().to_vec();
        self.model = Some(solved.into());
        Some(values)
    }
}

/// The best values.
pub(super) fn least(program: &Minimum) -> Option<Vec<f64>> {
    let (model, ids) = program.model(highs, false, 1.0);
    values(model, ids)
}

/// The best whole values within so many nodes.
pub(super) fn least_whole(program: &Minimum, nodes: u64) -> Option<Vec<f64>> {
    let (model, ids) = program.model(highs, true, 1.0);
    let nodes = i32::try_from(nodes).unwrap_or(i32::MAX);
    let model = model.set_option("mip_max_nodes", nodes).set_option("mip_rel_gap", 0.0);
    values(model, ids)
}

fn values(model: HighsProblem, ids: Vec<Variable>) -> Option<Vec<f64>> {
    let model = model.set_threads(1).set_parallel(HighsParallelType::Off);
    let solution = model.set_option("random_seed", SEED).solve().ok()?;
    Some(ids.iter().map(|&id| solution.value(id)).collect())
}
