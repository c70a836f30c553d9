//! What a desk does is what the commands do.

use super::*;
use crate::program::project;
use serde_json::json;

fn schema(file: &str) -> Value {
    let text = std::fs::read_to_string(project("src/desk/schema").join(file)).unwrap();
    serde_json::from_str(&text).unwrap()
}

fn held(file: &str, document: &Value) {
    let validator = jsonschema::draft202012::new(&schema(file)).unwrap();
    let faults: Vec<String> = validator
        .iter_errors(document)
        .map(|error| format!("{}: {error}", error.instance_path()))
        .collect();
    assert!(faults.is_empty(), "{file}: {faults:?}");
}

/// A question and its answers, held against their schemas.
fn asked(desk: &Desk, question: &Value) -> Vec<Value> {
    held("question-1.json", question);
    let answers = desk.ask(question);
    answers.iter().for_each(|answer| held("answer-1.json", answer));
    answers
}

#[test]
fn the_final_plan_is_that_of_the_command() {
    let desk = Desk::of_the_wedding();
    let files = desk.files("wedding.csv");
    let answers = asked(&desk, &json!({ "ask": "plan", "desk": files }));
    let plans: Vec<&Value> = answers.iter().filter(|it| it["is"] == "plan").collect();
    assert_eq!(plans.iter().map(|it| &it["final"]).collect::<Vec<_>>(), [false, true]);
    let summary = desk.home.done("plan orders/wedding.csv").out;
    let told = plans[1]["made"]["rows"].as_array().unwrap();
    for row in told {
        let line =
            format!("  {:<7}{}", row["word"].as_str().unwrap(), row["told"].as_str().unwrap());
        assert!(summary.contains(&line), "{line}\n{summary}");
    }
    let layouts = plans[1]["made"]["layouts"].as_array().unwrap();
    assert!(layouts.iter().all(|it| it["picture"].as_str().unwrap().contains("data-piece=\"")));
}

#[test]
fn a_mistake_stands_at_its_cell() {
    let desk = Desk::of_tags();
    let mut files = desk.files("spring.csv");
    let change = json!([{ "set": { "row": 0, "column": 2, "text": "twelve" } }]);
    let answers =
        asked(&desk, &json!({ "ask": "table", "desk": files, "kind": "order", "changes": change }));
    assert_eq!(answers[0]["text"], "line,card,count,paper\ntag,2 x 3,twelve,fern\n");
    files["order"]["text"] = answers[0]["text"].clone();
    let answers = asked(&desk, &json!({ "ask": "plan", "desk": files, "effort": "long" }));
    let last = answers.last().unwrap();
    assert_eq!((&last["final"], &last["made"]), (&json!(true), &Value::Null));
    assert_eq!(last["problems"][0]["cell"], json!({ "kind": "order", "row": 0, "column": 2 }));
    // The terminal says the same of the same file.
    desk.home.put("spring.csv", files["order"]["text"].as_str().unwrap());
    let said = desk.home.run("plan spring.csv").err;
    assert!(said.contains(last["problems"][0]["title"].as_str().unwrap()), "{said}");
}

#[test]
fn every_table_and_the_bench_are_read() {
    let desk = Desk::of_the_wedding();
    let files = desk.files("wedding.csv");
    for kind in ["order", "sheets", "offcuts", "envelopes", "sundries"] {
        let answers =
            asked(&desk, &json!({ "ask": "table", "desk": files, "kind": kind, "changes": [] }));
        assert_eq!(answers[0]["is"], "table", "{kind}");
        assert!(!answers[0]["rows"].as_array().unwrap().is_empty(), "{kind}");
    }
    let answers = asked(
        &desk,
        &json!({ "ask": "bench", "desk": files, "changes": [{ "key": "spares.percent", "text": "7" }] }),
    );
    let (old, new) =
        (files["workshop"]["text"].as_str().unwrap(), answers[0]["text"].as_str().unwrap());
    let differing: Vec<&str> =
        new.lines().zip(old.lines()).filter(|(new, old)| new != old).map(|(new, _)| new).collect();
    assert_eq!(differing.len(), 1);
    assert!(differing[0].starts_with("percent = 7"), "{differing:?}");
    let broken = json!([{ "key": "spares.percent", "text": "\"7" }]);
    let answers = asked(&desk, &json!({ "ask": "bench", "desk": files, "changes": broken }));
    assert_eq!(answers[0]["text"], files["workshop"]["text"]);
    assert_eq!(answers[0]["refused"][0]["title"], "spares.percent was left as it was");
}

