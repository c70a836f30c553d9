//! The pages say what is so.
#![cfg(test)]

mod by_hand;
mod commands;
mod lessons;
mod markdown;
mod scripts;
mod tables;
mod walk;

use crate::program::{listing, project};
use markdown::{Page, coded};
use std::collections::BTreeSet;

const PAGES: [&str; 16] = [
    "README.md",
    "DEVELOPERS.md",
    "orders/README.md",
    "reports/README.md",
    "examples/afternoon/README.md",
    "examples/by-hand/README.md",
    "examples/folds/README.md",
    "examples/keepsake/README.md",
    "examples/markets/README.md",
    "examples/metric/README.md",
    "examples/on-the-shelf/README.md",
    "examples/smallest/README.md",
    "reports/benchmarks/attacks.md",
    "reports/benchmarks/drawer.md",
    "reports/benchmarks/fuzzing.md",
    "reports/benchmarks/mutation.md",
];

fn pages() -> Vec<Page> {
    PAGES.into_iter().map(Page::read).collect()
}

fn set<'a>(words: impl IntoIterator<Item = &'a str>) -> BTreeSet<String> {
    words.into_iter().map(str::to_owned).collect()
}

/// Links of a page that lead nowhere.
fn broken(page: &Page) -> Vec<String> {
    let folder = page.path.rsplit_once('/').map_or("", |(folder, _)| folder);
    let leads_nowhere = |link: &String| match link.split_once('#') {
        _ if link.starts_with("https://") => false,
        Some(("", anchor)) => !page.anchors().contains(&format!("#{anchor}")),
        Some((file, anchor)) => {
            let there = Page::read(format!("{folder}/{file}").trim_start_matches('/'));
            !there.anchors().contains(&format!("#{anchor}"))
        }
        None => !project(folder).join(link).exists(),
    };
    page.links().into_iter().filter(leads_nowhere).collect()
}

#[test]
fn links_lead_somewhere() {
    for page in pages() {
        assert_eq!(broken(&page), [""; 0], "{}", page.path);
    }
    let page = "[a](README.md) [b](none.md) [c](#here) [d](#there) [e](https://a.org)\n# There\n";
    assert_eq!(broken(&Page::of("page.md", page)), ["none.md", "#here"]);
}

#[test]
fn the_readme_opens_with_the_job_in_one_paragraph() {
    let opening = Page::read("README.md").opening();
    assert!(opening.starts_with(|letter: char| letter.is_alphabetic()), "{opening}");
    assert!(opening.ends_with('.'), "{opening}");
    let words = opening.split_whitespace().count();
    assert!((40..=120).contains(&words), "{words} words");
}

/// A page that is read in one go stays one.
#[test]
fn the_first_pages_are_short() {
    for (page, most) in [("README.md", 15_000), ("DEVELOPERS.md", 14_000)] {
        let length = Page::read(page).text.len();
        assert!(length <= most, "{page} has {length} bytes");
    }
}

#[test]
fn the_readme_asks_for_the_rust_that_is_needed() {
    let manifest = std::fs::read_to_string(project("Cargo.toml")).unwrap();
    let manifest: toml::Table = manifest.parse().unwrap();
    let version = manifest["package"]["rust-version"].as_str().unwrap();
    let readme = std::fs::read_to_string(project("README.md")).unwrap();
    assert!(readme.contains(&format!(" {version} or later")), "{version}");
}

/// Folders in the first column of a table of DEVELOPERS.md.
fn folders(heading: &str, first: &str) -> BTreeSet<String> {
    let rows = Page::read("DEVELOPERS.md").table(heading, first);
    rows.iter().flat_map(|row| coded(&row[0])).map(|it| it.trim_end_matches('/').into()).collect()
}

fn folders_of(folder: &str) -> BTreeSet<String> {
    let path = project(folder);
    listing(&path).into_iter().filter(|name| path.join(name).is_dir()).collect()
}

#[test]
fn the_developers_page_lists_all_folders() {
    assert_eq!(folders("Where things are", "folder of `src/`"), folders_of("src"));
    let mut tests = folders_of("tests");
    // What the tests share asks nothing itself.
    assert!(["bench", "driven", "program"].iter().all(|name| tests.remove(*name)));
    assert_eq!(folders("Tests", "folder of `tests/`"), tests);
    for name in folders("Where things are", "elsewhere") {
        assert!(project(&name).exists(), "{name}");
    }
}
