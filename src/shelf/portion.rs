//! What of a plan was cut since it was settled last: some sheets of its runs, or its schedule up to a step.

use super::event::StageWork;
use super::journal::Journal;
use super::settle::{Planned, Refusal};
use super::unfit;
use crate::cuts::Tree;
use crate::diagnostics::Problems;
use crate::measure::{Area, Size};
use crate::pieces::Tally;
use crate::plan::{KeptOffcut, Leaf, Node, Plan, Reached, Run};
use crate::stock::Counts;
use std::collections::BTreeMap;

/// What was cut, and what became of it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Portion {
    /// Sheets cut into, by run.
    pub runs: Counts,
    /// Sheets that are not cut into yet, by run.
    pub left: Counts,
    /// Strips for the drawer.
    pub strips: Vec<NewStrips>,
    /// Stacks that wait now, which the drawer holds until they are cut on.
    pub stacks: Vec<StackLeft>,
    /// Area that became pieces, waste and dust, or is still rough: what the shelf loses.
    pub gone: Area,
    /// What became of the pieces; `None` where the order is not known.
    pub pieces: Option<Vec<Tally>>,
    /// Where cutting stopped, where that is a step of the schedule.
    pub reached: Option<Reached>,
    /// Envelopes and sundries that were spoiled, in parts of their units.
    pub wasted: Counts,
    /// Plates spoiled, by the letter of their stack.
    pub spoiled: Counts,
    /// Stacks of the batch that nothing needs any more and that are too small to keep, by their name in the drawer.
    pub thrown: Counts,
    /// Whether the whole batch is made, so that nothing has to be set aside for it.
    pub is_complete: bool,
    /// Seconds at the trimmer.
    pub seconds: u64,
    /// How long stages took, where a person says so.
    pub work: BTreeMap<String, StageWork>,
}

/// Strips for the drawer that a run has left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewStrips {
    /// Their id in the plan.
    pub planned: String,
    /// The run.
    pub run: String,
    /// How many.
    pub count: u64,
}

/// A stack that is not cut to its end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StackLeft {
    /// Its letter.
    pub letter: String,
    /// The run that it comes from.
    pub run: String,
    /// Its size, without edges that are still rough.
    pub size: Size,
    /// Plates.
    pub count: u64,
}

impl Portion {
    /// Some sheets of some runs, cut to the end; all that are left where none are named.
    ///
    /// # Errors
    /// There are not so many, or none are left.
    pub fn of_runs(
        batch: &Planned,
        partly: Option<&Counts>,
        journal: &Journal,
    ) -> Result<Portion, Refusal> {
        let plan = batch.plan;
        let runs = runs_cut(batch, partly, journal)?;
        let before = journal.cut(batch.identity);
        let left = plan.runs.iter().map(|run| {
            let cut = [&before, &runs].map(|cut| cut.get(&run.id).copied().unwrap_or_default());
            (run.id.clone(), run.count.saturating_sub(cut[0] + cut[1]))
        });
        let left: Counts = left.filter(|(_, count)| *count > 0).collect();
        let strips = plan.offcuts.iter().flat_map(|planned| left_by(planned, plan, &runs));
        let (strips, gone) = (strips.collect(), gone_area(plan, &runs));
        Ok(Portion { strips, gone, left, runs, ..Portion::default() })
    }

    /// Pieces of the plan that it finished, by id.
    pub fn finished(&self, plan: &Plan) -> Counts {
        let mut finished = Counts::new();
        for run in &plan.runs {
            let Some(count) = self.runs.get(&run.id) else { continue };
            for leaf in run.layout.leaves() {
                if let Leaf::Piece(id, _) = leaf {
                    *finished.entry(id.clone()).or_insert(0) += count;
                }
            }
        }
        finished
    }
}

/// Sheets that were cut of each run.
fn runs_cut(
    batch: &Planned,
    partly: Option<&Counts>,
    journal: &Journal,
) -> Result<BTreeMap<String, u64>, Refusal> {
    let before = journal.cut(batch.identity);
    let left =
        |run: &Run| run.count.saturating_sub(before.get(&run.id).copied().unwrap_or_default());
    if batch.plan.runs.iter().all(|run| left(run) == 0) {
        return Err(unfit::settled_already(batch, journal).into());
    }
    let Some(partly) = partly else {
        let all = batch.plan.runs.iter().map(|run| (run.id.clone(), left(run)));
        return Ok(all.filter(|(_, count)| *count > 0).collect());
    };
    let mut problems = Problems::new();
    for (id, count) in partly {
        match batch.plan.runs.iter().find(|run| run.id == *id) {
            Some(run) if (1..=left(run)).contains(count) => {}
            run => problems.push(unfit::no_such_part(batch.plan, id, *count, run.map(left))),
        }
    }
    match problems.is_empty() {
        true => Ok(partly.clone()),
        false => Err(Refusal::Problems(problems)),
    }
}

/// The strips of one kind that the runs that were cut have left; each sheet of a run leaves as many.
fn left_by(planned: &KeptOffcut, plan: &Plan, runs: &Counts) -> Vec<NewStrips> {
    let is_it = |leaf: &&Leaf| matches!(leaf, Leaf::Offcut(id) if *id == planned.id);
    let left = plan.runs.iter().filter_map(|run| {
        let cut = runs.get(&run.id).copied()?;
        let count = run.layout.leaves().filter(is_it).count() as u64 * cut;
        Some(NewStrips { planned: planned.id.clone(), run: run.id.clone(), count })
    });
    left.filter(|strips| strips.count > 0).collect()
}

/// The area that became pieces, waste or dust: all of the sheets cut, less what is kept of them.
fn gone_area(plan: &Plan, runs: &Counts) -> Area {
    let cut = |run: &Run| runs.get(&run.id).copied().unwrap_or_default();
    let sheets = plan.runs.iter().map(|run| run.layout.size.area() * cut(run)).sum::<Area>();
    let is_kept = |plate: &&Node| matches!(plate.leaf(), Some(Leaf::Offcut(_)));
    let kept = plan.runs.iter().map(|run| {
        let kept = run.layout.plates().filter(is_kept).map(|plate| plate.size.area());
        kept.sum::<Area>() * cut(run)
    });
    sheets - kept.sum::<Area>()
}
