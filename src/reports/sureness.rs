//! How sure a plan is, in plain words.

use super::answers::from_ratio;
use crate::measure::{Currency, Money};
use crate::plan::{Level, Plan, Status};

/// The proof of one group of papers.
#[derive(Clone, Debug, PartialEq)]
pub struct ProofRow {
    /// Its papers.
    pub papers: Vec<String>,
    /// Money spent.
    pub spend: LevelRow,
    /// Value of the paper used.
    pub stock: LevelRow,
}

/// One level of a proof.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelRow {
    /// What this plan has.
    pub value: String,
    /// What every plan has at least.
    pub bound: String,
    /// Whether both meet.
    pub proven: bool,
    /// In words: `proven`, or how far apart.
    pub status: String,
    /// Where the limit comes from.
    pub reason: &'static str,
}

/// A row for each group of papers.
pub fn rows(plan: &Plan, currency: &Currency) -> Vec<ProofRow> {
    plan.proof
        .iter()
        .map(|proof| ProofRow {
            papers: proof.papers.clone(),
            spend: level(&proof.spend, currency),
            stock: level(&proof.stock, currency),
        })
        .collect()
}

fn level(level: &Level, currency: &Currency) -> LevelRow {
    let proven = level.status == Status::Optimal;
    LevelRow {
        value: currency.with_code(level.value),
        bound: currency.with_code(level.bound),
        proven,
        status: match proven {
            true => "proven".to_owned(),
            false => format!("open: {} less", gap(level.value, level.bound, currency)),
        },
        reason: match level.complete_search {
            true => "by a search beyond the values in plan.json",
            false => "by the piece and sheet values in plan.json",
        },
    }
}

/// `at most 1.20 USD (2.5 %)`.
fn gap(value: Money, bound: Money, currency: &Currency) -> String {
    let less = value - bound;
    format!("at most {} ({})", currency.with_code(less), from_ratio(less.minor(), value.minor()))
}

/// Value and bound of one level over all groups, and whether every group is proven.
struct Sum {
    value: Money,
    bound: Money,
    proven: bool,
}

fn sum(plan: &Plan, level: fn(&crate::plan::Proof) -> &Level) -> Sum {
    let levels = || plan.proof.iter().map(level);
    Sum {
        value: levels().map(|level| level.value).sum(),
        bound: levels().map(|level| level.bound).sum(),
        proven: levels().all(|level| level.status == Status::Optimal),
    }
}

/// The whole proof in one or two sentences, without a full stop at the end.
pub fn sentence(plan: &Plan, currency: &Currency) -> String {
    let spend = sum(plan, |proof| &proof.spend);
    let stock = sum(plan, |proof| &proof.stock);
    // Paper may be bought for nothing.
    let nothing = plan.sheets.iter().all(|sheet| sheet.packs_bought == 0);
    match (spend.proven, stock.proven) {
        (true, true) if nothing => {
            "proven: nothing has to be bought, and no plan uses less paper".to_owned()
        }
        (true, true) => {
            "proven: no plan can spend less, and none that spends as little uses less paper"
                .to_owned()
        }
        (true, false) => format!(
            "proven: no plan can spend less; one that uses less paper may exist, by {}",
            gap(stock.value, stock.bound, currency)
        ),
        (false, _) => format!(
            "not proven: a plan that spends less may exist, by {}",
            gap(spend.value, spend.bound, currency)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture;

    fn sentence_of(change: fn(&mut Plan)) -> String {
        let mut plan = fixture::fair().plan;
        change(&mut plan);
        sentence(&plan, &Currency::new("USD").unwrap())
    }

    fn close(plan: &mut Plan) {
        plan.proof[0].stock.bound = plan.proof[0].stock.value;
        plan.proof[0].stock.status = Status::Optimal;
    }

    #[test]
    fn proven_on_both_levels() {
        assert_eq!(
            sentence_of(close),
            "proven: no plan can spend less, and none that spends as little uses less paper"
        );
    }

    #[test]
    fn proven_and_nothing_to_buy() {
        let plan = fixture::lesson().plan;
        assert_eq!(
            sentence(&plan, &Currency::new("USD").unwrap()),
            "proven: nothing has to be bought, and no plan uses less paper"
        );
    }

    #[test]
    fn a_gap_in_the_paper_is_told_with_its_size() {
        assert_eq!(
            sentence_of(|_| {}),
            "proven: no plan can spend less; one that uses less paper may exist, \
             by at most 0.12 USD (0.3 %)"
        );
    }

    #[test]
    fn a_gap_in_the_spend_comes_first() {
        assert_eq!(
            sentence_of(|plan| {
                plan.proof[1].spend.bound = Money::from_minor(600);
                plan.proof[1].spend.status = Status::Gap;
            }),
            "not proven: a plan that spends less may exist, by at most 6.00 USD (50 %)"
        );
    }

    #[test]
    fn rows_say_where_each_limit_comes_from() {
        let mut plan = fixture::fair().plan;
        plan.proof[1].spend.complete_search = true;
        let rows = rows(&plan, &Currency::new("USD").unwrap());
        assert_eq!(rows[0].stock.status, "open: at most 0.12 USD (0.5 %) less");
        assert_eq!(rows[1].spend.status, "proven");
        assert_eq!(rows[1].spend.reason, "by a search beyond the values in plan.json");
    }
}
