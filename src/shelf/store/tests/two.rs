//! Two shelves that name one drawer.

use super::memory::Save;
use super::*;

const MAY: [&str; 2] = ["/shop/may/sheets.csv", "/shop/drawer/offcuts.csv"];
const JUNE: [&str; 2] = ["/shop/june/sheets.csv", "/shop/drawer/offcuts.csv"];
/// Where the drawer lies.
const HOME: [&str; 2] = ["/shop/drawer/sheets.csv", "/shop/drawer/offcuts.csv"];

fn disk() -> Memory {
    let sheets = [MAY, JUNE, HOME].map(|files| (files[0], "a,1\n"));
    Memory::with(&[&sheets[..], &[(MAY[1], "x,1\n")]].concat())
}

fn at(disk: &Memory, files: [&str; 2]) -> Result<Shelf<Memory>, StoreError> {
    Shelf::open(disk.clone(), spot(disk, files))
}

/// Sheets and drawer; all else lies beside the sheets, or would.
fn spot(disk: &Memory, [sheets, offcuts]: [&str; 2]) -> Spot {
    let beside = USUAL_NAMES.map(|name| Path::new(sheets).with_file_name(name));
    let beside = beside.each().map(PathBuf::as_path);
    let (sheets, offcuts) = (Path::new(sheets), Path::new(offcuts));
    Spot::of(disk, PerFile { sheets, offcuts, ..beside }).unwrap()
}

fn changed(disk: &Memory, files: [&str; 2], drawer: &str) -> Result<(), StoreError> {
    rebuild(&mut at(disk, files)?, &texts("a,2\n", Some(drawer)))
}

#[track_caller]
fn is_refused<T: std::fmt::Debug>(result: Result<T, StoreError>) {
    match result {
        Err(StoreError::Problem(problem)) => assert_eq!(problem.code, "shelf-drawer"),
        other => panic!("{other:?}"),
    }
}

fn drawer(disk: &Memory) -> Vec<u8> {
    disk.read(Path::new(MAY[1])).unwrap().unwrap()
}

#[test]
fn a_drawer_is_that_of_the_first_who_changes_it() {
    for (first, second) in [(MAY, JUNE), (MAY, HOME), (HOME, MAY), (JUNE, MAY)] {
        let disk = disk();
        // Looking is no claim.
        at(&disk, second).unwrap();
        at(&disk, first).unwrap();
        changed(&disk, first, "x,2\n").unwrap();
        is_refused(changed(&disk, second, "x,3\n"));
        is_refused(look(&disk, &spot(&disk, second), &mut |_, _| false));
        assert_eq!(drawer(&disk), b"x,2\n");
        // Refused, the second one left nothing behind.
        assert!(!disk.listing().contains(&second[0].replace("sheets.csv", "shelf.jsonl")));
        changed(&disk, first, "x,4\n").unwrap();
        // With a drawer of its own, it is welcome; with one that is not there yet, too.
        changed(&disk, [second[0], "/shop/drawer/second.csv"], "y,1\n").unwrap();
    }
}

#[test]
fn only_a_drawer_elsewhere_gets_a_mark() {
    let disk = disk();
    changed(&disk, HOME, "x,2\n").unwrap();
    assert!(!disk.listing().iter().any(|name| name.ends_with(MARK)), "{:?}", disk.listing());
    let disk = self::disk();
    changed(&disk, MAY, "x,2\n").unwrap();
    let mark = disk.read(Path::new("/shop/drawer/.offcuts.csv.shelf")).unwrap().unwrap();
    assert_eq!(mark, b"../may/sheets.csv\n");
}

#[test]
fn sheets_are_no_drawer_of_another_shelf() {
    let disk = disk();
    changed(&disk, HOME, "x,2\n").unwrap();
    is_refused(changed(&disk, [MAY[0], HOME[0]], "x,3\n"));
    // Nor do they become the sheets of one, once they are a drawer.
    let disk = self::disk();
    changed(&disk, [MAY[0], JUNE[0]], "x,3\n").unwrap();
    is_refused(changed(&disk, [JUNE[0], "/shop/june/offcuts.csv"], "x,4\n"));
}

/// Shelves of before: both journals name the drawer, and no mark says whose it is.
#[test]
fn of_two_shelves_that_shared_a_drawer_the_next_one_keeps_it() {
    let disk = disk();
    changed(&disk, MAY, "x,2\n").unwrap();
    let mark = Path::new("/shop/drawer/.offcuts.csv.shelf");
    disk.remove(mark).unwrap();
    changed(&disk, JUNE, "x,3\n").unwrap();
    disk.remove(mark).unwrap();
    changed(&disk, MAY, "x,4\n").unwrap();
    is_refused(changed(&disk, JUNE, "x,5\n"));
    changed(&disk, MAY, "x,6\n").unwrap();
}

