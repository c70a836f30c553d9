//! What is said of a plan that lies there as a file and is sound: by what it was judged, what is proven, and what is not.

use super::answers::from_ratio;
use super::visible::shown;
use crate::diagnostics::listed;
use crate::measure::{Currency, Money, Ratio};
use crate::plan::check::{OnTrust, Unseen, Verdict};
use crate::plan::{Plan, Proof, Status};
use crate::stock::rounded;

/// What a plan was held against.
#[derive(Clone, Debug, PartialEq)]
pub enum Against {
    /// The order, stock and bench that were named.
    Named,
    /// Those that its report folder keeps.
    Kept,
    /// The same, but for the bench of this name.
    KeptBut(String),
    /// Itself and the bench of this name.
    Bench(String),
    /// Itself and a bench of defaults.
    Defaults,
}

/// A sound plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// Its file.
    pub name: String,
    /// What it was held against.
    pub against: Against,
    /// The plan.
    pub plan: Plan,
    /// What is not proven of it.
    pub verdict: Verdict,
}

impl Judged {
    /// A paragraph for a person.
    pub fn text(&self) -> String {
        let rows = rows(&[
            ("Judged by", self.against()),
            ("Checked", "every cut, count, area and sum".to_owned()),
            ("Proven", self.proven()),
            ("On trust", listed(&self.trusted())),
            ("Not seen", listed(&self.unseen())),
        ]);
        format!("\n{}\n{rows}", shown(&self.name))
    }

    /// Only what a person has to take on trust; nothing where all is proven by the plan's own order.
    pub fn doubts(&self) -> String {
        let trusted = ("On trust", listed(&self.trusted()));
        match self.against {
            Against::Named | Against::Kept => rows(&[trusted]),
            _ => rows(&[
                ("Judged by", self.against()),
                trusted,
                ("Not seen", listed(&self.unseen())),
            ]),
        }
    }

    /// By what it was judged, in words.
    pub fn against(&self) -> String {
        match &self.against {
            Against::Named => "the order, stock and bench named here".to_owned(),
            Against::Kept => "its own order, stock and bench, kept in origin.json".to_owned(),
            Against::KeptBut(bench) => {
                format!("its own order and stock, kept in origin.json, and the bench {bench}")
            }
            Against::Bench(bench) => format!("what it records itself, and the bench {bench}"),
            Against::Defaults => "what it records itself, and the default bench".to_owned(),
        }
    }

    /// `7 of 8 limits on money and paper; 7 of 8 are reached`.
    fn proven(&self) -> String {
        let levels = || self.plan.proof.iter().flat_map(Proof::statuses);
        let all = levels().count();
        if self.verdict.unseen.contains(&Unseen::Bounds) {
            return "no limit".to_owned();
        }
        let of_all = |count: usize| match count == all {
            true => format!("all {all}"),
            false => format!("{count} of {all}"),
        };
        let best = levels().filter(|status| *status == Status::Optimal).count();
        let proven = all - self.verdict.searched.len();
        format!("{} limits on money and paper; {} are reached", of_all(proven), of_all(best))
    }

    /// Each bound that rests on a search.
    pub fn trusted(&self) -> Vec<String> {
        let currency = Currency::new(&self.plan.currency);
        let amount = |minor: Money| match &currency {
            Some(currency) => currency.with_code(minor),
            None => minor.minor().to_string(),
        };
        let told = |OnTrust { papers, level, bound, proven, unit }: &OnTrust| {
            let of = if *level == "spend" { "money for" } else { "worth of" };
            let found = match unit {
                Some(unit) => {
                    // Rounded down: no more than was found is told.
                    let told = |units: i128| amount(rounded(&Ratio::whole((unit * units).floor())));
                    let bound = told(i128::from(*bound));
                    let proven = told(*proven);
                    format!("below {bound} ({of} {papers}); here {proven} is")
                }
                // Units of area tell nobody anything, their ratio does.
                None => {
                    let part = from_ratio(i64::try_from(*proven).unwrap_or_default(), *bound);
                    format!("with less {papers}; here {part} of that is")
                }
            };
            format!("a search found no plan {found} proven")
        };
        self.verdict.searched.iter().map(told).collect()
    }

    /// Each thing that could not be looked at.
    pub fn unseen(&self) -> Vec<String> {
        self.verdict.unseen.iter().map(ToString::to_string).collect()
    }
}

/// A line for each row in which something is said.
fn rows(rows: &[(&str, String)]) -> String {
    let rows = rows.iter().filter(|(_, said)| !said.is_empty());
    rows.map(|(title, said)| format!("  {title:<10} {}\n", shown(said))).collect()
}
