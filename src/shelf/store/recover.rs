//! What a writer that was cut off has left, brought to an end.

use super::super::disk::Disk;
use super::super::event::{Entry, Event, Shift, digest};
use super::error::OnFile;
use super::{Shelf, Spot, StoreError};
use crate::diagnostics::Problem;
use std::io::ErrorKind;
use std::path::Path;

impl<D: Disk> Shelf<D> {
    /// Takes an unfinished line off the journal.
    pub(super) fn mend_line(&mut self) -> Result<(), StoreError> {
        if self.journal.torn {
            let path = &self.spot.journal;
            self.disk.shorten(path, self.journal.length).tried("write", path)?;
            self.journal.torn = false;
            self.told.push(
                Problem::warning(
                    "shelf-restored",
                    "a change to the shelf was interrupted before it counted",
                )
                .help("it was undone: the files are as they were before it"),
            );
        }
        if self.journal.unended {
            let path = &self.spot.journal;
            self.disk.append(path, b"\n").tried("write", path)?;
            self.journal.length += 1;
            self.journal.unended = false;
        }
        Ok(())
    }

    /// Finishes the last entry of the journal.
    pub(super) fn recover(&mut self) -> Result<(), StoreError> {
        let Some(entry) = self.journal.pending().cloned() else {
            self.clear();
            return Ok(());
        };
        match self.finish(&entry) {
            Ok(()) => {
                let what = named(&entry.event);
                let title = format!("{what} (entry {}) was interrupted", entry.number);
                self.told.push(
                    Problem::warning("shelf-restored", title)
                        .help("it is finished now, and the files are complete"),
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
        self.put_back_saved(shift)?;
        let now = self.bytes.each().map(|bytes| bytes.as_ref().map(|bytes| digest(bytes)));
        let states = shift.before.each().with(shift.after.each()).with(now);
        let names = self.spot.names.each().array();
        for (((before, after), now), name) in states.array().into_iter().zip(names) {
            // A file that the entry leaves alone is nobody's business here.
            if before != after && now != *before && now != *after {
                return Err(StoreError::Problem(Box::new(edited_since(entry, name, &self.spot))));
            }
        }
        let texts = self.journal.texts_after(entry.number).ok_or_else(|| self.contradiction())?;
        let states = shift.before.each().with(shift.after.each());
        let touched = states.map(|(before, after)| before != after);
        let new = self.differing(&texts).with(touched);
        let new = new.map(|(new, touched)| new.filter(|_| touched));
        self.write_beside(&new)?;
        match self.put_in_place(&new)? {
            None => self.enter(&entry.on, vec![Event::Done { entry: entry.number }]),
            Some(name) => {
                Err(StoreError::Problem(Box::new(edited_since(entry, &name, &self.spot))))
            }
        }
    }

    /// Puts back what another program had saved just before it was swapped out by a writer who could not look at it
    /// any more.
    fn put_back_saved(&mut self, shift: &Shift) -> Result<(), StoreError> {
        let digest_of = |path: &Path| {
            let bytes = self.disk.read(path).tried("read", path)?;
            Ok::<_, StoreError>(bytes.map(|bytes| digest(&bytes)))
        };
        let all = self.spot.files.each().with(shift.before.each()).with(shift.after.each());
        for ((path, before), after) in all.array() {
            let beside = Spot::beside(path);
            let out = digest_of(&beside)?;
            let is_edit = before != after && out.is_some() && ![before, after].contains(&&out);
            if !is_edit || digest_of(path)? != *after {
                continue;
            }
            let put_back = match after {
                Some(_) => self.disk.exchange(&beside, path),
                None => self.disk.rename_new(&beside, path),
            };
            match put_back {
                // Where names cannot be exchanged, nothing was swapped out: it is a rest of long ago.
                Err(error) if error.kind() == ErrorKind::Unsupported => {}
                put_back => put_back.tried("replace", path)?,
            }
        }
        self.read_files()
    }
}

fn edited_since(entry: &Entry, name: &str, spot: &Spot) -> Problem {
    let what = named(&entry.event);
    Problem::error(
        "shelf-unfinished",
        format!("{what} (entry {}) was interrupted, and {name} was edited since", entry.number),
    )
    .help(format!("`{}` finishes it and keeps your edit in the journal", spot.command("rebuild")))
}

/// `settling wedding`.
fn named(event: &Event) -> String {
    match event {
        Event::Settled(settled) => format!("settling {}", settled.batch),
        Event::Counted(_) => "a stock-take".to_owned(),
        Event::Undone { entry, .. } => format!("undoing entry {entry}"),
        _ => "rebuilding the shelf".to_owned(),
    }
}
