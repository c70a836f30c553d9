//! One level of one task: a bound, better plans, and a search where both differ.
//!
//! It begins with the relaxation (`relaxation.rs`) and its bound. Then it goes these ways, some of them twice, each
//! within its share of the steps left. It ends as soon as its plan costs no more than its bound, or at most a millionth
//! more, so that ten thousand times the cards take no longer; even so small a gap is shown.
//!
//! 1. **Purchase** (`purchase/`), where there is a choice of packs. At level 1: the cheapest packs that meet all needs,
//!    and a plan within them. At level 2: all packs within the budget; where they are few, each has a bound of its own,
//!    and the least of these is the bound.
//! 2. **Dive** (`rounding.rs`): whole parts are kept, and the rest is relaxed again.
//! 3. **List** (`listed.rs`, `patterns/listing/`): a search over all patterns that a better plan may use, where they
//!    are few. It is tried early, and again when the plan is better.
//! 4. **Search** (`search.rs`): branch and bound that makes patterns on the way; a short one first, and at last one
//!    with all steps that are left. Where packs are bought it has more, since no exchange of a few sheets changes what
//!    to buy.
//! 5. **Descend** (`descent.rs`): most of the relaxed plan is kept, and the rest is solved sheet by sheet.
//! 6. **Improve**: most of the relaxed plan is kept, and the rest, small whatever the counts are, is solved as an order
//!    of its own; then comes the integer program over the patterns found, then filling.
//! 7. **Refine** (`refine.rs`): the emptiest sheet and a few others are taken out, and what is missing is filled up or
//!    solved over its own list.
//!
//! At level 2, a gap of a fiftieth of the cheapest sheet ends all of this before the ways that take long:
//! `Units::little` in `stock/units.rs` says why.

use super::attainable::Attainable;
use super::by_area::by_area;
use super::candidate::{Candidate, Cost};
use super::certificate::Certificate;
use super::descent::{Descent, descend};
use super::dual_feasible::by_functions;
use super::fill::{Rework, fill, rework};
use super::level::{Branch, Level, Range};
use super::listed::{list, near};
use super::master::master;
use super::meter::Meter;
use super::pool::Pool;
use super::purchase::{Means, Papers, Purchases, within_budget};
use super::ranking::Ranking;
use super::refine::{Goal, refine};
use super::relaxation::{certify, relax};
use super::rounding::{base, dive, over_pool, piece_values, residual};
use super::search::{PatternSource, Patterns, Search};
use super::task::Task;
use super::words::{Chance, Known, Proven, Settings, Tried, Way};

/// Nanoseconds of a look at all sheets whose claims can be shown in no time.
const MOST_HURRIED: u64 = 20_000_000;

/// What is to be settled.
#[derive(Clone, Copy)]
pub(super) struct Aim<'a> {
    pub level: Level,
    pub settings: &'a Settings<'a>,
    /// Steps of the task's meter that it may take.
    pub steps: u64,
}

