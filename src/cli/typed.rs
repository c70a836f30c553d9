//! Paths as a person types them in a command.

use crate::diagnostics::one_word;
use crate::reports::visible::shown;
use std::path::Path;

/// The path as one word of a command: in quotes where it holds a blank, or what a shell would read.
pub fn as_typed(path: &Path) -> String {
    one_word(&shown(&path.display().to_string()))
}
