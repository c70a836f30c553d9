//! A copy of a workshop on which a command is tried.

use super::folder::{Folder, WORKSHOP};
use super::names::stock_names;
use super::trouble;
use crate::shelf::{Disk, JOURNAL, Sharing, SystemDisk};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// A copy of a workshop that goes when it is dropped.
pub struct ScratchFolder {
    /// The copy.
    pub folder: Folder,
    /// Held as long as somebody uses it.
    used: Option<<SystemDisk as Disk>::Lock>,
}

/// What the names of such folders begin with; digits follow.
const NAME: &str = "cardwright-preview-";
/// The file of the lock in each.
const USED: &str = ".used.lock";

impl ScratchFolder {
    fn new(shelf: PathBuf) -> io::Result<ScratchFolder> {
        let mut name = [0_u8; 8];
        getrandom::fill(&mut name).map_err(io::Error::other)?;
        let name: String = name.iter().map(|byte| format!("{byte:02x}")).collect();
        let home = place().join(format!("{NAME}{name}"));
        create_private(&home)?;
        let mut scratch = ScratchFolder { folder: Folder::at(home, shelf), used: None };
        scratch.used = SystemDisk.lock(&scratch.folder.home.join(USED), Sharing::Writer)?;
        Ok(scratch)
    }

    /// A folder with nothing but a file in it.
    ///
    /// # Errors
    /// The system refuses.
    pub fn with_file(name: &str, bytes: &[u8]) -> io::Result<ScratchFolder> {
        let made = ScratchFolder::new(PathBuf::new()).and_then(|scratch| {
            SystemDisk.create(&scratch.folder.home.join(name), bytes, None)?;
            Ok(scratch)
        });
        made.map_err(|error| no_room(&error))
    }

    /// The shelf with its journal, the orders, and one report.
    ///
    /// # Errors
    /// The system refuses.
    pub fn of(folder: &Folder, report: &Path) -> io::Result<ScratchFolder> {
        ScratchFolder::copied(folder, report).map_err(|error| no_room(&error))
    }

    fn copied(folder: &Folder, report: &Path) -> io::Result<ScratchFolder> {
        let scratch = ScratchFolder::new(folder.shelf.clone())?;
        let stock = stock_names().map(|(_, name)| name.to_owned()).into_iter();
        let own = [WORKSHOP, JOURNAL, ".shelf.lock"].map(str::to_owned);
        let shelf = stock.chain(own).chain(folder.orders()).map(|name| folder.shelf.join(name));
        let report = ["plan.json", "origin.json"].map(|name| report.join(name));
        for path in shelf.chain(report) {
            scratch.copy(&folder.home, &path)?;
        }
        Ok(scratch)
    }

    /// Copies a file that is there.
    fn copy(&self, from: &Path, path: &Path) -> io::Result<()> {
        let (from, to): (PathBuf, PathBuf) = (from.join(path), self.folder.home.join(path));
        if !from.is_file() {
            return Ok(());
        }
        fs::create_dir_all(to.parent().unwrap_or(&self.folder.home))?;
        fs::copy(from, to).map(|_| ())
    }
}

impl Drop for ScratchFolder {
    fn drop(&mut self) {
        // Some systems take away no file that is open.
        self.used = None;
        // What cannot be taken away is cleared by a later desk.
        let _ = fs::remove_dir_all(&self.folder.home);
    }
}

/// Takes away the folders that a desk which was cut off has left.
#[cfg(feature = "command-line")]
pub fn clear_unused() {
    clear_in(&place());
}

#[cfg(feature = "command-line")]
fn clear_in(place: &Path) {
    let is_ours = |name: &str| {
        let digits = name.strip_prefix(NAME);
        digits.is_some_and(|it| it.len() == 16 && it.bytes().all(|digit| digit.is_ascii_hexdigit()))
    };
    for entry in place.read_dir().into_iter().flatten().flatten() {
        let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
        if !is_folder || !entry.file_name().to_str().is_some_and(is_ours) {
            continue;
        }
        let home = entry.path();
        // One that has no lock yet is being made; nobody may open another person's.
        if !home.join(USED).is_file() {
            continue;
        }
        if let Ok(Some(used)) = SystemDisk.lock(&home.join(USED), Sharing::Writer) {
            drop(used);
            let _ = fs::remove_dir_all(home);
        }
    }
}

fn no_room(error: &io::Error) -> io::Error {
    trouble::keeps(
        "a trial copy cannot be made in this machine's folder for temporary files",
        error,
    )
}

/// Where such copies are made: a page has nothing but its own folder, and forgets what lies beside that.
fn place() -> PathBuf {
    match cfg!(target_family = "wasm") {
        true => PathBuf::from("/"),
        false => std::env::temp_dir(),
    }
}

/// A folder that nobody else may look into, where the system knows such.
fn create_private(path: &Path) -> io::Result<()> {
    #[cfg(unix)]
    return std::os::unix::fs::DirBuilderExt::mode(&mut fs::DirBuilder::new(), 0o700).create(path);
    #[cfg(not(unix))]
    fs::DirBuilder::new().create(path)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folders_that_nobody_uses_are_cleared_and_no_others() {
        let place = tempfile::tempdir().unwrap();
        let path = |name: &str| place.path().join(name);
        let [left, used, begun, other] = [
            "cardwright-preview-0123456789abcdef",
            "cardwright-preview-fedcba9876543210",
            "cardwright-preview-0000000000000000",
            "cardwright-preview-of-mine",
        ]
        .map(path);
        for folder in [&left, &used, &begun, &other] {
            fs::create_dir(folder).unwrap();
        }
        for folder in [&left, &other] {
            SystemDisk.create(&folder.join(USED), b"", None).unwrap();
        }
        let held = SystemDisk.lock(&used.join(USED), Sharing::Writer).unwrap();
        assert!(held.is_some());
        clear_in(place.path());
        assert_eq!([left, used, begun, other].map(|it| it.exists()), [false, true, true, true]);
    }

    #[test]
    fn a_copy_is_used_until_it_goes() {
        let scratch = ScratchFolder::with_file("a.csv", b"a").unwrap();
        let home = scratch.folder.home.clone();
        assert!(SystemDisk.lock(&home.join(USED), Sharing::Writer).unwrap().is_none());
        drop(scratch);
        assert!(!home.exists());
    }
}
