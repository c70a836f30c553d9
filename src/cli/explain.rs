//! `cardwright explain`: what an error or warning means, in full.

use super::console::{Console, Exit};
use crate::diagnostics::codes::{self, Code};
use crate::diagnostics::nearest;
use std::fmt::Write;

/// Longest line of an explanation.
const WIDTH: usize = 80;

/// Explains a code, or lists all of them.
pub fn run(code: Option<&str>, console: &mut Console) -> Exit {
    let Some(name) = code else { return console.result(list().as_bytes()) };
    match codes::code(name) {
        Some(code) => console.result(explanation(code).as_bytes()),
        None => {
            let known = codes::all().map(|code| code.name);
            let help = match nearest(name, known) {
                Some(near) => format!("did you mean {near}?"),
                None => "`cardwright explain` lists all codes".to_owned(),
            };
            console.refused(&format!("there is no code {name:?}"), &help)
        }
    }
}

fn list() -> String {
    let widest = codes::all().map(|code| code.name.len()).max().unwrap_or_default();
    codes::all().fold(String::new(), |mut text, code| {
        let _ = writeln!(text, "{:<widest$}  {}", code.name, code.meaning);
        text
    })
}

fn explanation(code: &Code) -> String {
    format!("{}: {}\n\n{}\n", code.name, code.meaning, wrapped(code.explanation))
}

/// Each paragraph in lines of at most [`WIDTH`] characters.
fn wrapped(text: &str) -> String {
    let paragraphs: Vec<String> = text.split("\n\n").map(wrapped_paragraph).collect();
    paragraphs.join("\n\n")
}

fn wrapped_paragraph(text: &str) -> String {
    let (mut wrapped, mut used) = (String::new(), 0);
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if used > 0 && used + 1 + length > WIDTH {
            wrapped.push('\n');
            used = 0;
        } else if used > 0 {
            wrapped.push(' ');
            used += 1;
        }
        wrapped.push_str(word);
        used += length;
    }
    wrapped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_end_at_the_width_and_not_before() {
        let words = |last: usize| format!("{} {}", "a".repeat(40), "b".repeat(last));
        assert!(!wrapped(&words(39)).contains('\n'));
        assert!(wrapped(&words(40)).contains('\n'));
    }

    #[test]
    fn paragraphs_stay_apart() {
        assert_eq!(wrapped("one\ntwo\n\nthree"), "one two\n\nthree");
    }
}
