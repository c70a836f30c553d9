//! All codes of errors and warnings, explained in full.
//!
//! One list a stage. A test proves that every code the program uses is here, and no other.

mod file;
mod folder;
mod order;
mod piece;
mod plan;
mod shelf;
mod stock;
mod table;
mod workshop;

/// A code and what a person wants to know of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Code {
    /// Its name, such as `order-count`.
    pub name: &'static str,
    /// What it says, in one line.
    pub meaning: &'static str,
    /// Why it matters and how to mend it.
    pub explanation: &'static str,
}

impl Code {
    const fn new(name: &'static str, meaning: &'static str, explanation: &'static str) -> Code {
        Code { name, meaning, explanation }
    }
}

/// The lists, in the order of the stages.
const LISTS: [&[Code]; 10] = [
    GENERAL,
    file::CODES,
    table::CODES,
    order::CODES,
    stock::CODES,
    workshop::CODES,
    piece::CODES,
    plan::CODES,
    shelf::CODES,
    folder::CODES,
];

const GENERAL: &[Code] = &[Code::new(
    "more-problems",
    "a file has more problems than are shown",
    "At most 50 errors and 50 warnings are shown for one file; this line says how many more there are. \
     They often have one cause, such as a column in the wrong place. Correct the ones shown and run the \
     command again.",
)];

/// All codes.
pub fn all() -> impl Iterator<Item = &'static Code> {
    LISTS.into_iter().flatten()
}

/// The code of a name.
pub fn code(name: &str) -> Option<&'static Code> {
    all().find(|code| code.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn names_are_unique_and_in_kebab_case() {
        let names: BTreeSet<&str> = all().map(|code| code.name).collect();
        assert_eq!(names.len(), all().count());
        for name in names {
            assert!(name.split('-').count() >= 2, "{name}");
            assert!(name.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-'), "{name}");
        }
    }

    #[test]
    fn every_code_is_explained() {
        for code in all() {
            assert!(!code.meaning.is_empty() && !code.meaning.ends_with('.'), "{}", code.name);
            assert!(code.explanation.len() > code.meaning.len(), "{}", code.name);
            assert!(code.explanation.ends_with('.'), "{}", code.name);
            assert!(!code.explanation.contains("  "), "{}", code.name);
        }
    }

    #[test]
    fn a_code_is_found_by_its_name() {
        assert_eq!(code("order-count").map(|code| code.name), Some("order-count"));
        assert_eq!(code("order-"), None);
    }
}
