//! A problem as a script reads it.

use super::{Problem, Severity};
use serde_json::{Value, json};

impl Problem {
    /// The same as a person is told, in a fixed shape; `null` where there is no place.
    pub fn document(&self) -> Value {
        let Problem { severity, code, title, place, label, help } = self;
        let severity = match severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        };
        let place = place.as_ref().map(|place| {
            json!({
                "file": *place.file,
                "line": place.line,
                "column": place.column,
                "length": place.length,
                "expected": label,
            })
        });
        json!({ "severity": severity, "code": code, "title": title, "place": place, "help": help })
    }
}
