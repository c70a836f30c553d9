//! The journal: one line of JSON an entry, each with the digest of the line before it.
//!
//! An entry that changes the files holds the changes and the digests of both files before and after. So the last files
//! follow from the first line, which holds them whole, and a line that was changed is found by the next one. Edits by
//! hand are welcome: the next writer enters them, too.

use super::event::{Digests, Entry, Event, Settled, TakeRecord, digest};
use crate::diagnostics::{Place, Problem, SourceText};
use crate::measure::{AmountUnit, Ratio};
use crate::pieces::Before;
use crate::plan::unrepeated;
use crate::stock::Counts;
use crate::stock::{PerFile, Texts};
use std::collections::{BTreeMap, BTreeSet};

/// What to do with a journal that is broken.
pub const FROM_A_COPY: &str = "restore the journal from a copy";
/// What else to do, and what that costs.
pub const BEGIN_ANEW: &str = "or move it away: a new one starts from the files as they are, and \
                              what was settled before is forgotten and cannot be undone";

/// Most sheets, or parts of a supply, of any entry: beyond the most of a file, and far from overflow.
const MOST: u64 = 1_000_000_000_000_000;

/// Every change to a shelf, as far as it is known.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Journal {
    entries: Vec<Entry>,
    /// The digest of the last line.
    last: Option<String>,
    /// Bytes of the whole lines.
    pub length: u64,
    /// Whether an unfinished line stands behind them.
    pub torn: bool,
    /// Whether the last line lacks its end.
    pub unended: bool,
}

/// What is wrong with a line.
struct Wrong {
    column: usize,
    expected: String,
}

impl Journal {
    /// Reads the journal of this name.
    ///
    /// # Errors
    /// A line that is no entry, or one that does not follow the line before it.
    pub fn read(name: &str, bytes: &[u8]) -> Result<Journal, Box<Problem>> {
        let length = bytes.iter().rposition(|byte| *byte == b'\n').map_or(0, |end| end + 1);
        let mut journal = Journal { length: length as u64, ..Journal::default() };
        for line in bytes[..length].split_inclusive(|byte| *byte == b'\n') {
            let line = &line[..line.len() - 1];
            match journal.entry(line) {
                Ok(entry) => journal.push(line, entry),
                Err(wrong) => return Err(journal.unlike(name, bytes, wrong)),
            }
        }
        // Whole but for its end, a last line counts: somebody may have opened the file and saved it.
        let behind = &bytes[length..];
        match journal.entry(behind) {
            Ok(entry) => {
                journal.push(behind, entry);
                journal.length = bytes.len() as u64;
                journal.unended = true;
            }
            Err(_) if journal.is_begun(behind) => journal.torn = !behind.is_empty(),
            Err(wrong) => return Err(journal.unlike(name, bytes, wrong)),
        }
        Ok(journal)
    }

    /// The message for a next line that somebody has changed.
    fn unlike(&self, name: &str, bytes: &[u8], wrong: Wrong) -> Box<Problem> {
        let text = String::from_utf8_lossy(bytes);
        let number = self.entries.len() + 1;
        let text = SourceText::new(name, &text).line(number);
        let column = wrong.column.clamp(1, text.chars().count() + 1);
        let place = Place { file: name.into(), line: number, column, length: 0, text };
        let problem = Problem::error("shelf-journal", format!("{name} was changed or damaged"));
        let problem = problem.at(Some(&place), wrong.expected);
        Box::new(problem.help(FROM_A_COPY).help(BEGIN_ANEW))
    }

    /// Whether this is the beginning of the next entry, of a writer that was cut off: some systems fill up with zeros
    /// what was not written any more. All else somebody else has written, and it is not to be taken off.
    fn is_begun(&self, line: &[u8]) -> bool {
        let written = line.iter().rposition(|byte| *byte != 0).map_or(0, |last| last + 1);
        let line = &line[..written];
        let head = format!("{{\"number\":{},\"on\":\"", self.entries.len() + 1);
        let begins = head.as_bytes().starts_with(line) || line.starts_with(head.as_bytes());
        let ends_early = serde_json::from_slice::<Entry>(line).is_err_and(|error| error.is_eof());
        line.is_empty() || (begins && ends_early)
    }