#[test]
fn a_batch_is_settled_and_undone_after_a_preview() {
    let desk = Desk::of_tags();
    let written = desk.post("report", &json!({ "order": "spring.csv" })).json();
    assert_eq!((&written["ok"], &written["name"]), (&json!(true), &json!("spring")));
    assert_eq!(desk.get("reports/spring/schedule.html").status, 200);
    let before = desk.home.text("sheets.csv");
    let preview = desk.post("settle", &json!({ "report": "spring", "preview": true })).json();
    assert_eq!(preview["ok"], true, "{preview}");
    assert_eq!(preview["files"][0]["name"], "sheets.csv");
    assert_eq!(desk.home.text("sheets.csv"), before);
    assert!(!desk.home.path("shelf.jsonl").exists());
    let told = preview["told"].as_str().unwrap();
    assert!(told.ends_with("Nothing is recorded yet.\n") && !told.contains("Entry "), "{told}");
    let seen = &preview["seen"];
    let question = json!({ "report": "spring", "hours": [["cut", 1.5]], "seen": seen });
    let done = desk.post("settle", &question).json();
    assert_eq!(done["files"], preview["files"]);
    assert_ne!(desk.home.text("sheets.csv"), before);
    let history = desk.get("history").json();
    assert_eq!(history["entries"].as_array().unwrap().len(), 2);
    let preview = desk.post("undo", &json!({ "report": "spring", "preview": true })).json();
    assert_eq!(preview["ok"], true);
    assert!(
        preview["told"].as_str().unwrap().starts_with("This takes back entry 2: "),
        "{preview}"
    );
    assert_ne!(desk.home.text("sheets.csv"), before);
    let undo = json!({ "report": "spring", "seen": preview["seen"] });
    assert_eq!(desk.post("undo", &undo).json()["ok"], true);
    assert_eq!(desk.home.text("sheets.csv"), before);
    let question = json!({ "report": "spring", "spoiled": [["none", 1]], "preview": true });
    let refused = desk.post("settle", &question).json();
    assert_eq!(refused["ok"], false);
    assert!(refused["told"].as_str().unwrap().contains("settle-spoiled"), "{refused}");
}

/// What was looked at is what is done, once: not what came to the shelf since.
#[test]
fn a_step_is_done_only_on_what_was_seen() {
    let desk = Desk::of_tags();
    desk.post("report", &json!({ "order": "spring.csv" }));
    let settled =
        |done: &Value| desk.step("settle", &json!({ "report": "spring", "done": done })).status;
    assert_eq!([settled(&json!("1")), settled(&Value::Null)], [200, 200]);
    let after_both = desk.home.text("shelf.jsonl");
    let seen =
        desk.post("undo", &json!({ "report": "spring", "preview": true })).json()["seen"].clone();
    let undo = || desk.post("undo", &json!({ "report": "spring", "seen": seen })).status;
    let mut both = std::thread::scope(|scope| {
        [scope.spawn(undo), scope.spawn(undo)].map(|press| press.join().unwrap())
    });
    both.sort_unstable();
    assert_eq!(both, [200, 409], "one press of two takes one settlement back");
    let undone = desk.home.text("shelf.jsonl");
    assert_ne!(undone, after_both);
    for (door, question) in [
        ("settle", json!({ "report": "spring" })),
        ("settle", json!({ "report": "spring", "seen": seen })),
        ("undo", json!({ "report": "spring", "seen": "0" })),
        ("take", json!({ "counts": [{ "sheet": "fern-12", "count": 1 }], "seen": seen })),
        ("release", json!({ "batch": "spring", "seen": seen })),
    ] {
        let reply = desk.post(door, &question);
        assert_eq!(reply.status, 409, "{door} {reply:?}");
        assert!(reply.json()["told"].as_str().unwrap().contains("Look again"), "{reply:?}");
    }
    assert_eq!(desk.home.text("shelf.jsonl"), undone);
    let shelf = desk.get("shelf").json();
    let reply = desk.post("release", &json!({ "batch": "none", "seen": shelf["seen"] }));
    assert_eq!(reply.status, 200, "{reply:?}");
}

#[test]
fn ticks_are_kept_beside_the_schedule() {
    let desk = Desk::of_tags();
    desk.post("report", &json!({ "order": "spring.csv" }));
    let kept = |desk: &Desk| desk.get("ticks?report=spring").json();
    assert_eq!(kept(&desk), json!({ "ticks": {}, "digest": null }));
    let put = |was: &Value, ticks: &Value| {
        desk.post("ticks", &json!({ "report": "spring", "was": was, "ticks": ticks }))
    };
    let ticks = json!({ "cardwright-ticks-1": "[\"cut-1\"]" });
    assert_eq!(put(&Value::Null, &ticks).status, 200);
    assert_eq!(kept(&desk)["ticks"], ticks);
    assert_eq!(put(&kept(&desk)["digest"], &json!([1])).status, 422);
    // Whoever does not know what is there is told, and writes nothing.
    let late = put(&Value::Null, &json!({ "cardwright-ticks-1": "[]" }));
    assert_eq!((late.status, late.json()), (409, kept(&desk)));
    assert_eq!(kept(&desk)["ticks"], ticks);
    // Another plan leaves them.
    desk.post("report", &json!({ "order": "spring.csv" }));
    assert_eq!(desk.get("ticks?report=spring").json()["ticks"], ticks);
}

