//! Every code that the program uses is explained, and every explained code is used and shown here.

use crate::program::rust_files;
use cardwright::diagnostics::codes;
use std::collections::BTreeSet;

/// The text of all Rust files below a folder, without the lists of codes themselves.
fn project(folder: &str) -> String {
    let files = rust_files(folder).into_iter();
    files.filter(|(path, _)| !path.contains("/codes/")).map(|(_, text)| text).collect()
}

/// Codes given to `Problem::error` and `Problem::warning`, and those in other literals of known shape.
fn used(source: &str) -> BTreeSet<&str> {
    let known: BTreeSet<&str> = codes::all().map(|code| code.name).collect();
    let literals = source.split('"').skip(1);
    let mentioned = literals.filter(|text| known.contains(text));
    let raised = ["Problem::error(", "Problem::warning("].into_iter().flat_map(|call| {
        source
            .split(call)
            .skip(1)
            .filter_map(|rest| rest.trim_start().strip_prefix('"')?.split('"').next())
    });
    mentioned.chain(raised).collect()
}

#[test]
fn every_code_used_is_explained() {
    let source = project("src");
    for code in used(&source) {
        assert!(codes::code(code).is_some(), "{code} is not in the list of codes");
    }
}

/// A code may come to `Problem` by way of a variable: then its literal stands elsewhere, and is found by its shape.
#[test]
fn every_literal_of_the_shape_of_a_code_is_one() {
    let stages: BTreeSet<&str> =
        codes::all().filter_map(|code| code.name.split('-').next()).collect();
    let is_shaped = |text: &str| {
        let is_word =
            |word: &str| !word.is_empty() && word.bytes().all(|it| it.is_ascii_lowercase());
        let mut words = text.split('-');
        words.next().is_some_and(|stage| stages.contains(stage))
            && text.contains('-')
            && words.all(is_word)
    };
    let source = project("src");
    let literals = source.split('"').filter(|text| is_shaped(text));
    let unknown: BTreeSet<&str> = literals.filter(|text| codes::code(text).is_none()).collect();
    // A slip of the fingers that a test makes on purpose.
    assert_eq!(unknown, BTreeSet::from(["order-cuont"]));
}

#[test]
fn every_code_explained_is_used() {
    let source = project("src");
    let used = used(&source);
    for code in codes::all() {
        assert!(used.contains(code.name), "{} is used nowhere", code.name);
    }
}

#[test]
fn every_code_explained_has_its_message_tested() {
    let tests = project("tests");
    for code in codes::all() {
        assert!(tests.contains(&format!("[{}]", code.name)), "{} has no test", code.name);
    }
}
