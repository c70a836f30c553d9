//! Problems with a place: what was found, what was expected, how to fix it.
//!
//! A stage that reads collects [`Problem`]s in [`Problems`] and goes on, so that all mistakes of all
//! files come at once. Rendering is `cli/`'s work.

mod problem;
mod suggestion;
mod words;

pub use problem::{Place, Problem, Problems, Severity, Spanned};
pub use suggestion::nearest;
pub use words::{counted, listed};
