//! The steps by which a report folder is made, takes its place, and leaves nothing behind.

use super::home::{Originals, bring_home};
use super::leftovers::{NEW, OLD, Parent, UNDONE, put_right};
use super::lock::{WhileLocked, lock};
use super::place::Destination;
use super::swap::{can_exchange, exchange, found, give_name, number, sync_folder};
use super::{Attempt, FolderError, ROOM, ReportFile, hers, is_ours, told};
use crate::diagnostics::Problems;
use std::fs::{self, File};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// A parent folder in which no other run writes while this one does.
#[derive(Debug)]
pub struct Workspace {
    place: Destination,
    /// What a run has left that was cut off, and what became of it.
    pub told: Problems,
    /// Folders that were made to lie in, the deepest first.
    made: Vec<PathBuf>,
    /// Names of the files in the new folder; none where this run has not made it.
    wrote: Option<Vec<String>>,
    _lock: File,
}

/// A whole report folder that is not in its place yet.
#[derive(Debug)]
pub struct Written {
    work: Workspace,
    has_old: bool,
    exchanges: bool,
}

/// A report folder in its place, the old one beside.
#[derive(Debug)]
pub struct Swapped {
    work: Workspace,
    /// The old one.
    old: Option<PathBuf>,
    /// Whether there was an old one with nothing in it.
    was_empty: bool,
    exchanges: bool,
}

impl Workspace {
    /// Makes the parent folder where there is none, locks it, and puts right what was left there. Asks `waiting`
    /// whether to wait for another run.
    ///
    /// # Errors
    /// The system refuses, or something else has come to the place.
    pub fn begin(
        mut place: Destination,
        waiting: &mut WhileLocked<'_>,
    ) -> Result<Workspace, FolderError> {
        let made = missing(&place.parent);
        let (lock, parent) = lock(&place.parent, waiting).inspect_err(|_| remove_empty(&made))?;
        let shown = match place.shown.file_name() == Some(&place.name) {
            true => place.shown.parent().unwrap_or(Path::new("")),
            false => &parent,
        };
        let here = if shown.as_os_str().is_empty() { Path::new(".") } else { shown };
        let told = put_right(Parent { path: &parent, shown: here });
        place.parent = parent;
        Ok(Workspace { place, told, made, wrote: None, _lock: lock })
    }

    /// Writes the files into a new folder, beside all that the person has in the old one.
    ///
    /// # Errors
    /// The place is taken by something else, or the system refuses. Nothing is changed then.
    pub fn write(self, files: &[ReportFile]) -> Result<Written, FolderError> {
        let room = self.room();
        make_folder(&room).tried("write in", &self.place.parent)?;
        let exchanges = can_exchange(&room).tried("write in", &self.place.parent)?;
        self.write_to_swap(files, exchanges)
    }

    /// The same where it is known whether the system can exchange folders.
    pub(super) fn write_to_swap(
        mut self,
        files: &[ReportFile],
        exchanges: bool,
    ) -> Result<Written, FolderError> {
        let (target, new) = (self.place.target(), self.new_folder());
        let has_old = self.place.has_old()?;
        make_folder(&self.room()).tried("write in", &self.place.parent)?;
        fs::create_dir(&new).tried("write in", &self.place.parent)?;
        self.wrote = Some(files.iter().map(|(name, _)| name.clone()).collect());
        if has_old {
            hers::check(&target)?;
        }
        if has_old && exchanges {
            hers::link(&target, &new)?;
        }
        for (name, bytes) in files {
            write_file(&new.join(name), bytes).tried("write", &target.join(name))?;
        }
        if has_old {
            be_like(&new, &target).tried("write", &target)?;
        }
        sync_folder(&new).tried("write", &target)?;
        Ok(Written { work: self, has_old, exchanges })
    }

    fn room(&self) -> PathBuf {
        self.place.parent.join(ROOM)
    }

    fn new_folder(&self) -> PathBuf {
        self.room().join(NEW)
    }

    fn sync(&self) -> Result<(), FolderError> {
        sync_folder(&self.place.parent).tried("write in", &self.place.parent)
    }

    /// Brings home what is the person's in a folder that goes.
    fn clear(&self, folder: &Path, originals: Originals) -> Problems {
        let target = self.place.target();
        let cleared = bring_home(folder, &target, originals).and_then(|brought| {
            let slot = folder.parent().unwrap_or(folder);
            fs::remove_dir(slot).tried("remove", slot)?;
            self.sync().map(|()| brought)
        });
        match cleared {
            Ok(brought) => brought.problems(&target, &self.place.shown),
            Err(error) => told::left(&error, &self.room()).into(),
        }
    }
}

impl Drop for Workspace {
    /// Nothing of the program's own stays; what cannot be removed is found by the next run.
    fn drop(&mut self) {
        // What this run has not made may be anything, and lie behind a link.
        if self.wrote.is_some() {
            let _ = fs::remove_dir_all(self.new_folder());
        }
        let _ = fs::remove_dir(self.room());
        remove_empty(&self.made);
    }
}

