//! Report folders on the disk.

use super::*;
use std::fs::{self, File};
use std::io::Write;

mod inputs;
mod left;
mod meanwhile;

fn files(text: &str) -> Vec<ReportFile> {
    let files = [("plan.json", plan(text)), ("cuts.csv", text.to_owned())];
    files.map(|(name, text)| (name.to_owned(), text.into_bytes())).to_vec()
}

/// Looks like a plan of ours.
fn plan(text: &str) -> String {
    format!(r#"{{"schema": "cardwright-plan-{text}"}}"#)
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> =
        entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

fn put(path: &Path, text: &str) {
    write(path, text.as_bytes());
}

fn write(path: &Path, bytes: &[u8]) {
    File::create(path).unwrap().write_all(bytes).unwrap();
}

#[test]
fn a_new_folder_is_made_with_its_parents() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("reports/spring");
    write_folder(&target, &files("1")).unwrap();
    assert_eq!(names(&target), ["cuts.csv", "plan.json"]);
    assert_eq!(names(&home.path().join("reports")), ["spring"]);
    assert_eq!(names(home.path()), ["reports"]);
}

#[test]
fn an_old_report_is_replaced_whole() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("spring");
    write_folder(&target, &files("1")).unwrap();
    put(&target.join("quote.csv"), "of an earlier version");
    write_folder(&target, &files("2")).unwrap();
    assert_eq!(names(&target), ["cuts.csv", "plan.json"]);
    assert_eq!(fs::read_to_string(target.join("plan.json")).unwrap(), plan("2"));
    assert_eq!(names(home.path()), ["spring"]);
}

#[test]
fn what_a_person_put_there_stays() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("spring");
    write_folder(&target, &files("1")).unwrap();
    put(&target.join("photo.jpg"), "mine");
    fs::create_dir(target.join("letters")).unwrap();
    write_folder(&target, &files("2")).unwrap();
    assert_eq!(names(&target), ["cuts.csv", "letters", "photo.jpg", "plan.json"]);
}

/// A whole report folder with files of a person: alone, in folders, and a link.
fn with_hers(target: &Path) {
    write_folder(target, &files("1")).unwrap();
    put(&target.join("photo.jpg"), "mine");
    fs::create_dir_all(target.join("letters/may")).unwrap();
    put(&target.join("letters/may/one.txt"), "dear");
    #[cfg(unix)]
    std::os::unix::fs::symlink("letters/may", target.join("link")).unwrap();
}

/// Whether these are all there, and the reports these.
#[track_caller]
fn has_hers(target: &Path, reports: &str) {
    let mut expected = vec!["cuts.csv", "letters", "photo.jpg", "plan.json"];
    if cfg!(unix) {
        expected.insert(2, "link");
    }
    assert_eq!(names(target), expected);
    let text = |name: &str| fs::read_to_string(target.join(name)).unwrap();
    assert_eq!([text("photo.jpg"), text("letters/may/one.txt")], ["mine", "dear"]);
    assert_eq!([text("plan.json"), text("cuts.csv")], [&plan(reports), reports]);
    if cfg!(unix) {
        assert_eq!(text("link/one.txt"), "dear");
    }
    let beside = target.parent().unwrap();
    assert_eq!(names(beside), [target.file_name().unwrap().to_str().unwrap()]);
}

/// The lock of the place, nobody waiting.
fn begin(target: &Path) -> Workspace {
    let work = Workspace::begin(Destination::of(target, &[]).unwrap(), &mut |_| panic!("it waits"));
    work.unwrap()
}

/// What is told, title and help.
fn texts(problems: &Problems) -> Vec<String> {
    problems
        .iter()
        .map(|it| [vec![it.title.clone()], it.help.clone()].concat().join("; "))
        .collect()
}

/// Exchanged in one step, and moved in two as on systems that cannot exchange.
#[test]
fn what_is_hers_stays_either_way() {
    for exchanges in [true, false] {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("spring");
        with_hers(&target);
        let written = begin(&target).write_to_swap(&files("2"), exchanges).unwrap();
        assert_eq!(written.swap().unwrap().finish(), Problems::new());
        has_hers(&target, "2");
    }
}

/// The very same files and folders are there afterwards, whatever is known of them.
#[cfg(unix)]
#[test]
fn what_is_hers_is_the_same_as_before() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("spring");
    with_hers(&target);
    let may = |name: &str, mode| {
        fs::set_permissions(target.join(name), fs::Permissions::from_mode(mode)).unwrap();
    };
    may("photo.jpg", 0o640);
    may("letters", 0o750);
    may("letters/may", 0o555);
    may("", 0o711);
    let facts = || {
        ["photo.jpg", "letters", "letters/may", "letters/may/one.txt", "link"].map(|name| {
            let found = fs::symlink_metadata(target.join(name)).unwrap();
            (found.ino(), found.mode(), found.modified().unwrap(), found.nlink())
        })
    };
    let before = facts();
    write_folder(&target, &files("2")).unwrap();
    assert_eq!(facts(), before);
    assert_eq!(fs::metadata(&target).unwrap().mode() & 0o777, 0o711);
    may("letters/may", 0o755);
    has_hers(&target, "2");
}

