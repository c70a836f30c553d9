//! Answers over the network: heads, policies, and lines that are sent as they are made.

use super::http::{self, AnswerHead, Unread};
use super::page;
use super::policy::{self, NOTHING, PAGE};
use crate::cli::desk::answers::{AnswerKind, Asker, FIRST, PageAnswer, PageRequest, Reply, answer};
use crate::cli::desk::folder::Folder;
use crate::desk::{self, DeskQuestion, Listener};
use serde_json::Value;
use std::io::{self, ErrorKind, Read, Write};
use std::net::{Shutdown, TcpStream};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

/// A request that was let in.
#[derive(Clone, Copy)]
pub struct Admitted<'a> {
    /// From where it comes.
    pub asker: Asker,
    /// What is asked.
    pub request: &'a PageRequest,
}

/// Why somebody is not let in: a status of HTTP, without a word of what there is.
#[derive(Clone, Copy, Debug)]
pub struct DoorRefusal(u16);

impl DoorRefusal {
    /// The secret, the name or the origin is not right.
    pub const STRANGER: DoorRefusal = DoorRefusal(403);
    /// Too many ask at once.
    pub const CROWDED: DoorRefusal = DoorRefusal(503);
}

/// Sends somebody away.
///
/// # Errors
/// Nobody takes the answer.
pub fn refuse(stream: &mut TcpStream, DoorRefusal(status): DoorRefusal) -> io::Result<()> {
    send(stream, AnswerHead { status, media: "text/plain", policy: NOTHING }, &[])
}

/// Answers what could not be read.
///
/// # Errors
/// Nobody takes the answer.
pub fn unread(stream: &mut TcpStream, unread: Unread) -> io::Result<()> {
    match unread {
        Unread::Refused(status) => refuse(stream, DoorRefusal(status)),
        Unread::Broken => Ok(()),
    }
}

fn send(stream: &mut TcpStream, head: AnswerHead, body: &[u8]) -> io::Result<()> {
    http::begin(stream, head)?;
    stream.write_all(body)?;
    stream.flush()?;
    stream.shutdown(Shutdown::Write)
}

/// Answers a request that was let in.
///
/// # Errors
/// Nobody takes the answer.
pub fn reply(stream: &mut TcpStream, folder: &Folder, admitted: Admitted) -> io::Result<()> {
    let Admitted { asker, request } = admitted;
    let name = match (asker, request.path.as_str()) {
        (Asker::Phone, "") => "phone.html",
        (_, path) => path,
    };
    if let Some(file) = page::file(name).filter(|_| request.method == "GET") {
        let head = AnswerHead { status: 200, media: file.kind, policy: PAGE };
        return send(stream, head, file.text.as_bytes());
    }
    match answer(folder, asker, request) {
        Reply::Whole(PageAnswer { status, kind, media, body }) => {
            let policy = match kind {
                AnswerKind::Document => policy::NOTHING.to_owned(),
                AnswerKind::Report => policy::report(media),
            };
            send(stream, AnswerHead { status, media, policy: &policy }, &body)
        }
        Reply::Lines(question) => lines(stream, &question),
    }
}

/// Answers a question line by line, until it is answered or the page has gone.
fn lines(stream: &mut TcpStream, question: &DeskQuestion) -> io::Result<()> {
    let media = "application/x-ndjson; charset=utf-8";
    http::begin(stream, AnswerHead { status: 200, media, policy: NOTHING })?;
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
        desk::answer(question, Listener { say: &say, stop: &stop, first: Some(FIRST) });
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
