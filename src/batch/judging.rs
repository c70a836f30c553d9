//! A plan that lies there as a file, judged.

use super::{Source, read_workshop};
use crate::diagnostics::{Place, Problem, Problems, Source as Lines};
use crate::measure::Unit;
use crate::plan::{Plan, check};
use crate::workshop::Workshop;

/// Judges a `plan.json` by itself and by the rules of the bench. Lengths are told in the bench's unit; where no bench
/// is named, nobody knows in which unit the plan was made, and they are told in millimetres.
pub fn judge(plan: &Source, source: Option<&Source>) -> Problems {
    let mut problems = Problems::new();
    let mut workshop = read_workshop(source, &mut problems);
    if source.is_none() {
        workshop.unit = Unit::Millimetre;
    }
    let parsed = match parsed(plan) {
        Ok(plan) => plan,
        Err(problem) => {
            problems.push(*problem);
            return problems;
        }
    };
    for problem in faults(&parsed, &plan.name, &workshop) {
        problems.push(match source {
            Some(_) => problem,
            None => problem.help(
                "it was judged by a bench of defaults: name with --workshop the one it was made for",
            ),
        });
    }
    problems
}

/// The plan in the bytes of a file.
///
/// # Errors
/// They are no plan.
pub(crate) fn parsed(plan: &Source) -> Result<Plan, Box<Problem>> {
    serde_json::from_slice(&plan.bytes).map_err(|error| Box::new(no_plan(plan, &error)))
}

/// What the judge finds wrong with a plan that stands in a file of this name, by the rules of a bench.
pub(crate) fn faults(plan: &Plan, name: &str, workshop: &Workshop) -> Vec<Problem> {
    let faults = check::check_alone(plan, workshop).err().unwrap_or_default();
    let told = |fault| {
        Problem::error("plan-fault", format!("{name}: {fault}")).help("plan the order again")
    };
    faults.iter().map(told).collect()
}

fn no_plan(plan: &Source, error: &serde_json::Error) -> Problem {
    let text = String::from_utf8_lossy(&plan.bytes);
    let line = Lines::new(&plan.name, &text).line(error.line());
    let place = Place {
        file: plan.name.as_str().into(),
        line: error.line(),
        column: error.column().clamp(1, line.chars().count() + 1),
        length: 0,
        text: line,
    };
    let said = error.to_string();
    let expected = said.split(" at line ").next().unwrap_or_default();
    Problem::error("plan-unreadable", format!("{} is no plan", plan.name))
        .at(Some(&place).filter(|place| place.line > 0), expected)
        .help("name a plan.json that `cardwright plan` wrote")
}