    fn push(&mut self, line: &[u8], entry: Entry) {
        self.last = Some(digest(line));
        self.entries.push(entry);
    }

    /// The next entry from its line, or what is wrong with it.
    fn entry(&self, line: &[u8]) -> Result<Entry, Wrong> {
        let wrong = |expected: &str| Err(Wrong { column: 1, expected: expected.to_owned() });
        let entry: Entry = unrepeated::read(line).map_err(|error| {
            let said = error.to_string();
            let expected = said.split(" at line ").next().unwrap_or_default().to_owned();
            Wrong { column: error.column(), expected }
        })?;
        let number = self.entries.len() as u64 + 1;
        if entry.number != number {
            return wrong(&format!("expected entry {number}"));
        }
        if entry.previous != self.last {
            return wrong("the line before it was changed");
        }
        if entry.event.counts().any(|count| *count > MOST) {
            return wrong(&format!("expected counts of at most {MOST}"));
        }
        if !self.takes_back(&entry.event) {
            return wrong("expected the exact reverse of a settled entry");
        }
        let begins = matches!(entry.event, Event::Begun { .. });
        match begins == (number == 1) {
            true => Ok(entry),
            false => wrong("a journal starts once, with its first line"),
        }
    }

    /// Whether an event that takes an entry back is just that entry backwards.
    fn takes_back(&self, event: &Event) -> bool {
        let Event::Undone { entry, shift } = event else { return true };
        let settled = self.entries.iter().find(|before| before.number == *entry);
        match settled.map(|before| &before.event) {
            Some(Event::Settled(settled)) => settled.shift.reversed() == *shift,
            _ => false,
        }
    }

    /// The lines of more events of a day, which become part of the journal.
    ///
    /// # Errors
    /// An event that is no JSON, which is a fault of the program.
    pub fn add(&mut self, on: &str, events: Vec<Event>) -> Result<Vec<u8>, serde_json::Error> {
        let mut bytes = Vec::new();
        for event in events {
            let number = self.entries.len() as u64 + 1;
            let entry = Entry { number, on: on.to_owned(), previous: self.last.clone(), event };
            let line = serde_json::to_vec(&entry)?;
            self.last = Some(digest(&line));
            bytes.extend(line);
            bytes.push(b'\n');
            self.entries.push(entry);
        }
        self.length += bytes.len() as u64;
        Ok(bytes)
    }

    /// All entries, the oldest first.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The digest of the line of an entry.
    pub fn digest_of(&self, number: u64) -> Option<&str> {
        let at = usize::try_from(number).ok().filter(|at| *at > 0)?;
        match self.entries.get(at) {
            Some(next) => next.previous.as_deref(),
            None => self.last.as_deref().filter(|_| at == self.entries.len()),
        }
    }

    /// What the files are called.
    pub fn names(&self) -> Option<&PerFile<String>> {
        self.entries.iter().rev().find_map(|entry| match &entry.event {
            Event::Begun { names, .. } | Event::Named { names } => Some(names),
            _ => None,
        })
    }

    /// The digests of the files after the last entry.
    pub fn after(&self) -> Option<&Digests> {
        self.entries.iter().rev().find_map(|entry| match &entry.event {
            Event::Begun { after, .. } => Some(after),
            event => event.shift().map(|shift| &shift.after),
        })
    }

    /// The entry whose files may not all be written yet.
    pub fn pending(&self) -> Option<&Entry> {
        let last = self.entries.iter().rev().find(|entry| entry.event.writes())?;
        let done =
            |entry: &Entry| matches!(entry.event, Event::Done { entry } if entry == last.number);
        (!self.entries.iter().rev().take_while(|entry| entry.number > last.number).any(done))
            .then_some(last)
    }

    /// What was in the files after an entry, made anew from the beginning; `None` where the entry is not
    /// there or the journal contradicts itself.
    pub fn texts_after(&self, number: u64) -> Option<Texts> {
        self.states().nth(usize::try_from(number.checked_sub(1)?).ok()?)?
    }

    /// What was in the files after each entry, as far as they follow from each other; `None` from where
    /// they do not.
    pub fn states(&self) -> impl Iterator<Item = Option<Texts>> {
        self.entries.iter().scan(None, |state: &mut Option<Texts>, entry| {
            *state = match (&entry.event, &state) {
                (Event::Begun { texts, after, .. }, None) => {
                    (super::event::digests(texts) == *after).then(|| texts.clone())
                }
                (event, Some(before)) => match event.shift() {
                    Some(shift) => shift.after(before),
                    None => Some(before.clone()),
                },
                (_, None) => None,
            };
            Some(state.clone())
        })
    }

