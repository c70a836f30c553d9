//! One request a connection, within limits of size and time, and its answer.
//!
//! The parser of the head is a library's. Nothing is answered in pieces of known length: an answer ends where the connection does, so
//! that lines can be sent as they are made.

use std::io::{self, ErrorKind, Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

/// Largest head of a request, in bytes.
const LARGEST_HEAD: usize = 16 * 1024;
/// Most header fields.
const MOST_FIELDS: usize = 64;
/// Largest body, in bytes: the texts of all files of a workshop are far smaller.
pub const LARGEST_BODY: usize = 16 << 20;
/// Time for a head to arrive: nobody is known yet.
const KNOCK: Duration = Duration::from_secs(2);
/// Time for a body to arrive, from somebody who is known.
const ARRIVAL: Duration = Duration::from_secs(15);
/// Time for each piece of an answer to be taken.
const TAKING: Duration = Duration::from_secs(30);

/// The head of a request, as it arrived.
#[derive(Clone, Debug, Default)]
pub struct RequestHead {
    /// `GET` or `POST`.
    pub method: String,
    /// The path without its query.
    pub path: String,
    /// What stands behind the `?`.
    pub query: String,
    /// Fields that are looked at, in lower case.
    fields: Vec<HeaderField>,
    /// Length of its body, in bytes.
    length: usize,
    /// What has arrived of the body.
    begun: Vec<u8>,
}

/// A field of the head.
#[derive(Clone, Debug)]
struct HeaderField {
    name: String,
    value: String,
}

impl RequestHead {
    /// The value of a field; `None` where it is not there, or there twice.
    pub fn field(&self, name: &str) -> Option<&str> {
        let mut found = self.fields.iter().filter(|field| field.name == name);
        let first = found.next()?;
        found.next().is_none().then_some(first.value.as_str())
    }

    /// Whether a field is there at all.
    pub fn has_field(&self, name: &str) -> bool {
        self.fields.iter().any(|field| field.name == name)
    }
}

/// An answer, but for its body.
#[derive(Clone, Copy, Debug)]
pub struct AnswerHead<'a> {
    /// Status code of HTTP.
    pub status: u16,
    /// Media type of the body.
    pub media: &'a str,
    /// Which parts a page may load.
    pub policy: &'a str,
}

/// Why there is no request.
#[derive(Debug)]
pub enum Unread {
    /// It is none, or too large: the status that says so.
    Refused(u16),
    /// The connection broke, or took too long.
    Broken,
}

impl From<io::Error> for Unread {
    fn from(_: io::Error) -> Unread {
        Unread::Broken
    }
}

/// Reads the head of a request.
///
/// # Errors
/// It is no request, too large or too slow.
pub fn read(stream: &mut TcpStream) -> Result<RequestHead, Unread> {
    stream.set_write_timeout(Some(TAKING))?;
    let until = Instant::now() + KNOCK;
    let mut bytes = Vec::new();
    loop {
        if let Some(head) = head(&bytes)? {
            return Ok(head);
        }
        if bytes.len() > LARGEST_HEAD {
            return Err(Unread::Refused(431));
        }
        more(stream, &mut bytes, until)?;
    }
}

impl RequestHead {
    /// Reads the body.
    ///
    /// # Errors
    /// It is too large or too slow, or no text.
    pub fn body(&mut self, stream: &mut TcpStream) -> Result<String, Unread> {
        if self.length > LARGEST_BODY {
            return Err(Unread::Refused(413));
        }
        let until = Instant::now() + ARRIVAL;
        let mut bytes = std::mem::take(&mut self.begun);
        while bytes.len() < self.length {
            more(stream, &mut bytes, until)?;
        }
        bytes.truncate(self.length);
        String::from_utf8(bytes).map_err(|_| Unread::Refused(400))
    }
}

/// What arrives next.
fn more(stream: &mut TcpStream, bytes: &mut Vec<u8>, until: Instant) -> Result<(), Unread> {
    let left = until.saturating_duration_since(Instant::now());
    if left.is_zero() {
        return Err(Unread::Broken);
    }
    stream.set_read_timeout(Some(left))?;
    let mut buffer = [0; 16 * 1024];
    match stream.read(&mut buffer) {
        Ok(0) => Err(Unread::Broken),
        Ok(count) => {
            bytes.extend_from_slice(&buffer[..count]);
            Ok(())
        }
        Err(error) if error.kind() == ErrorKind::Interrupted => Ok(()),
        Err(error) => Err(error.into()),
    }
}

