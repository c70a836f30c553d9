//! What is asked for behind the secret, and what is answered.

use super::commands::Errand;
use super::folder::{Folder, Saved, Saving, is_plain};
use super::http::{self, AnswerHead, PageRequest};
use super::page;
use super::scratch::ScratchFolder;
use super::take::TakeRequest;
use crate::desk::{self, DeskFile, DeskQuestion, Listener};
use crate::shelf::{JOURNAL, digest};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::{Number, Value, json};
use std::io::{self, ErrorKind, Read, Write};
use std::net::{Shutdown, TcpStream};
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

/// What the page may load: its own files, and nothing from elsewhere.
const PAGE: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; \
                    frame-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
/// What a report may: it is one file, with all that it needs in it.
const REPORT: &str = "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:; \
                      base-uri 'none'; form-action 'none'; frame-ancestors 'self'";
/// What is no page.
const NOTHING: &str = "default-src 'none'; frame-ancestors 'none'";

const JSON: &str = "application/json; charset=utf-8";

/// Time for the first plan: with its pictures, it is shown before anybody thinks of waiting.
const FIRST: Duration = Duration::from_millis(80);

/// An answer in one piece.
struct PageAnswer<'a> {
    status: u16,
    kind: &'a str,
    policy: &'a str,
    body: Vec<u8>,
}

impl PageAnswer<'_> {
    fn json(status: u16, document: &Value) -> PageAnswer<'static> {
        PageAnswer { status, kind: JSON, policy: NOTHING, body: document.to_string().into_bytes() }
    }

    /// Trouble in a sentence.
    fn told(status: u16, sentence: &str) -> PageAnswer<'static> {
        PageAnswer::json(status, &json!({ "told": sentence }))
    }

    fn send(self, stream: &mut TcpStream) -> io::Result<()> {
        let PageAnswer { status, kind, policy, body } = self;
        http::begin(stream, AnswerHead { status, kind, policy })?;
        stream.write_all(&body)?;
        stream.flush()?;
        stream.shutdown(Shutdown::Write)
    }
}

/// Refuses a request without a word of what there is.
///
/// # Errors
/// Nobody takes the answer.
pub fn refuse(stream: &mut TcpStream, status: u16) -> io::Result<()> {
    PageAnswer { status, kind: "text/plain", policy: NOTHING, body: Vec::new() }.send(stream)
}

/// From where it is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asker {
    /// The page on this machine: it may do all.
    Desk,
    /// A phone: steps, ticks and stock-take.
    Phone,
}

/// A request that was let in.
#[derive(Clone, Copy)]
pub struct Admitted<'a> {
    /// From where it comes.
    pub asker: Asker,
    /// What stands behind the secret.
    pub asked: &'a str,
    /// All of it.
    pub request: &'a PageRequest,
}

/// Answers a request that was let in.
///
/// # Errors
/// Nobody takes the answer.
pub fn answer(folder: &Folder, admitted: Admitted, stream: &mut TcpStream) -> io::Result<()> {
    let Admitted { asker, asked, request } = admitted;
    let answer = match (asker, request.method.as_str(), asked) {
        (Asker::Desk, "POST", "ask") => return ask(folder, request, stream),
        (_, "GET", "shelf") => listed(folder, &["shelf", "--json"]),
        (_, "GET", "ticks") => ticks(folder, &request.query),
        (_, "POST", "ticks") => with(request, |asked: TicksRequest| keep_ticks(folder, &asked)),
        (_, "POST", "take") => with(request, |asked: TakeRequest| take(folder, &asked)),
        (_, "GET", "reports") => PageAnswer::json(200, &json!({ "reports": folder.reports() })),
        (Asker::Phone, "GET", "") => page_file("phone.html"),
        (_, "GET", path) if page::file(path).is_some() => page_file(path),
        (Asker::Phone, "GET", path) => match path.strip_prefix("reports/") {
            Some(path) if path.ends_with("/schedule.html") => report_file(folder, path),
            _ => PageAnswer::told(404, "there is nothing of this name"),
        },
        (Asker::Desk, ..) => of_desk(folder, asked, request),
        (Asker::Phone, ..) => PageAnswer::told(404, "there is nothing of this name"),
    };
    answer.send(stream)
}

