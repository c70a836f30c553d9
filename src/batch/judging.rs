//! A plan that lies there as a file, judged.

use super::inputs::{Inputs, Source, WRONG_SETS, read, read_workshop};
use crate::diagnostics::{Place, Problem, Problems, SourceText};
use crate::job::Job;
use crate::measure::Unit;
use crate::pieces::{CARD, Part};
use crate::plan::check::{Fault, Unseen, Verdict, check, check_alone};
use crate::plan::{FIRST_SCHEMA, Plan, unrepeated};
use crate::workshop::{GrainRule, Workshop};

/// What a plan is held against.
#[derive(Clone, Copy, Debug)]
pub enum By<'a> {
    /// These orders, with their stock and bench, all without mistakes; else nothing is said.
    Inputs(&'a Inputs),
    /// The same, as the report folder keeps them.
    Kept(&'a Inputs),
    /// What the plan itself records, and this bench.
    Bench(&'a Source),
    /// What the plan itself records, and a bench of defaults.
    Defaults,
}

/// What came of judging a plan.
#[derive(Clone, Debug, Default)]
pub struct Judgement {
    /// Everything that is wrong.
    pub problems: Problems,
    /// The plan, where nothing is.
    pub sound: Option<SoundPlan>,
}

/// A plan without faults.
#[derive(Clone, Debug)]
pub struct SoundPlan {
    /// The plan.
    pub plan: Plan,
    /// What it was made from, as it was understood then; `None` where it was judged by what it records itself.
    pub job: Option<Job>,
    /// What is not proven of it.
    pub verdict: Verdict,
}

/// Judges a `plan.json`. Lengths are told in the bench's unit; where no bench is known, nobody knows in which unit the
/// plan was made, and they are told in millimetres.
pub fn judge(plan: &Source, by: By) -> Judgement {
    let mut problems = Problems::new();
    let parsed = match parsed(plan) {
        Ok(plan) => plan,
        Err(problem) => return Judgement { problems: (*problem).into(), sound: None },
    };
    let judged = match by {
        By::Inputs(inputs) => {
            let mut found = Problems::new();
            let judged = against(&parsed, inputs, &mut found);
            // What is wrong with the inputs themselves was told before.
            problems.extend(found.iter().filter(|it| it.code == WRONG_SETS).cloned());
            judged
        }
        By::Kept(inputs) => against(&parsed, inputs, &mut problems),
        By::Bench(bench) => {
            let workshop = read_workshop(Some(bench), &mut problems);
            Some(check_alone(&parsed, &workshop).map(alone))
        }
        By::Defaults => {
            let workshop = Workshop { unit: Unit::Millimetre, ..Workshop::default() };
            Some(check_alone(&parsed, &workshop).map(alone))
        }
    };

    match judged {
        Some(Ok(HeldPlan { job, verdict })) if !problems.has_errors() => {
            Judgement { problems, sound: Some(SoundPlan { plan: parsed, job, verdict }) }
        }
        judged => {
            let faults = judged.and_then(Result::err).unwrap_or_default();
            faults.iter().for_each(|fault| problems.push(told(fault, &plan.name, by)));
            Judgement { problems, sound: None }
        }
    }
}

/// A plan without faults, as it was understood.
struct HeldPlan {
    job: Option<Job>,
    verdict: Verdict,
}

/// What is found of a plan that is held against no job.
fn alone(verdict: Verdict) -> HeldPlan {
    HeldPlan { job: None, verdict }
}

/// Holds a plan against what it was made for; `None` where that has mistakes.
fn against(
    plan: &Plan,
    inputs: &Inputs,
    problems: &mut Problems,
) -> Option<Result<HeldPlan, Vec<Fault>>> {
    let mut found = Problems::new();
    let batch = read(inputs, &mut found);
    // What is only doubtful was told when the batch was planned.
    found.drop_warnings();
    problems.append(found);
    let mut job = batch?.job;
    if names_cards_as_before(plan) {
        job.bill.name_cards_as_before();
    }
    let frees_layers = frees_layers_as_before(plan, &job);
    if frees_layers {
        job.bill.free_layers_as_before();
    }
    let is_open = frees_layers && job.workshop.grain == GrainRule::Strict;
    let judged = match check(plan, &job) {
        Ok(verdict) => Ok((job, verdict)),
        Err(faults) => squared_as_before(plan, job).ok_or(faults),
    };
    Some(judged.map(|(job, mut verdict)| {
        verdict.unseen.extend(is_open.then_some(Unseen::Layers));
        HeldPlan { job: Some(job), verdict }
    }))
}

/// What the judge says of a plan that squares every full sheet, where the stock says of none that it is rough: that is how
/// plans were made before the sheets said which of them are. `None` where it is no such plan, or not sound.
fn squared_as_before(plan: &Plan, mut job: Job) -> Option<(Job, Verdict)> {
    let is_silent = !job.stock.sheets.iter().any(|sheet| sheet.rough_edges.any());
    if !is_silent || !job.workshop.trimmer.squaring.is_positive() {
        return None;
    }
    job.stock.take_full_sheets_for_rough();
    let mut verdict = check(plan, &job).ok()?;
    verdict.unseen.push(Unseen::Edges);
    Some((job, verdict))
}

/// Whether a plan was written by a version that called the card itself a base. A line may be called `x.base`, so what its
/// ids lack is asked.
fn names_cards_as_before(plan: &Plan) -> bool {
    let mut cards = plan.pieces.iter().filter(|piece| piece.part == Part::Card);
    cards.any(|piece| !piece.id.split('+').any(|name| name.ends_with(CARD)))
}

/// Whether a plan was written by a version that let what is glued to a folded card lie as it would: it says of no such
/// layer that its grain should run along the fold.
fn frees_layers_as_before(plan: &Plan, job: &Job) -> bool {
    let layers = job.bill.pieces.iter().filter(|piece| piece.is_glued_to_a_fold());
    let ids: Vec<&str> = layers.map(|piece| piece.id.as_str()).collect();
    let mut planned = plan.pieces.iter().filter(|piece| ids.contains(&piece.id.as_str()));
    !ids.is_empty() && planned.all(|piece| piece.fold.is_none())
}

fn told(fault: &Fault, name: &str, by: By) -> Problem {
    let problem =
        Problem::error("plan-fault", format!("{name}: {fault}")).help("plan the order again");
    match by {
        By::Inputs(_) | By::Kept(_) | By::Bench(_) => problem,
        By::Defaults => {
            problem.help("it was checked with the default bench: name its own with --workshop")
        }
    }
}

/// The plan in the bytes of a file.
///
/// # Errors
/// They are no plan.
pub(crate) fn parsed(plan: &Source) -> Result<Plan, Box<Problem>> {
    unrepeated::read(&plan.bytes).map_err(|error| Box::new(no_plan(plan, &error)))
}

/// Whether a plan was written by a version that kept no copies of what it was made from.
pub(crate) fn is_of_first_schema(plan: &Plan) -> bool {
    plan.schema == FIRST_SCHEMA
}

fn no_plan(plan: &Source, error: &serde_json::Error) -> Problem {
    let text = String::from_utf8_lossy(&plan.bytes);
    let line = SourceText::new(&plan.name, &text).line(error.line());
    let place = Place {
        file: plan.name.as_str().into(),
        line: error.line(),
        column: error.column().clamp(1, line.chars().count() + 1),
        length: 0,
        text: line,
    };
    let said = error.to_string();
    let expected = said.split(" at line ").next().unwrap_or_default();
    Problem::error("plan-unreadable", format!("{} is not a plan", plan.name))
        .at(Some(&place).filter(|place| place.line > 0), expected)
        .help("name a plan.json that `cardwright plan` wrote")
}
