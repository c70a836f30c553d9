//! A shelf on the disk: locked, whole, and written so that no moment leaves it half.
//!
//! A writer holds the lock, `.shelf.lock`, a file of its own, since the others are replaced. It goes four steps:
//!
//! 1. the new files are written beside the old ones, with their rights and owner, and made safe (`fsync`);
//! 2. the entry, with all changes, is put into the journal and made safe: from here on it counts;
//! 3. new and old files exchange their names, and the folder is made safe;
//! 4. the journal says that this is done.
//!
//! Whoever comes next finds a journal whose last entry is not done only if the writer was cut off between 2 and 4, and
//! finishes it from the journal; one cut off before has left the old files, and at most the beginning of a line, which
//! is taken off. A file that is neither the one before nor the one after was edited in between, and is left alone until
//! `shelf rebuild`. Readers hold the lock together, so that they see both files of before or both of after.
//!
//! Other programs know of no lock, and may save a file at any moment. Before step 2 the files are held against what was
//! read of them once more, and where one differs, nothing is written (`shelf-saved`). In step 3, what was swapped out
//! is looked at: where it is not what was read, it comes back, and the journal gets `rebuilt` and `edited`. A writer
//! that was cut off before it could look leaves it beside the file, and the next one puts it back. Where the system
//! cannot exchange names (Linux and macOS can, on most disks), one call is left between the last look and the renaming.
//! What a program writes into a file that it opened before step 3 and closes after it was looked at is beyond any of
//! this.

mod anchor;
mod commit;
mod error;
mod locks;
mod owner;
mod recover;
#[cfg(test)]
mod tests;

pub use anchor::End;
pub use error::StoreError;
pub use locks::{Locks, Waiting};

use super::disk::{Disk, Sharing};
use super::event::{Event, digests};
use super::journal::{BEGIN_ANEW, FROM_A_COPY, Journal};
use crate::diagnostics::{Problem, Problems, listed, shelf_command};
use crate::stock::{PerFile, Texts};
use error::OnFile;
use owner::{MARK, check_owner, way};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// The files of a shelf, links followed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spot {
    /// The files.
    pub files: PerFile<PathBuf>,
    /// The journal, beside the sheets.
    pub journal: PathBuf,
    /// The lock, beside the sheets.
    pub lock: PathBuf,
    /// What the person calls them.
    pub shown: PerFile<String>,
    /// What the journal calls them: the way from its folder.
    names: PerFile<String>,
    /// What a journal of before called them.
    whole_names: PerFile<String>,
    /// Whether it is one of those that a shelf can do without, and not there.
    absent: PerFile<bool>,
}

/// Name of the journal.
pub const JOURNAL: &str = "shelf.jsonl";
/// Name of the lock.
const LOCK: &str = ".shelf.lock";
/// Between two tries to take a lock.
const PAUSE: Duration = Duration::from_millis(10);

impl Spot {
    /// The shelf of these files.
    ///
    /// # Errors
    /// A path that leads nowhere.
    pub fn of(disk: &impl Disk, files: PerFile<&Path>) -> Result<Spot, StoreError> {
        let shown = files.map(|path| path.display().to_string());
        let files = files.map(|path| disk.resolve(path).tried("find", path)).all()?;
        let folder = files.sheets.parent().unwrap_or(Path::new("")).to_owned();
        // Counted from the sheets' folder, so that folders can be moved together.
        let names = files.each().map(|path| way(&folder, path).display().to_string());
        let whole_names = files.each().map(|path| match path.strip_prefix(&folder) {
            Ok(name) => name.display().to_string(),
            Err(_) => path.display().to_string(),
        });
        check_files(&files, &shown)?;
        let (journal, lock) = (folder.join(JOURNAL), folder.join(LOCK));
        let is_absent = |path: &PathBuf| disk.read(path).is_ok_and(|bytes| bytes.is_none());
        let [envelopes, sundries] = [&files.envelopes, &files.sundries].map(is_absent);
        let absent = PerFile { envelopes, sundries, ..PerFile::default() };
        Ok(Spot { journal, lock, files, shown, names, whole_names, absent })
    }

    /// All its locks, in the order in which everybody takes them: so nobody waits for one who waits for him.
    fn locks(&self) -> Vec<PathBuf> {
        let locks = self.files.each().map(|path| folder(path).join(LOCK));
        let mut locks = Vec::from(locks.array());
        locks.sort();
        locks.dedup();
        locks
    }

    /// The journal as the person would call it: beside the sheets.
    pub fn journal_shown(&self) -> String {
        Path::new(&self.shown.sheets).with_file_name(JOURNAL).display().to_string()
    }

