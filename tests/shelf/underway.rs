//! A batch that is under way, as its card maker tells it: steps, what was spoiled, the rest.

use super::*;
use crate::messages::same;
use serde_json::Value;
use std::fs;

fn settled_up_to(step: &str) -> Home {
    let home = planned();
    said(&home, &format!("settle reports/spring --done {step} --on 2031-05-09"));
    home
}

/// Stacks wait in the drawer under names of their own, set aside for the batch.
#[test]
fn stacks_wait_in_the_drawer() {
    let home = planned();
    let told = said(&home, "settle reports/spring --done 2 --on 2031-05-09");
    same(
        &told,
        "
spring: settled up to step 2: 1 sheet cut, 6 sheets bought, 2 stacks wait there

  sheet    size        was  bought  cut  kept  now
  fern-12  12 x 12 in    1       1               2
  moss-12  12 x 12 in    0       5    1          4

  offcut         size       was  bought  cut  kept  now
  moss-spring-B  5 x 12 in    0                  1    1
  moss-spring-D  7 x 7 in     0                  1    1

Entry 2 of shelf.jsonl

Write its name on each stack: it is set aside for this batch.
Go on by the same schedule, or plan what is left: `cardwright plan spring.csv --rest`
",
    );
    let shelf = said(&home, "shelf --on 2031-05-09");
    assert!(shelf.ends_with("\nSet aside for spring\n"), "{shelf}");
    let history = said(&home, "shelf history");
    let line = "spring settled up to step 2: 6 bought, 1 cut, 2 stacks waiting\n";
    assert!(history.contains(line), "{history}");
    // No other batch gets them: with the sheets that are left, a third note more cannot be made of them.
    home.put("other.csv", "line,card,count,paper\nnote,5 x 7,24,moss\n");
    let other: Value = serde_json::from_str(&home.done("plan other.csv --json").out).unwrap();
    let used = other["sheets"].as_array().unwrap().iter().map(|it| it["id"].as_str().unwrap());
    assert_eq!(used.collect::<Vec<_>>(), ["moss-12"]);
}

/// On by the same schedule: what waited is fetched, and everything is as if it had been settled at once.
#[test]
fn the_same_schedule_goes_on() {
    let home = settled_up_to("2");
    for step in ["3", "5", "8"] {
        said(&home, &format!("settle reports/spring --done {step} --on 2031-05-09"));
    }
    let by_steps = stock(&home);
    let history = said(&home, "shelf history");
    assert!(history.contains("spring settled up to step 5: 2 cut, "), "{history}");
    assert!(history.contains("spring settled: "), "{history}");
    for _ in 0..4 {
        said(&home, "settle reports/spring --undo");
    }
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
    said(&home, "settle reports/spring --on 2031-05-09");
    let sorted = |text: &str| {
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        lines.sort();
        lines
    };
    let at_once = stock(&home);
    assert_eq!(sorted(&at_once.0), sorted(&by_steps.0));
    assert_eq!(sorted(&at_once.1), sorted(&by_steps.1));
}

