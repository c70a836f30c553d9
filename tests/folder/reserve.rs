//! Reports and the paper that is set aside for them: both or neither.

use super::*;

#[test]
fn a_folder_that_cannot_be_sets_nothing_aside() {
    let home = workshop();
    home.put("may", "a file");
    for folder in ["may", "may/spring", "sheets.csv"] {
        let err = refused(&home, &format!("plan spring.csv --reserve --out {folder}"), 2);
        assert!(err.starts_with("error: "), "{err}");
    }
    assert_eq!(set_aside(&home), 0);
    home.done("plan spring.csv --reserve --quiet");
    assert_eq!(set_aside(&home), 2);
}

/// Paper that is set aside for an earlier plan stays so where the next one cannot be written.
#[test]
fn a_folder_that_fails_leaves_what_was_set_aside() {
    let home = planned("plan spring.csv --reserve --quiet");
    home.put("spring.csv", MANY);
    home.put("reports/spring/templates.svg/mine.txt", "mine");
    refused(&home, "plan spring.csv --reserve", 2);
    assert_eq!(set_aside(&home), 2);
}

/// A disk with ever less room, down to where everything but the last step succeeds.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_changes_nothing() {
    let Some(disk) = crate::program::SmallDisk::new(4096) else {
        println!("skipped: this user may not make a small disk");
        return;
    };
    for has_old in [true, false] {
        let home = Home::on(disk.path());
        for (name, text) in
            [("spring.csv", FEW), ("sheets.csv", SHEETS), ("workshop.toml", NO_SPARES)]
        {
            home.put(name, text);
        }
        if has_old {
            home.done("plan spring.csv --quiet");
            home.put("reports/spring/photo.jpg", "mine");
        }
        home.put("spring.csv", MANY);
        // Where it is written for the first time, the lock takes no room, and the journal takes a page.
        let before = tree(&home.path(""));
        let ends_well = |pages: u64| {
            disk.fill(pages * 4096);
            let answer = home.run("plan spring.csv --reserve --quiet");
            let mut now = tree(&home.path(""));
            if answer.code == Some(0) {
                return Ok(());
            }
            assert_eq!(answer.code, Some(2), "{}", answer.err);
            assert!(answer.err.contains("No space left on device"), "{}", answer.err);
            // An empty file, of which nothing is read. A journal that was begun for this is gone again.
            let lock = now.remove(".shelf.lock");
            assert!(lock.is_none_or(|it| it == Some(Vec::new())));
            assert!(now == before, "{pages} pages: {}", answer.err);
            Err(answer.err)
        };
        let (mut fails, mut works) = (0, 1024);
        let mut last = ends_well(fails).unwrap_err();
        while works - fails > 1 {
            let middle = (fails + works) / 2;
            match ends_well(middle) {
                Ok(()) => {
                    works = middle;
                    restore(&home.path(""), &before);
                }
                Err(err) => (fails, last) = (middle, err),
            }
        }
        assert!(last.contains("shelf.jsonl"), "the journal is not what failed last: {last}");
        ends_well(works).unwrap();
        assert_eq!(set_aside(&home), 3);
    }
}

/// Everything as it was.
fn restore(folder: &Path, before: &Tree) {
    for name in listing(folder) {
        let path = folder.join(name);
        if path.is_dir() {
            fs::remove_dir_all(path).unwrap()
        } else {
            fs::remove_file(path).unwrap()
        }
    }
    for (name, bytes) in before {
        if let Some(bytes) = bytes {
            crate::program::put(&folder.join(name), bytes);
        }
    }
}
