//! What is said where a plan makes the rest of a batch: what was done before, and what is left.

use super::Batch;
use super::answers::duration;
use crate::diagnostics::counted;
use crate::measure::Money;
use crate::pieces::{Before, Tally};
use crate::plan::PlannedPiece;

/// Whether the rest can be made, and how much of the batch it is; `None` where the plan makes all of it.
pub fn verdict(batch: &Batch) -> Option<String> {
    batch.made.job.before.as_ref()?;
    let left: u64 = pieces(batch).map(PlannedPiece::wanted).sum();
    let all = left + pieces(batch).map(|piece| piece.done).sum::<u64>();
    Some(format!("the rest can be made: {left} of {} to cut", counted(all, "piece")))
}

/// `338 pieces cut, 7 spoiled; 83.20 USD spent, 2 h 10 min at the trimmer`.
pub fn short(batch: &Batch) -> Option<String> {
    let before = batch.made.job.before.as_ref()?;
    let [finished, spoiled] = sums(before);
    let mut parts = vec![format!("{} cut", counted(finished, "piece"))];
    parts.extend((spoiled > 0).then(|| format!("{spoiled} spoiled")));
    let currency = &batch.made.job.workshop.currency;
    let spent =
        (before.spent > Money::ZERO).then(|| format!("{} spent", currency.with_code(before.spent)));
    let time = (before.seconds > 0).then(|| format!("{} at the trimmer", duration(before.seconds)));
    let cost: Vec<String> = spent.into_iter().chain(time).collect();
    let parts = parts.join(", ");
    Some(if cost.is_empty() { parts } else { format!("{parts}; {}", cost.join(", ")) })
}

/// The same at length; nothing where the plan makes all of the batch.
pub fn sentences(batch: &Batch) -> Vec<String> {
    let Some(before) = &batch.made.job.before else { return Vec::new() };
    let order = &batch.made.plan.order;
    let done = short(batch).unwrap_or_default();
    let mut said = vec![format!("This is part {} of {order}. Before: {done}.", before.parts + 1)];
    said.push(
        "Stacks that waited lie in the drawer: fetch them with the paper, by the names written on them."
            .to_owned(),
    );
    said.push(
        "Scoring, folding, gluing and packing are for all pieces, those cut before too. Prices are for \
         the whole batch."
            .to_owned(),
    );
    said
}

fn pieces<'a>(batch: &'a Batch) -> impl Iterator<Item = &'a PlannedPiece> {
    batch.made.plan.pieces.iter()
}

/// Pieces cut and pieces spoiled.
fn sums(before: &Before) -> [u64; 2] {
    let finished = before.pieces.iter().map(|tally| tally.finished).sum();
    let spoiled = before.pieces.iter().map(Tally::all_spoiled).sum();
    [finished, spoiled]
}
