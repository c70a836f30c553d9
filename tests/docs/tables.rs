//! The tables of the pages hold what the program reads and writes.

use super::markdown::{Page, coded};
use super::set;
use crate::program::{Home, files};
use cardwright::diagnostics::Problems;
use cardwright::measure::Unit;
use cardwright::workshop::{self, Workshop};
use std::collections::{BTreeMap, BTreeSet};

/// What is written: columns and keys.
fn inputs() -> Page {
    Page::read("orders/README.md")
}

/// Columns of a file as its page tells them, and those it calls needed.
fn written(heading: &str) -> (BTreeSet<String>, BTreeSet<String>) {
    let rows = inputs().table(heading, "column");
    let needed = rows.iter().filter(|row| row[1] == "yes").flat_map(|row| coded(&row[0])).collect();
    (rows.iter().flat_map(|row| coded(&row[0])).collect(), needed)
}

/// The same as the program reads them.
fn known(source: &str, list: &str) -> (BTreeSet<String>, BTreeSet<String>) {
    let text = std::fs::read_to_string(crate::program::project(source)).unwrap();
    let list = text.split_once(&format!("const {list}: [KnownColumn;")).unwrap().1;
    let list = list.split_once("];").unwrap().0;
    let named = |kind: &str| -> BTreeSet<String> {
        let begin = format!("KnownColumn::{kind}(\"");
        let parts = list.split(&begin).skip(1);
        parts.map(|part| part.split_once('"').unwrap().0.to_owned()).collect()
    };
    let needed = named("needed");
    (named("optional").union(&needed).cloned().collect(), needed)
}

/// `a, b and c` at the beginning of a text.
fn words(text: &str) -> BTreeSet<String> {
    let line = text.lines().next().unwrap_or_default().replace(" and ", ", ");
    set(line.split(", "))
}

#[test]
fn the_columns_are_those_that_are_read() {
    assert_eq!(written("The order"), known("src/orders/columns.rs", "COLUMNS"));
    assert_eq!(written("The sheets"), known("src/stock/read.rs", "SHEETS"));
    assert_eq!(written("The drawer"), known("src/stock/read.rs", "OFFCUTS"));
    assert_eq!(written("Envelopes"), known("src/stock/supplies.rs", "ENVELOPES"));
    assert_eq!(written("Sundries"), known("src/stock/supplies.rs", "SUNDRIES"));
    assert_eq!(written("A stock-take"), known("src/stock/take.rs", "TAKE"));
}

#[test]
fn the_cards_that_are_named_are_known() {
    let rows = inputs().table("The order", "column");
    let card = rows.iter().find(|row| row[0] == "`card`").unwrap();
    let named: Vec<String> =
        coded(&card[2]).into_iter().filter(|it| !it.contains(" x ") && it != "sizes").collect();
    assert!(named.len() > 1, "{named:?}");
    let home = Home::with(&["orders"]);
    let rows = named.iter().map(|card| format!("{card},{card},1,wren\n"));
    home.put("orders/named.csv", format!("line,card,count,paper\n{}", rows.collect::<String>()));
    home.done("check orders/named.csv");
}

/// Keys of the page with their defaults, by section: where there are two, first that in inches.
fn keys() -> BTreeMap<String, Vec<(String, Vec<String>)>> {
    let mut sections: BTreeMap<String, Vec<_>> = BTreeMap::new();
    for row in inputs().table("The bench", "key") {
        let path = coded(&row[0]).remove(0);
        let (section, key) = path.rsplit_once('.').unwrap_or(("", &path));
        sections.entry(section.to_owned()).or_default().push((key.to_owned(), coded(&row[1])));
    }
    sections
}

#[test]
fn the_keys_of_the_workshop_have_the_defaults_that_are_told() {
    let read = |pick: fn(&str, &[String]) -> Option<String>| {
        let text = keys().into_iter().fold(String::new(), |text, (section, keys)| {
            let header = if section.is_empty() { String::new() } else { format!("[{section}]\n") };
            let told = keys.iter().filter_map(|(key, defaults)| Some((key, pick(key, defaults)?)));
            text + &header + &told.map(|(key, it)| format!("{key} = {it}\n")).collect::<String>()
        });
        let mut problems = Problems::new();
        let read = workshop::read("workshop.toml", text.as_bytes(), &mut problems);
        let told: Vec<&str> = problems.iter().map(|it| it.title.as_str()).collect();
        assert_eq!(told, [""; 0], "{text}");
        read
    };
    let told = Workshop { has_rates: true, ..Workshop::default() };
    assert_eq!(read(|_, defaults| defaults.first().cloned()), told);
    let metric = |key: &str, defaults: &[String]| match key {
        "unit" => Some("\"mm\"".to_owned()),
        _ => defaults.last().cloned(),
    };
    let told = Workshop { has_rates: true, ..Workshop::usual(Unit::Millimetre) };
    assert_eq!(read(metric), told);
}

#[test]
fn the_keys_of_the_workshop_are_those_that_are_read() {
    let keys = keys();
    let text = keys.keys().fold(String::new(), |text, section| match section.as_str() {
        "" => format!("zzzzzz = 1\n{text}"),
        section => text + &format!("[{section}]\nzzzzzz = 1\n"),
    });
    let mut problems = Problems::new();
    workshop::read("workshop.toml", text.as_bytes(), &mut problems);
    let told = problems.iter().map(|problem| {
        let path = problem.title.trim_start_matches("unknown key `").trim_end_matches('`');
        let section = path.rsplit_once('.').map_or("", |(section, _)| section);
        (section.to_owned(), words(problem.help[0].strip_prefix("its keys are ").unwrap()))
    });
    let known: BTreeMap<String, BTreeSet<String>> = told.collect();
    let written = keys.keys().map(|section| {
        let below = keys.keys().filter_map(|other| match section.as_str() {
            "" => other.split('.').next().filter(|name| !name.is_empty()),
            section => other.strip_prefix(section)?.strip_prefix('.'),
        });
        let own = keys[section].iter().map(|(key, _)| key.as_str());
        (section.clone(), set(own.chain(below)))
    });
    assert_eq!(written.collect::<BTreeMap<_, _>>(), known);
}

/// `orders/workshop.toml` shows every key; of the two for a lift, one in a comment.
#[test]
fn the_workshop_that_comes_with_the_project_shows_all_keys() {
    let text = std::fs::read_to_string(crate::program::project("orders/workshop.toml")).unwrap();
    let table: toml::Table = text.parse().unwrap();
    for (section, keys) in keys() {
        let path = section.split('.').filter(|name| !name.is_empty());
        let shown = path.fold(&table, |table, name| table[name].as_table().unwrap());
        for (key, _) in keys {
            let commented = text.lines().any(|line| {
                line.split_once('#').is_some_and(|it| it.1.contains(&format!("{key} = ")))
            });
            assert!(shown.contains_key(&key) || commented, "{section}.{key}");
        }
    }
}

#[test]
fn the_reports_are_those_that_are_written() {
    let home = Home::with(&["orders"]);
    home.done("plan orders/wedding.csv --quiet");
    let rows = Page::read("reports/README.md").table("What you get", "file");
    let written: BTreeSet<String> = rows.iter().flat_map(|row| coded(&row[0])).collect();
    assert_eq!(written, files(&home.path("reports/wedding")).into_keys().collect());
}
