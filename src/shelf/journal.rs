//! The journal: one line of JSON an entry, each with the digest of the line before it.

use super::event::{Digests, Entry, Event, Settled, digest};
use super::pair::{Pair, Texts};
use crate::diagnostics::{Place, Problem, Source};
use crate::stock::Counts;
use std::collections::{BTreeMap, BTreeSet};

/// All that is known to have befallen a shelf.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Journal {
    entries: Vec<Entry>,
    /// The digest of the last line.
    last: Option<String>,
    /// Bytes of the whole lines.
    pub length: u64,
    /// Whether an unfinished line stands behind them.
    pub torn: bool,
}

impl Journal {
    /// Reads the journal of this name.
    ///
    /// # Errors
    /// A line that is no entry, or one that does not follow the line before it.
    pub fn read(name: &str, bytes: &[u8]) -> Result<Journal, Box<Problem>> {
        let length = bytes.iter().rposition(|byte| *byte == b'\n').map_or(0, |end| end + 1);
        let mut journal =
            Journal { length: length as u64, torn: length < bytes.len(), ..Journal::default() };
        for line in bytes[..length].split_inclusive(|byte| *byte == b'\n') {
            let line = &line[..line.len() - 1];
            let entry = journal.entry(line).map_err(|(column, expected)| {
                let text = String::from_utf8_lossy(&bytes[..length]);
                let number = journal.entries.len() + 1;
                let text = Source::new(name, &text).line(number);
                let column = column.clamp(1, text.chars().count() + 1);
                let place = Place { file: name.into(), line: number, column, length: 0, text };
                Box::new(
                    Problem::error("shelf-journal", format!("{name} is not as it was written"))
                        .at(Some(&place), expected)
                        .help("take the journal from a copy, or begin a new one: move it away, and the files are taken as they are"),
                )
            })?;
            journal.last = Some(digest(line));
            journal.entries.push(entry);
        }
        Ok(journal)
    }

