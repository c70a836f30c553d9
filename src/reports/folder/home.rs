//! What a person has put in a report folder, brought from a folder that goes to the one that stays.
//!
//! The folder that goes is emptied name by name and removed only when nothing is in it. So whatever came into it at
//! any moment is brought along, and what is there twice and not alike stays there twice.

use super::swap::{exchange, found, give_name, is_same};
use super::told::Brought;
use super::{Attempt, FolderError, is_ours};
use std::fs::{self, File};
use std::io::{self, BufRead, BufReader, ErrorKind};
use std::path::{Path, PathBuf};

/// Looks at a folder into which something comes again and again.
const LOOKS: u32 = 20;

/// Where the person's own files and folders are; in the other place there are links and copies of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Originals {
    /// In the folder that goes: they take the places of their stand-ins.
    Go,
    /// In the folder that stays.
    Stay,
}

/// Empties the report folder `from` and takes it away; all that is not ours in it is in `to` then.
///
/// # Errors
/// The system refuses; nothing is lost then, but `from` is still there.
pub fn bring_home(from: &Path, to: &Path, originals: Originals) -> Result<Brought, FolderError> {
    let mut brought = Brought::default();
    for _ in 0..LOOKS {
        for entry in fs::read_dir(from).tried("look into", from)? {
            let name = entry.tried("look into", from)?.file_name();
            let path = from.join(&name);
            let is_dir = found(&path).tried("look at", &path)?.is_some_and(|it| it.is_dir());
            match is_ours(&name) && !is_dir {
                true => gone(fs::remove_file(&path)).tried("remove", &path)?,
                false => bring(&path, &to.join(&name), originals, &mut brought)?,
            }
        }
        // Something may have come into it just now.
        if removed(from).tried("remove", from)? {
            return Ok(brought);
        }
    }
    Err(FolderError::System {
        act: "remove",
        path: from.to_owned(),
        source: ErrorKind::DirectoryNotEmpty.into(),
    })
}

/// Brings one file or folder home, under the name `to`.
fn bring(
    from: &Path,
    to: &Path,
    originals: Originals,
    brought: &mut Brought,
) -> Result<(), FolderError> {
    let both = |path: &Path| found(path).tried("look at", path);
    let Some(here) = both(from)? else { return Ok(()) };
    let Some(there) = both(to)? else {
        return match give_name(from, to) {
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {
                bring(from, to, originals, brought)
            }
            moved => moved.tried("move", from).map(|()| brought.came(to)),
        };
    };
    if is_same(&here, &there) {
        return gone(fs::remove_file(from)).tried("remove", from);
    }
    if here.is_dir() && there.is_dir() {
        return bring_folder(from, to, originals, brought);
    }
    if is_alike(from, to) {
        let taken = originals == Originals::Stay || exchange(from, to).is_ok();
        // It may have been saved just now.
        if taken && is_alike(from, to) {
            return gone(fs::remove_file(from)).tried("remove", from);
        }
    }
    keep_both(from, to, brought)
}

fn bring_folder(
    from: &Path,
    to: &Path,
    originals: Originals,
    brought: &mut Brought,
) -> Result<(), FolderError> {
    if originals == Originals::Go {
        // So it keeps its rights and dates. Where that cannot be, what is in it is moved.
        let _ = exchange(from, to);
    }
    for _ in 0..LOOKS {
        for entry in fs::read_dir(from).tried("look into", from)? {
            let name = entry.tried("look into", from)?.file_name();
            bring(&from.join(&name), &to.join(&name), Originals::Stay, brought)?;
        }
        if removed(from).tried("remove", from)? {
            return Ok(());
        }
    }
    Ok(())
}

/// The newer of two gets the name, the other one a name beside it.
fn keep_both(from: &Path, to: &Path, brought: &mut Brought) -> Result<(), FolderError> {
    let changed = |path: &Path| fs::symlink_metadata(path).and_then(|it| it.modified()).ok();
    let is_newer = changed(from) > changed(to);
    if is_newer {
        // Where names cannot be exchanged, it is the newer one that lies beside.
        let _ = exchange(from, to);
    }
    let beside = move_beside(from, to)?;
    brought.doubled(to, &beside);
    Ok(())
}

/// Moves something to a free name like `photo (2).jpg`.
pub fn move_beside(from: &Path, to: &Path) -> Result<PathBuf, FolderError> {
    let (stem, ending) = (to.file_stem().unwrap_or_default(), to.extension());
    for count in 2.. {
        let mut name = stem.to_owned();
        name.push(format!(" ({count})"));
        if let Some(ending) = ending {
            name.push(".");
            name.push(ending);
        }
        let beside = to.with_file_name(name);
        match give_name(from, &beside) {
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
            moved => return moved.tried("move", from).map(|()| beside),
        }
    }
    Err(FolderError::NoName(to.to_owned()))
}

/// Whether two files say the same, or two links.
fn is_alike(one: &Path, other: &Path) -> bool {
    let (Ok(here), Ok(there)) = (fs::symlink_metadata(one), fs::symlink_metadata(other)) else {
        return false;
    };
    if here.is_symlink() && there.is_symlink() {
        return fs::read_link(one).ok() == fs::read_link(other).ok();
    }
    let files = here.is_file() && there.is_file() && here.len() == there.len();
    files && same_bytes(one, other).unwrap_or(false)
}

fn same_bytes(one: &Path, other: &Path) -> io::Result<bool> {
    let (mut one, mut other) =
        (BufReader::new(File::open(one)?), BufReader::new(File::open(other)?));
    loop {
        let (here, there) = (one.fill_buf()?, other.fill_buf()?);
        let length = here.len().min(there.len());
        if here[..length] != there[..length] {
            return Ok(false);
        }
        if length == 0 {
            return Ok(here.len() == there.len());
        }
        one.consume(length);
        other.consume(length);
    }
}

/// Whether a folder is removed; it is not where something is in it.
fn removed(folder: &Path) -> io::Result<bool> {
    match fs::remove_dir(folder) {
        Err(error) if error.kind() == ErrorKind::DirectoryNotEmpty => Ok(false),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(true),
        done => done.map(|()| true),
    }
}

fn gone(done: io::Result<()>) -> io::Result<()> {
    match done {
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(()),
        done => done,
    }
}