/// Brings one level to its end: the best plan found, and its proof. It begins with a plan, and with what was proven of
/// the level before, if anything was.
pub(super) fn settle(
    task: &Task,
    Aim { level, settings, steps }: Aim,
    pool: &mut Pool,
    start: Candidate,
    earlier: Option<&Certificate>,
) -> (Candidate, Proven) {
    let negligible = settings.negligible;
    let rank = Ranking { task, level, best: start, negligible, little: 0 };
    // Nothing to spend: the empty certificate says all.
    let mut cut_off = (settings.urgent)();
    let pieces = match rank.value() {
        0 => vec![0.0; task.items.len()],
        // Time was up before this level began: nothing is claimed of it but by area.
        _ if (settings.urgent)() => vec![0.0; task.items.len()],
        _ => {
            let root = Branch::root(task);
            let most = task.meter.steps() + settings.steps.saturating_mul(settings.bound_share);
            let enough = |_| (settings.stop)() || task.meter.steps() > most;
            let pieces = relax(task, level.on(&root), pool, &enough).pieces;
            cut_off = enough((0, 1));
            pieces
        }
    };
    // Once time is up, nothing is claimed that would take long to show, so by area alone.
    let hurried = (settings.urgent)() && task.looking() > MOST_HURRIED;
    let pieces = if hurried { vec![0.0; task.items.len()] } else { pieces };
    let earlier =
        earlier.filter(|_| !hurried).map(|earlier| certify(task, level, &earlier.piece_values()));
    let certificate = certify(task, level, &pieces).or_better(earlier);
    let scale = i128::from(certificate.scale);
    let least = certificate.bound.max(0) / scale;
    let attainable = Attainable::of(task, level, least as i64, rank.value());
    let round_up = |one: &Certificate| attainable.round_up(one.bound, one.scale.into());
    // A relaxation that came to its end proves no less.
    let functions = (cut_off && !hurried).then(|| by_functions(task, level)).flatten();
    let plain = by_area(task, level).or_better(functions);
    let plainly = round_up(&plain) > round_up(&certificate);
    let certificate = if plainly { plain } else { certificate };
    let certified = round_up(&certificate);
    let proof = Proving { certificate: &certificate, attainable: &attainable, bound: certified };
    let end = steps.max(task.meter.steps() + settings.steps / 4);
    let (chance, pieces) = (Chance::new(1), &pieces);
    let (unlisted, patience, tried) = (None, 0, None);
    let mut settling =
        Settling { rank, pool, settings, end, proof, pieces, chance, unlisted, patience, tried };
    settling.tell();
    settling.run();
    let Settling { rank, proof, tried, .. } = settling;
    let value = rank.value();
    let bound = proof.bound.min(value);
    (rank.best, Proven { value, bound, complete_search: bound > certified, certificate, tried })
}

/// Times that the work of a search is doubled at most: its nodes have to be held.
const MOST_PATIENCE: u32 = 6;

/// What is proven of a level so far.
struct Proving<'a> {
    certificate: &'a Certificate,
    attainable: &'a Attainable,
    bound: i64,
}

/// One level on its way from a relaxation to a plan with a proof.
struct Settling<'a> {
    rank: Ranking<'a>,
    pool: &'a mut Pool,
    settings: &'a Settings<'a>,
    /// Steps after which nothing new is begun.
    end: u64,
    proof: Proving<'a>,
    /// The values of the pieces in the relaxation.
    pieces: &'a [f64],
    /// What decides between sheets of equal right.
    chance: Chance,
    /// The value below which patterns could not be listed, and the pairs that were looked at for it.
    unlisted: Option<(i64, usize)>,
    /// How often the ways were gone again.
    patience: u32,
    /// What was tried last.
    tried: Option<Tried>,
}

