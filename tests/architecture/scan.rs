//! What a file uses, and what is against the rules in that.

use super::source::{Source, is_part_of_name};
use std::collections::BTreeSet;

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

/// The names of types that are defined in a source, those of tests left out: of structs, enums, traits and aliases.
pub fn types(source: &Source) -> BTreeSet<String> {
    let keywords = ["struct", "enum", "trait", "type"].into_iter();
    let at = keywords.flat_map(|word| source.words(word).map(move |at| at + word.len()));
    let at = at.filter(|at| !source.in_tests(*at) && !is_associated(source, *at));
    at.map(|at| name(&source.code[at..]).to_owned()).collect()
}

/// A type that a trait asks for is indented.
fn is_associated(source: &Source, at: usize) -> bool {
    source.code[..at].rsplit('\n').next().is_some_and(|line| line.starts_with(' '))
}

fn name(after: &str) -> &str {
    let after = after.trim_start();
    after.split(|letter: char| !letter.is_alphanumeric()).next().unwrap_or_default()
}

/// The functions that take a tuple apart in a parameter, those of tests left out.
pub fn tuples(source: &Source) -> Vec<String> {
    let functions = source.words("fn").filter(|at| !source.in_tests(*at));
    let taken = functions.filter(|at| parameters(&source.code[*at..]).iter().any(is_taken_apart));
    taken.map(|at| format!("{}: a parameter is a tuple", source.place(at))).collect()
}

fn is_taken_apart(parameter: &&str) -> bool {
    parameter.trim_start().starts_with('(')
}

/// The parameters of a function whose code begins there.
fn parameters(function: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let (mut depth, mut from, mut before) = (0_i32, None, ' ');
    for (at, letter) in function.char_indices() {
        // Generics may hold parentheses, and an arrow ends none.
        let (opens, closes) = match from {
            Some(_) => {
                (matches!(letter, '(' | '[' | '{' | '<'), matches!(letter, ')' | ']' | '}' | '>'))
            }
            None => (letter == '<', letter == '>'),
        };
        match letter {
            '(' if from.is_none() && depth == 0 => {
                from = Some(at + 1);
                continue;
            }
            // No parameters: the word is part of a type.
            '{' | ';' | '=' if from.is_none() && depth == 0 => return found,
            _ => {}
        }
        match from {
            Some(start) if depth == 0 && (letter == ',' || letter == ')') => {
                found.push(&function[start..at]);
                if letter == ')' {
                    return found;
                }
                from = Some(at + 1);
            }
            _ => {}
        }
        depth += i32::from(opens) - i32::from(closes && before != '-');
        before = letter;
    }
    found
}

pub fn is_in(path: &str, home: &str) -> bool {
    path == home || (home.ends_with('/') && path.starts_with(home))
}

/// The folders of `src/` that a file names beside its own, each with the place where.
pub fn uses(source: &Source) -> Vec<(&str, usize)> {
    let first = paths(source).into_iter().map(|(path, at)| (path[0], at));
    let mut found: Vec<(&str, usize)> =
        first.filter(|(used, _)| *used != source.folder()).collect();
    found.dedup_by_key(|(used, at)| (*used, source.place(*at)));
    found
}

/// The paths within the project that a file names, from its root on, each with the place where.
pub fn paths(source: &Source) -> Vec<(Vec<&str>, usize)> {
    let mut found = Vec::new();
    for start in source.words("crate::") {
        ends(source, start + "crate::".len(), &[], &mut found);
    }
    for start in source.words("super::") {
        let mut behind = start;
        let mut module = source.module();
        // A module inside the file lies one deeper than the file.
        if inside_a_module(source, start) {
            module.push("");
        }
        while source.code[behind..].starts_with("super::") {
            behind += "super::".len();
            module.pop();
        }
        ends(source, behind, &module, &mut found);
    }
    found
}

fn inside_a_module(source: &Source, at: usize) -> bool {
    let before = &source.code[..at];
    let opened = before.rfind("\nmod ").or_else(|| before.rfind("\npub mod "));
    opened.is_some_and(|opened| before[opened..].contains('{') && !before[opened..].contains("\n}"))
}

/// Every path that goes on from `begun` at this place: one, or those of a group in braces.
fn ends<'a>(
    source: &'a Source,
    at: usize,
    begun: &[&'a str],
    found: &mut Vec<(Vec<&'a str>, usize)>,
) {
    let rest = &source.code[at..];
    if rest.starts_with('{') {
        return group(source, at, begun, found);
    }
    let is_all = rest.starts_with('*');
    let end = rest.find(|letter| !is_part_of_name(letter)).unwrap_or(rest.len());
    let end = if is_all { 1 } else { end };
    let path = [begun, &[&rest[..end]]].concat();
    match rest[end..].strip_prefix("::") {
        Some(on) if on.starts_with(|letter| is_part_of_name(letter) || "{*".contains(letter)) => {
            ends(source, at + end + "::".len(), &path, found);
        }
        _ => found.push((path, at)),
    }
}

fn group<'a>(
    source: &'a Source,
    at: usize,
    begun: &[&'a str],
    found: &mut Vec<(Vec<&'a str>, usize)>,
) {
    let (mut depth, mut expected) = (0, false);
    for (offset, letter) in source.code[at..].char_indices() {
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
        } else if expected && (is_part_of_name(letter) || letter == '*') {
            ends(source, at + offset, begun, found);
            expected = false;
        }
    }
}
