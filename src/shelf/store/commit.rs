//! What a writer does, step by step.

use super::super::disk::Disk;
use super::super::event::{Event, Shift};
use super::error::OnFile;
use super::{Shelf, Spot, StoreError, folder};
use crate::diagnostics::Problem;
use crate::stock::{PerFile, Texts};
use std::io::{self, ErrorKind};
use std::path::Path;

/// What is written into each file; `Some(None)` is a file to take away.
pub(super) type New = PerFile<Option<Option<Vec<u8>>>>;

impl<D: Disk> Shelf<D> {
    /// Writes events into the journal and these texts, where there are any, into the files.
    ///
    /// # Errors
    /// The system refuses, or another program saved a file meanwhile. Nothing is changed then, unless the error says so.
    pub fn commit(
        &mut self,
        on: &str,
        events: Vec<Event>,
        texts: Option<&Texts>,
    ) -> Result<(), StoreError> {
        let new = match texts {
            Some(texts) => self.differing(texts),
            None => PerFile::default(),
        };
        self.mend_line()?;
        let marks = self.claim()?;
        let written = self.write_beside(&new).and_then(|()| self.check_unsaved());
        if let Err(error) = written.and_then(|()| self.enter(on, events)) {
            self.clear();
            self.release(&marks);
            return Err(error);
        }
        if texts.is_none() {
            return Ok(());
        }
        let Some(entry) = self.journal.pending().map(|entry| entry.number) else { return Ok(()) };
        let written = self.put_in_place(&new).and_then(|saved| match saved {
            None => self.enter(on, vec![Event::Done { entry }]).map(|()| None),
            Some(name) => self.take_back(on, entry).map(|()| Some(name)),
        });
        match written {
            Ok(None) => Ok(()),
            Ok(Some(name)) => Err(saved(&name)),
            Err(error) => Err(StoreError::Unfinished(Box::new(error))),
        }
    }

    /// The texts that are not in the files yet.
    pub(super) fn differing(&self, texts: &Texts) -> New {
        let differs = |(old, new): (&Option<Vec<u8>>, &Option<String>)| {
            let new = new.as_ref().map(|text| text.as_bytes().to_vec());
            (*old != new).then_some(new)
        };
        self.bytes.each().with(texts.each()).map(differs)
    }

    /// Step 1.
    pub(super) fn write_beside(&self, new: &New) -> Result<(), StoreError> {
        let Spot { files, .. } = &self.spot;
        for ((path, old), new) in files.each().with(self.bytes.each()).with(new.each()).array() {
            if let Some(Some(bytes)) = new {
                let beside = Spot::beside(path);
                self.disk.remove(&beside).tried("replace", &beside)?;
                // A drawer that is new belongs to whom the sheets belong.
                let like = if old.is_some() { path } else { &files.sheets };
                self.disk.create(&beside, bytes, Some(like)).tried("write", path)?;
            }
        }
        Ok(())
    }

    /// Whether the files are still those that were read.
    fn check_unsaved(&self) -> Result<(), StoreError> {
        let Spot { files, shown, .. } = &self.spot;
        for ((path, read), name) in files.each().with(self.bytes.each()).with(shown.each()).array()
        {
            if self.disk.read(path).tried("read", path)? != *read {
                return Err(saved(name));
            }
        }
        Ok(())
    }

    /// Steps 2 and 4.
    pub(super) fn enter(&mut self, on: &str, events: Vec<Event>) -> Result<(), StoreError> {
        let path = &self.spot.journal;
        let mut journal = self.journal.clone();
        let bytes = journal.add(on, events).map_err(StoreError::Json)?;
        let mut written = self.disk.append(path, &bytes).tried("write", path);
        if self.journal.length == 0 {
            let folder = folder(path);
            written = written.and_then(|()| self.disk.sync_folder(folder).tried("write", path));
        }
        if let Err(error) = written {
            // What was written of it counts for nothing; whoever comes next takes it off, too.
            let _ = match self.journal.length {
                0 => self.disk.remove(path),
                length => self.disk.shorten(path, length),
            };
            return Err(error);
        }
        self.journal = journal;
        self.note_end();
        Ok(())
    }

    /// Step 3. Gives the name of a file that another program saved since it was read: then all files are as they were,
    /// with what was saved.
    pub(super) fn put_in_place(&mut self, new: &New) -> Result<Option<String>, StoreError> {
        let saved = self.swap_all(new)?;
        if saved.is_some() {
            self.put_back_all(new)?;
        }
        self.clear();
        for folder in self.spot.folders() {
            self.disk.sync_folder(folder).tried("write", folder)?;
        }
        self.read_files()?;
        Ok(saved)
    }