impl Written {
    /// Puts the new folder in its place.
    ///
    /// # Errors
    /// The system refuses; the old folder is where it was.
    pub fn swap(self) -> Result<Swapped, FolderError> {
        let Written { work, has_old, exchanges } = self;
        let (target, new) = (work.place.target(), work.new_folder());
        if !has_old {
            give_name(&new, &target).tried("make the folder", &target)?;
            let synced = work.sync();
            return (Swapped { work, old: None, was_empty: false, exchanges }).unless(synced);
        }
        // A folder takes the place of an empty one in one step, where the system is a Unix.
        if cfg!(unix)
            && is_empty(&target).tried("look into", &target)?
            && fs::rename(&new, &target).is_ok()
        {
            let synced = work.sync();
            return (Swapped { work, old: None, was_empty: true, exchanges }).unless(synced);
        }
        let own = fs::symlink_metadata(&new).tried("look at", &new)?;
        let slot = match number(&own).filter(|_| exchanges) {
            Some(number) => work.room().join(number.to_string()),
            None => work.room().join(OLD),
        };
        make_folder(&slot).tried("write in", &work.room())?;
        let old = slot.join(&work.place.name);
        let swapped = match exchanges {
            true => exchanged(&new, &old, &target),
            false => moved(&new, &old, &target),
        };
        if let Err(error) = swapped {
            let _ = fs::remove_dir(&slot);
            return Err(error).tried("replace", &target);
        }
        let synced = sync_folder(&slot).tried("write in", &slot).and_then(|()| work.sync());
        (Swapped { work, old: Some(old), was_empty: false, exchanges }).unless(synced)
    }
}

/// The new folder in the old one's place, the old one where it can be told from a new one.
fn exchanged(new: &Path, old: &Path, target: &Path) -> io::Result<()> {
    give_name(new, old)?;
    exchange(old, target).inspect_err(|_| {
        let _ = give_name(old, new);
    })
}

/// The same in two steps; the old one comes back where the second fails.
fn moved(new: &Path, old: &Path, target: &Path) -> io::Result<()> {
    give_name(target, old)?;
    give_name(new, target).inspect_err(|_| {
        let _ = give_name(old, target);
    })
}

impl Swapped {
    /// The same, or the old folder back in its place where what was done is not safe.
    fn unless(self, synced: Result<(), FolderError>) -> Result<Swapped, FolderError> {
        match synced {
            Ok(()) => Ok(self),
            Err(error) => {
                // What went wrong first is told; that the way back failed, too, is found by the next run.
                let _ = self.back();
                Err(error)
            }
        }
    }

    /// Puts the old folder back in its place.
    ///
    /// # Errors
    /// The system refuses.
    pub fn back(self) -> Result<Problems, FolderError> {
        let Swapped { work, old, was_empty, exchanges } = self;
        let target = work.place.target();
        if let (Some(old), true) = (&old, exchanges) {
            exchange(old, &target).tried("replace", &target)?;
            work.sync()?;
            return Ok(work.clear(old, Originals::Stay));
        }
        let slot = work.room().join(UNDONE);
        make_folder(&slot).tried("write in", &work.room())?;
        let undone = slot.join(&work.place.name);
        give_name(&target, &undone).tried("remove", &target)?;
        match &old {
            Some(old) => {
                give_name(old, &target).tried("replace", &target)?;
                let _ = fs::remove_dir(work.room().join(OLD));
            }
            None => {
                // Whatever this run has written, under any name.
                for name in work.wrote.iter().flatten() {
                    let _ = fs::remove_file(undone.join(name));
                }
                if was_empty || has_hers(&undone).tried("look into", &undone)? {
                    fs::create_dir(&target).tried("make the folder", &target)?;
                }
            }
        }
        work.sync()?;
        Ok(work.clear(&undone, Originals::Go))
    }

    /// Clears away the old folder, but for what is the person's, and says what there is to know.
    pub fn finish(self) -> Problems {
        match &self.old {
            Some(old) => self.work.clear(old, Originals::Go),
            None => Problems::new(),
        }
    }
}

/// Folders that are not there, the deepest first.
pub(super) fn missing(folder: &Path) -> Vec<PathBuf> {
    let is_missing = |path: &&Path| matches!(found(path), Ok(None));
    folder.ancestors().take_while(is_missing).map(Path::to_owned).collect()
}

/// Whether something in a report folder is the person's.
fn has_hers(folder: &Path) -> io::Result<bool> {
    let mut names = fs::read_dir(folder)?;
    Ok(names.any(|entry| entry.is_ok_and(|entry| !is_ours(&entry.file_name()))))
}

fn is_empty(folder: &Path) -> io::Result<bool> {
    Ok(fs::read_dir(folder)?.next().is_none())
}

/// Takes folders away in which nothing is.
pub(super) fn remove_empty(folders: &[PathBuf]) {
    for folder in folders {
        let _ = fs::remove_dir(folder);
    }
}

/// Makes a folder; one that is there will do, a link will not.
fn make_folder(path: &Path) -> io::Result<()> {
    match fs::create_dir(path) {
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            match fs::symlink_metadata(path)?.is_dir() {
                true => Ok(()),
                false => Err(error),
            }
        }
        made => made,
    }
}

pub(super) fn write_file(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = File::create_new(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Gives a folder the rights of another, and its owner where this user may do so.
fn be_like(new: &Path, old: &Path) -> io::Result<()> {
    // Within a page folders have neither.
    if cfg!(target_family = "wasm") {
        return Ok(());
    }
    let found = fs::metadata(old)?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, chown};
        let own = fs::metadata(new)?;
        if (own.uid(), own.gid()) != (found.uid(), found.gid()) {
            let _ = chown(new, Some(found.uid()), Some(found.gid()));
        }
    }
    fs::set_permissions(new, found.permissions())
}
