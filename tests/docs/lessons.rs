//! What the lessons in `examples/` claim, and what they propose to try.

use super::markdown::Page;
use crate::program::Home;
use cardwright::measure::{Length, LengthStyle, Unit};
use serde_json::Value;
use std::collections::BTreeMap;

/// A change of a file of `examples/`: of which, what, and what instead.
type Change<'a> = (&'a str, &'a str, &'a str);

/// The lessons after a change of their files.
fn changed(changes: &[Change]) -> Home {
    let home = Home::with(&["examples"]);
    for (file, before, after) in changes {
        let (name, text) = (format!("examples/{file}"), home.text(&format!("examples/{file}")));
        assert!(text.contains(before), "{name} does not say {before}");
        home.put(&name, text.replace(before, after));
    }
    home
}

/// The plan of an order after such a change.
fn plan(order: &str, changes: &[Change]) -> Value {
    let answer = changed(changes).done(&format!("plan examples/{order} --json"));
    serde_json::from_str(&answer.out).unwrap()
}

/// What the program says where it refuses something, which has to be on the page of the lesson word for word.
fn refused_as_told(home: &Home, command: &str, code: &str, lesson: &str) -> String {
    let answer = home.run(command);
    assert_eq!(answer.code, Some(1), "{}", answer.err);
    let head = format!("error[{code}]: ");
    let title = answer.err.lines().find_map(|line| line.strip_prefix(&head));
    let title = title.unwrap_or_else(|| panic!("{}", answer.err));
    let page = Page::read(&format!("examples/{lesson}/README.md")).text;
    let lines = page.lines().filter_map(|line| line.strip_prefix("> "));
    assert!(lines.collect::<Vec<_>>().join(" ").contains(title), "{lesson}: {title}");
    answer.err
}

/// Sheets of a paper that are bought.
fn packs(plan: &Value) -> Vec<(&str, u64)> {
    let sheets = plan["sheets"].as_array().unwrap().iter();
    let bought =
        sheets.map(|it| (it["id"].as_str().unwrap(), it["packs_bought"].as_u64().unwrap()));
    bought.filter(|(_, packs)| *packs > 0).collect()
}

fn count(plan: &Value, list: &str) -> usize {
    plan[list].as_array().unwrap().len()
}

#[test]
fn the_afternoon_cuts_its_three_odd_sheets() {
    let plan = plan("afternoon/tea.csv", &[]);
    assert_eq!((packs(&plan), &plan["totals"]["sheets_used"]), (vec![], &3.into()));
}

/// Who writes the open size, has it doubled once more.
#[test]
fn the_afternoon_with_open_sizes_is_refused_as_told() {
    let home = changed(&[("afternoon/tea.csv", "place,3 1/2 x 2,", "place,3 1/2 x 4,")]);
    let plan = "plan examples/afternoon/tea.csv";
    refused_as_told(&home, plan, "program-stock-short", "afternoon");
}

#[test]
fn the_afternoon_with_a_spare_says_what_would_do() {
    let home = changed(&[("afternoon/workshop.toml", "at_least = 0", "at_least = 1")]);
    let answer = home.run("plan examples/afternoon/tea.csv");
    assert!(answer.err.contains("1 more of `heather-odd`"), "{}", answer.err);
}

#[test]
fn the_wedding_from_the_shelf_buys_nothing_and_uses_the_drawer() {
    let plan = plan("on-the-shelf/harbour.csv", &[]);
    assert_eq!(packs(&plan), []);
    let sheets = plan["sheets"].as_array().unwrap();
    let strips = sheets.iter().find(|it| it["id"] == "brook-hen-01").unwrap();
    assert_eq!(strips["used"], 8);
}

#[test]
fn the_wedding_from_the_shelf_needs_large_paper_for_envelopes_as_told() {
    let home = changed(&[("on-the-shelf/harbour.csv", "brook,dove", "brook,brook")]);
    let plan = "plan examples/on-the-shelf/harbour.csv";
    refused_as_told(&home, plan, "piece-too-large", "on-the-shelf");
    let home = changed(&[("on-the-shelf/harbour.csv", "side,40,", "side,48,")]);
    let err = home.run(plan).err;
    assert!(err.contains("of `dove-12`") && err.contains("of `thistle-12`"), "{err}");
}

/// Two markets, planned and cut.
fn after_summer() -> Home {
    let home = Home::with(&["examples"]);
    for market in ["spring", "summer"] {
        home.done(&format!("plan examples/markets/{market}.csv --quiet"));
        home.done(&format!("settle reports/{market}"));
    }
    home
}

#[test]
fn autumn_is_cut_from_the_drawer_as_told() {
    let home = after_summer();
    let tags = |count: &str| {
        let file = "examples/markets/autumn.csv";
        home.put(
            file,
            format!("line,card,fold,count,paper\ntag,1 1/4 x 3,flat,{count},flint|petal\n"),
        );
        let plan = home.done(&format!("plan {file} --json")).out;
        let plan: Value = serde_json::from_str(&plan).unwrap();
        assert_eq!(packs(&plan), []);
        let full = plan["sheets"].as_array().unwrap().iter().filter(|it| it["kind"] == "sheet");
        full.map(|it| it["used"].as_u64().unwrap()).sum::<u64>()
    };
    assert_eq!(["60", "120", "200"].map(tags), [0, 0, 1]);
}

