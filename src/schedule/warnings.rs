//! What to mind at the bench: settings that the gauge does not have, folds across the grain.

use super::{Schedule, grain};
use crate::diagnostics::{Problem, Problems, listed};
use crate::job::Job;
use crate::measure::Length;
use crate::plan::Plan;
use crate::workshop::Workshop;
use std::collections::BTreeMap;

/// What to mind at the bench: folds across the grain where that is not wanted, and distances that the gauge
/// has no mark for.
pub fn warnings(schedule: &Schedule, plan: &Plan, job: &Job) -> Problems {
    let mut problems = grain::warnings(plan, job);
    problems.append(off_the_marks(schedule, &job.workshop));
    problems
}

/// One warning for each distance that is off the trimmer's graduation, shortest first: the steps that
/// need it, the exact distance, and the settings below and above.
pub(super) fn off_the_marks(schedule: &Schedule, workshop: &Workshop) -> Problems {
    let mut off: BTreeMap<Length, Vec<String>> = BTreeMap::new();
    let steps = schedule.in_order().into_iter().map(|(_, step)| step);
    for step in steps.filter(|step| step.off_graduation) {
        off.entry(step.gauge).or_default().push(step.number.to_string());
    }
    let mut problems = Problems::new();
    for (gauge, numbers) in off {
        problems.push(off_graduation(gauge, &numbers, workshop));
    }
    problems
}

fn off_graduation(gauge: Length, numbers: &[String], workshop: &Workshop) -> Problem {
    let style = workshop.style();
    let step = workshop.trimmer.graduation;
    let noun = if numbers.len() == 1 { "step" } else { "steps" };
    let title = format!(
        "{noun} {}: {} is between two marks of the gauge ({} apart)",
        listed(numbers),
        style.with_unit(gauge),
        style.with_unit(step)
    );
    Problem::warning("schedule-off-graduation", title).help(nearest(gauge, workshop)).help(
        "mark the exact distance on one sheet and set the gauge to it, or choose a size that falls on a mark",
    )
}

fn nearest(gauge: Length, workshop: &Workshop) -> String {
    let (style, step) = (workshop.style(), workshop.trimmer.graduation.ticks().max(1));
    let below = Length::from_ticks(gauge.ticks().div_euclid(step) * step);
    let above = below + Length::from_ticks(step);
    let shown: Vec<String> = [below, above]
        .into_iter()
        .filter(|setting| setting.is_positive())
        .map(|setting| style.with_unit(setting))
        .collect();
    match shown.as_slice() {
        [only] => format!("the nearest gauge setting is {only}"),
        several => format!("the nearest gauge settings are {}", listed(several)),
    }
}