#[test]
fn a_folder_with_the_name_of_a_report_is_refused() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("spring");
    write_folder(&target, &files("1")).unwrap();
    fs::create_dir(target.join("quote.csv")).unwrap();
    put(&target.join("quote.csv/letter"), "mine");
    let error = write_folder(&target, &files("2")).unwrap_err();
    assert!(error.to_string().ends_with("quote.csv is a folder with the name of a report"));
    assert_eq!(names(&target), ["cuts.csv", "plan.json", "quote.csv"]);
    assert_eq!(fs::read_to_string(target.join("plan.json")).unwrap(), plan("1"));
    assert_eq!(names(home.path()), ["spring"]);
}

/// A folder that may not be written does not move: nothing is begun then.
#[cfg(unix)]
#[test]
fn a_protected_folder_is_refused_before_anything_moves() {
    use std::os::unix::fs::PermissionsExt;
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("spring");
    with_hers(&target);
    for name in ["letters", ""] {
        let path = target.join(name);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o555)).unwrap();
        let tried = File::create(path.join("tried"));
        if tried.is_ok() {
            fs::set_permissions(&path, fs::Permissions::from_mode(0o755)).unwrap();
            println!("skipped: this user may write everywhere");
            return;
        }
        let error = write_folder(&target, &files("2")).unwrap_err();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o755)).unwrap();
        assert!(matches!(error, FolderError::System { .. }), "{error}");
        has_hers(&target, "1");
    }
}

#[test]
fn what_is_made_for_a_folder_that_fails_goes_again() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("a/b/c");
    let twice = [files("1"), files("1")].concat();
    assert!(write_folder(&target, &twice).is_err());
    assert_eq!(names(home.path()), [""; 0]);
}

#[test]
fn the_room_of_the_program_is_no_place_for_reports() {
    let home = tempfile::tempdir().unwrap();
    for name in [".cardwright", ".cardwright/new", ".cardwright/a/b"] {
        let error = Destination::of(&home.path().join(name), &[]).unwrap_err();
        assert!(matches!(error, FolderError::NoName(_)), "{error}");
    }
}

#[test]
fn an_empty_folder_may_be_used() {
    let home = tempfile::tempdir().unwrap();
    write_folder(home.path().join("new").as_path(), &[]).unwrap();
    write_folder(home.path().join("new").as_path(), &files("1")).unwrap();
    assert_eq!(names(&home.path().join("new")), ["cuts.csv", "plan.json"]);
}

#[test]
fn another_folder_and_a_file_are_refused_untouched() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("holiday");
    fs::create_dir(&folder).unwrap();
    put(&folder.join("photo.jpg"), "mine");
    let error = write_folder(&folder, &files("1")).unwrap_err();
    assert_eq!(names(&folder), ["photo.jpg"]);
    assert!(error.to_string().ends_with("holiday exists already and is not a report folder"));
    let file = folder.join("photo.jpg");
    assert!(matches!(write_folder(&file, &files("1")), Err(FolderError::NotOurs(_))));
    assert_eq!(fs::read_to_string(file).unwrap(), "mine");
    assert_eq!(names(home.path()), ["holiday"]);
}

#[test]
fn a_file_in_the_way_is_told_with_path_and_cause() {
    let home = tempfile::tempdir().unwrap();
    put(&home.path().join("reports"), "a file");
    let error = write_folder(&home.path().join("reports/spring"), &files("1")).unwrap_err();
    assert!(error.to_string().contains("reports"), "{error}");
    assert!(std::error::Error::source(&error).is_some());
    assert_eq!(names(home.path()), ["reports"]);
}

#[test]
fn a_path_without_a_name_is_refused() {
    assert!(write_folder(Path::new("/"), &files("1")).is_err());
    assert!(matches!(
        write_folder(Path::new("nowhere-at-all/.."), &files("1")),
        Err(FolderError::NoName(_))
    ));
}

#[cfg(unix)]
#[test]
fn a_link_stays_a_link() {
    let home = tempfile::tempdir().unwrap();
    let real = home.path().join("real");
    write_folder(&real, &files("1")).unwrap();
    let link = home.path().join("link");
    std::os::unix::fs::symlink(&real, &link).unwrap();
    write_folder(&link, &files("2")).unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(fs::read_to_string(real.join("plan.json")).unwrap(), plan("2"));
}

#[cfg(unix)]
#[test]
fn others_may_read_it_as_far_as_the_system_says() {
    use std::os::unix::fs::PermissionsExt;
    let home = tempfile::tempdir().unwrap();
    let plain = home.path().join("plain");
    fs::create_dir(&plain).unwrap();
    write_folder(&home.path().join("spring"), &files("1")).unwrap();
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    assert_eq!(mode(&home.path().join("spring")), mode(&plain));
}

/// A new workshop has other files than a report. One that is taken back leaves none of them.
#[cfg(unix)]
#[test]
fn a_workshop_that_is_taken_back_leaves_the_empty_folder() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("cards");
    let files = ["cards.csv", "offcuts.csv"].map(|name| (name.to_owned(), b"1".to_vec()));
    for there in [false, true] {
        let _ = fs::remove_dir_all(&target);
        if there {
            fs::create_dir(&target).unwrap();
        }
        let work =
            Workspace::begin(Destination::of(&target, &[]).unwrap(), &mut |_| false).unwrap();
        let swapped = work.write(&files).unwrap().swap().unwrap();
        assert_eq!(names(&target), ["cards.csv", "offcuts.csv"]);
        swapped.back().unwrap();
        assert_eq!(target.exists(), there);
        assert!(!there || names(&target).is_empty());
        assert_eq!(names(home.path()).len(), usize::from(there));
    }
}
