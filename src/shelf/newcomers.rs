//! What goes in the drawer when a portion of a batch was cut: strips that are kept, and stacks that wait.

use super::event::{Stored, StoredStack};
use super::names::Names;
use super::portion::{Portion, StackLeft};
use super::settle::{Ground, Planned};
use crate::measure::Size;
use crate::plan::UsedSheet;
use crate::stock::{Counts, Sheet, SheetKind};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// All that is new in the drawer, and all stacks that lie there.
pub(super) struct Newcomers<'a> {
    batch: &'a Planned<'a>,
    ground: &'a Ground<'a>,
    on: Date,
    names: Names<'a>,
    /// As they will lie there.
    pub sheets: Vec<Sheet>,
    /// The strips, as the journal tells of them.
    pub kept: Vec<Stored>,
    /// Stacks that wait, old and new.
    pub stacks: Vec<StoredStack>,
    /// Plates of stacks that leave the drawer, by its names.
    pub fetched: Counts,
}

impl<'a> Newcomers<'a> {
    /// What a portion brings.
    pub fn of(
        batch: &'a Planned<'a>,
        portion: &Portion,
        on: Date,
        ground: &'a Ground<'a>,
    ) -> Newcomers<'a> {
        let names = Names::of_plan(batch.plan, ground.stock);
        let (sheets, kept, stacks, fetched) = Default::default();
        let mut all = Newcomers { batch, ground, on, names, sheets, kept, stacks, fetched };
        all.keep(portion);
        all.wait(portion);
        all
    }

    /// Puts the strips there, equal ones together.
    fn keep(&mut self, portion: &Portion) {
        let earlier = earlier_names(self.batch, self.ground);
        for planned in &self.batch.plan.offcuts {
            let is_it = |strips: &&super::NewStrips| strips.planned == planned.id;
            let left: Vec<_> = portion.strips.iter().filter(is_it).collect();
            let Some(first) = left.first() else { continue };
            let name = earlier.get(planned.id.as_str()).copied().unwrap_or(&planned.id);
            let size = Size::new(planned.width, planned.height);
            let Some(mut new) = self.offcut(name, size, &first.run) else { continue };
            new.on_hand = left.iter().map(|strips| strips.count).sum();
            if !self.ground.stock.sheets.iter().any(|other| is_alike(other, &new)) {
                new.id = self.names.free(&new.id);
            }
            self.kept.extend(left.into_iter().map(|strips| Stored {
                planned: planned.id.clone(),
                offcut: new.id.clone(),
                count: strips.count,
                run: strips.run.clone(),
            }));
            self.sheets.push(new);
        }
    }

    /// Puts the stacks there that wait now, and fetches those that were cut on.
    fn wait(&mut self, portion: &Portion) {
        let old = last_stacks(self.batch, self.ground);
        for stack in &portion.stacks {
            let known = old.iter().find(|known| known.letter == stack.letter);
            let before = known.map_or(0, |known| known.count);
            let known = known.map(|known| known.offcut.clone());
            let more = stack.count.saturating_sub(before);
            let name = if more > 0 { self.put(stack, known, more) } else { known };
            let Some(offcut) = name else { continue };
            let (letter, count) = (stack.letter.clone(), stack.count);
            self.stacks.push(StoredStack { letter, offcut, count });
        }
        for known in old {
            let now = portion.stacks.iter().find(|stack| stack.letter == known.letter);
            let less = known.count.saturating_sub(now.map_or(0, |stack| stack.count));
            if less > 0 {
                self.fetched.insert(known.offcut.clone(), less);
            }
        }
    }

    /// Puts plates of a stack in the drawer, and gives the name that it has there.
    fn put(&mut self, stack: &StackLeft, known: Option<String>, count: u64) -> Option<String> {
        let run = self.batch.plan.runs.iter().find(|run| run.id == stack.run)?;
        let paper = self.sheet(&run.sheet)?.paper;
        let name = format!("{paper}-{}-{}", self.batch.plan.order, stack.letter);
        let mut new = self.offcut(&name, stack.size, &stack.run)?;
        new.on_hand = count;
        new.id = match known {
            Some(known) => known,
            None => self.names.free(&new.id),
        };
        let name = new.id.clone();
        self.sheets.push(new);
        Some(name)
    }

    /// An offcut of the sheets of a run, of which there is none yet.
    fn offcut(&self, name: &str, size: Size, run: &str) -> Option<Sheet> {
        let run = self.batch.plan.runs.iter().find(|known| known.id == run)?;
        Some(Sheet {
            id: name.to_owned(),
            kind: SheetKind::Offcut,
            size,
            on_hand: 0,
            price: None,
            pack: 1,
            from: Some(self.batch.plan.order.clone()),
            since: Some(self.on),
            place: None,
            ..self.sheet(&run.sheet)?
        })
    }

    /// A sheet as it lies on the shelf, or as the plan records it, where an earlier part has taken the last one.
    fn sheet(&self, id: &str) -> Option<Sheet> {
        let lying = self.ground.stock.sheets.iter().find(|sheet| sheet.id == id);
        let recorded = || {
            let used = self.batch.plan.sheets.iter().find(|sheet| sheet.id == id)?;
            let UsedSheet { kind, grain, print, back, .. } = *used;
            let plain = Sheet::plain(id, &used.paper, Size::new(used.width, used.height));
            Some(Sheet { kind, grain, print, back, ..plain })
        };
        lying.cloned().or_else(recorded)
    }
}

/// The stacks that lie in the drawer since the plan was settled last.
fn last_stacks<'a>(batch: &Planned, ground: &'a Ground) -> &'a [StoredStack] {
    let last = ground.journal.last_settled(batch.identity);
    last.map_or(&[], |(_, settled)| settled.stacks.as_slice())
}

/// The names that offcuts of the plan got in the drawer when an earlier part was settled.
fn earlier_names<'a>(batch: &Planned, ground: &'a Ground) -> BTreeMap<&'a str, &'a str> {
    let settled = ground.journal.settled().map(|(_, settled)| settled);
    let kept = settled.filter(|settled| settled.plan == batch.identity).flat_map(|it| &it.kept);
    kept.map(|kept| (kept.planned.as_str(), kept.offcut.as_str())).collect()
}

/// Whether an offcut in the drawer is the same, left by an earlier part of the batch.
fn is_alike(old: &Sheet, new: &Sheet) -> bool {
    let looks = |sheet: &Sheet| (sheet.size, sheet.grain, sheet.print, sheet.back);
    (&old.id, &old.paper, old.kind, &old.from) == (&new.id, &new.paper, new.kind, &new.from)
        && looks(old) == looks(new)
}
