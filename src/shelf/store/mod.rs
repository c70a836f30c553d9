//! A shelf on the disk: locked, whole, and written so that no moment leaves it half.
//!
//! A writer holds the lock and goes four steps:
//!
//! 1. the new files are written beside the old ones and made safe;
//! 2. the entry, with all changes, is put into the journal and made safe: from here on it counts;
//! 3. the new files take the old ones' names;
//! 4. the journal says that this is done.
//!
//! Whoever comes next finds a journal whose last entry is not done only if the writer was cut off
//! between 2 and 4, and finishes it from the journal; one cut off before has left the old files, and at
//! most the beginning of a line, which is taken off. Readers hold the lock together, so that they see both
//! files of before or both of after.

mod error;
mod recover;
#[cfg(test)]
mod tests;

pub use error::StoreError;

use super::disk::{Disk, Share};
use super::event::{Event, digests};
use super::journal::{BEGIN_ANEW, FROM_A_COPY, Journal};
use super::pair::{Pair, Texts};
use crate::diagnostics::{Problem, Problems};
use error::Tried;
use std::path::{Path, PathBuf};

/// The files of a shelf, links followed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spot {
    /// The two files.
    pub files: Pair<PathBuf>,
    /// The journal, beside the sheets.
    pub journal: PathBuf,
    /// The lock, beside the sheets.
    pub lock: PathBuf,
    /// What the person calls the two files.
    pub shown: Pair<String>,
    /// What the journal calls them.
    names: Pair<String>,
}

/// Name of the journal.
const JOURNAL: &str = "shelf.jsonl";
/// Name of the lock.
const LOCK: &str = ".shelf.lock";

impl Spot {
    /// The shelf of these files of sheets and offcuts.
    ///
    /// # Errors
    /// A path that leads nowhere.
    pub fn of(disk: &impl Disk, files: Pair<&Path>) -> Result<Spot, StoreError> {
        let shown = files.map(|path| path.display().to_string());
        let files = files.map(|path| disk.resolve(path).tried("find", path)).both()?;
        let folder = files.sheets.parent().unwrap_or(Path::new("")).to_owned();
        // In the sheets' folder a name will do, so that the folder can be moved.
        let names = files.each().map(|path| match path.strip_prefix(&folder) {
            Ok(name) => name.display().to_string(),
            Err(_) => path.display().to_string(),
        });
        check_files(&files, &shown)?;
        Ok(Spot { journal: folder.join(JOURNAL), lock: folder.join(LOCK), files, shown, names })
    }

    /// The journal as the person would call it: beside the sheets.
    pub fn journal_shown(&self) -> String {
        Path::new(&self.shown.sheets).with_file_name(JOURNAL).display().to_string()
    }

    /// Where a new file is written before it takes its name.
    fn beside(path: &Path) -> PathBuf {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        path.with_file_name(format!(".{name}.new"))
    }

    fn folders(&self) -> Vec<&Path> {
        let mut folders: Vec<&Path> = self.files.each().array().map(|path| folder(path)).into();
        folders.dedup();
        folders
    }
}

fn folder(path: &Path) -> &Path {
    path.parent().unwrap_or(path)
}

/// Refuses files that are one, or the shelf's own.
fn check_files(files: &Pair<PathBuf>, shown: &Pair<String>) -> Result<(), StoreError> {
    let own = |path: &PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        name == JOURNAL || name == LOCK || (name.starts_with('.') && name.ends_with(".new"))
    };
    let title = if files.sheets == files.offcuts {
        format!("{} and {} are one file", shown.sheets, shown.offcuts)
    } else if own(&files.sheets) {
        format!("{} is a file of cardwright's own", shown.sheets)
    } else if own(&files.offcuts) {
        format!("{} is a file of cardwright's own", shown.offcuts)
    } else {
        return Ok(());
    };
    let problem = Problem::error("shelf-files", title);
    Err(StoreError::Problem(Box::new(
        problem.help("sheets and offcuts are two tables, each in a file of its own"),
    )))
}

