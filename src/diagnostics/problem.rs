//! What a problem is, and a collection of them.

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
pub struct Problems(Vec<Problem>);

impl Problems {
    /// None yet.
    pub fn new() -> Problems {
        Problems::default()
    }

    /// Adds one.
    pub fn push(&mut self, problem: Problem) {
        self.0.push(problem);
    }

    /// Adds all of `others`.
    pub fn append(&mut self, others: Problems) {
        self.0.extend(others.0);
    }

    /// Whether any is an error.
    pub fn has_errors(&self) -> bool {
        self.0.iter().any(|problem| problem.severity == Severity::Error)
    }

    /// Whether there is none at all.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// All of them.
    pub fn iter(&self) -> impl Iterator<Item = &Problem> {
        self.0.iter()
    }
}
