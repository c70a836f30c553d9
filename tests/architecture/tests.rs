//! The scanner finds what it looks for, and nothing else.

use super::*;

fn breaches(rule: &Rule, path: &str, text: &str) -> Vec<String> {
    rule.breaches(&Source::new(path, text))
}

fn used(path: &str, text: &str) -> Vec<String> {
    let source = Source::new(path, text);
    let found = uses(&source).into_iter();
    let mut found: Vec<String> =
        found.map(|(name, at)| format!("{name} {}", source.place(at))).collect();
    found.sort();
    found
}

#[test]
fn comments_and_texts_are_no_code() {
    let text =
        "// f64\n/* f64\nf64 */ a \"f64 \\\" f64\" b r#\"f64 \" f64\"# c '\"' d 'f' e\n<'f64>";
    let source = Source::new("src/stock/read.rs", text);
    assert_eq!(source.code.split_whitespace().collect::<String>(), "abcde<'f64>");
    assert_eq!(source.code.matches('\n').count(), text.matches('\n').count());
    let places: Vec<String> = source.words("f64").map(|at| source.place(at)).collect();
    assert_eq!(places, ["src/stock/read.rs:4"]);
}

#[test]
fn a_quote_of_quotes_does_not_swallow_code() {
    for text in ["'\\'' f64", "'\\\\' f64", "\"\\\\\" f64", "br\"\\\" f64", "b'\"' f64", "'é' f64"]
    {
        assert_eq!(Source::new("src/a.rs", text).words("f64").count(), 1, "{text}");
    }
}

#[test]
fn only_whole_words_count() {
    let source =
        Source::new("src/a.rs", "my_f64 f64s a::csv::x ::csv::x csv::x use csv::y; q::f64");
    assert_eq!(source.words("f64").count(), 1);
    assert_eq!(source.words("csv::").count(), 3);
}

#[test]
fn tuples_are_found_among_parameters_alone() {
    let found = |text: &str| tuples(&Source::new("src/a.rs", text)).len();
    assert_eq!(found("fn f<T: Fn((u8, u8)) -> u8>(a: u8, (b, c): (u8, u8)) {}"), 1);
    assert_eq!(found("fn f((a, b): (u8, u8)) {}\nimpl A { fn g(&self, (a, b): B) {} }"), 2);
    assert_eq!(found("fn f(a: (u8, u8), b: &dyn Fn((u8, u8)) -> (u8, u8)) {}"), 0);
    assert_eq!(
        found("type A = fn(u8);\nfn f<'a, const N: usize>(a: &'a [u8; N]) -> (u8, u8) {}"),
        0
    );
    assert_eq!(found("#[cfg(test)]\nmod tests { fn f((a, b): (u8, u8)) {} }"), 0);
}

#[test]
fn uses_are_found_in_paths_groups_and_nested_groups() {
    let text = "use crate::plan::{self, check};\nuse crate::{\n    measure::{Area, Length},\n    \
                stock,\n};\nfn f() -> crate::pieces::Bill { made() }\n";
    assert_eq!(
        used("src/reports/csv.rs", text),
        [
            "measure src/reports/csv.rs:3",
            "pieces src/reports/csv.rs:6",
            "plan src/reports/csv.rs:1",
            "stock src/reports/csv.rs:4"
        ]
    );
}

#[test]
fn uses_by_super_count_where_they_leave_the_folder() {
    assert_eq!(used("src/stock/mod.rs", "use super::plan::Plan;"), ["plan src/stock/mod.rs:1"]);
    assert_eq!(used("src/stock/read.rs", "use super::super::plan;"), ["plan src/stock/read.rs:1"]);
    assert_eq!(used("src/stock/read.rs", "use super::plan;"), [""; 0]);
    let inner = "\nmod tests {\n    use super::*;\n    use super::super::plan;\n}\n";
    assert_eq!(used("src/stock/read.rs", inner), [""; 0]);
    assert_eq!(used("src/stock/mod.rs", inner), ["plan src/stock/mod.rs:4"]);
}

#[test]
fn the_types_of_a_file_are_found() {
    let text = "pub struct One<'a>(&'a str);\npub(super) enum Two {}\ntrait Three {\n    type Four;\n}\n\
                type Five = One;\nimpl Three for One {\n    type Four = Two;\n}\n\
                #[cfg(test)]\nmod tests {\n    struct Six;\n}\n";
    let found: Vec<String> = types(&Source::new("src/a/b.rs", text)).into_iter().collect();
    assert_eq!(found, ["Five", "One", "Three", "Two"]);
    assert_eq!(types(&Source::new("src/a/tests.rs", text)), Default::default());
}

#[test]
fn a_wrong_direction_is_told_with_its_place() {
    let told = |path: &str, text: &str| wrong_directions(&Source::new(path, text));
    assert_eq!(told("src/plan/assemble.rs", "use crate::cuts::Layout;"), [""; 0]);
    assert_eq!(
        told("src/stock/mod.rs", "\nuse crate::{measure, reports::Report};"),
        ["src/stock/mod.rs:2: stock may not use reports"]
    );
    assert_eq!(told("src/new/mod.rs", ""), ["src/new/mod.rs: new has no place among the folders"]);
}

