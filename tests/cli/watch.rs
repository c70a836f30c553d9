//! `plan --watch`: planned again whenever a file is saved.
#![cfg(unix)]

use super::*;
use crate::program::signal;
use std::io::{BufRead, BufReader, Read};
use std::process::{Child, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::thread::{JoinHandle, spawn};
use std::time::Duration;

/// A program that goes on, heard from outside.
struct Watch {
    child: Child,
    err: Receiver<String>,
    out: JoinHandle<String>,
}

impl Watch {
    fn begin(call: &Call) -> Watch {
        let mut command = call.command();
        let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let (told, err) = channel();
        let lines = BufReader::new(child.stderr.take().unwrap()).lines();
        spawn(move || lines.map_while(Result::ok).for_each(|line| drop(told.send(line))));
        let mut stdout = child.stdout.take().unwrap();
        let out = spawn(move || {
            let mut text = String::new();
            stdout.read_to_string(&mut text).unwrap();
            text
        });
        Watch { child, err, out }
    }

    /// What is said until it waits for the next change.
    #[track_caller]
    fn until_it_waits(&self) -> String {
        let mut said = String::new();
        loop {
            let line = self.err.recv_timeout(Duration::from_secs(120)).expect(&said);
            if line == "waiting for a file to be saved; Ctrl-C ends this" {
                return said;
            }
            said += &(line + "\n");
        }
    }

    /// Ends it as a person does, and gives exit code and results.
    fn end(mut self) -> (Option<i32>, String) {
        signal(&self.child, "INT");
        (self.child.wait().unwrap().code(), self.out.join().unwrap())
    }
}

fn order(count: &str) -> String {
    format!("line,card,count,paper\ntag,2 x 3,{count},fern\n")
}

#[test]
fn each_change_is_planned_and_a_mistake_is_waited_out() {
    let call = Call::of_tags("plan spring.csv --watch");
    let watch = Watch::begin(&call);
    assert_eq!(watch.until_it_waits(), "");

    // As editors do that put another file in the place of the old one.
    call.home.put("spring.csv~", order("19"));
    fs::rename(call.home.path("spring.csv~"), call.home.path("spring.csv")).unwrap();
    assert_eq!(watch.until_it_waits(), "\nsaved: spring.csv\n");

    call.home.put("spring.csv", order("twelve"));
    let told = watch.until_it_waits();
    assert!(told.starts_with("\nsaved: spring.csv\nerror[order-count]: "), "{told}");
    assert!(call.home.text("reports/spring/pieces.csv").contains("19"));

    call.home.put("workshop.toml", "unit = \"in\"\n");
    call.home.put("spring.csv", order("23"));
    let told = watch.until_it_waits();
    assert_eq!(told, "\nsaved: spring.csv; new: workshop.toml\n");

    let (code, out) = watch.end();
    assert_eq!(code, Some(0));
    let plans: Vec<&str> = out.lines().filter(|line| line.starts_with("spring: ")).collect();
    let planned = |count| format!("spring: all {count} cards can be made");
    assert_eq!(plans, [12, 19, 23].map(planned));
}

/// A plan that was read by nobody would be planned for nobody.
#[test]
fn it_ends_when_its_reader_goes_away() {
    let call = Call::of_tags("plan spring.csv --watch");
    let mut command = call.command();
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
    drop(child.stdout.take());
    assert_eq!(child.wait().unwrap().code(), Some(0));
}

#[test]
fn paper_is_not_set_aside_for_every_save() {
    let err = Call::of_tags("plan spring.csv --watch --reserve").refused();
    assert!(err.contains("cannot be used with"), "{err}");
}
