//! What a page asks of its folder, and what is answered: the same for every way it comes.

use super::commands::Errand;
use super::folder::{Folder, Saved, Saving, as_text};
use super::steps::{ReleaseRequest, SettleRequest, UndoRequest, release, settle, take, undo};
use super::take::TakeRequest;
use super::trouble;
use crate::desk::{DeskFile, DeskQuestion};
use crate::diagnostics::{Problem, Problems};
use crate::shelf::{JOURNAL, digest};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use std::io;
use std::path::Path;
use std::time::Duration;

const JSON: &str = "application/json; charset=utf-8";

/// Time for the first plan: with its pictures, it is shown before anybody thinks of waiting.
pub const FIRST: Duration = Duration::from_millis(80);

/// A request, however it came.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PageRequest {
    /// `GET` or `POST`.
    pub method: String,
    /// What is asked for, without a query.
    pub path: String,
    /// What stands behind the `?`.
    #[serde(default)]
    pub query: String,
    /// The body.
    #[serde(default)]
    pub body: String,
}

/// What is answered.
#[derive(Debug)]
pub enum Reply {
    /// All of it.
    Whole(PageAnswer),
    /// A question that is answered line by line.
    Lines(Box<DeskQuestion>),
}

/// What an answer in one piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AnswerKind {
    /// A document.
    Document,
    /// A file of a report.
    Report,
}

/// An answer in one piece.
#[derive(Debug)]
pub struct PageAnswer {
    /// Status code of HTTP.
    pub status: u16,
    /// What it is.
    pub kind: AnswerKind,
    /// Its media type.
    pub media: &'static str,
    /// The body.
    pub body: Vec<u8>,
}

impl PageAnswer {
    /// A document.
    pub fn json(status: u16, document: &Value) -> PageAnswer {
        PageAnswer {
            status,
            kind: AnswerKind::Document,
            media: JSON,
            body: document.to_string().into_bytes(),
        }
    }

    /// Trouble in a sentence.
    pub fn told(status: u16, sentence: &str) -> PageAnswer {
        PageAnswer::json(status, &json!({ "told": sentence }))
    }
}

/// From where it is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asker {
    /// The page on this machine: it may do all.
    Desk,
    /// A phone: steps, ticks and stock-take.
    Phone,
}

/// Answers a request that was let in.
pub fn answer(folder: &Folder, asker: Asker, request: &PageRequest) -> Reply {
    // A page that holds its files itself has no folder that could go.
    if cfg!(not(target_family = "wasm")) && !folder.home.is_dir() {
        return Reply::Whole(PageAnswer::told(503, trouble::GONE));
    }
    Reply::Whole(match (asker, request.method.as_str(), request.path.as_str()) {
        (Asker::Desk, "POST", "ask") => return ask(folder, request),
        (_, "GET", "shelf") => shelf(folder),
        (_, "GET", "ticks") => ticks(folder, &request.query),
        (_, "POST", "ticks") => with(request, |asked: TicksRequest| keep_ticks(folder, &asked)),
        (_, "POST", "take") => with(request, |asked: TakeRequest| take(folder, &asked)),
        (_, "GET", "reports") => PageAnswer::json(200, &json!({ "reports": folder.reports() })),
        (Asker::Phone, "GET", path) => match path.strip_prefix("reports/") {
            Some(path) if path.ends_with("/schedule.html") => report_file(folder, path),
            _ => PageAnswer::told(404, "There is nothing here."),
        },
        (Asker::Desk, ..) => of_desk(folder, request),
        (Asker::Phone, ..) => PageAnswer::told(404, "There is nothing here."),
    })
}

/// What only the page on this machine may ask for.
fn of_desk(folder: &Folder, request: &PageRequest) -> PageAnswer {
    match (request.method.as_str(), request.path.as_str()) {
        ("GET", "files") => PageAnswer::json(200, &folder.document()),
        ("GET", "digests") => PageAnswer::json(200, &folder.digests()),
        ("GET", "history") => listed(folder, &["shelf", "history", "--json"]),
        ("GET", path) => match path.strip_prefix("reports/") {
            Some(path) => report_file(folder, path),
            None => PageAnswer::told(404, "There is nothing here."),
        },
        ("POST", "save") => with(request, |asked: SaveRequest| save(folder, &asked)),
        ("POST", "report") => with(request, |asked: ReportRequest| report(folder, &asked)),
        ("POST", "settle") => with(request, |asked: SettleRequest| settle(folder, &asked)),
        ("POST", "undo") => with(request, |asked: UndoRequest| undo(folder, &asked)),
        ("POST", "release") => with(request, |asked: ReleaseRequest| release(folder, &asked)),
        ("POST", _) => PageAnswer::told(404, "There is nothing here."),
        _ => PageAnswer::told(405, "This cannot be done here."),
    }
}

