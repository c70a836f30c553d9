//! A file that is replaced in one step, and what a save that was cut off has left beside it.

use crate::shelf::{Disk, SystemDisk, digest};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// A hidden file beside another one.
///
/// # Errors
/// The path leads to no file.
pub fn beside(path: &Path, end: &str) -> io::Result<PathBuf> {
    let name = path.file_name().ok_or(ErrorKind::InvalidInput)?.to_string_lossy();
    Ok(path.with_file_name(format!(".{name}.{end}")))
}

/// Writes a new file in the place of what was left of one; where there is no room for all of it, none of it stays.
pub fn create(fresh: &Path, bytes: &[u8], like: Option<&Path>) -> io::Result<()> {
    SystemDisk.remove(fresh)?;
    SystemDisk.create(fresh, bytes, like).inspect_err(|_| drop(SystemDisk.remove(fresh)))
}

/// Puts a new file in the place of the one that had this digest, in one step and safe on the disk. Where another was saved there
/// meanwhile, that comes back, and is given.
///
/// # Errors
/// The system refuses.
pub fn replace(path: &Path, bytes: &[u8], was: Option<&str>) -> io::Result<Option<Vec<u8>>> {
    // A link stays one: what it leads to is replaced.
    let path = &SystemDisk.resolve(path)?;
    keep_left(path)?;
    let part = beside(path, "part")?;
    create(&part, bytes, was.map(|_| path.as_path()))?;
    let fresh =
        beside(path, &format!("{}-{}.desk", short(was.unwrap_or(NONE)), short(&digest(bytes))))?;
    SystemDisk.rename(&part, &fresh)?;
    let found = put(&fresh, path, was);
    // Where it broke off, what lies there now may be what somebody else saved.
    match &found {
        Ok(_) => SystemDisk.remove(&fresh)?,
        Err(_) => drop(keep_left(path)),
    }
    SystemDisk.sync_folder(path.parent().unwrap_or(Path::new(".")))?;
    found
}

/// In the place of the digest of a file that was not there.
const NONE: &str = "none";

/// As much of a digest as tells two texts of one file apart.
fn short(digest: &str) -> &str {
    digest.get(..16).unwrap_or(digest)
}

fn put(fresh: &Path, path: &Path, was: Option<&str>) -> io::Result<Option<Vec<u8>>> {
    let Some(was) = was else { return SystemDisk.rename_new(fresh, path).map(|()| None) };
    let ours = digest(&SystemDisk.read(fresh)?.unwrap_or_default());
    match SystemDisk.exchange(fresh, path) {
        Err(error) if error.kind() == ErrorKind::Unsupported => {
            SystemDisk.rename(fresh, path).map(|()| None)
        }
        Err(error) => Err(error),
        Ok(()) => put_back(fresh, path, was, ours),
    }
}

/// After an exchange: where something else came out than was known, it goes back; so does what was saved in that moment, until what
/// comes out is what was put there last.
fn put_back(
    fresh: &Path,
    path: &Path,
    was: &str,
    mut placed: String,
) -> io::Result<Option<Vec<u8>>> {
    let out = || SystemDisk.read(fresh).map(Option::unwrap_or_default);
    let mut theirs = out()?;
    if digest(&theirs) == was {
        return Ok(None);
    }
    loop {
        SystemDisk.exchange(fresh, path)?;
        let next = out()?;
        if digest(&next) == placed {
            return Ok(Some(theirs));
        }
        placed = digest(&theirs);
        theirs = next;
    }
}

/// Clears what a save that was cut off has left beside a file: a text of its own goes; what somebody else saved, and the save took
/// out, is kept under a name that everybody sees.
///
/// # Errors
/// The system refuses.
pub fn keep_left(path: &Path) -> io::Result<()> {
    let (Some(folder), Some(name)) = (path.parent(), path.file_name()) else { return Ok(()) };
    let begin = format!(".{}.", name.to_string_lossy());
    for left in folder.read_dir()?.flatten() {
        let left_name = left.file_name().to_string_lossy().into_owned();
        let inner = left_name.strip_prefix(&begin).and_then(|rest| rest.strip_suffix(".desk"));
        let Some((old, new)) = inner.and_then(|inner| inner.split_once('-')) else { continue };
        let left = left.path();
        let found = digest(&SystemDisk.read(&left)?.unwrap_or_default());
        match [old, new].contains(&short(&found)) {
            true => SystemDisk.remove(&left)?,
            false => keep_seen(&left, path)?,
        }
    }
    Ok(())
}