#[test]
fn paths_are_found_from_the_root_on() {
    let named = |path: &str, text: &str| -> Vec<String> {
        let source = Source::new(path, text);
        paths(&source).into_iter().map(|(path, _)| path.join("::")).collect()
    };
    assert_eq!(
        named(
            "src/a/b.rs",
            "use crate::c::{self, d, e::{F, g::*}, H as I};\nlet x = crate::c::J::K;"
        ),
        ["c::self", "c::d", "c::e::F", "c::e::g::*", "c::H", "c::J::K"]
    );
    assert_eq!(
        named("src/a/b.rs", "use super::c;\nuse super::super::{d::e, f};"),
        ["a::c", "d::e", "f"]
    );
    assert_eq!(
        named("src/a/mod.rs", "use super::c;\nmod d {\n    use super::E;\n}"),
        ["c", "a::E"]
    );
    assert_eq!(named("src/a/mod.rs", "crate::c::of::<D>()"), ["c::of"]);
}

#[test]
fn what_the_judge_may_not_use_is_told_with_its_place() {
    let told = |text: &str| partial(&Source::new("src/plan/check/layout.rs", text));
    assert_eq!(told("use super::Fault;\nuse crate::plan::check::Given;"), [""; 0]);
    assert_eq!(told("use crate::plan::{Content, Node};\nuse crate::measure::Length;"), [""; 0]);
    for (text, name) in [
        ("use crate::cuts::Layout;", "cuts::Layout"),
        ("use crate::program;", "program"),
        ("use crate::plan::{Node, assemble};", "plan::assemble"),
        ("use crate::plan::tidy::tidied;", "plan::tidy::tidied"),
        ("use super::super::edges;", "plan::edges"),
        ("use crate::plan::*;", "plan::*"),
        ("use crate::plan;", "plan"),
        ("use crate::{plan::Gains, measure::Size};", "plan::Gains"),
        ("let worth = crate::stock::values(stock, workshop);", "stock::values"),
        ("use crate::formats::cards;", "formats::cards"),
    ] {
        let place = "src/plan/check/layout.rs:1";
        assert_eq!(told(text), [format!("{place}: the judge may not use {name}")], "{text}");
    }
}

#[test]
fn a_crate_outside_its_home_is_told_with_its_place() {
    let rule = CRATES.iter().find(|rule| rule.words == ["good_lp::"]).unwrap();
    assert_eq!(breaches(rule, "src/program/engine/mod.rs", "use good_lp::x;"), [""; 0]);
    assert_eq!(
        breaches(rule, "src/program/solve.rs", "\nuse good_lp::x;"),
        ["src/program/solve.rs:2: `good_lp::` belongs to src/program/engine/: engines can be \
          exchanged"]
    );
    let rule = CRATES.iter().find(|rule| rule.words == ["clap::"]).unwrap();
    assert_eq!(breaches(rule, "src/cli/plan.rs", "clap::x"), [""; 0]);
    assert_eq!(breaches(rule, "src/client.rs", "clap::x").len(), 1);
}

#[test]
fn every_door_can_be_found_open() {
    let told = |rule: &Rule, code: &str| {
        breaches(rule, "src/measure_of_all/mod.rs", &format!("fn f() {{\n    {code}(1);\n}}\n"))
    };
    for (rule, word) in CRATES.iter().flat_map(|rule| rule.words.iter().map(move |it| (rule, it))) {
        assert!(told(rule, word)[0].starts_with("src/measure_of_all/mod.rs:2: "), "{word}");
        assert_eq!(told(rule, &format!("reports::{word}")), [""; 0], "another {word}");
    }
    for (rule, word) in DOORS.iter().flat_map(|rule| rule.words.iter().map(move |it| (rule, it))) {
        assert!(told(rule, word)[0].starts_with("src/measure_of_all/mod.rs:2: "), "{word}");
        assert_eq!(told(rule, &format!("std::io::{word}")).len(), 1, "{word}");
        assert_eq!(told(rule, &format!("my_{word}")), [""; 0], "{word}");
    }
}

#[test]
fn tests_are_told_apart() {
    let text = "#[cfg(test)]\nmod tests;\nfn a() { tempfile::a(); }\n#[cfg(test)]\nmod more {\n    \
                fn b() { tempfile::b(); }\n}\nfn c() { tempfile::c(); }\n";
    let rule = CRATES.iter().find(|rule| rule.words == ["tempfile::"]).unwrap();
    let told = breaches(rule, "src/stock/mod.rs", text);
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told[0].starts_with("src/stock/mod.rs:3: ") && told[1].contains("mod.rs:8: "));
    assert_eq!(breaches(rule, "src/stock/read/tests.rs", text), [""; 0]);
    let never = Rule { tests_may: false, ..Rule { homes: &[], ..*rule } };
    assert_eq!(breaches(&never, "src/stock/mod.rs", text).len(), 3);
}
