//! The linear and integer programs, and the engines that solve them. The only home of `good_lp`.
//!
//! Floating point numbers live here and in the callers' duals; nothing that leaves the program folder rests on them
//! without an exact check: plans are filled up and counted anew, bounds come from whole-number certificates. So engines
//! can be exchanged: another one finds other plans and other proofs, but none that is less true. microlp is always
//! there; with the feature `highs` both are, and `batch::Options::engine` chooses at run time.

#[cfg(feature = "highs")]
mod highs;
mod microlp;

use good_lp::solvers::Solver;
use good_lp::{Expression, ProblemVariables, SolverModel, Variable, constraint, variable};

/// What solves the linear and integer programs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Engine {
    /// Plain Rust; always there.
    #[default]
    Microlp,
    /// C++, built in by the feature `highs` only.
    #[cfg(feature = "highs")]
    Highs,
}

/// A sparse row: (variable, coefficient).
pub(super) type Terms = Vec<(usize, f64)>;

/// `maximise objective·v` subject to `rows` (each `terms·v <= limit`) and `0 <= v <= upper`.
///
/// Rows can be added after a solve; the simplex then starts from the basis it had. Rows that are not
/// likely to matter wait until a solution breaks them.
pub(super) struct Maximum {
    engine: Engine,
    objective: Vec<f64>,
    upper: Vec<f64>,
    rows: Vec<(Terms, f64)>,
    waiting: Vec<(Terms, f64)>,
    warm: Option<Box<dyn Warm>>,
}

/// Waiting rows that are added at once, at most: those that are broken most.
const MOST_CALLED: usize = 16;

/// A program that an engine holds ready for more rows.
trait Warm {
    /// Adds `terms·v <= limit`.
    fn add_row(&mut self, terms: &Terms, limit: f64);

    /// The best values; `None` where the engine finds none, after which it is of no more use.
    fn values(&mut self) -> Option<Vec<f64>>;
}

impl Maximum {
    /// A program without rows.
    pub fn new(engine: Engine, objective: Vec<f64>, upper: Vec<f64>) -> Maximum {
        let (rows, waiting) = (Vec::new(), Vec::new());
        Maximum { engine, objective, upper, rows, waiting, warm: None }
    }

    /// Adds `terms·v <= limit`.
    pub fn add_row(&mut self, terms: Terms, limit: f64) {
        if let Some(warm) = &mut self.warm {
            warm.add_row(&terms, limit);
        }
        self.rows.push((terms, limit));
    }

    /// The same for a row that is not likely to matter.
    pub fn add_waiting_row(&mut self, terms: Terms, limit: f64) {
        self.waiting.push((terms, limit));
    }

    /// The best values, or `None` where the engine finds none (unbounded, or a numerical failure).
    pub fn solve(&mut self) -> Option<Vec<f64>> {
        loop {
            let values = self.solve_rows()?;
            if !self.call_broken(&values) {
                return Some(values);
            }
        }
    }

    /// The best values as to the rows that do not wait.
    fn solve_rows(&mut self) -> Option<Vec<f64>> {
        let warm = self.warm.as_mut().and_then(|warm| warm.values());
        if let Some(values) = warm.filter(|values| self.holds(values)) {
            return Some(values);
        }
        self.warm = match self.engine {
            Engine::Microlp => microlp::start(self),
            #[cfg(feature = "highs")]
            Engine::Highs => highs::start(self),
        };
        self.warm.as_mut()?.values()
    }

    /// Adds those of the waiting rows that the values break most; false where they break none.
    fn call_broken(&mut self, values: &[f64]) -> bool {
        let excess = |(terms, limit): &(Terms, f64)| excess(terms, *limit, values);
        let mut broken: Vec<(f64, usize)> =
            self.waiting.iter().map(excess).zip(0..).filter(|(excess, _)| *excess > 1e-7).collect();
        broken.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        broken.truncate(MOST_CALLED);
        let mut called: Vec<usize> = broken.into_iter().map(|(_, at)| at).collect();
        called.sort_unstable();
        for at in called.iter().rev() {
            let (terms, limit) = self.waiting.swap_remove(*at);
            self.add_row(terms, limit);
        }
        !called.is_empty()
    }

    /// Guards against drift of a long chain of added rows.
    fn holds(&self, values: &[f64]) -> bool {
        self.rows.iter().all(|(terms, limit)| excess(terms, *limit, values) <= 1e-6)
    }
}

/// By how much values break a row, in parts of its limit.
fn excess(terms: &Terms, limit: f64, values: &[f64]) -> f64 {
    let left: f64 = terms.iter().map(|&(at, factor)| factor * values[at]).sum();
    (left - limit) / (1.0 + limit.abs())
}

/// `minimise cost·v` subject to `rows` (each `terms·v >= limit`) and `lower <= v <= upper`.
pub(super) struct Minimum {
    /// What solves it.
    pub engine: Engine,
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
        match self.engine {
            Engine::Microlp => microlp::least(self),
            #[cfg(feature = "highs")]
            Engine::Highs => highs::least(self),
        }
    }

    /// The best whole values found within `nodes` nodes of branch and bound, and how many it took: an
    /// offer, never a proof.
    pub fn solve_whole(&self, nodes: u64) -> (Option<Vec<u64>>, u64) {
        let (values, nodes) = match self.engine {
            Engine::Microlp => microlp::least_whole(self, nodes),
            #[cfg(feature = "highs")]
            Engine::Highs => (highs::least_whole(self, nodes), nodes),
        };
        let whole = |values: Vec<f64>| values.iter().map(|value| value.round() as u64).collect();
        (values.map(whole), nodes)
    }

    /// The program as the engine takes it, all variables whole or not, and all that is counted divided by
    /// `scale`.
    fn model<S: Solver>(&self, engine: S, whole: bool, scale: f64) -> (S::Model, Vec<Variable>) {
        let mut variables = ProblemVariables::new();
        let bounds = self.lower.iter().zip(&self.upper);
        let ids: Vec<Variable> = bounds
            .map(|(&lower, &upper)| {
                let definition = variable().min(lower / scale).max(upper / scale);
                variables.add(if whole { definition.integer() } else { definition })
            })
            .collect();
        let objective = expression(&ids, self.cost.iter().copied().enumerate());
        let mut model = variables.minimise(objective).using(engine);
        for (terms, limit) in &self.rows {
            model.add_constraint(constraint!(
                expression(&ids, terms.iter().copied()) >= *limit / scale
            ));
        }
        (model, ids)
    }
}

fn expression(ids: &[Variable], terms: impl Iterator<Item = (usize, f64)>) -> Expression {
    let mut sum = Expression::with_capacity(ids.len());
    terms.for_each(|(at, factor)| sum.add_mul(factor, ids[at]));
    sum
}

#[cfg(test)]
mod tests;
