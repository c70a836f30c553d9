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
    let as_it_is = plan("smallest/pair.csv", &[]);
    assert_eq!((packs(&as_it_is), &as_it_is["totals"]["sheets_used"]), (vec![], &1.into()));
    assert_eq!(count(&as_it_is, "offcuts"), 1);
}

#[test]
fn the_smallest_job_with_a_larger_keep_rule_keeps_nothing() {
    let changes = [("smallest/workshop.toml", "short = \"1 in\"", "short = \"1 1/8 in\"")];
    assert_eq!(count(&plan("smallest/pair.csv", &changes), "offcuts"), 0);
}

#[test]
fn the_smallest_job_with_one_card_more_buys_a_sheet() {
    let changes = [("smallest/pair.csv", "3 x 3,side,2", "3 x 3,side,3")];
    assert_eq!(packs(&plan("smallest/pair.csv", &changes)), [("snow-12", 1)]);
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
