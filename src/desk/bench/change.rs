//! Changes to the text of the bench that leave all else in it as it is.

use super::BenchChange;
use super::text::{BenchText, joined, parts};
use crate::diagnostics::Problem;
use std::collections::BTreeMap;

/// The text after a change: a blank value takes the key out with its line, and a key that is not there is added.
///
/// # Errors
/// Nothing else would be read from it, or something else than was meant.
pub fn changed(text: &str, change: &BenchChange) -> Result<String, Box<Problem>> {
    let refused = || {
        let title = format!("{} was left as it was", change.key);
        let wrong = format!("the file could not be read with {} there", change.text.trim());
        let problem = Problem::error("workshop-syntax", title).help(wrong);
        Box::new(problem.help("write a number as 5, and anything else in quotes"))
    };
    let found = BenchText::of(text).map_err(|_| refused())?;
    let path = parts(&change.key).ok_or_else(refused)?;
    let (key, new) = (joined(&path), change.text.trim());
    let mut expected = values(text, &found);
    match new {
        "" => expected.remove(&key),
        _ => expected.insert(key, new.to_owned()),
    };
    let is_meant =
        |text: &String| BenchText::of(text).is_ok_and(|it| values(text, &it) == expected);
    ways(text, &found, &path, new).into_iter().find(is_meant).ok_or_else(refused)
}

/// Each value as it is written, by its key.
fn values(text: &str, found: &BenchText) -> BTreeMap<String, String> {
    let value = |range: std::ops::Range<usize>| text.get(range).unwrap_or_default().to_owned();
    found.fields.iter().map(|field| (field.key(), value(field.range.clone()))).collect()
}

/// The texts in which a change could end, the plainest first.
fn ways(text: &str, found: &BenchText, path: &[String], new: &str) -> Vec<String> {
    let Some(field) = found.fields.iter().find(|field| field.path == *path) else {
        return if new.is_empty() { vec![text.to_owned()] } else { added(text, found, path, new) };
    };
    let range = match new {
        "" => line_start(text, field.range.start)..line_end(text, field.range.end),
        _ => field.range.clone(),
    };
    vec![[&text[..range.start], new, &text[range.end..]].concat()]
}

/// A new key below the heading of its section; with a heading of its own at the end; or with its sections above all headings.
fn added(text: &str, found: &BenchText, path: &[String], new: &str) -> Vec<String> {
    let Some((name, section)) = path.split_last() else { return Vec::new() };
    let name = joined(std::slice::from_ref(name));
    let above = with_line(text, above_headings(text, found), &format!("{} = {new}", joined(path)));
    if section.is_empty() {
        return vec![above];
    }
    let line = format!("{name} = {new}");
    if let Some(heading) = found.heading(section) {
        return vec![with_line(text, line_end(text, heading.range.end), &line)];
    }
    let end = newline(text);
    let headed = format!("{end}[{}]{end}{line}", joined(section));
    vec![with_line(text, text.len(), &headed), above]
}

/// Behind the last value that stands above all headings, else in front of the first of these.
fn above_headings(text: &str, found: &BenchText) -> usize {
    let first = found.headings.first().map_or(text.len(), |it| line_start(text, it.range.start));
    let above = found.fields.iter().take_while(|field| field.range.start < first).last();
    above.map_or(first, |field| line_end(text, field.range.end))
}

/// The text with a line more, at the start of a line or the end of the text.
fn with_line(text: &str, at: usize, line: &str) -> String {
    let end = newline(text);
    let (before, after) = text.split_at(at);
    let is_begun = !before.is_empty() && !before.ends_with(['\n', '\u{feff}']);
    [before, if is_begun { end } else { "" }, line, end, after].concat()
}

/// How the file ends its lines.
fn newline(text: &str) -> &'static str {
    match text.split_once('\n') {
        Some((line, _)) if line.ends_with('\r') => "\r\n",
        _ => "\n",
    }
}

/// Where the line of a byte begins, behind a byte order mark.
fn line_start(text: &str, at: usize) -> usize {
    let mark = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    text[..at].rfind('\n').map_or(mark, |end| end + 1)
}