    fn swap_all(&self, new: &New) -> Result<Option<String>, StoreError> {
        let Spot { files, shown, .. } = &self.spot;
        let all = files.each().with(self.bytes.each()).with(new.each()).with(shown.each());
        for (((path, old), new), shown) in all.array() {
            if let Some(new) = new
                && !self.swap(path, old.as_deref(), new.as_deref())?
            {
                return Ok(Some(shown.clone()));
            }
        }
        Ok(None)
    }

    /// Puts a new file in the place of an old one. Whether the old one was the one that was read.
    fn swap(
        &self,
        path: &Path,
        old: Option<&[u8]>,
        new: Option<&[u8]>,
    ) -> Result<bool, StoreError> {
        let beside = Spot::beside(path);
        let swapped = match (old, new) {
            (None, None) => return Ok(true),
            (None, Some(_)) => self.disk.rename_new(&beside, path),
            (Some(_), None) => self.disk.rename(path, &beside),
            (Some(_), Some(_)) => self.disk.exchange(&beside, path),
        };
        match swapped.map_err(|error| (error.kind(), error)) {
            Ok(()) => Ok(self.disk.read(&beside).tried("read", path)?.as_deref() == old),
            // It came or went meanwhile: some programs give a file another name while they save.
            Err((ErrorKind::AlreadyExists | ErrorKind::NotFound, _)) => Ok(false),
            Err((ErrorKind::Unsupported, _)) => {
                // Nothing is as short as this where names cannot be exchanged.
                if self.disk.read(path).tried("read", path)?.as_deref() != old {
                    return Ok(false);
                }
                self.disk.rename(&beside, path).tried("replace", path).map(|()| true)
            }
            Err((_, error)) => Err(error).tried("replace", path),
        }
    }

    fn put_back_all(&self, new: &New) -> Result<(), StoreError> {
        let all = self.spot.files.each().with(self.bytes.each()).with(new.each());
        for ((path, old), new) in all.array() {
            if let Some(ours) = new {
                self.put_back(path, old.as_deref(), ours.as_deref()).tried("replace", path)?;
            }
        }
        Ok(())
    }

    /// Puts back what was swapped out of a file, unless the file was saved once more.
    fn put_back(&self, path: &Path, old: Option<&[u8]>, ours: Option<&[u8]>) -> io::Result<()> {
        let beside = Spot::beside(path);
        let is_ours = |path: &Path| Ok::<_, io::Error>(self.disk.read(path)?.as_deref() == ours);
        if !is_ours(path)? {
            return Ok(());
        }
        if let (None, Some(old)) = (self.disk.read(&beside)?, old) {
            self.disk.create(&beside, old, Some(path))?;
        }
        match (ours, old) {
            (None, _) => self.disk.rename_new(&beside, path).or_else(|error| match error.kind() {
                ErrorKind::AlreadyExists => Ok(()),
                _ => Err(error),
            }),
            (Some(_), None) => {
                self.disk.rename(path, &beside)?;
                if !is_ours(&beside)? {
                    self.disk.rename(&beside, path)?;
                }
                Ok(())
            }
            (Some(_), Some(_)) => match self.disk.exchange(&beside, path) {
                Err(error) if error.kind() == ErrorKind::Unsupported => {
                    self.disk.rename(&beside, path)
                }
                Ok(()) if !is_ours(&beside)? => self.disk.exchange(&beside, path),
                done => done,
            },
        }
    }

    /// Takes an entry back whose files were given back, and enters what was saved.
    fn take_back(&mut self, on: &str, entry: u64) -> Result<(), StoreError> {
        let before = self.journal.texts_after(entry - 1).ok_or_else(|| self.contradiction())?;
        let back =
            self.journal.pending().and_then(|entry| entry.event.shift()).map(Shift::reversed);
        let shift = back.ok_or_else(|| self.contradiction())?;
        let number = self.journal.entries().len() as u64 + 1;
        let mut events =
            vec![Event::Rebuilt { entry: entry - 1, shift }, Event::Done { entry: number }];
        // What is no text is told by the next command, and entered once it is one.
        if let Ok(now) = self.texts()
            && now != before
        {
            events.push(Event::Edited(Shift::between(&before, &now)));
        }
        self.enter(on, events)
    }

    /// Takes away what is written beside the files.
    pub(super) fn clear(&self) {
        for path in self.spot.files.each().array() {
            let _ = self.disk.remove(&Spot::beside(path));
        }
    }
}

fn saved(name: &str) -> StoreError {
    StoreError::Problem(Box::new(
        Problem::error("shelf-saved", format!("{name} was saved by another program just now"))
            .help("the file is as that program saved it, and nothing else was changed: run the command again"),
    ))
}