#[test]
fn the_rest_is_a_report_of_its_own() {
    let home = settled_up_to("3");
    let before = home.text("reports/spring/plan.json");
    let told = said(&home, "plan spring.csv --rest");
    assert!(told.starts_with("spring: the rest can be made: 51 of 53 pieces to cut\n"), "{told}");
    assert!(told.contains("\n  Before 2 pieces cut; 6.10 USD spent, "), "{told}");
    assert!(told.contains("\n  Buy    nothing\n"), "{told}");
    assert!(told.ends_with("\nSchedule: reports/spring-2/schedule.html\n"), "{told}");
    assert_eq!(home.text("reports/spring/plan.json"), before, "a report in use stays");
    let plan: Value = serde_json::from_str(&home.text("reports/spring-2/plan.json")).unwrap();
    let note =
        plan["pieces"].as_array().unwrap().iter().find(|it| it["id"] == "note.card").unwrap();
    assert_eq!((&note["need"], &note["done"], &note["cut"]), (&4.into(), &2.into(), &3.into()));
    assert!(crate::bench::schema_faults(&plan).is_empty());
    home.done("check reports/spring-2/plan.json");
    home.done("check spring.csv reports/spring-2/plan.json");
    let page = home.text("reports/spring-2/schedule.html");
    assert!(page.contains("This is part 2 of spring."), "what this part is");
    let pieces = home.text("reports/spring-2/pieces.csv");
    assert!(pieces.starts_with("piece,") && pieces.contains("cut before"), "{pieces}");
    // Planned again, it is the same report: nothing of it is settled yet.
    said(&home, "plan spring.csv --rest --quiet");
    assert!(!home.path("reports/spring-3").exists());
    said(&home, "settle reports/spring-2 --done 1 --on 2031-05-10");
    said(&home, "plan spring.csv --rest --quiet");
    said(&home, "settle reports/spring-3 --on 2031-05-11");
    let shelf = said(&home, "shelf --on 2031-05-11");
    assert!(!shelf.contains("Set aside"), "{shelf}");
    for report in ["spring-3", "spring-2", "spring"] {
        said(&home, &format!("settle reports/{report} --undo"));
    }
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
}

/// What is found spoiled in an earlier part is recorded with the report of the rest.
#[test]
fn a_spoiled_piece_of_before_is_told_with_the_rest() {
    let home = settled_up_to("5");
    said(&home, "plan spring.csv --rest --quiet");
    said(&home, "settle reports/spring-2 --done 1 --on 2031-05-10");
    same(
        &refusal(&home, "settle reports/spring --done 5 --spoiled note=1"),
        r#"
error[settle-past]: the rest of spring was settled since, as entry 4
 |
 = help: this report is finished with: what comes next is recorded with the report of the rest
 = help: what you found spoiled since too: `cardwright settle reports/spring-2 --done STEP --spoiled "PIECE=COUNT"`
"#,
    );
    let told =
        said(&home, "settle reports/spring-2 --done 1 --spoiled note.card=1 --on 2031-05-10");
    assert!(told.contains("spoiled"), "{told}");
}

/// Once all is made, the same cards can be made again, under the old names.
#[test]
fn what_is_made_can_be_made_again() {
    let home = settled_up_to("3");
    said(&home, "plan spring.csv --rest --quiet");
    said(&home, "settle reports/spring-2 --on 2031-05-10");
    home.put("sheets.csv", SHEETS);
    let told = said(&home, "plan spring.csv");
    assert!(told.starts_with("spring: all 49 cards of 2 kinds can be made\n"), "{told}");
    said(&home, "settle reports/spring --done 1 --on 2031-05-11");
    let told = said(&home, "plan spring.csv --rest");
    assert!(told.starts_with("spring: the rest can be made: 53 of 53 pieces to cut\n"), "{told}");
    assert!(told.ends_with("\nSchedule: reports/spring-2/schedule.html\n"), "{told}");
}

/// Spoilage uses spares up first; beyond them, it is made again.
#[test]
fn what_is_spoiled_is_made_again() {
    let home = planned();
    said(&home, "settle reports/spring --spoiled tag.card=3 --on 2031-05-09");
    let done = home.run("plan spring.csv --rest");
    assert!(
        done.err.starts_with("error[rest-done]: nothing is left to cut of spring\n"),
        "{}",
        done.err
    );
    said(&home, "settle reports/spring --spoiled tag.card=2,note.card=1 --on 2031-05-09");
    let told = said(&home, "plan spring.csv --rest");
    assert!(told.starts_with("spring: the rest can be made: 2 of 49 pieces to cut\n"), "{told}");
    assert!(told.contains("\n  Before 53 pieces cut, 6 spoiled; "), "{told}");
    let history = said(&home, "shelf history");
    assert!(history.contains(", 3 pieces spoiled\n"), "{history}");
    same(
        &refusal(&home, "settle reports/spring --spoiled tag.card=2,note.card=1"),
        r"
error[settle-twice]: the same was spoiled in entry 4 already
 |
 = help: if as much was spoiled once more, take that entry back with `--undo`
 = help: then settle again with the sum
",
    );
    said(&home, "settle reports/spring --undo");
    said(&home, "settle reports/spring --undo");
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
}

