//! Whole orders against the integer program over all patterns, solved at once by the second engine: no
//! pattern is generated or rounded, so that only the program's meaning is shared.

use super::orders::{Cost, Counts, TINY, compare_with, patterns, values, wanted};
use crate::bench::batches::{Batch, Extent, Paper, batches};
use cardwright::batch::Options;
use cardwright::program::Engine;
use good_lp::{
    Expression, ProblemVariables, Solution, SolverModel, Variable, constraint, highs, variable,
};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

/// Sheets with all their patterns.
type Stock<'a> = Vec<(&'a Paper, Vec<Counts>)>;

/// The program of one level before it is solved.
struct Program {
    variables: ProblemVariables,
    /// Sheets by pattern, for each kind of sheet.
    cut: Vec<Vec<Variable>>,
    /// Packs of each kind of sheet.
    packs: Vec<Variable>,
}

impl Program {
    fn new(stock: &Stock) -> Program {
        let mut variables = ProblemVariables::new();
        let whole = || variable().integer().min(0);
        let cut = stock.iter().map(|(_, patterns)| {
            patterns.iter().map(|_| variables.add(whole())).collect::<Vec<Variable>>()
        });
        let cut = cut.collect();
        let packs = stock.iter().map(|(sheet, _)| match sheet.price {
            Some(_) => variables.add(whole()),
            None => variables.add(whole().max(0)),
        });
        let packs = packs.collect();
        Program { variables, cut, packs }
    }

    fn spend(&self, stock: &Stock) -> Expression {
        let prices = stock.iter().map(|(sheet, _)| sheet.price.unwrap_or(0) as f64);
        prices.zip(&self.packs).map(|(price, &packs)| price * packs).sum()
    }

    fn used(&self, sheet: usize) -> Expression {
        self.cut[sheet].iter().sum()
    }

    /// The least of `objective`, where spending keeps to the budget.
    fn solve(
        self,
        (stock, wanted): (&Stock, &Counts),
        objective: Expression,
        budget: Option<i64>,
    ) -> Option<i64> {
        let spend = self.spend(stock);
        let used: Vec<Expression> = (0..stock.len()).map(|sheet| self.used(sheet)).collect();
        let Program { variables, cut, packs } = self;
        let model = variables.minimise(objective.clone()).using(highs).set_threads(1);
        let mut model = model.set_option("mip_rel_gap", 0.0);
        for (at, &most) in wanted.iter().enumerate() {
            let columns = cut.iter().flatten();
            let yields = stock.iter().flat_map(|(_, patterns)| patterns).map(|one| one[at] as f64);
            let yielded: Expression = yields.zip(columns).map(|(count, &cut)| count * cut).sum();
            model.add_constraint(constraint!(yielded >= most as f64));
        }
        for (((sheet, _), used), &packs) in stock.iter().zip(used).zip(&packs) {
            let there = sheet.on_hand as f64 + sheet.pack as f64 * packs;
            model.add_constraint(constraint!(used <= there));
        }
        if let Some(budget) = budget {
            model.add_constraint(constraint!(spend <= budget as f64));
        }
        let solution = model.solve().ok()?;
        let value = solution.eval(&objective);
        assert!((value - value.round()).abs() < 1e-4, "{value}");
        Some(value.round() as i64)
    }
}

/// The least spend and, at that, the least value of paper used; `None` where the order cannot be made.
fn optimum(batch: &Batch) -> Option<Cost> {
    let (stock, wanted) = (patterns(batch), wanted(batch));
    let program = Program::new(&stock);
    let spend = program.spend(&stock);
    let spend = program.solve((&stock, &wanted), spend, None)?;
    let program = Program::new(&stock);
    let values = values(batch).into_iter().enumerate();
    let value: Expression = values.map(|(sheet, value)| value as f64 * program.used(sheet)).sum();
    let value = program.solve((&stock, &wanted), value, Some(spend))?;
    Some((spend, value))
}

/// Counts beyond what trying every number of sheets can reach.
const MANY: Extent = Extent { most_count: 60, kinds: 3, piece: (2, 5), ..TINY };

/// Plans orders with the engine, the same each time; how many of them are proven at both levels.
fn proven(extent: Extent, engine: Engine, orders: usize) -> usize {
    let mut runner = TestRunner::deterministic();
    let strategy = batches(extent);
    let mut proven = 0;
    for _ in 0..orders {
        let batch = strategy.new_tree(&mut runner).unwrap().current();
        let outcome = batch.plan_with(Options { engine, ..Options::default() });
        match compare_with(optimum(&batch), &outcome) {
            Ok(one) => proven += usize::from(one),
            Err(why) => panic!("{engine:?}: {why}\n{batch:#?}"),
        }
    }
    proven
}

#[test]
fn tiny_orders_reach_the_optimum() {
    for engine in [Engine::Microlp, Engine::Highs] {
        assert_eq!(proven(TINY, engine, 100), 100, "{engine:?}");
    }
}

#[test]
fn orders_of_many_cards_reach_the_optimum() {
    for engine in [Engine::Microlp, Engine::Highs] {
        assert_eq!(proven(MANY, engine, 60), 60, "{engine:?}");
    }
}
