//! Whose a file is: of one shelf, whichever folder it lies in.
//!
//! A shelf owns the files that its journal names. The journal lies beside the sheets, so a drawer that lies there, too,
//! tells whose it is. Beside a drawer that lies elsewhere, a mark leads to the sheets of its shelf:
//! `.offcuts.csv.shelf`, which holds the way there. It is written when the shelf is changed for the first time, under
//! the lock of the drawer's folder, which such a shelf holds as well as its own, always in the order of their paths. So
//! the first of two shelves gets the drawer, also of two older ones whose journals both name it.
//!
//! A mark alone counts for nothing: the journal that it leads to has to name the file. So a drawer that was copied is
//! nobody's, and one whose shelf is gone or has begun anew with another drawer is free; while folders that are moved or
//! copied together stay a shelf, since the way between them is the same. A hard link is a copy: the first change parts
//! it from the other name.

use super::super::disk::Disk;
use super::super::journal::Journal;
use super::error::OnFile;
use super::{JOURNAL, Shelf, Spot, StoreError, folder};
use crate::diagnostics::Problem;
use std::path::{Component, Path, PathBuf};

/// What the name of a mark ends with.
pub(super) const MARK: &str = ".shelf";

fn mark(file: &Path) -> PathBuf {
    let name = file.file_name().unwrap_or_default().to_string_lossy();
    file.with_file_name(format!(".{name}{MARK}"))
}

/// The way from a folder to a file, links followed in both; whole where they have nothing in common.
pub(super) fn way(from: &Path, to: &Path) -> PathBuf {
    let both = from.components().zip(to.components());
    let same = both.take_while(|(one, other)| one == other);
    let same: Vec<Component<'_>> = same.map(|(one, _)| one).collect();
    if !same.iter().any(|it| matches!(it, Component::Normal(_))) && !from.as_os_str().is_empty() {
        return to.to_owned();
    }
    let up = from.components().skip(same.len()).map(|_| Component::ParentDir);
    up.chain(to.components().skip(same.len())).collect()
}

/// Refuses files that are another shelf's.
pub(super) fn check_owner<D: Disk>(
    disk: &D,
    spot: &Spot,
    journal: &Journal,
) -> Result<(), StoreError> {
    let home = folder(&spot.files.sheets);
    for (file, shown) in spot.files.each().with(spot.shown.each()).array() {
        // Here, the shelf's own journal speaks.
        if folder(file) == home && journal.names().is_some() {
            continue;
        }
        if let Some(sheets) = other_owner(disk, spot, file)? {
            return Err(StoreError::Problem(Box::new(owned(shown, &sheets))));
        }
    }
    Ok(())
}

/// The sheets of another shelf that a file belongs to.
fn other_owner<D: Disk>(disk: &D, spot: &Spot, file: &Path) -> Result<Option<PathBuf>, StoreError> {
    let home = folder(file);
    if home != folder(&spot.files.sheets)
        && let Some(sheets) = keeper(disk, home, file)?
    {
        return Ok(Some(sheets));
    }
    let mark = mark(file);
    let Some(text) = disk.read(&mark).tried("read", &mark)? else { return Ok(None) };
    let text = String::from_utf8_lossy(&text);
    match disk.resolve(&home.join(text.trim_end())) {
        Ok(sheets) if sheets != spot.files.sheets => {
            Ok(keeper(disk, folder(&sheets), file)?.filter(|kept| *kept == sheets))
        }
        _ => Ok(None),
    }
}

/// The sheets of the shelf in a folder, where its journal names a file.
fn keeper<D: Disk>(disk: &D, home: &Path, file: &Path) -> Result<Option<PathBuf>, StoreError> {
    let path = home.join(JOURNAL);
    let Some(bytes) = disk.read(&path).tried("read", &path)? else { return Ok(None) };
    let journal =
        Journal::read(&path.display().to_string(), &bytes).map_err(StoreError::Problem)?;
    let Some(names) = journal.names() else { return Ok(None) };
    let places = names.each().map(|name| disk.resolve(&home.join(name)).ok());
    let is_named = places.each().array().contains(&&Some(file.to_owned()));
    Ok(is_named.then(|| places.sheets.unwrap_or_else(|| home.join(&names.sheets))))
}

fn owned(shown: &str, sheets: &Path) -> Problem {
    let journal = sheets.with_file_name(JOURNAL);
    let sheets = sheets.display();
    Problem::error("shelf-drawer", format!("{shown} belongs to another shelf"))
        .help(format!(
            "it belongs to {sheets}; two shelves would overwrite each other's changes"
        ))
        .help("name those sheets with --sheets, or another file of its kind")
        .help(format!(
            "if that shelf is no longer used, move {} away; nothing settled there can be undone then",
            journal.display()
        ))
}

impl<D: Disk> Shelf<D> {
    /// Marks the files that lie in other folders as this shelf's. Gives the marks that are new.
    pub(super) fn claim(&self) -> Result<Vec<PathBuf>, StoreError> {
        let sheets = &self.spot.files.sheets;
        let mut new = Vec::new();
        for file in self.spot.files.each().array() {
            let home = folder(file);
            if home == folder(sheets) {
                continue;
            }
            let (mark, text) = (mark(file), format!("{}\n", way(home, sheets).display()));
            let old = self.disk.read(&mark).tried("read", &mark)?;
            if old.as_deref() != Some(text.as_bytes()) {
                self.disk.remove(&mark).tried("replace", &mark)?;
                new.push(mark.clone());
                let written = self.disk.create(&mark, text.as_bytes(), None).tried("write", &mark);
                let safe = written.and_then(|()| self.disk.sync_folder(home).tried("write", &mark));
                if let Err(error) = safe {
                    self.release(&new);
                    return Err(error);
                }
            }
        }
        Ok(new)
    }

    /// Takes new marks away, where nothing came of the change.
    pub(super) fn release(&self, marks: &[PathBuf]) {
        for mark in marks {
            let _ = self.disk.remove(mark);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_way_leads_from_a_folder_to_a_file() {
        for (from, to, expected) in [
            ("/shop/may", "/shop/drawer/a.csv", "../drawer/a.csv"),
            ("/shop/may", "/shop/a.csv", "../a.csv"),
            ("/shop/may", "/shop/may/a.csv", "a.csv"),
            ("/shop/may", "/shop/may/in/a.csv", "in/a.csv"),
            ("/shop/may", "/mnt/a.csv", "/mnt/a.csv"),
            ("", "a.csv", "a.csv"),
        ] {
            assert_eq!(way(Path::new(from), Path::new(to)), Path::new(expected), "{from} to {to}");
        }
    }
}