    /// What was in the files after the last entry.
    pub fn texts(&self) -> Option<Texts> {
        self.states().last()?
    }

    /// Numbers of the entries that are in force, of batches and stock-takes: not taken back, and not from a time before
    /// which the files were rebuilt.
    fn in_force(&self) -> BTreeSet<u64> {
        let goals = self.entries.iter().filter_map(|entry| match entry.event {
            Event::Rebuilt { entry, .. } => Some(entry),
            _ => None,
        });
        let goals: BTreeSet<u64> = goals.collect();
        let mut now = BTreeSet::new();
        let mut after: BTreeMap<u64, BTreeSet<u64>> = BTreeMap::new();
        for entry in &self.entries {
            match &entry.event {
                Event::Settled(_) | Event::Counted(_) => {
                    now.insert(entry.number);
                }
                Event::Undone { entry, .. } => {
                    now.remove(entry);
                }
                Event::Rebuilt { entry, .. } => {
                    now = after.get(entry).cloned().unwrap_or_default();
                }
                _ => {}
            }
            if goals.contains(&entry.number) {
                after.insert(entry.number, now.clone());
            }
        }
        now
    }

    /// The settled batches that are in force, with their entries.
    pub fn settled(&self) -> impl DoubleEndedIterator<Item = (&Entry, &Settled)> {
        let in_force = self.in_force();
        self.entries.iter().filter_map(move |entry| match &entry.event {
            Event::Settled(settled) if in_force.contains(&entry.number) => {
                Some((entry, settled.as_ref()))
            }
            _ => None,
        })
    }

    /// The stock-takes that are in force, with their entries.
    pub fn takes(&self) -> impl DoubleEndedIterator<Item = (&Entry, &TakeRecord)> {
        let in_force = self.in_force();
        self.entries.iter().filter_map(move |entry| match &entry.event {
            Event::Counted(record) if in_force.contains(&entry.number) => {
                Some((entry, record.as_ref()))
            }
            _ => None,
        })
    }

    /// The last part of a batch, by its name, that was settled and is in force, by whatever plan.
    pub fn last_of(&self, batch: &str) -> Option<(&Entry, &Settled)> {
        self.settled().rfind(|(_, settled)| settled.batch == batch)
    }

    /// The last part of a plan that was settled and not taken back, with its entry.
    pub fn last_settled(&self, plan: &str) -> Option<(&Entry, &Settled)> {
        self.settled().rfind(|(_, settled)| settled.plan == plan)
    }

    /// The parts of a plan that are settled and in force, the oldest first.
    pub fn parts<'a>(&'a self, plan: &'a str) -> impl Iterator<Item = &'a Settled> {
        self.settled().map(|(_, settled)| settled).filter(move |settled| settled.plan == plan)
    }

    /// The plans that made a batch together, from this one back to the first: each makes the rest of the next.
    pub fn chain<'a>(&'a self, plan: &'a str) -> Vec<&'a str> {
        let mut chain = vec![plan];
        let mut last = plan;
        while let Some(before) = self.parts(last).find_map(|settled| settled.rest_of.as_deref())
            && !chain.contains(&before)
        {
            chain.push(before);
            last = before;
        }
        chain
    }

    /// What a plan and those before it have come to; `None` where an entry of an earlier version does not say it.
    pub fn before(&self, plan: &str) -> Option<Before> {
        let chain = self.chain(plan);
        let mut before = Before { parts: chain.len() as u64, ..Before::default() };
        let mut paper = Ratio::default();
        for plan in chain.iter().rev() {
            for settled in self.parts(plan) {
                before.add(settled.pieces.as_ref()?);
                let cost = settled.cost?;
                before.spent += cost.spent;
                before.seconds += cost.seconds;
                for (sum, own) in
                    [(&mut before.supplies, &settled.taken), (&mut before.wasted, &settled.wasted)]
                {
                    own.iter().for_each(|(name, amount)| {
                        *sum.entry(name.clone()).or_insert(0) += amount;
                    });
                }
                paper = paper + Ratio::new(cost.paper[0].into(), i128::from(cost.paper[1].max(1)));
            }
        }
        before.paper = terms(&paper);
        Some(before)
    }

