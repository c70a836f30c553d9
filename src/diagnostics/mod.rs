//! Problems with a place: what was found, what was expected, how to fix it.
//!
//! A stage that reads collects [`Problem`]s in [`Problems`] and goes on, so that all mistakes of all
//! files come at once. Rendering is `cli/`'s work.

mod alike;
pub mod codes;
mod command;
mod document;
mod problem;
mod source;
mod suggestion;
mod values;
mod words;

pub use alike::{AlikeProblems, told_once};
pub use command::{WorkshopFile, one_word, plan_command, shelf_command};
pub use problem::{Place, Problem, Problems, Severity, Spanned};
pub use source::SourceText;
pub use suggestion::{misspelt, nearest, slips};
pub use values::Misread;
pub use words::{counted, listed};