/// What only the page on this machine may ask for.
fn of_desk(folder: &Folder, asked: &str, request: &PageRequest) -> PageAnswer<'static> {
    match (request.method.as_str(), asked) {
        ("GET", "files") => PageAnswer::json(200, &folder.document()),
        ("GET", "digests") => PageAnswer::json(200, &folder.digests()),
        ("GET", "history") => listed(folder, &["shelf", "history", "--json"]),
        ("GET", path) => match path.strip_prefix("reports/") {
            Some(path) => report_file(folder, path),
            None => PageAnswer::told(404, "there is nothing of this name"),
        },
        ("POST", "save") => with(request, |asked: SaveRequest| save(folder, &asked)),
        ("POST", "report") => with(request, |asked: ReportRequest| report(folder, &asked)),
        ("POST", "settle") => with(request, |asked: SettleRequest| settle(folder, &asked)),
        ("POST", "undo") => with(request, |asked: UndoRequest| undo(folder, &asked)),
        ("POST", "release") => with(request, |asked: ReleaseRequest| release(folder, &asked)),
        ("POST", _) => PageAnswer::told(404, "there is nothing of this name"),
        _ => PageAnswer::told(405, "this cannot be done here"),
    }
}

/// Does something with the body of a request.
fn with<T: DeserializeOwned>(
    request: &PageRequest,
    act: impl FnOnce(T) -> PageAnswer<'static>,
) -> PageAnswer<'static> {
    match serde_json::from_slice(&request.body) {
        Ok(asked) => act(asked),
        Err(error) => {
            PageAnswer::told(400, &format!("the page asked what cannot be read: {error}"))
        }
    }
}

/// Answers a question line by line, until it is answered or the page has gone.
fn ask(folder: &Folder, request: &PageRequest, stream: &mut TcpStream) -> io::Result<()> {
    let mut question: DeskQuestion = match serde_json::from_slice(&request.body) {
        Ok(question) => question,
        Err(error) => {
            return PageAnswer::told(400, &format!("the page asked what cannot be read: {error}"))
                .send(stream);
        }
    };
    if let DeskQuestion::Plan(plan) = &mut question {
        let text = folder.text(JOURNAL);
        plan.desk.journal = text.map(|text| DeskFile { name: JOURNAL.to_owned(), text });
    }
    http::begin(
        stream,
        AnswerHead { status: 200, kind: "application/x-ndjson; charset=utf-8", policy: NOTHING },
    )?;
    let (gone, done) = (AtomicBool::new(false), AtomicBool::new(false));
    let (mut ear, end) = (stream.try_clone()?, stream.try_clone()?);
    let mouth = Mutex::new(&mut *stream);
    let say = |document: Value| {
        let line = format!("{document}\n");
        let said = mouth.lock().map(|mut mouth| mouth.write_all(line.as_bytes()));
        if !matches!(said, Ok(Ok(()))) {
            gone.store(true, Ordering::Relaxed);
        }
    };
    thread::scope(|scope| {
        scope.spawn(|| hear(&mut ear, &gone, &done));
        let stop = || gone.load(Ordering::Relaxed);
        desk::answer(&question, Listener { say: &say, stop: &stop, first: Some(FIRST) });
        done.store(true, Ordering::Relaxed);
        // Whoever listens for the page is woken by it.
        end.shutdown(Shutdown::Both)
    })
}

/// Between two looks whether a page is still there.
const LOOK: Duration = Duration::from_millis(50);

/// Notes when the page has hung up: it says nothing more, so there is nothing else to hear.
fn hear(ear: &mut TcpStream, gone: &AtomicBool, done: &AtomicBool) {
    if ear.set_read_timeout(Some(LOOK)).is_err() {
        return;
    }
    while !done.load(Ordering::Relaxed) {
        match ear.read(&mut [0; 64]) {
            Ok(0) => return gone.store(true, Ordering::Relaxed),
            Ok(_) => {}
            Err(error)
                if matches!(
                    error.kind(),
                    ErrorKind::WouldBlock | ErrorKind::TimedOut | ErrorKind::Interrupted
                ) => {}
            Err(_) => return gone.store(true, Ordering::Relaxed),
        }
    }
}

fn page_file(name: &str) -> PageAnswer<'static> {
    match page::file(name) {
        Some(file) => {
            PageAnswer { status: 200, kind: file.kind, policy: PAGE, body: file.text.into() }
        }
        None => PageAnswer::told(404, "there is nothing of this name"),
    }
}