#[test]
fn a_market_that_was_planned_too_early_is_refused_as_told() {
    let home = Home::with(&["examples"]);
    for market in ["spring", "summer"] {
        home.done(&format!("plan examples/markets/{market}.csv --quiet"));
    }
    home.done("settle reports/spring");
    refused_as_told(&home, "settle reports/summer", "settle-unfit", "markets");
    let summer = plan("markets/summer.csv", &[]);
    assert_eq!(packs(&summer), [], "planned too early");
    let home = Home::with(&["examples"]);
    home.done("plan examples/markets/spring.csv --quiet");
    home.done("settle reports/spring");
    let summer = home.done("plan examples/markets/summer.csv --json").out;
    assert_eq!(packs(&serde_json::from_str(&summer).unwrap()), [("flint-12", 5)]);
}

#[test]
fn the_smallest_job_takes_one_sheet() {
    let as_it_is = plan("smallest/swap.csv", &[]);
    assert_eq!((packs(&as_it_is), &as_it_is["totals"]["sheets_used"]), (vec![], &1.into()));
    assert_eq!(count(&as_it_is, "offcuts"), 1);
    assert_eq!(as_it_is["proof"][0]["stock"]["status"], "optimal");
}

/// The areas that the page tells, in square inches, and what is in the drawer.
#[test]
fn the_smallest_job_fills_its_sheet_as_told() {
    let plan = plan("smallest/swap.csv", &[]);
    let inch = plan["ticks_per_mm"].as_u64().unwrap() * 254 / 10;
    let sixteenths = |area: &str| {
        let ticks: u128 = plan["totals"][area].as_str().unwrap().parse().unwrap();
        ticks * 16 / u128::from(inch).pow(2)
    };
    let found = ["sheet_area", "piece_area", "offcut_area", "waste_area"].map(sixteenths);
    assert_eq!(found, [108 * 16, 94 * 16 + 11, 11 * 16 + 4, 2 * 16 + 1]);
    let kept = &plan["offcuts"][0];
    let quarters = ["width", "height"].map(|side| kept[side].as_u64().unwrap() * 4 / inch);
    assert_eq!(quarters, [9 * 4, 5]);
    let page = Page::read("examples/smallest/README.md").text;
    let told = "94 11/16 of the sheet's 108 square inches, the offcut 11 1/4 and the waste 2 1/16";
    assert!(page.split_whitespace().collect::<Vec<_>>().join(" ").contains(told));
}

/// One setting serves the strip of labels and the labels.
#[test]
fn the_smallest_job_shares_a_setting_as_told() {
    let home = Home::with(&["examples"]);
    home.done("plan examples/smallest/swap.csv --quiet");
    let cuts = home.text("reports/swap/cuts.csv");
    let column = |title: &str| -> Vec<String> {
        let mut rows = cuts.lines().map(|row| row.split(',').map(str::to_owned));
        let at = rows.next().unwrap().position(|known| known == title).unwrap();
        rows.map(|mut row| row.nth(at).unwrap()).collect()
    };
    let page = Page::read("examples/smallest/README.md");
    let told = page.table("The smallest real job", "gauge");
    let told: Vec<&String> = told.iter().map(|row| &row[0]).collect();
    assert_eq!(column("gauge").iter().collect::<Vec<_>>(), told);
    assert_eq!(column("new setting"), ["yes", "yes", "no", "yes"]);
    assert_eq!(column("strokes"), ["2", "1", "3", "1"]);
    assert!(page.text.contains("That is 7 cuts, 3 gauge settings."));
}

#[test]
fn the_smallest_job_with_a_larger_keep_rule_keeps_nothing() {
    let changes = [("smallest/workshop.toml", "short = \"1 in\"", "short = \"1 1/2 in\"")];
    assert_eq!(count(&plan("smallest/swap.csv", &changes), "offcuts"), 0);
}

#[test]
fn the_smallest_job_with_one_label_more_buys_a_sheet() {
    let changes = [("smallest/swap.csv", "flat,3,", "flat,4,")];
    assert_eq!(packs(&plan("smallest/swap.csv", &changes)), [("barley-9", 1)]);
}

#[test]
fn the_metric_lesson_shares_two_papers_and_else_buys_one() {
    assert_eq!(packs(&plan("metric/seating.csv", &[])), []);
    let changes = [("metric/seating.csv", "larch|moss", "larch")];
    assert_eq!(packs(&plan("metric/seating.csv", &changes)), [("larch-a4", 1)]);
}

/// The sizes that the page of the keepsake tells, by part.
#[test]
fn the_keepsake_has_all_its_parts() {
    let plan = plan("keepsake/keepsake.csv", &[]);
    let length = |ticks: &Value| {
        let style = LengthStyle { unit: Unit::Inch, graduation: Length::from_inch_parts(1, 16) };
        style.number(Length::from_ticks(ticks.as_i64().unwrap()))
    };
    let mut sizes: BTreeMap<String, String> = BTreeMap::new();
    let keepsake = |piece: &&Value| piece["line"] == "keepsake";
    for piece in plan["pieces"].as_array().unwrap().iter().filter(keepsake) {
        let size = format!("{} x {} in", length(&piece["width"]), length(&piece["height"]));
        sizes.insert(piece["part"].as_str().unwrap().to_owned(), size);
    }
    let page = Page::read("examples/keepsake/README.md").text;
    let parts = ["base", "liner", "insert", "band", "envelope", "envelope-liner", "box"];
    assert_eq!(sizes.len(), parts.len());
    for part in parts {
        assert!(page.contains(&format!("| {}", sizes[part])), "{part} is {}", sizes[part]);
    }
}

#[test]
fn the_keepsake_is_upside_down_inside_where_its_back_is_tumbled() {
    let home = Home::with(&["examples"]);
    let told = || home.run("check examples/keepsake/keepsake.csv").err;
    assert_eq!(told(), "");
    let sheets = "examples/keepsake/sheets.csv";
    home.put(sheets, home.text(sheets).replace("one-way/one-way", "one-way/tumbled"));
    assert!(told().starts_with("warning[piece-inside-inverted]"), "{}", told());
}
