//! Which part of the program may use which, and what has only one home.

mod scan;
mod source;
#[cfg(test)]
mod tests;

use crate::program::project;
use scan::{Rule, is_in, paths, tuples, types, uses};
use source::{Source, sources};
use std::collections::BTreeMap;
use std::fs;

/// Each folder of `src/` with those it may use. None is used by one above it, so the data flow one way.
const FOLDERS: [(&str, &[&str]); 25] = [
    ("measure", &[]),
    ("cuts", &["measure"]),
    ("diagnostics", &["measure"]),
    ("table", &["measure", "diagnostics"]),
    ("folds", &["measure"]),
    ("formats", &["measure", "diagnostics", "table", "folds"]),
    ("workshop", &["measure", "folds", "cuts", "diagnostics", "formats"]),
    ("orders", &["measure", "folds", "diagnostics", "table", "formats"]),
    ("stock", &["measure", "diagnostics", "table", "formats", "workshop"]),
    ("pieces", &["measure", "folds", "diagnostics", "formats", "workshop", "orders", "stock"]),
    ("job", &["diagnostics", "workshop", "orders", "stock", "pieces"]),
    ("patterns", &["measure", "cuts"]),
    ("program", &["measure", "cuts", "workshop", "stock", "pieces", "patterns"]),
    ("plan", &["measure", "folds", "cuts", "workshop", "orders", "stock", "pieces", "job"]),
    (
        "schedule",
        &[
            "measure",
            "folds",
            "cuts",
            "diagnostics",
            "workshop",
            "orders",
            "stock",
            "pieces",
            "job",
            "plan",
        ],
    ),
    ("made", &["measure", "stock", "job", "plan", "schedule"]),
    (
        "assembly",
        &[
            "measure", "folds", "cuts", "formats", "workshop", "orders", "stock", "pieces", "job",
            "program", "plan", "schedule", "made",
        ],
    ),
    (
        "shelf",
        &[
            "measure",
            "folds",
            "cuts",
            "diagnostics",
            "table",
            "formats",
            "workshop",
            "stock",
            "pieces",
            "patterns",
            "plan",
        ],
    ),
    ("sizes", &["measure", "folds", "cuts", "formats", "workshop", "patterns"]),
    (
        "quote",
        &[
            "measure", "folds", "cuts", "formats", "workshop", "orders", "stock", "pieces", "job",
            "plan", "made",
        ],
    ),
    (
        "reports",
        &[
            "measure",
            "folds",
            "cuts",
            "diagnostics",
            "table",
            "formats",
            "workshop",
            "orders",
            "stock",
            "pieces",
            "job",
            "plan",
            "schedule",
            "made",
            "quote",
        ],
    ),
    (
        "batch",
        &[
            "measure",
            "diagnostics",
            "table",
            "workshop",
            "orders",
            "stock",
            "pieces",
            "job",
            "program",
            "plan",
            "schedule",
            "made",
            "assembly",
            "quote",
        ],
    ),
    (
        "settling",
        &[
            "measure",
            "diagnostics",
            "table",
            "workshop",
            "stock",
            "pieces",
            "job",
            "plan",
            "schedule",
            "batch",
            "shelf",
        ],
    ),
    (
        "desk",
        &[
            "measure",
            "folds",
            "diagnostics",
            "table",
            "workshop",
            "orders",
            "stock",
            "shelf",
            "reports",
            "batch",
        ],
    ),
    (
        "cli",
        &[
            "desk",
            "measure",
            "folds",
            "diagnostics",
            "table",
            "workshop",
            "stock",
            "formats",
            "sizes",
            "quote",
            "shelf",
            "batch",
            "settling",
            "reports",
        ],
    ),
];

/// The judge may look at a plan and at what it was made for, and at nothing that made it: of each folder, the plain
/// data that it may name.
const JUDGE: &str = "src/plan/check/";
const JUDGE_MAY: [(&str, &[&str]); 9] = [
    ("job", &["Job"]),
    ("cuts", &["Cut"]),
    ("measure", &["Area", "Axis", "Length", "Money", "Ratio", "Size"]),
    ("workshop", &["GrainRule", "Workshop"]),
    ("orders", &["Turn"]),
    ("stock", &["Back", "Print", "RoughEdges", "Sheet", "SheetKind", "Stock"]),
    ("folds", &["Score"]),
    ("pieces", &["Piece", "Share"]),
    (
        "plan",
        &[
            "Certificate",
            "Content",
            "FIRST_SCHEMA",
            "KeptOffcut",
            "Leaf",
            "Level",
            "Node",
            "Plan",
            "PlannedPiece",
            "PlannedSupply",
            "Proof",
            "Run",
            "SCHEMA",
            "Status",
            "UsedSheet",
        ],
    ),
];

