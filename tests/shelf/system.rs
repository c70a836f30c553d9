//! What the system makes difficult: links, rights, folders that cannot be written.
#![cfg(unix)]

use super::*;
use std::fs;
use std::os::unix::fs::{MetadataExt, PermissionsExt, symlink};

fn mode(home: &Home, name: &str) -> u32 {
    fs::metadata(home.path(name)).unwrap().permissions().mode() & 0o777
}

fn set_mode(home: &Home, name: &str, mode: u32) {
    fs::set_permissions(home.path(name), fs::Permissions::from_mode(mode)).unwrap();
}

/// The rights of a file bind everyone but the system's master.
fn may_write_everywhere() -> bool {
    let home = Home::new();
    home.put("shut/a", "");
    set_mode(&home, "shut", 0o555);
    let all = fs::File::create(home.path("shut/b")).is_ok();
    set_mode(&home, "shut", 0o755);
    all
}

#[test]
fn rights_and_owner_stay() {
    let home = planned();
    set_mode(&home, "sheets.csv", 0o640);
    set_mode(&home, "offcuts.csv", 0o604);
    let owner = |name: &str| {
        let found = fs::metadata(home.path(name)).unwrap();
        (found.uid(), found.gid())
    };
    if may_write_everywhere() {
        // Only the system's master may give files to others.
        std::os::unix::fs::chown(home.path("sheets.csv"), Some(12345), Some(23456)).unwrap();
    }
    let before = ["sheets.csv", "offcuts.csv"].map(owner);
    said(&home, "settle reports/spring");
    assert_eq!([mode(&home, "sheets.csv"), mode(&home, "offcuts.csv")], [0o640, 0o604]);
    assert_eq!(["sheets.csv", "offcuts.csv"].map(owner), before);
}

#[test]
fn links_stay_links() {
    let home = planned();
    home.put("store/sheets.csv", SHEETS);
    fs::remove_file(home.path("sheets.csv")).unwrap();
    symlink("store/sheets.csv", home.path("sheets.csv")).unwrap();
    said(&home, "settle reports/spring");
    assert!(fs::symlink_metadata(home.path("sheets.csv")).unwrap().is_symlink());
    assert_ne!(home.text("store/sheets.csv"), SHEETS);
    assert!(home.path("store/shelf.jsonl").is_file(), "the journal is with the real file");
    said(&home, "settle reports/spring --undo");
    assert_eq!(home.text("store/sheets.csv"), SHEETS);
    assert_eq!(home.text("offcuts.csv"), OFFCUTS);
}

#[test]
fn a_link_that_leads_nowhere_is_told() {
    let home = planned();
    fs::remove_file(home.path("offcuts.csv")).unwrap();
    symlink("store/offcuts.csv", home.path("offcuts.csv")).unwrap();
    let answer = home.run("settle reports/spring");
    assert_eq!((answer.code, answer.out.as_str()), (Some(2), ""));
    assert!(answer.err.starts_with("error: cannot find offcuts.csv: "), "{}", answer.err);
    assert!(answer.err.contains("where links lead"), "{}", answer.err);
    assert_eq!(home.text("sheets.csv"), SHEETS);
}

#[test]
fn a_folder_for_a_drawer_is_told() {
    let home = planned();
    fs::remove_file(home.path("offcuts.csv")).unwrap();
    fs::create_dir(home.path("offcuts.csv")).unwrap();
    let answer = home.run("settle reports/spring");
    assert_eq!((answer.code, answer.out.as_str()), (Some(2), ""));
    assert!(answer.err.starts_with("error: cannot read "), "{}", answer.err);
    assert_eq!(home.text("sheets.csv"), SHEETS);
}

/// A file that was left where a new one would be written.
#[test]
fn what_lies_in_the_way_is_no_trap() {
    let home = planned();
    home.put("precious", "mine");
    symlink("precious", home.path(".sheets.csv.new")).unwrap();
    said(&home, "settle reports/spring");
    assert_eq!(home.text("precious"), "mine");
    assert!(!home.path(".sheets.csv.new").exists());
}

#[test]
fn a_folder_that_cannot_be_written_is_told() {
    if may_write_everywhere() {
        println!("skipped: this user may write everywhere");
        return;
    }
    let home = planned();
    set_mode(&home, "", 0o555);
    let answer = home.run("settle reports/spring");
    set_mode(&home, "", 0o755);
    assert_eq!((answer.code, answer.out.as_str()), (Some(2), ""));
    assert!(answer.err.starts_with("error: cannot lock "), "{}", answer.err);
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
}

#[test]
fn a_file_that_is_write_protected_is_told() {
    let home = planned();
    set_mode(&home, "sheets.csv", 0o444);
    let answer = home.run("settle reports/spring");
    assert_eq!((answer.code, answer.out.as_str()), (Some(2), ""));
    assert!(answer.err.contains("sheets.csv: it is write-protected\n"), "{}", answer.err);
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
    set_mode(&home, "sheets.csv", 0o644);
    said(&home, "settle reports/spring");
}

/// A small disk that fills up, where this user may make one.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told_and_loses_nothing() {
    let Some(disk) = crate::program::SmallDisk::new(64) else {
        println!("skipped: this user may not make a small disk");
        return;
    };
    let home = planned();
    for name in ["sheets.csv", "offcuts.csv"] {
        fs::copy(home.path(name), disk.path().join(name)).unwrap();
    }
    let settle = format!(
        "settle reports/spring --sheets {0}/sheets.csv --offcuts {0}/offcuts.csv",
        disk.path().display()
    );
    // Filled to the last byte, then to a page less, and so on: every step meets the end once.
    let mut refused = 0;
    for free in 0..12 {
        disk.fill(free * 4096);
        let answer = home.run(&settle);
        let text = |name: &str| fs::read_to_string(disk.path().join(name)).unwrap();
        if answer.code == Some(0) {
            break;
        }
        refused += 1;
        assert_eq!(answer.code, Some(2), "{}", answer.err);
        assert!(answer.err.contains("No space left on device"), "{}", answer.err);
        assert_eq!((text("sheets.csv"), text("offcuts.csv")), (SHEETS.into(), OFFCUTS.into()));
    }
    disk.fill(1 << 20);
    assert!(refused > 0, "the disk was never full");
    let history = home.done(&format!("shelf history {}", disk.path().display())).out;
    assert!(history.contains("spring settled"), "{history}");
}
