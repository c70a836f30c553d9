//! What the pages tell to type is typed.

use super::markdown::{Page, coded};
use super::{PAGES, pages, set};
use crate::program::{Home, commands, project};
use std::collections::{BTreeMap, BTreeSet};

/// How the pages start the program before it is installed.
const CARGO: &str = "cargo run --release -- ";
/// What is typed for other programs than this one, and why it is not run here.
const NOT_OURS: [(&str, &str); 12] = [
    ("cargo test", "these tests would start themselves"),
    ("cargo test laws", "these tests would start themselves"),
    ("cargo bench", "it takes minutes and measures the machine"),
    ("bash .ci/run", "it runs these tests, among others"),
    ("bash .ci/page", "it needs a library for WebAssembly, and takes minutes"),
    (
        "CARDWRIGHT_PAGE=$PWD/target/page/cardwright.html cargo test alone",
        "these tests would start themselves",
    ),
    ("cargo install --path .", "it puts the program into the home of whoever runs the tests"),
    ("cargo +1.89 test", "it needs another toolchain"),
    ("cargo check --target x86_64-pc-windows-gnu", "it needs a library for Windows"),
    (
        "cargo check --lib --no-default-features --target wasm32-unknown-unknown",
        "it needs a library for WebAssembly",
    ),
    ("cargo test --features highs oracle", "it needs a compiler of C++"),
    (
        "cargo +nightly fuzz run --fuzz-dir tests/fuzz -s none tables",
        "it needs a nightly toolchain and never ends",
    ),
];
/// What is typed one after the other in one folder: `walk.rs` does it.
const WALKS: [&str; 2] = ["Ten minutes to your own order", "When the day does not go as planned"];

#[test]
fn the_part_that_is_settled_is_there() {
    let text = std::fs::read_to_string(project("orders/README.md")).unwrap();
    let part =
        text.split('`').find(|it| it.starts_with("settle reports/wedding --partly")).unwrap();
    let home = Home::with(&["orders", "reports"]);
    home.done(part);
    let help = home.done("settle --help").out;
    assert!(help.contains(part), "{help}");
}

/// Runs the commands of a page from the top, those of a block in a copy of the project's folders, and gives how
/// many there were. A block marked `text` is what the command before it prints.
fn run_commands(page: &Page) -> usize {
    let (mut count, mut said) = (0, None);
    let walk: Vec<_> = WALKS.iter().flat_map(|walk| page.section(walk).fences()).collect();
    for fence in page.fences().into_iter().filter(|fence| !walk.contains(fence)) {
        if fence.label == "text" {
            let expected = fence.lines.join("\n") + "\n";
            assert_eq!(said.as_deref(), Some(expected.as_str()), "{}", page.path);
            continue;
        }
        let first = fence.lines.first().map_or("", String::as_str);
        if !fence.label.is_empty()
            || !["cargo ", "cardwright ", "bash "].iter().any(|it| first.starts_with(it))
        {
            continue;
        }
        let home = Home::with(&["orders", "examples", "reports"]);
        for line in &fence.lines {
            if let Some(arguments) = line.strip_prefix(CARGO) {
                said = Some(home.done(arguments).out);
                count += 1;
            } else if !line.starts_with("cardwright ") {
                let command = line.split('#').next().unwrap_or(line).trim();
                let known = NOT_OURS.iter().any(|(other, _)| *other == command);
                assert!(known, "{}: `{line}` is not run here", page.path);
            }
        }
    }
    count
}

#[test]
fn every_command_that_a_page_shows_does_what_it_says() {
    let counts: Vec<usize> = pages().iter().map(run_commands).collect();
    // The others are not for those who make cards.
    for (page, count) in PAGES.iter().zip(counts).filter(|(page, _)| page.ends_with("README.md")) {
        assert!(count > 0, "{page} shows no command");
    }
}

#[test]
#[should_panic(expected = "`cargo frobnicate` is not run here")]
fn a_command_that_cannot_be_run_is_told() {
    run_commands(&Page::of("page.md", "```\ncargo test\ncargo frobnicate\n```\n"));
}

