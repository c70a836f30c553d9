//! What a writer that was cut off has left, brought to an end.

use super::super::disk::Disk;
use super::super::event::{Entry, Event, digest};
use super::super::pair::Pair;
use super::error::Tried;
use super::{Shelf, StoreError};
use crate::diagnostics::Problem;

impl<D: Disk> Shelf<D> {
    /// Takes an unfinished line off the journal and finishes its last entry.
    pub(super) fn recover(&mut self) -> Result<(), StoreError> {
        if self.journal.torn {
            let path = &self.spot.journal;
            self.disk.shorten(path, self.journal.length).tried("write", path)?;
            self.journal.torn = false;
            self.told.push(
                Problem::warning(
                    "shelf-restored",
                    "a change of the shelf was cut off before it counted",
                )
                .help("it was taken back: the files are as they were before it"),
            );
        }
        if self.journal.unended {
            let path = &self.spot.journal;
            self.disk.append(path, b"\n").tried("write", path)?;
            self.journal.length += 1;
            self.journal.unended = false;
        }
        let Some(entry) = self.journal.pending().cloned() else {
            self.clear();
            return Ok(());
        };
        match self.finish(&entry) {
            Ok(()) => {
                let what = named(&entry.event);
                let title = format!("{what} (entry {}) was cut off in the middle", entry.number);
                self.told.push(
                    Problem::warning("shelf-restored", title)
                        .help("it was finished now: the files are as they should be after it"),
                );
                self.clear();
                Ok(())
            }
            Err(StoreError::Problem(problem)) => {
                self.unfinished = Some(*problem);
                Ok(())
            }
            Err(error) => Err(error),
        }
    }

    /// Writes the files of an entry that are not written yet.
    fn finish(&mut self, entry: &Entry) -> Result<(), StoreError> {
        let Some(shift) = entry.event.shift() else { return Ok(()) };
        let now = self.bytes.each().map(|bytes| bytes.as_ref().map(|bytes| digest(bytes)));
        let states = shift.before.each().with(shift.after.each()).with(now);
        let names = self.spot.names.each().array();
        for (((before, after), now), name) in states.array().into_iter().zip(names) {
            // A file that the entry leaves alone is nobody's business here.
            if before != after && now != *before && now != *after {
                return Err(StoreError::Problem(Box::new(edited_since(entry, name))));
            }
        }
        let texts = self.journal.texts_after(entry.number).ok_or_else(|| self.contradiction())?;
        let mut new = self.differing(&texts);
        let touched =
            shift.before.each().with(shift.after.each()).map(|(before, after)| before != after);
        new = Pair {
            sheets: new.sheets.filter(|_| touched.sheets),
            offcuts: new.offcuts.filter(|_| touched.offcuts),
        };
        self.write_beside(&new)?;
        self.take_names(&new)?;
        self.enter(&entry.on, vec![Event::Done { entry: entry.number }])
    }
}

fn edited_since(entry: &Entry, name: &str) -> Problem {
    let what = named(&entry.event);
    Problem::error(
        "shelf-unfinished",
        format!("{what} (entry {}) was cut off, and {name} was edited since", entry.number),
    )
    .help("`cardwright shelf rebuild` puts the files right and keeps your edit in the journal")
}

/// `settling wedding`.
fn named(event: &Event) -> String {
    match event {
        Event::Settled(settled) => format!("settling {}", settled.batch),
        Event::Undone { entry, .. } => format!("taking entry {entry} back"),
        _ => "rebuilding the shelf".to_owned(),
    }
}
