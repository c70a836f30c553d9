//! One case: what is planned, and what comes of it.

use crate::greedy;
use crate::outcome::{Figures, Outcome};
use cardwright::batch::{self, Effort, Inputs, Made, Options, Searched, Tried};
use cardwright::measure::{Ratio, Worth};
use cardwright::plan::check::check;
use cardwright::plan::{Proof, Status};
use cardwright::program::Engine;
use cardwright::stock::{Counting, Prices};
use std::collections::BTreeSet;
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
    /// How hard is tried.
    pub effort: Effort,
    /// The best value known, and the best bound known.
    pub known: (Option<i64>, Option<i64>),
}

/// What is quick is measured again until it has taken so long, or has been run so often.
const LONG: Duration = Duration::from_secs(1);
const MOST_RUNS: usize = 21;

/// The second engine, where it is built in.
const SECOND: Option<Engine> = {
    #[cfg(feature = "highs")]
    let second = Some(Engine::Highs);
    #[cfg(not(feature = "highs"))]
    let second = None;
    second
};

impl Case {
    /// Set and instance.
    pub fn name(&self) -> String {
        format!("{}/{}", self.set, self.instance)
    }

    /// How many plans are made for it, each within the limit.
    pub const PLANS: u32 = if SECOND.is_some() { 2 } else { 1 };

    /// Plans the case and measures it.
    pub fn run(&self, limit: Duration) -> Outcome {
        match &self.question {
            Question::Pattern(answer) => {
                let (value, seconds, runs) = timed(answer);
                let known = self.known.0.unwrap_or(value);
                let ours = Figures { value, bound: known, seconds, ..Figures::default() };
                let proven = usize::from(value == known);
                Outcome { ours, runs, groups: 1, proven, exact: proven, ..Outcome::default() }
            }
            Question::Sheets(inputs) => {
                let outcome = plan(inputs, (self.effort, limit));
                Outcome {
                    ours: outcome.ours.in_sheets(),
                    highs: outcome.highs.map(Figures::in_sheets),
                    greedy: outcome.greedy.map(Figures::in_sheets),
                    ..outcome
                }
            }
            Question::Order(inputs) => plan(inputs, (self.effort, limit)),
        }
    }
}

/// What `work` gives, the median of its seconds, and how often it was run.
fn timed<T>(work: impl Fn() -> T) -> (T, f64, usize) {
    let mut seconds = Vec::new();
    loop {
        let started = Instant::now();
        let result = work();
        seconds.push(started.elapsed().as_secs_f64());
        if seconds.iter().sum::<f64>() >= LONG.as_secs_f64() || seconds.len() == MOST_RUNS {
            seconds.sort_by(f64::total_cmp);
            return (result, seconds[seconds.len() / 2], seconds.len());
        }
    }
}

fn plan(inputs: &Inputs, (effort, limit): (Effort, Duration)) -> Outcome {
    let with = |engine| {
        let options = Options { limit: Some(limit), effort, engine, ..Options::default() };
        timed(|| batch::plan(inputs, &options))
    };
    let (planned, seconds, runs) = with(Engine::default());
    let Some(made) = planned.made else {
        let titles: Vec<String> = planned.problems.iter().map(|one| one.title.clone()).collect();
        let fault = [planned.faults, titles].concat().join("; ");
        return Outcome::failed(&fault, Duration::from_secs_f64(seconds));
    };
    let started = Instant::now();
    let accepted = check(&made.plan, &made.job).is_ok();
    let judge_seconds = started.elapsed().as_secs_f64();
    let (greedy, greedy_seconds, _) = timed(|| greedy::plan(&made));
    let highs = SECOND.map(with).and_then(|(planned, seconds, _)| {
        planned.made.map(|made| Figures { seconds, ..figures(&made) })
    });
    let ours = Figures { seconds, ..figures(&made) };
    let greedy = greedy.map(|(value, stock)| Figures {
        value,
        stock,
        seconds: greedy_seconds,
        ..Figures::default()
    });
    let outcome =
        Outcome { ours, runs, highs, greedy, judge_seconds, ..proofs(&made, &planned.searched) };
    Outcome { fault: fault(&outcome, accepted), ..outcome }
}

/// What must not be.
fn fault(outcome: &Outcome, accepted: bool) -> String {
    let others = [outcome.greedy, outcome.highs];
    let refutes = |other: &Figures| outcome.ours.refutes(other) || other.refutes(&outcome.ours);
    let refuted = others.iter().flatten().any(refutes);
    match (accepted, refuted) {
        (false, _) => "the judge refuses the plan".to_owned(),
        (true, true) => "a bound is above the value of a plan".to_owned(),
        (true, false) => String::new(),
    }
}

/// The sums over all groups of papers.
fn figures(made: &Made) -> Figures {
    let sum = |of: fn(&Proof) -> i64| made.plan.proof.iter().map(of).sum();
    Figures {
        value: sum(|proof| proof.spend.value.minor()),
        bound: sum(|proof| proof.spend.bound.minor()),
        stock: sum(|proof| mills(proof, proof.stock.value).nearest() as i64),
        stock_bound: sum(|proof| mills(proof, proof.stock.bound).nearest() as i64),
        seconds: 0.0,
    }
}

/// Worth in thousandths of a minor unit; where area counts, its units.
fn mills(proof: &Proof, worth: Worth) -> Ratio {
    let unit = proof.unit.map(|[above, below]| Ratio::new(above.into(), below.into()));
    let mill = unit.map(|unit| &unit * 1_000);
    &mill.unwrap_or(Ratio::whole(1)) * i128::from(worth.units())
}

/// What was tried last for the levels that have a gap.
fn tried(made: &Made, searched: &Searched) -> String {
    let groups = made.plan.proof.iter().zip(&searched.tried);
    let open = groups.flat_map(|(proof, tried)| {
        let gaps = [&proof.spend.status, &proof.stock.status].map(|it| *it != Status::Optimal);
        (1..).zip(*tried).zip(gaps).filter(|(_, gap)| *gap).map(|(level, _)| level)
    });
    let open = open.map(|(level, tried)| match tried {
        Some(Tried { way, again }) => format!("level {level}: {way:?} after {again} rounds"),
        None => format!("level {level}: nothing"),
    });
    open.collect::<BTreeSet<String>>().into_iter().collect::<Vec<_>>().join(" / ")
}

/// How many groups and levels are proven.
fn proofs(made: &Made, searched: &Searched) -> Outcome {
    let prices = Prices::of(&made.job.stock, &made.job.workshop);
    let little = |proof: &Proof| {
        let has = |paper: &str| proof.papers.iter().any(|own| own == paper);
        Counting::of(has, &made.job.stock, &prices, &made.job.workshop).units().little
    };
    let open = |proof: &Proof| proof.stock.value.units() - proof.stock.bound.units();
    let spends_least = || made.plan.proof.iter().filter(|it| it.spend.status == Status::Optimal);
    let by_search = |proof: &Proof| {
        usize::from(proof.spend.complete_search) + usize::from(proof.stock.complete_search)
    };
    Outcome {
        groups: made.plan.proof.len(),
        proven: spends_least().filter(|proof| open(proof) <= little(proof)).count(),
        exact: spends_least().filter(|proof| open(proof) == 0).count(),
        searched: made.plan.proof.iter().map(by_search).sum(),
        tried: tried(made, searched),
        ..Outcome::default()
    }
}
