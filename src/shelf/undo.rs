//! A settled batch taken back: the very bytes of before.

use super::event::{Event, digests};
use super::journal::Journal;
use super::settle::Refusal;
use super::store::Spot;
use super::unfit::told;
use crate::diagnostics::{Problem, listed};
use crate::stock::Texts;

/// A settled batch that can be taken back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reversal {
    /// The entry that is taken back.
    pub entry: u64,
    /// For the journal.
    pub event: Event,
    /// For the files.
    pub texts: Texts,
}

/// A shelf as it is, and how it came to that.
#[derive(Clone, Copy)]
pub struct Past<'a> {
    /// Every change to it.
    pub journal: &'a Journal,
    /// What is in its files.
    pub texts: &'a Texts,
    /// Where it is.
    pub spot: &'a Spot,
}

/// Works out the files as they were before the last part of a plan was settled. Nothing is written.
///
/// # Errors
/// It was not settled, or the files have changed since.
pub fn undo(batch: &str, plan: &str, past: Past<'_>) -> Result<Reversal, Refusal> {
    let Past { journal, texts, spot } = past;
    let Some((entry, settled)) = journal.last_settled(plan) else {
        let problem = Problem::error("settle-undo", format!("{batch} is not settled"));
        let problem = match journal.last_of(batch) {
            None => problem,
            Some((entry, _)) => problem
                .help(format!(
                    "an earlier plan of it was settled as entry {}; its report has been replaced",
                    entry.number
                ))
                .help(format!("`{}` goes back to before that", rebuild_before(entry.number, spot))),
        };
        return Err(problem
            .help(format!("`{}` lists what was settled", spot.command("history")))
            .into());
    };
    // A later plan of the batch goes on from this one.
    if journal.last_of(batch).is_some_and(|(last, _)| last.number > entry.number) {
        return Err(changed_since(batch, entry.number, past).into());
    }
    let shift = settled.shift.reversed();
    match shift.after(texts) {
        Some(before) => Ok(Reversal {
            entry: entry.number,
            event: Event::Undone { entry: entry.number, shift },
            texts: before,
        }),
        None => Err(changed_since(batch, entry.number, past).into()),
    }
}

/// The command that goes back to before an entry.
fn rebuild_before(entry: u64, spot: &Spot) -> String {
    format!("{} --to {}", spot.command("rebuild"), entry - 1)
}

fn changed_since(batch: &str, entry: u64, past: Past<'_>) -> Problem {
    let Past { journal, texts, spot } = past;
    let later = journal.entries().iter().filter(|later| later.number > entry);
    let what: Vec<String> = later
        .filter_map(|later| Some(format!("{} (entry {})", told(&later.event)?, later.number)))
        .collect();
    let title = format!("the shelf has changed since {batch} was settled as entry {entry}");
    let mut problem = Problem::error("settle-undo", title);
    if !what.is_empty() {
        problem = problem.help(format!(
            "{}: undo the last one first, or go back to before {batch} with `{}`",
            listed(&what),
            rebuild_before(entry, spot)
        ));
    }
    if journal.after().is_some_and(|after| *after != digests(texts)) {
        problem = problem.help("the files were edited after the last entry");
        for line in edits(journal, texts) {
            problem = problem.help(line);
        }
        problem = problem.help(format!("`{}` undoes the edit", spot.command("rebuild")));
    }
    problem
}

/// Most lines of an edit that are shown.
const SHOWN: usize = 8;

/// The lines that a person has changed since the last entry.
fn edits(journal: &Journal, texts: &Texts) -> Vec<String> {
    journal.texts().map(|known| differing_lines(&known, texts)).unwrap_or_default()
}

/// The lines in which texts differ, in short: `- old`, `+ new`.
pub fn differing_lines(old: &Texts, new: &Texts) -> Vec<String> {
    let mut lines = Vec::new();
    for (known, now) in old.each().with(new.each()).array() {
        let [known, now] = [known, now].map(|text| text.as_deref().unwrap_or_default());
        let [known, now]: [Vec<&str>; 2] = [known, now].map(|text| text.lines().collect());
        let same = known.iter().zip(&now).take_while(|(one, other)| one == other).count();
        let (known, now) = (&known[same..], &now[same..]);
        let ends = known.iter().rev().zip(now.iter().rev());
        let end = ends.take_while(|(one, other)| one == other).count();
        lines.extend(known[..known.len() - end].iter().map(|line| format!("- {line}")));
        lines.extend(now[..now.len() - end].iter().map(|line| format!("+ {line}")));
    }
    if lines.len() > SHOWN {
        let more = lines.split_off(SHOWN - 1).len();
        lines.push(format!("and {more} more lines"));
    }
    lines
}