impl Settling<'_> {
    /// One way after the other, the cheap ones first, each within its part of the steps that are left.
    fn run(&mut self) {
        let task = self.rank.task;
        let packs = self.rank.level == Level::Spend && task.has_packs();
        if self.rank.level == Level::Spend {
            // With several papers, no other way is as good.
            self.within(if task.papers.len() > 1 { 1 } else { 4 }, Way::Purchase);
        } else if task.has_packs() {
            self.within(8, Way::EachPurchase);
        }
        // Sheet by sheet, the fewest are found; which packs or which of many sheets to take is another
        // matter.
        let (early, late) = match (packs, self.rank.level) {
            (true, _) => (8, 3),
            (false, Level::Spend) => (2, 2),
            (false, Level::Stock { .. }) => (24, 8),
        };
        self.within(1, Way::Dive);
        self.within(8, Way::List);
        self.within(if packs { 2 } else { 8 }, Way::Search);
        // What comes now takes long: it is not worth a gap that nobody would notice.
        if let Level::Stock { .. } = self.rank.level {
            self.rank.little = task.units.little;
        }
        self.within(early, Way::Descend);
        self.within(3, Way::Improve);
        self.within(4, Way::List);
        self.within(if packs { 1 } else { 2 }, Way::Refine);
        self.within(late, Way::Descend);
        self.within(1, Way::Search);
        self.within(1, Way::List);
        self.go_on();
    }

    /// Goes the ways again that may still lead somewhere, each time with more patience and by other chances, as long
    /// as there is a gap and the effort lasts.
    fn go_on(&mut self) {
        let meter = &self.rank.task.meter;
        loop {
            let begun = meter.steps();
            let last = self.settings.lasting;
            if begun >= last || self.rank.is_near(self.proof.bound) || (self.settings.stop)() {
                return;
            }
            self.patience += 1;
            self.end = begun.saturating_add(self.settings.steps / 8).min(last);
            self.within(4, Way::Refine);
            self.within(3, Way::Descend);
            self.within(2, Way::Search);
            self.within(1, Way::List);
            // Nothing is left that these ways could look at.
            if meter.steps() == begun {
                return;
            }
        }
    }

    /// Goes one way within a `part`th of the steps left, unless the plan is good enough already.
    fn within(&mut self, part: u64, way: Way) {
        let task = self.rank.task;
        let now = task.meter.steps();
        let end = now + self.end.saturating_sub(now) / part;
        let outer = self.settings.stop;
        let stop = || outer() || task.meter.steps() >= end;
        if self.rank.is_near(self.proof.bound) || stop() {
            return;
        }
        let more = |work: usize| work.saturating_mul(1 << self.patience.min(MOST_PATIENCE));
        let (nodes, list_work) = (more(self.settings.nodes), more(self.settings.list_work));
        self.tried = Some(Tried { way, again: self.patience });
        self.go(way, &Settings { stop: &stop, nodes, list_work, ..*self.settings }, end);
        self.tell();
    }

    fn go(&mut self, way: Way, settings: &Settings, end: u64) {
        match way {
            Way::Purchase => self.purchase(settings, end),
            Way::EachPurchase => self.fix_packs(settings),
            Way::Dive => self.dive(settings),
            Way::List => self.list(settings, end),
            Way::Search => self.search(settings),
            Way::Descend => self.descend(settings),
            Way::Improve => self.improve(settings),
            Way::Refine => self.refine(settings, end),
        }
    }

    fn tell(&self) {
        if self.rank.level == Level::Spend {
            let value = self.rank.value();
            (self.settings.tell)(Known { value, bound: self.proof.bound.min(value) });
        }
    }

    /// Makes plans sheet by sheet, every time by other chances.
    fn descend(&mut self, settings: &Settings) {
        let Ranking { task, level, .. } = self.rank;
        let mut failures = 0;
        for &slack in DESCENT_SLACKS.iter().cycle() {
            if self.rank.is_near(self.proof.bound) || (settings.stop)() || failures == MOST_FAILURES
            {
                break;
            }
            let way = Descent { slack, chance: &mut self.chance, stop: settings.stop };
            let plan = descend(task, level, self.pool, way);
            failures += usize::from(!plan.is_complete(task));
            self.rank.offer(Some(plan));
        }
    }

    /// Takes the whole part of the relaxed solution, again and again.
    fn dive(&mut self, settings: &Settings) {
        let Ranking { task, level, .. } = self.rank;
        let root = Branch::root(task);
        let plan = dive(task, level.on(&root), self.pool, settings.stop, settings.urgent);
        self.rank.offer(plan);
    }

    /// Searches among all patterns that a better plan may use, if these can be listed.
    fn list(&mut self, settings: &Settings, end: u64) {
        let Ranking { task, level, .. } = self.rank;
        let pairs = end.saturating_sub(task.meter.steps()) / Meter::PAIR;
        let work = settings.list_work.min(pairs as usize);
        let most = self.proof.attainable.below(self.rank.value());
        let in_vain = |(tried, pairs): (i64, usize)| most >= tried && work < pairs * WORTH_RETRYING;
        if self.unlisted.is_some_and(in_vain) {
            return;
        }
        let Some(mut list) = list(task, level, self.proof.certificate, most, work) else {
            self.unlisted = Some((most, work));
            return;
        };
        let (pool, source) = (&mut Pool::default(), PatternSource::List(&mut list));
        self.search_from(settings, Patterns { pool, source });
    }

    /// Searches with patterns made on the way.
    fn search(&mut self, settings: &Settings) {
        let mut near = self.near();
        self.search_from(settings, Patterns { pool: &mut near, source: PatternSource::Sheets });
    }

    /// The patterns found that a better plan may use.
    fn near(&self) -> Pool {
        let Ranking { task, level, .. } = self.rank;
        let most = self.proof.attainable.below(self.rank.value());
        near(task, level, self.proof.certificate, most, self.pool)
    }

    /// Searches, and takes the plan and the bound that come of it.
    fn search_from(&mut self, settings: &Settings, patterns: Patterns) {
        let Ranking { task, level, .. } = self.rank;
        let search = Search::new(task, level, settings, self.proof.attainable, patterns);
        let found = search.run(self.rank.best.clone(), self.proof.bound);
        self.proof.bound = self.proof.bound.max(found.bound);
        self.rank.best = found.best;
        self.rank.best.add_to(self.pool);
    }

    /// Looks for the cheapest packs that may suffice, and for plans within them.
    fn purchase(&mut self, settings: &Settings, end: u64) {
        let Ranking { task, .. } = self.rank;
        let (bound, value) = (self.proof.bound, self.rank.value());
        let Some(mut purchases) = Purchases::new(task, self.proof.attainable, bound, value) else {
            return;
        };
        let mut papers = Papers::new(task, self.pool);
        let values = piece_values(self.pieces);
        while !self.rank.is_near(self.proof.bound) && !(settings.stop)() {
            let value = self.rank.value();
            let packs = purchases.next(value, self.pool, settings.stop);
            self.proof.bound = self.proof.bound.max(purchases.bound().min(value));
            self.tell();
            let Some(packs) = packs else { break };
            let means = Means { chance: &mut self.chance, settings, steps: end };
            let cut = papers.cut(&packs, self.pool, &values, means);
            purchases.learn(&packs, &cut, self.pool, settings.stop);
            let plan = fill(task, cut.plan, &values, settings.urgent);
            plan.iter().for_each(|plan| plan.add_to(self.pool));
            self.rank.offer(plan);
        }
    }

    /// Looks at one purchase after the other, where those within the budget are few: with whole packs, less is
    /// left open of what has to be used.
    fn fix_packs(&mut self, settings: &Settings) {
        let Ranking { task, level, .. } = self.rank;
        let attainable = self.proof.attainable;
        let Some(all) =
            level.budget().and_then(|budget| within_budget(task, budget, self.pool, settings.stop))
        else {
            return;
        };
        let mut least = self.rank.value();
        for packs in all {
            let mut branch = Branch::root(task);
            for (range, packs) in branch.packs.iter_mut().zip(packs) {
                *range = Range { least: packs, most: Some(packs) };
            }
            let round_up = |bound: (i128, i128)| attainable.round_up(bound.0, bound.1);
            let enough = |bound| (settings.stop)() || round_up(bound) >= least;
            let relaxed = relax(task, level.on(&branch), self.pool, &enough);
            let bound = round_up(relaxed.bound);
            if bound < least {
                let (stop, urgent) = (settings.stop, settings.urgent);
                self.rank.offer(dive(task, level.on(&branch), self.pool, stop, urgent));
            }
            least = least.min(bound);
        }
        self.proof.bound = self.proof.bound.max(least);
    }

    /// Takes a few sheets out and solves what is missing, again and again.
    fn refine(&mut self, settings: &Settings, steps: u64) {
        let Ranking { task, level, .. } = self.rank;
        let Proving { attainable, certificate, bound } = self.proof;
        let seed = self.patience.into();
        let goal = Goal { level, attainable, bound, certificate, steps, seed };
        let values = piece_values(self.pieces);
        self.rank.best = refine(task, &goal, self.rank.best.clone(), &values, settings);
    }

    /// Looks for plans by rounding the relaxed one, by the integer program over the patterns found, and
    /// by filling sheets.
    fn improve(&mut self, settings: &Settings) {
        let Ranking { task, level, .. } = self.rank;
        let (values, bound) = (piece_values(self.pieces), self.proof.bound);
        let root = Branch::root(task);
        let open = |rank: &Ranking| !rank.is_near(bound) && !(settings.stop)();
        let rank = &mut self.rank;
        for slack in SLACKS {
            if open(rank) {
                let left = Left { slack, bound };
                let better = around(rank, self.pool, settings, &values, left);
                rank.offer(better);
            }
        }
        if open(rank) {
            rank.offer(over_pool(task, level.on(&root), self.pool, &values, settings));
        }
        if open(rank) {
            let target = target(level, bound);
            rank.offer(fill(task, Candidate::default(), &values, settings.urgent));
            let (rounds, stop, urgent) = (settings.rounds / 2, settings.stop, settings.urgent);
            let effort = Rework { rounds, target, stop, urgent };
            rank.offer(Some(rework(task, rank.best.clone(), &values, effort)));
        }
        rank.best.add_to(self.pool);
    }
}

