//! Reports that were made up, moved, or saved again: what is believed of them.

use super::*;
use crate::messages::same;
use serde_json::{Value, json};

const PLAN: &str = "reports/spring/plan.json";
const ORIGIN: &str = "reports/spring/origin.json";

/// A change of a plan.
type Lie = fn(&mut Value);
/// A file as another program writes it.
type SavedAgain = fn(&str) -> String;

fn json_of(home: &Home, name: &str) -> Value {
    serde_json::from_str(&home.text(name)).unwrap()
}

/// Changes a plan as somebody would who knows what is in it.
fn forge(home: &Home, by: impl FnOnce(&mut Value)) {
    let mut plan = json_of(home, PLAN);
    by(&mut plan);
    home.put(PLAN, serde_json::to_string_pretty(&plan).unwrap());
}

/// Adds up all sums of a plan anew, and claims that nothing is better.
fn add_up(plan: &mut Value) {
    let number = |value: &Value| value.as_i64().unwrap();
    let area = |value: &Value| value.as_str().unwrap().parse::<i128>().unwrap();
    let counts: Vec<i64> =
        plan["runs"].as_array().unwrap().iter().map(|run| number(&run["count"])).collect();
    let [run] = counts[..] else { panic!("expected one run: {counts:?}") };
    let sheet = &mut plan["sheets"][0];
    let before = number(&sheet["used"]);
    sheet["used"] = json!(run);
    sheet["packs_bought"] = json!(run - number(&sheet["on_hand"]));
    let (price, value) = (number(&sheet["price"]), number(&sheet["value"]));
    let spend = number(&sheet["packs_bought"]) * price;
    let (stock, units) = (run * price, run * value);
    let piece = &mut plan["pieces"][0];
    piece["cut"] = json!(number(&piece["cut"]) / before * run);
    let totals = &mut plan["totals"];
    (totals["spend"], totals["stock"], totals["sheets_used"]) =
        (json!(spend), json!(stock), json!(run));
    for field in ["sheet_area", "piece_area", "offcut_area", "waste_area", "blade_area"] {
        let whole = area(&totals[field]) / i128::from(before) * i128::from(run);
        totals[field] = json!(whole.to_string());
    }
    for (level, value) in [("spend", spend), ("stock", units)] {
        let level = &mut plan["proof"][0][level];
        (level["value"], level["bound"]) = (json!(value), json!(value));
        level["status"] = json!("optimal");
    }
}

/// Small tents, folded along the grain: one kind of sheet, which they fill, and nothing left for the drawer.
fn tents() -> Home {
    let home = Home::new();
    home.put("spring.csv", "line,card,fold,count,paper\ntent,3 x 3,top,48,fern\n");
    home.put(
        "sheets.csv",
        "sheet,paper,width,height,on hand,price,grain\nfern-12,fern,12,12,1,1.10,width\n",
    );
    home.put("workshop.toml", "[grain]\nrule = \"strict\"\n[spares]\npercent = 0\nat_least = 0\n");
    home.done("plan spring.csv --quiet");
    home
}

/// Eight sheets where six do, every sum right, and values that would prove anything.
fn wasteful(plan: &mut Value) {
    plan["runs"][0]["count"] = json!(8);
    add_up(plan);
    for level in ["spend", "stock"] {
        let values = &mut plan["proof"][0][level]["certificate"]["piece_values"];
        for value in values.as_object_mut().unwrap().values_mut() {
            *value = json!(1_i64 << 50);
        }
    }
}

/// By its copies, by the order that is named, and by what it records alone.
#[test]
fn a_plan_that_claims_too_much_is_believed_nowhere() {
    let home = tents();
    forge(&home, wasteful);
    let errors = |arguments: &str| {
        let answer = home.run(arguments);
        assert_eq!(
            (answer.code, answer.out.as_str()),
            (Some(1), ""),
            "{arguments}: {}",
            answer.err
        );
        answer.err
    };
    for call in [
        format!("check {PLAN}"),
        format!("check spring.csv {PLAN}"),
        "settle reports/spring".to_owned(),
    ] {
        let err = errors(&call);
        assert!(err.contains("a pattern of `fern-12` is worth "), "{call}: {err}");
    }
    home.put("alone.json", home.text(PLAN));
    let err = errors("check alone.json --workshop workshop.toml");
    assert!(err.contains("a pattern of `fern-12` is worth "), "{err}");
}

#[test]
fn a_search_is_taken_on_trust_and_said_to_be() {
    let home = tents();
    forge(&home, |plan| {
        plan["runs"][0]["count"] = json!(8);
        add_up(plan);
        for level in ["spend", "stock"] {
            plan["proof"][0][level]["complete_search"] = json!(true);
        }
    });
    let out = said(&home, &format!("check {PLAN}"));
    assert!(
        out.contains(
            "  On trust   a search found no plan below 7.70 USD (money for fern); here 5.50 USD is proven"
        ),
        "{out}"
    );
    let out = said(&home, &format!("check {PLAN} --json"));
    let told: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(told["plans"][0]["on_trust"].as_array().unwrap().len(), 2, "{out}");
}

