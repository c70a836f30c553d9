//! How sure a plan is, in plain words.

use super::Batch;
use super::answers::from_ratio;
use super::paper::{Figures, counted, sum};
use crate::diagnostics::listed;
use crate::measure::{Currency, Money};
use crate::plan::{Level, Status};

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
pub fn rows(batch: &Batch) -> Vec<ProofRow> {
    let rows = batch.made.plan.proof.iter().zip(counted(batch));
    rows.map(|(proof, counted)| ProofRow {
        papers: proof.papers.clone(),
        spend: money(&proof.spend, &batch.made.job.workshop.currency),
        stock: paper(&proof.stock, &counted, batch),
    })
    .collect()
}

fn money(level: &Level<Money>, currency: &Currency) -> LevelRow {
    let proven = level.status == Status::Optimal;
    LevelRow {
        value: currency.with_code(level.value),
        bound: currency.with_code(level.bound),
        proven,
        status: match proven {
            true => "proven".to_owned(),
            false => {
                format!("not proven: at most {} less", gap(level.value, level.bound, currency))
            }
        },
        reason: reason(level.complete_search),
    }
}

fn paper<Amount>(level: &Level<Amount>, counted: &Figures, batch: &Batch) -> LevelRow {
    let (proven, met) = (counted.is_proven, level.status == Status::Optimal);
    LevelRow {
        value: counted.used(batch),
        bound: if met { counted.used(batch) } else { counted.bound(batch) },
        proven,
        status: match (proven, counted.open(batch)) {
            (true, None) => "proven".to_owned(),
            (true, Some(open)) => format!("proven, to within {open}"),
            (false, _) => {
                let open = counted.open_part(batch).unwrap_or_default();
                format!("not proven: at most {open} less")
            }
        },
        reason: reason(level.complete_search),
    }
}

fn reason(complete_search: bool) -> &'static str {
    match complete_search {
        true => "by a search beyond the values in plan.json",
        false => "by the piece and sheet values in plan.json",
    }
}

/// `1.20 USD (2.5 %)`.
fn gap(value: Money, bound: Money, currency: &Currency) -> String {
    let less = value - bound;
    format!("{} ({})", currency.with_code(less), from_ratio(less.minor(), value.minor()))
}

/// The whole proof in a sentence.
pub fn sentence(batch: &Batch) -> String {
    let proofs = || batch.made.plan.proof.iter();
    let value = proofs().map(|proof| proof.spend.value).sum();
    let bound = proofs().map(|proof| proof.spend.bound).sum();
    let spend_is_proven = proofs().all(|proof| proof.spend.status == Status::Optimal);
    let counted = counted(batch);
    let stock_is_proven = counted.iter().all(|counted| counted.is_proven);
    // Paper may be bought for nothing.
    let nothing = batch.made.plan.sheets.iter().all(|sheet| sheet.packs_bought == 0);
    match (spend_is_proven, stock_is_proven) {
        (true, true) => {
            let proven = match nothing {
                true => "No plan uses less paper",
                false => "No plan spends less, and none as cheap uses less paper",
            };
            let open = open(batch, &counted, Figures::open);
            let within = open.map_or(String::new(), |open| format!(", to within {open}"));
            format!("{proven}{within} (proven).")
        }
        (true, false) => {
            let open = open(batch, &counted, Figures::open_part).unwrap_or_default();
            match nothing {
                true => format!("Not proven: at most {open} could be saved in paper."),
                false => format!(
                    "No plan spends less (proven). Not proven: at most {open} could be saved in paper."
                ),
            }
        }
        (false, _) => {
            let gap = gap(value, bound, &batch.made.job.workshop.currency);
            format!("Not proven: at most {gap} could be saved.")
        }
    }
}