/// Times the pairs of a vain attempt that another one must be worth.
const WORTH_RETRYING: usize = 4;

/// Sheets a pattern that are given back before a plan is made sheet by sheet, by turns.
const DESCENT_SLACKS: [u64; 3] = [0, 1, 2];
/// Times that the stock may not suffice for such a plan until no more are tried.
const MOST_FAILURES: usize = 4;

/// Sheets a pattern that are given back before the rest of an order is solved as a small one.
const SLACKS: [u64; 2] = [1, 4];

/// What a relaxed solution leaves.
struct Left {
    /// Sheets of each pattern that are given back.
    slack: u64,
    /// What every plan costs.
    bound: i64,
}

/// Keeps most of a relaxed solution as it is and solves what is left as an order of its own, which is
/// small whatever the counts are.
fn around(
    rank: &Ranking,
    pool: &mut Pool,
    settings: &Settings,
    values: &[i64],
    Left { slack, bound }: Left,
) -> Option<Candidate> {
    let (task, level) = (rank.task, rank.level);
    let parts = master(task, level.on(&Branch::root(task)), pool).solve()?;
    let base = base(pool, &parts, slack);
    if base.runs.is_empty() {
        return None;
    }
    let rest = task.after(&base)?;
    let level = residual(level, task, &base)?;
    let root = Branch::root(&rest);
    let best = fill(&rest, Candidate::default(), values, settings.urgent)?;
    let mut small = Ranking { task: &rest, level, best, ..*rank };
    small.offer(over_pool(&rest, level.on(&root), pool, values, settings));
    let left = bound - level.value(base.cost(task)?);
    let (rounds, target) = (settings.rounds / 4, target(level, left));
    let effort = Rework { rounds, target, stop: settings.stop, urgent: settings.urgent };
    let best = rework(&rest, small.best, values, effort);
    Some(base.with(&best, task))
}

