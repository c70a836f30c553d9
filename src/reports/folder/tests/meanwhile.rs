//! Others at work in a folder while it is replaced.

use super::*;
use std::time::Duration;

fn set_age(path: &Path, seconds: u64) {
    let file = File::options().write(true).open(path).unwrap();
    let now = file.metadata().unwrap().modified().unwrap();
    file.set_modified(now - Duration::from_secs(seconds)).unwrap();
}

/// Saves as editors do: a new file takes the old one's name.
fn save(path: &Path, text: &str) {
    let beside = path.with_extension("tmp");
    put(&beside, text);
    fs::rename(beside, path).unwrap();
}

#[test]
fn what_comes_into_the_old_folder_at_the_last_moment_is_carried_over() {
    for exchanges in [true, false] {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("spring");
        with_hers(&target);
        let written = begin(&target).write_to_swap(&files("2"), exchanges).unwrap();
        put(&target.join("late.txt"), "late");
        put(&target.join("letters/may/late.txt"), "late");
        let mut open = File::options().append(true).open(target.join("photo.jpg")).unwrap();
        assert_eq!(written.swap().unwrap().finish(), Problems::new());
        // Somebody who has opened a file before goes on writing.
        open.write_all(b", for ever").unwrap();
        let text = |name: &str| fs::read_to_string(target.join(name)).unwrap();
        assert_eq!([text("late.txt"), text("letters/may/late.txt")], ["late", "late"]);
        assert_eq!([text("photo.jpg"), text("plan.json")], ["mine, for ever", &plan("2")]);
        assert_eq!(names(home.path()), ["spring"]);
    }
}

/// The newer one has the name, the older one lies beside, and that is told.
#[cfg(unix)]
#[test]
fn a_file_that_is_saved_in_between_is_there_twice() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("spring");
    with_hers(&target);
    set_age(&target.join("photo.jpg"), 60);
    let text = |name: &str| fs::read_to_string(target.join(name)).unwrap();
    // Saved between the links and the exchange, so the new folder has the older one.
    let written = begin(&target).write(&files("2")).unwrap();
    save(&target.join("photo.jpg"), "newer");
    let told = texts(&written.swap().unwrap().finish());
    let shown = target.join("photo.jpg").display().to_string();
    let beside = shown.replace(".jpg", " (2).jpg");
    assert_eq!(
        told,
        [format!(
            "{shown} changed while the reports were replaced; the other version is {beside}: keep the one you want"
        )]
    );
    assert_eq!([text("photo.jpg"), text("photo (2).jpg")], ["newer", "mine"]);
    // Saved between the exchange and the end, so the new folder has the newer one: all is one file otherwise.
    set_age(&target.join("photo.jpg"), 60);
    let swapped = begin(&target).write(&files("3")).unwrap().swap().unwrap();
    save(&target.join("photo.jpg"), "newest");
    assert_eq!(swapped.finish().iter().count(), 1);
    assert_eq!([text("photo.jpg"), text("photo (3).jpg")], ["newest", "newer"]);
    assert_eq!(names(home.path()), ["spring"]);
}

#[test]
fn the_old_folder_comes_back_whole() {
    for exchanges in [true, false] {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("spring");
        with_hers(&target);
        let swapped = begin(&target).write_to_swap(&files("2"), exchanges).unwrap().swap().unwrap();
        put(&target.join("late.txt"), "late");
        assert_eq!(swapped.back().unwrap(), Problems::new());
        assert_eq!(fs::read_to_string(target.join("late.txt")).unwrap(), "late");
        fs::remove_file(target.join("late.txt")).unwrap();
        has_hers(&target, "1");
    }
}

#[test]
fn a_folder_that_was_not_there_is_gone_again() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("reports/spring");
    let swapped = begin(&target).write(&files("2")).unwrap().swap().unwrap();
    assert!(target.join("plan.json").is_file());
    swapped.back().unwrap();
    assert_eq!(names(home.path()), [""; 0]);
    let swapped = begin(&target).write(&files("2")).unwrap().swap().unwrap();
    put(&target.join("late.txt"), "late");
    swapped.back().unwrap();
    assert_eq!(names(&target), ["late.txt"]);
    assert_eq!(names(&home.path().join("reports")), ["spring"]);
}

#[test]
fn something_that_came_to_the_place_meanwhile_is_not_covered() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("spring");
    let written = begin(&target).write(&files("2")).unwrap();
    fs::create_dir(&target).unwrap();
    put(&target.join("photo.jpg"), "mine");
    assert!(written.swap().is_err());
    assert_eq!(names(home.path()), ["spring"]);
    assert_eq!(names(&target), ["photo.jpg"]);
}