/// The folder of a report that is there.
fn report_folder(folder: &Folder, name: &str) -> Option<PathBuf> {
    let path = Path::new("reports").join(name);
    let is_there = is_plain(name) && folder.home.join(&path).join("plan.json").is_file();
    is_there.then_some(path)
}

/// A file of a report.
fn report_file(folder: &Folder, path: &str) -> PageAnswer<'static> {
    let none = || PageAnswer::told(404, "there is no such report");
    let Some((report, name)) = path.split_once('/') else { return none() };
    let Some(report) = decoded(report).and_then(|report| report_folder(folder, &report)) else {
        return none();
    };
    let kind = match name.rsplit_once('.').map(|(_, end)| end) {
        Some("html") => "text/html; charset=utf-8",
        Some("pdf") => "application/pdf",
        Some("svg") => "image/svg+xml",
        Some("csv") => "text/csv; charset=utf-8",
        Some("json") => JSON,
        _ => return none(),
    };
    match folder.bytes(&report.join(name)) {
        Some(body) if is_plain(name) => PageAnswer { status: 200, kind, policy: REPORT, body },
        _ => none(),
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

fn save(folder: &Folder, SaveRequest { name, was, text }: &SaveRequest) -> PageAnswer<'static> {
    match folder.save(&Saving { name, was: was.as_deref(), text }) {
        Ok(Saved::As(digest)) => PageAnswer::json(200, &json!({ "digest": digest })),
        Ok(Saved::Differs(text)) => {
            let digest = text.as_ref().map(|text| digest(text.as_bytes()));
            PageAnswer::json(409, &json!({ "digest": digest, "text": text }))
        }
        Ok(Saved::NoName) => {
            PageAnswer::told(422, "no file of a workshop can have this name: an order ends in .csv")
        }
        Err(error) => PageAnswer::told(500, &super::super::access::in_full(&error)),
    }
}

/// What a command that only looks says.
fn listed(folder: &Folder, words: &[&str]) -> PageAnswer<'static> {
    let errand =
        Errand::new(words).option("sheets", &folder.shelf.join("sheets.csv").display().to_string());
    match errand.run(&folder.home) {
        Ok(done) => match serde_json::from_str::<Value>(&done.out) {
            Ok(document) => PageAnswer::json(200, &document),
            Err(_) => PageAnswer::told(422, &done.said),
        },
        Err(error) => PageAnswer::told(500, &error.to_string()),
    }
}

/// An order whose schedule is written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ReportRequest {
    order: String,
    #[serde(default)]
    rest: bool,
}

fn report(folder: &Folder, ReportRequest { order, rest }: &ReportRequest) -> PageAnswer<'static> {
    if !folder.orders().contains(order) {
        return PageAnswer::told(404, "there is no such order");
    }
    let errand = Errand::new(&["plan"]).path(&folder.shelf.join(order)).switch("rest", *rest);
    match errand.run(&folder.home) {
        Err(error) => PageAnswer::told(500, &error.to_string()),
        Ok(done) => {
            // The last line of the summary says where the schedule lies.
            let place = done.out.lines().rev().find_map(|line| line.strip_prefix("Schedule: "));
            let name = place.and_then(|place| Path::new(place).parent()?.file_name()?.to_str());
            let told = format!("{}{}", done.said, done.out);
            PageAnswer::json(200, &json!({ "ok": done.is_well, "name": name, "told": told }))
        }
    }
}

/// A name with a number.
#[derive(Deserialize)]
struct NamedNumber<T>(String, T);

/// A batch that is settled, as far as it is cut.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SettleRequest {
    report: String,
    #[serde(default)]
    done: Option<String>,
    #[serde(default)]
    spoiled: Vec<NamedNumber<u64>>,
    #[serde(default)]
    hours: Vec<NamedNumber<Number>>,
    #[serde(default)]
    preview: bool,
}