fn target(level: Level, certified: i64) -> Cost {
    match level {
        Level::Spend => Cost { spend: certified, stock: i64::MAX },
        Level::Stock { budget } => Cost { spend: budget, stock: certified },
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples::{SETTINGS, squares};
    use super::super::solve::solve;
    use super::*;

    /// What is open of some tasks after so many steps, and the steps that the longest of them took.
    fn open(lasting: u64) -> (i64, u64) {
        let settings = Settings { nodes: 2, rounds: 1, steps: 2_000_000, lasting, ..SETTINGS };
        let solved = (1..=24).map(|seed| {
            let task = squares(seed);
            let answer = solve(&task, None, &settings).unwrap_or_else(|_| panic!("{seed}"));
            let Proven { value, bound, tried, .. } = answer.spend;
            let gone_again = tried.is_some_and(|tried| tried.again > 0);
            assert!(value == bound || gone_again == (lasting > 0), "{seed}: {tried:?}");
            (value - bound, task.work())
        });
        solved.fold((0, 0), |(gaps, most), (gap, work)| (gaps + gap, most.max(work)))
    }

    #[test]
    fn a_lasting_effort_goes_on_while_there_is_a_gap() {
        let (once, plain) = open(0);
        let (again, longest) = open(400_000_000);
        assert!(again < once, "open: {again} after {once}");
        assert!(longest > plain && longest < 2_000_000_000, "{longest} steps, {plain} before");
    }
}