#[test]
fn sheets_of_a_stack_can_be_spoiled() {
    let home = settled_up_to("7");
    said(&home, "settle reports/spring --done 7 --spoiled H=2 --on 2031-05-09");
    // Twelve tags are lost, and three were spare.
    let told = said(&home, "plan spring.csv --rest --json");
    let plan: Value = serde_json::from_str(&told).unwrap();
    let tag = plan["pieces"].as_array().unwrap().iter().find(|it| it["id"] == "tag.card").unwrap();
    assert_eq!((&tag["spoiled"], &tag["cut"]), (&12.into(), &45.into()));
}

#[test]
fn a_count_may_change_and_a_line_may_come() {
    let home = settled_up_to("8");
    home.put("spring.csv", SPRING.replace(",45,", ",60,") + "late,2 x 3,6,fern\n");
    let told = said(&home, "plan spring.csv --rest");
    assert!(told.starts_with("spring: the rest can be made: "), "{told}");
    let plan: Value = serde_json::from_str(&home.text("reports/spring-2/plan.json")).unwrap();
    let tag = &plan["pieces"][1];
    assert_eq!((&tag["id"], &tag["done"]), (&"tag.card+late.card".into(), &48.into()));
}

#[test]
fn a_line_that_changed_its_size_is_an_error() {
    let home = settled_up_to("8");
    home.put("spring.csv", SPRING.replace("2 x 3", "2 x 4"));
    same(
        &refusal(&home, "plan spring.csv --rest"),
        r"
error[rest-changed]: tag.card changed after cutting began
 --> spring.csv:2:14
  |
2 | tag,2 x 4,45,fern
  |              ^^^^ 48 pieces of it are cut with another size or paper
  |
  = help: give the line its size and papers back, and order the new cards in a line of their own
",
    );
    assert!(!home.path("reports/spring-2").exists());
    home.put("spring.csv", SPRING.replace("tag,", "label,"));
    let answer = home.done("plan spring.csv --rest --quiet");
    same(
        &answer.err,
        r"
warning[rest-gone]: tag.card is no longer in the order
 |
 = help: 48 pieces of it are cut: left over
 = help: if you renamed the line, give it its old name
",
    );
}

#[test]
fn what_cannot_be_is_refused_and_changes_nothing() {
    let home = planned();
    let told = |arguments: &str, expected: &str| same(&refusal(&home, arguments), expected);
    told(
        "settle reports/spring --done 99",
        r"
error[settle-step]: the schedule of spring has no step 99
 |
 = help: its last one is step 8
",
    );
    told(
        "settle reports/spring --done 1:9",
        r"
error[settle-step]: step 1 has 1 lift
 |
 = help: for all of it, write `--done 1`
",
    );
    told(
        "settle reports/spring --done 1 --spoiled tag.card=3",
        r"
error[settle-spoiled]: `tag.card` has 0 good pieces, not 3
 |
 = help: nothing is finished yet
",
    );
    told(
        "plan spring.csv --rest",
        r"
error[rest-none]: nothing of spring is settled yet
 |
 = help: plan it without `--rest`
 = help: or record first what is cut: `cardwright settle REPORT --done STEP`
",
    );
    told(
        "settle reports/spring --spoiled A=1",
        r"
error[settle-spoiled]: there is no piece `A`
 |
 = help: you can name tag.card (48) and note.card (5)
 = help: for 1 sheet of stack A, say how far you came: `--done STEP`
",
    );
    told(
        "settle reports/spring --spoiled tag.card=49",
        r"
error[settle-spoiled]: `tag.card` has 48 good pieces, not 49
 |
 = help: you can name tag.card (48) and note.card (5)
",
    );
    told(
        "settle reports/spring --done 3 --spoiled tag.card=1,tag.card=2",
        r"
error[settle-spoiled]: tag.card is named twice
 |
 = help: add up what was spoiled of it
",
    );
}