fn settle(folder: &Folder, asked: &SettleRequest) -> PageAnswer<'static> {
    let Some(report) = report_folder(folder, &asked.report) else {
        return PageAnswer::told(404, "there is no such report");
    };
    let mut errand = Errand::new(&["settle"]).path(&report);
    if let Some(done) = &asked.done {
        errand = errand.option("done", done);
    }
    for NamedNumber(name, count) in &asked.spoiled {
        errand = errand.option("spoiled", &format!("{name}={count}"));
    }
    for NamedNumber(stage, hours) in &asked.hours {
        errand = errand.option("hours", &format!("{stage}={hours}"));
    }
    on_shelf(folder, &errand, &report, asked.preview)
}

fn on_shelf(
    folder: &Folder,
    errand: &Errand,
    report: &Path,
    is_preview: bool,
) -> PageAnswer<'static> {
    match errand.on_shelf(folder, report, is_preview) {
        Ok(document) => PageAnswer::json(200, &document),
        Err(error) => PageAnswer::told(500, &error.to_string()),
    }
}

/// A batch whose last settlement is undone.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct UndoRequest {
    report: String,
    #[serde(default)]
    preview: bool,
}

fn undo(folder: &Folder, UndoRequest { report, preview }: &UndoRequest) -> PageAnswer<'static> {
    match report_folder(folder, report) {
        None => PageAnswer::told(404, "there is no such report"),
        Some(report) => {
            let errand = Errand::new(&["settle"]).path(&report).switch("undo", true);
            on_shelf(folder, &errand, &report, *preview)
        }
    }
}

/// A batch whose paper is released.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ReleaseRequest {
    batch: String,
}

fn release(folder: &Folder, ReleaseRequest { batch }: &ReleaseRequest) -> PageAnswer<'static> {
    let sheets = folder.shelf.join("sheets.csv").display().to_string();
    let errand = Errand::new(&["shelf", "drop"]).option("sheets", &sheets).last(batch);
    on_shelf(folder, &errand, Path::new(""), false)
}

fn take(folder: &Folder, asked: &TakeRequest) -> PageAnswer<'static> {
    let Some(table) = asked.table() else {
        return PageAnswer::told(422, "this is no table of what was counted");
    };
    let done = ScratchFolder::with_file(TABLE, table.as_bytes()).and_then(|scratch| {
        let path = scratch.folder.home.join(TABLE);
        let errand = Errand::new(&["shelf", "take"]).path(&path);
        let sheets = folder.shelf.join("sheets.csv").display().to_string();
        let errand = errand.option("sheets", &sheets);
        let mut done = errand.on_shelf(folder, Path::new(""), asked.preview)?;
        // Where the table lay for a moment is of no use to anybody.
        let told = done["told"].as_str().unwrap_or_default();
        done["told"] = json!(told.replace(&path.display().to_string(), TABLE));
        Ok(done)
    });
    match done {
        Ok(document) => PageAnswer::json(200, &document),
        Err(error) => PageAnswer::told(500, &error.to_string()),
    }
}

/// What the table of a stock-take is called.
const TABLE: &str = "counted.csv";

/// Ticks of a schedule, as the page that shows it keeps them.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TicksRequest {
    report: String,
    ticks: Value,
}

/// The file beside a report's own that keeps its ticks.
const TICKS: &str = "ticks.json";

/// Largest file of ticks, in bytes.
const MOST_TICKS: usize = 1 << 20;

fn ticks(folder: &Folder, query: &str) -> PageAnswer<'static> {
    let report = query.strip_prefix("report=").and_then(decoded);
    let Some(report) = report.and_then(|report| report_folder(folder, &report)) else {
        return PageAnswer::told(404, "there is no such report");
    };
    let text = folder.bytes(&report.join(TICKS)).unwrap_or_default();
    let ticks: Value = serde_json::from_slice(&text).unwrap_or_else(|_| json!({}));
    PageAnswer::json(200, &json!({ "ticks": ticks }))
}

fn keep_ticks(
    folder: &Folder,
    TicksRequest { report, ticks }: &TicksRequest,
) -> PageAnswer<'static> {
    let text = ticks.to_string();
    match report_folder(folder, report) {
        None => PageAnswer::told(404, "there is no such report"),
        Some(_) if !ticks.is_object() || text.len() > MOST_TICKS => {
            PageAnswer::told(422, "these are no ticks of a schedule")
        }
        Some(report) => match folder.put(&report.join(TICKS), text.as_bytes()) {
            Ok(()) => PageAnswer::json(200, &json!({})),
            Err(error) => PageAnswer::told(500, &error.to_string()),
        },
    }
}
