//! The judge accepts every honest plan and finds every broken rule.

mod by_hand;
mod certificates;
mod fields;
mod limits;
mod lying;
mod made;
mod mutations;
mod patterns;
mod proofs;
mod published;
mod ranges;
mod reading;
mod stages;

use crate::bench::cases;
use crate::bench::schema_faults;
use cardwright::job::Job;
use cardwright::orders::Order;
use cardwright::plan::check::{Fault, check, check_alone};
use cardwright::plan::{JSON_SCHEMA, Plan};
pub use made::leaves;
use made::{Made, Parts, choices, make};
use mutations::mutations;
use proptest::prelude::*;
use proptest::strategy::ValueTree;

impl Made {
    pub fn job(&self) -> Job {
        let Made { bill, stock, workshop, .. } = self.clone();
        let order = Order { name: "spring".to_owned(), lines: Vec::new() };
        Job { order, stock, workshop, bill, before: None, part: Vec::new() }
    }

    fn judged(&self) -> Result<(), Vec<Fault>> {
        check(&self.plan, &self.job()).map(drop)
    }

    /// The same bill, stock and runs, with all sums made anew.
    fn again(self) -> Made {
        let Made { plan, bill, stock, workshop } = self;
        let (runs, offcuts) = (plan.runs, plan.offcuts);
        let made = Parts { workshop, stock, pieces: bill.pieces, runs, offcuts }.made();
        assert_eq!(made.judged(), Ok(()));
        made
    }

    fn faults(&self) -> Vec<Fault> {
        self.judged().err().unwrap_or_default()
    }
}

#[test]
fn the_schema_is_one() {
    let schema: serde_json::Value = serde_json::from_str(JSON_SCHEMA).unwrap();
    jsonschema::draft202012::meta::validate(&schema).unwrap();
}

proptest! {
    #![proptest_config(cases(256))]

    #[test]
    fn honest_plans_are_accepted(choices in choices()) {
        let made = make(choices);
        prop_assert_eq!(made.judged(), Ok(()));
        prop_assert_eq!(check_alone(&made.plan, &made.workshop).map(drop), Ok(()));
    }

    #[test]
    fn honest_plans_fit_the_schema_and_come_back_the_same(choices in choices()) {
        let made = make(choices);
        let text = serde_json::to_string(&made.plan).unwrap();
        let again: Plan = serde_json::from_str(&text).unwrap();
        prop_assert_eq!(&again, &made.plan);
        prop_assert_eq!(serde_json::to_string(&again).unwrap(), text.clone());
        let value = serde_json::from_str(&text).unwrap();
        prop_assert_eq!(schema_faults(&value), Vec::<String>::new());
    }

    #[test]
    fn a_broken_rule_is_found(choices in choices(), index in any::<prop::sample::Index>()) {
        let mutation = *index.get(&mutations());
        let mut made = make(choices);
        prop_assume!((mutation.breaks)(&mut made));
        let faults = made.faults();
        let found = faults.iter().any(|fault| (mutation.found)(fault));
        prop_assert!(found, "`{}` gave {:?}", mutation.name, faults);
    }
}

/// Each mutation on its own, so that none is left out by chance.
#[test]
fn every_rule_can_be_broken_and_is_found() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let samples: Vec<Vec<u32>> = (0..200).map(|_| sample(&mut runner)).collect();
    for mutation in mutations() {
        let mut applied = 0;
        for choices in &samples {
            let mut made = make(choices.clone());
            if (mutation.breaks)(&mut made) {
                applied += 1;
                let faults = made.faults();
                let found = faults.iter().any(|fault| (mutation.found)(fault));
                assert!(found, "`{}` gave {faults:?}", mutation.name);
            }
        }
        assert!(applied > 0, "`{}` never applied", mutation.name);
    }
}

fn sample(runner: &mut proptest::test_runner::TestRunner) -> Vec<u32> {
    choices().new_tree(runner).unwrap().current()
}

/// A message for every fault, without the program's own words for things.
#[test]
fn faults_read_as_sentences() {
    let mut made = make(vec![7; 40]);
    made.plan.totals.runs += 1;
    let faults = made.faults();
    let runs = made.plan.totals.runs;
    let expected = format!("the total `runs` is {runs}, the plan adds up to {}", runs - 1);
    assert_eq!(faults[0].to_string(), expected);
}
