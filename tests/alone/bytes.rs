//! The page's program gives the bytes of the other one, and refuses what that refuses, in the same words.

use super::*;
use crate::bench::batches::{Extent, batches};
use crate::bench::hostile::PLAIN;
use crate::program::{files, listing, project};
use cardwright::batch::Inputs;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use std::fs;

/// Files that are no order.
const STOCK: [&str; 4] = ["sheets.csv", "offcuts.csv", "envelopes.csv", "sundries.csv"];

/// Plans an order with both programs; what they write and say has to be the same.
#[track_caller]
fn same(page: &mut Driven, home: &Home, order: &str) {
    let own = files(&home.path(""));
    let told = home.run(&format!("plan {order}"));
    let ran = run(page, &post("report", &json!({ "order": order })), &own);
    let said = format!("{}{}", told.err, told.out);
    assert_eq!(ran.body["told"], said, "{order}");
    // What it was made from names the folder.
    let is_same = |name: &str| name != "origin.json";
    let reports = home.path("reports");
    let mut count = 0;
    for report in reports.read_dir().into_iter().flatten().flatten().filter(|it| it.path().is_dir())
    {
        let name = report.file_name().into_string().unwrap();
        for (file, bytes) in files(&report.path()).iter().filter(|(name, _)| is_same(name)) {
            let path = format!("reports/{name}/{file}");
            assert!(ran.changes.get(&path) == Some(bytes), "{order}: {path} differs");
            count += 1;
        }
    }
    let is_report = |path: &&String| {
        path.matches('/').count() == 2 && is_same(path.rsplit('/').next().unwrap())
    };
    assert_eq!(ran.changes.keys().filter(is_report).count(), count, "{order}");
}

#[test]
fn shipped_orders_and_lessons_give_the_same_bytes() {
    let Some(mut page) = with_nothing() else { return };
    let lessons = listing(&project("examples")).into_iter().map(|name| format!("examples/{name}"));
    for folder in lessons.chain(["orders".to_owned()]) {
        let is_order = |name: &String| name.ends_with(".csv") && !STOCK.contains(&name.as_str());
        for order in listing(&project(&folder)).into_iter().filter(is_order) {
            let home = Home::new();
            for name in listing(&project(&folder)) {
                if let Ok(bytes) = fs::read(project(&folder).join(&name)) {
                    home.put(&name, bytes);
                }
            }
            same(&mut page, &home, &order);
        }
    }
}

/// The files of a batch under their usual names.
fn written(inputs: &Inputs) -> Home {
    let home = Home::new();
    let named = [
        ("batch.csv", inputs.orders.first()),
        ("sheets.csv", Some(&inputs.sheets)),
        ("offcuts.csv", inputs.offcuts.as_ref()),
        ("workshop.toml", inputs.workshop.as_ref()),
    ];
    for (name, source) in named {
        if let Some(source) = source {
            home.put(name, &source.bytes);
        }
    }
    home
}

fn generated(page: &mut Driven, count: usize) {
    let extent =
        Extent { lines: 4, kinds: 2, most_count: 12, piece: (2, 9), sheet: (9, 24), most_blade: 1 };
    let mut chance = TestRunner::deterministic();
    for _ in 0..count {
        let batch = batches(extent).new_tree(&mut chance).unwrap().current();
        same(page, &written(&batch.inputs()), "batch.csv");
    }
}

#[test]
fn generated_orders_give_the_same_bytes() {
    let Some(mut page) = with_nothing() else { return };
    generated(&mut page, 25);
}

#[test]
#[ignore = "takes minutes"]
fn two_hundred_generated_orders_give_the_same_bytes() {
    let Some(mut page) = with_nothing() else { return };
    generated(&mut page, 200);
}

/// Sizes to a thousandth of a millimetre, and files that are no tables: told, and nothing stops in the middle.
#[test]
fn hostile_files_are_refused_in_the_same_words() {
    let Some(mut page) = with_nothing() else { return };
    let fine = PLAIN.files();
    let odd: [(&str, &[u8]); 9] = [
        ("sheets.csv", b""),
        ("sheets.csv", b"\xff\xfe\x00"),
        ("batch.csv", b"line,card,count,paper\na,\"2 x 3,1,fern\n"),
        ("batch.csv", b"line,card,count,paper\na,0.0000001 x 3,99999999999999999999,fern\n"),
        ("batch.csv", b"\xef\xbb\xbfline;card;count;paper\r\na;2 x 3;1;fern\r\n"),
        ("workshop.toml", b"unit = \"mm\"\n[[[["),
        ("workshop.toml", b"unit = \"parsec\"\n"),
        ("offcuts.csv", b"offcut,paper\n=1+1,fern\n"),
        ("shelf.jsonl", b"{\"not\": \"a journal\"}\n"),
    ];
    for (name, bytes) in odd {
        let home = Home::new();
        for (name, bytes) in &fine {
            let name = if name.contains("hostile") { "batch.csv" } else { name };
            home.put(name, bytes);
        }
        home.put(name, bytes);
        same(&mut page, &home, "batch.csv");
    }
}
