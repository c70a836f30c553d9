//! The engine in plain Rust.

use super::{Maximum, Minimum, Terms, Warm, expression};
use good_lp::solvers::microlp::MicroLpSolution;
use good_lp::{
    ProblemVariables, Solution as _, SolverModel, Variable, constraint, microlp, variable,
};

/// The last solution; `None` once a row could not be added to it.
struct Solution(Option<microlp::Solution>);

/// Counts up to this are taken as they are.
const PLAIN: f64 = 1_000.0;

/// What to divide counts by: the tolerances of the engine are absolute, so that with counts in millions it
/// would go on and on for nothing.
fn scale(counts: impl Iterator<Item = f64>) -> f64 {
    let finite = counts.map(f64::abs).filter(|count| count.is_finite());
    power_of_two_below(finite.fold(PLAIN, f64::max) / PLAIN)
}

/// The largest power of two that is no more than a number, by its bits: logarithms differ from one machine
/// to another.
fn power_of_two_below(number: f64) -> f64 {
    f64::from_bits(number.to_bits() & f64::INFINITY.to_bits())
}

/// Solves the program afresh.
pub(super) fn start(program: &Maximum) -> Option<Box<dyn Warm>> {
    let mut variables = ProblemVariables::new();
    let ids: Vec<Variable> =
        program.upper.iter().map(|&upper| variables.add(variable().min(0.0).max(upper))).collect();
    let scale = scale(program.objective.iter().copied());
    let objective = program.objective.iter().map(|factor| factor / scale);
    let objective = expression(&ids, objective.enumerate());
    let mut model = variables.maximise(objective).using(microlp);
    for (terms, limit) in &program.rows {
        model.add_constraint(constraint!(expression(&ids, terms.iter().copied()) <= *limit));
    }
    let solution = model.solve().ok().map(MicroLpSolution::into_inner)?;
    Some(Box::new(Solution(Some(solution))))
}

impl Warm for Solution {
    fn add_row(&mut self, terms: &Terms, limit: f64) {
        self.0 = self.0.take().and_then(|solution| extend(solution, terms, limit));
    }

    fn values(&mut self) -> Option<Vec<f64>> {
        self.0.as_ref().map(values)
    }
}

fn extend(solution: microlp::Solution, terms: &Terms, limit: f64) -> Option<microlp::Solution> {
    let ids: Vec<microlp::Variable> = solution.iter().map(|(id, _)| id).collect();
    let row: Vec<(microlp::Variable, f64)> =
        terms.iter().map(|&(at, factor)| (ids[at], factor)).collect();
    let outcome = solution.add_constraint(row, microlp::ComparisonOp::Le, limit).ok()?;
    outcome.into_solution().ok()
}

fn values(solution: &microlp::Solution) -> Vec<f64> {
    solution.iter().map(|(_, value)| value).collect()
}

/// The best values.
pub(super) fn least(program: &Minimum) -> Option<Vec<f64>> {
    let limits = program.rows.iter().map(|(_, limit)| *limit);
    let scale = scale(limits.chain(program.lower.iter().copied()));
    let (model, ids) = program.model(microlp, false, scale);
    let solution = model.solve().ok()?;
    Some(ids.iter().map(|&id| solution.value(id) * scale).collect())
}

/// The best whole values within so many nodes, and the nodes that were solved.
pub(super) fn least_whole(program: &Minimum, nodes: u64) -> (Option<Vec<f64>>, u64) {
    let (model, ids) = program.model(microlp, true, 1.0);
    let mut options = microlp::SolveOptions::default();
    options.node_limit = Some(nodes);
    let Ok(outcome) = model.as_inner().solve_with(options) else { return (None, nodes) };
    let solved = outcome.stats().nodes_solved;
    let found = outcome.into_solution().ok().map(|solution| values(&solution));
    (found.filter(|found| found.len() == ids.len()), solved)
}