/// Who hangs up gets a server that has stopped working for them.
#[test]
fn a_plan_nobody_waits_for_is_called_off() {
    let desk = Desk::of_the_wedding();
    let files = desk.files("wedding.csv");
    let body = json!({ "ask": "plan", "desk": files, "effort": "long" }).to_string();
    for _ in 0..40 {
        let mut stream = TcpStream::connect(&desk.host).unwrap();
        let (host, secret) = (&desk.host, &desk.secret);
        let head = format!(
            "POST /{secret}/ask HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Length: {}\r\n\r\n",
            body.len()
        );
        stream.write_all(head.as_bytes()).unwrap();
        stream.write_all(body.as_bytes()).unwrap();
    }
    // More than are answered at once: those who wait are told so, and later ones are let in.
    let reply = (0..600).map(|_| {
        std::thread::sleep(Duration::from_millis(50));
        desk.get("files")
    });
    assert!(reply.into_iter().any(|reply| reply.status == 200));
}

/// What is shown in a terminal, and what stops it from the start.
#[test]
fn the_command_says_what_it_needs() {
    let home = Home::new();
    let answer = home.run("desk nowhere --no-open");
    assert_eq!(answer.code, Some(2));
    assert!(answer.err.contains("there is no folder nowhere"), "{}", answer.err);
    let taken = Desk::of_tags();
    let port = taken.host.split(':').nth(1).unwrap();
    let answer = home.run(&format!("desk . --no-open --port {port}"));
    assert_eq!(answer.code, Some(2));
    assert!(answer.err.contains("cannot listen at 127.0.0.1:"), "{}", answer.err);
}

/// A folder that has gone is not a folder whose files were deleted.
#[cfg(unix)]
#[test]
fn a_folder_that_has_gone_is_told() {
    let home = Home::new();
    let inner = home.path("cards");
    std::fs::create_dir(&inner).unwrap();
    home.put("cards/sheets.csv", "sheet,paper,width,height\nfern-12,fern,12,12\n");
    let desk = Desk::at(home, "cards");
    assert_eq!(desk.get("digests").status, 200);
    std::fs::rename(inner, desk.home.path("moved")).unwrap();
    let save = json!({ "name": "a.csv", "was": null, "text": "a" });
    for reply in [desk.get("digests"), desk.get("shelf"), desk.post("save", &save)] {
        let told = reply.json()["told"].as_str().unwrap().to_owned();
        assert_eq!(reply.status, 503);
        assert!(told.starts_with("The folder of this desk has gone: "), "{told}");
    }
    assert_eq!(desk.get("").status, 200, "the page itself is part of the program");
}

/// A stock-take that is only looked at has no entry and asks for no label.
#[test]
fn a_stock_take_that_is_tried_is_not_told_as_recorded() {
    let desk = Desk::of_tags();
    let added = json!([{ "paper": "fern", "width": "3", "height": "4", "count": 1 }]);
    let mut question = json!({ "counts": [], "added": added, "preview": true });
    let told = |reply: Reply| reply.json()["told"].as_str().unwrap().to_owned();
    let tried = told(desk.post("take", &question));
    assert!(tried.ends_with("Nothing is recorded yet.\n"), "{tried}");
    assert!(!tried.contains("Entry ") && !tried.contains("Write its name"), "{tried}");
    let done = told(desk.step("take", &question));
    assert!(done.contains("Entry ") && done.contains("Write its name"), "{done}");
    question["counts"] = json!([{ "sheet": "fern-12", "count": 1.5 }]);
    let reply = desk.post("take", &question);
    assert_eq!(reply.status, 422);
    assert!(told(reply).contains("in whole numbers"));
}

/// What would help is told by the names of the page.
#[test]
fn a_batch_that_is_settled_already_is_told_with_the_button() {
    let desk = Desk::of_tags();
    desk.post("report", &json!({ "order": "spring.csv" }));
    desk.step("settle", &json!({ "report": "spring" }));
    let again = desk.post("settle", &json!({ "report": "spring", "preview": true })).json();
    let told = again["told"].as_str().unwrap();
    assert!(
        told.contains("use “Take back what was recorded last”") && !told.contains("--"),
        "{told}"
    );
    std::fs::remove_file(desk.home.path("reports/spring/origin.json")).unwrap();
    let broken = desk.post("undo", &json!({ "report": "spring", "preview": true }));
    assert_eq!(broken.status, 422);
    assert!(broken.json()["told"].as_str().unwrap().contains("Write the schedule again"));
}
