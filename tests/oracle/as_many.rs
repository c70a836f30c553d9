//! The most sets of each line against all counts of tiny orders, each tried by exhaustive search.

use super::orders::{Counts, TINY, reached};
use crate::bench::batches::{Batch, batches};
use crate::bench::cases;
use cardwright::batch::{IfShort, Options, Outcome};
use cardwright::orders::SetCount;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

/// As many as can be made, line by line.
fn most(batch: &Batch) -> Counts {
    let all = reached(batch, &vec![0; batch.stock().count()]);
    let is_enough = |wanted: &Counts| {
        all.keys().any(|cut| cut.iter().zip(wanted).all(|(cut, wanted)| cut >= wanted))
    };
    let mut wanted = vec![0; batch.lines.len()];
    let most = batch.lines.iter().enumerate().map(|(at, line)| {
        let with = |count: u64| if count == 0 { 0 } else { count + batch.rules.spares };
        let fits = |count: &u64| {
            wanted[at] = with(*count);
            is_enough(&wanted)
        };
        let count = (0..=line.count).rev().find(fits).unwrap();
        wanted[at] = with(count);
        count
    });
    most.collect()
}

/// The batch where hardly anything can be bought.
fn scarce(mut batch: Batch) -> Batch {
    let few = batch.sheets.iter_mut().skip(1);
    few.for_each(|sheet| (sheet.price, sheet.on_hand) = (None, sheet.on_hand.max(1)));
    if batch.lines.len() > 1 {
        batch.sheets[0].price = None;
    }
    batch
}

fn planned(batch: &Batch) -> Outcome {
    let if_short = IfShort::AsMany;
    batch.plan_with(Options { threads: Some(1), if_short, ..Options::default() })
}

/// What is planned of each line, and beyond how many it is proven that there are no more; `None` where the order has
/// mistakes.
fn counted(batch: &Batch, outcome: &Outcome) -> Option<Vec<SetCount>> {
    let all = |made: bool| {
        let count = |line: &crate::bench::batches::Line| SetCount {
            line: line.name.clone(),
            ordered: line.count,
            found: if made { line.count } else { 0 },
            most: if made { line.count } else { 0 },
        };
        batch.lines.iter().map(count).collect()
    };
    match &outcome.made {
        Some(made) if made.job.part.is_empty() => Some(all(true)),
        Some(made) => Some(made.job.part.clone()),
        None => {
            let nothing = "can be made: no complete card".to_owned();
            let told = |it: &&cardwright::diagnostics::Problem| {
                it.help.iter().any(|help| help.starts_with(&nothing))
            };
            outcome.problems.iter().find(told).map(|_| all(false))
        }
    }
}

/// Whether all of it is proven; an error tells of a count that all counts refute.
fn compare(batch: &Batch) -> Result<Option<bool>, String> {
    let outcome = planned(batch);
    let Some(counts) = counted(batch, &outcome) else { return Ok(None) };
    let best = most(batch);
    for (count, &best) in counts.iter().zip(&best) {
        if count.found > best || best > count.most {
            return Err(format!("best {best} of {count:?} in {counts:?}"));
        }
        if count.found < best {
            // Lines after it had more paper.
            return Ok(Some(false));
        }
    }
    if let Some(made) = &outcome.made {
        let planned: Vec<u64> = made.job.order.lines.iter().map(|line| line.count.value).collect();
        let wanted: Vec<u64> = best.into_iter().filter(|count| *count > 0).collect();
        if planned != wanted {
            return Err(format!("planned {planned:?}, not {wanted:?}"));
        }
    }
    Ok(Some(counts.iter().all(|count| count.found == count.most)))
}

proptest! {
    // Most of such orders can be made whole, which says nothing here.
    #![proptest_config(ProptestConfig { max_global_rejects: 2_000, ..cases(128) })]

    #[test]
    fn the_most_sets_lie_between_what_is_told(batch in batches(TINY).prop_map(scarce)) {
        let compared = compare(&batch);
        prop_assert!(compared.is_ok(), "{:?}", compared);
        prop_assume!(compared != Ok(None));
    }
}

/// The same orders every time, so that it can be said how many have to be proven.
#[test]
fn the_most_sets_of_tiny_orders_are_proven() {
    let mut runner = TestRunner::deterministic();
    let (mut tried, mut in_part, mut open) = (0, 0, Vec::new());
    for _ in 0..300 {
        let batch = scarce(batches(TINY).new_tree(&mut runner).unwrap().current());
        match compare(&batch) {
            Ok(None) => continue,
            Ok(Some(true)) => {}
            Ok(Some(false)) => open.push(batch.clone()),
            Err(why) => panic!("{why}\n{batch:#?}"),
        }
        tried += 1;
        let best = most(&batch);
        in_part += u32::from(best.iter().zip(&batch.lines).any(|(best, line)| *best < line.count));
    }
    assert!(tried >= 60 && in_part >= 20, "{tried} orders, {in_part} of them in part");
    assert!(open.len() * 50 <= tried, "of {tried} not proven: {open:#?}");
}

/// Four of the first leave room for one of the second; were the second first, it would have two.
#[test]
fn paper_goes_to_the_earlier_line() {
    let batch = Batch::plain(&[(2, 2, 5), (4, 4, 2)], &[(4, 4, 2, None)], &[]);
    assert_eq!(most(&batch), [5, 0]);
    assert_eq!(compare(&batch), Ok(Some(true)));
    let batch = Batch::plain(&[(2, 2, 4), (4, 4, 2)], &[(4, 4, 2, None)], &[]);
    assert_eq!(most(&batch), [4, 1]);
    assert_eq!(compare(&batch), Ok(Some(true)));
    let batch = Batch::plain(&[(4, 4, 2), (2, 2, 4)], &[(4, 4, 2, None)], &[]);
    assert_eq!(most(&batch), [2, 0]);
    assert_eq!(compare(&batch), Ok(Some(true)));
}
