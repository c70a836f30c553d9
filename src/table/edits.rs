//! Changes to a table's text by the place of its cells; all else in it stays as it is.

use super::draft::Change;
use super::guard::guarded;
use super::{CellPlace, Table};
use std::collections::BTreeMap;
use std::ops::Range;

/// Changes to the text of a table, as they are collected. Row 0 is the header.
#[derive(Debug)]
pub(super) struct Edits<'a> {
    pub table: &'a Table,
    /// The text that the table was read from, without its byte order mark.
    text: &'a str,
    /// Bytes before the text that the table does not count.
    skipped: usize,
    /// Cells that were not there, by their row and position in it.
    beyond: BTreeMap<usize, BTreeMap<usize, String>>,
    below: String,
    changes: Vec<Change>,
}

impl<'a> Edits<'a> {
    /// No changes yet to this text.
    pub fn new(table: &'a Table, text: &'a str) -> Edits<'a> {
        let plain = text.strip_prefix('\u{feff}').unwrap_or(text);
        Edits {
            table,
            text: plain,
            skipped: text.len() - plain.len(),
            beyond: BTreeMap::new(),
            below: String::new(),
            changes: Vec::new(),
        }
    }

    /// Columns that the file has.
    pub fn width(&self) -> usize {
        self.table.spots(0).len()
    }

    /// Puts a text into a cell.
    pub fn set(&mut self, row: usize, at: usize, text: &str) {
        match self.table.spots(row).get(at) {
            Some(spot) => {
                let new = match self.table.spots(row).len() {
                    1 => self.only_cell(text),
                    _ => self.cell(text, at == 0),
                };
                let from = match new.starts_with('"') {
                    true => self.begin(spot.from as usize),
                    false => spot.from as usize,
                };
                self.replace(from..spot.to as usize, new);
            }
            None => {
                self.beyond.entry(row).or_default().insert(at, text.to_owned());
            }
        }
    }

    /// Takes a row out, with its line's end.
    pub fn remove(&mut self, row: usize) {
        let range = self.line(row);
        let rest = &self.text[range.end..];
        let end = ["\r\n", "\n", "\r"].into_iter().find(|end| rest.starts_with(*end));
        self.replace(range.start..range.end + end.map_or(0, str::len), String::new());
    }

    /// Adds rows in front of another one.
    pub fn insert<'b>(&mut self, before: usize, rows: impl Iterator<Item = &'b [String]>) {
        let at = self.line(before).start;
        let lines: String = rows.map(|cells| self.written(cells)).collect();
        self.replace(at..at, lines);
    }

    /// Adds a row at the end.
    pub fn append(&mut self, cells: &[String]) {
        let line = self.written(cells);
        self.below.push_str(&line);
    }

    /// All changes, in the order of their places.
    pub fn finish(mut self) -> Vec<Change> {
        for (row, cells) in std::mem::take(&mut self.beyond) {
            self.extend(row, &cells);
        }
        if !self.below.is_empty() {
            let ended = self.text.is_empty() || self.text.ends_with(['\n', '\r']);
            let start = if ended { "" } else { self.line_end() };
            let below = format!("{start}{}", self.below);
            self.replace(self.text.len()..self.text.len(), below);
        }
        self.changes.sort_by_key(|change| change.at);
        self.changes
    }

    /// Adds cells behind the last one of a row; those between are blank.
    fn extend(&mut self, row: usize, cells: &BTreeMap<usize, String>) {
        let spots = self.table.spots(row);
        let Some(last) = cells.keys().next_back().copied() else { return };
        let behind = spots.last().map_or(self.line(row).start, |spot: &CellPlace| spot.to as usize);
        let mut text = String::new();
        for at in spots.len()..=last {
            text.push(self.table.delimiter);
            if let Some(cell) = cells.get(&at) {
                text.push_str(&self.cell(cell, false));
            }
        }
        self.replace(behind..behind, text);
    }

    fn replace(&mut self, range: Range<usize>, new: String) {
        let at = range.start + self.skipped;
        let old = self.text[range].to_owned();
        if old != new {
            self.changes.push(Change { at, old, new });
        }
    }

    /// Where a cell begins, the blanks before it counted: quotes count only there.
    fn begin(&self, from: usize) -> usize {
        let delimiter = self.table.delimiter;
        let is_blank = |letter: char| {
            letter.is_whitespace() && letter != delimiter && !matches!(letter, '\n' | '\r')
        };
        self.text[..from].trim_end_matches(is_blank).len()
    }

    fn line(&self, row: usize) -> Range<usize> {
        let line = self.table.lines.get(row).cloned().unwrap_or_default();
        line.start as usize..line.end as usize
    }

    /// How the file ends its lines.
    fn line_end(&self) -> &'static str {
        let is_end = |letter| matches!(letter, '\n' | '\r');
        let header = self.line(0).end;
        // Where the header is the last line, those above it end as the next ones shall.
        let above = self.text[..header].find(is_end).unwrap_or(header);
        let first = if self.text[header..].is_empty() { above } else { header };
        let ends = ["\r\n", "\n", "\r"];
        ends.into_iter().find(|end| self.text[first..].starts_with(end)).unwrap_or("\n")
    }

    /// A row as it stands in the file.
    fn written(&self, cells: &[String]) -> String {
        let cells: Vec<String> = match cells {
            [only] => vec![self.only_cell(only)],
            _ => cells.iter().enumerate().map(|(at, text)| self.cell(text, at == 0)).collect(),
        };
        cells.join(&self.table.delimiter.to_string()) + self.line_end()
    }

    /// The one cell of a row. A line with nothing in it is no row.
    fn only_cell(&self, text: &str) -> String {
        match text.trim().is_empty() {
            true => "\"\"".to_owned(),
            false => self.cell(text, true),
        }
    }

    /// A cell as it stands in the file: harmless, and in quotes where it would be misread without.
    fn cell(&self, text: &str, first: bool) -> String {
        // Blanks around it are not read.
        let text = guarded(text.trim());
        // A row of one cell that holds another separator would pass for one of a file that is separated so.
        let special = [',', ';', '\t', '"', '\n', '\r'];
        let odd = text.contains(special) || (first && text.starts_with('#'));
        match odd {
            true => format!("\"{}\"", text.replace('"', "\"\"")),
            false => text,
        }
    }
}
