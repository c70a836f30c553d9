//! The linear and integer programs as the solver library sees them. The only home of `good_lp`.
//!
//! Floating point numbers live here and in the callers' duals; nothing that leaves the program folder
//! rests on them without an exact check.

use good_lp::{
    Expression, ProblemVariables, Solution, SolverModel, Variable, constraint, microlp, variable,
};

/// A sparse row: (variable, coefficient).
pub(super) type Terms = Vec<(usize, f64)>;

/// `maximise objective·v` subject to `rows` (each `terms·v <= limit`) and `0 <= v <= upper`.
///
/// Rows can be added after a solve; the simplex then starts from the basis it had.
pub(super) struct Maximum {
    objective: Vec<f64>,
    upper: Vec<f64>,
    rows: Vec<(Terms, f64)>,
    warm: Option<microlp::Solution>,
}

impl Maximum {
    /// A program without rows.
    pub fn new(objective: Vec<f64>, upper: Vec<f64>) -> Maximum {
        Maximum { objective, upper, rows: Vec::new(), warm: None }
    }

    /// Adds `terms·v <= limit`.
    pub fn add_row(&mut self, terms: Terms, limit: f64) {
        self.warm = self.warm.take().and_then(|solution| extend(solution, &terms, limit));
        self.rows.push((terms, limit));
    }

    /// The best values, or `None` where the engine finds none (unbounded, or a numerical failure).
    pub fn solve(&mut self) -> Option<Vec<f64>> {
        if let Some(values) = self.warm.as_ref().map(values).filter(|values| self.holds(values)) {
            return Some(values);
        }
        self.warm = Some(self.solve_afresh()?);
        self.warm.as_ref().map(values)
    }

    fn solve_afresh(&self) -> Option<microlp::Solution> {
        let mut variables = ProblemVariables::new();
        let ids: Vec<Variable> =
            self.upper.iter().map(|&upper| variables.add(variable().min(0.0).max(upper))).collect();
        let objective = expression(&ids, self.objective.iter().copied().enumerate());
        let mut model = variables.maximise(objective).using(microlp);
        for (terms, limit) in &self.rows {
            model.add_constraint(constraint!(expression(&ids, terms.iter().copied()) <= *limit));
        }
        model.solve().ok().map(good_lp::solvers::microlp::MicroLpSolution::into_inner)
    }

    /// Guards against drift of a long chain of added rows.
    fn holds(&self, values: &[f64]) -> bool {
        self.rows.iter().all(|(terms, limit)| {
            let left: f64 = terms.iter().map(|&(at, factor)| factor * values[at]).sum();
            left <= limit + 1e-6 * (1.0 + limit.abs())
        })
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

fn expression(ids: &[Variable], terms: impl Iterator<Item = (usize, f64)>) -> Expression {
    let mut sum = Expression::with_capacity(ids.len());
    terms.for_each(|(at, factor)| sum.add_mul(factor, ids[at]));
    sum
}

/// `minimise cost·v` subject to `rows` (each `terms·v >= limit`) and `lower <= v <= upper`.
pub(super) struct Minimum {
    /// Cost of one of each.
    pub cost: Vec<f64>,
    /// Least of each.
    pub lower: Vec<f64>,
    /// Most of each.
    pub upper: Vec<f64>,
    /// `terms·v >= limit`.
    pub rows: Vec<(Terms, f64)>,
}

impl Minimum {
    /// The best values; `None` where there are none or the engine fails.
    pub fn solve(&self) -> Option<Vec<f64>> {
        let (model, ids) = self.model(false);
        let solution = model.solve().ok()?;
        Some(ids.iter().map(|&id| solution.value(id)).collect())
    }

    /// The best whole values found within `nodes` nodes of branch and bound: an offer, never a proof.
    pub fn solve_whole(&self, nodes: u64) -> Option<Vec<u64>> {
        let (model, ids) = self.model(true);
        let mut options = microlp::SolveOptions::default();
        options.node_limit = Some(nodes);
        let outcome = model.as_inner().solve_with(options).ok()?;
        let solution = outcome.into_solution().ok()?;
        let whole: Vec<u64> = values(&solution).iter().map(|value| value.round() as u64).collect();
        (whole.len() == ids.len()).then_some(whole)
    }

    fn model(&self, whole: bool) -> (good_lp::solvers::microlp::MicroLpProblem, Vec<Variable>) {
        let mut variables = ProblemVariables::new();
        let bounds = self.lower.iter().zip(&self.upper);
        let ids: Vec<Variable> = bounds
            .map(|(&lower, &upper)| {
                let definition = variable().min(lower).max(upper);
                variables.add(if whole { definition.integer() } else { definition })
            })
            .collect();
        let objective = expression(&ids, self.cost.iter().copied().enumerate());
        let mut model = variables.minimise(objective).using(microlp);
        for (terms, limit) in &self.rows {
            model.add_constraint(constraint!(expression(&ids, terms.iter().copied()) >= *limit));
        }
        (model, ids)
    }
}
