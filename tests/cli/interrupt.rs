//! Ctrl-C while a batch is planned, as a terminal sends it: `SIGINT`.
#![cfg(unix)]

use super::*;
use crate::bench::hostile::PLAIN;
use crate::program::signal;
use std::io::{BufRead, BufReader, Read};
use std::process::{Child, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// An order of so many sizes that no effort comes to an end with it.
fn endless() -> Call {
    let row = |number: u64| {
        let sixteenths = |factor: u64| (17 + number * factor % 71) as f64 / 16.0;
        let (width, height, count) = (sixteenths(29), sixteenths(43), 5 + number * 31 % 67);
        format!("card-{number},{width} x {height},{count},fern\n")
    };
    let rows: String = (0..40).map(row).collect();
    Call::new("plan many.csv --effort long")
        .file("many.csv", format!("line,card,count,paper\n{rows}"))
        .file(
            "sheets.csv",
            "sheet,paper,width,height,on hand,price,pack\n\
             fern-12,fern,12,12,10,1.10,7\nfern-18,fern,12,18,3,1.50,3\n",
        )
}

/// The call, begun and still at work after a while.
fn at_work(call: &Call) -> Child {
    let mut command = call.command();
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    sleep(Duration::from_secs(3));
    assert!(child.try_wait().unwrap().is_none(), "it was done too soon to be stopped");
    child
}

#[test]
fn the_best_plan_so_far_is_written_whole() {
    let call = endless();
    let child = at_work(&call);
    signal(&child, "INT");
    let answer = Answer::of(child.wait_with_output().unwrap());
    assert_eq!(answer.code, Some(130), "{}", answer.err);
    assert_eq!(
        answer.err,
        "\nstopping; press Ctrl-C again to end at once\n\
         stopped by Ctrl-C: the best plan found so far is written\n"
    );
    assert!(answer.out.starts_with("many: all "), "{}", answer.out);
    assert!(answer.out.contains("Not proven: at most "), "{}", answer.out);
    let judged = call.home.done("check reports/many/plan.json");
    assert!(judged.out.starts_with("1 plan: no mistakes\n"), "{}", judged.out);
    call.home.put("few.csv", "line,card,count,paper\ntag,2 x 3,12,fern\n");
    call.home.done("plan few.csv --quiet");
    let [stopped, whole] =
        ["reports/many", "reports/few"].map(|folder| listing(&call.home.path(folder)));
    assert_eq!(stopped, whole);
}

/// Sizes to a thousandth of a millimetre on forty offcuts: one look at all sheets alone takes long.
#[test]
fn an_order_of_the_finest_sizes_ends_as_well() {
    let mut call = Call::new("plan hostile.csv --effort long --quiet");
    for (name, bytes) in PLAIN.files() {
        call = call.file(&name, bytes);
    }
    let child = at_work(&call);
    signal(&child, "INT");
    let (told, ended) = std::sync::mpsc::channel();
    std::thread::spawn(move || told.send(child.wait_with_output()));
    // Far more than the second that it takes where nothing else is done.
    let output = ended.recv_timeout(Duration::from_secs(20)).expect("it ends").unwrap();
    let answer = Answer::of(output);
    assert_eq!(answer.code, Some(130), "{}", answer.err);
    call.home.done("check reports/hostile/plan.json");
}

#[test]
fn a_limit_ends_planning_with_what_there_is() {
    let mut call = endless();
    call.arguments += " --limit 1";
    let (told, ended) = std::sync::mpsc::channel();
    let mut command = call.command();
    std::thread::spawn(move || told.send(command.output()));
    let output = ended.recv_timeout(Duration::from_secs(120)).expect("it ends").unwrap();
    let answer = Answer::of(output);
    assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""));
    assert!(answer.out.contains("Not proven: at most "), "{}", answer.out);
    call.home.done("check reports/many/plan.json");
}

#[test]
fn the_second_ends_at_once_and_leaves_no_half() {
    let call = endless();
    let mut child = at_work(&call);
    let before = call.names();
    signal(&child, "INT");
    // Two at once would be one signal: the second waits until the first is answered.
    let mut told = BufReader::new(child.stderr.take().unwrap());
    let mut err = String::new();
    while !err.ends_with("at once\n") {
        assert!(told.read_line(&mut err).unwrap() > 0, "it ended at the first: {err}");
    }
    signal(&child, "INT");
    let start = Instant::now();
    told.read_to_string(&mut err).unwrap();
    let answer = Answer::of(child.wait_with_output().unwrap());
    assert!(start.elapsed() < Duration::from_secs(10));
    assert_eq!((answer.code, answer.out.as_str()), (Some(130), ""));
    assert_eq!(err, "\nstopping; press Ctrl-C again to end at once\n");
    assert_eq!(call.names(), before);
}
