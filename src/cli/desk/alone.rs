//! A page that has the program in itself: each request is one run of the program, in a folder that the page keeps in memory.
//!
//! The request is a document on the standard input. The first line of the standard output says what the answer is, the body or the
//! lines follow. What a run leaves in the folder is what the page keeps, if the run ended well: so a request is done or not, and nothing
//! between.

use super::answers::{Asker, FIRST, PageAnswer, PageRequest, Reply, answer};
use super::commands::Errand;
use super::folder::Folder;
use crate::cli::console::{Console, Exit};
use crate::desk::{self, Listener};
use serde::Deserialize;
use serde_json::{Value, json};
use std::io::{self, Read, Write};
use std::path::Path;

/// Where the page keeps its folder.
const HOME: &str = "/workshop";

/// Answers the request on the standard input; gives the exit code.
pub fn answer_alone(console: &mut Console) -> u8 {
    let mut asked = String::new();
    let request = io::stdin()
        .read_to_string(&mut asked)
        .and_then(|_| serde_json::from_str::<PageRequest>(&asked).map_err(io::Error::from));
    let request = match request {
        Ok(request) => request,
        Err(error) => return console.refused(&error.to_string(), "").code(),
    };
    if request.path == "start" {
        return start(&request, console).code();
    }
    let folder = Folder::of(Path::new(HOME));
    match answer(&folder, Asker::Desk, &request) {
        Reply::Whole(PageAnswer { status, media, body, .. }) => {
            let head = json!({ "status": status, "media": media });
            match console.result(format!("{head}\n").as_bytes()) {
                Exit::Done => console.result(&body).code(),
                exit => exit.code(),
            }
        }
        Reply::Lines(question) => {
            // In one piece; nobody is left to tell that nobody listens.
            let say = |document: Value| {
                let line = format!("{document}\n");
                let _ = io::stdout().write_all(line.as_bytes());
            };
            say(json!({ "status": 200, "media": "application/x-ndjson" }));
            desk::answer(&question, Listener { say: &say, stop: &|| false, first: Some(FIRST) });
            Exit::Done.code()
        }
    }
}

/// How a new workshop measures.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StartRequest {
    unit: String,
}

/// Puts the small workshop of `cardwright new` into the folder.
fn start(request: &PageRequest, console: &mut Console) -> Exit {
    let StartRequest { unit } = match serde_json::from_str(&request.body) {
        Ok(asked) => asked,
        Err(error) => return console.refused(&error.to_string(), ""),
    };
    let errand = Errand::new(&["new"]).path(Path::new(HOME)).option("unit", &unit);
    match errand.run(Path::new("/")) {
        Ok(done) if done.is_well => {
            console.result(format!("{}\n", json!({ "status": 200, "media": "" })).as_bytes())
        }
        Ok(done) => console.refused(&done.said, ""),
        Err(error) => console.refused(&error.to_string(), ""),
    }
}
