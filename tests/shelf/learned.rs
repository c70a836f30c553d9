//! How long jobs took: kept in the journal, and what the next plan says of it.

use super::*;
use serde_json::Value;

/// The last line that a plan says.
fn last_line(home: &Home, order: &str) -> String {
    let out = said(home, &format!("plan {order}"));
    out.lines().last().unwrap_or_default().to_owned()
}

/// Seconds that the schedule tells for a stage, and the entry that says how long it took.
fn entry(home: &Home, arguments: &str) -> Value {
    let told = said(home, &format!("settle reports/spring {arguments} --json --on 2031-05-09"));
    serde_json::from_str::<Value>(&told).unwrap()["event"]["settled"].clone()
}

/// The usual rates tell 6 s a fold. Three times as long is 18 s, and a stage that took as long as told is left alone.
#[test]
fn the_next_plan_proposes_what_the_last_jobs_took() {
    let home = planned();
    assert!(last_line(&home, "spring.csv").starts_with("Schedule: "));
    let settled = entry(&home, "--hours pack=1");
    let work = &settled["work"]["pack"];
    let planned = work["planned"].as_u64().unwrap();
    assert_eq!((work["took"].as_u64(), work["rates"]["pack"].as_u64()), (Some(3600), Some(15)));
    // By arithmetic, to the nearest second.
    let new = (2 * 15 * 3600 + planned) / (2 * planned);
    let expected = format!(
        "In your last job, packing took {new} s, not 15: `pack = {new}` under [rates.seconds] in workshop.toml would say so."
    );
    assert_eq!(last_line(&home, "summer.csv"), expected);
    // Once the bench says so, there is nothing to propose.
    home.put("workshop.toml", format!("[rates.seconds]\npack = {new}\n"));
    assert!(last_line(&home, "summer.csv").starts_with("Schedule: "));
}

/// Told later, what is taken back counts no more.
#[test]
fn hours_are_told_afterwards_and_taken_back() {
    let home = planned();
    said(&home, "settle reports/spring --on 2031-05-09");
    said(&home, "settle reports/spring --hours cut=5 --on 2031-05-10");
    let told = last_line(&home, "summer.csv");
    assert!(
        told.starts_with("In your last job, cutting took ") && told.contains("`gauge = "),
        "{told}"
    );
    said(&home, "settle reports/spring --undo --on 2031-05-11");
    assert!(last_line(&home, "summer.csv").starts_with("Schedule: "));
}

#[test]
fn hours_are_understood_or_refused() {
    let home = planned();
    let refused = refusal(&home, "settle reports/spring --hours fold=1,fold=2");
    assert!(refused.contains("[settle-hours]: fold is named twice"), "{refused}");
    for hours in ["iron=2", "fold", "fold=-1", "fold=some"] {
        let answer = home.run(&format!("settle reports/spring --hours {hours}"));
        assert_eq!(answer.code, Some(2), "{hours}");
        assert!(answer.err.contains("stages are cut, score, fold, "), "{}", answer.err);
    }
}
