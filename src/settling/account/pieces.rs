//! What became of the pieces.

use super::refused::what_is_there;
use super::{Account, Course};
use crate::diagnostics::{Problem, counted};
use crate::job::Job;
use crate::pieces::{Done, Piece, Tally};
use crate::schedule::{schedule, strokes};
use crate::settling::Trouble;
use crate::shelf::Portion;
use crate::workshop::TrimmerWork;

impl Course<'_> {
    /// Counts pieces that were finished by runs, and those that were spoiled.
    pub(super) fn tally(
        &self,
        portion: &mut Portion,
        account: &Account,
        job: &Job,
    ) -> Result<(), Trouble> {
        if portion.pieces.is_none() {
            let finished = portion.finished(self.plan());
            portion.seconds = self.seconds(portion, job);
            portion.pieces = Some(tallies(job, |piece| {
                let finished = finished.get(&piece.id).copied().unwrap_or_default();
                Tally { finished, ..Tally::of(piece) }
            }));
        }
        let mut pieces = portion.pieces.take().unwrap_or_default();
        for (name, count) in &account.spoiled {
            let Some(piece) = piece(job, name) else {
                if portion.spoiled.contains_key(name) {
                    continue;
                }
                return Err(self.nothing_waits(name, *count, job, &pieces).into());
            };
            let good = self.done(piece, &pieces).good;
            if *count > good {
                let have = counted(good, "good piece");
                let title = format!("`{name}` has {have}, not {count}");
                let there = self.good_pieces(job, &pieces);
                let problem = Problem::error("settle-spoiled", title);
                return Err(problem.help(what_is_there(there)).into());
            }
            let of = Tally::of(piece);
            match pieces.iter_mut().find(|tally| tally.is_alike(&of)) {
                Some(tally) => tally.spoiled += count,
                None => pieces.push(Tally { spoiled: *count, ..of }),
            }
        }
        portion.pieces = Some(pieces);
        Ok(())
    }

    /// Whoever repeats a command by mistake has not spoiled as much again.
    pub(super) fn is_new(&self, portion: &Portion) -> Result<(), Trouble> {
        let Some((entry, last)) = self.journal.last_settled(self.batch.identity) else {
            return Ok(());
        };
        let spoiled = |pieces: &Option<Vec<Tally>>| -> Vec<(Vec<String>, u64)> {
            let pieces = pieces.iter().flatten().filter(|tally| tally.spoiled > 0);
            pieces.map(|tally| (tally.names.clone(), tally.spoiled)).collect()
        };
        let mut cut = portion.pieces.iter().flatten().map(|tally| tally.finished);
        let is_same = portion.spoiled == last.spoiled
            && portion.wasted == last.wasted
            && spoiled(&portion.pieces) == spoiled(&last.pieces)
            && portion.runs.is_empty()
            && cut.all(|finished| finished == 0)
            && portion.reached == last.reached;
        let title = format!("the same was spoiled in entry {} already", entry.number);
        match is_same {
            false => Ok(()),
            true => Err(Problem::error("settle-twice", title)
                .help("if as much was spoiled once more, take that entry back with `--undo`")
                .help("then settle again with the sum")
                .into()),
        }
    }

    /// What is done of a piece, by earlier plans, by earlier parts of this one, and now.
    pub(super) fn done(&self, piece: &Piece, now: &[Tally]) -> Done {
        let of = Tally::of(piece);
        let parts = self.parts.iter().flat_map(|part| part.pieces.iter().flatten()).chain(now);
        let mut sum = of.clone();
        parts.filter(|tally| tally.is_alike(&of)).for_each(|tally| sum.add(tally));
        let Done { good, spoiled } = piece.done;
        Done {
            good: (good + sum.finished).saturating_sub(sum.spoiled),
            spoiled: spoiled + sum.spoiled + sum.lost,
        }
    }

    /// Time that runs took: their strokes, and with the first of them all settings, and all that is done with stacks.
    pub(super) fn seconds(&self, portion: &Portion, job: &Job) -> u64 {
        let (rates, trimmer) = (&job.workshop.rates, &job.workshop.trimmer);
        let strokes = self.plan().runs.iter().filter_map(|run| {
            let sheet = job.stock.sheets.iter().find(|sheet| sheet.id == run.sheet)?;
            Some(strokes(&run.layout, *portion.runs.get(&run.id)?, sheet, trimmer))
        });
        let mut work = TrimmerWork { strokes: strokes.sum(), ..TrimmerWork::default() };
        if self.parts.is_empty() {
            let schedule = schedule(self.plan(), job);
            work.settings = schedule.gauge_settings;
            work.moves = schedule.in_order().iter().map(|(_, step)| step.moves).sum();
        }
        rates.cutting(work)
    }

    /// What is finished and good, with how many.
    pub(super) fn good_pieces(&self, job: &Job, now: &[Tally]) -> Vec<String> {
        let good = job.bill.pieces.iter().map(|it| (it, self.done(it, now).good));
        let good = good.filter(|(_, good)| *good > 0);
        let good = good.map(|(piece, good)| format!("{} ({good})", piece.id));
        good.chain(self.plan().supplies.iter().map(|supply| supply.id.clone())).collect()
    }
}

/// The piece of this id, or of which a line has a part of this name.
pub(super) fn piece<'a>(job: &'a Job, name: &str) -> Option<&'a Piece> {
    let by_id = job.bill.pieces.iter().find(|piece| piece.id == name);
    by_id.or_else(|| {
        job.bill.pieces.iter().find(|piece| piece.names().iter().any(|known| known == name))
    })
}

/// What became of each kind of piece, where anything did.
pub(super) fn tallies(job: &Job, of: impl Fn(&Piece) -> Tally) -> Vec<Tally> {
    let all = job.bill.pieces.iter().map(of);
    all.filter(|tally| tally.counts().into_iter().any(|count| *count > 0)).collect()
}
