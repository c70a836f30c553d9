//! The orders that come with the project give the same bytes as ever.
//!
//! What the wedding has to give is `reports/wedding/`, which the README shows; what the lessons have to
//! give is in `tests/golden/<order>/`. Where a change is meant, run the tests with
//! `CARDWRIGHT_REWRITE_GOLDEN=1`: every one of these files is then written anew, to be looked through
//! before it is kept.

mod difference;

use crate::bench::schema_faults;
use crate::program::{Files, Home, files, listing, project, put};
use difference::difference;
use std::fs;

/// Set to anything, it rewrites what is expected.
const REWRITE: &str = "CARDWRIGHT_REWRITE_GOLDEN";

/// An order that comes with the project.
struct Example {
    /// The folder of its files.
    folder: &'static str,
    /// Its name.
    order: &'static str,
    /// The folder of what it has to give.
    golden: &'static str,
}

const EXAMPLES: [Example; 4] = [
    Example { folder: "orders", order: "wedding", golden: "reports/wedding" },
    Example { folder: "examples/keepsake", order: "keepsake", golden: "tests/golden/keepsake" },
    Example { folder: "examples/metric", order: "seating", golden: "tests/golden/seating" },
    Example { folder: "examples/smallest", order: "swap", golden: "tests/golden/swap" },
];

impl Example {
    /// Plans it in `home`; all files written.
    fn planned(&self, home: &Home, options: &str) -> Files {
        let Example { folder, order, .. } = self;
        let answer = home.done(&format!("plan {folder}/{order}.csv --quiet {options}"));
        assert_eq!((answer.out.as_str(), answer.err.as_str()), ("", ""), "{order}");
        files(&home.path(&format!("reports/{order}")))
    }

    fn home(&self) -> Home {
        Home::with(&[self.folder])
    }
}

/// What differs between two sets of files; empty where nothing does.
fn differences(golden: &Files, now: &Files) -> String {
    let names = golden.keys().chain(now.keys().filter(|name| !golden.contains_key(*name)));
    names.fold(String::new(), |text, name| match (golden.get(name), now.get(name)) {
        (Some(golden), Some(now)) => match difference(golden, now) {
            Some(places) => text + name + " differs (- expected, + written)\n" + &places,
            None => text,
        },
        (None, _) => text + name + " is new\n",
        (_, None) => text + name + " is missing\n",
    })
}

fn rewrite(example: &Example, now: &Files) {
    let folder = project(example.golden);
    for name in listing(&folder).iter().filter(|name| !now.contains_key(*name)) {
        fs::remove_file(folder.join(name)).unwrap();
    }
    now.iter().for_each(|(name, bytes)| put(&folder.join(name), bytes));
}

#[test]
fn the_examples_give_the_same_bytes() {
    for example in &EXAMPLES {
        keeps_giving(example, &example.planned(&example.home(), ""));
    }
}

#[track_caller]
fn keeps_giving(example: &Example, now: &Files) {
    if std::env::var_os(REWRITE).is_some() {
        return rewrite(example, now);
    }
    let told = differences(&files(&project(example.golden)), now);
    let golden = example.golden;
    assert_eq!(told, "", "\n{golden}:\n{told}where this is meant, run again with {REWRITE}=1\n");
}

/// The wedding's own pages are of Letter; what is no page does not change with the size.
#[test]
fn the_wedding_gives_the_same_pages_on_a4() {
    let wedding = Example { golden: "tests/golden/wedding-a4", ..EXAMPLES[0] };
    let home = wedding.home();
    let workshop = home.text("orders/workshop.toml");
    home.put("orders/workshop.toml", workshop.replace("\"letter\"", "\"a4\""));
    let (pages, others): (Files, Files) =
        wedding.planned(&home, "").into_iter().partition(|(name, _)| name.ends_with(".pdf"));
    assert_eq!(pages.len(), 4);
    keeps_giving(&wedding, &pages);
    let letter = files(&project(EXAMPLES[0].golden));
    // The note keeps a copy of the bench, which is another one.
    let same = |(name, _): &(String, Vec<u8>)| !name.ends_with(".pdf") && name != "origin.json";
    let [letter, others]: [Files; 2] =
        [letter, others].map(|files| files.into_iter().filter(same).collect());
    assert_eq!(differences(&letter, &others), "");
}

#[test]
fn threads_change_no_byte() {
    for example in &EXAMPLES {
        let home = example.home();
        let [one, four] = ["--threads 1", "--threads 4"].map(|it| example.planned(&home, it));
        assert_eq!(differences(&one, &four), "", "{}", example.order);
    }
}

/// Rows of the order and of the stock in the opposite order.
#[test]
fn the_order_of_rows_changes_no_number() {
    for example in &EXAMPLES {
        let home = example.home();
        let before = example.planned(&home, "");
        for name in [example.order, "sheets", "offcuts"] {
            let file = format!("{}/{name}.csv", example.folder);
            if home.path(&file).exists() {
                home.put(&file, reversed(&home.text(&file)));
            }
        }
        let after = example.planned(&home, "");
        // Names and colours follow the order's rows; what is planned, cut, bought and kept does not.
        for name in ["plan.json", "cuts.csv", "buy.csv"] {
            let told = difference(&before[name], &after[name]).unwrap_or_default();
            assert_eq!(told, "", "{}/{name}", example.order);
        }
        // What the drawer keeps stays in the order of its rows.
        for name in ["pieces.csv", "offcuts.csv"] {
            assert_eq!(sorted(&before[name]), sorted(&after[name]));
        }
        assert_ne!(before["pieces.csv"], after["pieces.csv"], "nothing was turned round");
    }
}

/// The same header over the rows in the opposite order.
fn reversed(table: &str) -> String {
    let mut lines: Vec<&str> = table.lines().collect();
    lines[1..].reverse();
    lines.join("\n") + "\n"
}

fn sorted(table: &[u8]) -> Vec<&str> {
    let mut lines: Vec<&str> = std::str::from_utf8(table).unwrap().lines().collect();
    lines.sort_unstable();
    lines
}

#[test]
fn the_plans_fit_the_schema_and_are_accepted_by_check() {
    for Example { folder, order, golden } in &EXAMPLES {
        let plan = fs::read_to_string(project(golden).join("plan.json")).unwrap();
        let faults = schema_faults(&serde_json::from_str(&plan).unwrap());
        assert_eq!(faults, Vec::<String>::new(), "{order}");

        let home = Home::with(&[folder]);
        home.put("plan.json", &plan);
        let answer = home.done(&format!("check plan.json --workshop {folder}/workshop.toml"));
        assert!(answer.out.starts_with("1 plan: no mistakes\n"), "{order}: {}", answer.out);
        assert_eq!(answer.err, "", "{order}");
    }
}

#[test]
fn a_file_that_is_new_missing_or_different_is_told() {
    let files = |names: &[(&str, &str)]| -> Files {
        names.iter().map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec())).collect()
    };
    let golden = files(&[("a", "1\n"), ("b", "1\n"), ("c", "1\n")]);
    let now = files(&[("a", "1\n"), ("b", "2\n"), ("d", "1\n")]);
    assert_eq!(
        differences(&golden, &now),
        "b differs (- expected, + written)\n  line 1:\n  - 1\n  + 2\nc is missing\nd is new\n"
    );
}
