//! Whether it would be cheaper to buy otherwise.

use super::Batch;
use crate::measure::Money;
use crate::plan::worth_used;
use crate::quote::{Bought, OtherBuying};
use crate::stock::{Prices, rounded};

/// What is known of other ways to buy: what the proof says of all, and what planning anew says of some.
pub fn sentences(batch: &Batch) -> Vec<String> {
    let mut sentences = vec![proven(batch)];
    sentences.extend(batch.other_buying.iter().filter_map(|other| told(other, batch)));
    let more = || batch.other_buying.iter().filter(|other| other.how == Bought::OneMore);
    if more().next().is_some() && !more().any(|other| told(other, batch).is_some()) {
        sentences.push(
            "One more pack of any of them would not help: no less paper would be used.".to_owned(),
        );
    }
    sentences
}

/// Whether another number of packs, or sheets of another size, would be cheaper.
fn proven(batch: &Batch) -> String {
    let proof = batch.made.plan.proof.iter();
    let missed: Money = proof.map(|proof| proof.spend.value - proof.spend.bound).sum();
    match missed > Money::ZERO {
        false => {
            "No other choice of packs and sheet sizes on your list is cheaper (proven).".to_owned()
        }
        true => format!(
            "Another choice of packs and sheet sizes on your list could save at most {}.",
            batch.made.job.workshop.currency.with_code(missed)
        ),
    }
}

/// What one other way comes to; `None` of a pack more that brings nothing.
fn told(other: &OtherBuying, batch: &Batch) -> Option<String> {
    let currency = &batch.made.job.workshop.currency;
    let totals = &batch.made.plan.totals;
    let prices = Prices::of(&batch.made.job.stock, &batch.made.job.workshop);
    let used = worth_used(&batch.made.plan, &batch.made.job.stock, &prices);
    let OtherBuying { how, sheet, paper, .. } = other;
    let Some((spend, stock)) = other.spend.zip(other.stock.clone()) else {
        return (*how == Bought::Alone)
            .then(|| format!("If all {paper} came from {sheet}, the order could not be made."));
    };
    let (more, saved) = (spend - totals.spend, used - stock);
    let cheaper = || {
        let less = currency.with_code(Money::ZERO - more);
        format!("a plan was found that spends {less} less: plan again with `--effort long`")
    };
    match how {
        Bought::Alone if more < Money::ZERO => {
            Some(format!("Buying {paper} as {sheet} alone, {}.", cheaper()))
        }
        // Most often the plan is just that.
        Bought::Alone if more == Money::ZERO => None,
        Bought::Alone => Some(format!(
            "Buying {paper} as {sheet} alone costs {}{} more.",
            // What was found may not be the least.
            if other.proven { "" } else { "at most " },
            currency.with_code(more)
        )),
        Bought::OneMore if more < Money::ZERO => {
            Some(format!("With one more pack of {sheet}, {}.", cheaper()))
        }
        Bought::OneMore if saved.is_positive() => Some(format!(
            "One more pack of {sheet} costs {} more now, and uses paper worth {} less; what is left stays \
             on the shelf.",
            currency.with_code(more),
            match rounded(&saved) {
                Money::ZERO => format!("under {}", currency.with_code(Money::from_minor(1))),
                saved => currency.with_code(saved),
            }
        )),
        Bought::OneMore => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Ratio;
    use crate::reports::fixture;

    fn told_of(how: Bought, spend: Option<i64>, less_stock: i64) -> Vec<String> {
        told_as(true, how, spend, less_stock)
    }

    fn told_as(proven: bool, how: Bought, spend: Option<i64>, less_stock: i64) -> Vec<String> {
        let made = fixture::fair();
        let totals = &made.plan.totals;
        let prices = Prices::of(&made.job.stock, &made.job.workshop);
        let used = worth_used(&made.plan, &made.job.stock, &prices);
        let money = |now: Money, more: i64| now + Money::from_minor(more);
        let other = OtherBuying {
            how,
            sheet: "fern-12".to_owned(),
            paper: "fern".to_owned(),
            spend: spend.map(|more| money(totals.spend, more)),
            stock: spend.map(|_| used.clone() - Ratio::whole(less_stock.into())),
            proven,
        };
        let others = [other];
        sentences(&Batch { other_buying: &others, ..made.batch() })
    }

    #[test]
    fn one_sheet_alone_is_dearer_or_not_enough() {
        let told = told_of(Bought::Alone, Some(310), 0);
        assert_eq!(told[1], "Buying fern as fern-12 alone costs 3.10 USD more.");
        let told = told_as(false, Bought::Alone, Some(310), 0);
        assert_eq!(told[1], "Buying fern as fern-12 alone costs at most 3.10 USD more.");
        let told = told_of(Bought::Alone, None, 0);
        assert_eq!(told[1], "If all fern came from fern-12, the order could not be made.");
        let told = told_of(Bought::Alone, Some(-5), 0);
        assert_eq!(
            told[1],
            "Buying fern as fern-12 alone, a plan was found that spends 0.05 USD less: plan again with \
             `--effort long`."
        );
    }

    #[test]
    fn a_pack_more_is_told_where_it_saves_paper() {
        let told = told_of(Bought::OneMore, Some(110), 40);
        assert_eq!(
            told[1],
            "One more pack of fern-12 costs 1.10 USD more now, and uses paper worth 0.40 USD less; what is \
             left stays on the shelf."
        );
        let told = told_of(Bought::OneMore, Some(110), 0);
        assert!(told[1].starts_with("One more pack of any of them would not help"), "{told:?}");
        assert_eq!(sentences(&fixture::fair().batch()).len(), 1, "nobody asked");
    }
}
