//! The one door that writes files: a report folder is whole or absent.

use super::ReportFile;
use std::ffi::OsStr;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use tempfile::TempDir;
use thiserror::Error;

/// Names of report files of every version; anything else in a report folder belongs to the person.
const OURS: [&str; 14] = [
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
    "envelopes.svg",
    "templates.svg",
];
/// The file by which a report folder is known.
const MARK: &str = "plan.json";

/// Why no report folder was written. Nothing is changed then.
#[derive(Debug, Error)]
pub enum FolderError {
    /// Something else is there.
    #[error("{0} is there already and is no report folder")]
    NotOurs(PathBuf),
    /// The path has no last part, such as `/` or `..`.
    #[error("{0} cannot be a report folder")]
    NoName(PathBuf),
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
trait Tried<T> {
    fn tried(self, act: &'static str, path: &Path) -> Result<T, FolderError>;
}

impl<T> Tried<T> for io::Result<T> {
    fn tried(self, act: &'static str, path: &Path) -> Result<T, FolderError> {
        self.map_err(|source| FolderError::System { act, path: path.to_owned(), source })
    }
}

/// Writes all files into the folder `target`, which is replaced where it is a report folder or
/// empty. Files in it that are not ours stay.
///
/// The files are written beside it first and moved into place when they are safe on the disk.
///
/// # Errors
/// `target` is something else, or the system refuses; the old folder is as it was then.
pub fn write_folder(target: &Path, files: &[ReportFile]) -> Result<(), FolderError> {
    let target = resolved(target)?;
    let old = existing(&target)?;
    let parent = target.parent().ok_or_else(|| FolderError::NoName(target.clone()))?;
    fs::create_dir_all(parent).tried("make the folder", parent)?;
    let new = folder_beside(parent)?;
    for (name, bytes) in files {
        write_file(&new.path().join(name), bytes)?;
    }
    sync_folder(new.path())?;
    if old {
        replace(&target, new.path(), files)?;
    } else {
        fs::rename(new.path(), &target).tried("make the folder", &target)?;
    }
    sync_folder(parent)
}

/// The path with its links followed, so that a link stays a link.
fn resolved(target: &Path) -> Result<PathBuf, FolderError> {
    if let Ok(found) = fs::canonicalize(target) {
        return Ok(found);
    }
    if target.file_name().is_none() {
        return Err(FolderError::NoName(target.to_owned()));
    }
    std::path::absolute(target).tried("find", target)
}

/// Whether a folder that may be replaced is there.
fn existing(target: &Path) -> Result<bool, FolderError> {
    match fs::symlink_metadata(target) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(false),
        Err(error) => return Err(error).tried("look at", target),
        Ok(found) if !found.is_dir() => return Err(FolderError::NotOurs(target.to_owned())),
        Ok(_) => {}
    }
    let empty = fs::read_dir(target).tried("look into", target)?.next().is_none();
    match empty || target.join(MARK).is_file() {
        true => Ok(true),
        false => Err(FolderError::NotOurs(target.to_owned())),
    }
}

/// A folder for a moment, open to whom the system's defaults let in.
fn folder_beside(parent: &Path) -> Result<TempDir, FolderError> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".cardwright-");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o777));
    builder.tempdir_in(parent).tried("write in", parent)
}

fn write_file(path: &Path, bytes: &[u8]) -> Result<(), FolderError> {
    let mut file = File::create_new(path).tried("write", path)?;
    file.write_all(bytes).tried("write", path)?;
    file.sync_all().tried("write", path)
}

/// Makes the names in a folder safe on the disk; only Unix has a way to ask for it.
fn sync_folder(path: &Path) -> Result<(), FolderError> {
    if cfg!(unix) {
        File::open(path).and_then(|folder| folder.sync_all()).tried("write", path)?;
    }
    Ok(())
}

/// Puts the new folder in the old one's place; the old one comes back where that fails.
fn replace(target: &Path, new: &Path, files: &[ReportFile]) -> Result<(), FolderError> {
    let parent = target.parent().unwrap_or(target);
    let aside = folder_beside(parent)?;
    let old = aside.path().join("old");
    fs::rename(target, &old).tried("replace", target)?;
    if let Err(error) = fs::rename(new, target) {
        if fs::rename(&old, target).is_err() {
            // The old reports must not be lost: they stay where they are now.
            let _kept = aside.keep();
        }
        return Err(error).tried("replace", target);
    }
    if let Err(error) = carry_over(&old, target, files) {
        let _kept = aside.keep();
        return Err(error);
    }
    Ok(())
}

