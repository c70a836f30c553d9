//! A copy of a workshop on which a command is tried.

use super::folder::{Folder, WORKSHOP, stock_names};
use crate::shelf::{Disk, JOURNAL, SystemDisk};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// A copy of a workshop that goes when it is dropped.
pub struct ScratchFolder {
    /// The copy.
    pub folder: Folder,
}

impl ScratchFolder {
    fn new(shelf: PathBuf) -> io::Result<ScratchFolder> {
        let mut name = [0_u8; 8];
        getrandom::fill(&mut name).map_err(io::Error::other)?;
        let name: String = name.iter().map(|byte| format!("{byte:02x}")).collect();
        let home = place().join(format!("cardwright-preview-{name}"));
        create_private(&home)?;
        Ok(ScratchFolder { folder: Folder::at(home, shelf) })
    }

    /// A folder with nothing but a file in it.
    ///
    /// # Errors
    /// The system refuses.
    pub fn with_file(name: &str, bytes: &[u8]) -> io::Result<ScratchFolder> {
        let scratch = ScratchFolder::new(PathBuf::new())?;
        SystemDisk.create(&scratch.folder.home.join(name), bytes, None)?;
        Ok(scratch)
    }

    /// The shelf with its journal, the orders, and one report.
    ///
    /// # Errors
    /// The system refuses.
    pub fn of(folder: &Folder, report: &Path) -> io::Result<ScratchFolder> {
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
        // What cannot be taken away is the system's to clean up.
        let _ = fs::remove_dir_all(&self.folder.home);
    }
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