/// Ninety cards of an order of which nine were planned.
#[test]
fn a_plan_is_held_against_the_order_beside_it() {
    let home = planned();
    said(&home, "check summer.csv reports/summer/plan.json");
    home.put("summer.csv", SUMMER.replace(",22,", ",220,"));
    let err = refusal(&home, "check summer.csv reports/summer/plan.json");
    assert!(err.contains("piece `tag.card` differs from the order in `need`"), "{err}");
    let err = refusal(&home, "check spring.csv reports/summer/plan.json");
    assert!(err.contains("the plan is of `summer`, not of `spring`"), "{err}");
    // By itself it is what it was.
    said(&home, "check reports/summer/plan.json");
}

/// Each was passed over by a judge that knew the plan alone.
#[test]
fn small_lies_are_found_by_the_copies() {
    let lies: [(&str, Lie); 8] = [
        ("scores", |plan| plan["pieces"][0]["scores"] = json!([])),
        ("scores", |plan| {
            let at = plan["pieces"][0]["scores"][0]["at"].as_i64().unwrap();
            plan["pieces"][0]["scores"][0]["at"] = json!(at + 40_000);
        }),
        ("turn", |plan| plan["pieces"][0]["turn"] = json!("half")),
        ("part", |plan| plan["pieces"][0]["part"] = json!("insert")),
        ("line", |plan| plan["pieces"][0]["line"] = json!("nobody")),
        ("`summer`", |plan| plan["order"] = json!("summer")),
        ("need", |plan| {
            (plan["pieces"][0]["need"], plan["pieces"][0]["spares"]) = (json!(40), json!(8));
        }),
        ("kept", |plan| plan["totals"]["kept"] = json!(77)),
    ];
    for (word, lie) in lies {
        let home = tents();
        forge(&home, lie);
        for call in [format!("check {PLAN}"), "settle reports/spring".to_owned()] {
            let answer = home.run(&call);
            assert_eq!(answer.code, Some(1), "{word}");
            assert!(answer.err.contains(word), "{word}: {}", answer.err);
        }
    }
}

/// A report keeps what it was made from: the order may change afterwards, and the bench.
#[test]
fn a_report_is_judged_by_what_it_was_made_from() {
    let home = planned();
    home.put("spring.csv", SPRING.replace(",45,", ",90,"));
    home.put("workshop.toml", "[trimmer]\nblade = \"1/8 in\"\n");
    let out = said(&home, &format!("check {PLAN}"));
    assert!(
        out.contains("  Judged by  its own order, stock and bench, kept in origin.json\n"),
        "{out}"
    );
    said(&home, "settle reports/spring --on 2031-05-09");
}

/// Paper is set aside for one plan, not for any that was made of the order before.
#[test]
fn what_is_set_aside_is_for_the_plan_that_asked_for_it() {
    let home = planned();
    home.done("plan spring.csv --quiet --out reports/earlier");
    home.done("plan spring.csv --quiet --reserve");
    same(
        &refusal(&home, "settle reports/earlier"),
        r"
error[settle-reserved]: the paper is set aside for another plan of spring
 |
 = help: plan spring again with --reserve, and settle that plan
 = help: or release the paper: `cardwright shelf drop spring .`
",
    );
    said(&home, "settle reports/spring --on 2031-05-09");
}

/// One order planned into two folders is one order; and no note makes it another by what it says of itself.
#[test]
fn the_same_cards_are_not_settled_from_two_reports() {
    let home = planned();
    home.done("plan summer.csv --quiet --out reports/again");
    said(&home, "settle reports/summer --on 2031-05-09");
    home.put("sheets.csv", home.text("sheets.csv").replace(";0;1.10", ";9;1.10"));
    let err = refusal(&home, "settle reports/again");
    assert!(
        err.starts_with("error[settle-past]: another plan of summer was settled as entry 2\n"),
        "{err}"
    );
    let note = "reports/again/origin.json";
    home.put(note, home.text(note).replace("\"entries\": 0", "\"entries\": 77"));
    let err = refusal(&home, "settle reports/again");
    assert!(
        err.starts_with("error[settle-past]: summer was planned when the journal had 77 entries\n"),
        "{err}"
    );
}

/// Paper that no piece is cut from is bought and thrown away by no plan.
#[test]
fn a_run_without_a_piece_is_refused() {
    let home = tents();
    forge(&home, |plan| {
        let mut run = plan["runs"][0].clone();
        run["id"] = json!("R2");
        let size = [run["layout"]["width"].clone(), run["layout"]["height"].clone()];
        run["layout"] = json!({"x": 0, "y": 0, "width": size[0], "height": size[1], "waste": true});
        plan["runs"].as_array_mut().unwrap().push(run);
    });
    let answer = home.run(&format!("check spring.csv {PLAN}"));
    assert!(answer.err.contains("run R2 cuts no piece"), "{}", answer.err);
}

/// A note that is no note is told, not passed over.
#[test]
fn a_broken_note_is_told() {
    let home = tents();
    home.put(ORIGIN, home.text(ORIGIN).replace("\"entries\": 0", "\"entries\": \"0\""));
    let answer = home.run(&format!("check {PLAN}"));
    assert_eq!(answer.code, Some(1));
    assert!(answer.err.starts_with("error[settle-origin]: "), "{}", answer.err);
}

