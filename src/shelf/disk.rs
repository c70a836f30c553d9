//! The door through which a shelf's files are read and written, so that tests can fail at every step.

use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind, Read, Seek, Write};
use std::path::{Path, PathBuf};

/// Largest file that is read, in bytes.
const LARGEST: u64 = 256 * 1024 * 1024;

/// Longest note that is read from the file of a lock, in bytes.
const LONGEST_NOTE: u64 = 4096;

/// Whether others may hold the lock as well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sharing {
    /// Readers together.
    Readers,
    /// One writer alone.
    Writer,
}

/// What a shelf asks of a disk. Each step is safe on the disk when it returns, but for names, which
/// are when [`Disk::sync_folder`] has returned.
pub trait Disk {
    /// A lock that is held until it is dropped.
    type Lock;

    /// The place that a path leads to, its links followed.
    fn resolve(&self, path: &Path) -> io::Result<PathBuf>;
    /// What is in a file; `None` where it is not there.
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>>;
    /// Takes the lock of this file; `None` where others hold it. A writer makes the file where it is not there.
    fn lock(&self, path: &Path, share: Sharing) -> io::Result<Option<Self::Lock>>;
    /// What is noted in the file of a lock that is held.
    fn note(&self, lock: &Self::Lock) -> io::Result<Vec<u8>>;
    /// Notes something in the file of a lock that a writer holds, in the place of what was noted before. Cut off,
    /// it leaves the old note, the beginning of the new one, or none; nor is it made safe.
    fn set_note(&self, lock: &Self::Lock, note: &[u8]) -> io::Result<()>;
    /// Writes a new file, with the rights and the owner of the one that it is `like`.
    fn create(&self, path: &Path, bytes: &[u8], like: Option<&Path>) -> io::Result<()>;
    /// Writes at the end of a file, which is made where it is not there.
    fn append(&self, path: &Path, bytes: &[u8]) -> io::Result<()>;
    /// Cuts a file down to its first bytes.
    fn shorten(&self, path: &Path, length: u64) -> io::Result<()>;
    /// Gives a file the name of another, in whose place it comes.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// The same, but for [`ErrorKind::AlreadyExists`] where there is a file of that name.
    fn rename_new(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Exchanges the names of two files in one step; [`ErrorKind::Unsupported`] where the system knows no way.
    fn exchange(&self, one: &Path, other: &Path) -> io::Result<()>;
    /// Takes a file away; one that is not there is no error.
    fn remove(&self, path: &Path) -> io::Result<()>;
    /// Makes the names in a folder safe.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;
}

/// The system's own.
#[derive(Clone, Copy, Debug, Default)]
pub struct SystemDisk;

impl Disk for SystemDisk {
    /// Unlocks when it is closed.
    type Lock = File;

    fn resolve(&self, path: &Path) -> io::Result<PathBuf> {
        match fs::canonicalize(path) {
            Err(error)
                if error.kind() == ErrorKind::NotFound && fs::symlink_metadata(path).is_err() =>
            {
                let name = path.file_name().ok_or(ErrorKind::InvalidInput)?;
                let parent = path.parent().filter(|parent| !parent.as_os_str().is_empty());
                Ok(fs::canonicalize(parent.unwrap_or(Path::new(".")))?.join(name))
            }
            found => found,
        }
    }

    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        // Asked before it is opened: opening a pipe waits for somebody at its other end.
        match fs::metadata(path) {
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
            found => check_kind(&found?)?,
        }
        let file = match File::open(path) {
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
            file => file?,
        };
        let mut bytes = Vec::new();
        file.take(LARGEST + 1).read_to_end(&mut bytes)?;
        match bytes.len() as u64 > LARGEST {
            true => Err(ErrorKind::FileTooLarge.into()),
            false => Ok(Some(bytes)),
        }
    }

