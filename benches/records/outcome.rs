//! What comes of a case, as a row of the table.

use crate::case::Case;
use std::time::Duration;

/// Values and bounds, in sheets, minor units of money, or the worth of a pattern; of stock in thousandths of a minor unit.
#[derive(Clone, Copy, Default)]
pub struct Figures {
    /// Value of level 1.
    pub value: i64,
    /// Its bound.
    pub bound: i64,
    /// Value of level 2.
    pub stock: i64,
    /// Its bound.
    pub stock_bound: i64,
    /// How long it took.
    pub seconds: f64,
}

/// What came of a case.
#[derive(Default)]
pub struct Outcome {
    /// The plan with the usual engine: reading, planning, the judge and the schedule.
    pub ours: Figures,
    /// How often that was measured; the seconds are the median.
    pub runs: usize,
    /// The same way with the second engine.
    pub highs: Option<Figures>,
    /// What the plain greedy needs; it has no bounds.
    pub greedy: Option<Figures>,
    /// Groups of papers.
    pub groups: usize,
    /// Groups with level 1 proven, and level 2 to within a fiftieth of the cheapest full sheet.
    pub proven: usize,
    /// Those of which level 2 is proven to the last unit.
    pub exact: usize,
    /// Levels whose proof rests on a complete search.
    pub searched: usize,
    /// What was tried last for the levels that have a gap.
    pub tried: String,
    /// The judge alone.
    pub judge_seconds: f64,
    /// What went wrong.
    pub fault: String,
}

/// The names of a row's cells.
pub const HEADER: &str = "set,instance,value,bound,stock,stock bound,seconds,groups,proven,exact,searched,tried last,\
    known value,known bound,judge seconds,runs,greedy value,greedy stock,greedy seconds,\
    highs value,highs bound,highs stock,highs stock bound,highs seconds,fault";

impl Figures {
    /// Hundredths of the currency as sheets of 1.00 each; bounds are rounded up.
    pub fn in_sheets(self) -> Figures {
        let up = |minor: i64| minor.div_euclid(100) + i64::from(minor % 100 > 0);
        Figures {
            value: self.value / 100,
            bound: up(self.bound),
            stock: self.stock / 100,
            stock_bound: up(self.stock_bound),
            ..self
        }
    }

    /// Whether a bound of `self` exceeds a value of `other`. The bound of level 2 holds for plans that
    /// spend no more than this one in any group of papers.
    pub fn refutes(&self, other: &Figures) -> bool {
        let as_cheap = self.value == self.bound && other.value == self.value;
        other.value < self.bound || (as_cheap && other.stock < self.stock_bound)
    }
}

impl Outcome {
    /// A case without an answer.
    pub fn failed(fault: &str, seconds: Duration) -> Outcome {
        let ours = Figures { seconds: seconds.as_secs_f64(), ..Figures::default() };
        Outcome { ours, fault: fault.replace([',', '\n'], ";"), ..Outcome::default() }
    }

    /// The case's row of the table.
    pub fn row(&self, case: &Case) -> String {
        let blank = |value: Option<i64>| value.map_or(String::new(), |value| value.to_string());
        let [value, bound, stock, stock_bound, seconds] = cells(Some(self.ours));
        let [greedy, _, greedy_stock, _, greedy_seconds] = cells(self.greedy);
        [
            case.set.to_owned(),
            case.instance.clone(),
            [value, bound, stock, stock_bound, seconds].join(","),
            [self.groups, self.proven, self.exact, self.searched]
                .map(|one| one.to_string())
                .join(","),
            self.tried.clone(),
            [case.known.0, case.known.1].map(blank).join(","),
            format!("{:.6},{}", self.judge_seconds, self.runs),
            [greedy, greedy_stock, greedy_seconds].join(","),
            cells(self.highs).join(","),
            self.fault.clone(),
        ]
        .join(",")
    }
}

fn cells(figures: Option<Figures>) -> [String; 5] {
    figures.map_or_else(Default::default, |one| {
        let [value, bound, stock, stock_bound] =
            [one.value, one.bound, one.stock, one.stock_bound].map(|number| number.to_string());
        [value, bound, stock, stock_bound, format!("{:.6}", one.seconds)]
    })
}
