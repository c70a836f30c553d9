//! Distances that the gauge has no mark for: of cuts, and of scores, which are measured with the same rule.

use super::Schedule;
use crate::diagnostics::{Problem, Problems, listed};
use crate::measure::Length;
use crate::workshop::Workshop;
use std::collections::{BTreeMap, BTreeSet};

/// What is set to a distance.
#[derive(Default)]
pub(super) struct Users {
    /// Numbers of cutting steps.
    pub steps: Vec<String>,
    /// Pieces that are scored.
    scored: Vec<String>,
}

impl Users {
    /// `step 3`, `steps 3 and 4`, `score of `note.card``.
    pub fn told(&self) -> String {
        let noun = if self.steps.len() == 1 { "step" } else { "steps" };
        let all = [(noun, &self.steps), ("score of", &self.scored)].map(|(noun, of)| {
            let mut of = of.clone();
            if of.len() > SHOWN {
                let more = of.split_off(SHOWN - 1).len();
                of.push(format!("{more} more"));
            }
            (!of.is_empty()).then(|| format!("{noun} {}", listed(&of)))
        });
        all.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }
}

/// Most distances, and most users of one, that are named.
const SHOWN: usize = 8;

/// One warning of all distances, of cuts and of scores, that are off the trimmer's graduation, shortest first: what
/// needs them, the exact distance, and the settings below and above.
pub(super) fn off_the_marks(schedule: &Schedule, workshop: &Workshop) -> Problems {
    let mut off: BTreeMap<Length, Users> = BTreeMap::new();
    let steps = schedule.in_order().into_iter().map(|(_, step)| step);
    for step in steps.filter(|step| step.off_graduation) {
        off.entry(step.gauge).or_default().steps.push(step.number.to_string());
    }
    let graduation = workshop.trimmer.graduation;
    for step in &schedule.scoring {
        let is_off = |at: &Length| graduation.is_positive() && !at.is_multiple_of(graduation);
        let distances: BTreeSet<Length> = step.scores.iter().map(|score| score.at).collect();
        for at in distances.into_iter().filter(is_off) {
            off.entry(at).or_default().scored.push(format!("`{}`", step.piece));
        }
    }
    let off: Vec<(Length, Users)> = off.into_iter().collect();
    match off.as_slice() {
        [] => Problems::new(),
        [(gauge, users)] => one_off(*gauge, users, workshop).into(),
        several => several_off(several, workshop).into(),
    }
}

/// How to work with a distance that the gauge has no mark for.
const MARK_IT: &str = "mark the exact distance on one sheet and set the gauge to it, or choose a size that falls on a mark";

fn one_off(gauge: Length, users: &Users, workshop: &Workshop) -> Problem {
    let style = workshop.style();
    let title = format!(
        "{}: {} is between two marks of the gauge ({} apart)",
        users.told(),
        style.with_unit(gauge),
        style.with_unit(workshop.trimmer.graduation)
    );
    let nearest = nearest(gauge, workshop);
    let told = match nearest.as_slice() {
        [only] => format!("the nearest gauge setting is {only}"),
        several => format!("the nearest gauge settings are {}", listed(several)),
    };
    Problem::warning("schedule-off-graduation", title).help(told).help(MARK_IT)
}

fn several_off(off: &[(Length, Users)], workshop: &Workshop) -> Problem {
    let style = workshop.style();
    let title = format!(
        "{} distances are between two marks of the gauge ({} apart)",
        off.len(),
        style.with_unit(workshop.trimmer.graduation)
    );
    let problem = Problem::warning("schedule-off-graduation", title);
    let shown = if off.len() > SHOWN { SHOWN - 1 } else { off.len() };
    let problem = off[..shown].iter().fold(problem, |problem, (gauge, users)| {
        let nearest = nearest(*gauge, workshop);
        let place = match nearest.as_slice() {
            [only] => format!("below {only}"),
            several => format!("between {}", listed(several)),
        };
        problem.help(format!("{}: {}, {place}", users.told(), style.with_unit(*gauge)))
    });
    let problem = match off.len() - shown {
        0 => problem,
        more => problem.help(format!("and {more} more")),
    };
    problem.help(MARK_IT)
}

/// The settings below and above.
fn nearest(gauge: Length, workshop: &Workshop) -> Vec<String> {
    let (style, step) = (workshop.style(), workshop.trimmer.graduation.ticks().max(1));
    let below = Length::from_ticks(gauge.ticks().div_euclid(step) * step);
    let above = below + Length::from_ticks(step);
    [below, above]
        .into_iter()
        .filter(|setting| setting.is_positive())
        .map(|setting| style.with_unit(setting))
        .collect()
}
