//! The door through which a shelf's files are read and written, so that tests can fail at every step.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};

/// Largest file that is read, in bytes.
const LARGEST: u64 = 256 * 1024 * 1024;

/// Whether others may hold the lock as well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Share {
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
    /// Waits for the lock of this file; a writer makes the file where it is not there.
    fn lock(&self, path: &Path, share: Share) -> io::Result<Self::Lock>;
    /// Writes a new file, with the rights and the owner of the one that it is `like`.
    fn create(&self, path: &Path, bytes: &[u8], like: Option<&Path>) -> io::Result<()>;
    /// Writes at the end of a file, which is made where it is not there.
    fn append(&self, path: &Path, bytes: &[u8]) -> io::Result<()>;
    /// Cuts a file down to its first bytes.
    fn shorten(&self, path: &Path, length: u64) -> io::Result<()>;
    /// Gives a file the name of another, in whose place it comes.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
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
        let file = match File::open(path) {
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
            file => file?,
        };
        if file.metadata()?.is_dir() {
            return Err(ErrorKind::IsADirectory.into());
        }
        let mut bytes = Vec::new();
        file.take(LARGEST + 1).read_to_end(&mut bytes)?;
        match bytes.len() as u64 > LARGEST {
            true => Err(ErrorKind::FileTooLarge.into()),
            false => Ok(Some(bytes)),
        }
    }

    fn lock(&self, path: &Path, share: Share) -> io::Result<File> {
        let file = match share {
            Share::Readers => File::open(path)?,
            Share::Writer => {
                File::options().read(true).write(true).create(true).truncate(false).open(path)?
            }
        };
        match share {
            Share::Readers => file.lock_shared()?,
            Share::Writer => file.lock()?,
        }
        Ok(file)
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

/// Gives a file the owner and the rights of another.
fn be_like(file: &File, other: &fs::Metadata) -> io::Result<()> {
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
        assert!(SystemDisk.lock(&path, Share::Readers).is_err(), "there is none yet");
        drop(SystemDisk.lock(&path, Share::Writer).unwrap());
        let one = SystemDisk.lock(&path, Share::Readers).unwrap();
        let two = SystemDisk.lock(&path, Share::Readers).unwrap();
        assert!(File::open(&path).unwrap().try_lock().is_err());
        drop((one, two));
        assert!(File::open(&path).unwrap().try_lock().is_ok());
    }
}