/// How much less paper another plan could use at most, of all groups together; `None` where that is nothing.
fn open(
    batch: &Batch,
    groups: &[Figures],
    told: fn(&Figures, &Batch) -> Option<String>,
) -> Option<String> {
    let sums = [true, false].into_iter().filter_map(|is_money| sum(groups, is_money));
    let open: Vec<String> = sums.filter_map(|sum| told(&sum, batch)).collect();
    (!open.is_empty()).then(|| listed(&open))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Worth;
    use crate::plan::Plan;
    use crate::reports::fixture;

    fn sentence_of(change: impl Fn(&mut Plan)) -> String {
        let mut made = fixture::fair();
        change(&mut made.plan);
        sentence(&made.batch())
    }

    fn close(plan: &mut Plan) {
        plan.proof[0].stock.bound = plan.proof[0].stock.value;
        plan.proof[0].stock.status = Status::Optimal;
    }

    /// What was lost of three offcuts is less than a cent.
    #[test]
    fn proven_on_both_levels() {
        assert_eq!(
            sentence_of(close),
            "No plan spends less, and none as cheap uses less paper, to within 0.01 USD (proven)."
        );
    }

    #[test]
    fn proven_and_nothing_to_buy() {
        assert_eq!(sentence(&fixture::lesson().batch()), "No plan uses less paper (proven).");
    }

    #[test]
    fn nothing_to_buy_and_a_gap_in_the_paper() {
        let mut made = fixture::lesson();
        made.plan.proof[0].stock.bound = Worth::from_units(1);
        made.plan.proof[0].stock.status = Status::Gap;
        let told = sentence(&made.batch());
        let (at_most, rest) = told.split_once(" sq in (").unwrap();
        assert!(at_most.starts_with("Not proven: at most "), "{told}");
        assert!(rest.ends_with(" %) could be saved in paper."), "{told}");
    }

    /// Twenty units are a fiftieth of a sheet: 6.8 cents, beside what was lost of three offcuts.
    #[test]
    fn less_than_a_fiftieth_of_a_sheet_is_no_gap() {
        let nearly = |units: i64| {
            move |plan: &mut Plan| {
                let stock = &mut plan.proof[0].stock;
                stock.bound = Worth::from_units(stock.value.units() - units);
                stock.status = Status::Gap;
            }
        };
        assert_eq!(
            sentence_of(nearly(20)),
            "No plan spends less, and none as cheap uses less paper, to within 0.08 USD (proven)."
        );
        assert!(sentence_of(nearly(21)).contains("could be saved in paper"));
    }

    /// 36 units of 0.34 of a cent, and what three offcuts are worth beyond their twenty.
    #[test]
    fn a_gap_in_the_paper_is_told_with_its_size() {
        assert_eq!(
            sentence_of(|_| {}),
            "No plan spends less (proven). Not proven: at most 0.14 USD (0.4 %) could be saved in \
             paper."
        );
    }

    #[test]
    fn a_gap_in_the_paper_without_a_price_is_told_as_area() {
        assert_eq!(
            sentence_of(|plan| {
                close(plan);
                plan.proof[2].stock.bound = Worth::from_units(20_000);
                plan.proof[2].stock.status = Status::Gap;
            }),
            "No plan spends less (proven). Not proven: at most 0.01 USD (under 0.1 %) and 93.5 sq in \
             (4.8 %) could be saved in paper."
        );
    }

    #[test]
    fn a_gap_in_the_spend_comes_first() {
        assert_eq!(
            sentence_of(|plan| {
                plan.proof[1].spend.bound = Money::from_minor(600);
                plan.proof[1].spend.status = Status::Gap;
            }),
            "Not proven: at most 6.00 USD (50 %) could be saved."
        );
    }

    #[test]
    fn rows_say_where_each_limit_comes_from() {
        let mut made = fixture::fair();
        made.plan.proof[1].spend.complete_search = true;
        let rows = rows(&made.batch());
        assert_eq!(rows[0].stock.status, "not proven: at most 0.14 USD (0.5 %) less");
        assert_eq!(
            (rows[0].stock.value.as_str(), rows[0].stock.bound.as_str()),
            ("24.01 USD", "23.88 USD")
        );
        assert_eq!(
            (rows[2].stock.value.as_str(), rows[2].stock.status.as_str()),
            ("1963.5 sq in", "proven")
        );
        assert_eq!(rows[1].spend.status, "proven");
        assert_eq!(rows[1].spend.reason, "by a search beyond the values in plan.json");
    }
}
