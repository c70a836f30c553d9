//! One run at a time writes into a folder. The lock ends with the run, however that ends.

use super::swap::is_same;
use super::{Attempt, FolderError};
use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// The lock where a folder itself cannot be locked.
const LOCK: &str = ".cardwright.lock";

/// Asked each time that another run holds the lock, with how often it was tried: whether to try again. It takes its time to
/// answer.
pub type WhileLocked<'a> = dyn FnMut(u32) -> bool + 'a;

/// Makes a folder where it is not there yet, locks it, and gives its place with links followed.
pub fn lock(folder: &Path, waiting: &mut WhileLocked<'_>) -> Result<(File, PathBuf), FolderError> {
    loop {
        fs::create_dir_all(folder).tried("make the folder", folder)?;
        let place = fs::canonicalize(folder).tried("find", folder)?;
        let lock = match locked(&place, waiting) {
            Err(error) if error.kind() == ErrorKind::Interrupted => {
                return Err(FolderError::Stopped(folder.to_owned()));
            }
            locked => locked.tried("write in", folder)?,
        };
        // A run that failed may have taken the folder away again that it had made.
        if lock.is_in_force(&place) {
            return Ok((lock.file, place));
        }
    }
}

struct FolderLock {
    file: File,
    /// Whether it is the folder itself that is locked.
    of_folder: bool,
}

impl FolderLock {
    fn is_in_force(&self, folder: &Path) -> bool {
        match (self.of_folder, self.file.metadata(), fs::metadata(folder)) {
            (true, Ok(locked), Ok(found)) => is_same(&locked, &found),
            (_, _, found) => found.is_ok(),
        }
    }
}

/// The folder itself, which leaves nothing behind; where it cannot be locked, as on some networks, a file in it.
fn locked(folder: &Path, waiting: &mut WhileLocked<'_>) -> io::Result<FolderLock> {
    if cfg!(unix)
        && let Ok(file) = File::open(folder)
    {
        match wait(&file, waiting) {
            Ok(()) => return Ok(FolderLock { file, of_folder: true }),
            Err(error) if error.kind() == ErrorKind::Interrupted => return Err(error),
            Err(_) => {}
        }
    }
    let mut options = File::options();
    let file = options.write(true).create(true).truncate(false).open(folder.join(LOCK))?;
    wait(&file, waiting)?;
    Ok(FolderLock { file, of_folder: false })
}

/// Interrupted where nobody wants to wait any longer.
fn wait(file: &File, waiting: &mut WhileLocked<'_>) -> io::Result<()> {
    for tries in 1.. {
        match file.try_lock() {
            Ok(()) => break,
            Err(TryLockError::WouldBlock) if waiting(tries) => {}
            Err(TryLockError::WouldBlock) => return Err(ErrorKind::Interrupted.into()),
            // Within a page nobody else is there, and nothing to lock with.
            Err(TryLockError::Error(_)) if cfg!(target_family = "wasm") => break,
            Err(TryLockError::Error(error)) => return Err(error),
        }
    }
    Ok(())
}
