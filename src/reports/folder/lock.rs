//! One run at a time writes into a folder. The lock ends with the run, however that ends.

use super::swap::is_same;
use super::{FolderError, Tried};
use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// The lock where a folder itself cannot be locked.
const LOCK: &str = ".cardwright.lock";

/// Makes a folder where it is not there yet, locks it, and gives its place with links followed. Calls `waiting` before it
/// waits for another run.
pub fn lock(folder: &Path, waiting: &mut dyn FnMut()) -> Result<(File, PathBuf), FolderError> {
    loop {
        fs::create_dir_all(folder).tried("make the folder", folder)?;
        let place = fs::canonicalize(folder).tried("find", folder)?;
        let lock = locked(&place, waiting).tried("write in", folder)?;
        // A run that failed may have taken the folder away again that it had made.
        if lock.is_in_force(&place) {
            return Ok((lock.file, place));
        }
    }
}

struct Lock {
    file: File,
    /// Whether it is the folder itself that is locked.
    of_folder: bool,
}

impl Lock {
    fn is_in_force(&self, folder: &Path) -> bool {
        match (self.of_folder, self.file.metadata(), fs::metadata(folder)) {
            (true, Ok(locked), Ok(found)) => is_same(&locked, &found),
            (_, _, found) => found.is_ok(),
        }
    }
}

/// The folder itself, which leaves nothing behind; where it cannot be locked, as on some networks, a file in it.
fn locked(folder: &Path, waiting: &mut dyn FnMut()) -> io::Result<Lock> {
    if cfg!(unix)
        && let Ok(file) = File::open(folder)
        && wait(&file, waiting).is_ok()
    {
        return Ok(Lock { file, of_folder: true });
    }
    let mut options = File::options();
    let file = options.write(true).create(true).truncate(false).open(folder.join(LOCK))?;
    wait(&file, waiting)?;
    Ok(Lock { file, of_folder: false })
}

fn wait(file: &File, waiting: &mut dyn FnMut()) -> io::Result<()> {
    match file.try_lock() {
        Ok(()) => return Ok(()),
        Err(TryLockError::WouldBlock) => waiting(),
        Err(TryLockError::Error(error)) => return Err(error),
    }
    loop {
        match file.lock() {
            Err(error) if error.kind() == ErrorKind::Interrupted => {}
            done => return done,
        }
    }
}
