//! Line and column while a text is read from front to back.

/// A position in a text.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cursor<'a> {
    text: &'a str,
    /// Bytes read.
    pub at: usize,
    /// Line, counted from 1.
    pub line: u32,
    /// Column, counted from 1 in characters.
    pub column: u32,
}

impl<'a> Cursor<'a> {
    /// The start of `text`.
    pub fn new(text: &'a str) -> Cursor<'a> {
        Cursor { text, at: 0, line: 1, column: 1 }
    }

    /// What is read.
    pub fn read(&self) -> &'a str {
        &self.text[..self.at]
    }

    /// What is not read yet.
    pub fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }

    /// Goes on by so many bytes. A CR LF is one line's end, wherever it is divided.
    pub fn advance(&mut self, bytes: usize) {
        let end = self.at + bytes;
        for (offset, letter) in self.text[self.at..end].char_indices() {
            let next = self.text.as_bytes().get(self.at + offset + 1);
            match letter {
                '\n' => self.next_line(),
                '\r' if next != Some(&b'\n') => self.next_line(),
                _ => self.column += 1,
            }
        }
        self.at = end;
    }

    /// Goes past blank lines and comments, to the start of a record or the end of the text.
    pub fn skip_between(&mut self, mut comment: impl FnMut(Cursor<'a>, &'a str)) {
        loop {
            let rest = self.rest();
            let line = &rest[..rest.find(['\n', '\r']).unwrap_or(rest.len())];
            if line.starts_with('#') {
                comment(*self, line);
                self.advance(line.len());
            } else if rest.starts_with(['\n', '\r']) {
                self.advance(1);
            } else {
                return;
            }
        }
    }

    fn next_line(&mut self) {
        self.line += 1;
        self.column = 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_divided_line_end_counts_once() {
        let mut cursor = Cursor::new("a\r\nb\rc\n\u{e9}d");
        let mut seen = Vec::new();
        for step in [1, 1, 1, 1, 1, 1, 1, 2] {
            cursor.advance(step);
            seen.push((cursor.line, cursor.column));
        }
        assert_eq!(seen, [(1, 2), (1, 3), (2, 1), (2, 2), (3, 1), (3, 2), (4, 1), (4, 2)]);
        assert_eq!(cursor.rest(), "d");
    }

    #[test]
    fn blank_lines_and_comments_are_passed() {
        let mut comments = Vec::new();
        let mut cursor = Cursor::new("\r\n# one\n\n#two\rrow");
        cursor.skip_between(|_, line| comments.push(line));
        assert_eq!((cursor.rest(), cursor.line, cursor.column), ("row", 5, 1));
        assert_eq!(comments, ["# one", "#two"]);
    }
}
