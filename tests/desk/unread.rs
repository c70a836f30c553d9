//! A file that is there and cannot be shown is told: it is never called deleted, and nothing is planned without it.

use super::*;
use serde_json::json;

/// As many spreadsheets write it.
const LATIN: &[u8] = b"sheet,paper,width,height\nf\xe9,fern,12,12\n";

/// The last answer to the question for a plan, of the files as the page has them.
fn planned(desk: &Desk) -> Value {
    let question = json!({ "ask": "plan", "desk": desk.files("spring.csv") });
    desk.ask(&question).pop().unwrap()
}

#[test]
fn a_file_that_is_no_text_is_told_as_the_command_tells_it() {
    let desk = Desk::of_tags();
    let known = desk.get("digests").json()["sheets.csv"].clone();
    desk.home.put("sheets.csv", LATIN);
    let files = desk.get("files").json();
    let sheets = &files["files"]["sheets"];
    assert_eq!(
        (&sheets["text"], &sheets["problems"][0]["code"]),
        (&Value::Null, &json!("table-encoding"))
    );
    assert_eq!(desk.get("digests").json()["sheets.csv"], sheets["digest"]);
    let plan = planned(&desk);
    assert_eq!((&plan["made"], plan["problems"].as_array().unwrap().len()), (&Value::Null, 1));
    let said = desk.home.run("plan spring.csv").err;
    assert!(said.contains(plan["problems"][0]["title"].as_str().unwrap()), "{said}");
    // Somebody who has typed meanwhile may keep what she typed.
    let save = |was: &Value| {
        desk.post("save", &json!({ "name": "sheets.csv", "was": was, "text": "mine\n" }))
    };
    let refused = save(&known);
    assert_eq!((refused.status, &refused.json()["text"]), (409, &Value::Null));
    assert_eq!(refused.json()["problems"], sheets["problems"]);
    assert_eq!(refused.json()["digest"], sheets["digest"]);
    assert_eq!(save(&refused.json()["digest"]).status, 200);
    assert_eq!(desk.home.text("sheets.csv"), "mine\n");
}

#[test]
fn an_order_that_cannot_be_read_is_listed() {
    let desk = Desk::of_tags();
    desk.home.put("spring.csv", LATIN);
    desk.home.put("summer.csv", vec![b'\n'; (16 << 20) + 1]);
    desk.home.put("workshop.toml", b"unit = \"\xff\"\n");
    let files = desk.get("files").json();
    let told = |file: &Value| (file["name"].clone(), file["problems"][0]["code"].clone());
    assert_eq!(told(&files["orders"][0]), (json!("spring.csv"), json!("table-encoding")));
    assert_eq!(told(&files["orders"][1]), (json!("summer.csv"), json!("table-size")));
    assert_eq!(
        told(&files["files"]["workshop"]),
        (json!("workshop.toml"), json!("workshop-encoding"))
    );
    let digests = desk.get("digests").json();
    for file in files["orders"].as_array().unwrap() {
        assert_eq!(digests[file["name"].as_str().unwrap()], file["digest"]);
    }
    let mut question =
        json!({ "ask": "plan", "desk": { "order": { "name": "spring.csv", "text": "" } } });
    for name in ["summer.csv", "../spring.csv", "/etc/passwd"] {
        question["desk"]["order"]["name"] = json!(name);
        let told = desk.ask(&question).pop().unwrap()["problems"].clone();
        let codes: Vec<&Value> = told.as_array().unwrap().iter().map(|it| &it["code"]).collect();
        let size = json!("table-size");
        assert_eq!(codes.contains(&&size), name == "summer.csv", "{told}");
    }
}

#[cfg(unix)]
#[test]
fn a_table_that_no_order_can_be_called_is_told() {
    let desk = Desk::of_tags();
    for name in ["May: wedding.csv", "tags.CSV", "-x.csv"] {
        desk.home.put(name, "line,card,count,paper\n");
    }
    let files = desk.get("files").json();
    assert_eq!(files["odd_names"], json!(["-x.csv", "May: wedding.csv", "tags.CSV"]));
    assert_eq!(files["orders"].as_array().unwrap().len(), 1);
}

/// What is set aside for other batches is not planned with unseen.
#[test]
fn a_plan_says_what_is_wrong_with_the_journal() {
    let desk = Desk::of_tags();
    assert_eq!(planned(&desk)["problems"], json!([]));
    assert!(!desk.home.path(".shelf.lock").exists(), "who only plans leaves nothing");
    desk.home.done("plan spring.csv --reserve --quiet");
    assert_eq!(planned(&desk)["problems"], json!([]));
    let journal = desk.home.text("shelf.jsonl");
    let short = journal.lines().next().unwrap().to_owned() + "\n";
    for (text, code, is_planned) in [
        (format!("x{journal}").into_bytes(), "shelf-journal", false),
        (b"\xff\n".to_vec(), "shelf-journal", false),
        (short.into_bytes(), "shelf-cut", true),
    ] {
        desk.home.put("shelf.jsonl", text);
        let plan = planned(&desk);
        assert_eq!(plan["problems"][0]["code"], code, "{plan}");
        let title = plan["problems"][0]["title"].as_str().unwrap();
        assert!(title.starts_with("shelf.jsonl "), "{title}");
        assert_eq!(!plan["made"].is_null(), is_planned, "{code}");
        let said = desk.home.run("plan spring.csv --quiet").err;
        assert!(said.contains(code), "{said}");
    }
}