/// A shelf that is open for a writer.
#[derive(Debug)]
pub struct Shelf<D: Disk> {
    disk: D,
    /// Where it is.
    pub spot: Spot,
    /// What befell it.
    pub journal: Journal,
    /// What is in its files; bytes, since a person may have written anything.
    pub bytes: Pair<Option<Vec<u8>>>,
    /// What was mended when it was opened.
    pub told: Problems,
    /// Why an entry of the journal could not be finished.
    pub unfinished: Option<Problem>,
    _lock: D::Lock,
}

/// A shelf as a reader sees it.
#[derive(Debug)]
pub struct View<L> {
    /// Where it is.
    pub spot: Spot,
    /// What befell it.
    pub journal: Journal,
    /// What was mended.
    pub told: Problems,
    /// Held while the files are read; `None` where there is no shelf yet, only files.
    pub lock: Option<L>,
}

/// Looks at the journal of a shelf; nothing changes while the view is held.
///
/// # Errors
/// The system refuses, or the journal is broken.
pub fn look<D: Disk + Clone>(disk: &D, spot: &Spot) -> Result<View<D::Lock>, StoreError> {
    let mut told = Problems::new();
    loop {
        let lock = match disk.lock(&spot.lock, Share::Readers) {
            Ok(lock) => Some(lock),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => None,
            Err(error) => return Err(error).tried("lock", &spot.lock),
        };
        let journal = read_journal(disk, spot)?;
        if journal.torn || journal.unended || journal.pending().is_some() {
            drop(lock);
            let shelf = Shelf::open(disk.clone(), spot.clone())?;
            told.append(shelf.told);
            if let Some(problem) = shelf.unfinished {
                return Err(StoreError::Problem(Box::new(problem)));
            }
            continue;
        }
        return Ok(View { spot: spot.clone(), journal, told, lock });
    }
}

fn read_journal(disk: &impl Disk, spot: &Spot) -> Result<Journal, StoreError> {
    let bytes = disk.read(&spot.journal).tried("read", &spot.journal)?.unwrap_or_default();
    let name = spot.journal_shown();
    Journal::read(&name, &bytes).map_err(StoreError::Problem)
}

/// Whether the journal is that of these files, which all have to know but those who plan.
///
/// # Errors
/// It is that of others.
pub fn check_names(journal: &Journal, spot: &Spot) -> Result<(), StoreError> {
    let Some(names) = journal.names().filter(|names| **names != spot.names) else {
        return Ok(());
    };
    let name = spot.journal_shown();
    let title = format!("{name} is the journal of {} and {}", names.sheets, names.offcuts);
    let problem = Problem::error("shelf-journal", title)
        .help("a folder has one shelf: name these files, or keep others in a folder of their own");
    Err(StoreError::Problem(Box::new(problem)))
}

impl<D: Disk> Shelf<D> {
    /// Opens a shelf for a writer, and finishes what another one could not.
    ///
    /// # Errors
    /// The system refuses, or the journal is broken.
    pub fn open(disk: D, spot: Spot) -> Result<Shelf<D>, StoreError> {
        let lock = disk.lock(&spot.lock, Share::Writer).tried("lock", &spot.lock)?;
        let journal = read_journal(&disk, &spot)?;
        check_names(&journal, &spot)?;
        let mut shelf = Shelf {
            disk,
            spot,
            journal,
            bytes: Pair::default(),
            told: Problems::new(),
            unfinished: None,
            _lock: lock,
        };
        shelf.read_files()?;
        shelf.recover()?;
        Ok(shelf)
    }

    fn read_files(&mut self) -> Result<(), StoreError> {
        let read = |path: &PathBuf| self.disk.read(path).tried("read", path);
        self.bytes = self.spot.files.each().map(read).both()?;
        Ok(())
    }

    /// The files as texts.
    ///
    /// # Errors
    /// One of them is no text.
    pub fn texts(&self) -> Result<Texts, StoreError> {
        let text = |(bytes, path): (&Option<Vec<u8>>, &PathBuf)| match bytes {
            None => Ok(None),
            Some(bytes) => String::from_utf8(bytes.clone())
                .map(Some)
                .map_err(|_| StoreError::NoText(path.clone())),
        };
        self.bytes.each().with(self.spot.files.each()).map(text).both()
    }