    fn lock(&self, path: &Path, share: Sharing) -> io::Result<Option<File>> {
        // Never through a link, and never waiting for the other end of a pipe.
        match fs::symlink_metadata(path) {
            Err(error) if error.kind() == ErrorKind::NotFound => {}
            found => check_plain(&found?)?,
        }
        let file = match share {
            Sharing::Readers => File::open(path)?,
            Sharing::Writer => {
                File::options().read(true).write(true).create(true).truncate(false).open(path)?
            }
        };
        let taken = match share {
            Sharing::Readers => file.try_lock_shared(),
            Sharing::Writer => file.try_lock(),
        };
        match taken {
            Ok(()) => Ok(Some(file)),
            Err(TryLockError::WouldBlock) => Ok(None),
            // Within a page nobody else is there, and nothing to lock with.
            Err(TryLockError::Error(_)) if cfg!(target_family = "wasm") => Ok(Some(file)),
            Err(TryLockError::Error(error)) => Err(error),
        }
    }

    // Through the lock's own handle: on some systems no other one may read or write the file.
    fn note(&self, mut lock: &File) -> io::Result<Vec<u8>> {
        let mut note = Vec::new();
        lock.rewind()?;
        lock.take(LONGEST_NOTE).read_to_end(&mut note)?;
        Ok(note)
    }

    fn set_note(&self, mut lock: &File, note: &[u8]) -> io::Result<()> {
        lock.set_len(0)?;
        lock.rewind()?;
        lock.write_all(note)
    }

    fn create(&self, path: &Path, bytes: &[u8], like: Option<&Path>) -> io::Result<()> {
        let mut file = File::create_new(path)?;
        if let Some(like) = like {
            match fs::metadata(like) {
                Err(error) if error.kind() == ErrorKind::NotFound => {}
                found => be_like(&file, &found?)?,
            }
        }
        file.write_all(bytes)?;
        file.sync_all()
    }

    fn append(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let mut file = File::options().append(true).create(true).open(path)?;
        file.write_all(bytes)?;
        file.sync_all()
    }

    fn shorten(&self, path: &Path, length: u64) -> io::Result<()> {
        let file = File::options().write(true).open(path)?;
        file.set_len(length)?;
        file.sync_all()
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn rename_new(&self, from: &Path, to: &Path) -> io::Result<()> {
        match renamed(from, to, Renaming::New) {
            Err(error) if error.kind() == ErrorKind::Unsupported => {
                match fs::symlink_metadata(to) {
                    Ok(_) => Err(ErrorKind::AlreadyExists.into()),
                    Err(_) => fs::rename(from, to),
                }
            }
            done => done,
        }
    }

    fn exchange(&self, one: &Path, other: &Path) -> io::Result<()> {
        renamed(one, other, Renaming::Exchanged)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        match fs::remove_file(path) {
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(()),
            done => done,
        }
    }

    /// Only Unix has a way to ask for it.
    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        match cfg!(unix) {
            true => File::open(folder)?.sync_all(),
            false => Ok(()),
        }
    }
}

/// Refuses what is no file that has an end.
fn check_kind(found: &fs::Metadata) -> io::Result<()> {
    if found.is_dir() {
        return Err(ErrorKind::IsADirectory.into());
    }
    match found.is_file() {
        true => Ok(()),
        false => {
            Err(io::Error::new(ErrorKind::InvalidInput, "it is a pipe or a device, not a file"))
        }
    }
}

/// Refuses what is no file, but a link to one.
fn check_plain(found: &fs::Metadata) -> io::Result<()> {
    match found.is_symlink() {
        true => Err(io::Error::new(ErrorKind::InvalidInput, "it is a link, not a file")),
        false => check_kind(found),
    }
}

/// How a name changes.
#[derive(Clone, Copy)]
enum Renaming {
    /// Only where nothing has the new name.
    New,
    /// The other file gets the old name.
    Exchanged,
}

