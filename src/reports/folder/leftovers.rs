//! What runs have left that were cut off. Whoever holds the lock of the parent folder knows that none of them lives.

use super::home::{Originals, bring_home, move_beside};
use super::swap::{found, give_name, number};
use super::{Attempt, FolderError, ROOM, told};
use crate::diagnostics::{Problem, Problems};
use std::fs;
use std::path::{Path, PathBuf};

/// The folder in `.cardwright` that is being made.
pub const NEW: &str = "new";
/// The folder in `.cardwright` for one that is moved away, since it cannot be exchanged.
pub const OLD: &str = "old";

/// The folder in `.cardwright` for a new one that gives way to the old one again.
pub const UNDONE: &str = "undone";

/// A parent folder: where it is, and what the person calls it.
#[derive(Clone, Copy, Debug)]
pub struct Parent<'a> {
    /// Links followed.
    pub path: &'a Path,
    /// As the person calls it.
    pub shown: &'a Path,
}

/// Puts everything right that was left in a parent folder, and says so.
pub fn put_right(parent: Parent) -> Problems {
    let room = parent.path.join(ROOM);
    let mut problems = Problems::new();
    if let Err(error) = clear(&room, parent, &mut problems) {
        problems.push(told::left(&error, &parent.shown.join(ROOM)));
    }
    problems
}

fn clear(room: &Path, parent: Parent, problems: &mut Problems) -> Result<(), FolderError> {
    for slot in folders(room)? {
        if slot.file_name().is_some_and(|name| name == NEW) {
            // It is not whole, and everything in it that is not ours has another name elsewhere.
            fs::remove_dir_all(&slot).tried("remove", &slot)?;
            problems.push(told::unfinished(parent.shown));
            continue;
        }
        for folder in folders(&slot)? {
            restore(&slot, &folder, parent, problems)?;
        }
        fs::remove_dir(&slot).tried("remove", &slot)?;
    }
    match found(room).tried("look at", room)? {
        Some(_) => fs::remove_dir(room).tried("remove", room),
        None => Ok(()),
    }
}

/// Folders in a folder, sorted.
fn folders(folder: &Path) -> Result<Vec<PathBuf>, FolderError> {
    let mut folders = Vec::new();
    if found(folder).tried("look at", folder)?.is_some_and(|it| it.is_dir()) {
        for entry in fs::read_dir(folder).tried("look into", folder)? {
            let entry = entry.tried("look into", folder)?;
            if entry.file_type().tried("look at", &entry.path())?.is_dir() {
                folders.push(entry.path());
            }
        }
    }
    folders.sort();
    Ok(folders)
}

/// Puts a folder right that was to be exchanged, or was.
fn restore(
    slot: &Path,
    folder: &Path,
    parent: Parent,
    problems: &mut Problems,
) -> Result<(), FolderError> {
    let name = folder.file_name().unwrap_or_default();
    let (target, shown) = (parent.path.join(name), parent.shown.join(name));
    let here = fs::symlink_metadata(folder).tried("look at", folder)?;
    let own = number(&here).map(|number| number.to_string());
    let is_new = own.is_some_and(|own| slot.file_name().is_some_and(|name| name == own.as_str()));
    let there = found(&target).tried("look at", &target)?;
    let told: Problem = match there {
        Some(there) if there.is_dir() => {
            let originals = if is_new { Originals::Stay } else { Originals::Go };
            let brought = bring_home(folder, &target, originals)?;
            problems.append(brought.problems(&target, &shown));
            match is_new {
                true => told::unfinished(parent.shown),
                false => told::completed(&shown, &brought.names(&target)),
            }
        }
        None if is_new => {
            // The person has taken the report folder away since.
            fs::remove_dir_all(folder).tried("remove", folder)?;
            told::unfinished(parent.shown)
        }
        None => {
            give_name(folder, &target).tried("move", folder)?;
            told::brought_back(&shown)
        }
        Some(_) => told::brought_back(&match move_beside(folder, &target)?.file_name() {
            Some(name) => parent.shown.join(name),
            None => shown,
        }),
    };
    problems.push(told);
    Ok(())
}
