//! Two writers never lose each other's work, and a kill leaves whole files.

use super::*;
use serde_json::json;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

#[test]
fn a_file_is_saved_only_while_it_is_what_was_known() {
    let desk = Desk::of_tags();
    let known = desk.get("digests").json();
    let save = |was: &Value, text: &str| {
        desk.post("save", &json!({ "name": "spring.csv", "was": was, "text": text }))
    };
    let first = save(&known["spring.csv"], "one\n");
    assert_eq!(first.status, 200);
    assert_eq!(desk.get("digests").json()["spring.csv"], first.json()["digest"]);
    let second = save(&known["spring.csv"], "two\n");
    assert_eq!((second.status, second.json()["text"].as_str()), (409, Some("one\n")));
    // A spreadsheet saves the same file.
    desk.home.put("spring.csv", "three\n");
    let third = save(&first.json()["digest"], "four\n");
    assert_eq!((third.status, third.json()["text"].as_str()), (409, Some("three\n")));
    assert_eq!(desk.home.text("spring.csv"), "three\n");
    assert_eq!(save(&third.json()["digest"], "four\n").status, 200);
    assert_eq!(desk.home.text("spring.csv"), "four\n");
    // One that is thought to be new, and one that has gone.
    assert_eq!(save(&Value::Null, "five\n").status, 409);
    std::fs::remove_file(desk.home.path("spring.csv")).unwrap();
    let gone = save(&third.json()["digest"], "six\n");
    assert_eq!((gone.status, &gone.json()["digest"]), (409, &Value::Null));
    assert_eq!(save(&Value::Null, "seven\n").status, 200);
    assert_eq!(desk.home.text("spring.csv"), "seven\n");
}

/// Of all who save on what they know, one is first and the others are told.
#[test]
fn of_a_crowd_one_is_first() {
    let desk = Desk::of_tags();
    for round in 0..10 {
        let was = desk.get("digests").json()["spring.csv"].clone();
        let first = AtomicUsize::new(0);
        thread::scope(|scope| {
            for writer in 0..6 {
                let (desk, was, first) = (&desk, &was, &first);
                scope.spawn(move || {
                    let text = format!("round {round}, writer {writer}\n");
                    let body = json!({ "name": "spring.csv", "was": was, "text": text });
                    let reply = desk.post("save", &body);
                    assert!([200, 409].contains(&reply.status), "{reply:?}");
                    first.fetch_add(usize::from(reply.status == 200), Ordering::Relaxed);
                });
            }
        });
        assert_eq!(first.into_inner(), 1, "in round {round}");
    }
}

/// Killed at any moment, it leaves the file before or after.
#[cfg(unix)]
#[test]
fn a_kill_leaves_a_whole_file() {
    let text = |number: usize| format!("number {number}\n").repeat(20_000);
    for pause in [2, 5, 9, 14, 20, 33] {
        let mut desk = Desk::of_tags();
        let mut was = desk.get("digests").json()["spring.csv"].clone();
        let (host, secret) = (desk.host.clone(), desk.secret.clone());
        let writer = thread::spawn(move || {
            for number in 0.. {
                let body =
                    json!({ "name": "spring.csv", "was": was, "text": text(number) }).to_string();
                let Ok(mut stream) = TcpStream::connect(&host) else { return };
                let head = format!(
                    "POST /{secret}/save HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Length: {}\r\n\r\n",
                    body.len()
                );
                let mut answer = String::new();
                let sent = stream
                    .write_all(head.as_bytes())
                    .and_then(|()| stream.write_all(body.as_bytes()));
                let Some((_, body)) = sent
                    .and_then(|()| stream.read_to_string(&mut answer))
                    .ok()
                    .and_then(|_| answer.split_once("\r\n\r\n"))
                else {
                    return;
                };
                let Ok(reply) = serde_json::from_str::<Value>(body) else { return };
                was = reply["digest"].clone();
            }
        });
        thread::sleep(Duration::from_millis(pause * 4));
        desk.server.kill().unwrap();
        desk.server.wait().unwrap();
        writer.join().unwrap();
        let now = desk.home.text("spring.csv");
        let lines: Vec<&str> = now.lines().collect();
        let is_whole = lines.len() == 20_000 && lines.iter().all(|line| line == &lines[0]);
        assert!(is_whole || now.starts_with("line,card"), "{} lines", lines.len());
        // What is left of a save that was cut off stands in nobody's way.
        let after = Desk::of(Home::new());
        drop(after);
    }
}

/// A command that settles meanwhile has its lock: whoever saves waits for it, and is told what it wrote.
#[test]
fn a_command_and_a_page_do_not_lose_each_other() {
    let desk = Desk::of_tags();
    desk.home.done("plan spring.csv --quiet");
    let was = desk.get("digests").json()["sheets.csv"].clone();
    desk.home.done("settle reports/spring");
    let reply = desk.post("save", &json!({ "name": "sheets.csv", "was": was, "text": "mine\n" }));
    assert_eq!(reply.status, 409);
    assert!(reply.json()["text"].as_str().unwrap().contains("fern-12,fern,12,12,"));
}

/// Another program that has the lock for long is told of, and what waited for it does nothing later.
#[cfg(unix)]
#[test]
fn what_waits_for_a_lock_ends() {
    let desk = Desk::of_tags();
    desk.post("report", &json!({ "order": "spring.csv" }));
    let preview = desk.post("settle", &json!({ "report": "spring", "preview": true })).json();
    let seen = &preview["seen"];
    let lock = std::fs::File::create(desk.home.path(".shelf.lock")).unwrap();
    lock.try_lock().unwrap();
    let before = desk.home.text("sheets.csv");
    let (settle, shelf) = thread::scope(|scope| {
        let settle = scope
            .spawn(|| desk.post("settle", &json!({ "report": "spring", "seen": seen })).json());
        let shelf = scope.spawn(|| desk.get("shelf"));
        (settle.join().unwrap(), shelf.join().unwrap())
    });
    let busy =
        "Another command is using your shelf. Nothing was changed. Try again when it has ended.";
    assert_eq!((&settle["ok"], &settle["told"]), (&json!(false), &json!(busy)));
    assert_eq!((shelf.status, &shelf.json()["told"]), (503, &json!(busy)));
    drop(lock);
    thread::sleep(Duration::from_millis(500));
    assert_eq!(desk.home.text("sheets.csv"), before);
}
