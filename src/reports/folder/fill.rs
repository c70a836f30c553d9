//! Files put into a folder in which nothing is: it stays the folder that it is, since somebody may stand in it.

use super::swap::sync_folder;
use super::work::{missing, remove_empty, write_file};
use super::{Attempt, FolderError, ReportFile};
use std::fs;
use std::path::Path;

/// Writes files into a folder, which is made where there is none. A name that is taken is left alone.
///
/// # Errors
/// The system refuses, or a name is taken; what was written is taken away then.
pub fn fill_folder(folder: &Path, files: &[ReportFile]) -> Result<(), FolderError> {
    let made = missing(folder);
    fs::create_dir_all(folder).tried("make the folder", folder)?;
    for (written, (name, bytes)) in files.iter().enumerate() {
        let path = folder.join(name);
        if let Err(error) = write_file(&path, bytes) {
            // A file that is half written is ours, one that was there before is not.
            let half = usize::from(error.kind() != std::io::ErrorKind::AlreadyExists);
            for (name, _) in &files[..written + half] {
                let _ = fs::remove_file(folder.join(name));
            }
            remove_empty(&made);
            return Err(error).tried("write", &path);
        }
    }
    sync_folder(folder).tried("write in", folder)
}
