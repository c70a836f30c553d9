//! Settings that the gauge does not reach, strips that are hard to hold, and stacks for which there is no room.

use super::marks::Users;
use super::{BenchEffort, Schedule};
use crate::diagnostics::{Problem, Problems, listed};
use crate::measure::Length;
use crate::workshop::Workshop;
use std::collections::BTreeSet;

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

/// A warning where more stacks wait than there is room for.
pub(super) fn out_of_room(schedule: &Schedule, workshop: &Workshop) -> Problems {
    let BenchEffort { waiting, least_waiting, .. } = schedule.effort;
    let room = workshop.trimmer.waiting;
    if waiting <= room {
        return Problems::new();
    }
    let title = format!("up to {waiting} stacks wait on the bench, and it has room for {room}");
    let known = match least_waiting == waiting {
        true => "no order of these cuts needs less room",
        false => "no order of these cuts was found that needs less room",
    };
    let problem = Problem::warning("schedule-waiting", title).help(known);
    problem
        .help("if your bench has more room, say so: `waiting` under [trimmer] in workshop.toml")
        .into()
}

/// Distances that are hard to set, and the steps that need them.
struct FarSteps {
    gauges: BTreeSet<Length>,
    users: Users,
}

impl FarSteps {
    /// Those of this kind; `None` where there are none.
    fn of(schedule: &Schedule, is_meant: impl Fn(Length) -> bool) -> Option<FarSteps> {
        let steps = schedule.in_order().into_iter().map(|(_, step)| step);
        let (mut gauges, mut users) = (BTreeSet::new(), Users::default());
        for step in steps.filter(|step| is_meant(step.gauge)) {
            gauges.insert(step.gauge);
            users.steps.push(step.number.to_string());
        }
        (!gauges.is_empty()).then_some(FarSteps { gauges, users })
    }

    /// `step 3: 25 7/8 in is`, `steps 3 and 4: 25 7/8 in and 19 in are`.
    fn told(&self, workshop: &Workshop) -> String {
        let style = workshop.style();
        let gauges: Vec<String> = self.gauges.iter().map(|gauge| style.with_unit(*gauge)).collect();
        let verb = if gauges.len() == 1 { "is" } else { "are" };
        format!("{}: {} {verb}", self.users.told(), listed(&gauges))
    }
}