/// The head; `None` where it is not whole.
fn head(bytes: &[u8]) -> Result<Option<RequestHead>, Unread> {
    let mut fields = [httparse::EMPTY_HEADER; MOST_FIELDS];
    let mut parsed = httparse::Request::new(&mut fields);
    let behind = match parsed.parse(bytes) {
        Ok(httparse::Status::Complete(behind)) => behind,
        Ok(httparse::Status::Partial) => return Ok(None),
        Err(httparse::Error::TooManyHeaders) => return Err(Unread::Refused(431)),
        Err(_) => return Err(Unread::Refused(400)),
    };
    let field = |field: &httparse::Header| HeaderField {
        name: field.name.to_ascii_lowercase(),
        value: String::from_utf8_lossy(field.value).trim().to_owned(),
    };
    let target = parsed.path.unwrap_or_default();
    let (path, query) = target.split_once('?').unwrap_or((target, ""));
    let mut request = RequestHead {
        method: parsed.method.unwrap_or_default().to_owned(),
        path: path.to_owned(),
        query: query.to_owned(),
        fields: parsed.headers.iter().map(field).collect(),
        length: 0,
        begun: bytes[behind..].to_vec(),
    };
    // A body of unknown length would have to be read as it comes: no page sends one.
    if request.has_field("transfer-encoding") {
        return Err(Unread::Refused(411));
    }
    if request.has_field("content-length") {
        let length = request.field("content-length").and_then(|text| text.parse().ok());
        request.length = length.ok_or(Unread::Refused(400))?;
    }
    Ok(Some(request))
}

/// Writes the head of an answer; its body follows.
///
/// # Errors
/// Nobody takes it.
pub fn begin(stream: &mut TcpStream, head: AnswerHead) -> io::Result<()> {
    let AnswerHead { status, media, policy } = head;
    let text = format!(
        "HTTP/1.1 {status} {}\r\nContent-Type: {media}\r\nContent-Security-Policy: {policy}\r\n\
         X-Content-Type-Options: nosniff\r\nReferrer-Policy: no-referrer\r\nCache-Control: no-store\r\n\
         Cross-Origin-Resource-Policy: same-origin\r\nCross-Origin-Opener-Policy: same-origin\r\n\
         Connection: close\r\n\r\n",
        reason(status)
    );
    stream.write_all(text.as_bytes())
}

const fn reason(status: u16) -> &'static str {
    match status {
        200 => "OK",
        400 => "Bad Request",
        403 => "Forbidden",
        404 => "Not Found",
        405 => "Method Not Allowed",
        409 => "Conflict",
        411 => "Length Required",
        413 => "Content Too Large",
        422 => "Unprocessable Content",
        431 => "Request Header Fields Too Large",
        503 => "Service Unavailable",
        _ => "Internal Server Error",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read_of(text: &str) -> Result<Option<RequestHead>, u16> {
        head(text.as_bytes()).map_err(|unread| match unread {
            Unread::Refused(status) => status,
            Unread::Broken => 0,
        })
    }

    #[test]
    fn a_head_is_read_once_it_is_whole() {
        let text = "POST /a/ask?b=c HTTP/1.1\r\nHost: 127.0.0.1:80\r\nContent-Length: 2\r\n\r\n{}";
        assert!(read_of(&text[..20]).unwrap().is_none());
        let request = read_of(text).unwrap().unwrap();
        assert_eq!((request.method.as_str(), request.path.as_str()), ("POST", "/a/ask"));
        assert_eq!((request.query.as_str(), request.length), ("b=c", 2));
        assert_eq!(request.begun, b"{}");
        assert_eq!(request.field("host"), Some("127.0.0.1:80"));
    }

    #[test]
    fn what_is_doubtful_is_refused() {
        for (fields, status) in [
            ("Content-Length: 2\r\nContent-Length: 3\r\n", 400),
            ("Content-Length: -1\r\n", 400),
            ("Transfer-Encoding: chunked\r\n", 411),
            ("A: b\r\n".repeat(65).as_str(), 431),
            ("A b\r\n", 400),
        ] {
            let text = format!("GET / HTTP/1.1\r\n{fields}\r\n");
            assert_eq!(read_of(&text).err(), Some(status), "{fields}");
        }
        let request = read_of("GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n").unwrap().unwrap();
        assert_eq!(request.field("host"), None, "which of them is not known");
    }
}
