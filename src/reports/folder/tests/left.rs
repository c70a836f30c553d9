//! What an interrupted run has left, state by state.

use super::super::swap::number;
use super::*;

/// A parent folder with a report folder in which a person has files.
fn home() -> (tempfile::TempDir, PathBuf) {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("spring");
    with_hers(&target);
    (home, target)
}

/// A whole new folder in the room, with a second name of everything that is hers.
fn made(home: &Path, slot: &str) -> PathBuf {
    let new = home.join(ROOM).join(slot).join("spring");
    fs::create_dir_all(&new).unwrap();
    files("2").iter().for_each(|(name, bytes)| write(&new.join(name), bytes));
    hers::link(&home.join("spring"), &new).unwrap();
    new
}

/// What the next run says, which writes another folder.
fn next(home: &Path) -> Vec<String> {
    let told = write_folder(&home.join("other"), &files("3")).unwrap();
    assert!(names(home).iter().all(|name| !name.starts_with('.')), "{:?}", names(home));
    fs::remove_dir_all(home.join("other")).unwrap();
    texts(&told)
}

fn unfinished(home: &Path) -> String {
    format!(
        "an earlier plan was interrupted while it wrote reports in {}; its unfinished files are gone: every report \
         folder is as it was before that plan",
        home.display()
    )
}

#[test]
fn half_a_folder_is_cleared_away() {
    let (home, target) = home();
    let new = home.path().join(".cardwright/new");
    fs::create_dir_all(new.join("letters")).unwrap();
    put(&new.join("plan.json"), "2");
    fs::hard_link(target.join("photo.jpg"), new.join("photo.jpg")).unwrap();
    assert_eq!(next(home.path()), [unfinished(home.path())]);
    has_hers(&target, "1");
    assert_eq!(next(home.path()), [""; 0]);
}

#[cfg(unix)]
#[test]
fn a_folder_that_was_not_exchanged_yet_is_cleared_away() {
    let (home, target) = home();
    let new = made(home.path(), "x");
    let own = number(&fs::metadata(&new).unwrap()).unwrap();
    let room = home.path().join(".cardwright");
    fs::rename(room.join("x"), room.join(own.to_string())).unwrap();
    let before = fs::metadata(target.join("letters")).unwrap();
    assert_eq!(next(home.path()), [unfinished(home.path())]);
    has_hers(&target, "1");
    assert_eq!(number(&fs::metadata(target.join("letters")).unwrap()), number(&before));
}

#[cfg(unix)]
#[test]
fn what_is_hers_in_a_folder_that_was_exchanged_is_brought_home() {
    let (home, target) = home();
    let new = made(home.path(), "1");
    // What came into the old one in the last moment, and what she has done since.
    put(&target.join("late.txt"), "late");
    put(&target.join("letters/late.txt"), "late");
    swap::exchange(&new, &target).unwrap();
    put(&target.join("letters/since.txt"), "since");
    put(&target.join("photo.jpg"), "mine, in colour");
    let told = next(home.path());
    let shown = target.display();
    assert_eq!(
        told,
        [format!(
            "an earlier plan was interrupted after it had replaced {shown}; its reports are complete, and the old \
             ones are gone; moved over from the old folder: late.txt and letters/since.txt"
        )]
    );
    let text = |name: &str| fs::read_to_string(target.join(name)).unwrap();
    assert_eq!([text("late.txt"), text("letters/late.txt")], ["late", "late"]);
    assert_eq!([text("letters/since.txt"), text("photo.jpg")], ["since", "mine, in colour"]);
    assert_eq!([text("plan.json"), text("letters/may/one.txt")], [&plan("2"), "dear"]);
}

#[test]
fn a_folder_that_was_moved_away_comes_back() {
    let (home, target) = home();
    fs::create_dir_all(home.path().join(".cardwright/old")).unwrap();
    fs::rename(&target, home.path().join(".cardwright/old/spring")).unwrap();
    assert_eq!(
        next(home.path()),
        [format!(
            "an earlier plan was interrupted while it replaced {}; the folder is back as it was before that plan",
            target.display()
        )]
    );
    has_hers(&target, "1");
}

/// Where folders cannot be exchanged, all that is hers moves when the new reports are there.
#[test]
fn what_is_hers_in_a_folder_that_was_moved_away_is_brought_home() {
    let (home, target) = home();
    fs::create_dir_all(home.path().join(".cardwright/old")).unwrap();
    fs::rename(&target, home.path().join(".cardwright/old/spring")).unwrap();
    fs::create_dir(&target).unwrap();
    files("2").iter().for_each(|(name, bytes)| write(&target.join(name), bytes));
    let told = next(home.path());
    assert!(told[0].contains("moved over from the old folder: "), "{told:?}");
    has_hers(&target, "2");
}

#[test]
fn something_else_in_the_place_stays_and_the_folder_comes_beside_it() {
    let (home, target) = home();
    fs::create_dir_all(home.path().join(".cardwright/old")).unwrap();
    fs::rename(&target, home.path().join(".cardwright/old/spring")).unwrap();
    put(&target, "a file");
    next(home.path());
    assert_eq!(names(home.path()), ["spring", "spring (2)"]);
    fs::remove_file(&target).unwrap();
    fs::rename(home.path().join("spring (2)"), &target).unwrap();
    has_hers(&target, "1");
}

#[test]
fn all_that_was_left_is_put_right_at_once() {
    let home = tempfile::tempdir().unwrap();
    let room = home.path().join(".cardwright");
    for name in ["new", "old/spring", "old/summer", "undone/autumn"] {
        fs::create_dir_all(room.join(name)).unwrap();
        put(&room.join(name).join("plan.json"), name);
    }
    assert_eq!(next(home.path()).len(), 4);
    assert_eq!(names(home.path()), ["autumn", "spring", "summer"]);
}

/// Nobody is followed out of the room.
#[cfg(unix)]
#[test]
fn links_in_the_room_lead_nowhere() {
    use std::os::unix::fs::symlink;
    let (home, target) = home();
    let room = home.path().join(".cardwright");
    fs::create_dir_all(&room).unwrap();
    symlink("../spring", room.join("old")).unwrap();
    symlink("../spring", room.join("new")).unwrap();
    let told = texts(&write_folder(&home.path().join("other"), &files("3")).unwrap_or_default());
    assert!(told.iter().all(|it| it.contains("could not be cleared away")), "{told:?}");
    fs::remove_dir_all(&room).unwrap();
    let _ = fs::remove_dir_all(home.path().join("other"));
    has_hers(&target, "1");
    symlink("spring", home.path().join(".cardwright")).unwrap();
    // In it, too, nothing is ours, whatever it is called.
    fs::create_dir(target.join("new")).unwrap();
    put(&target.join("new/photo.jpg"), "mine");
    assert!(write_folder(&home.path().join("other"), &files("3")).is_err());
    fs::remove_file(home.path().join(".cardwright")).unwrap();
    assert_eq!(fs::read_to_string(target.join("new/photo.jpg")).unwrap(), "mine");
    fs::remove_dir_all(target.join("new")).unwrap();
    has_hers(&target, "1");
}
