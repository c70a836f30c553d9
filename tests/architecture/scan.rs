//! What a file uses, and what is against the rules in that.

use super::source::{Source, is_part_of_name};

/// Where something is used that has a home.
pub struct Rule {
    /// What is looked for, as it is written.
    pub words: &'static [&'static str],
    /// Files and folders where it may stand; a folder ends with `/`.
    pub homes: &'static [&'static str],
    /// Whether tests inside `src/` may use it as well.
    pub tests_may: bool,
    pub reason: &'static str,
}

impl Rule {
    /// Every place outside the homes, with the reason.
    pub fn breaches(&self, source: &Source) -> Vec<String> {
        if self.homes.iter().any(|home| is_in(&source.path, home)) {
            return Vec::new();
        }
        let places =
            self.words.iter().flat_map(|word| source.words(word).map(move |at| (word, at)));
        let outside = places.filter(|(_, at)| !(self.tests_may && source.in_tests(*at)));
        outside
            .map(|(word, at)| {
                let homes = if self.homes.is_empty() { "nowhere" } else { &self.homes.join(", ") };
                format!("{}: `{word}` belongs to {homes}: {}", source.place(at), self.reason)
            })
            .collect()
    }
}

pub fn is_in(path: &str, home: &str) -> bool {
    path == home || (home.ends_with('/') && path.starts_with(home))
}

/// The folders of `src/` that a file names, each with the place where.
pub fn uses(source: &Source) -> Vec<(&str, usize)> {
    let mut found = Vec::new();
    for start in source.words("crate::") {
        heads(source, start + "crate::".len(), &mut found);
    }
    for start in source.words("super::") {
        let mut behind = start;
        let mut ups = 0;
        while source.code[behind..].starts_with("super::") {
            behind += "super::".len();
            ups += 1;
        }
        // A module inside the file lies one deeper than the file.
        let depth = source.module().len() + usize::from(inside_a_module(source, start));
        if ups >= depth {
            heads(source, behind, &mut found);
        }
    }
    found
}

fn inside_a_module(source: &Source, at: usize) -> bool {
    let before = &source.code[..at];
    let opened = before.rfind("\nmod ").or_else(|| before.rfind("\npub mod "));
    opened.is_some_and(|opened| before[opened..].contains('{') && !before[opened..].contains("\n}"))
}

/// The first names of a path, or of each path of a group in braces.
fn heads<'a>(source: &'a Source, at: usize, found: &mut Vec<(&'a str, usize)>) {
    let rest = &source.code[at..];
    if !rest.starts_with('{') {
        let end = rest.find(|letter| !is_part_of_name(letter)).unwrap_or(rest.len());
        found.push((&rest[..end], at));
        return;
    }
    let (mut depth, mut expected) = (0, false);
    for (offset, letter) in rest.char_indices() {
        match letter {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return;
        }
        if depth == 1 && matches!(letter, '{' | ',') {
            expected = true;
        } else if expected && is_part_of_name(letter) {
            heads(source, at + offset, found);
            expected = false;
        }
    }
}