/// Does something with the body of a request.
fn with<T: DeserializeOwned>(
    request: &PageRequest,
    act: impl FnOnce(T) -> PageAnswer,
) -> PageAnswer {
    match serde_json::from_str(&request.body) {
        Ok(asked) => act(asked),
        Err(error) => unread(&error),
    }
}

/// A question to the desk. The journal is read here, since a page never holds it, and what is no text never comes to a page.
fn ask(folder: &Folder, request: &PageRequest) -> Reply {
    let mut question: DeskQuestion = match serde_json::from_str(&request.body) {
        Ok(question) => question,
        Err(error) => return Reply::Whole(unread(&error)),
    };
    if let DeskQuestion::Plan(plan) = &mut question {
        let text = folder.text(JOURNAL);
        plan.desk.journal = text.map(|text| DeskFile { name: JOURNAL.to_owned(), text });
        plan.told = folder.troubles(&plan.desk.without_text());
    }
    Reply::Lines(Box::new(question))
}

fn unread(error: &serde_json::Error) -> PageAnswer {
    PageAnswer::told(400, &format!("Load the page again: what it sent cannot be read ({error})."))
}

/// A file of a report.
fn report_file(folder: &Folder, path: &str) -> PageAnswer {
    let none = || PageAnswer::told(404, "This schedule is no longer in the folder.");
    let Some((report, name)) = path.split_once('/') else { return none() };
    let Some(report) = decoded(report).and_then(|report| folder.report(&report)) else {
        return none();
    };
    let media = match name.rsplit_once('.').map(|(_, end)| end) {
        Some("html") => "text/html; charset=utf-8",
        Some("pdf") => "application/pdf",
        Some("svg") => "image/svg+xml",
        Some("csv") => "text/csv; charset=utf-8",
        Some("json") => JSON,
        _ => return none(),
    };
    match folder.report_file(&report, name) {
        Some(body) => PageAnswer { status: 200, kind: AnswerKind::Report, media, body },
        None => none(),
    }
}

/// A part of a path as it was before it was made fit for one.
fn decoded(part: &str) -> Option<String> {
    let mut bytes = Vec::new();
    let mut rest = part.bytes();
    while let Some(byte) = rest.next() {
        bytes.push(match byte {
            b'%' => {
                let digits = [rest.next()?, rest.next()?];
                u8::from_str_radix(std::str::from_utf8(&digits).ok()?, 16).ok()?
            }
            byte => byte,
        });
    }
    String::from_utf8(bytes).ok()
}

/// A file that is saved.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SaveRequest {
    name: String,
    was: Option<String>,
    text: String,
}

fn save(folder: &Folder, SaveRequest { name, was, text }: &SaveRequest) -> PageAnswer {
    match folder.save(&Saving { name, was: was.as_deref(), text }) {
        Ok(Saved::As(digest)) => PageAnswer::json(200, &json!({ "digest": digest })),
        Ok(Saved::Differs(found)) => {
            let digest = found.as_deref().map(digest);
            let text = found.map(|bytes| as_text(name, bytes));
            let problems = text.as_ref().and_then(|text| text.as_ref().err()).into_iter();
            let problems: Vec<Value> =
                problems.flat_map(Problems::iter).map(Problem::document).collect();
            let text = text.and_then(Result::ok);
            PageAnswer::json(409, &json!({ "digest": digest, "text": text, "problems": problems }))
        }
        Ok(Saved::NoName) => PageAnswer::told(
            422,
            "No order can have this name. Try letters, numbers and spaces only.",
        ),
        Err(error) => PageAnswer::told(500, &trouble::of_save(&error)),
    }
}

