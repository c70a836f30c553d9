//! Places in a text by byte ranges.

use super::Place;
use std::cell::RefCell;
use std::ops::Range;
use std::sync::Arc;

/// A file's text, cut into lines at LF, CR LF or CR.
#[derive(Clone, Debug)]
pub struct SourceText {
    file: Arc<str>,
    text: String,
    /// Byte at which each line begins.
    starts: Vec<usize>,
    /// The line asked for last: the places in it share one copy of its text.
    last: RefCell<(usize, Arc<str>)>,
}

impl SourceText {
    /// The lines of `text`.
    pub fn new(file: &str, text: &str) -> SourceText {
        let bytes = text.as_bytes();
        let ends_line = |at: &usize| match bytes[*at] {
            b'\n' => true,
            b'\r' => bytes.get(at + 1) != Some(&b'\n'),
            _ => false,
        };
        let starts = (0..bytes.len()).filter(ends_line).map(|at| at + 1);
        SourceText {
            file: file.into(),
            text: text.to_owned(),
            starts: std::iter::once(0).chain(starts).collect(),
            last: RefCell::default(),
        }
    }

    /// The file as the person named it.
    pub fn file(&self) -> Arc<str> {
        Arc::clone(&self.file)
    }

    /// The text of a line, counted from 1, without its end; empty beyond the last.
    pub fn line(&self, line: usize) -> Arc<str> {
        let mut last = self.last.borrow_mut();
        if last.0 != line {
            *last = (line, self.slice(line).into());
        }
        Arc::clone(&last.1)
    }

    fn slice(&self, line: usize) -> &str {
        let Some(start) = line.checked_sub(1).and_then(|index| self.starts.get(index)) else {
            return "";
        };
        let end = self.starts.get(line).copied().unwrap_or(self.text.len());
        self.text[*start..end].trim_end_matches(['\n', '\r'])
    }

    /// How many lines there are, at least 1.
    pub fn count(&self) -> usize {
        self.starts.len()
    }

    /// Where the bytes `range` of the text stand; marked up to the end of their first line.
    pub fn place(&self, range: Range<usize>) -> Place {
        let index = self.starts.partition_point(|start| *start <= range.start).saturating_sub(1);
        let text = self.line(index + 1);
        let from = floor(&text, range.start - self.starts[index]);
        let to = floor(&text, range.end.saturating_sub(self.starts[index])).max(from);
        Place {
            file: self.file(),
            line: index + 1,
            column: text[..from].chars().count() + 1,
            length: text[from..to].chars().count(),
            text,
        }
    }
}

/// The last character boundary at or before `at`.
fn floor(text: &str, at: usize) -> usize {
    (0..=at.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "unit = \"in\"\r\nn\u{e9}xt\rlast\n";

    fn marked(range: Range<usize>) -> (usize, usize, String) {
        let place = SourceText::new("workshop.toml", TEXT).place(range);
        (place.line, place.column, place.marked())
    }

    #[test]
    fn lines_end_three_ways() {
        let source = SourceText::new("workshop.toml", TEXT);
        assert_eq!(source.count(), 4);
        assert_eq!(&*source.line(2), "n\u{e9}xt");
        assert_eq!(&*source.line(4), "");
        assert_eq!(&*source.line(5), "");
        assert_eq!(&*source.line(0), "");
    }

    #[test]
    fn columns_count_characters() {
        assert_eq!(marked(7..11), (1, 8, "\"in\"".to_owned()));
        assert_eq!(marked(16..18), (2, 3, "xt".to_owned()));
        assert_eq!(marked(16..22), (2, 3, "xt".to_owned()));
        assert_eq!(marked(19..23), (3, 1, "last".to_owned()));
        assert_eq!(marked(24..24), (4, 1, String::new()));
        assert_eq!(marked(90..95), (4, 1, String::new()));
    }
}
