//! `cardwright plan --as-many`: a part of the order, where the paper is not enough for all.

use super::*;
use crate::messages::same;
use crate::program::files;

const ORDER: &str = "line,card,count,paper,due\ntags,6 x 6,6,fern,\nnames,6 x 6,3,fern,2031-05-03\n\
                     signs,12 x 12,1,fern,\n";
const SHEETS: &str = "sheet,paper,width,height,on hand\nfern-12,fern,12,12,2\n";

/// Two sheets, each enough for four cards, and an order of nine and a sign as large as a sheet.
fn short() -> Home {
    let home = Home::new();
    home.put("spring.csv", ORDER);
    home.put("sheets.csv", SHEETS);
    home.put("workshop.toml", "[spares]\npercent = 0\nat_least = 0\n");
    home
}

#[test]
fn as_many_are_planned_checked_and_settled() {
    let home = short();
    let answer = home.run("plan spring.csv");
    assert_eq!((answer.code, answer.out.as_str()), (Some(1), ""));
    let told = "  = help: can be made: all 3 names, 5 of 6 tags and none of 1 signs\n  \
                = help: `cardwright plan spring.csv --as-many` plans these\n";
    assert!(answer.err.ends_with(told), "{}", answer.err);
    assert!(!home.path("reports").exists());
    let answer = home.done("plan spring.csv --as-many");
    let told = "spring: 8 of 10 cards of 3 kinds can be made: all 3 names, 5 of 6 tags and none of 1 signs\n";
    assert!(answer.out.starts_with(told), "{}", answer.out);
    assert!(
        answer.err.starts_with(
            "warning[program-as-many]: the stock of fern is not enough; left out: 1 of 6 tags and \
             all 1 signs\n"
        ),
        "{}",
        answer.err
    );
    let origin: serde_json::Value =
        serde_json::from_str(&home.text("reports/spring/origin.json")).unwrap();
    assert_eq!(origin["copies"]["sets"], serde_json::json!({"signs": 0, "tags": 5}));
    for page in ["schedule.html", "offer.html"] {
        let text = home.text(&format!("reports/spring/{page}"));
        assert!(text.contains("all 3 names, 5 of 6 tags and none of 1 signs"), "{page}");
    }
    home.done("check reports/spring/plan.json");
    home.done("check spring.csv reports/spring/plan.json");
    home.done("settle reports/spring --on 2031-05-03");
    assert!(home.text("sheets.csv").ends_with(",0\n"));
    home.done("settle reports/spring --undo");
    assert_eq!(home.text("sheets.csv"), SHEETS);
}

/// A third and a fourth sheet are enough for all: then the option changes no byte.
#[test]
fn where_all_can_be_made_it_is_the_ordinary_plan() {
    let home = short();
    home.put("sheets.csv", SHEETS.replace(",2\n", ",4\n"));
    let answer = home.done("plan spring.csv");
    let plain = files(&home.path("reports/spring"));
    let again = home.done("plan spring.csv --as-many");
    assert_eq!((answer.out, answer.err), (again.out, again.err));
    assert_eq!(plain, files(&home.path("reports/spring")));
    assert!(!home.text("reports/spring/origin.json").contains("sets"));
}

#[test]
fn where_nothing_can_be_made_nothing_is_planned() {
    let home = short();
    home.put("spring.csv", "line,card,count,paper\nsigns,12 x 12,2,fern\n");
    home.put("workshop.toml", "[spares]\nat_least = 2\n");
    let answer = home.run("plan spring.csv --as-many");
    assert_eq!((answer.code, answer.out.as_str()), (Some(1), ""));
    let told = "  = help: can be made: no complete card; without spares all 2 signs\n";
    assert!(answer.err.ends_with(told), "{}", answer.err);
    assert!(!home.path("reports").exists());
}

/// What a note says that is made, is held against its order.
#[test]
fn a_note_that_makes_more_than_was_ordered_is_refused() {
    let home = short();
    home.done("plan spring.csv --as-many --quiet");
    let origin = home.text("reports/spring/origin.json");
    for (from, to) in [("\"tags\": 5", "\"tags\": 7"), ("\"tags\": 5", "\"cards\": 5")] {
        home.put("reports/spring/origin.json", origin.replace(from, to));
        for call in [
            "check reports/spring/plan.json",
            "check spring.csv reports/spring/plan.json",
            "settle reports/spring",
        ] {
            let answer = home.run(call);
            assert_eq!(answer.code, Some(1), "{call}: {}", answer.err);
            assert!(answer.err.contains("error[plan-sets]: "), "{call}: {}", answer.err);
        }
    }
    home.put("reports/spring/origin.json", &origin);
    home.put("spring.csv", ORDER.replace("tags,6 x 6,6", "tags,6 x 6,4"));
    let answer = home.run("check spring.csv reports/spring/plan.json");
    same(
        &answer.err,
        r"
error[plan-sets]: origin.json says that 5 sets of `tags` are made
 |
 = help: only 4 are ordered
 = help: plan the order again
",
    );
    home.done("settle reports/spring --on 2031-05-03");
}
