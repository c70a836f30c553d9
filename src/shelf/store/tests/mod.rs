//! A shelf that is cut off at every step.
//!
//! The disk in memory loses its power at every step, keeps any part of what was not safe yet, loses it again while that
//! is mended, and refuses a step. In `saved.rs` another program saves a file between any two calls, also with a loss of
//! power after it.

mod end;
mod memory;
mod saved;
mod two;

use super::super::event::Shift;
use super::*;
use crate::stock::USUAL_NAMES;
use memory::{Memory, Mishap};

const ON: &str = "2031-05-09";
/// Different losses tried at each step.
const SEEDS: u64 = 12;

fn texts(sheets: &str, offcuts: Option<&str>) -> Texts {
    let (sheets, offcuts) = (Some(sheets.to_owned()), offcuts.map(str::to_owned));
    Texts { sheets, offcuts, ..Texts::default() }
}

fn spot(disk: &Memory) -> Spot {
    let files = USUAL_NAMES.map(Path::new);
    Spot::of(disk, files).unwrap()
}

fn open(disk: &Memory) -> Result<Shelf<Memory>, StoreError> {
    Shelf::open(disk.clone(), spot(disk))
}

fn looked(disk: &Memory) -> View<PathBuf> {
    look(disk, &spot(disk), &mut |_, _| false).unwrap()
}

/// Changes the files to these texts, as rebuilding would.
fn change(disk: &Memory, new: &Texts) -> Result<(), StoreError> {
    rebuild(&mut open(disk)?, new)
}

fn rebuild(shelf: &mut Shelf<Memory>, new: &Texts) -> Result<(), StoreError> {
    let now = shelf.texts()?;
    let mut events = shelf.catching_up(&now)?;
    let entry = (shelf.journal.entries().len() + events.len()) as u64;
    events.push(Event::Rebuilt { entry, shift: Shift::between(&now, new) });
    shelf.commit(ON, events, Some(new))
}

/// The files as a person finds them.
fn found(disk: &Memory) -> Texts {
    let text = |name: &str| {
        let bytes = disk.read(Path::new(name)).unwrap();
        bytes.map(|bytes| String::from_utf8(bytes).unwrap())
    };
    USUAL_NAMES.map(text)
}

/// Two files of before and of after: a drawer that comes, changes, goes, and stays as it is.
fn cases() -> Vec<(Texts, Texts)> {
    vec![
        (texts("a,1\n", None), texts("a,2\n", Some("x,1\n"))),
        (texts("a,1\n", Some("x,1\n")), texts("a,2\n", Some("x,1\ny,2\n"))),
        (texts("a,1\n", Some("x,1\n")), texts("a,2\n", None)),
        (texts("a,1\n", Some("x,1\n")), texts("a,1\n", Some("x,2\n"))),
    ]
}

fn disk_of(texts: &Texts) -> Memory {
    let mut files = vec![("sheets.csv", texts.sheets.as_deref().unwrap())];
    files.extend(texts.offcuts.as_deref().map(|text| ("offcuts.csv", text)));
    Memory::with(&files)
}

/// A disk on which something was settled before: the journal is there already.
fn used_disk_of(before: &Texts) -> Memory {
    let disk = disk_of(&texts("a,0\n", Some("x,0\n")));
    change(&disk, before).unwrap();
    disk
}

/// After a mishap: opened again, the shelf is the old one or the new one, and the journal knows which.
#[track_caller]
fn is_whole(disk: &Memory, before: &Texts, after: &Texts, told: &str) -> bool {
    let shelf = open(disk).unwrap();
    assert_eq!(shelf.unfinished, None, "{told}");
    let now = found(disk);
    assert!(now == *before || now == *after, "{told}: {now:?}");
    assert_eq!(shelf.journal.pending(), None, "{told}");
    if !shelf.journal.entries().is_empty() {
        assert_eq!(shelf.journal.texts().as_ref(), Some(&now), "{told}");
    }
    // And nothing is left lying about.
    let files = disk.listing();
    assert!(files.iter().all(|name| !name.ends_with(".new")), "{told}: {files:?}");
    // A reader sees the same, and the next change works.
    assert!(looked(disk).told.is_empty(), "{told}");
    let next = texts("a,9\n", Some("z,9\n"));
    change(disk, &next).unwrap();
    assert_eq!(found(disk), next, "{told}");
    now == *after
}

#[test]
fn a_change_is_written_and_can_be_read() {
    for (before, after) in cases() {
        for disk in [disk_of(&before), used_disk_of(&before)] {
            change(&disk, &after).unwrap();
            assert_eq!(found(&disk), after);
            assert!(is_whole(&disk, &before, &after, "no mishap"));
        }
    }
}

/// All steps of a change.
fn steps(disk: &Memory, after: &Texts) -> usize {
    let whole = disk.failing(usize::MAX, Mishap::PowerLoss);
    change(&whole, after).unwrap();
    whole.steps()
}

#[test]
fn a_loss_of_power_at_any_step_leaves_the_old_or_the_new() {
    let (mut old, mut new) = (0, 0);
    for (before, after) in cases() {
        for disk in [disk_of(&before), used_disk_of(&before)] {
            for step in 1..=steps(&disk, &after) {
                for seed in 0..SEEDS {
                    let failing = disk.failing(step, Mishap::PowerLoss);
                    // The last steps only note and clear up: without them, it is done as well.
                    let done = change(&failing, &after).is_ok();
                    let told = format!("{before:?} to {after:?}, step {step}, seed {seed}");
                    match is_whole(&failing.after_power_loss(seed), &before, &after, &told) {
                        true => new += 1,
                        false => {
                            assert!(!done, "{told}");
                            old += 1;
                        }
                    }
                }
            }
        }
    }
    // Both happen, or the test tries nothing.
    assert!(old > 100 && new > 100, "{old} old, {new} new");
}