    /// The events that bring the journal up to the files' texts: its beginning, or what a person has edited.
    ///
    /// # Errors
    /// The journal contradicts itself.
    pub fn catching_up(&self, texts: &Texts) -> Result<Vec<Event>, StoreError> {
        let now = digests(texts);
        let Some(known) = self.journal.after() else {
            return Ok(vec![Event::Begun {
                names: self.spot.names.clone(),
                texts: texts.clone(),
                after: now,
            }]);
        };
        if *known == now {
            return Ok(Vec::new());
        }
        let before = self.journal.texts().ok_or_else(|| self.contradiction())?;
        Ok(vec![Event::Edited(super::event::Shift::between(&before, texts))])
    }

    /// The journal's digests do not follow from its changes.
    pub fn contradiction(&self) -> StoreError {
        let at = self.journal.states().take_while(Option::is_some).count() + 1;
        let name = self.spot.journal_shown();
        StoreError::Problem(Box::new(
            Problem::error("shelf-journal", format!("{name} contradicts itself"))
                .help(format!("entry {at} does not lead to the files that it says it leads to"))
                .help(FROM_A_COPY)
                .help(BEGIN_ANEW),
        ))
    }

    /// Writes events into the journal and these texts, where there are any, into the files.
    ///
    /// # Errors
    /// The system refuses. Nothing is changed then, unless the error says so.
    pub fn commit(
        &mut self,
        on: &str,
        events: Vec<Event>,
        texts: Option<&Texts>,
    ) -> Result<(), StoreError> {
        let new = match texts {
            Some(texts) => self.differing(texts),
            None => Pair::default(),
        };
        let written = self.write_beside(&new).and_then(|()| self.enter(on, events));
        if let Err(error) = written {
            self.clear();
            return Err(error);
        }
        if texts.is_none() {
            return Ok(());
        }
        let Some(entry) = self.journal.pending().map(|entry| entry.number) else { return Ok(()) };
        self.take_names(&new)
            .and_then(|()| self.enter(on, vec![Event::Done { entry }]))
            .map_err(|error| StoreError::Unfinished(Box::new(error)))
    }

    /// The texts that are not in the files yet: `Some(None)` is a file to take away.
    fn differing(&self, texts: &Texts) -> Pair<Option<Option<Vec<u8>>>> {
        let differs = |(old, new): (&Option<Vec<u8>>, &Option<String>)| {
            let new = new.as_ref().map(|text| text.as_bytes().to_vec());
            (*old != new).then_some(new)
        };
        self.bytes.each().with(texts.each()).map(differs)
    }

    /// Step 1.
    fn write_beside(&self, new: &Pair<Option<Option<Vec<u8>>>>) -> Result<(), StoreError> {
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

    /// Steps 2 and 4.
    fn enter(&mut self, on: &str, events: Vec<Event>) -> Result<(), StoreError> {
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
            let _ = self.disk.shorten(path, self.journal.length);
            return Err(error);
        }
        self.journal = journal;
        Ok(())
    }

    /// Step 3.
    fn take_names(&mut self, new: &Pair<Option<Option<Vec<u8>>>>) -> Result<(), StoreError> {
        for (path, new) in self.spot.files.each().with(new.each()).array() {
            match new {
                None => {}
                Some(Some(_)) => {
                    self.disk.rename(&Spot::beside(path), path).tried("replace", path)?;
                }
                Some(None) => self.disk.remove(path).tried("remove", path)?,
            }
        }
        for folder in self.spot.folders() {
            self.disk.sync_folder(folder).tried("write", folder)?;
        }
        self.read_files()
    }

    /// Takes away what is written beside the files.
    fn clear(&self) {
        for path in self.spot.files.each().array() {
            let _ = self.disk.remove(&Spot::beside(path));
        }
    }
}
