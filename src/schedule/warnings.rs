//! What to mind at the bench: settings that the gauge does not have, strips that are hard to hold, folds across the grain.

use super::{Schedule, grain};
use crate::diagnostics::{Problem, Problems, listed};
use crate::job::Job;
use crate::measure::Length;
use crate::plan::Plan;
use crate::workshop::Workshop;
use std::collections::{BTreeMap, BTreeSet};

/// What to mind at the bench: folds across the grain where that is not wanted, and distances that the gauge
/// has no mark for.
pub fn warnings(schedule: &Schedule, plan: &Plan, job: &Job) -> Problems {
    let mut problems = grain::warnings(plan, job);
    problems.append(off_the_marks(schedule, &job.workshop));
    problems.append(out_of_reach(schedule, &job.workshop));
    problems
}

/// A warning for settings that are farther than the gauge reaches, and one for strips that are too narrow to be held.
pub(super) fn out_of_reach(schedule: &Schedule, workshop: &Workshop) -> Problems {
    let trimmer = &workshop.trimmer;
    let style = workshop.style();
    let (reach, hold) = (style.with_unit(trimmer.reach), style.with_unit(trimmer.smallest_hold));
    let mut problems = Problems::new();
    if let Some(beyond) = FarSteps::of(schedule, |gauge| gauge > trimmer.reach) {
        let title = format!("{} farther than the gauge reaches ({reach})", beyond.told(workshop));
        problems.push(
            Problem::warning("schedule-reach", title)
                .help("mark the line with pencil and ruler on the top sheet, and cut along it")
                .help("if your gauge reaches farther, say how far: `reach` under [trimmer] in workshop.toml"),
        );
    }
    if let Some(narrow) = FarSteps::of(schedule, |gauge| gauge < trimmer.smallest_hold) {
        let title = format!("{} narrower than you can hold ({hold})", narrow.told(workshop));
        problems.push(
            Problem::warning("schedule-hold", title)
                .help("measure what is to be left instead, so that the wide part is held, and keep your fingers behind the clamp")
                .help("if a clamp holds narrower strips, say so: `smallest_hold` under [trimmer] in workshop.toml"),
        );
    }
    problems
}

/// FarSteps of the gauge, and the steps that need them.
struct FarSteps {
    gauges: BTreeSet<Length>,
    steps: Vec<String>,
}

impl FarSteps {
    /// Those of this kind; `None` where there are none.
    fn of(schedule: &Schedule, is_meant: impl Fn(Length) -> bool) -> Option<FarSteps> {
        let steps = schedule.in_order().into_iter().map(|(_, step)| step);
        let meant: Vec<_> = steps.filter(|step| is_meant(step.gauge)).collect();
        let gauges = meant.iter().map(|step| step.gauge).collect();
        let steps: Vec<String> = meant.iter().map(|step| step.number.to_string()).collect();
        (!steps.is_empty()).then_some(FarSteps { gauges, steps })
    }

    /// `step 3: 25 7/8 in is`, `steps 3 and 4: 25 7/8 in and 19 in are`.
    fn told(&self, workshop: &Workshop) -> String {
        let style = workshop.style();
        let gauges: Vec<String> = self.gauges.iter().map(|gauge| style.with_unit(*gauge)).collect();
        let noun = if self.steps.len() == 1 { "step" } else { "steps" };
        let verb = if gauges.len() == 1 { "is" } else { "are" };
        format!("{noun} {}: {} {verb}", listed(&self.steps), listed(&gauges))
    }
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
