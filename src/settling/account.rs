//! What of a plan was cut and spoiled, from what the person says: steps of the schedule, sheets of some runs, or all.
//!
//! Steps are followed in the schedule that belongs to the plan (`schedule/replay.rs`); the note of the report holds the digest
//! of its steps, so that none are taken for others. What was settled before is followed first.

mod pieces;
mod refused;

use super::Trouble;
use super::learned;
use super::report::Sound;
use crate::batch::Remainder;
use crate::job::Job;
use crate::measure::Area;
use crate::pieces::{Piece, Tally};
use crate::plan::{Plan, Reached};
use crate::schedule::{Astray, OnBench, Replay, Schedule, UncutSheets, WaitingStack, schedule};
use crate::shelf::{
    Journal, NewStrips, Planned, Portion, Request, Settled, StackLeft, StageWork, digest,
    settled_already,
};
use crate::stock::{Counts, SheetKind, Stock};
use crate::workshop::TrimmerWork;
use pieces::{piece, tallies};
use std::collections::BTreeMap;

/// What a person says of a batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Account {
    /// What is cut.
    pub extent: HowFar,
    /// What was spoiled, by the id of a piece, the letter of a stack, or the name of a supply.
    pub spoiled: Counts,
    /// Seconds that stages took, by their words.
    pub took: Counts,
    /// How it is entered.
    pub request: Request,
}

/// How much of a plan is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum HowFar {
    /// All that is left.
    All,
    /// Sheets of some runs, to their end.
    Runs(Counts),
    /// The schedule, from its first step to here.
    Upto(Reached),
}

/// A plan, and what was settled of it before.
struct Course<'a> {
    batch: Planned<'a>,
    sound: &'a Sound,
    journal: &'a Journal,
    parts: Vec<&'a Settled>,
}

/// What was cut and spoiled since the plan was settled last, on this stock.
///
/// # Errors
/// That cannot be: no such step, run, piece or stack, or not so many.
pub(super) fn portion(
    sound: &Sound,
    account: &Account,
    journal: &Journal,
    stock: &Stock,
) -> Result<Portion, Trouble> {
    let batch = sound.read.batch();
    let parts: Vec<&Settled> = journal.parts(batch.identity).collect();
    let course = Course { batch, sound, journal, parts };
    let (wasted, spoiled) = course.wasted(account, stock);
    let account = &Account { spoiled, ..account.clone() };
    let is_whole = course.parts.last().is_some_and(|part| part.whole);
    let mut portion = match &account.extent {
        HowFar::Upto(_) if is_whole => return Err(settled_already(&batch, journal).into()),
        HowFar::Upto(to) => course.steps(Some(*to), account)?,
        // What was found spoiled afterwards.
        HowFar::All
            if is_whole
                && !(account.spoiled.is_empty()
                    && account.took.is_empty()
                    && wasted.is_empty()) =>
        {
            Portion::default()
        }
        HowFar::Runs(_) if course.is_by_steps() => return Err(course.by_steps().into()),
        HowFar::All if course.is_by_steps() && !is_whole => course.steps(None, account)?,
        HowFar::All => Portion::of_runs(&batch, None, journal)?,
        HowFar::Runs(runs) => Portion::of_runs(&batch, Some(runs), journal)?,
    };
    portion.wasted = wasted;
    if let Some(job) = &sound.job {
        course.tally(&mut portion, account, job)?;
        portion.work = course.works(account, job);
        // Hours alone may be told of what is settled already.
        if account.took.is_empty() || !account.spoiled.is_empty() || !portion.wasted.is_empty() {
            course.is_new(&portion)?;
        }
        course.end(&mut portion, job, stock);
    } else if let Some(name) = account.spoiled.keys().next() {
        return Err(course.unknown_steps(&format!("what `{name}` is")).into());
    }
    Ok(portion)
}

/// What a plan has left to cut, stacks by their names in the drawer; `None` where this is another plan, or its steps are
/// not known.
pub(super) fn remainder(sound: &Sound, plan: &str, journal: &Journal) -> Option<Remainder> {
    let batch = sound.read.batch();
    if batch.identity != plan {
        return None;
    }
    let parts: Vec<&Settled> = journal.parts(plan).collect();
    let course = Course { batch, sound, journal, parts };
    let (job, schedule) = course.schedule().ok()?;
    let is_by_steps = course.is_by_steps();
    let replay = match is_by_steps {
        true => course.followed(&schedule, job),
        false => Replay::new(&schedule, course.plan(), &job.workshop.trimmer),
    };
    let pieces: Vec<String> = course.plan().pieces.iter().map(|piece| piece.id.clone()).collect();
    let index = |id: &str| pieces.iter().position(|piece| piece == id);
    let mut sheets = replay.uncut(&index);
    if !is_by_steps {
        course.without_runs(&mut sheets, journal);
    }
    let stored = course.parts.last().map_or(&[][..], |part| part.stacks.as_slice());
    let bench = replay.standing();
    sheets.extend(bench.stacks.iter().filter_map(|stack| {
        let stored = stored.iter().find(|stored| stored.letter == stack.letter)?;
        let layout = replay.layout(stack, &index)?;
        Some(UncutSheets { sheet: stored.offcut.clone(), run: None, layout, count: stack.count })
    }));
    Some(Remainder { pieces, sheets })
}