const fn home(
    words: &'static [&'static str],
    homes: &'static [&'static str],
    reason: &'static str,
) -> Rule {
    Rule { words, homes, tests_may: true, reason }
}

/// The homes of the crates of others, as their paths begin.
const CRATES: [Rule; 34] = [
    home(&["annotate_snippets::"], &["src/cli/render.rs"], "problems become text in one place"),
    home(&["anstream::"], &["src/cli/console.rs"], "what a terminal can show is asked once"),
    home(&["anstyle::"], &["src/reports/terminal.rs"], "only the summary is styled"),
    home(&["askama::"], &["src/reports/"], "templates are one of the formats"),
    home(&["clap::"], &["src/cli/"], "what was typed ends there"),
    home(&["clap_complete::"], &["src/cli/arguments.rs", "src/cli/shells.rs"], "as clap"),
    home(&["clap_mangen::"], &["src/cli/shells.rs"], "as clap"),
    home(&["comfy_table::"], &["src/cli/table.rs"], "tables for a terminal look alike"),
    home(&["csv::"], &["src/reports/"], "it writes; reading needs exact places, which it has not"),
    home(&["csv_core::"], &["src/table/records.rs"], "every CSV file is read through one door"),
    home(&["ctrlc::"], &["src/cli/interrupt.rs"], "one flag for all who ask"),
    home(&["getrandom::"], &["src/cli/desk/"], "a secret is the one thing that is left to chance"),
    home(&["qrcodegen::"], &["src/cli/desk/serve/code.rs"], "a link becomes a code in one place"),
    home(&["httparse::"], &["src/cli/desk/serve/http.rs"], "a page asks through one door"),
    home(&["good_lp::"], &["src/program/engine/"], "engines can be exchanged"),
    home(&["highs::"], &["src/program/engine/"], "engines can be exchanged"),
    home(&["indicatif::"], &["src/cli/console.rs"], "only a console shows progress"),
    home(
        &["jiff::"],
        &[
            "src/orders/",
            "src/stock/",
            "src/schedule/timetable.rs",
            "src/shelf/",
            "src/reports/mod.rs",
            "src/reports/offer.rs",
            "src/reports/timetable.rs",
            "src/settling.rs",
            "src/settling/take.rs",
            "src/cli/",
        ],
        "dates are read, kept and shown; timetable and shelf reckon with them",
    ),
    home(&["krilla::"], &["src/reports/pdf/"], "pages are one of the formats"),
    home(&["microlp::"], &["src/program/engine/"], "engines can be exchanged"),
    home(&["num_rational::"], &["src/measure/ratio.rs"], "exact shares are one kind of number"),
    home(&["pulp::"], &["src/patterns/"], "only the tables of patterns are that much work"),
    home(
        &["rayon::"],
        &[
            "src/batch/",
            "src/batch.rs",
            "src/reports/mod.rs",
            "src/reports/report.rs",
            "src/reports/html.rs",
            "src/reports/pdf/schedule/cutting.rs",
        ],
        "no other result can then depend on threads",
    ),
    home(
        &["serde::"],
        &[
            "src/measure/",
            "src/folds/score.rs",
            "src/table/draft.rs",
            "src/table/grid.rs",
            "src/desk/",
            "src/cli/desk/",
            "src/orders/",
            "src/stock/",
            "src/pieces/",
            "src/plan/",
            "src/shelf/",
            "src/reports/json.rs",
        ],
        "a plan, a journal and the kinds in them are all that is written as data",
    ),
    home(
        &["serde_json::"],
        &[
            "src/batch/",
            "src/reports/",
            "src/shelf/",
            "src/settling.rs",
            "src/settling/",
            "src/cli/settle.rs",
            "src/cli/desk/",
            "src/desk/",
            "src/diagnostics/document.rs",
            "src/plan/unrepeated.rs",
            "src/cli/json.rs",
        ],
        "a plan is read by the judge's door and written with the reports; a journal is lines of it",
    ),
    home(
        &["rustix::"],
        &["src/reports/folder/", "src/shelf/disk.rs"],
        "report folders and shelves are written through one door each",
    ),
    home(&["sha2::"], &["src/shelf/event.rs"], "one fingerprint for all files"),
    home(&["strsim::"], &["src/diagnostics/suggestion.rs"], "one way to what was meant"),
    home(&["tempfile::"], &[], "only tests need a folder for a while"),
    home(&["terminal_size::"], &["src/cli/console.rs"], "what a terminal can show is asked once"),
    home(
        &["thiserror::"],
        &["src/measure/", "src/plan/check/fault.rs", "src/reports/", "src/shelf/store/error.rs"],
        "what a person can mend is a problem of diagnostics/, not an error",
    ),
    home(&["toml::"], &["src/workshop/", "src/desk/bench/"], "one file is TOML"),
    home(&["ttf_parser::"], &["src/reports/pdf/fonts.rs"], "only there text is measured"),
    home(
        &["insta::", "proptest::", "approx::", "jsonschema::", "criterion::", "pdf_extract::"],
        &[],
        "for tests",
    ),
];

