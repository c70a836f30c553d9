//! Why a shelf could not be read or written.

use crate::diagnostics::Problem;
use std::io;
use std::path::{Path, PathBuf};
use thiserror::Error;

/// Why a shelf could not be read or written.
#[derive(Debug, Error)]
pub enum StoreError {
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
    /// It counts, but not all of it is written.
    #[error("the change is in the journal, but not all files could be written")]
    Unfinished(#[source] Box<StoreError>),
    /// A file that is no text cannot be kept in the journal.
    #[error("{path} is not written in UTF-8")]
    NoText {
        /// The file.
        path: PathBuf,
        /// The command that writes it again from the journal.
        rebuild: String,
    },
    /// Another command held the lock for longer than was waited for.
    #[error("another command is using {0}")]
    Stopped(PathBuf),
    /// The journal's line could not be made: a fault of the program.
    #[error("an entry of the journal could not be written as JSON")]
    Json(#[source] serde_json::Error),
    /// Something that a person can mend.
    #[error("{}", .0.title)]
    Problem(Box<Problem>),
}

/// Says what was tried on what.
pub(super) trait OnFile<T> {
    fn tried(self, act: &'static str, path: &Path) -> Result<T, StoreError>;
}

impl<T> OnFile<T> for io::Result<T> {
    fn tried(self, act: &'static str, path: &Path) -> Result<T, StoreError> {
        self.map_err(|source| StoreError::System { act, path: path.to_owned(), source })
    }
}
