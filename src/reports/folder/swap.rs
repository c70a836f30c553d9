//! Names that change their places, so that at no moment one is missing or covers another.

use std::fs::{self, Metadata};
use std::io::{self, ErrorKind};
use std::path::Path;

/// What is there, links not followed.
pub fn found(path: &Path) -> io::Result<Option<Metadata>> {
    match fs::symlink_metadata(path) {
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        found => found.map(Some),
    }
}

/// The number that tells a file or folder from all others of its disk, where the system has one.
pub fn number(found: &Metadata) -> Option<u64> {
    #[cfg(unix)]
    {
        Some(std::os::unix::fs::MetadataExt::ino(found))
    }
    #[cfg(not(unix))]
    {
        let _ = found;
        None
    }
}

/// Whether two names are of one file or folder; never where the system does not say.
pub fn is_same(one: &Metadata, other: &Metadata) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        (one.dev(), one.ino()) == (other.dev(), other.ino())
    }
    #[cfg(not(unix))]
    {
        let _ = (one, other);
        false
    }
}

/// Exchanges two names in one step.
///
/// # Errors
/// The system cannot, which [`is_unknown`] tells, or refuses.
pub fn exchange(one: &Path, other: &Path) -> io::Result<()> {
    #[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        Ok(renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE)?)
    }
    #[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
    {
        let _ = (one, other);
        Err(ErrorKind::Unsupported.into())
    }
}

/// Gives something another name, which must be free.
///
/// # Errors
/// The name is taken, or the system refuses.
pub fn give_name(from: &Path, to: &Path) -> io::Result<()> {
    #[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        match renameat_with(CWD, from, CWD, to, RenameFlags::NOREPLACE).map_err(io::Error::from) {
            Err(error) if is_unknown(&error) => {}
            done => return done,
        }
    }
    match found(to)? {
        Some(_) => Err(ErrorKind::AlreadyExists.into()),
        None => fs::rename(from, to),
    }
}

/// Whether the system does not know what it was asked for, on this disk.
#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
pub fn is_unknown(error: &io::Error) -> bool {
    matches!(error.kind(), ErrorKind::Unsupported | ErrorKind::InvalidInput)
}

/// Whether names can be exchanged in this folder, which is the program's own.
pub fn can_exchange(room: &Path) -> io::Result<bool> {
    let pair = ["one", "other"].map(|name| room.join(name));
    for path in &pair {
        match fs::create_dir(path) {
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
            made => made?,
        }
    }
    let can = exchange(&pair[0], &pair[1]).is_ok();
    for path in &pair {
        fs::remove_dir(path)?;
    }
    Ok(can)
}

/// Makes the names in a folder safe on the disk; only Unix has a way to ask for it.
pub fn sync_folder(path: &Path) -> io::Result<()> {
    match cfg!(unix) {
        true => fs::File::open(path)?.sync_all(),
        false => Ok(()),
    }
}