/// The homes of what the standard library offers.
const DOORS: [Rule; 8] = [
    home(
        &["print!", "println!", "eprint!", "eprintln!", "stdout", "stderr"],
        &["src/cli/"],
        "standard output belongs to the result",
    ),
    Rule {
        words: &["dbg!", "todo!", "unimplemented!"],
        homes: &[],
        tests_may: false,
        reason: "a note to oneself is no part of the program",
    },
    Rule {
        words: &["HashMap", "HashSet", "RandomState", "DefaultHasher"],
        homes: &[],
        tests_may: false,
        reason: "their order changes from run to run",
    },
    home(
        &[
            "ln", "log", "log2", "log10", "exp", "exp2", "powf", "powi", "sin", "cos", "tan",
            "sin_cos", "atan", "atan2", "hypot", "cbrt",
        ],
        &[],
        "they differ in the last digit from one machine to another",
    ),
    home(
        &[
            "fs::write",
            "fs::rename",
            "fs::copy",
            "fs::create_dir",
            "fs::create_dir_all",
            "fs::remove_file",
            "fs::remove_dir",
            "fs::remove_dir_all",
            "File::create",
            "File::create_new",
            "OpenOptions",
        ],
        &["src/reports/folder/", "src/shelf/disk.rs", "src/cli/desk/scratch.rs"],
        "a report folder is whole or absent, a shelf the old one or the new one",
    ),
    home(
        &["fs", "File"],
        &[
            "src/cli/files.rs",
            "src/cli/access.rs",
            "src/cli/desk/scratch.rs",
            "src/reports/folder/",
            "src/shelf/disk.rs",
        ],
        "the other parts get bytes, so that they can be tried without a disk",
    ),
    home(
        &["Instant", "SystemTime", "Timestamp", "ZonedDateTime"],
        &["src/batch/effort.rs", "src/cli/today.rs", "src/cli/desk/serve/http.rs"],
        "the clock is read for --limit, for the day, and for a request that is slow: no other result may depend on it",
    ),
    home(
        &["f64", "f32"],
        &[
            "src/program/",
            "src/reports/picture/",
            "src/reports/svg/",
            "src/reports/pdf/",
            "src/reports/html.rs",
        ],
        "a plan is right or wrong, not nearly right",
    ),
];

/// Uses of a folder that may not be used.
fn wrong_directions(source: &Source) -> Vec<String> {
    let folder = source.folder();
    let Some((_, allowed)) = FOLDERS.iter().find(|(name, _)| *name == folder) else {
        return match folder {
            "lib" | "main" | "page" => Vec::new(),
            _ => vec![format!("{}: {folder} has no place among the folders", source.path)],
        };
    };
    let known = |name: &str| FOLDERS.iter().any(|(folder, _)| *folder == name);
    uses(source)
        .into_iter()
        .filter(|(used, _)| known(used) && !allowed.contains(used))
        .map(|(used, at)| format!("{}: {folder} may not use {used}", source.place(at)))
        .collect()
}

