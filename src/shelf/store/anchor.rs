//! Where the journal ends, noted in the file of its lock.
//!
//! Each line of the journal tells of a change in the line before it, but the last lines can go without a trace. So a
//! writer notes how many there are and the digest of the last one, once they are safe. The note may therefore be behind
//! the journal, of a writer that was cut off, or not be there, in a copy without hidden files or from before there were
//! notes; then it says nothing, and `shelf history` says that the end is not proven. It is never ahead of the journal,
//! unless somebody put an older journal in its place or took lines off.
//!
//! A journal that is gone while its note is there stops every change. A last line without an end is taken off only
//! where it is the beginning of the next entry; anything else is reported and left as it is. A journal that does not
//! reach its note is reported (`shelf-cut`). If the files are those of its last entry, as when an older copy of both
//! was put back, all goes on from there; if not, nothing but `shelf rebuild` is done. Whoever forges the journal can
//! forge the note: it finds accidents.

use super::super::disk::Disk;
use super::super::event::digest;
use super::super::journal::{FROM_A_COPY, Journal};
use super::{Shelf, Spot, StoreError};
use crate::diagnostics::Problem;

/// The end of a journal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Anchor {
    entries: u64,
    last: String,
}

impl Anchor {
    /// Reads a note; `None` where it is none, or not all of it is there.
    pub(super) fn read(note: &[u8]) -> Option<Anchor> {
        let text = std::str::from_utf8(note).ok()?.strip_suffix('\n')?;
        let (entries, last) = text.split_once(' ')?;
        let is_digest = last.len() == 64 && last.bytes().all(|byte| byte.is_ascii_hexdigit());
        Some(Anchor { entries: entries.parse().ok()?, last: last.to_owned() }).filter(|_| is_digest)
    }

    fn of(journal: &Journal) -> Option<Anchor> {
        let entries = journal.entries().len() as u64;
        let last = journal.digest_of(entries)?.to_owned();
        Some(Anchor { entries, last })
    }

    fn note(&self) -> Vec<u8> {
        format!("{} {}\n", self.entries, self.last).into_bytes()
    }

    /// What is wrong with a journal that should reach this end.
    fn fault(&self, journal: &Journal, name: &str) -> Option<String> {
        let found = journal.entries().len() as u64;
        let Anchor { entries, last } = self;
        if journal.digest_of(*entries) == Some(last.as_str()) {
            None
        } else if found == 0 {
            Some(format!("{name} is gone or empty, but {entries} entries were written"))
        } else if found < *entries {
            Some(format!("{name} ends with entry {found}, but {entries} were written"))
        } else {
            Some(format!("{name} is not the journal last written here"))
        }
    }
}

/// What is known of a journal's end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The last entries that were noted are there.
    Whole,
    /// Entries that were noted are not there.
    Cut,
    /// Nothing was noted.
    Unknown,
}

/// The end of the journal that the lock notes, where it notes one.
pub(super) fn noted<D: Disk>(disk: &D, lock: Option<&D::Lock>) -> Option<Anchor> {
    Anchor::read(&disk.note(lock?).ok()?)
}

/// Warns where the journal does not reach the end that was noted.
pub(super) fn warning(anchor: &Anchor, journal: &Journal, spot: &Spot) -> Option<Problem> {
    let title = anchor.fault(journal, &spot.journal_shown())?;
    let problem = Problem::warning("shelf-cut", title).help(FROM_A_COPY);
    Some(match journal.entries().is_empty() {
        true => problem.help("until then, what was settled or set aside is not known"),
        false => problem.help(
            "if you restored an older copy on purpose, carry on: the next change is added to it",
        ),
    })
}

/// Whether it is a note, or a part of one. All else somebody else has written, and it stays.
fn may_be_ours(note: &[u8]) -> bool {
    const LONGEST: usize = 20 + 1 + 64 + 1;
    let of_ours = |byte: &u8| byte.is_ascii_hexdigit() || matches!(*byte, b' ' | b'\n' | 0);
    note.len() <= LONGEST && note.iter().all(of_ours)
}

impl<D: Disk> Shelf<D> {
    /// Holds the journal against the end that was noted. `true` where the files are not those of its last entry, either:
    /// then nobody knows what it lacks.
    pub(super) fn check_end(&mut self) -> Result<bool, StoreError> {
        let Some(anchor) = noted(&self.disk, self.locks.own.as_ref()) else { return Ok(false) };
        let Some(warning) = warning(&anchor, &self.journal, &self.spot) else { return Ok(false) };
        let now = self.bytes.each().map(|bytes| bytes.as_ref().map(|bytes| digest(bytes)));
        let fits = self.journal.pending().is_none() && self.journal.after() == Some(&now);
        if fits {
            self.told.push(warning);
            return Ok(false);
        }
        let lost = Problem::error("shelf-cut", warning.title).help(FROM_A_COPY);
        self.unfinished = Some(match self.journal.entries().is_empty() {
            true => lost.help(format!(
                "or remove {}: a new one starts from the files as they are, and what was settled before is forgotten \
                 and cannot be undone",
                self.spot.lock_shown()
            )),
            false => lost.help(format!(
                "or carry on from the entries left with `{}`, which keeps what is in the files now in the journal",
                self.spot.command("rebuild")
            )),
        });
        Ok(true)
    }

    /// Notes where the journal ends. What cannot be noted is only less known.
    pub(super) fn note_end(&self) {
        if let (Some(anchor), Some(lock)) = (Anchor::of(&self.journal), &self.locks.own)
            && self.disk.note(lock).is_ok_and(|note| may_be_ours(&note))
        {
            let _ = self.disk.set_note(lock, &anchor.note());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_note_is_read_whole_or_not_at_all() {
        let anchor = Anchor { entries: 12, last: digest(b"line") };
        let note = anchor.note();
        assert_eq!(Anchor::read(&note), Some(anchor));
        for end in 0..note.len() {
            assert_eq!(Anchor::read(&note[..end]), None, "{end}");
        }
        assert!((0..note.len()).all(|end| may_be_ours(&note[..end])));
        assert!(!may_be_ours(b"dear diary"));
        for other in ["12 abc\n", "x\n", "-1 \n", " \n"] {
            assert_eq!(Anchor::read(other.as_bytes()), None, "{other}");
        }
    }
}
