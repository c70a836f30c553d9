//! A Rust file as the words of its code: no comments, no texts, and with the tests told apart.

use crate::program::rust_files;
use std::ops::Range;

/// The code of one file.
pub struct Source {
    /// Its path below the project, such as `src/stock/read.rs`.
    pub path: String,
    /// Its text; comments and what stands in quotes are blanks, line breaks stay.
    pub code: String,
    /// What is compiled for tests only.
    tests: Vec<Range<usize>>,
}

impl Source {
    pub fn new(path: &str, text: &str) -> Source {
        let code = code_alone(text);
        let is_test = |part: &str| matches!(part, "tests" | "tests.rs" | "fixture");
        let tests = match path.split('/').any(is_test) {
            true => std::iter::once(0..code.len()).collect(),
            false => items_for_tests(&code),
        };
        Source { path: path.to_owned(), code, tests }
    }

    pub fn in_tests(&self, at: usize) -> bool {
        self.tests.iter().any(|range| range.contains(&at))
    }

    /// `src/stock/read.rs:12`.
    pub fn place(&self, at: usize) -> String {
        format!("{}:{}", self.path, self.code[..at].matches('\n').count() + 1)
    }

    /// The folder of `src/` it belongs to; a file of `src/` itself is a folder of its own.
    pub fn folder(&self) -> &str {
        let inner = self.path.strip_prefix("src/").unwrap_or(&self.path);
        inner.split('/').next().unwrap_or(inner).trim_end_matches(".rs")
    }

    /// Places where `word` stands alone, not within a longer name. What ends with `::` has to be the
    /// start of its path.
    pub fn words<'a>(&'a self, word: &'a str) -> impl Iterator<Item = usize> + 'a {
        self.code.match_indices(word).map(|(at, _)| at).filter(move |at| {
            let (before, behind) = (&self.code[..*at], &self.code[at + word.len()..]);
            let goes_on = word.ends_with(is_part_of_name) && behind.starts_with(is_part_of_name);
            let is_later = before
                .strip_suffix("::")
                .is_some_and(|path| word.ends_with("::") && path.ends_with(is_part_of_name));
            !before.ends_with(is_part_of_name) && !goes_on && !is_later
        })
    }

    /// The module of the file, from the crate's root: `["stock", "read"]`.
    pub fn module(&self) -> Vec<&str> {
        let inner = self.path.strip_prefix("src/").unwrap_or(&self.path).trim_end_matches(".rs");
        inner.split('/').filter(|part| !matches!(*part, "mod" | "lib" | "main" | "page")).collect()
    }
}

pub fn is_part_of_name(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_'
}

/// All Rust files below a folder of the project, sorted.
pub fn sources(folder: &str) -> Vec<Source> {
    rust_files(folder).iter().map(|(path, text)| Source::new(path, text)).collect()
}

/// The text with blanks for comments and for what stands in quotes.
fn code_alone(text: &str) -> String {
    let mut code = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(letter) = rest.chars().next() {
        match length_of_no_code(rest, code.chars().last()) {
            Some(length) => {
                let (skipped, behind) = rest.split_at(length);
                code.extend(skipped.chars().map(|one| if one == '\n' { '\n' } else { ' ' }));
                rest = behind;
            }
            None => {
                code.push(letter);
                rest = &rest[letter.len_utf8()..];
            }
        }
    }
    code
}

/// Bytes of the comment, text or letter in quotes that `rest` begins with.
fn length_of_no_code(rest: &str, before: Option<char>) -> Option<usize> {
    if rest.starts_with("//") {
        return Some(rest.find('\n').unwrap_or(rest.len()));
    }
    if rest.starts_with("/*") {
        return Some(rest.find("*/").map_or(rest.len(), |end| end + 2));
    }
    if rest.starts_with('"') {
        return Some(quoted(rest, '"'));
    }
    let marks = rest.strip_prefix('r').map(|raw| raw.len() - raw.trim_start_matches('#').len());
    if let Some(marks) = marks
        && rest[1 + marks..].starts_with('"')
        && !before.is_some_and(|letter| is_part_of_name(letter) && letter != 'b')
    {
        let end = format!("\"{}", "#".repeat(marks));
        let inner = marks + 2;
        return Some(rest[inner..].find(&end).map_or(rest.len(), |at| inner + at + end.len()));
    }
    // A letter in quotes; a lifetime has no second quote so near.
    let inner = rest.strip_prefix('\'')?;
    let first = inner.chars().next()?;
    let is_letter = first == '\\' || inner[first.len_utf8()..].starts_with('\'');
    is_letter.then(|| quoted(rest, '\''))
}

/// Bytes from a quote to the one that ends it; what follows a backslash ends nothing.
fn quoted(rest: &str, quote: char) -> usize {
    let mut escaped = false;
    for (at, letter) in rest.char_indices().skip(1) {
        match letter {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            letter if letter == quote => return at + 1,
            _ => {}
        }
    }
    rest.len()
}

/// The items behind `#[cfg(test)]`: to their semicolon or closing brace.
fn items_for_tests(code: &str) -> Vec<Range<usize>> {
    let marks = code.match_indices("#[cfg(test)]");
    marks.map(|(start, _)| start..start + end_of_item(&code[start..])).collect()
}

fn end_of_item(code: &str) -> usize {
    let mut depth = 0_usize;
    for (at, letter) in code.char_indices() {
        match letter {
            '{' => depth += 1,
            '}' if depth <= 1 => return at + 1,
            '}' => depth -= 1,
            ';' if depth == 0 => return at + 1,
            _ => {}
        }
    }
    code.len()
}
