//! What cannot be, as a person is told.

use super::Course;
use crate::diagnostics::{Problem, counted, listed};
use crate::job::Job;
use crate::pieces::Tally;
use crate::plan::Reached;
use crate::schedule::{Astray, OnBench};

/// Most things that a message names.
const NAMED: usize = 12;

impl Course<'_> {
    pub(super) fn astray(&self, to: Reached, astray: Astray) -> Problem {
        let name = &self.plan().order;
        match astray {
            Astray::NoStep { last } => {
                let title = format!("the schedule of {name} has no step {}", to.step);
                Problem::error("settle-step", title).help(match last {
                    0 => "nothing in it has to be cut".to_owned(),
                    last => format!("its last one is step {last}"),
                })
            }
            Astray::NoLift { lifts } => {
                let title = format!("step {} has {}", to.step, counted(lifts, "lift"));
                Problem::error("settle-step", title)
                    .help(format!("for all of it, write `--done {}`", to.step))
            }
            Astray::Behind { reached } => {
                let title = format!("{name} is settled up to {reached} already");
                Problem::error("settle-step", title)
                    .help("`--done` counts from the first step: name a later one")
                    .help("or take the last part back first, with `--undo`")
            }
        }
    }

    pub(super) fn by_runs(&self) -> Problem {
        let title = format!("part of {} is settled by runs", self.plan().order);
        Problem::error("settle-mixed", title)
            .help("settle the rest with `--partly`, or take that part back first, with `--undo`")
    }

    pub(super) fn by_steps(&self) -> Problem {
        let title = format!("part of {} is settled by steps", self.plan().order);
        Problem::error("settle-mixed", title)
            .help("settle the rest with `--done`, or all of it without an option")
    }

    pub(super) fn unknown_steps(&self, what: &str) -> Problem {
        let title = format!("the report of {} does not say {what}", self.plan().order);
        Problem::error("settle-steps", title)
            .help("it was made by another version of Cardwright")
            .help("settle by runs, with `--partly`")
    }

    /// No stack of this name waits, or too few plates lie on it.
    pub(super) fn not_there(&self, name: &str, count: u64, there: u64, bench: &OnBench) -> Problem {
        let title = match there {
            0 => format!("there is no piece and no waiting stack `{name}`"),
            there => format!("stack {name} has {}, not {count}", counted(there, "sheet")),
        };
        let pieces = bench.pieces.iter().map(|(id, count)| format!("{id} ({count})"));
        let stacks = bench.stacks.iter().map(|it| format!("{} ({})", it.letter, it.count));
        let supplies = self.plan().supplies.iter().map(|supply| supply.id.clone());
        let there = stacks.chain(pieces).chain(supplies).collect();
        Problem::error("settle-spoiled", title).help(what_is_there(there))
    }

    /// No piece has this name, and no stack waits once all is cut.
    pub(super) fn nothing_waits(
        &self,
        name: &str,
        count: u64,
        job: &Job,
        now: &[Tally],
    ) -> Problem {
        let title = format!("there is no piece `{name}`");
        let there = self.good_pieces(job, now);
        let problem = Problem::error("settle-spoiled", title).help(what_is_there(there));
        let is_letter = !name.is_empty() && name.chars().all(|letter| letter.is_ascii_uppercase());
        match is_letter {
            true => problem.help(format!(
                "for {} of stack {name}, say how far you came: `--done STEP`",
                counted(count, "sheet")
            )),
            false => problem,
        }
    }
}

pub(super) fn what_is_there(mut there: Vec<String>) -> String {
    if there.is_empty() {
        return "nothing is finished yet".to_owned();
    }
    if there.len() > NAMED {
        let more = there.split_off(NAMED - 1).len();
        there.push(format!("{more} more"));
    }
    format!("you can name {}", listed(&there))
}
