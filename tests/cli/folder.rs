//! The report folder: whole, or as it was.

use super::*;
use crate::program::files;

const REPORTS: [&str; 13] = [
    "buy.csv",
    "cuts.csv",
    "labels.pdf",
    "offcuts.csv",
    "offer.html",
    "offer.pdf",
    "origin.json",
    "pattern.svg",
    "pieces.csv",
    "plan.json",
    "quote.csv",
    "schedule.html",
    "schedule.pdf",
];

#[test]
fn an_old_report_is_replaced_whole_and_what_is_not_ours_stays() {
    let call = Call::of_tags("plan spring.csv")
        .file("reports/spring/plan.json", "{\"schema\": \"cardwright-plan-1\"}")
        .file("reports/spring/buy.csv", "of an earlier version")
        .file("reports/spring/photo.jpg", "mine");
    assert_eq!(call.run().code, Some(0));
    let mut expected = [REPORTS.as_slice(), &["photo.jpg"]].concat();
    expected.sort_unstable();
    assert_eq!(listing(&call.home.path("reports/spring")), expected);
    assert_ne!(call.home.text("reports/spring/plan.json"), "old");
    assert_eq!(call.home.text("reports/spring/photo.jpg"), "mine");
    assert_eq!(listing(&call.home.path("reports")), ["spring"]);
}

#[test]
fn planning_again_gives_the_same_folder() {
    let call = Call::of_tags("plan spring.csv");
    let [one, two] = [(); 2].map(|()| {
        assert_eq!(call.run().code, Some(0));
        files(&call.home.path("reports/spring"))
    });
    assert!(one == two);
}

#[test]
fn a_mistake_leaves_the_old_report() {
    let call = Call::of_tags("plan spring.csv");
    call.home.done("plan spring.csv");
    let before = files(&call.home.path("reports/spring"));
    call.home.put("spring.csv", "line,card,count,paper\ntag,2 x 3,twelve,fern\n");
    assert!(call.ends_with(1).starts_with("error[order-count]: "));
    assert!(files(&call.home.path("reports/spring")) == before);
}

#[test]
fn a_folder_that_is_named_is_taken_exactly() {
    let call = Call::of_tags("plan spring.csv --out a/b/c");
    let answer = call.run();
    assert!(answer.out.ends_with("\nSchedule: a/b/c/schedule.html\n"), "{}", answer.out);
    assert_eq!(listing(&call.home.path("a/b/c")), REPORTS);
    assert_eq!(call.names(), ["a", "sheets.csv", "spring.csv"]);
}

#[test]
fn several_orders_are_one_batch_of_one_folder() {
    let call = Call::of_tags("plan spring.csv summer.csv")
        .file("summer.csv", "line,card,count,paper\ntag,3 x 3,1,fern\n");
    assert!(call.run().out.starts_with("spring+summer: all 13 cards of 2 kinds can be made\n"));
    assert_eq!(listing(&call.home.path("reports/spring+summer")), REPORTS);
}

#[test]
fn a_folder_of_something_else_is_left_alone() {
    let call = Call::of_tags("plan spring.csv --out photos").file("photos/a.jpg", "mine");
    assert_eq!(
        call.refused().lines().last(),
        Some(" = help: name another folder with --out, or move away what is there")
    );
    assert_eq!(listing(&call.home.path("photos")), ["a.jpg"]);
}

#[test]
fn a_place_that_cannot_be_written_leaves_nothing() {
    let call = Call::of_tags("plan spring.csv --out sheets.csv/may");
    let before = call.home.text("sheets.csv");
    let err = call.refused();
    assert!(err.starts_with("error: cannot "), "{err}");
    assert!(err.ends_with(" = help: check that you may write there and that the disk has room\n"));
    assert_eq!(call.home.text("sheets.csv"), before);
}

/// The rights of a folder bind everyone but the system's master, who is not tried here.
#[cfg(unix)]
#[test]
fn a_folder_without_the_right_to_write_leaves_nothing() {
    use std::os::unix::fs::PermissionsExt;
    let call = Call::of_tags("plan spring.csv --out shut/may");
    let shut = call.home.path("shut");
    fs::create_dir(&shut).unwrap();
    let may = |mode| fs::set_permissions(&shut, fs::Permissions::from_mode(mode)).unwrap();
    may(0o555);
    if fs::File::create(shut.join("tried")).is_ok() {
        println!("skipped: this user may write everywhere");
        return;
    }
    let err = call.refused();
    assert!(err.starts_with("error: cannot write in "), "{err}");
    may(0o755);
    assert_eq!(listing(&shut), [""; 0]);
}
