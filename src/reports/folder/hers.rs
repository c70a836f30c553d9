//! What a person has put in a report folder, linked into the new one before it takes the old one's place.

use super::swap::{found, sync_folder};
use super::{Attempt, FolderError, is_ours};
use std::fs::{self, File, Metadata};
use std::io::{self, ErrorKind};
use std::path::Path;

/// What cannot be linked is copied up to so many bytes; what is larger is moved after the exchange.
const LARGEST_COPY: u64 = 64 * 1024 * 1024;

/// Looks whether the old folder can be moved, and all that is the person's in it.
///
/// # Errors
/// A folder has the name of a report, or the system does not let it be moved.
pub fn check(old: &Path) -> Result<(), FolderError> {
    let parent = fs::symlink_metadata(old).tried("look at", old)?;
    may_move(old, &parent, &parent).tried("replace", old)?;
    for entry in fs::read_dir(old).tried("look into", old)? {
        let path = entry.tried("look into", old)?.path();
        let Some(found) = found(&path).tried("look at", &path)?.filter(Metadata::is_dir) else {
            continue;
        };
        if path.file_name().is_some_and(is_ours) {
            return Err(FolderError::InTheWay(path));
        }
        may_move(&path, &found, &parent).tried("move", &path)?;
    }
    Ok(())
}

/// A folder that moves is written, since it knows where it lies; one that another disk is put on does not move.
#[cfg(unix)]
fn may_move(path: &Path, found: &Metadata, parent: &Metadata) -> io::Result<()> {
    use rustix::fs::{Access, AtFlags, CWD, accessat};
    use std::os::unix::fs::MetadataExt;
    if found.dev() != parent.dev() {
        return Err(ErrorKind::CrossesDevices.into());
    }
    let may = accessat(CWD, path, Access::WRITE_OK, AtFlags::EACCESS).map_err(io::Error::from);
    match may {
        Err(error) if error.kind() == ErrorKind::PermissionDenied => Err(error),
        _ => Ok(()),
    }
}

#[cfg(not(unix))]
fn may_move(_: &Path, _: &Metadata, _: &Metadata) -> io::Result<()> {
    Ok(())
}

/// Puts a second name of all that is the person's in the old folder into the new one.
///
/// # Errors
/// The system refuses.
pub fn link(old: &Path, new: &Path) -> Result<(), FolderError> {
    for entry in fs::read_dir(old).tried("look into", old)? {
        let name = entry.tried("look into", old)?.file_name();
        if !is_ours(&name) {
            let from = old.join(&name);
            stand_in(&from, &new.join(&name)).tried("copy", &from)?;
        }
    }
    Ok(())
}

/// What stands for the original until that takes its place. What was taken away meanwhile needs none.
fn stand_in(from: &Path, to: &Path) -> io::Result<()> {
    let Some(found) = found(from)? else { return Ok(()) };
    if found.is_dir() {
        fs::create_dir(to)?;
        for entry in fs::read_dir(from)? {
            let name = entry?.file_name();
            stand_in(&from.join(&name), &to.join(&name))?;
        }
        return sync_folder(to);
    }
    let can_be_copied = found.is_file() && found.len() <= LARGEST_COPY;
    if fs::hard_link(from, to).is_err() && can_be_copied && copy(from, to).is_err() {
        // It is moved instead, like what is too large to be copied.
        match fs::remove_file(to) {
            Err(error) if error.kind() == ErrorKind::NotFound => {}
            done => done?,
        }
    }
    Ok(())
}

fn copy(from: &Path, to: &Path) -> io::Result<()> {
    fs::copy(from, to)?;
    File::open(to)?.sync_all()
}