/// Gives a file a free name beside another: `spring (saved elsewhere 1).csv`.
fn keep_seen(left: &Path, path: &Path) -> io::Result<()> {
    let part =
        |part: Option<&std::ffi::OsStr>| part.unwrap_or_default().to_string_lossy().into_owned();
    let (stem, end) = (part(path.file_stem()), part(path.extension()));
    for number in 1..100 {
        let kept = path.with_file_name(format!("{stem} (saved elsewhere {number}).{end}"));
        match SystemDisk.rename_new(left, &kept) {
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
            done => return done,
        }
    }
    Err(ErrorKind::AlreadyExists.into())
}

/// Whether a file is what a save that was cut off has left.
#[cfg(feature = "command-line")]
pub fn is_left(name: &str) -> bool {
    name.starts_with('.') && name.ends_with(".desk")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A folder with a file in it.
    fn with(text: &str) -> (tempfile::TempDir, PathBuf) {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().canonicalize().unwrap().join("may.csv");
        SystemDisk.create(&path, text.as_bytes(), None).unwrap();
        (home, path)
    }

    fn text(path: &Path) -> String {
        String::from_utf8(SystemDisk.read(path).unwrap().unwrap()).unwrap()
    }

    /// All names there, hidden ones too.
    fn all_in(folder: &Path) -> Vec<String> {
        let names = folder.read_dir().unwrap().flatten();
        let mut names: Vec<String> =
            names.map(|entry| entry.file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    fn left(path: &Path, old: &str, new: &str) -> PathBuf {
        let [old, new] = [old, new].map(|text| digest(text.as_bytes()));
        beside(path, &format!("{}-{}.desk", short(&old), short(&new))).unwrap()
    }

    #[test]
    fn what_a_cut_off_save_left_is_cleared_unless_it_is_of_somebody_else() {
        for (found, names) in [
            ("old", vec!["may.csv"]),
            ("new", vec!["may.csv"]),
            ("theirs", vec!["may (saved elsewhere 1).csv", "may.csv"]),
        ] {
            let (home, path) = with("new");
            SystemDisk.create(&left(&path, "old", "new"), found.as_bytes(), None).unwrap();
            SystemDisk.create(&beside(&path, "part").unwrap(), b"ne", None).unwrap();
            let was = digest(b"new");
            assert_eq!(replace(&path, b"next", Some(&was)).unwrap(), None);
            assert_eq!(
                (text(&path).as_str(), all_in(home.path())),
                ("next", names.iter().map(ToString::to_string).collect()),
                "{found}"
            );
            if names.len() == 2 {
                assert_eq!(text(&home.path().join(names[0])), found);
            }
        }
    }

    /// Another program has saved before the exchange, and once more before the exchange back: the later text stays.
    #[cfg(target_os = "linux")]
    #[test]
    fn what_is_saved_between_two_exchanges_stays() {
        let (home, path) = with("second");
        let fresh = home.path().join("fresh");
        SystemDisk.create(&fresh, b"first", None).unwrap();
        let [was, ours] = ["old", "ours"].map(|text| digest(text.as_bytes()));
        let theirs = put_back(&fresh, &path, &was, ours).unwrap();
        assert_eq!(
            (theirs.as_deref(), text(&path).as_str()),
            (Some(b"second".as_slice()), "second")
        );
        assert_eq!(text(&fresh), "first");
    }

    #[test]
    fn a_save_without_room_or_leave_leaves_nothing_beside() {
        let (home, path) = with("old");
        let mut rights = path.metadata().unwrap().permissions();
        rights.set_readonly(true);
        std::fs::set_permissions(&path, rights).unwrap();
        let refused = replace(&path, b"new", Some(&digest(b"old"))).unwrap_err();
        assert_eq!(refused.kind(), ErrorKind::PermissionDenied);
        assert_eq!(
            (text(&path).as_str(), all_in(home.path())),
            ("old", vec!["may.csv".to_owned()])
        );
    }
}