/// What lies on the shelf, and what a step that is taken by it says it has seen.
fn shelf(folder: &Folder) -> PageAnswer {
    let seen = folder.seen(Path::new(""));
    match look(folder, &["shelf", "--json"]) {
        Ok(mut document) => {
            document["seen"] = json!(seen);
            PageAnswer::json(200, &document)
        }
        Err(answer) => answer,
    }
}

/// What a command that only looks says.
fn listed(folder: &Folder, words: &[&str]) -> PageAnswer {
    look(folder, words).map_or_else(|answer| answer, |document| PageAnswer::json(200, &document))
}

fn look(folder: &Folder, words: &[&str]) -> Result<Value, PageAnswer> {
    let errand =
        Errand::new(words).option("sheets", &folder.shelf.join("sheets.csv").display().to_string());
    match errand.run(&folder.home) {
        Ok(done) if done.is_busy => Err(PageAnswer::told(503, trouble::BUSY)),
        Ok(done) => {
            serde_json::from_str(&done.out).map_err(|_| PageAnswer::told(422, &done.told()))
        }
        Err(error) => Err(refused(&error)),
    }
}

/// The system does not let it be done.
pub fn refused(error: &io::Error) -> PageAnswer {
    PageAnswer::told(500, &trouble::sentence(error))
}

/// An order whose schedule is written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ReportRequest {
    order: String,
    #[serde(default)]
    rest: bool,
}

fn report(folder: &Folder, ReportRequest { order, rest }: &ReportRequest) -> PageAnswer {
    if !folder.orders().contains(order) {
        return PageAnswer::told(404, "This order is no longer in the folder.");
    }
    let errand = Errand::new(&["plan"]).path(&folder.shelf.join(order)).switch("rest", *rest);
    match errand.run(&folder.home) {
        Err(error) => refused(&error),
        Ok(done) => {
            // The last line of the summary says where the schedule lies.
            let place = done.out.lines().rev().find_map(|line| line.strip_prefix("Schedule: "));
            let name = place.and_then(|place| Path::new(place).parent()?.file_name()?.to_str());
            PageAnswer::json(200, &json!({ "ok": done.is_well, "name": name, "told": done.told() }))
        }
    }
}

/// Ticks of a schedule, as the page that shows it keeps them.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TicksRequest {
    report: String,
    /// Digest of the file that the page knows; none where it knows none.
    was: Option<String>,
    ticks: Value,
}

/// The file beside a report's own that keeps its ticks.
const TICKS: &str = "ticks.json";

/// Largest file of ticks, in bytes.
const MOST_TICKS: usize = 1 << 20;

fn ticks(folder: &Folder, query: &str) -> PageAnswer {
    let report = query.strip_prefix("report=").and_then(decoded);
    let Some(report) = report.and_then(|report| folder.report(&report)) else {
        return PageAnswer::told(404, "This schedule is no longer in the folder.");
    };
    PageAnswer::json(200, &ticks_on_disk(folder.report_file(&report, TICKS).as_deref()))
}

/// Ticks as they were kept; none where there are none, or the file was spoiled.
fn ticks_on_disk(bytes: Option<&[u8]>) -> Value {
    let ticks = bytes.and_then(|bytes| serde_json::from_slice::<Value>(bytes).ok());
    let ticks = ticks.filter(Value::is_object).unwrap_or_else(|| json!({}));
    json!({ "ticks": ticks, "digest": bytes.map(digest) })
}

fn keep_ticks(folder: &Folder, TicksRequest { report, was, ticks }: &TicksRequest) -> PageAnswer {
    let text = ticks.to_string();
    match folder.report(report) {
        None => PageAnswer::told(404, "This schedule is no longer in the folder."),
        Some(_) if !ticks.is_object() || text.len() > MOST_TICKS => {
            PageAnswer::told(422, "These are not the ticks of a schedule.")
        }
        Some(report) => match folder.put(&report.join(TICKS), text.as_bytes(), was.as_deref()) {
            Ok(None) => PageAnswer::json(200, &json!({ "digest": digest(text.as_bytes()) })),
            Ok(Some(found)) => PageAnswer::json(409, &ticks_on_disk(Some(&found))),
            Err(error) => refused(&error),
        },
    }
}
