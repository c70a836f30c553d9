//! Better plans by taking a few sheets out and solving what is missing as a small order of its own.
//!
//! The small order is first filled up greedily, which moves the plan about, then all patterns of it are
//! listed that could make the plan cheaper (a large neighbourhood search: Shaw 1998, CP98, LNCS
//! 1520:417-431).

use super::attainable::Attainable;
use super::candidate::{Candidate, Cost};
use super::certificate::Certificate;
use super::fill::fill;
use super::level::{Branch, Level};
use super::listed::{list, near};
use super::pool::Pool;
use super::relaxation::{certify, relax};
use super::rounding::{over_pool, residual};
use super::search::{PatternSource, Patterns, Search};
use super::task::Task;
use super::words::{Chance, Settings};

/// Nodes of the search in a small order.
const NODES: usize = 40;

/// Cells of a sheet above which its patterns are not listed for a small order.
const MOST_CELLS: usize = 100_000;

/// What a refinement works towards.
pub(super) struct Goal<'a> {
    pub level: Level,
    /// Which costs a plan can have.
    pub attainable: &'a Attainable,
    /// No plan costs less.
    pub bound: i64,
    /// What proves a bound, and so tells the patterns that matter.
    pub certificate: &'a Certificate,
    /// Steps after which it ends.
    pub steps: u64,
    /// Which chances decide.
    pub seed: u64,
}

/// Refines a complete plan until it reaches the bound or the steps are used up.
pub(super) fn refine(
    task: &Task,
    goal: &Goal,
    start: Candidate,
    values: &[i64],
    settings: &Settings,
) -> Candidate {
    let mut chance = Chance::new(task.items.len() as u64 + 7 + goal.seed);
    let mut best = start;
    let Some(mut merit) = merit(task, &best) else { return best };
    let stop = || (settings.stop)() || task.meter.steps() > goal.steps;
    let settings = Settings { nodes: NODES, stop: &stop, ..*settings };
    let small = Small { task, goal, settings: &settings };
    let mut seen = Seen { task, goal, pool: Pool::default(), next: FIRST_SEEN };
    while goal.level.value(merit.0) > goal.bound && !stop() {
        let base = thin_out(task, &best, &mut chance);
        let Some(rest) = task.after(&base) else { break };
        let shaken: Vec<i64> =
            values.iter().map(|value| (value * chance.between(70, 130) / 100).max(1)).collect();
        let filled = fill(&rest, Candidate::default(), &shaken, settings.urgent);
        let filled = filled.map(|filled| base.with(&filled, task));
        let mixed = filled.as_ref().and_then(|filled| seen.add(filled, merit.0, values, &settings));
        if let Some(next) = no_worse(task, mixed, merit) {
            (best, merit) = next;
            continue;
        }
        let next = no_worse(task, filled, merit).or_else(|| {
            let solved = small.solve(&rest, &base, &best, merit.0);
            no_worse(task, solved, merit)
        });
        if let Some(next) = next {
            (best, merit) = next;
        }
    }
    best
}

/// What a plan costs, and the area of the pieces of its emptiest sheet: a plan that has one sheet nearly
/// empty is nearly a plan without it.
type Merit = (Cost, i128);

fn merit(task: &Task, plan: &Candidate) -> Option<Merit> {
    let least = plan.runs.iter().map(|(column, _)| task.area(&column.counts)).min();
    Some((plan.cost(task)?, least.unwrap_or(0)))
}

/// The plan without its emptiest sheet and a few others.
fn thin_out(task: &Task, plan: &Candidate, chance: &mut Chance) -> Candidate {
    let mut thinned = plan.clone();
    let emptiest = (0..plan.runs.len()).min_by_key(|&run| task.area(&plan.runs[run].0.counts));
    let last = plan.runs.len() as i64 - 1;
    let others: Vec<usize> =
        (0..chance.between(1, 5)).map(|_| chance.between(0, last) as usize).collect();
    for run in emptiest.into_iter().chain(others) {
        let (_, times) = &mut thinned.runs[run];
        *times = times.saturating_sub(1);
    }
    thinned.runs.retain(|(_, times)| *times > 0);
    thinned
}

/// Patterns seen before the program over them is solved for the first time.
const FIRST_SEEN: usize = 200;

/// The patterns of all plans that were tried: parts of them may go together better than in any one.
struct Seen<'a> {
    task: &'a Task,
    goal: &'a Goal<'a>,
    pool: Pool,
    /// How many patterns there have to be for the next program.
    next: usize,
}

impl Seen<'_> {
    /// Adds the patterns of a plan; where they have become many more, the best plan of all of them that
    /// can matter, if the engine finds one.
    fn add(
        &mut self,
        plan: &Candidate,
        cost: Cost,
        values: &[i64],
        settings: &Settings,
    ) -> Option<Candidate> {
        let Seen { task, goal, .. } = *self;
        plan.add_to(&mut self.pool);
        if self.pool.columns().len() < self.next {
            return None;
        }
        self.next += self.next / 2;
        let most = goal.attainable.below(goal.level.value(cost));
        let near = near(task, goal.level, goal.certificate, most, &self.pool);
        let root = Branch::root(task);
        over_pool(task, goal.level.on(&root), &near, values, settings)
    }
}

fn no_worse(task: &Task, plan: Option<Candidate>, old: Merit) -> Option<(Candidate, Merit)> {
    let plan = plan.filter(|plan| plan.is_complete(task))?;
    let new = merit(task, &plan).filter(|new| *new <= old)?;
    Some((plan, new))
}

/// How the small orders are solved.
struct Small<'a> {
    task: &'a Task,
    goal: &'a Goal<'a>,
    settings: &'a Settings<'a>,
}

impl Small<'_> {
    /// A plan that is cheaper than `best`, if the sheets outside `base` can be cut so.
    fn solve(
        &self,
        rest: &Task,
        base: &Candidate,
        best: &Candidate,
        cost: Cost,
    ) -> Option<Candidate> {
        if rest.pricing_spaces().iter().any(|space| space.cells() > MOST_CELLS) {
            return None;
        }
        let (task, whole) = (self.task, self.goal.level);
        let level = residual(whole, task, base)?;
        let most = self.goal.attainable.below(whole.value(cost)) - whole.value(base.cost(task)?);
        let mut pool = Pool::default();
        let now = best.outside(base);
        now.add_to(&mut pool);
        let root = Branch::root(rest);
        let hopeless = |bound: (i128, i128)| bound.0 > i128::from(most) * bound.1;
        let enough = |bound| (self.settings.stop)() || hopeless(bound);
        let relaxed = relax(rest, level.on(&root), &mut pool, &enough);
        if hopeless(relaxed.bound) {
            return None;
        }
        let certificate = certify(rest, level, &relaxed.pieces);
        let mut list = list(rest, level, &certificate, most, self.settings.list_work)?;
        let attainable = Attainable::of(rest, level, 0, most + 1);
        let (mut pool, source) = (Pool::default(), PatternSource::List(&mut list));
        let patterns = Patterns { pool: &mut pool, source };
        let search = Search::new(rest, level, self.settings, &attainable, patterns);
        Some(base.with(&search.run(now, 0).best, task))
    }
}