#[test]
fn a_drawer_whose_shelf_has_gone_is_free() {
    let gone = |name: &str| {
        let disk = disk();
        changed(&disk, MAY, "x,2\n").unwrap();
        disk.remove(Path::new(name)).unwrap();
        disk
    };
    changed(&gone("/shop/may/shelf.jsonl"), JUNE, "x,3\n").unwrap();
    changed(&gone("/shop/may/shelf.jsonl"), HOME, "x,3\n").unwrap();
    // Sheets that are gone for the moment are no shelf that is gone: the journal is there.
    is_refused(changed(&gone("/shop/may/sheets.csv"), JUNE, "x,3\n"));
}

/// Folders that are moved or copied together stay one shelf, and the copy has its own drawer.
#[test]
fn a_shelf_can_be_moved_and_copied() {
    let disk = disk();
    changed(&disk, MAY, "x,2\n").unwrap();
    for name in disk.listing().iter().filter(|name| !name.contains("june")) {
        let bytes = disk.read(Path::new(name)).unwrap().unwrap();
        disk.create(Path::new(&name.replace("/shop/", "/moved/")), &bytes, None).unwrap();
    }
    let moved = [MAY[0], MAY[1]].map(|name| name.replace("/shop/", "/moved/"));
    changed(&disk, [&moved[0], &moved[1]], "x,3\n").unwrap();
    is_refused(changed(&disk, [JUNE[0], &moved[1]], "x,4\n"));
    changed(&disk, MAY, "x,5\n").unwrap();
    // A drawer copied alone is nobody's, whatever came along.
    for name in ["offcuts.csv", ".offcuts.csv.shelf"] {
        let from = Path::new("/shop/drawer").join(name);
        let bytes = disk.read(&from).unwrap().unwrap();
        disk.create(&Path::new("/shop/alone").join(name), &bytes, None).unwrap();
    }
    changed(&disk, [JUNE[0], "/shop/alone/offcuts.csv"], "x,6\n").unwrap();
}

/// The power goes while a drawer is claimed: one of two keeps it, and nothing is half.
#[test]
fn a_loss_of_power_makes_no_second_owner() {
    let disk = disk();
    let whole = disk.failing(usize::MAX, Mishap::PowerLoss);
    changed(&whole, MAY, "x,2\n").unwrap();
    let mut owners = [0, 0];
    for step in 1..=whole.steps() {
        for seed in 0..SEEDS {
            let failing = disk.failing(step, Mishap::PowerLoss);
            let first = changed(&failing, MAY, "x,2\n");
            let disk = failing.after_power_loss(seed);
            let told = format!("step {step}, seed {seed}");
            // June comes first; then each tries once more.
            let june = changed(&disk, JUNE, "x,3\n");
            let may = changed(&disk, MAY, "x,4\n");
            assert!(june.is_ok() != may.is_ok(), "{told}: {june:?} {may:?}");
            assert!(first.is_err() || may.is_ok(), "{told}: it had said that it was done");
            let expected: &[u8] = if june.is_ok() { b"x,3\n" } else { b"x,4\n" };
            assert_eq!(drawer(&disk), expected, "{told}");
            owners[usize::from(may.is_ok())] += 1;
            if june.is_ok() { is_refused(may) } else { is_refused(june) }
        }
    }
    assert!(owners[0] > 20 && owners[1] > 20, "{owners:?}");
}

/// A refused claim leaves no mark.
#[test]
fn a_full_disk_leaves_no_mark() {
    let disk = disk();
    let whole = disk.failing(usize::MAX, Mishap::PowerLoss);
    changed(&whole, MAY, "x,2\n").unwrap();
    let mut refused = 0;
    for step in 1..=whole.steps() {
        let failing = disk.failing(step, Mishap::Refusal);
        match changed(&failing, MAY, "x,2\n") {
            Ok(()) | Err(StoreError::Unfinished(_)) => {}
            Err(_) => {
                let files = failing.listing();
                assert!(!files.iter().any(|name| name.ends_with(MARK)), "step {step}: {files:?}");
                changed(&failing, JUNE, "x,3\n").unwrap();
                refused += 1;
            }
        }
    }
    assert!(refused > 5, "{refused}");
}

/// What another program saves in a drawer elsewhere is kept, too.
#[test]
fn what_is_saved_in_a_drawer_elsewhere_is_kept() {
    let disk = disk();
    let none = Save { moment: usize::MAX, file: "none", text: "", into: false };
    let whole = disk.saving(none.clone());
    changed(&whole, MAY, "x,2\n").unwrap();
    for moment in 1..=whole.moments() {
        let disk = disk.saving(Save { moment, file: MAY[1], text: "by hand\n", ..none.clone() });
        let result = changed(&disk, MAY, "x,2\n");
        let mut states = at(&disk, MAY).unwrap().journal.states().flatten().collect::<Vec<_>>();
        states.retain(|texts| texts.offcuts.as_deref() == Some("by hand\n"));
        assert!(drawer(&disk) == b"by hand\n" || !states.is_empty(), "{moment}: {result:?}");
    }
}
