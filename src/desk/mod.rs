//! What the page of the desk asks, and what it is answered: a document in, lines of JSON out.
//!
//! In: a [`DeskQuestion`] with the texts of all files as the page has them. Out: what is in a table after some changes, what a bench
//! says, or a plan: a first one at once, the final one when it is there. Nothing here reads or writes a file, so that a page
//! can ask the same of a server and of the library itself.

mod bench;
mod choices;
mod files;
mod guide;
mod plan;
mod table;

pub use bench::{BenchChange, BenchQuestion};
pub use files::{DeskFile, DeskFiles, FileKind};
pub use plan::{DeskEffort, PlanQuestion, told};
pub use table::TableQuestion;

use serde::Deserialize;
use serde_json::Value;
use std::time::Duration;

/// What a page asks.
#[derive(Clone, Debug, Deserialize)]
#[serde(tag = "ask", rename_all = "lowercase")]
pub enum DeskQuestion {
    /// What is in a table, after some changes to it.
    Table(TableQuestion),
    /// What is in the file of the bench, after some changes to it.
    Bench(BenchQuestion),
    /// A plan for the order.
    Plan(PlanQuestion),
}

/// Who hears the answers.
#[derive(Clone, Copy)]
pub struct Listener<'a> {
    /// Told of each document, by any thread.
    pub say: &'a (dyn Fn(Value) + Sync),
    /// Whether the answer is not waited for any more.
    pub stop: &'a (dyn Fn() -> bool + Sync),
    /// Time for the first plan; without it, and without a clock, it takes what it takes.
    pub first: Option<Duration>,
}

/// Answers a question.
pub fn answer(question: &DeskQuestion, listener: Listener) {
    match question {
        DeskQuestion::Table(question) => (listener.say)(table::answer(question)),
        DeskQuestion::Bench(question) => (listener.say)(bench::answer(question)),
        DeskQuestion::Plan(question) => plan::answer(question, listener),
    }
}