#[test]
fn steps_are_not_mixed_with_runs_nor_gone_back() {
    let home = settled_up_to("3");
    let told = |home: &Home, arguments: &str, expected: &str| {
        same(&refusal(home, arguments), expected);
    };
    told(
        &home,
        "settle reports/spring --done 3",
        r"
error[settle-step]: spring is settled up to step 3 already
 |
 = help: `--done` counts from the first step: name a later one
 = help: or take the last part back first, with `--undo`
",
    );
    told(
        &home,
        "settle reports/spring --partly R1=1",
        r"
error[settle-mixed]: part of spring is settled by steps
 |
 = help: settle the rest with `--done`, or all of it without an option
",
    );
    told(
        &home,
        "settle reports/spring --done 3 --spoiled Z=1",
        r"
error[settle-spoiled]: there is no piece and no waiting stack `Z`
 |
 = help: you can name D (1) and note.card (2)
",
    );
    let answer = home.run("plan spring.csv");
    assert_eq!((answer.code, answer.out.as_str()), (Some(2), ""));
    same(
        &answer.err,
        r"
error: reports/spring is in use: part of it is settled
 = help: plan what is left with --rest, or all of it again with --out, such as --out reports/spring-2
",
    );
    let by_runs = planned();
    said(&by_runs, "settle reports/spring --partly R1=1 --on 2031-05-09");
    told(
        &by_runs,
        "settle reports/spring --done 3",
        r"
error[settle-mixed]: part of spring is settled by runs
 |
 = help: settle the rest with `--partly`, or take that part back first, with `--undo`
",
    );
    // The rest after runs is known as well.
    let told = said(&by_runs, "plan spring.csv --rest");
    assert!(told.starts_with("spring: the rest can be made: 29 of 53 pieces to cut\n"), "{told}");
}

/// Too little paper today: as many as it makes, and the rest when more has come.
#[test]
fn what_the_paper_was_not_enough_for_is_the_rest() {
    let home = Home::new();
    home.put("class.csv", "line,card,count,paper\nname,3 x 4,30,fern\n");
    home.put("workshop.toml", "[spares]\npercent = 0\nat_least = 0\n");
    let sheets =
        |count: u64| format!("sheet,paper,width,height,on hand\nfern-12,fern,12,12,{count}\n");
    home.put("sheets.csv", sheets(2));
    let planned = home.done("plan class.csv --as-many").out;
    assert!(planned.starts_with("class: 24 of 30 cards can be made\n"), "{planned}");
    let told = said(&home, "settle reports/class --on 2031-05-09");
    let next = "Plan what is missing: `cardwright plan class.csv --rest`\n";
    assert!(told.ends_with(next), "{told}");
    let short = home.run("plan class.csv --rest");
    assert!(short.err.contains("error[piece-paper-none]"), "{}", short.err);
    home.put("sheets.csv", sheets(1));
    let rest = said(&home, "plan class.csv --rest");
    assert!(rest.starts_with("class: the rest can be made: 6 of 30 pieces to cut\n"), "{rest}");
    said(&home, "settle reports/class-2 --on 2031-05-10");
    assert!(home.run("plan class.csv --rest").err.contains("error[rest-done]"));
}