    /// Sheets of a plan that are cut already, by run.
    pub fn cut(&self, plan: &str) -> BTreeMap<String, u64> {
        let parts = self.settled().filter(|(_, settled)| settled.plan == plan);
        summed(parts.map(|(_, settled)| &settled.runs))
    }

    /// Paper that is set aside, by batch. Once a part is cut, it is what the rest takes.
    pub fn reserved(&self) -> BTreeMap<String, Counts> {
        let in_force = self.in_force();
        let mut reserved: BTreeMap<String, Counts> = BTreeMap::new();
        for entry in &self.entries {
            match &entry.event {
                Event::Reserved { batch, paper, .. } => {
                    reserved.insert(batch.clone(), paper.clone());
                }
                Event::Dropped { batch } => {
                    reserved.remove(batch);
                }
                Event::Settled(settled) if in_force.contains(&entry.number) => {
                    let batch = &settled.batch;
                    match &settled.aside {
                        Some(aside) => drop(reserved.insert(batch.clone(), aside.clone())),
                        None if reserved.contains_key(batch) => {
                            reserved.insert(batch.clone(), settled.rest.clone());
                        }
                        None => {}
                    }
                }
                _ => {}
            }
        }
        reserved.retain(|_, paper| !paper.is_empty());
        reserved
    }

    /// The entry that set paper aside for a batch, and what tells its plan from others; `None` where none is now.
    pub fn reserved_for(&self, batch: &str) -> Option<(u64, &str)> {
        let reserved = self.entries.iter().rev().find_map(|entry| match &entry.event {
            Event::Reserved { batch: name, plan, .. } if name == batch => {
                Some((entry.number, plan.as_str()))
            }
            _ => None,
        });
        reserved.filter(|_| self.reserved().contains_key(batch))
    }

    /// What envelopes and sundries are counted in that it names.
    pub fn units(&self) -> BTreeMap<&str, AmountUnit> {
        let units = self.entries.iter().filter_map(|entry| match &entry.event {
            Event::Settled(settled) => Some(&settled.units),
            Event::Counted(record) => Some(&record.units),
            Event::Reserved { units, .. } => Some(units),
            _ => None,
        });
        let units = units.flatten();
        units.map(|(name, unit)| (name.as_str(), AmountUnit::of(unit))).collect()
    }

    /// Whether it names this plan anywhere.
    pub fn knows(&self, plan: &str) -> bool {
        self.entries.iter().any(|entry| match &entry.event {
            Event::Settled(settled) => settled.plan == plan,
            Event::Reserved { plan: reserved, .. } => reserved == plan,
            _ => false,
        })
    }

    /// Paper set aside for other batches than this one, together.
    pub fn reserved_beside(&self, batch: &str) -> Counts {
        summed(self.reserved().iter().filter(|(name, _)| *name != batch).map(|(_, paper)| paper))
    }

    /// Paper set aside for any batch, together.
    pub fn reserved_in_all(&self) -> Counts {
        summed(self.reserved().values())
    }
}

/// An amount as numerator and denominator; the nearest whole one where they are too large.
pub(super) fn terms(amount: &Ratio) -> [i64; 2] {
    let whole = || [i64::try_from(amount.nearest()).unwrap_or(i64::MAX), 1];
    amount.terms().unwrap_or_else(whole)
}