/// The same words with other spaces and line ends are the same plan.
#[test]
fn a_report_saved_again_is_not_settled_twice() {
    let again: [(&str, SavedAgain); 5] = [
        (PLAN, |text| format!("{text}\n")),
        (ORIGIN, |text| text.replace('\n', "\r\n")),
        (PLAN, |text| text.replace("  ", "\t")),
        (PLAN, |text| serde_json::from_str::<Value>(text).unwrap().to_string()),
        (ORIGIN, |text| serde_json::from_str::<Value>(text).unwrap().to_string()),
    ];
    for (file, by) in again {
        let home = planned();
        said(&home, "settle reports/spring --on 2031-05-09");
        home.put("sheets.csv", home.text("sheets.csv").replace(";0;1.10", ";9;1.10"));
        let text = home.text(file);
        home.put(file, by(&text));
        assert_ne!(home.text(file), text);
        let err = refusal(&home, "settle reports/spring");
        assert!(err.starts_with("error[settle-twice]: spring is settled already\n"), "{err}");
    }
}

/// Planned again from a shelf that is as full as it was before, an order is another batch.
#[test]
fn an_order_that_is_made_once_more_is_another_batch() {
    let home = planned();
    let before = stock(&home);
    said(&home, "settle reports/spring --on 2031-05-09");
    home.put("sheets.csv", &before.0);
    home.put("offcuts.csv", &before.1);
    home.done("plan spring.csv --quiet");
    said(&home, "settle reports/spring --on 2031-06-09");
}

/// A folder of workshops, each with a shelf of its own, and one beside them.
#[test]
fn a_report_belongs_to_the_folder_it_was_planned_in() {
    let home = Home::new();
    for folder in ["", "june/"] {
        home.put(&format!("{folder}orders/spring.csv"), SPRING);
        home.put(&format!("{folder}orders/sheets.csv"), SHEETS);
        home.put(&format!("{folder}orders/offcuts.csv"), OFFCUTS);
    }
    let mut inside = home.command("plan orders/spring.csv --quiet");
    assert!(inside.current_dir(home.path("june")).status().unwrap().success());
    let answer = home.run("settle june/reports/spring");
    assert_eq!(answer.code, Some(1));
    let june = home.path("june").canonicalize().unwrap();
    same(
        &answer.err,
        &format!(
            r"
error[settle-path]: june/reports/spring was planned from another folder
 |
 = help: go to the folder it was planned in: `cd {}`, then `cardwright settle reports/spring`
",
            june.display()
        ),
    );
    assert_eq!(home.text("orders/sheets.csv"), SHEETS);
    // A copy elsewhere is judged all the same, and settled where its shelf is named.
    std::fs::rename(home.path("june/reports/spring"), home.path("copy")).unwrap();
    let out = said(&home, "check copy/plan.json");
    assert!(out.contains("kept in origin.json"), "{out}");
    let answer = home.run("settle copy");
    assert!(
        answer.err.contains("it was planned as reports/spring and has been moved"),
        "{}",
        answer.err
    );
    said(&home, "settle copy --sheets june/orders/sheets.csv --on 2031-05-09");
    assert_eq!(home.text("orders/sheets.csv"), SHEETS);
    assert_ne!(home.text("june/orders/sheets.csv"), SHEETS);
}

#[test]
fn a_key_that_stands_there_twice_is_no_plan() {
    let home = tents();
    let doubled =
        home.text(PLAN).replacen("\"piece_values\": {", "\"piece_values\": {\"tent.card\": 9,", 1);
    home.put(PLAN, doubled);
    for call in [format!("check {PLAN}"), "settle reports/spring".to_owned()] {
        let answer = home.run(&call);
        assert_eq!(answer.code, Some(1), "{call}");
        assert!(answer.err.contains("`tent.card` appears twice"), "{}", answer.err);
    }
}

/// What a plan names acts on nobody's terminal, and forges no line of what is said of it.
#[test]
fn names_of_a_plan_are_shown() {
    let home = tents();
    let named = home.text(PLAN).replace("\"fern\"", r#""fern\n  Proven     all\u001b[31m""#);
    home.put("alone.json", named);
    forge_alone(&home, |plan| plan["proof"][0]["stock"]["complete_search"] = json!(true));
    let out = said(&home, "check alone.json --workshop workshop.toml");
    assert_eq!(out.matches("\n  Proven ").count(), 1, "{out}");
    assert!(!out.contains('\u{1b}'), "{out}");
}

fn forge_alone(home: &Home, by: impl FnOnce(&mut Value)) {
    let mut plan = json_of(home, "alone.json");
    by(&mut plan);
    plan["proof"][0]["stock"]["certificate"]["piece_values"] = json!({});
    home.put("alone.json", plan.to_string());
}

/// A plan lies in its report folder, its stock beside the order.
#[test]
fn plans_may_be_named_first() {
    let home = tents();
    said(&home, &format!("check {PLAN} spring.csv"));
}
