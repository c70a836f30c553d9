//! What is said of what an earlier plan left that was cut off. The program itself is killed in `kill.rs`.

use super::*;
use crate::messages::same;

/// The folder of this name put away as if it were the old one of a plan that was cut off.
fn put_away(home: &Home, slot: &str) {
    fs::create_dir_all(home.path(&format!("reports/.cardwright/{slot}"))).unwrap();
    let away = home.path(&format!("reports/.cardwright/{slot}/spring"));
    fs::rename(home.path("reports/spring"), away).unwrap();
}

/// What the next plan says, which leaves nothing.
#[track_caller]
fn next(home: &Home) -> String {
    let answer = home.done("plan spring.csv --quiet");
    assert_eq!(answer.out, "");
    assert_eq!(listing(&home.path("reports")), ["spring"]);
    for (name, text) in HERS {
        assert_eq!(home.text(&format!("reports/spring/{name}")), text);
    }
    assert_eq!(home.run("plan spring.csv --quiet").err, "", "told once");
    answer.err
}

#[test]
fn half_a_folder() {
    let home = planned("plan spring.csv --quiet");
    home.put("reports/.cardwright/new/plan.json", "{");
    same(
        &next(&home),
        r"
warning[folder-restored]: an earlier plan was interrupted while it wrote reports in reports
 |
 = help: its unfinished files are gone: every report folder is as it was before that plan
",
    );
}

#[test]
fn a_folder_that_was_moved_away() {
    let home = planned("plan spring.csv --quiet");
    put_away(&home, "old");
    same(
        &next(&home),
        r"
warning[folder-restored]: an earlier plan was interrupted while it replaced reports/spring
 |
 = help: the folder is back as it was before that plan
",
    );
}

#[test]
fn a_folder_that_was_replaced() {
    let home = planned("plan spring.csv --quiet");
    put_away(&home, "1");
    home.put("reports/spring/plan.json", r#"{"schema": "cardwright-plan-1"}"#);
    same(
        &next(&home),
        r"
warning[folder-restored]: an earlier plan was interrupted after it had replaced reports/spring
 |
 = help: its reports are complete, and the old ones are gone
 = help: moved over from the old folder: letters and photo.jpg
",
    );
}

/// A folder that is named by its path is told by it.
#[test]
fn in_this_folder() {
    let home = workshop();
    home.done("plan spring.csv --quiet --out may");
    home.put(".cardwright/new/plan.json", "{");
    let told = home.done("plan spring.csv --quiet --out may").err;
    assert!(
        told.starts_with(
            "warning[folder-restored]: an earlier plan was interrupted while it wrote reports in .\n"
        ),
        "{told}"
    );
}

#[test]
fn two_versions_of_a_file() {
    let home = planned("plan spring.csv --quiet");
    put_away(&home, "1");
    home.put("reports/spring/plan.json", r#"{"schema": "cardwright-plan-1"}"#);
    home.put("reports/.cardwright/1/spring/letters/two.txt", "dear, but not to the end");
    // The other one is newer, for any disk.
    std::thread::sleep(std::time::Duration::from_millis(20));
    for (name, text) in HERS {
        home.put(&format!("reports/spring/{name}"), text);
    }
    let told = home.done("plan spring.csv --quiet").err;
    let first = r"warning[folder-both]: reports/spring/letters/two.txt changed while the reports were replaced
 |
 = help: the other version is reports/spring/letters/two (2).txt: keep the one you want
";
    assert!(told.starts_with(first), "{told}");
    let text = |name: &str| home.text(&format!("reports/spring/letters/{name}"));
    assert_eq!([text("two.txt"), text("two (2).txt")], ["dear", "dear, but not to the end"]);
    assert_eq!(listing(&home.path("reports")), ["spring"]);
}

#[cfg(unix)]
#[test]
fn what_cannot_be_cleared_away() {
    let home = planned("plan spring.csv --quiet");
    home.put("reports/.cardwright/mine.txt", "mine");
    let told = home.done("plan spring.csv --quiet").err;
    let room = home.path("reports/.cardwright").canonicalize().unwrap();
    same(
        &told.replace(&room.display().to_string(), "ROOM"),
        r"
warning[folder-left]: what is in reports/.cardwright could not be cleared away
 |
 = help: cannot remove ROOM: Directory not empty (os error 39)
 = help: your own files are there or in the report folder; the next plan tries again
"
        .replace("39)", if cfg!(target_os = "linux") { "39)" } else { "66)" })
        .as_str(),
    );
    assert_eq!(home.text("reports/.cardwright/mine.txt"), "mine");
    assert_eq!(listing(&home.path("reports/.cardwright")), ["mine.txt"]);
}
