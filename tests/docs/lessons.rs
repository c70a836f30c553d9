//! What the lessons in `examples/` claim, and what they propose to try.

use super::markdown::Page;
use crate::program::Home;
use cardwright::measure::{Length, LengthStyle, Unit};
use serde_json::Value;
use std::collections::BTreeMap;

/// The plan of an order of `examples/` after a change of its files: of what, what, and what instead.
fn plan(order: &str, changes: &[(&str, &str, &str)]) -> Value {
    let home = Home::with(&["examples"]);
    for (file, before, after) in changes {
        let (name, text) = (format!("examples/{file}"), home.text(&format!("examples/{file}")));
        assert!(text.contains(before), "{name} does not say {before}");
        home.put(&name, text.replace(before, after));
    }
    let answer = home.done(&format!("plan examples/{order} --json"));
    serde_json::from_str(&answer.out).unwrap()
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
    assert!(page.text.contains("comes down 7 times, and the gauge is set 3 times"));
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
