//! What a problem is, and a collection of them.

use super::counted;
use std::sync::Arc;

/// A stretch of one line of a file.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The file as the person named it.
    pub file: Arc<str>,
    /// Line, counted from 1.
    pub line: usize,
    /// First column, counted from 1 in characters.
    pub column: usize,
    /// Marked characters; 0 marks the spot alone.
    pub length: usize,
    /// The whole line, without its ending.
    pub text: Arc<str>,
}

impl Place {
    /// The part of it that begins `skip` characters further on and is `length` characters long.
    #[must_use]
    pub fn narrowed(&self, skip: usize, length: usize) -> Place {
        Place { column: self.column + skip, length, ..self.clone() }
    }

    /// The marked characters.
    pub fn marked(&self) -> String {
        self.text.chars().skip(self.column.saturating_sub(1)).take(self.length).collect()
    }
}

/// A value and where it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it was read; `None` where a default stands in.
    pub place: Option<Place>,
}

impl<T> Spanned<T> {
    /// A value that stands in no file.
    pub fn nowhere(value: T) -> Spanned<T> {
        Spanned { value, place: None }
    }
}

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Nothing is planned.
    Error,
    /// Planning goes on.
    Warning,
}

/// One thing to tell the person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Error or warning.
    pub severity: Severity,
    /// Stable code, such as `order-count`.
    pub code: &'static str,
    /// What is wrong, in one line without a full stop.
    pub title: String,
    /// Where.
    pub place: Option<Place>,
    /// What was expected there, beside the marks.
    pub label: String,
    /// How to fix it, a line each.
    pub help: Vec<String>,
}

impl Problem {
    /// An error.
    pub fn error(code: &'static str, title: impl Into<String>) -> Problem {
        Problem::new(Severity::Error, code, title.into())
    }

    /// A warning.
    pub fn warning(code: &'static str, title: impl Into<String>) -> Problem {
        Problem::new(Severity::Warning, code, title.into())
    }

    fn new(severity: Severity, code: &'static str, title: String) -> Problem {
        Problem { severity, code, title, place: None, label: String::new(), help: Vec::new() }
    }

    /// Says where, and what was expected there.
    #[must_use]
    pub fn at(mut self, place: Option<&Place>, label: impl Into<String>) -> Problem {
        self.place = place.cloned();
        self.label = label.into();
        self
    }

    /// Says how to fix it.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Problem {
        self.help.push(help.into());
        self
    }
}

/// Problems found so far, in the order of finding.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problems {
    found: Vec<Problem>,
    /// The file whose problems are counted and, past [`Problems::MOST`] of a severity, only counted.
    file: Option<String>,
    more_errors: u64,
    more_warnings: u64,
}

impl Problems {
    /// Errors, and as many warnings, that are told of one file; the rest is counted.
    pub const MOST: usize = 50;

    /// None yet.
    pub fn new() -> Problems {
        Problems::default()
    }

    /// None yet, of one file: it may have a hundred thousand rows, all of them wrong.
    pub fn of_file(file: &str) -> Problems {
        Problems { file: Some(file.to_owned()), ..Problems::default() }
    }

    /// Adds one.
    pub fn push(&mut self, problem: Problem) {
        let same = |other: &&Problem| other.severity == problem.severity;
        let full = self.file.is_some()
            && self.found.len() >= Problems::MOST
            && self.found.iter().filter(same).count() >= Problems::MOST;
        match (full, problem.severity) {
            (false, _) => self.found.push(problem),
            (true, Severity::Error) => self.more_errors += 1,
            (true, Severity::Warning) => self.more_warnings += 1,
        }
    }

    /// Adds each of `problems`, if any.
    pub fn extend(&mut self, problems: impl IntoIterator<Item = Problem>) {
        problems.into_iter().for_each(|problem| self.push(problem));
    }

    /// Adds all of `others`; where some were only counted, a last problem says how many.
    pub fn append(&mut self, others: Problems) {
        let file = others.file.unwrap_or_default();
        self.found.extend(others.found);
        if others.more_errors > 0 {
            let more = counted(others.more_errors, "more mistake");
            self.push(
                Problem::error("more-problems", format!("and {more} in {file}"))
                    .help("correct those above first; the rest is shown next time"),
            );
        }
        if others.more_warnings > 0 {
            let more = counted(others.more_warnings, "more warning");
            self.push(Problem::warning("more-problems", format!("and {more} in {file}")));
        }
    }

    /// Leaves the errors alone.
    pub fn drop_warnings(&mut self) {
        self.found.retain(|one| one.severity == Severity::Error);
        self.more_warnings = 0;
    }

    /// Whether any is an error.
    pub fn has_errors(&self) -> bool {
        self.more_errors > 0 || self.found.iter().any(|one| one.severity == Severity::Error)
    }

    /// Whether there is none at all.
    pub fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// All of them.
    pub fn iter(&self) -> impl Iterator<Item = &Problem> {
        self.found.iter()
    }
}

impl From<Problem> for Problems {
    fn from(problem: Problem) -> Problems {
        Problems { found: vec![problem], ..Problems::default() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(errors: usize, warnings: usize) -> Problems {
        let mut file = Problems::of_file("orders/spring.csv");
        (0..warnings).for_each(|_| file.push(Problem::warning("table-column-unknown", "odd")));
        (0..errors).for_each(|_| file.push(Problem::error("order-count", "bad")));
        let mut all = Problems::new();
        all.append(file);
        all
    }

    fn last_title(problems: &Problems) -> &str {
        problems.iter().last().map_or("", |problem| &problem.title)
    }

    #[test]
    fn the_rest_is_counted_only_beyond_the_most() {
        let most = Problems::MOST;
        assert_eq!(told(most - 1, 0).iter().count(), most - 1);
        assert_eq!(told(most, 0).iter().count(), most);
        assert_eq!(last_title(&told(most, 0)), "bad");
        assert_eq!(told(most + 1, 0).iter().count(), most + 1);
        assert_eq!(last_title(&told(most + 1, 0)), "and 1 more mistake in orders/spring.csv");
        assert_eq!(last_title(&told(most + 7, 0)), "and 7 more mistakes in orders/spring.csv");
    }

    #[test]
    fn warnings_never_hide_an_error() {
        let problems = told(1, 3 * Problems::MOST);
        assert!(problems.has_errors());
        assert!(problems.iter().any(|problem| problem.title == "bad"));
        assert_eq!(last_title(&problems), "and 100 more warnings in orders/spring.csv");
        assert!(!told(0, 3 * Problems::MOST).has_errors());
    }

    #[test]
    fn a_narrowed_place_marks_its_part() {
        let place = Place {
            file: "orders/spring.csv".into(),
            line: 2,
            column: 7,
            length: 9,
            text: "tag,4,f\u{e9}rn|moss".into(),
        };
        assert_eq!(place.marked(), "f\u{e9}rn|moss");
        assert_eq!(place.narrowed(5, 4).marked(), "moss");
    }
}
