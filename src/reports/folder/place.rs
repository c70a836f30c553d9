//! Where a report folder is to be, and whether it may be there.

use super::swap::{found, is_same};
use super::{Attempt, FolderError, MARK, ROOM};
use std::ffi::{OsStr, OsString};
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Component, Path, PathBuf};

/// Within so many bytes a plan says what it is …
const HEAD: u64 = 4096;
/// … in these.
const SCHEMA: &[u8] = b"\"cardwright-plan-";
/// More links than any system follows.
const LINKS: u32 = 40;

/// A place where a report folder may be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Destination {
    /// What the person calls it.
    pub(super) shown: PathBuf,
    /// The folder in which it lies.
    pub(super) parent: PathBuf,
    /// Its name there.
    pub(super) name: OsString,
}

impl Destination {
    /// The place of this folder, links followed; `inputs` are files that must not lie in it.
    ///
    /// # Errors
    /// A file is there or another folder, or one in which an input lies.
    pub fn of(shown: &Path, inputs: &[&Path]) -> Result<Destination, FolderError> {
        let target = resolved(shown)?;
        if let Some(input) = inputs.iter().find(|input| is_within(input, &target)) {
            let (folder, input) = (shown.to_owned(), (*input).to_owned());
            return Err(FolderError::HoldsInput { folder, input });
        }
        let own = |part: &OsStr| part == ROOM;
        let (Some(parent), Some(name)) = (target.parent(), target.file_name()) else {
            return Err(FolderError::NoName(shown.to_owned()));
        };
        if target.iter().any(own) {
            return Err(FolderError::NoName(shown.to_owned()));
        }
        let place = Destination {
            shown: shown.to_owned(),
            parent: parent.to_owned(),
            name: name.to_owned(),
        };
        place.has_old()?;
        Ok(place)
    }

    /// The folder itself.
    pub(super) fn target(&self) -> PathBuf {
        self.parent.join(&self.name)
    }

    /// Whether a folder that may be replaced is there.
    pub(super) fn has_old(&self) -> Result<bool, FolderError> {
        let target = self.target();
        match found(&target).tried("look at", &target)? {
            None => return Ok(false),
            Some(found) if !found.is_dir() => return Err(FolderError::NotOurs(self.shown.clone())),
            Some(_) => {}
        }
        let mut empty = true;
        for entry in fs::read_dir(&target).tried("look into", &target)? {
            let name = entry.tried("look into", &target)?.file_name();
            if is_of_a_shelf(&name) {
                let (folder, input) = (self.shown.clone(), self.shown.join(name));
                return Err(FolderError::HoldsShelf { folder, input });
            }
            empty = false;
        }
        match empty || is_plan(&target.join(MARK)) {
            true => Ok(true),
            false => Err(FolderError::NotOurs(self.shown.clone())),
        }
    }

    /// Whether the person is in this folder, or below it: it would go away under them.
    pub fn holds_the_person(&self) -> bool {
        let here = std::env::current_dir().and_then(fs::canonicalize);
        here.is_ok_and(|here| here.starts_with(self.target()))
    }
}

/// Whether a file is a plan of ours: of another program's file of this name, nothing is ours.
fn is_plan(path: &Path) -> bool {
    let begins = || -> io::Result<Vec<u8>> {
        let mut head = Vec::new();
        File::open(path)?.take(HEAD).read_to_end(&mut head)?;
        Ok(head)
    };
    let is_file = fs::symlink_metadata(path).is_ok_and(|mark| mark.is_file());
    is_file && begins().is_ok_and(|head| head.windows(SCHEMA.len()).any(|part| part == SCHEMA))
}

/// Whether a file shows that a shelf keeps its paper beside it: its journal, its lock, or the mark of a drawer.
fn is_of_a_shelf(name: &OsStr) -> bool {
    let name = name.to_string_lossy();
    name == "shelf.jsonl"
        || name == ".shelf.lock"
        || (name.starts_with('.') && name.ends_with(".shelf"))
}

/// The path with its links followed, so that a link stays a link.
fn resolved(target: &Path) -> Result<PathBuf, FolderError> {
    if let Ok(found) = fs::canonicalize(target) {
        return Ok(found);
    }
    // What is not there yet cannot be gone back from: `nowhere/../orders` would be the orders once `nowhere` is made.
    let (Some(name), false) = (target.file_name(), target.ends_with("..")) else {
        return Err(FolderError::NoName(target.to_owned()));
    };
    let whole = std::path::absolute(target).tried("find", target)?;
    let parent = whole.parent().ok_or_else(|| FolderError::NoName(target.to_owned()))?;
    let there =
        parent.ancestors().find_map(|folder| Some((folder, fs::canonicalize(folder).ok()?)));
    let Some((folder, there)) = there else { return Ok(whole) };
    let rest = parent.strip_prefix(folder).unwrap_or(Path::new(""));
    match rest.components().all(|part| matches!(part, Component::Normal(_))) {
        true => Ok(there.join(rest).join(name)),
        false => Err(FolderError::NoName(target.to_owned())),
    }
}

/// Whether a file is reached through a folder, from whatever side: a link in the folder that leads out of it counts,
/// and so does a link from elsewhere that leads into it.
fn is_within(file: &Path, folder: &Path) -> bool {
    let is_folder = |path: &Path| {
        path == folder
            || match (fs::metadata(path), fs::metadata(folder)) {
                (Ok(path), Ok(folder)) => is_same(&path, &folder),
                _ => false,
            }
    };
    trail(file).iter().any(|path| path.ancestors().skip(1).any(is_folder))
}

/// The places of a file: as it is written, and on from link to link.
fn trail(file: &Path) -> Vec<PathBuf> {
    let mut trail = Vec::new();
    let mut next = Some(file.to_owned());
    for _ in 0..LINKS {
        let Some(place) = next.and_then(|path| placed(&path)) else { break };
        let leads = fs::read_link(&place).ok();
        next = leads.and_then(|to| Some(place.parent()?.join(to)));
        trail.push(place);
    }
    trail
}

/// A path whose last part alone may be a link.
fn placed(path: &Path) -> Option<PathBuf> {
    let path = std::path::absolute(path).ok()?;
    match path.file_name() {
        Some(name) => Some(fs::canonicalize(path.parent()?).ok()?.join(name)),
        None => fs::canonicalize(path).ok(),
    }
}
