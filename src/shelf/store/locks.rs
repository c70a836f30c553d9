//! The locks of a shelf: beside its sheets, and beside its drawer where that lies in another folder.

use super::super::disk::{Disk, Sharing};
use super::error::OnFile;
use super::{Spot, StoreError};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Asked each time that a lock is not free, with its file and how often it was tried: whether to try again.
/// It takes its time to answer.
pub type Waiting<'a> = dyn FnMut(&Path, u32) -> bool + 'a;

/// Locks that are held until they are dropped.
#[derive(Debug)]
pub struct Locks<L> {
    /// That beside the sheets.
    pub(super) own: Option<L>,
    /// That beside the drawer, where it lies elsewhere.
    _other: Option<L>,
    /// Those that are not there: nobody has written there yet.
    pub missing: Vec<PathBuf>,
}

impl<L> Locks<L> {
    /// Waits for all locks of a shelf.
    pub fn take<D: Disk<Lock = L>>(
        disk: &D,
        spot: &Spot,
        share: Sharing,
        waiting: &mut Waiting<'_>,
    ) -> Result<Locks<L>, StoreError> {
        let mut locks = Locks { own: None, _other: None, missing: Vec::new() };
        for path in spot.locks() {
            match free(disk, &path, share, waiting)? {
                None => locks.missing.push(path),
                lock if path == spot.lock => locks.own = lock,
                lock => locks._other = lock,
            }
        }
        Ok(locks)
    }
}

/// The lock of one file, as soon as it is free; `None` where a reader finds no such file.
fn free<D: Disk>(
    disk: &D,
    path: &Path,
    share: Sharing,
    waiting: &mut Waiting<'_>,
) -> Result<Option<D::Lock>, StoreError> {
    let mut tries = 0;
    loop {
        match disk.lock(path, share) {
            Ok(Some(lock)) => return Ok(Some(lock)),
            Err(error) if share == Sharing::Readers && error.kind() == ErrorKind::NotFound => {
                return Ok(None);
            }
            Err(error) => return Err(error).tried("lock", path),
            Ok(None) => tries += 1,
        }
        if !waiting(path, tries) {
            return Err(StoreError::Stopped(path.to_owned()));
        }
    }
}
