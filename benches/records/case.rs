//! One case: what is planned, and what comes of it.

use crate::greedy;
use cardwright::batch::{self, Inputs, Made, Options};
use cardwright::plan::check::{Given, check};
use cardwright::plan::{Level, Proof, Status};
use std::time::{Duration, Instant};

/// What a case asks for.
pub enum Question {
    /// The fewest sheets of one size for an order.
    Sheets(Inputs),
    /// The cheapest plan of an order over any paper.
    Order(Inputs),
    /// The most a pattern of one sheet can be worth; the answer is worked out at once.
    Pattern(Box<dyn Fn() -> i64>),
}

/// One case of a set.
pub struct Case {
    /// The set it belongs to.
    pub set: &'static str,
    /// Its own name.
    pub instance: String,
    /// What is asked.
    pub question: Question,
    /// Seconds after which no better plan is sought.
    pub limit: u64,
    /// The best value known, and the best bound known.
    pub known: (Option<i64>, Option<i64>),
}

/// What came of a case. Values are sheets, minor units of money, or the worth of a pattern.
#[derive(Default)]
pub struct Outcome {
    /// Value of level 1.
    pub value: i64,
    /// Its bound.
    pub bound: i64,
    /// Value of level 2.
    pub stock: i64,
    /// Its bound.
    pub stock_bound: i64,
    /// Groups of papers.
    pub groups: usize,
    /// Groups with both levels proven.
    pub proven: usize,
    /// Levels whose proof rests on a complete search.
    pub searched: usize,
    /// What the plain greedy needs.
    pub greedy: Option<i64>,
    /// Reading, planning, the judge and the schedule.
    pub seconds: f64,
    /// The judge alone.
    pub judge_seconds: f64,
    /// What went wrong.
    pub fault: String,
}

/// The names of a row's cells.
pub const HEADER: &str = "set,instance,value,bound,stock,stock bound,groups,proven,searched,greedy,\
    known value,known bound,seconds,judge seconds,fault";

impl Case {
    /// Set and instance.
    pub fn name(&self) -> String {
        format!("{}/{}", self.set, self.instance)
    }

    /// Plans the case and measures it.
    pub fn run(&self, limit: Duration) -> Outcome {
        let started = Instant::now();
        match &self.question {
            Question::Pattern(answer) => {
                let value = answer();
                let known = self.known.0.unwrap_or(value);
                let seconds = started.elapsed().as_secs_f64();
                let proven = usize::from(value == known);
                Outcome { value, bound: known, groups: 1, proven, seconds, ..Outcome::default() }
            }
            Question::Sheets(inputs) => {
                let mut outcome = plan(inputs, limit);
                for minor in [&mut outcome.value, &mut outcome.stock] {
                    *minor /= 100;
                }
                for minor in [&mut outcome.bound, &mut outcome.stock_bound] {
                    *minor = minor.div_euclid(100) + i64::from(*minor % 100 > 0);
                }
                outcome
            }
            Question::Order(inputs) => plan(inputs, limit),
        }
    }
}

fn plan(inputs: &Inputs, limit: Duration) -> Outcome {
    let options = Options { limit: Some(limit), ..Options::default() };
    let started = Instant::now();
    let planned = batch::plan(inputs, &options);
    let seconds = started.elapsed();
    let Some(made) = planned.made else {
        let titles: Vec<String> = planned.problems.iter().map(|one| one.title.clone()).collect();
        return Outcome::failed(&[planned.faults, titles].concat().join("; "), seconds);
    };
    let started = Instant::now();
    let given = Given { bill: &made.bill, stock: &made.stock, workshop: &made.workshop };
    let accepted = check(&made.plan, &given).is_ok();
    let judge_seconds = started.elapsed().as_secs_f64();
    let outcome = Outcome { seconds: seconds.as_secs_f64(), judge_seconds, ..summed(&made) };
    match accepted {
        true => outcome,
        false => Outcome { fault: "the judge refuses the plan".to_owned(), ..outcome },
    }
}

/// The sums over all groups of papers.
fn summed(made: &Made) -> Outcome {
    let proofs = made.plan.proof.iter();
    let sum = |of: fn(&Proof) -> i64| made.plan.proof.iter().map(of).sum();
    let optimal =
        |proof: &&Proof| levels(proof).iter().all(|level| level.status == Status::Optimal);
    let searched = |proof: &Proof| levels(proof).iter().filter(|one| one.complete_search).count();
    Outcome {
        value: sum(|proof| proof.spend.value.minor()),
        bound: sum(|proof| proof.spend.bound.minor()),
        stock: sum(|proof| proof.stock.value.minor()),
        stock_bound: sum(|proof| proof.stock.bound.minor()),
        groups: made.plan.proof.len(),
        proven: proofs.clone().filter(optimal).count(),
        searched: proofs.map(searched).sum(),
        greedy: greedy::sheets(made),
        ..Outcome::default()
    }
}

fn levels(proof: &Proof) -> [&Level; 2] {
    [&proof.spend, &proof.stock]
}

impl Outcome {
    /// A case without an answer.
    pub fn failed(fault: &str, seconds: Duration) -> Outcome {
        let fault = fault.replace([',', '\n'], ";");
        Outcome { fault, seconds: seconds.as_secs_f64(), ..Outcome::default() }
    }

    /// The case's row of the table.
    pub fn row(&self, case: &Case) -> String {
        let blank = |value: Option<i64>| value.map_or(String::new(), |value| value.to_string());
        let numbers =
            [self.value, self.bound, self.stock, self.stock_bound].map(|one| one.to_string());
        let counts = [self.groups, self.proven, self.searched].map(|one| one.to_string());
        let seconds = [self.seconds, self.judge_seconds].map(|one| format!("{one:.3}"));
        [
            format!("{},{}", case.set, case.instance),
            numbers.join(","),
            counts.join(","),
            blank(self.greedy),
            [case.known.0, case.known.1].map(blank).join(","),
            seconds.join(","),
            self.fault.clone(),
        ]
        .join(",")
    }
}
