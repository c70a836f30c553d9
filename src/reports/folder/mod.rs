//! The one door that writes report folders: each is whole, the old or the new, at every moment, and nothing is lost
//! that a person has put in one.
//!
//! A run locks the parent folder itself (`flock`; a file `.cardwright.lock` where a folder cannot be locked). Until it
//! is done, it works in `.cardwright` there:
//!
//! 1. What a run has left that was cut off is put right (`leftovers.rs`), and reported as `folder-restored`. Since the
//!    lock is held, no living run is meant.
//! 2. The new folder is made in `.cardwright/new`: the reports, and a hard link to each file that is the person's in
//!    the old one, folder by folder (`hers.rs`). What cannot be linked is copied up to 64 MiB.
//! 3. It moves to `.cardwright/NUMBER/NAME`, where `NUMBER` is its own (its inode), and is exchanged with the old one
//!    in one step (`swap.rs`: `renameat2` with `RENAME_EXCHANGE`, `renamex_np` on macOS).
//! 4. The old one is emptied name by name and removed when nothing is in it (`home.rs`): reports go, links of what is
//!    there already go, folders of the person take the places of their copies so that rights and dates stay, and what
//!    came at the last moment is moved over. No name of the person's is ever covered: two versions of a file stay both
//!    (`folder-both`).
//!
//! What lies in `.cardwright` tells where a run was cut off: a folder with its own number there was not exchanged.
//!
//! | cut off | the report folder | in `.cardwright` | the next plan |
//! | --- | --- | --- | --- |
//! | in 2 | old | `new` | removes it: all in it that is the person's has another name |
//! | in 3, before the exchange | old | a folder under its own number | the same, name by name |
//! | in 3 or 4, after it | new, with all that is the person's | the old one, whose number is another | goes on with 4 |
//!
//! A system that cannot exchange folders, such as Windows, moves the old one to `.cardwright/old/NAME`, then the new
//! one into its place, and then all that is the person's. Cut off between, the next plan moves the old one back.

mod fill;
mod hers;
mod home;
mod leftovers;
mod lock;
mod place;
mod swap;
#[cfg(test)]
mod tests;
mod told;
mod work;

pub use fill::fill_folder;
pub use place::Destination;
pub use work::{Swapped, Workspace, Written};

use super::ReportFile;
use crate::diagnostics::Problems;
use std::ffi::OsStr;
use std::io;
use std::path::{Path, PathBuf};
use thiserror::Error;

/// Names of report files of every version; any other file in a report folder belongs to the person.
const OURS: [&str; 16] = [
    "plan.json",
    "schedule.html",
    "schedule.pdf",
    "labels.pdf",
    "pattern.svg",
    "cuts.csv",
    "pieces.csv",
    "offcuts.csv",
    "buy.csv",
    "quote.csv",
    "origin.json",
    "offer.html",
    "offer.pdf",
    "envelopes.svg",
    "templates.svg",
    "templates.pdf",
];
/// The file by which a report folder is known.
const MARK: &str = "plan.json";
/// Between two tries to lock a folder.
const PAUSE: std::time::Duration = std::time::Duration::from_millis(20);
/// The folder beside a report folder in which the new one is made.
const ROOM: &str = ".cardwright";

/// Why no report folder was written. Nothing is changed then.
#[derive(Debug, Error)]
pub enum FolderError {
    /// Something else is there.
    #[error("{0} exists already and is not a report folder")]
    NotOurs(PathBuf),
    /// The path has no last part, such as `/` or `..`, or is of the program's own.
    #[error("{0} cannot be a report folder")]
    NoName(PathBuf),
    /// What the batch is planned from would be replaced.
    #[error("{folder} cannot be replaced: it holds {input}, which this plan reads")]
    HoldsInput {
        /// The folder.
        folder: PathBuf,
        /// A file of the batch.
        input: PathBuf,
    },
    /// Somebody's paper is listed there.
    #[error("{folder} cannot be replaced: {input} shows that it holds a shelf")]
    HoldsShelf {
        /// The folder.
        folder: PathBuf,
        /// What a shelf leaves beside its files.
        input: PathBuf,
    },
    /// A folder of the person has the name of a report.
    #[error("{0} is a folder with the name of a report")]
    InTheWay(PathBuf),
    /// Nobody wanted to wait any longer for another run that writes there.
    #[error("stopped waiting for {0}")]
    Stopped(PathBuf),
    /// The system refused.
    #[error("cannot {act} {path}")]
    System {
        /// What was tried, such as `write`.
        act: &'static str,
        /// On what.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
}

/// Says what was tried on what.
trait Attempt<T> {
    fn tried(self, act: &'static str, path: &Path) -> Result<T, FolderError>;
}

impl<T> Attempt<T> for io::Result<T> {
    fn tried(self, act: &'static str, path: &Path) -> Result<T, FolderError> {
        self.map_err(|source| FolderError::System { act, path: path.to_owned(), source })
    }
}

/// Writes all files into the folder `target`, which is replaced where it is a report folder or
/// empty. Files in it that are not ours stay. Gives what the person has to know.
///
/// # Errors
/// `target` is something else, or the system refuses; the old folder is as it was then.
pub fn write_folder(target: &Path, files: &[ReportFile]) -> Result<Problems, FolderError> {
    let mut work = Workspace::begin(Destination::of(target, &[])?, &mut |_| {
        std::thread::sleep(PAUSE);
        true
    })?;
    let mut told = std::mem::take(&mut work.told);
    told.append(work.write(files)?.swap()?.finish());
    Ok(told)
}

/// Whether a name in a report folder is that of a report.
fn is_ours(name: &OsStr) -> bool {
    OURS.iter().any(|ours| name == *ours)
}