impl Course<'_> {
    /// Of what was spoiled, the envelopes and sundries, in parts of their units; and all else.
    fn wasted(&self, account: &Account, stock: &Stock) -> (Counts, Counts) {
        // A piece or a stack of the same name comes first.
        let is_stack = |name: &str| name.bytes().all(|letter| letter.is_ascii_uppercase());
        let is_piece =
            |name: &str| self.sound.job.as_ref().is_some_and(|job| piece(job, name).is_some());
        let is_planned = |name: &str| {
            let is_supply = self.plan().supplies.iter().any(|it| it.id == name);
            is_supply && !is_piece(name) && !(is_stack(name) && name.len() < 3)
        };
        let all = account.spoiled.clone().into_iter();
        let (wasted, spoiled): (Counts, Counts) = all.partition(|(name, _)| is_planned(name));
        let parts = |name: &str| stock.supply(name).map_or(1, |(_, it)| it.unit.parts());
        let wasted = wasted.into_iter().map(|(name, count)| {
            let amount = count.saturating_mul(parts(&name));
            (name, amount)
        });
        (wasted.collect(), spoiled)
    }

    /// What is said of stages, beside what the schedule tells for all of them.
    fn works(&self, account: &Account, job: &Job) -> BTreeMap<String, StageWork> {
        if account.took.is_empty() {
            return BTreeMap::new();
        }
        let times = schedule(self.plan(), job).times;
        learned::works(&account.took, &times, &job.workshop.rates)
    }

    /// Takes off the sheets that were cut by runs.
    fn without_runs(&self, sheets: &mut Vec<UncutSheets>, journal: &Journal) {
        let cut = journal.cut(self.batch.identity);
        for uncut in sheets.iter_mut() {
            let run = uncut.run.as_ref().and_then(|run| cut.get(run)).copied();
            uncut.count = uncut.count.saturating_sub(run.unwrap_or_default());
        }
        sheets.retain(|uncut| uncut.count > 0);
    }

    /// Whether it was settled by steps, or stacks of it were spoiled.
    fn is_by_steps(&self) -> bool {
        self.parts.iter().any(|part| part.reached.is_some())
    }

    fn plan(&self) -> &Plan {
        self.batch.plan
    }

    /// The schedule as it was printed.
    fn schedule(&self) -> Result<(&Job, Schedule), Trouble> {
        let what = "its steps";
        let job = self.sound.job.as_ref().ok_or_else(|| self.unknown_steps(what))?;
        let schedule = schedule(self.plan(), job);
        let known = self.sound.read.origin.steps.as_deref();
        match known == Some(digest(schedule.steps_in_short().as_bytes()).as_str()) {
            true => Ok((job, schedule)),
            false => Err(self.unknown_steps(what).into()),
        }
    }

    /// What was cut up to a step, or to the end.
    fn steps(&self, to: Option<Reached>, account: &Account) -> Result<Portion, Trouble> {
        if !self.parts.is_empty() && !self.is_by_steps() {
            return Err(self.by_runs().into());
        }
        let (job, schedule) = self.schedule()?;
        let mut replay = self.followed(&schedule, job);
        let (before, reached) = (replay.standing(), replay.reached());
        match to {
            None => replay.finish(),
            Some(to) => replay.follow(to).map_err(|astray| self.astray(to, astray))?,
        }
        if let Some((reached, to)) = reached.zip(to)
            && replay.reached() == Some(reached)
            && account.spoiled.is_empty()
        {
            return Err(self.astray(to, Astray::Behind { reached }).into());
        }
        let (lost, spoiled) = self.spoil_stacks(&mut replay, account, job)?;
        let after = replay.standing();
        let mut portion = self.between(&before, &after);
        portion.reached = replay.reached().filter(|_| !replay.is_over());
        let seconds = |bench: &OnBench| {
            let OnBench { settings, strokes, moves, .. } = *bench;
            job.workshop.rates.cutting(TrimmerWork { settings, strokes, moves })
        };
        portion.seconds = seconds(&after) - seconds(&before);
        portion.spoiled = spoiled;
        portion.pieces = Some(tallies(job, |piece| {
            let of = |all: &Counts| all.get(&piece.id).copied().unwrap_or_default();
            let finished = of(&after.pieces) - of(&before.pieces);
            Tally { finished, lost: of(&lost), ..Tally::of(piece) }
        }));
        Ok(portion)
    }

    /// The schedule followed as far as it was settled.
    fn followed<'b>(&self, schedule: &'b Schedule, job: &'b Job) -> Replay<'b> {
        let mut replay = Replay::new(schedule, self.plan(), &job.workshop.trimmer);
        for part in &self.parts {
            match part.reached {
                // What the journal says was followed before.
                Some(to) => drop(replay.follow(to)),
                None => replay.finish(),
            }
            for (letter, count) in &part.spoiled {
                let _ = replay.spoil(letter, *count);
            }
        }
        replay
    }

    /// Takes spoiled plates off their stacks; gives the pieces that are lost with them, and how many plates of which stack.
    fn spoil_stacks(
        &self,
        replay: &mut Replay,
        account: &Account,
        job: &Job,
    ) -> Result<(Counts, Counts), Trouble> {
        let (mut lost, mut spoiled) = (Counts::new(), Counts::new());
        for (name, count) in &account.spoiled {
            if piece(job, name).is_some() {
                continue;
            }
            if let Err(there) = replay.spoil(name, *count) {
                return Err(self.not_there(name, *count, there, &replay.standing()).into());
            }
            for (id, each) in replay.pieces_of(name) {
                *lost.entry(id).or_insert(0) += each * count;
            }
            spoiled.insert(name.clone(), *count);
        }
        Ok((lost, spoiled))
    }

    /// What became of the shelf between two looks at the bench.
    fn between(&self, before: &OnBench, after: &OnBench) -> Portion {
        let begun = |bench: &OnBench, run: &str| bench.begun.get(run).copied().unwrap_or_default();
        let runs = self.plan().runs.iter();
        let cut = runs
            .clone()
            .map(|run| (run.id.clone(), begun(after, &run.id) - begun(before, &run.id)));
        let left = runs.map(|run| (run.id.clone(), run.count - begun(after, &run.id)));
        let some = |(_, count): &(String, u64)| *count > 0;
        let strips = after.offcuts.iter().map(|strips| {
            let same = before
                .offcuts
                .iter()
                .find(|it| (&it.offcut, &it.run) == (&strips.offcut, &strips.run));
            let count = strips.count - same.map_or(0, |same| same.count);
            NewStrips { planned: strips.offcut.clone(), run: strips.run.clone(), count }
        });
        Portion {
            runs: cut.filter(some).collect(),
            left: left.filter(some).collect(),
            strips: strips.filter(|strips| strips.count > 0).collect(),
            stacks: after
                .stacks
                .iter()
                .filter(|it| it.inner.is_positive())
                .map(left_over)
                .collect(),
            gone: self.gone(after) - self.gone(before),
            ..Portion::default()
        }
    }

    /// Area that is no part of the shelf any more: pieces, waste, dust, and edges that are rough still.
    fn gone(&self, bench: &OnBench) -> Area {
        let pieces = self.plan().pieces.iter().map(|piece| {
            let size = crate::measure::Size::new(piece.width, piece.height);
            size.area() * bench.pieces.get(&piece.id).copied().unwrap_or_default()
        });
        let rough = bench.stacks.iter().map(|stack| {
            let inner = if stack.inner.is_positive() { stack.inner.area() } else { Area::ZERO };
            (stack.size.area() - inner) * stack.count
        });
        pieces.sum::<Area>() + rough.sum::<Area>() + bench.waste + bench.blade
    }

    /// Says whether the batch is made with that, and throws away what is left of its stacks and too small to keep.
    fn end(&self, portion: &mut Portion, job: &Job, stock: &Stock) {
        let now = portion.pieces.as_deref().unwrap_or_default();
        let is_made = |it: &Piece| self.done(it, now).left_of(it.need(), it.spares()) == 0;
        let is_cut = portion.left.is_empty() && portion.stacks.is_empty();
        // Of an order that the paper was not enough for, the rest is still to be made.
        let copies = self.sound.read.origin.copies.as_ref();
        let is_all = copies.is_none_or(|copies| copies.sets.is_empty());
        portion.is_complete = is_cut && is_all && job.bill.pieces.iter().all(is_made);
        if !portion.is_complete {
            return;
        }
        let stacks = self.batch.earlier_stacks(self.journal);
        for sheet in stock.sheets.iter().filter(|sheet| stacks.contains(sheet.id.as_str())) {
            let is_ours = sheet.from.as_deref() == Some(self.plan().order.as_str());
            let used = self.plan().runs.iter().filter(|run| run.sheet == sheet.id);
            let cut = used.filter_map(|run| portion.runs.get(&run.id)).sum::<u64>();
            let left = sheet.on_hand.saturating_sub(cut);
            let keeps = job.workshop.keep.keeps(sheet.size);
            if is_ours && sheet.kind == SheetKind::Offcut && !keeps && left > 0 {
                portion.thrown.insert(sheet.id.clone(), left);
                portion.gone += sheet.size.area() * left;
            }
        }
    }
}

fn left_over(stack: &WaitingStack) -> StackLeft {
    let WaitingStack { letter, run, inner, count, .. } = stack.clone();
    StackLeft { letter, run, size: inner, count }
}