/// Where the next line begins.
fn line_end(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |end| at + end + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn after(text: &str, key: &str, new: &str) -> Option<String> {
        changed(text, &BenchChange { key: key.to_owned(), text: new.to_owned() }).ok()
    }

    fn with_knife(text: &str) -> String {
        after(text, "trimmer.knife", "\"15 in\"").unwrap_or_default()
    }

    const KNIFE: &str = "knife = \"15 in\"";

    #[test]
    fn a_heading_is_found_however_it_is_written() {
        assert_eq!(with_knife("[trimmer]"), format!("[trimmer]\n{KNIFE}\n"));
        for heading in ["[ trimmer ]", "[\"trimmer\"]", "[trimmer] # a [trimmer]"] {
            let expected = format!("{heading}\n{KNIFE}\nlift = 5\n");
            assert_eq!(with_knife(&format!("{heading}\nlift = 5\n")), expected);
        }
        let text = "note = \"\"\"\n[trimmer]\n\"\"\"\n# [trimmer]\n[trimmer]\nlift = 5\n";
        let expected = text.replace("\nlift", &format!("\n{KNIFE}\nlift"));
        assert_eq!(with_knife(text), expected);
        let lines = with_knife("[trimmer]\r\nlift = 5\r\n");
        assert_eq!(lines, format!("[trimmer]\r\n{KNIFE}\r\nlift = 5\r\n"));
        assert_eq!(with_knife("[keep]\r\n"), format!("[keep]\r\n\r\n[trimmer]\r\n{KNIFE}\r\n"));
    }

    #[test]
    fn a_section_of_dotted_keys_gets_another_one() {
        let expected = format!("trimmer.lift = 5 # x\ntrimmer.{KNIFE}\n[keep]\n");
        assert_eq!(with_knife("trimmer.lift = 5 # x\n[keep]\n"), expected);
        assert_eq!(with_knife("trimmer = { lift = 5 }\n"), "", "it has no place there");
        let parent = after("[rates.seconds]\nfold = 6\n", "rates.labour", "2");
        assert_eq!(parent.unwrap(), "[rates.seconds]\nfold = 6\n\n[rates]\nlabour = 2\n");
        let marked = after("\u{feff}[trimmer]\n", "unit", "\"mm\"");
        assert_eq!(marked.unwrap(), "\u{feff}unit = \"mm\"\n[trimmer]\n");
    }

    #[test]
    fn a_name_is_put_in_quotes_where_it_needs_them() {
        let text = "[finish]\n\"a.b\" = 1\na.b = 3\n";
        assert_eq!(after(text, "finish.a.b", "2").unwrap(), text.replace('3', "2"));
        assert_eq!(after(text, "finish.\"a.b\"", "2").unwrap(), text.replace('1', "2"));
        let named = after("[finish]\n", "finish.round corners", "1").unwrap();
        assert_eq!(named, "[finish]\n\"round corners\" = 1\n");
        assert!(after("[finish]\n", "finish.gr\u{f6}\u{df}e", "1").unwrap().contains("\"gr"));
        assert_eq!(
            ["", "..", "finish.", "finish"].map(|key| after("[finish]\n", key, "1")),
            [const { None }; 4]
        );
    }

    #[test]
    fn a_value_that_is_more_than_one_is_refused() {
        let text = "[trimmer]\nlift = 5 # keep\n";
        for new in ["6 # mine", "6\nknife = 3", "\"", "knife = 3", "6\n[keep]", "]"] {
            assert_eq!(after(text, "trimmer.lift", new), None, "{new}");
            assert_eq!(after(text, "trimmer.waiting", new), None, "{new}");
        }
        assert_eq!(after(text, "trimmer.lift", "[\n6,\n]").unwrap(), text.replace('5', "[\n6,\n]"));
        assert_eq!(after(text, "trimmer.lift", "").unwrap(), "[trimmer]\n");
        assert_eq!(after(text, "trimmer.waiting", " ").unwrap(), text);
    }
}
