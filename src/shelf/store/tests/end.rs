//! A journal that has lost its last lines.

use super::*;

/// A shelf that was changed three times, its files after each change, and its journal then.
fn history() -> (Memory, Vec<(Texts, Vec<u8>)>) {
    let all = [texts("a,1\n", Some("x,1\n")), texts("a,2\n", None), texts("a,3\n", Some("x,3\n"))];
    let disk = disk_of(&texts("a,0\n", Some("x,0\n")));
    let then = all.map(|texts| {
        change(&disk, &texts).unwrap();
        (texts, disk.read(Path::new("shelf.jsonl")).unwrap().unwrap())
    });
    (disk, then.into())
}

fn put(disk: &Memory, name: &str, bytes: Option<&[u8]>) {
    disk.remove(Path::new(name)).unwrap();
    if let Some(bytes) = bytes {
        disk.create(Path::new(name), bytes, None).unwrap();
    }
}

fn codes(problems: &Problems) -> Vec<&'static str> {
    problems.iter().map(|problem| problem.code).collect()
}

#[test]
fn lines_that_are_taken_off_are_missed() {
    let (disk, then) = history();
    let whole = &then[2].1;
    let ends = whole.iter().enumerate().filter(|(_, byte)| **byte == b'\n').map(|(at, _)| at + 1);
    let ends: Vec<usize> = ends.collect();
    assert_eq!(looked(&disk).end, End::Whole);
    for end in &ends[..ends.len() - 1] {
        put(&disk, "shelf.jsonl", Some(&whole[..*end]));
        let before = found(&disk);
        // Nothing is finished that was finished long ago, nothing is settled on it.
        let shelf = open(&disk).unwrap();
        let code = shelf.unfinished.as_ref().map(|problem| problem.code);
        assert_eq!(code, Some("shelf-cut"), "{end} of {ends:?}");
        assert_eq!(found(&disk), before);
        let journal = read_journal(&disk, &spot(&disk)).unwrap();
        if journal.pending().is_none() {
            let view = looked(&disk);
            assert_eq!((view.end, codes(&view.told)), (End::Cut, vec!["shelf-cut"]));
        }
    }
}

#[test]
fn a_rebuild_goes_on_from_what_is_left() {
    let (disk, then) = history();
    put(&disk, "shelf.jsonl", Some(&then[0].1));
    let mut shelf = open(&disk).unwrap();
    assert!(shelf.unfinished.is_some());
    rebuild(&mut shelf, &then[0].0).unwrap();
    drop(shelf);
    let shelf = open(&disk).unwrap();
    assert_eq!((shelf.unfinished, found(&disk)), (None, then[0].0.clone()));
    assert!(
        shelf.journal.states().flatten().any(|texts| texts == then[2].0),
        "the files of before"
    );
    assert_eq!(looked(&disk).end, End::Whole);
}

/// An older copy of files and journal, put back without the hidden lock.
#[test]
fn a_copy_that_is_put_back_is_told_and_goes_on() {
    for (texts, journal) in &history().1 {
        let (disk, then) = history();
        put(&disk, "shelf.jsonl", Some(journal));
        put(&disk, "sheets.csv", texts.sheets.as_ref().map(String::as_bytes));
        put(&disk, "offcuts.csv", texts.offcuts.as_ref().map(String::as_bytes));
        let is_last = *texts == then[2].0;
        let shelf = open(&disk).unwrap();
        assert_eq!(shelf.unfinished, None);
        assert_eq!(codes(&shelf.told), if is_last { vec![] } else { vec!["shelf-cut"] });
        drop(shelf);
        change(&disk, &super::texts("a,9\n", None)).unwrap();
        assert!(open(&disk).unwrap().told.is_empty());
        assert_eq!(looked(&disk).end, End::Whole);
    }
}

#[test]
fn a_journal_that_is_moved_away_with_its_note_begins_anew() {
    for rest in [None, Some(b"".as_slice())] {
        let (disk, _) = history();
        put(&disk, "shelf.jsonl", rest);
        let shelf = open(&disk).unwrap();
        assert_eq!(shelf.unfinished.map(|problem| problem.code), Some("shelf-cut"));
        disk.remove(Path::new(".shelf.lock")).unwrap();
        change(&disk, &texts("a,9\n", None)).unwrap();
        assert!(open(&disk).unwrap().told.is_empty());
    }
}

/// What somebody else has written into the lock's file stays there.
#[test]
fn what_is_no_note_is_left_alone() {
    let (disk, _) = history();
    put(&disk, ".shelf.lock", Some(b"not a note\n"));
    let shelf = open(&disk).unwrap();
    assert_eq!((shelf.unfinished, codes(&shelf.told)), (None, vec![]));
    change(&disk, &texts("a,9\n", None)).unwrap();
    assert_eq!(looked(&disk).end, End::Unknown);
    let note = disk.read(Path::new(".shelf.lock")).unwrap();
    assert_eq!(note.as_deref(), Some(b"not a note\n".as_slice()));
}

/// Of a copy without hidden files, or from before there were notes, nobody knows.
#[test]
fn a_shelf_without_a_note_goes_on() {
    for note in [None, Some(""), Some("12 ")] {
        let (disk, then) = history();
        put(&disk, ".shelf.lock", note.map(str::as_bytes));
        assert_eq!(looked(&disk).end, End::Unknown);
        let shelf = open(&disk).unwrap();
        assert_eq!((shelf.unfinished, codes(&shelf.told)), (None, vec![]));
        assert_eq!(found(&disk), then[2].0);
        change(&disk, &texts("a,9\n", None)).unwrap();
        assert_eq!(looked(&disk).end, End::Whole);
    }
}

/// Another journal, that of a copy on which somebody went on.
#[test]
fn another_journal_is_told() {
    let (disk, then) = history();
    put(&disk, ".shelf.lock", None);
    put(&disk, "shelf.jsonl", Some(&then[1].1));
    put(&disk, "sheets.csv", Some(b"a,2\n"));
    put(&disk, "offcuts.csv", None);
    for count in 4..8 {
        change(&disk, &texts(&format!("a,{count}\n"), None)).unwrap();
    }
    let longer = disk.read(Path::new("shelf.jsonl")).unwrap().unwrap();
    let (disk, _) = history();
    put(&disk, "shelf.jsonl", Some(&longer));
    let problem = open(&disk).unwrap().unfinished.unwrap();
    assert_eq!(problem.title, "shelf.jsonl is not the journal last written here");
}
