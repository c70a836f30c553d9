//! Another program saves a file while the shelf is changed, at every moment that there is.

use super::memory::Save;
use super::*;

const EDIT: &str = "by hand,7\n";
const FILES: [&str; 2] = ["sheets.csv", "offcuts.csv"];

/// What another program may do: into which file, and how.
fn saves() -> Vec<Save> {
    let save = |file, into| Save { moment: 0, file, text: EDIT, into };
    FILES.into_iter().flat_map(|file| [save(file, false), save(file, true)]).collect()
}

fn of<'a>(texts: &'a Texts, file: &str) -> Option<&'a str> {
    match file == FILES[0] {
        true => texts.sheets.as_deref(),
        false => texts.offcuts.as_deref(),
    }
}

/// Moments of a change on which nothing is saved.
fn moments(disk: &Memory, after: &Texts) -> usize {
    let save = Save { moment: usize::MAX, file: "none", text: "", into: false };
    let whole = disk.saving(save);
    change(&whole, after).unwrap();
    whole.moments()
}

/// Whether the edit is in its file or can be taken from the journal.
fn is_kept(disk: &Memory, file: &str) -> bool {
    let journal = read_journal(disk, &spot(disk)).unwrap();
    let mut states = journal.states().flatten();
    of(&found(disk), file) == Some(EDIT) || states.any(|texts| of(&texts, file) == Some(EDIT))
}

/// The other file of the two.
fn other(file: &str) -> &'static str {
    FILES[usize::from(file == FILES[0])]
}

#[test]
fn what_is_saved_at_any_moment_is_kept() {
    let (mut done, mut refused) = (0, 0);
    for (before, after) in cases() {
        for disk in [disk_of(&before), used_disk_of(&before)] {
            for save in saves() {
                for moment in 1..=moments(&disk, &after) {
                    let told = format!("{before:?} to {after:?}, {save:?} at {moment}");
                    let disk = disk.saving(Save { moment, ..save.clone() });
                    let result = change(&disk, &after);
                    assert!(is_kept(&disk, save.file), "{told}: {result:?}");
                    match result {
                        Ok(()) => done += 1,
                        Err(StoreError::Problem(problem)) => {
                            assert_eq!(problem.code, "shelf-saved", "{told}");
                            let now = found(&disk);
                            assert_eq!(of(&now, save.file), Some(EDIT), "{told}");
                            let other = other(save.file);
                            assert_eq!(of(&now, other), of(&before, other), "{told}");
                            refused += 1;
                        }
                        Err(error) => panic!("{told}: {error:?}"),
                    }
                    let now = found(&disk);
                    let mut shelf = open(&disk).unwrap();
                    assert_eq!(shelf.unfinished, None, "{told}");
                    assert_eq!(shelf.journal.pending(), None, "{told}");
                    assert_eq!(found(&disk), now, "{told}");
                    assert!(!disk.listing().iter().any(|it| it.ends_with(".new")), "{told}");
                    let next = texts("a,9\n", Some("z,9\n"));
                    rebuild(&mut shelf, &next).unwrap();
                    assert!(is_kept(&disk, save.file), "{told}");
                    assert_eq!(open(&disk).unwrap().journal.texts(), Some(next), "{told}");
                }
            }
        }
    }
    // Both happen, or the test tries nothing.
    assert!(done > 100 && refused > 100, "{done} done, {refused} refused");
}

/// An entry that had to be taken back is not in force.
#[test]
fn what_was_taken_back_is_told_by_the_journal() {
    let (before, after) = cases().swap_remove(1);
    let disk = used_disk_of(&before);
    let mut taken_back = 0;
    for moment in 1..=moments(&disk, &after) {
        let disk = disk.saving(Save { moment, file: "sheets.csv", text: EDIT, into: false });
        if change(&disk, &after).is_ok() {
            continue;
        }
        let journal = open(&disk).unwrap().journal;
        let events: Vec<&Event> = journal.entries().iter().map(|entry| &entry.event).collect();
        if let [
            ..,
            Event::Rebuilt { .. },
            Event::Rebuilt { entry, .. },
            Event::Done { .. },
            Event::Edited(_),
        ] = events.as_slice()
        {
            assert_eq!(journal.texts_after(*entry), Some(before.clone()));
            taken_back += 1;
        }
    }
    assert!(taken_back > 0, "no moment lies between entry and names");
}

/// The power goes as well.
#[test]
fn what_is_saved_is_kept_through_a_loss_of_power() {
    let mut tried = 0;
    for (before, after) in cases() {
        let disk = used_disk_of(&before);
        let (moments, steps) = (moments(&disk, &after), steps(&disk, &after));
        for save in saves() {
            for moment in 1..=moments {
                for step in 1..=steps + 8 {
                    let saving = disk.saving(Save { moment, ..save.clone() });
                    let failing = saving.failing(step, Mishap::PowerLoss);
                    let result = change(&failing, &after);
                    if !failing.is_saved() {
                        continue;
                    }
                    for seed in 0..2 {
                        let told = format!(
                            "{after:?}, {save:?} at {moment}, {step}, seed {seed}: {result:?}"
                        );
                        let disk = failing.after_power_loss(seed);
                        let shelf = open(&disk).unwrap();
                        assert!(is_kept(&disk, save.file), "{told}");
                        match &shelf.unfinished {
                            None => assert_eq!(shelf.journal.pending(), None, "{told}"),
                            Some(problem) => assert_eq!(problem.code, "shelf-unfinished", "{told}"),
                        }
                        tried += 1;
                    }
                }
            }
        }
    }
    assert!(tried > 10_000, "{tried}");
}

/// Where names cannot be exchanged: a moment is left between looking and writing, and all others are as above.
#[test]
fn a_system_that_cannot_exchange_names_does_all_the_rest() {
    let (mut lost, mut tried) = (Vec::new(), 0);
    for (before, after) in cases() {
        let disk = used_disk_of(&before).plain();
        assert!(is_whole_after(&disk, &before, &after));
        for save in saves() {
            for moment in 1..=moments(&disk, &after) {
                let disk = disk.saving(Save { moment, ..save.clone() });
                let result = change(&disk, &after);
                if !is_kept(&disk, save.file) {
                    lost.push(moment);
                }
                assert!(result.is_ok() || found(&disk) != after);
                let shelf = open(&disk).unwrap();
                assert_eq!((&shelf.unfinished, shelf.journal.pending()), (&None, None));
                tried += 1;
            }
        }
    }
    // One call for each file that is replaced, for each way to save: that of the renaming itself.
    assert!(lost.len() <= 12 && tried > 500, "{lost:?} of {tried}");
}

fn is_whole_after(disk: &Memory, before: &Texts, after: &Texts) -> bool {
    let disk = disk.failing(usize::MAX, Mishap::PowerLoss);
    change(&disk, after).unwrap();
    is_whole(&disk, before, after, "names cannot be exchanged")
}