/// What the judge names and may not.
fn partial(source: &Source) -> Vec<String> {
    let named = paths(source).into_iter().filter(|(path, _)| !path.starts_with(&["plan", "check"]));
    let may = |path: &[&str]| {
        let of = JUDGE_MAY.iter().find(|(folder, _)| *folder == path[0]);
        of.is_some_and(|(_, names)| path.get(1).is_some_and(|name| names.contains(name)))
    };
    named
        .filter(|(path, _)| !may(path))
        .map(|(path, at)| {
            format!("{}: the judge may not use {}", source.place(at), path.join("::"))
        })
        .collect()
}

#[track_caller]
fn none(breaches: Vec<String>) {
    assert!(breaches.is_empty(), "\n{}\n", breaches.join("\n"));
}

#[test]
fn folders_are_used_in_one_direction() {
    for (index, (folder, allowed)) in FOLDERS.iter().enumerate() {
        for used in *allowed {
            let above = FOLDERS[..index].iter().any(|(name, _)| name == used);
            assert!(above, "{folder} may use {used}, which does not stand above it");
        }
    }
    none(sources("src").iter().flat_map(wrong_directions).collect());
}

#[test]
fn the_judge_names_plain_data_alone() {
    let judge: Vec<Source> =
        sources("src").into_iter().filter(|source| is_in(&source.path, JUDGE)).collect();
    none(judge.iter().flat_map(partial).collect());
    // What is named no more need not be allowed.
    for (folder, names) in JUDGE_MAY {
        for &name in names {
            let is = |(path, _): (Vec<&str>, usize)| path.starts_with(&[folder, name]);
            let named = judge.iter().any(|source| paths(source).into_iter().any(is));
            assert!(named, "the judge does not use {folder}::{name}");
        }
    }
}

#[test]
fn the_crates_of_others_have_one_home() {
    let rules = CRATES.iter();
    let sources = sources("src");
    none(rules.flat_map(|rule| sources.iter().flat_map(|it| rule.breaches(it))).collect());
}

#[test]
fn every_crate_of_others_is_listed_and_used() {
    let manifest: toml::Table = fs::read_to_string(project("Cargo.toml")).unwrap().parse().unwrap();
    let sources = sources("src");
    let of_systems = manifest["target"].as_table().unwrap().values();
    let tables = of_systems.map(|it| &it["dependencies"]).chain([&manifest["dependencies"]]);
    for name in tables.flat_map(|it| it.as_table().unwrap().keys()) {
        let path = format!("{}::", name.replace('-', "_"));
        let rule = CRATES.iter().find(|rule| rule.words.contains(&path.as_str()));
        assert!(rule.is_some(), "{name} has no home in tests/architecture");
        let used = |source: &Source| source.words(&path).any(|at| !source.in_tests(at));
        assert!(sources.iter().any(used), "Cargo.toml: nothing uses {name}");
    }
}

/// Names that two types share, and why.
const SHARED_NAMES: [(&str, &str); 5] = [
    ("Certificate", "what the program proves, and how a plan says so"),
    ("Content", "what becomes of any plate, and of one of a plan"),
    ("Lanes", "registers of the machine, each table by its own width"),
    ("Leaf", "what a plate is where only sizes are known, and what it is in a plan"),
    ("Level", "what the program looks for, and how a plan says what it found"),
];

/// One word, one meaning: whoever finds a type by its name has found it.
#[test]
fn a_types_name_is_defined_once() {
    let mut homes: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for source in sources("src") {
        for name in types(&source) {
            homes.entry(name).or_default().push(source.path.clone());
        }
    }
    homes.retain(|name, _| SHARED_NAMES.iter().all(|(shared, _)| shared != name));
    homes.retain(|_, paths| paths.len() > 1);
    none(homes.into_iter().map(|(name, paths)| format!("{name}: {}", paths.join(", "))).collect());
}

/// What belongs together has a type, and what does not is a parameter of its own.
#[test]
fn no_parameter_is_a_tuple() {
    none(sources("src").iter().flat_map(tuples).collect());
}

#[test]
fn printing_files_clock_and_floating_point_have_one_home() {
    let sources = sources("src");
    none(DOORS.iter().flat_map(|rule| sources.iter().flat_map(|it| rule.breaches(it))).collect());
}

/// A home that has moved would leave its rule without sense.
#[test]
fn every_home_is_there() {
    for home in CRATES.iter().chain(&DOORS).flat_map(|rule| rule.homes).chain([&JUDGE]) {
        let path = project(home);
        assert!(if home.ends_with('/') { path.is_dir() } else { path.is_file() }, "{home}");
    }
}
