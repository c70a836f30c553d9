//! Many at once on one shelf.

use super::*;
use std::collections::BTreeMap;

const MANY: u64 = 16;
/// Sheets on hand: for three batches in four.
const SHEETS_ON_HAND: u64 = 12;

/// What a command says that may have to wait for others.
fn said_at_last(home: &Home, arguments: &str) -> String {
    let Answer { code, out, err } = home.run(arguments);
    let waited = |line: &str| line.starts_with("waiting for ");
    assert!(code == Some(0) && err.lines().all(waited), "{arguments}: {code:?} {err}");
    out
}

/// Sixteen people settle their own batches of one sheet each, in one moment.
#[test]
fn every_batch_is_settled_once_or_refused() {
    let home = Home::new();
    home.put("workshop.toml", "[spares]\npercent = 0\nat_least = 0\n");
    let sheets = format!("sheet,paper,width,height,on hand\nfern-12,fern,12,12,{SHEETS_ON_HAND}\n");
    home.put("sheets.csv", sheets);
    for batch in 0..MANY {
        home.put(&format!("b{batch}.csv"), "line,card,count,paper\ntag,10 x 12,1,fern\n");
        home.done(&format!("plan b{batch}.csv --quiet"));
    }
    let settle = |batch: u64| {
        let mut command = home.command(&format!("settle reports/b{batch}"));
        command.stdout(std::process::Stdio::piped()).stderr(std::process::Stdio::piped());
        command.spawn().unwrap()
    };
    let running: Vec<_> = (0..MANY).map(settle).collect();
    let mut settled = BTreeMap::new();
    for (batch, child) in running.into_iter().enumerate() {
        let answer = Answer::of(child.wait_with_output().unwrap());
        match answer.code {
            Some(0) => assert_eq!(answer.err, ""),
            Some(1) => assert!(answer.err.contains("error[settle-unfit]"), "{}", answer.err),
            other => panic!("{other:?}: {}", answer.err),
        }
        settled.insert(batch, answer.code == Some(0));
    }
    assert_eq!(settled.values().filter(|done| **done).count() as u64, SHEETS_ON_HAND);
    assert!(home.text("sheets.csv").ends_with("\nfern-12,fern,12,12,0\n"));
    let drawer = home.text("offcuts.csv");
    for (batch, done) in settled {
        let rows = drawer.matches(&format!("\nfern-b{batch}-01,")).count();
        assert_eq!(rows, usize::from(done), "b{batch}: {drawer}");
    }
    let history = said(&home, "shelf history");
    assert_eq!(history.matches(" settled: ").count() as u64, SHEETS_ON_HAND, "{history}");
    assert!(history.ends_with("and your files match the last\n"), "{history}");
}

/// The same batch by sixteen: once.
#[test]
fn one_batch_is_settled_once_however_many_try() {
    for settle in ["settle reports/spring", "settle reports/spring --done 7 --spoiled H=2"] {
        once(settle, "settle reports/spring --undo");
    }
}

/// New strips come into the drawer once, too.
#[test]
fn one_stock_take_is_recorded_once_however_many_try() {
    once("shelf take counted.csv", "shelf rebuild --to 1");
}

fn once(there: &str, back: &str) {
    let home = planned();
    home.put("counted.csv", COUNTED);
    let running: Vec<_> = (0..MANY)
        .map(|_| {
            let mut command = home.command(there);
            command.stdout(std::process::Stdio::null()).stderr(std::process::Stdio::null());
            command.spawn().unwrap()
        })
        .collect();
    let codes = running.into_iter().map(|mut child| child.wait().unwrap().code());
    let done = codes.filter(|code| *code == Some(0)).count();
    assert_eq!(done, 1);
    home.done(back);
    assert_eq!(stock(&home), (SHEETS.to_owned(), OFFCUTS.to_owned()));
}

/// Those who plan meanwhile see both files of before or both of after.
#[test]
fn a_planner_never_sees_half_a_change() {
    let home = Home::new();
    // Before, there is a sheet of 12 x 12; after, an offcut of 10 x 12.
    home.put("workshop.toml", "[spares]\npercent = 0\nat_least = 0\n[keep]\nvalue = 100\n");
    home.put("tags.csv", "line,card,count,paper\ntag,2 x 12,1,fern\n");
    home.put("sheets.csv", "sheet,paper,width,height,on hand\nfern-12,fern,12,12,1\n");
    home.done("plan tags.csv --quiet");
    // Either is enough for five strips. Ten want both, which are never there at once.
    home.put("five.csv", "line,card,count,paper\nnote,2 x 12,5,fern\n");
    home.put("ten.csv", "line,card,count,paper\nnote,2 x 12,10,fern\n");
    std::thread::scope(|scope| {
        let turn = scope.spawn(|| {
            for _ in 0..25 {
                said_at_last(&home, "settle reports/tags");
                said_at_last(&home, "settle reports/tags --undo");
            }
        });
        scope.spawn(|| {
            for _ in 0..12 {
                assert_eq!(said_at_last(&home, "plan five.csv --quiet"), "");
                assert_eq!(home.run("plan ten.csv --quiet").code, Some(1));
            }
        });
        let mut seen = [0, 0];
        while !turn.is_finished() {
            let out = said_at_last(&home, "shelf");
            // A sheet and no offcut, or an offcut and no sheet.
            let before = out.starts_with("1 sheet and 0 offcuts, ");
            assert!(before || out.starts_with("0 sheets and 1 offcut, "), "{out}");
            seen[usize::from(before)] += 1;
        }
        println!("seen after {} times, before {} times", seen[0], seen[1]);
    });
}
