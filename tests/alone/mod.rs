//! The page that has the program in itself, from outside: a browser opens it from the disk, without a network.
//!
//! Needs the file that `.ci/page` makes, which `CARDWRIGHT_PAGE` names, and a browser; where one is missing, its checks say that they
//! are skipped.

// Only so are its helpers known as tests.
#![cfg(all(test, unix))]
#![allow(clippy::print_stdout, reason = "a check that is skipped says so")]

mod bytes;
mod folder;
mod journey;
mod served;

use crate::driven::Driven;
use crate::program::{Files, Home};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Map, Value, json};
use std::path::PathBuf;

/// The page, if it was built.
fn page() -> Option<PathBuf> {
    let named = std::env::var_os("CARDWRIGHT_PAGE");
    if named.is_none() {
        println!("skipped: CARDWRIGHT_PAGE names no cardwright.html, which `.ci/page` makes");
    }
    named.map(PathBuf::from)
}

/// The page from the disk in a browser whose profile lies in a folder.
fn opened(home: Home) -> Option<Driven> {
    let link = format!("file://{}", page()?.display());
    Driven::with(home, &link, CATCH)
}

/// The page with an empty workshop in it.
fn with_nothing() -> Option<Driven> {
    let mut page = opened(Home::new())?;
    page.click("An empty workshop");
    page.until("document.querySelector('.start input')");
    Some(page)
}

/// Catches the program on its way to a worker, so that a check can give it any files.
const CATCH: &str = r#"(() => {
  const caught = window.caught = {}, Plain = window.Worker, post = Plain.prototype.postMessage;
  window.Worker = class extends Plain { constructor(address) { super(address); caught.address = address; } };
  Plain.prototype.postMessage = function (data, ...rest) { if (data?.program) { caught.program = data.program; } return post.call(this, data, ...rest); };
  const packed = (bytes) => { let text = ""; bytes.forEach((byte) => { text += String.fromCharCode(byte); }); return btoa(text); };
  window.runProgram = (request, files) => new Promise((done) => {
    const worker = new Plain(caught.address), body = [];
    post.call(worker, { program: caught.program });
    worker.onmessage = ({ data: { head, chunk, end } }) => {
      if (head) { caught.head = head; }
      if (chunk) { body.push(...chunk); }
      if (!end) { return; }
      worker.terminate();
      const changes = Object.fromEntries(end.changes.map(({ path, bytes }) => [path, bytes && packed(bytes)]));
      done({ head: caught.head, code: end.code, said: end.said, body: new TextDecoder().decode(new Uint8Array(body)), changes });
    };
    const unpacked = Object.fromEntries(Object.entries(files).map(([path, text]) => [path, Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0))]));
    post.call(worker, { request, files: unpacked });
  });
})()"#;

/// What a run of the program came to.
struct Ran {
    /// What it answered.
    body: Value,
    /// The files that it left, changed.
    changes: Files,
}

/// Runs the program of the page on some files.
#[track_caller]
fn run(page: &mut Driven, request: &Value, files: &Files) -> Ran {
    let files: Map<String, Value> =
        files.iter().map(|(path, bytes)| (path.clone(), json!(STANDARD.encode(bytes)))).collect();
    let ran = page.eval(&format!("runProgram({request}, {})", Value::Object(files)));
    assert_eq!(ran["code"], 0, "{ran}");
    let changed = |(path, text): (&String, &Value)| {
        Some((path.clone(), STANDARD.decode(text.as_str()?).unwrap()))
    };
    Ran {
        body: serde_json::from_str(ran["body"].as_str().unwrap()).unwrap(),
        changes: ran["changes"].as_object().unwrap().iter().filter_map(changed).collect(),
    }
}

/// A request as the page makes it.
fn post(path: &str, body: &Value) -> Value {
    json!({ "method": "POST", "path": path, "body": body.to_string() })
}