    /// The next entry from its line, or the column of what is wrong, and what was expected.
    fn entry(&self, line: &[u8]) -> Result<Entry, (usize, String)> {
        let entry: Entry = serde_json::from_slice(line).map_err(|error| {
            let said = error.to_string();
            (error.column(), said.split(" at line ").next().unwrap_or_default().to_owned())
        })?;
        let number = self.entries.len() as u64 + 1;
        if entry.number != number {
            return Err((1, format!("expected entry {number}")));
        }
        if entry.previous != self.last {
            return Err((1, "the line before it was changed after it was written".to_owned()));
        }
        let begins = matches!(entry.event, Event::Begun { .. });
        match begins == (number == 1) {
            true => Ok(entry),
            false => Err((1, "a journal begins once, with its first line".to_owned())),
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

    /// What the files were called when it was begun.
    pub fn names(&self) -> Option<&Pair<String>> {
        match &self.entries.first()?.event {
            Event::Begun { names, .. } => Some(names),
            _ => None,
        }
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

    /// Numbers of the entries that were taken back.
    fn undone(&self) -> BTreeSet<u64> {
        let undone = |entry: &Entry| match entry.event {
            Event::Undone { entry, .. } => Some(entry),
            _ => None,
        };
        self.entries.iter().filter_map(undone).collect()
    }

    /// The settled batches that were not taken back, with the numbers of their entries.
    pub fn settled(&self) -> impl DoubleEndedIterator<Item = (&Entry, &Settled)> {
        let undone = self.undone();
        self.entries.iter().filter_map(move |entry| match &entry.event {
            Event::Settled(settled) if !undone.contains(&entry.number) => {
                Some((entry, settled.as_ref()))
            }
            _ => None,
        })
    }

    /// The last part of a plan that was settled and not taken back, with its entry.
    pub fn last_settled(&self, plan: &str) -> Option<(&Entry, &Settled)> {
        self.settled().rfind(|(_, settled)| settled.plan == plan)
    }

    /// Sheets of a plan that are cut already, by run.
    pub fn cut(&self, plan: &str) -> BTreeMap<String, u64> {
        let mut cut = BTreeMap::new();
        for (_, settled) in self.settled().filter(|(_, settled)| settled.plan == plan) {
            for (run, count) in &settled.runs {
                *cut.entry(run.clone()).or_insert(0) += count;
            }
        }
        cut
    }

    /// Paper that is set aside, by batch.
    pub fn reserved(&self) -> BTreeMap<String, Counts> {
        let undone = self.undone();
        let mut plans: BTreeMap<&str, &str> = BTreeMap::new();
        let mut reserved: BTreeMap<String, Counts> = BTreeMap::new();
        for entry in &self.entries {
            match &entry.event {
                Event::Reserved { batch, plan, paper } => {
                    plans.insert(batch, plan);
                    reserved.insert(batch.clone(), paper.clone());
                }
                Event::Dropped { batch } => {
                    reserved.remove(batch);
                }
                Event::Settled(settled)
                    if !undone.contains(&entry.number)
                        && plans.get(settled.batch.as_str()) == Some(&settled.plan.as_str()) =>
                {
                    release(&mut reserved, settled);
                }
                _ => {}
            }
        }
        reserved.retain(|_, paper| !paper.is_empty());
        reserved
    }

    /// Paper set aside for other batches than this one, together.
    pub fn reserved_beside(&self, batch: &str) -> Counts {
        let mut all = Counts::new();
        for (_, paper) in self.reserved().into_iter().filter(|(name, _)| name != batch) {
            for (sheet, count) in paper {
                *all.entry(sheet).or_insert(0) += count;
            }
        }
        all
    }
}

/// Takes what was cut of a batch from what is set aside for it.
fn release(reserved: &mut BTreeMap<String, Counts>, settled: &Settled) {
    let Some(paper) = reserved.get_mut(&settled.batch) else { return };
    if settled.whole {
        paper.clear();
    }
    for (sheet, used) in &settled.used {
        let bought = settled.bought.get(sheet).copied().unwrap_or_default();
        if let Some(count) = paper.get_mut(sheet) {
            *count = count.saturating_sub(used.saturating_sub(bought));
        }
    }
    paper.retain(|_, count| *count > 0);
}

#[cfg(test)]
mod tests {
    use super::super::event::{Shift, digests};
    use super::*;

    fn texts(sheets: &str) -> Texts {
        Pair { sheets: Some(sheets.to_owned()), offcuts: None }
    }

    fn begun(sheets: &str) -> Event {
        let names = Pair { sheets: "sheets.csv".to_owned(), offcuts: "offcuts.csv".to_owned() };
        Event::Begun { names, texts: texts(sheets), after: digests(&texts(sheets)) }
    }

    fn settled(before: &str, after: &str) -> Settled {
        Settled {
            batch: "may".to_owned(),
            plan: "p".to_owned(),
            runs: [("R1".to_owned(), 2)].into(),
            whole: false,
            bought: Counts::new(),
            used: [("a".to_owned(), 2)].into(),
            kept: Vec::new(),
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
    fn an_unfinished_line_is_known_and_left_out() {
        let (_, bytes) = journal(vec![begun("1"), settle("1", "2")]);
        let first = bytes.iter().position(|byte| *byte == b'\n').unwrap() + 1;
        for end in first + 1..bytes.len() {
            let torn = Journal::read("shelf.jsonl", &bytes[..end]).unwrap();
            assert!(torn.torn, "{end}");
            assert_eq!((torn.entries().len(), torn.length), (1, first as u64));
        }
        assert!(!Journal::read("shelf.jsonl", &bytes[..first]).unwrap().torn);
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
            batch: batch.to_owned(),
            plan: plan.to_owned(),
            paper: [("a".to_owned(), count)].into(),
        };
        let beside = |events, batch: &str| {
            journal(events).0.reserved_beside(batch).get("a").copied().unwrap_or_default()
        };
        let both = || vec![begun("1"), reserve("may", "p", 5), reserve("june", "q", 3)];
        assert_eq!(beside(both(), "july"), 8);
        assert_eq!(beside(both(), "may"), 3);
        let with = |event| [both(), vec![event]].concat();
        assert_eq!(beside(with(reserve("may", "r", 4)), "july"), 7, "the last one counts");
        assert_eq!(beside(with(Event::Dropped { batch: "june".to_owned() }), "july"), 5);
        assert_eq!(beside(with(settle("1", "2")), "july"), 6, "two of five are cut");
        let whole = Event::Settled(Box::new(Settled { whole: true, ..settled("1", "2") }));
        assert_eq!(beside(with(whole), "july"), 3);
        let other = Event::Settled(Box::new(Settled { plan: "z".to_owned(), ..settled("1", "2") }));
        assert_eq!(beside(with(other), "july"), 8, "another plan of the same name");
        let taken_back = [with(settle("1", "2")), vec![undone(4, "2", "1")]].concat();
        assert_eq!(beside(taken_back, "july"), 8);
    }
}