/// Says once that it waits, and waits on.
fn says(said: &std::sync::mpsc::Sender<()>, tries: u32) -> bool {
    if tries == 1 {
        said.send(()).unwrap();
    }
    std::thread::sleep(std::time::Duration::from_millis(2));
    true
}

/// Ctrl-C ends the wait, and nothing is changed.
#[test]
fn who_does_not_want_to_wait_changes_nothing() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("spring");
    let _held = begin(&target);
    let place = Destination::of(&target, &[]).unwrap();
    let stopped = Workspace::begin(place, &mut |tries| tries < 3);
    assert!(matches!(stopped.err(), Some(FolderError::Stopped(_))));
    assert!(!target.exists());
}

#[test]
fn one_run_waits_for_the_other_and_says_so() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("spring");
    with_hers(&target);
    let written = begin(&target).write(&files("2")).unwrap();
    let (said, hears) = std::sync::mpsc::channel();
    std::thread::scope(|scope| {
        let other = scope.spawn(|| {
            let place = Destination::of(&target, &[]).unwrap();
            let work = Workspace::begin(place, &mut |tries| says(&said, tries)).unwrap();
            assert_eq!(work.told, Problems::new(), "one who lives was cleaned up");
            work.write(&files("3")).unwrap().swap().unwrap().finish()
        });
        hears.recv().unwrap();
        assert_eq!(written.swap().unwrap().finish(), Problems::new());
        assert_eq!(other.join().unwrap(), Problems::new());
    });
    has_hers(&target, "3");
}

/// A run that fails takes the folder away again that it had made, while another one waits for it.
#[test]
fn a_parent_that_vanishes_while_one_waits_is_made_again() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("reports/spring");
    let work = begin(&target);
    let (said, hears) = std::sync::mpsc::channel();
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let place = Destination::of(&target, &[]).unwrap();
            let work = Workspace::begin(place, &mut |tries| says(&said, tries)).unwrap();
            work.write(&files("3")).unwrap().swap().unwrap().finish()
        });
        hears.recv().unwrap();
        drop(work);
    });
    assert_eq!(names(&target), ["cuts.csv", "plan.json"]);
}

/// Where files cannot have two names, copies stand in for them until the originals take their places.
#[cfg(unix)]
#[test]
fn originals_take_the_places_of_copies() {
    use super::super::home::{Originals, bring_home};
    use super::super::swap::number;
    let home = tempfile::tempdir().unwrap();
    let [old, new] = ["old", "new"].map(|name| home.path().join(name));
    for folder in [&old, &new] {
        fs::create_dir_all(folder.join("letters")).unwrap();
        put(&folder.join("photo.jpg"), "mine");
        put(&folder.join("letters/one.txt"), "dear");
        std::os::unix::fs::symlink("photo.jpg", folder.join("link")).unwrap();
    }
    put(&old.join("plan.json"), "1");
    put(&new.join("plan.json"), "2");
    // Too large for a copy.
    put(&old.join("film"), "film");
    let hers = ["photo.jpg", "letters", "letters/one.txt", "film", "link"];
    let numbers =
        |folder: &Path| hers.map(|name| number(&fs::symlink_metadata(folder.join(name)).unwrap()));
    let before = numbers(&old);
    let brought = bring_home(&old, &new, Originals::Go).unwrap();
    assert_eq!(numbers(&new), before);
    assert_eq!(brought.problems(&new, &new), Problems::new());
    assert_eq!(names(home.path()), ["new"]);
    assert_eq!(names(&new), ["film", "letters", "link", "photo.jpg", "plan.json"]);
    assert_eq!(fs::read_to_string(new.join("plan.json")).unwrap(), "2");
}

/// From one disk to another there is no second name.
#[cfg(target_os = "linux")]
#[test]
fn what_cannot_have_a_second_name_is_copied() {
    use std::os::unix::fs::MetadataExt;
    let Ok(other) = tempfile::tempdir_in("/dev/shm") else {
        println!("skipped: there is no second disk");
        return;
    };
    let home = tempfile::tempdir().unwrap();
    let disk = |folder: &Path| fs::metadata(folder).unwrap().dev();
    if disk(home.path()) == disk(other.path()) {
        println!("skipped: there is no second disk");
        return;
    }
    let (old, new) = (other.path().join("spring"), home.path().join("new"));
    with_hers(&old);
    fs::create_dir(&new).unwrap();
    File::create(old.join("film")).unwrap().set_len(64 * 1024 * 1024 + 1).unwrap();
    hers::link(&old, &new).unwrap();
    assert_eq!(names(&new), ["letters", "photo.jpg"]);
    assert_eq!(fs::read_to_string(new.join("letters/may/one.txt")).unwrap(), "dear");
}
