//! What to mind at the bench: settings that the gauge does not have, strips that are hard to hold, folds across the grain.

use super::marks::off_the_marks;
use super::reach::{out_of_reach, out_of_room};
use super::{Schedule, grain};
use crate::diagnostics::Problems;
use crate::job::Job;
use crate::plan::Plan;

/// What to mind at the bench: folds across the grain where that is not wanted, and distances that the gauge
/// has no mark for.
pub fn warnings(schedule: &Schedule, plan: &Plan, job: &Job) -> Problems {
    let mut problems = grain::warnings(plan, job);
    problems.append(off_the_marks(schedule, &job.workshop));
    problems.append(out_of_reach(schedule, &job.workshop));
    problems.append(out_of_room(schedule, &job.workshop));
    problems
}