fn summed<'a>(counts: impl Iterator<Item = &'a Counts>) -> Counts {
    let mut sum = Counts::new();
    for (name, count) in counts.flatten() {
        *sum.entry(name.clone()).or_insert(0) += count;
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::super::event::{Shift, digests};
    use super::*;

    fn texts(sheets: &str) -> Texts {
        Texts { sheets: Some(sheets.to_owned()), ..Texts::default() }
    }

    fn begun(sheets: &str) -> Event {
        let names = crate::stock::USUAL_NAMES.map(str::to_owned);
        Event::Begun { names, texts: texts(sheets), after: digests(&texts(sheets)) }
    }

    fn settled(before: &str, after: &str) -> Settled {
        Settled {
            batch: "may".to_owned(),
            plan: "p".to_owned(),
            runs: [("R1".to_owned(), 2)].into(),
            whole: false,
            rest: [("a".to_owned(), 3)].into(),
            bought: Counts::new(),
            used: [("a".to_owned(), 2)].into(),
            kept: Vec::new(),
            reached: None,
            stacks: Vec::new(),
            spoiled: Counts::new(),
            pieces: None,
            aside: None,
            work: BTreeMap::new(),
            units: BTreeMap::new(),
            taken: Counts::new(),
            wasted: Counts::new(),
            rest_of: None,
            report: None,
            cost: None,
            shift: Shift::between(&texts(before), &texts(after)),
        }
    }

    fn settle(before: &str, after: &str) -> Event {
        Event::Settled(Box::new(settled(before, after)))
    }

    fn undone(entry: u64, before: &str, after: &str) -> Event {
        Event::Undone { entry, shift: Shift::between(&texts(before), &texts(after)) }
    }

    fn journal(events: Vec<Event>) -> (Journal, Vec<u8>) {
        let mut journal = Journal::default();
        let bytes = journal.add("2031-05-09", events).unwrap();
        (journal, bytes)
    }

    #[test]
    fn what_is_written_is_read() {
        let (journal, bytes) = journal(vec![
            begun("1"),
            settle("1", "2"),
            undone(2, "2", "1"),
            Event::Done { entry: 3 },
        ]);
        assert_eq!(bytes.iter().filter(|byte| **byte == b'\n').count(), 4);
        assert_eq!(Journal::read("shelf.jsonl", &bytes).unwrap(), journal);
        assert_eq!(Journal::read("shelf.jsonl", b"").unwrap(), Journal::default());
    }

    #[test]
    fn every_line_has_its_digest() {
        let (journal, bytes) = journal(vec![begun("1"), settle("1", "2"), undone(2, "2", "1")]);
        let digests = bytes.split(|byte| *byte == b'\n').map(digest).take(3);
        let known = (1..=3).map(|number| journal.digest_of(number).unwrap().to_owned());
        assert_eq!(known.collect::<Vec<_>>(), digests.collect::<Vec<_>>());
        assert_eq!([0, 4, u64::MAX].map(|number| journal.digest_of(number)), [None; 3]);
    }

    #[test]
    fn an_unfinished_line_is_known_and_left_out() {
        let (_, bytes) = journal(vec![begun("1"), settle("1", "2")]);
        let first = bytes.iter().position(|byte| *byte == b'\n').unwrap() + 1;
        for end in first + 1..bytes.len() - 1 {
            let torn = Journal::read("shelf.jsonl", &bytes[..end]).unwrap();
            assert!(torn.torn && !torn.unended, "{end}");
            assert_eq!((torn.entries().len(), torn.length), (1, first as u64));
        }
        assert!(!Journal::read("shelf.jsonl", &bytes[..first]).unwrap().torn);
        let unended = Journal::read("shelf.jsonl", &bytes[..bytes.len() - 1]).unwrap();
        assert!(unended.unended && !unended.torn);
        assert_eq!(unended.entries().len(), 2);
    }

    #[test]
    fn counts_beyond_all_measure_are_refused() {
        let most = Settled { used: [("a".to_owned(), MOST)].into(), ..settled("1", "2") };
        let more = Settled { used: [("a".to_owned(), MOST + 1)].into(), ..settled("1", "2") };
        let read = |settled: Settled| {
            let (_, bytes) = journal(vec![begun("1"), Event::Settled(Box::new(settled))]);
            Journal::read("shelf.jsonl", &bytes).is_ok()
        };
        assert!(read(most) && !read(more));
    }

    #[test]
    fn a_shelf_that_was_rebuilt_knows_what_was_settled_then() {
        let rebuilt = |entry, before: &str, after: &str| Event::Rebuilt {
            entry,
            shift: Shift::between(&texts(before), &texts(after)),
        };
        let events = vec![begun("1"), settle("1", "2"), rebuilt(1, "2", "1")];
        assert!(journal(events.clone()).0.cut("p").is_empty());
        let events = [events, vec![rebuilt(2, "1", "2")]].concat();
        assert_eq!(journal(events).0.cut("p"), [("R1".to_owned(), 2)].into());
    }

    #[test]
    fn a_line_that_was_changed_is_found_by_the_next() {
        let (_, bytes) = journal(vec![begun("1"), settle("1", "2"), undone(2, "2", "1")]);
        let text = String::from_utf8(bytes).unwrap();
        let tampered = text.replacen("\"R1\":2", "\"R1\":1", 1);
        assert_ne!(tampered, text);
        let problem = Journal::read("shelf.jsonl", tampered.as_bytes()).unwrap_err();
        assert_eq!((problem.code, problem.place.unwrap().line), ("shelf-journal", 3));
        for broken in [
            text.lines().skip(1).collect::<Vec<_>>().join("\n") + "\n",
            text.lines().rev().collect::<Vec<_>>().join("\n") + "\n",
            format!("{text}{{}}\n"),
            format!("{text}\n"),
        ] {
            assert!(Journal::read("shelf.jsonl", broken.as_bytes()).is_err(), "{broken}");
        }
    }

    #[test]
    fn the_files_are_made_anew_from_the_beginning() {
        let edited = Event::Edited(Shift::between(&texts("2"), &texts("3")));
        let events = vec![begun("1"), settle("1", "2"), Event::Done { entry: 2 }, edited];
        let (journal, _) = journal(events);
        assert_eq!(journal.texts_after(0), None);
        assert_eq!(journal.texts_after(1), Some(texts("1")));
        assert_eq!(journal.texts_after(3), Some(texts("2")));
        assert_eq!(journal.texts(), Some(texts("3")));
        assert_eq!(journal.texts_after(5), None);
        assert_eq!(journal.after(), Some(&digests(&texts("3"))));
        let (contradiction, _) = super::tests::journal(vec![begun("1"), settle("0", "2")]);
        assert_eq!(contradiction.texts(), None);
    }

    #[test]
    fn an_entry_is_pending_until_it_is_done() {
        let pending = |events| journal(events).0.pending().map(|entry| entry.number);
        assert_eq!(pending(vec![begun("1")]), None);
        assert_eq!(pending(vec![begun("1"), settle("1", "2")]), Some(2));
        assert_eq!(pending(vec![begun("1"), settle("1", "2"), Event::Done { entry: 2 }]), None);
        let again =
            vec![begun("1"), settle("1", "2"), Event::Done { entry: 2 }, undone(2, "2", "1")];
        assert_eq!(pending(again), Some(4));
    }

    #[test]
    fn what_was_taken_back_is_not_cut() {
        let (once, _) = journal(vec![begun("1"), settle("1", "2"), settle("2", "3")]);
        assert_eq!(once.cut("p"), [("R1".to_owned(), 4)].into());
        assert!(once.cut("q").is_empty());
        let (back, _) = journal(vec![begun("1"), settle("1", "2"), undone(2, "2", "1")]);
        assert!(back.cut("p").is_empty());
    }

    #[test]
    fn paper_is_set_aside_until_it_is_cut_or_dropped() {
        let reserve = |batch: &str, plan: &str, count| Event::Reserved {
            units: BTreeMap::new(),
            batch: batch.to_owned(),
            plan: plan.to_owned(),
            paper: [("a".to_owned(), count)].into(),
        };
        let beside = |events, batch: &str| {
            journal(events).0.reserved_beside(batch).get("a").copied().unwrap_or_default()
        };
        let both = || vec![begun("1"), reserve("may", "p", 5), reserve("june", "q", 3)];
        assert_eq!(beside(both(), "july"), 8);
        assert_eq!(journal(both()).0.reserved_in_all(), [("a".to_owned(), 8)].into());
        assert_eq!(beside(both(), "may"), 3);
        let with = |event| [both(), vec![event]].concat();
        assert_eq!(beside(with(reserve("may", "r", 4)), "july"), 7, "the last one counts");
        assert_eq!(beside(with(Event::Dropped { batch: "june".to_owned() }), "july"), 5);
        assert_eq!(beside(with(settle("1", "2")), "july"), 6, "three are left to cut");
        let whole = Settled { whole: true, rest: Counts::new(), ..settled("1", "2") };
        assert_eq!(beside(with(Event::Settled(Box::new(whole))), "july"), 3);
        let taken_back = [with(settle("1", "2")), vec![undone(4, "2", "1")]].concat();
        assert_eq!(beside(taken_back, "july"), 8);
    }
}
