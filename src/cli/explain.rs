//! `cardwright explain`: what an error or warning means, in full.

use super::arguments::ExplainArguments;
use super::console::{Console, Exit};
use super::json;
use crate::diagnostics::codes::{self, Code};
use crate::diagnostics::nearest;
use std::fmt::Write;

/// Longest line of an explanation.
const WIDTH: usize = 80;

/// Explains a code, or lists all of them.
pub fn run(typed: &ExplainArguments, console: &mut Console) -> Exit {
    let Some(name) = typed.code.as_deref() else {
        return match typed.json {
            true => console.result(json::text(&json::codes(codes::all())).as_bytes()),
            false => console.page(&list()),
        };
    };
    match codes::code(name) {
        Some(code) if typed.json => {
            console.result(json::text(&json::codes([code].into_iter())).as_bytes())
        }
        Some(code) => {
            let width = console.width.unwrap_or(WIDTH).min(WIDTH);
            console.page(&explanation(code, width))
        }
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

fn explanation(code: &Code, width: usize) -> String {
    format!("{}: {}\n\n{}\n", code.name, code.meaning, wrapped(code.explanation, width))
}

/// Each paragraph in lines of at most `width` characters.
fn wrapped(text: &str, width: usize) -> String {
    let paragraphs = text.split("\n\n").map(|paragraph| wrapped_paragraph(paragraph, width));
    let paragraphs: Vec<String> = paragraphs.collect();
    paragraphs.join("\n\n")
}

fn wrapped_paragraph(text: &str, width: usize) -> String {
    let (mut wrapped, mut used) = (String::new(), 0);
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if used > 0 && used + 1 + length > width {
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
        assert!(!wrapped(&words(39), WIDTH).contains('\n'));
        assert!(wrapped(&words(40), WIDTH).contains('\n'));
    }

    #[test]
    fn paragraphs_stay_apart() {
        assert_eq!(wrapped("one\ntwo\n\nthree", WIDTH), "one two\n\nthree");
    }
}