#[test]
#[should_panic(expected = "error[file-missing]: there is no orders/none.csv")]
fn a_command_that_fails_is_told() {
    run_commands(&Page::of("page.md", "```\ncargo run --release -- plan orders/none.csv\n```\n"));
}

#[test]
#[should_panic(expected = "page.md")]
fn a_result_that_is_not_printed_is_told() {
    let explain = "```\ncargo run --release -- explain order-count\n```\n";
    run_commands(&Page::of("page.md", &format!("{explain}\n```text\nno such words\n```\n")));
}

/// The options that a `--help` lists: `-q, --quiet` and `--out <DIR>` at the beginning of a line.
fn options(help: &str) -> BTreeSet<String> {
    let lines = help.lines().map(str::trim_start).filter(|line| line.starts_with('-'));
    let heads = lines.flat_map(|line| line.split_whitespace().take(2));
    let names = heads.map(|word| word.trim_end_matches(','));
    // A word of a description may come to stand first as well: `--sheets]`.
    let is_name = |word: &&str| word.starts_with('-') && *word != "-" && !word.ends_with(']');
    set(names.filter(is_name))
}

#[test]
fn the_options_are_those_of_the_program() {
    let help = Home::new().done("plan --help").out;
    let rows = Page::read("README.md").table("Commands and options", "option of `plan`");
    let written = rows.iter().flat_map(|row| coded(&row[0]));
    let written: BTreeSet<String> =
        written.map(|option| option.split(' ').next().unwrap_or_default().to_owned()).collect();
    let mut known = options(&help);
    assert!(known.remove("--help") && known.remove("-h"), "{help}");
    // The README tells of the program as it is built without features.
    assert_eq!(known.remove("--engine"), cfg!(feature = "highs"), "{help}");
    assert_eq!(written, known);
    for row in &rows {
        let option = &coded(&row[0])[0];
        if let Some((name, value)) = option.split_once(' ') {
            assert!(help.contains(&format!("{name} <{value}>")), "{option}");
        }
    }
    let effort = rows.iter().find(|row| row[0] == "`--effort`").unwrap();
    for word in coded(&effort[1]) {
        assert!(help.contains(&format!("- {word}:")), "--effort {word}");
    }
}

#[test]
fn the_commands_are_those_of_the_program() {
    let known = BTreeSet::from_iter(commands());
    let fences = Page::read("README.md").section("Commands and options").fences();
    let lines = fences.iter().flat_map(|fence| &fence.lines);
    let shown: Vec<Vec<&str>> = lines
        .filter(|line| line.starts_with("cardwright "))
        .map(|line| line.split_whitespace().skip(1).take(2).collect())
        .collect();
    assert_eq!(set(shown.iter().map(|words| words[0])), known);
    for words in shown {
        let help = Home::new().done(&format!("{} --help", words[0])).out;
        let name = words[1].trim_end_matches('.');
        assert!(
            help.contains(&format!("<{name}>")) || help.contains(&format!("[{name}]")),
            "{help}"
        );
    }
}

/// Options of the other commands, as the README tells them and as the program does.
#[test]
fn the_options_of_the_other_commands_are_those_of_the_program() {
    let rows = Page::read("README.md").table("Commands and options", "command");
    let mut written: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for row in rows {
        written.entry(coded(&row[0]).remove(0)).or_default().extend(coded(&row[1]));
    }
    let mut known = BTreeMap::new();
    for command in commands() {
        let mut options = options(&Home::new().done(&format!("{command} --help")).out);
        assert!(options.remove("--help") && options.remove("-h"), "{command}");
        if command != "plan" && !options.is_empty() {
            known.insert(command, options);
        }
    }
    assert_eq!(written, known);
}

#[test]
fn the_exit_codes_are_those_of_the_program() {
    let help = Home::new().done("plan --help").out;
    let (_, told) = help.split_once("Exit codes: ").unwrap();
    let known = told.split(';').filter_map(|part| part.split_whitespace().next());
    let rows = Page::read("README.md").table("Commands and options", "exit code");
    assert_eq!(
        rows.iter().map(|row| row[0].as_str()).collect::<Vec<_>>(),
        known.collect::<Vec<_>>()
    );
}
