//! A plan that lies there as a file, judged.

use super::{Source, read_workshop};
use crate::diagnostics::{Place, Problem, Problems, Source as Lines};
use crate::plan::{Plan, check};

/// Judges a `plan.json` by itself and by the rules of the bench.
pub fn judge(plan: &Source, source: Option<&Source>) -> Problems {
    let mut problems = Problems::new();
    let workshop = read_workshop(source, &mut problems);
    let parsed: Plan = match serde_json::from_slice(&plan.bytes) {
        Ok(plan) => plan,
        Err(error) => {
            problems.push(no_plan(plan, &error));
            return problems;
        }
    };
    for fault in check::check_alone(&parsed, &workshop).err().unwrap_or_default() {
        let title = format!("{}: {fault}", plan.name);
        let problem = Problem::error("plan-fault", title).help("plan the order again");
        problems.push(match source {
            Some(_) => problem,
            None => problem.help(
                "it was judged by a bench of defaults: name with --workshop the one it was made for",
            ),
        });
    }
    problems
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