/// Changes names as only some systems can, and of their disks not all.
#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
fn renamed(from: &Path, to: &Path, how: Renaming) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    use rustix::io::Errno;
    let flags = match how {
        Renaming::New => RenameFlags::NOREPLACE,
        Renaming::Exchanged => RenameFlags::EXCHANGE,
    };
    match renameat_with(CWD, from, CWD, to, flags) {
        Ok(()) => Ok(()),
        Err(Errno::INVAL | Errno::NOSYS | Errno::NOTSUP) => Err(ErrorKind::Unsupported.into()),
        Err(error) => Err(error.into()),
    }
}

#[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
fn renamed(_: &Path, _: &Path, how: Renaming) -> io::Result<()> {
    match how {
        Renaming::New | Renaming::Exchanged => Err(ErrorKind::Unsupported.into()),
    }
}

/// Gives a file the owner and the rights of another.
fn be_like(file: &File, other: &fs::Metadata) -> io::Result<()> {
    // Within a page files have neither.
    if cfg!(target_family = "wasm") {
        return Ok(());
    }
    if other.permissions().readonly() {
        return Err(io::Error::new(ErrorKind::PermissionDenied, "it is write-protected"));
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, fchown};
        let own = file.metadata()?;
        if (own.uid(), own.gid()) != (other.uid(), other.gid()) {
            fchown(file, Some(other.uid()), Some(other.gid())).map_err(|error| {
                let kept =
                    "its owner and group could not be kept: let them settle, or make it yours";
                io::Error::new(error.kind(), kept)
            })?;
        }
    }
    file.set_permissions(other.permissions())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_made_once_read_longer_and_shorter() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("a");
        let disk = SystemDisk;
        assert_eq!(disk.read(&path).unwrap(), None);
        disk.create(&path, b"one", None).unwrap();
        assert!(disk.create(&path, b"two", None).is_err());
        disk.append(&path, b", two").unwrap();
        assert_eq!(disk.read(&path).unwrap().as_deref(), Some(b"one, two".as_slice()));
        disk.shorten(&path, 3).unwrap();
        let other = home.path().join("b");
        disk.rename(&path, &other).unwrap();
        disk.sync_folder(home.path()).unwrap();
        assert_eq!(disk.read(&other).unwrap().as_deref(), Some(b"one".as_slice()));
        disk.remove(&other).unwrap();
        disk.remove(&other).unwrap();
        assert!(disk.read(home.path()).is_err());
    }

    #[cfg(unix)]
    #[test]
    fn rights_are_those_of_the_file_it_is_like() {
        use std::os::unix::fs::PermissionsExt;
        let home = tempfile::tempdir().unwrap();
        let [old, new] = ["old", "new"].map(|name| home.path().join(name));
        SystemDisk.create(&old, b"", None).unwrap();
        fs::set_permissions(&old, fs::Permissions::from_mode(0o640)).unwrap();
        SystemDisk.create(&new, b"", Some(&old)).unwrap();
        assert_eq!(fs::metadata(&new).unwrap().permissions().mode() & 0o777, 0o640);
    }

    #[cfg(unix)]
    #[test]
    fn links_are_followed_and_what_is_not_there_lies_in_its_folder() {
        let home = tempfile::tempdir().unwrap();
        let real = home.path().join("real");
        let link = home.path().join("link");
        std::os::unix::fs::symlink(&real, &link).unwrap();
        assert!(SystemDisk.resolve(&link).is_err(), "a link that leads nowhere");
        SystemDisk.create(&real, b"", None).unwrap();
        let resolved = SystemDisk.resolve(&link).unwrap();
        assert_eq!(resolved, SystemDisk.resolve(&real).unwrap());
        let none = SystemDisk.resolve(&home.path().join("none")).unwrap();
        assert_eq!(none.file_name(), Some("none".as_ref()));
    }

    #[test]
    fn a_writer_waits_for_a_reader() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("lock");
        let lock = |share| SystemDisk.lock(&path, share);
        assert!(lock(Sharing::Readers).is_err(), "there is none yet");
        drop(lock(Sharing::Writer).unwrap().unwrap());
        let one = lock(Sharing::Readers).unwrap().unwrap();
        let two = lock(Sharing::Readers).unwrap().unwrap();
        assert!(lock(Sharing::Writer).unwrap().is_none());
        drop((one, two));
        assert!(lock(Sharing::Writer).unwrap().is_some());
    }

    #[test]
    fn a_lock_holds_a_note() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("lock");
        let lock = SystemDisk.lock(&path, Sharing::Writer).unwrap().unwrap();
        assert_eq!(SystemDisk.note(&lock).unwrap(), b"");
        for note in [b"twelve".as_slice(), b"9"] {
            SystemDisk.set_note(&lock, note).unwrap();
            assert_eq!(SystemDisk.note(&lock).unwrap(), note);
        }
        drop(lock);
        let lock = SystemDisk.lock(&path, Sharing::Readers).unwrap().unwrap();
        assert_eq!(SystemDisk.note(&lock).unwrap(), b"9");
    }

    #[test]
    fn names_are_exchanged_or_given_anew() {
        let home = tempfile::tempdir().unwrap();
        let [one, other, third] = ["one", "other", "third"].map(|name| home.path().join(name));
        SystemDisk.create(&one, b"1", None).unwrap();
        SystemDisk.create(&other, b"2", None).unwrap();
        let text = |path: &Path| SystemDisk.read(path).unwrap();
        match SystemDisk.exchange(&one, &other) {
            Err(error) if error.kind() == ErrorKind::Unsupported => {
                println!("skipped: names cannot be exchanged here");
            }
            done => {
                done.unwrap();
                assert_eq!((text(&one), text(&other)), (Some(b"2".into()), Some(b"1".into())));
                SystemDisk.exchange(&one, &other).unwrap();
            }
        }
        let taken = SystemDisk.rename_new(&one, &other).unwrap_err();
        assert_eq!(taken.kind(), ErrorKind::AlreadyExists);
        SystemDisk.rename_new(&one, &third).unwrap();
        assert_eq!((text(&one), text(&third)), (None, Some(b"1".into())));
    }

    /// What a link leads to is not the program's to write in, and a pipe would wait for its other end.
    #[cfg(unix)]
    #[test]
    fn a_lock_is_a_file() {
        let home = tempfile::tempdir().unwrap();
        let [diary, link, folder, pipe] =
            ["diary", "link", "folder", "pipe"].map(|name| home.path().join(name));
        SystemDisk.create(&diary, b"dear diary", None).unwrap();
        std::os::unix::fs::symlink(&diary, &link).unwrap();
        fs::create_dir(&folder).unwrap();
        let mut others = vec![link, folder];
        let made = std::process::Command::new("mkfifo").arg(&pipe).status();
        others.extend(made.is_ok_and(|made| made.success()).then_some(pipe));
        for path in others {
            for share in [Sharing::Readers, Sharing::Writer] {
                assert!(SystemDisk.lock(&path, share).is_err(), "{path:?} {share:?}");
            }
        }
        assert_eq!(fs::read(&diary).unwrap(), b"dear diary");
    }

    /// Opened, a pipe would wait for its other end; this waits for nothing.
    #[cfg(unix)]
    #[test]
    fn what_is_no_file_is_not_read() {
        let home = tempfile::tempdir().unwrap();
        let pipe = home.path().join("pipe");
        let made = std::process::Command::new("mkfifo").arg(&pipe).status();
        if made.is_ok_and(|made| made.success()) {
            assert_eq!(SystemDisk.read(&pipe).unwrap_err().kind(), ErrorKind::InvalidInput);
        }
        let zeros = SystemDisk.read(Path::new("/dev/zero"));
        assert_eq!(zeros.unwrap_err().kind(), ErrorKind::InvalidInput);
    }
}
