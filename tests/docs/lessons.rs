//! What the lessons in `examples/` claim, and what they propose to try.

use crate::program::Home;
use serde_json::Value;

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
