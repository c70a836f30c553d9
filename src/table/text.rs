//! Bytes to text, or why they are none.

use crate::diagnostics::{Place, Problem, Problems};

/// Largest file that is read. Orders and drawers of this trade are a thousand times smaller.
pub(super) const LARGEST: usize = 16 << 20;

/// The text of a file, without its byte order mark; `None` with an error where it is no text.
pub(super) fn decode<'a>(file: &str, bytes: &'a [u8], problems: &mut Problems) -> Option<&'a str> {
    let content = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let problem = if bytes.len() > LARGEST {
        Problem::error("table-size", format!("{file} is larger than 16 MiB"))
            .help("split it into several files")
    } else if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        Problem::error("table-encoding", format!("{file} is written in UTF-16"))
            .help("save it from the spreadsheet as CSV in UTF-8")
    } else if bytes.contains(&0) || bytes.starts_with(b"PK\x03\x04") {
        binary(file, bytes)
    } else {
        match std::str::from_utf8(content) {
            Ok(text) => return Some(text),
            Err(error) => not_utf8(file, content, error.valid_up_to()),
        }
    };
    problems.push(problem);
    None
}

fn binary(file: &str, bytes: &[u8]) -> Problem {
    let problem = Problem::error("table-binary", format!("{file} is not a text file"));
    match bytes.starts_with(b"PK\x03\x04") {
        true => problem
            .help("it looks like a spreadsheet's own format: save it from there as CSV in UTF-8"),
        false => problem.help("a table is plain text, one row a line: save it as CSV in UTF-8"),
    }
}

/// Marks the first character that is not UTF-8.
fn not_utf8(file: &str, bytes: &[u8], at: usize) -> Problem {
    let is_end = |byte: &u8| matches!(byte, b'\n' | b'\r');
    let (before, after) = bytes.split_at(at);
    let start = before.iter().rposition(is_end).map_or(0, |end| end + 1);
    let end = after.iter().position(is_end).map_or(bytes.len(), |end| at + end);
    let breaks = String::from_utf8_lossy(before).replace("\r\n", "\n");
    let place = Place {
        file: file.into(),
        line: breaks.matches(['\n', '\r']).count() + 1,
        column: String::from_utf8_lossy(&bytes[start..at]).chars().count() + 1,
        length: 1,
        text: String::from_utf8_lossy(&bytes[start..end]).into(),
    };
    Problem::error("table-encoding", format!("{file} is not written in UTF-8"))
        .at(Some(&place), "not a UTF-8 character")
        .help("save it from the spreadsheet as CSV in UTF-8")
}