/// The power goes once more while what was cut off is brought to an end.
#[test]
fn a_loss_of_power_while_mending_does_no_harm() {
    let (before, after) = cases().swap_remove(1);
    let disk = used_disk_of(&before);
    for step in 1..=steps(&disk, &after) {
        for seed in 0..SEEDS {
            let failing = disk.failing(step, Mishap::PowerLoss);
            let _ = change(&failing, &after);
            let halted = failing.after_power_loss(seed);
            for again in 1.. {
                let mending = halted.failing(again, Mishap::PowerLoss);
                if open(&mending).is_ok() && mending.steps() < again {
                    break;
                }
                let told = format!("steps {step} and {again}, seed {seed}");
                is_whole(&mending.after_power_loss(!seed), &before, &after, &told);
            }
        }
    }
}

/// A full disk, or a right that is taken away: told, and nothing lost.
#[test]
fn a_step_that_is_refused_is_told_and_loses_nothing() {
    for (before, after) in cases() {
        for disk in [disk_of(&before), used_disk_of(&before)] {
            for step in 1..=steps(&disk, &after) {
                let failing = disk.failing(step, Mishap::Refusal);
                let told = format!("{before:?} to {after:?}, step {step}");
                let entries = open(&disk).unwrap().journal.entries().len();
                match change(&failing, &after) {
                    // What lies beside the files could not be taken away: it is, the next time.
                    Ok(()) => assert!(is_whole(&failing, &after, &after, &told)),
                    Err(StoreError::Unfinished(_)) => {
                        assert!(is_whole(&failing, &before, &after, &told), "{told}");
                    }
                    Err(_) => {
                        assert_eq!(found(&failing), before, "{told}");
                        let lying = failing.listing();
                        assert!(lying.iter().all(|name| !name.ends_with(".new")), "{told}");
                        let journal = open(&failing).unwrap().journal;
                        assert_eq!(journal.entries().len(), entries, "{told}");
                        assert!(!is_whole(&failing, &before, &after, &told), "{told}");
                    }
                }
            }
        }
    }
}

#[test]
fn what_was_cut_off_is_told() {
    let (before, after) = cases().swap_remove(1);
    let disk = used_disk_of(&before);
    let mut said = std::collections::BTreeSet::new();
    for step in 1..=steps(&disk, &after) {
        let failing = disk.failing(step, Mishap::PowerLoss);
        let _ = change(&failing, &after);
        for seed in 0..SEEDS {
            let shelf = open(&failing.after_power_loss(seed)).unwrap();
            said.extend(shelf.told.iter().map(|problem| problem.title.clone()));
        }
    }
    let said: Vec<&str> = said.iter().map(String::as_str).collect();
    assert_eq!(
        said,
        [
            "a change to the shelf was interrupted before it counted",
            "rebuilding the shelf (entry 4) was interrupted"
        ]
    );
}

/// The power goes after the entry counts, and the person edits a file before the next command.
#[test]
fn an_edit_after_a_cut_is_not_written_over() {
    let (before, after) = cases().swap_remove(1);
    let disk = used_disk_of(&before);
    let mut tried = 0;
    for step in 1..=steps(&disk, &after) {
        let failing = disk.failing(step, Mishap::PowerLoss);
        let _ = change(&failing, &after);
        let disk = failing.after_power_loss(u64::MAX);
        let journal = read_journal(&disk, &spot(&disk)).unwrap();
        if journal.pending().is_none() {
            continue;
        }
        disk.remove(Path::new("offcuts.csv")).unwrap();
        disk.create(Path::new("offcuts.csv"), b"by hand\n", None).unwrap();
        let shelf = open(&disk).unwrap();
        assert_eq!(shelf.unfinished.as_ref().map(|problem| problem.code), Some("shelf-unfinished"));
        assert_eq!(found(&disk).offcuts.as_deref(), Some("by hand\n"));
        tried += 1;
    }
    assert!(tried > 2, "{tried}");
}

#[test]
fn another_pair_of_files_is_another_shelf() {
    let disk = used_disk_of(&texts("a,1\n", None));
    let files = PerFile { offcuts: "drawer.csv", ..USUAL_NAMES }.map(Path::new);
    let other = Spot::of(&disk, files).unwrap();
    let error = Shelf::open(disk, other).unwrap_err();
    assert!(matches!(error, StoreError::Problem(problem) if problem.code == "shelf-journal"));
}

#[test]
fn what_a_person_edits_becomes_an_entry() {
    let disk = used_disk_of(&texts("a,1\n", Some("x,1\n")));
    disk.append(Path::new("sheets.csv"), b"b,5\n").unwrap();
    let edited = found(&disk);
    change(&disk, &texts("a,7\n", None)).unwrap();
    let journal = open(&disk).unwrap().journal;
    let edits = journal.entries().iter().filter(|it| matches!(it.event, Event::Edited(_)));
    let edits: Vec<u64> = edits.map(|entry| entry.number).collect();
    assert_eq!(edits.len(), 1);
    assert_eq!(journal.texts_after(edits[0]), Some(edited));
}