/// Moves what a person has put in the old folder to the new one.
fn carry_over(old: &Path, new: &Path, files: &[ReportFile]) -> Result<(), FolderError> {
    for entry in fs::read_dir(old).tried("look into", old)? {
        let name = entry.tried("look into", old)?.file_name();
        if !is_ours(&name, files) {
            fs::rename(old.join(&name), new.join(&name)).tried("move", &old.join(&name))?;
        }
    }
    Ok(())
}

fn is_ours(name: &OsStr, files: &[ReportFile]) -> bool {
    OURS.iter().any(|ours| name == *ours) || files.iter().any(|(ours, _)| name == ours.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(text: &str) -> Vec<ReportFile> {
        let names = ["plan.json", "cuts.csv"];
        names.map(|name| (name.to_owned(), text.as_bytes().to_vec())).to_vec()
    }

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).unwrap();
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    fn put(path: &Path, text: &str) {
        File::create(path).unwrap().write_all(text.as_bytes()).unwrap();
    }

    #[test]
    fn a_new_folder_is_made_with_its_parents() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("reports/spring");
        write_folder(&target, &files("1")).unwrap();
        assert_eq!(names(&target), ["cuts.csv", "plan.json"]);
        assert_eq!(names(&home.path().join("reports")), ["spring"]);
    }

    #[test]
    fn an_old_report_is_replaced_whole() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("spring");
        write_folder(&target, &files("1")).unwrap();
        put(&target.join("quote.csv"), "of an earlier version");
        write_folder(&target, &files("2")).unwrap();
        assert_eq!(names(&target), ["cuts.csv", "plan.json"]);
        assert_eq!(fs::read_to_string(target.join("plan.json")).unwrap(), "2");
        assert_eq!(names(home.path()), ["spring"]);
    }

    #[test]
    fn what_a_person_put_there_stays() {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("spring");
        write_folder(&target, &files("1")).unwrap();
        put(&target.join("photo.jpg"), "mine");
        fs::create_dir(target.join("letters")).unwrap();
        write_folder(&target, &files("2")).unwrap();
        assert_eq!(names(&target), ["cuts.csv", "letters", "photo.jpg", "plan.json"]);
    }

    #[test]
    fn an_empty_folder_may_be_used() {
        let home = tempfile::tempdir().unwrap();
        write_folder(home.path().join("new").as_path(), &[]).unwrap();
        write_folder(home.path().join("new").as_path(), &files("1")).unwrap();
        assert_eq!(names(&home.path().join("new")), ["cuts.csv", "plan.json"]);
    }

    #[test]
    fn another_folder_and_a_file_are_refused_untouched() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join("holiday");
        fs::create_dir(&folder).unwrap();
        put(&folder.join("photo.jpg"), "mine");
        let error = write_folder(&folder, &files("1")).unwrap_err();
        assert_eq!(names(&folder), ["photo.jpg"]);
        assert!(error.to_string().ends_with("holiday is there already and is no report folder"));
        let file = folder.join("photo.jpg");
        assert!(matches!(write_folder(&file, &files("1")), Err(FolderError::NotOurs(_))));
        assert_eq!(fs::read_to_string(file).unwrap(), "mine");
        assert_eq!(names(home.path()), ["holiday"]);
    }

    #[test]
    fn a_file_in_the_way_is_told_with_path_and_cause() {
        let home = tempfile::tempdir().unwrap();
        put(&home.path().join("reports"), "a file");
        let error = write_folder(&home.path().join("reports/spring"), &files("1")).unwrap_err();
        assert!(error.to_string().contains("reports"), "{error}");
        assert!(std::error::Error::source(&error).is_some());
        assert_eq!(names(home.path()), ["reports"]);
    }

    #[test]
    fn a_path_without_a_name_is_refused() {
        assert!(write_folder(Path::new("/"), &files("1")).is_err());
        assert!(matches!(
            write_folder(Path::new("nowhere-at-all/.."), &files("1")),
            Err(FolderError::NoName(_))
        ));
    }

    #[cfg(unix)]
    #[test]
    fn a_link_stays_a_link() {
        let home = tempfile::tempdir().unwrap();
        let real = home.path().join("real");
        write_folder(&real, &files("1")).unwrap();
        let link = home.path().join("link");
        std::os::unix::fs::symlink(&real, &link).unwrap();
        write_folder(&link, &files("2")).unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read_to_string(real.join("plan.json")).unwrap(), "2");
    }

    #[cfg(unix)]
    #[test]
    fn others_may_read_it_as_far_as_the_system_says() {
        use std::os::unix::fs::PermissionsExt;
        let home = tempfile::tempdir().unwrap();
        let plain = home.path().join("plain");
        fs::create_dir(&plain).unwrap();
        write_folder(&home.path().join("spring"), &files("1")).unwrap();
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
        assert_eq!(mode(&home.path().join("spring")), mode(&plain));
    }
}
