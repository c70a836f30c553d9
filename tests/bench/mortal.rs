//! A disk under a program that is killed in the middle.

use cardwright::shelf::{Disk, Sharing, SystemDisk};
use std::cell::Cell;
use std::fs::File;
use std::io;
use std::path::{Path, PathBuf};

/// The system's disk, which changes nothing more once the program under it is killed.
#[derive(Debug)]
pub struct MortalDisk {
    /// Changes until then.
    left: Cell<u32>,
}

impl MortalDisk {
    /// Under a program that is killed in the change after so many.
    pub fn with(changes: u32) -> MortalDisk {
        MortalDisk { left: Cell::new(changes) }
    }

    /// Changes something, while the program lives.
    fn change<T>(&self, change: impl FnOnce() -> io::Result<T>) -> io::Result<T> {
        let left = self.left.get().checked_sub(1).ok_or_else(killed)?;
        self.left.set(left);
        change()
    }

    /// Writes, of what is written last only a half.
    fn write(&self, bytes: &[u8], write: impl FnOnce(&[u8]) -> io::Result<()>) -> io::Result<()> {
        match self.left.get() {
            1 => {
                self.left.set(0);
                write(&bytes[..bytes.len() / 2])?;
                Err(killed())
            }
            _ => self.change(|| write(bytes)),
        }
    }
}

fn killed() -> io::Error {
    io::Error::other("killed")
}

impl Disk for MortalDisk {
    type Lock = File;

    fn resolve(&self, path: &Path) -> io::Result<PathBuf> {
        SystemDisk.resolve(path)
    }

    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        SystemDisk.read(path)
    }

    fn lock(&self, path: &Path, share: Sharing) -> io::Result<Option<File>> {
        SystemDisk.lock(path, share)
    }

    fn note(&self, lock: &File) -> io::Result<Vec<u8>> {
        SystemDisk.note(lock)
    }

    fn set_note(&self, lock: &File, note: &[u8]) -> io::Result<()> {
        self.write(note, |note| SystemDisk.set_note(lock, note))
    }

    fn create(&self, path: &Path, bytes: &[u8], like: Option<&Path>) -> io::Result<()> {
        self.write(bytes, |bytes| SystemDisk.create(path, bytes, like))
    }

    fn append(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        self.write(bytes, |bytes| SystemDisk.append(path, bytes))
    }

    fn shorten(&self, path: &Path, length: u64) -> io::Result<()> {
        self.change(|| SystemDisk.shorten(path, length))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.change(|| SystemDisk.rename(from, to))
    }

    fn rename_new(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.change(|| SystemDisk.rename_new(from, to))
    }

    fn exchange(&self, one: &Path, other: &Path) -> io::Result<()> {
        self.change(|| SystemDisk.exchange(one, other))
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.change(|| SystemDisk.remove(path))
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        self.change(|| SystemDisk.sync_folder(folder))
    }
}