    /// A command on this shelf, as the person would type it.
    pub fn command(&self, verb: &str) -> String {
        let files = self.shown.each().with(self.absent);
        let named = files.map(|(path, is_absent)| (!is_absent).then_some(path.as_str()));
        shelf_command(verb, &named.named())
    }

    /// Its lock, as the person would call it.
    fn lock_shown(&self) -> String {
        Path::new(&self.shown.sheets).with_file_name(LOCK).display().to_string()
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
fn check_files(files: &PerFile<PathBuf>, shown: &PerFile<String>) -> Result<(), StoreError> {
    let own = |path: &PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let ours = name.starts_with('.') && (name.ends_with(".new") || name.ends_with(MARK));
        name == JOURNAL || name == LOCK || ours
    };
    let all = files.each().with(shown.each()).array();
    let twin = |at: usize| all[..at].iter().find(|(path, _)| *path == all[at].0);
    let wrong = all.iter().enumerate().find_map(|(at, (path, name))| match twin(at) {
        Some((_, first)) => Some(format!("{first} and {name} are the same file")),
        None => own(path).then(|| format!("{name} is one of cardwright's own files")),
    });
    let Some(title) = wrong else { return Ok(()) };
    let problem = Problem::error("shelf-files", title);
    Err(StoreError::Problem(Box::new(
        problem
            .help("sheets, offcuts, envelopes and sundries are tables: keep each in its own file"),
    )))
}

/// A shelf that is open for a writer.
#[derive(Debug)]
pub struct Shelf<D: Disk> {
    disk: D,
    /// Where it is.
    pub spot: Spot,
    /// Every change to it.
    pub journal: Journal,
    /// What is in its files; bytes, since a person may have written anything.
    pub bytes: PerFile<Option<Vec<u8>>>,
    /// What was mended when it was opened.
    pub told: Problems,
    /// Why an entry of the journal could not be finished.
    pub unfinished: Option<Problem>,
    locks: Locks<D::Lock>,
}

/// A shelf as a reader sees it.
#[derive(Debug)]
pub struct View<L> {
    /// Where it is.
    pub spot: Spot,
    /// Every change to it.
    pub journal: Journal,
    /// What was mended, and what is wrong with the journal's end.
    pub told: Problems,
    /// Whether the journal has all its last entries.
    pub end: End,
    /// Held while the files are read.
    pub locks: Locks<L>,
}

/// Looks at the journal of a shelf; nothing changes while the view is held.
///
/// # Errors
/// The system refuses, the journal is broken, or a file is another shelf's.
pub fn look<D: Disk + Clone>(
    disk: &D,
    spot: &Spot,
    waiting: &mut Waiting<'_>,
) -> Result<View<D::Lock>, StoreError> {
    let mut told = Problems::new();
    loop {
        let locks = Locks::take(disk, spot, Sharing::Readers, waiting)?;
        let journal = read_journal(disk, spot)?;
        if journal.torn || journal.unended || journal.pending().is_some() {
            drop(locks);
            let shelf = Shelf::open_while(disk.clone(), spot.clone(), waiting)?;
            told.append(shelf.told);
            if let Some(problem) = shelf.unfinished {
                return Err(StoreError::Problem(Box::new(problem)));
            }
            continue;
        }
        check_owner(disk, spot, &journal)?;
        let anchor = anchor::noted(disk, locks.own.as_ref());
        let cut = anchor.as_ref().and_then(|anchor| anchor::warning(anchor, &journal, spot));
        let end = match (&anchor, &cut) {
            (None, _) => End::Unknown,
            (Some(_), None) => End::Whole,
            (Some(_), Some(_)) => End::Cut,
        };
        told.extend(cut);
        return Ok(View { spot: spot.clone(), journal, told, end, locks });
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
    let after = journal.after().cloned().unwrap_or_default();
    let unknown = after.each().map(|digest| digest.is_none());
    // Envelopes and sundries that the journal has not seen yet may lie anywhere.
    let PerFile { envelopes, sundries, .. } = unknown;
    let unknown = PerFile { envelopes, sundries, ..PerFile::default() };
    let is_it = |((noted, own), is_unknown): ((&String, &String), bool)| noted == own || is_unknown;
    let fits = |names: &PerFile<String>, own: &PerFile<String>| {
        names.each().with(own.each()).with(unknown).map(is_it).array() == [true; 4]
    };
    let is_ours = |names: &PerFile<String>| {
        [&spot.names, &spot.whole_names].iter().any(|own| fits(names, own))
    };
    let Some(names) = journal.names().filter(|names| !is_ours(names)) else { return Ok(()) };
    let name = spot.journal_shown();
    let known = names.each().with(after.each()).array().into_iter().enumerate();
    let known = known.filter(|(at, (_, digest))| *at < 2 || digest.is_some());
    let known: Vec<&str> = known.map(|(_, (name, _))| name.as_str()).collect();
    let title = format!("{name} is the journal of {}", listed(&known));
    let problem = Problem::error("shelf-journal", title)
        .help("a folder has one shelf: name these files, or put the others in their own folder");
    Err(StoreError::Problem(Box::new(problem)))
}

impl<D: Disk> Shelf<D> {
    /// Opens a shelf for a writer as soon as no other command holds it, and finishes what another one could not.
    ///
    /// # Errors
    /// The system refuses, the journal is broken, or a file is another shelf's.
    pub fn open(disk: D, spot: Spot) -> Result<Shelf<D>, StoreError> {
        let wait = |_: &Path, _| {
            std::thread::sleep(PAUSE);
            true
        };
        Shelf::open_while(disk, spot, &mut { wait })
    }

    /// The same, as long as it is worth waiting.
    ///
    /// # Errors
    /// As above, or [`StoreError::Stopped`].
    pub fn open_while(
        disk: D,
        spot: Spot,
        waiting: &mut Waiting<'_>,
    ) -> Result<Shelf<D>, StoreError> {
        let locks = Locks::take(&disk, &spot, Sharing::Writer, waiting)?;
        let journal = read_journal(&disk, &spot)?;
        check_names(&journal, &spot)?;
        check_owner(&disk, &spot, &journal)?;
        let mut shelf = Shelf {
            disk,
            spot,
            journal,
            bytes: PerFile::default(),
            told: Problems::new(),
            unfinished: None,
            locks,
        };
        shelf.read_files()?;
        // What an older journal says is unfinished was finished long ago, and nothing more is taken off one that lacks
        // entries.
        if !shelf.check_end()? {
            shelf.mend_line()?;
            shelf.recover()?;
        }
        Ok(shelf)
    }

    fn read_files(&mut self) -> Result<(), StoreError> {
        let read = |path: &PathBuf| self.disk.read(path).tried("read", path);
        self.bytes = self.spot.files.each().map(read).all()?;
        Ok(())
    }

    /// The files as texts.
    ///
    /// # Errors
    /// One of them is no text.
    pub fn texts(&self) -> Result<Texts, StoreError> {
        let text = |(bytes, path): (&Option<Vec<u8>>, &PathBuf)| match bytes {
            None => Ok(None),
            Some(bytes) => String::from_utf8(bytes.clone()).map(Some).map_err(|_| {
                StoreError::NoText { path: path.clone(), rebuild: self.spot.command("rebuild") }
            }),
        };
        self.bytes.each().with(self.spot.files.each()).map(text).all()
    }

    /// The events that bring the journal up to the files' texts: its beginning, or what a person has edited.
    ///
    /// # Errors
    /// The journal contradicts itself.
    pub fn catching_up(&self, texts: &Texts) -> Result<Vec<Event>, StoreError> {
        catching_up(&self.journal, &self.spot, texts)
    }

    /// The journal's digests do not follow from its changes.
    pub fn contradiction(&self) -> StoreError {
        contradiction(&self.journal, &self.spot)
    }
}

/// The events that bring a journal up to the texts of its files, as [`Shelf::catching_up`] does.
///
/// # Errors
/// The journal contradicts itself.
pub fn catching_up(
    journal: &Journal,
    spot: &Spot,
    texts: &Texts,
) -> Result<Vec<Event>, StoreError> {
    let now = digests(texts);
    let Some(known) = journal.after() else {
        return Ok(vec![Event::Begun {
            names: spot.names.clone(),
            texts: texts.clone(),
            after: now,
        }]);
    };
    if *known == now {
        return Ok(Vec::new());
    }
    let before = journal.texts().ok_or_else(|| contradiction(journal, spot))?;
    let named = journal.names().filter(|names| {
        let all = names.each().with(spot.names.each()).with(now.each());
        let is_new = |((known, own), now): ((&String, &String), &Option<String>)| {
            now.is_some() && known != own
        };
        let PerFile { envelopes, sundries, .. } = all.map(is_new);
        envelopes || sundries
    });
    let names = spot.names.clone();
    let named = named.map(|_| Event::Named { names });
    let edited = Event::Edited(super::event::Shift::between(&before, texts));
    Ok(named.into_iter().chain([edited]).collect())
}

fn contradiction(journal: &Journal, spot: &Spot) -> StoreError {
    let at = journal.states().take_while(Option::is_some).count() + 1;
    let name = spot.journal_shown();
    StoreError::Problem(Box::new(
        Problem::error("shelf-journal", format!("{name} contradicts itself"))
            .help(format!("entry {at} does not lead to the files it records"))
            .help(FROM_A_COPY)
            .help(BEGIN_ANEW),
    ))
}
