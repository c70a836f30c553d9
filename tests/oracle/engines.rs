//! The same orders planned with either engine: what one proves, the other may not refute.

use super::orders::TINY;
use crate::bench::batches::batches;
use crate::bench::cases;
use crate::bench::instances::{Instance, benchmarks};
use crate::bench::shipped;
use cardwright::batch::{self, Effort, Inputs, Options, Outcome};
use cardwright::plan::{Proof, Status};
use cardwright::program::Engine;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

const ENGINES: [Engine; 2] = [Engine::Microlp, Engine::Highs];

/// Values and bounds of one group of papers.
#[derive(Clone, Copy, Debug)]
struct Known {
    spend: (i64, i64),
    stock: (i64, i64),
    proven: bool,
}

impl Known {
    fn of(proof: &Proof) -> Known {
        let levels = [&proof.spend, &proof.stock];
        let [spend, stock] = levels.map(|level| (level.value.minor(), level.bound.minor()));
        let proven = levels.iter().all(|level| level.status == Status::Optimal);
        Known { spend, stock, proven }
    }

    /// Whether no bound of `self` exceeds a value of `other`. The bound of the second level holds for
    /// plans that spend no more than this one.
    fn bounds(self, other: Known) -> bool {
        let within = other.spend.0 <= self.spend.0;
        self.spend.1 <= other.spend.0 && (!within || self.stock.1 <= other.stock.0)
    }
}

fn plan(inputs: &Inputs, engine: Engine, effort: Effort) -> Outcome {
    let outcome = batch::plan(inputs, &Options { engine, effort, ..Options::default() });
    assert_eq!(outcome.faults, Vec::<String>::new(), "{engine:?}");
    outcome
}

/// Plans with both engines; how many groups of papers both have proven, and how many there are.
fn compare(inputs: &Inputs, effort: Effort) -> Result<(usize, usize), String> {
    let outcomes = ENGINES.map(|engine| plan(inputs, engine, effort));
    let [Some(ours), Some(theirs)] = outcomes.each_ref().map(|outcome| outcome.made.as_ref())
    else {
        return refused(&outcomes).map(|()| (0, 0));
    };
    let mut both = 0;
    for (our, their) in ours.plan.proof.iter().zip(&theirs.plan.proof) {
        let (one, other) = (Known::of(our), Known::of(their));
        if our.papers != their.papers || !one.bounds(other) || !other.bounds(one) {
            return Err(format!("{:?}: {one:?}, {:?}: {other:?}", our.papers, their.papers));
        }
        if one.proven && other.proven {
            if (one.spend.0, one.stock.0) != (other.spend.0, other.stock.0) {
                return Err(format!("{:?}: both proven, {one:?} and {other:?}", our.papers));
            }
            both += 1;
        }
    }
    match ours.plan.proof.len() == theirs.plan.proof.len() {
        true => Ok((both, ours.plan.proof.len())),
        false => Err("not the same groups".to_owned()),
    }
}

/// Where an engine finds no plan, the other may find one only if no proof says that there is none.
fn refused(outcomes: &[Outcome]) -> Result<(), String> {
    let made = outcomes.iter().any(|outcome| outcome.made.is_some());
    let titles: Vec<&str> = outcomes
        .iter()
        .flat_map(|outcome| outcome.problems.iter().map(|problem| problem.title.as_str()))
        .collect();
    match made && titles.iter().any(|title| title.contains("cannot suffice")) {
        true => Err(format!("an engine made what cannot be made: {titles:?}")),
        false => Ok(()),
    }
}

proptest! {
    #![proptest_config(cases(256))]

    #[test]
    fn no_engine_refutes_the_other(batch in batches(TINY)) {
        let compared = compare(&batch.inputs(), Effort::Quick);
        prop_assert!(compared.is_ok(), "{compared:?}");
        prop_assume!(compared != Ok((0, 0)));
    }
}

/// The same orders every time, so that it can be said how many of them both engines have to prove.
#[test]
fn both_engines_prove_tiny_orders() {
    let mut runner = TestRunner::deterministic();
    let strategy = batches(TINY);
    let (mut proven, mut groups) = (0, 0);
    for _ in 0..200 {
        let batch = strategy.new_tree(&mut runner).unwrap().current();
        let (both, all) = compare(&batch.inputs(), Effort::Normal).unwrap();
        (proven, groups) = (proven + both, groups + all);
    }
    assert!(groups > 50 && proven * 20 >= groups * 19, "{proven} of {groups} groups of papers");
}

/// gcut1 to gcut4 (Beasley 1985, JORS 36:297-306) with demands by rule.
#[test]
fn both_engines_prove_gcut_with_demands() {
    let Some(folder) = benchmarks() else {
        println!("skipped: no benchmark folder");
        return;
    };
    let mut proven = 0;
    for number in 1..=4 {
        for turned in [false, true] {
            let inputs = Instance::gcut_with_demands(&folder, number).inputs(turned);
            proven += compare(&inputs, Effort::Normal).unwrap().0;
        }
    }
    assert!(proven >= 6, "only {proven} of 8 proven by both");
}

#[test]
fn both_engines_prove_the_shipped_orders() {
    for order in [
        "orders/wedding.csv",
        "examples/metric/seating.csv",
        "examples/smallest/swap.csv",
        "examples/keepsake/keepsake.csv",
    ] {
        let (both, all) = compare(&shipped(order), Effort::Normal).unwrap();
        assert!(all > 0 && both == all, "{order}: {both} of {all}");
    }
}

#[test]
fn either_engine_gives_the_same_plan_each_time() {
    let mut runner = TestRunner::deterministic();
    let strategy = batches(TINY);
    let tiny = (0..10).map(|_| strategy.new_tree(&mut runner).unwrap().current().inputs());
    for inputs in tiny.chain([shipped("orders/wedding.csv")]) {
        for engine in ENGINES {
            let plan = |threads| {
                let options = Options { threads: Some(threads), engine, ..Options::default() };
                let made = batch::plan(&inputs, &options).made?;
                Some(serde_json::to_string(&made.plan).unwrap())
            };
            assert_eq!(plan(1), plan(3), "{engine:?}");
        }
    }
}
