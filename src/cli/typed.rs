//! Paths as a person types them in a command.

use crate::reports::visible::shown;
use std::path::{MAIN_SEPARATOR, Path};

/// What no shell reads as anything else, beside letters and digits.
const PLAIN: &str = "/._-+=@%,:";

/// The path as one word of a command: in quotes where it holds a blank, or what a shell would read.
pub fn as_typed(path: &Path) -> String {
    let text = shown(&path.display().to_string());
    let is_plain = |letter: char| {
        letter.is_alphanumeric() || letter == MAIN_SEPARATOR || PLAIN.contains(letter)
    };
    match !text.is_empty() && text.chars().all(is_plain) {
        true => text,
        false if cfg!(windows) => format!("\"{text}\""),
        false => format!("'{}'", text.replace('\'', r"'\''")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plain_path_needs_no_quotes() {
        for path in ["cards/cards.csv", "mai-2/karten_ä.csv", "../a+b.csv"] {
            assert_eq!(as_typed(Path::new(path)), path);
        }
    }

    #[cfg(unix)]
    #[test]
    fn others_are_one_word_in_quotes() {
        for (path, typed) in [
            ("my cards/cards.csv", "'my cards/cards.csv'"),
            ("it's.csv", r"'it'\''s.csv'"),
            ("$HOME", "'$HOME'"),
            ("~x", "'~x'"),
            ("a\\b", r"'a\b'"),
            ("", "''"),
        ] {
            assert_eq!(as_typed(Path::new(path)), typed);
        }
    }
}
