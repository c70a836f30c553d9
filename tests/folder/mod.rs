//! Report folders, through the program as a person starts it: whole at every moment, and nothing is lost in them.

// Only so are its helpers known as tests.
#![cfg(test)]

mod crowd;
mod inputs;
mod kill;
mod left;
mod reserve;

use crate::program::{Answer, Home, listing};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

const SHEETS: &str = "sheet,paper,width,height,on hand\nfern-12,fern,12,12,5\n";
const NO_SPARES: &str = "[spares]\npercent = 0\nat_least = 0\n";
/// Two sheets of it.
const FEW: &str = "line,card,count,paper\ntag,6 x 6,8,fern\n";
/// Three sheets.
const MANY: &str = "line,card,count,paper\ntag,6 x 6,12,fern\n";
/// What a person has put into a report folder.
const HERS: [(&str, &str); 3] =
    [("letters/may/one.txt", "dear"), ("letters/two.txt", "dear"), ("photo.jpg", "mine")];

/// All that is in a folder, by its path; folders without bytes.
type Tree = BTreeMap<String, Option<Vec<u8>>>;

/// A workshop with an order that is not planned yet.
fn workshop() -> Home {
    let home = Home::new();
    home.put("spring.csv", FEW);
    home.put("workshop.toml", NO_SPARES);
    home.put("sheets.csv", SHEETS);
    home
}

/// The same with a report folder, and files of the person in it.
fn planned(arguments: &str) -> Home {
    let home = workshop();
    home.done(arguments);
    for (name, text) in HERS {
        home.put(&format!("reports/spring/{name}"), text);
    }
    home
}

/// All that is in a folder; nothing where it is not there.
fn tree(folder: &Path) -> Tree {
    let mut all = Tree::new();
    collect(folder, "", &mut all);
    all
}

fn collect(folder: &Path, prefix: &str, all: &mut Tree) {
    if !folder.exists() {
        return;
    }
    for name in listing(folder) {
        let (path, name) = (folder.join(&name), format!("{prefix}{name}"));
        if path.is_dir() {
            all.insert(name.clone(), None);
            collect(&path, &format!("{name}/"), all);
        } else {
            all.insert(name, Some(fs::read(&path).unwrap()));
        }
    }
}

/// Without the note of how long the journal was, which tells runs apart that are alike.
fn without_origin(mut tree: Tree) -> Tree {
    tree.retain(|name, _| !name.ends_with("origin.json"));
    tree
}

/// Sheets that are set aside.
fn set_aside(home: &Home) -> u64 {
    let shelf: serde_json::Value = serde_json::from_str(&home.done("shelf --json").out).unwrap();
    let sheets = shelf["sheets"].as_array().unwrap();
    sheets.iter().map(|sheet| sheet["set_aside"].as_u64().unwrap()).sum()
}

/// What is said where nothing on the disk is changed.
#[track_caller]
fn refused(home: &Home, arguments: &str, code: i32) -> String {
    let before = tree(&home.path(""));
    let Answer { code: ended, out, err } = home.run(arguments);
    assert_eq!((ended, out.as_str()), (Some(code), ""), "{arguments}: {err}");
    assert!(tree(&home.path("")) == before, "{arguments}: {err}");
    err
}
