//! The desk from outside: a server and who asks it, with and without leave.

// Only so are its helpers known as tests.
#![cfg(test)]

mod attacks;
#[cfg(unix)]
mod browser;
mod page;
mod saving;
mod times;
mod unread;
mod work;

use crate::program::Home;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Stdio};
use std::time::Duration;

/// A desk that runs until it is dropped.
struct Desk {
    home: Home,
    server: Child,
    /// Host and port.
    host: String,
    secret: String,
}

/// What the server answered.
#[derive(Debug)]
struct Reply {
    status: u16,
    head: String,
    body: String,
}

impl Reply {
    fn json(&self) -> Value {
        serde_json::from_str(&self.body).unwrap_or_else(|error| panic!("{error}: {}", self.body))
    }
}

impl Desk {
    /// A desk in a folder.
    fn of(home: Home) -> Desk {
        Desk::at(home, ".")
    }

    /// A desk in a folder below.
    fn at(home: Home, folder: &str) -> Desk {
        let mut command = home.command(&format!("desk {folder} --no-open"));
        let mut server = command.stdout(Stdio::piped()).stderr(Stdio::inherit()).spawn().unwrap();
        let mut told = String::new();
        BufReader::new(server.stdout.take().unwrap()).read_line(&mut told).unwrap();
        let link = told.trim().strip_prefix("Your desk: http://").unwrap();
        let (host, secret) = link.trim_end_matches('/').split_once('/').unwrap();
        let (host, secret) = (host.to_owned(), secret.to_owned());
        Desk { home, server, host, secret }
    }

    /// A desk of the project's workshop.
    fn of_the_wedding() -> Desk {
        Desk::of(Home::with(&["orders"]))
    }

    /// A desk with a small order.
    fn of_tags() -> Desk {
        let home = Home::new();
        home.put("spring.csv", "line,card,count,paper\ntag,2 x 3,12,fern\n");
        home.put(
            "sheets.csv",
            "sheet,paper,width,height,on hand,price\nfern-12,fern,12,12,3,1.10\n",
        );
        Desk::of(home)
    }

    /// What comes back for these bytes.
    fn raw(&self, bytes: &[u8]) -> Reply {
        let mut stream = TcpStream::connect(&self.host).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(60))).unwrap();
        // A server that refuses may hang up before all is sent.
        let _ = stream.write_all(bytes);
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        let answer = String::from_utf8_lossy(&answer).into_owned();
        let (head, body) = answer.split_once("\r\n\r\n").unwrap_or((&answer, ""));
        let status = head.split(' ').nth(1).and_then(|status| status.parse().ok());
        Reply { status: status.unwrap_or(0), head: head.to_owned(), body: body.to_owned() }
    }

    /// A request with these fields beside its host.
    fn asked(&self, line: &str, fields: &str, body: &str) -> Reply {
        let (host, length) = (&self.host, body.len());
        let length =
            if body.is_empty() { String::new() } else { format!("Content-Length: {length}\r\n") };
        self.raw(
            format!("{line} HTTP/1.1\r\nHost: {host}\r\n{fields}{length}\r\n{body}").as_bytes(),
        )
    }

    /// A request of the page.
    fn get(&self, path: &str) -> Reply {
        self.asked(&format!("GET /{}/{path}", self.secret), "", "")
    }

    /// A request of the page that changes something, or asks.
    fn post(&self, path: &str, body: &Value) -> Reply {
        let fields = format!("Origin: http://{}\r\n", self.host);
        self.asked(&format!("POST /{}/{path}", self.secret), &fields, &body.to_string())
    }

    /// What comes of a step that is looked at first, as the page does it.
    fn step(&self, door: &str, question: &Value) -> Reply {
        let mut question = question.clone();
        question["preview"] = json!(true);
        let seen = self.post(door, &question).json()["seen"].clone();
        question["preview"] = json!(false);
        question["seen"] = seen;
        self.post(door, &question)
    }

    /// All files as the page would send them back with a question.
    fn files(&self, order: &str) -> Value {
        let files = self.get("files").json();
        // What is no text has not come to the page.
        let plain = |file: &Value| match file["text"].is_null() {
            true => Value::Null,
            false => json!({ "name": file["name"], "text": file["text"] }),
        };
        let orders = files["orders"].as_array().unwrap();
        let order = orders.iter().find(|it| it["name"] == order).unwrap();
        let mut desk = json!({ "order": plain(order) });
        for (kind, file) in files["files"].as_object().unwrap() {
            desk[kind] = plain(file);
        }
        desk
    }

    /// The lines that answer a question.
    fn ask(&self, question: &Value) -> Vec<Value> {
        let reply = self.post("ask", question);
        assert_eq!(reply.status, 200, "{reply:?}");
        reply.body.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
    }
}

impl Drop for Desk {
    fn drop(&mut self) {
        let _ = self.server.kill();
        let _ = self.server.wait();
    }
}