/// A stack that somebody has taken is missed.
#[test]
fn a_stack_that_is_gone_is_missed() {
    let home = settled_up_to("2");
    let drawer = home.text("offcuts.csv");
    let without: String =
        drawer.split_inclusive('\n').filter(|row| !row.starts_with("moss-spring-B;")).collect();
    home.put("offcuts.csv", without);
    same(
        &refusal(&home, "settle reports/spring --done 3"),
        r"
error[settle-changed]: the stack `moss-spring-B` has 0 in the drawer, not 1
 |
 = help: the rest of the schedule is cut from it
 = help: if it was used for something else, plan the rest: `plan ORDER --rest`

error[settle-unfit]: the plan of spring no longer fits the shelf
 |
 = help: plan the order again, or correct the files

2 errors
",
    );
    said(&home, "plan spring.csv --rest --quiet");
}

/// What a report says of steps and of what was done before is held against the schedule and the journal.
#[test]
fn a_report_that_says_otherwise_is_not_believed() {
    let home = planned();
    let origin = home.text("reports/spring/origin.json");
    let mut other: Value = serde_json::from_str(&origin).unwrap();
    other["steps"] = "0".repeat(64).into();
    home.put("reports/spring/origin.json", other.to_string());
    same(
        &refusal(&home, "settle reports/spring --done 3"),
        r"
error[settle-steps]: the report of spring does not say its steps
 |
 = help: it was made by another version of Cardwright
 = help: settle by runs, with `--partly`
",
    );
    home.put("reports/spring/origin.json", &origin);
    said(&home, "settle reports/spring --done 5 --on 2031-05-09");
    said(&home, "plan spring.csv --rest --quiet");
    let rest = home.text("reports/spring-2/origin.json");
    let lie = |change: &dyn Fn(&mut Value)| {
        let mut other: Value = serde_json::from_str(&rest).unwrap();
        change(&mut other);
        home.put("reports/spring-2/origin.json", other.to_string());
        refusal(&home, "settle reports/spring-2")
    };
    // More was done before, or the rest of nothing: the plan does not fit, or the journal.
    let more = lie(&|it| it["copies"]["before"]["pieces"][0]["finished"] = 40.into());
    assert!(more.contains("error[plan-fault]"), "{more}");
    for (key, value) in [("spent", 1.into()), ("seconds", 0.into())] {
        let other = lie(&|it| it["copies"]["before"][key] = Value::clone(&value));
        assert!(other.contains("error[settle-past]"), "{other}");
    }
    let foreign = lie(&|it| it["rest_of"] = "0".repeat(64).into());
    assert!(foreign.contains("error[settle-past]"), "{foreign}");
    home.put("reports/spring-2/origin.json", &rest);
    said(&home, "settle reports/spring --undo");
    let late = refusal(&home, "settle reports/spring-2");
    assert!(late.contains("error[settle-past]"), "{late}");
}

/// An entry of an earlier version does not say what was finished.
#[test]
fn an_entry_of_an_earlier_version_says_nothing_of_pieces() {
    let home = planned();
    said(&home, "settle reports/spring --partly R1=1 --on 2031-05-09");
    let journal = home.text("shelf.jsonl");
    let mut lines: Vec<Value> =
        journal.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    for key in ["pieces", "cost", "report"] {
        lines[1]["event"]["settled"].as_object_mut().unwrap().remove(key);
    }
    // Written anew, each line with the digest of the one before.
    let mut text = String::new();
    let mut previous = Value::Null;
    for mut line in lines {
        line["previous"] = previous;
        let entry: cardwright::shelf::Entry = serde_json::from_value(line).unwrap();
        let line = serde_json::to_string(&entry).unwrap();
        previous = cardwright::shelf::digest(line.as_bytes()).into();
        text += &(line + "\n");
    }
    home.put("shelf.jsonl", text);
    fs::remove_file(home.path(".shelf.lock")).unwrap();
    let answer = home.run("plan spring.csv --rest");
    assert!(answer.err.ends_with(
        "error[rest-unknown]: entry 2 does not say what was finished of spring\n |\n = help: an earlier version of \
         Cardwright settled it\n = help: take it back with `settle REPORT --undo`, and settle it again\n"
    ), "{}", answer.err);
}
