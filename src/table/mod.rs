//! A spreadsheet file as rows of cells with exact places.
//!
//! In: the bytes of a CSV file in any of the usual habits (with or without byte order mark; lines
//! that end in LF, CR LF or CR; comma, semicolon or tab; quoted cells; blank lines; lines that begin
//! with `#` as comments). Out: a [`Table`] whose cells know their line and column. It does not know
//! what the columns mean.

mod columns;
mod cursor;
mod draft;
mod edits;
mod grid;
mod guard;
mod records;
mod row;
mod text;

pub use columns::{Columns, KnownColumn, plain};
pub use draft::{Change, Draft, changed};
pub use grid::{CellIndex, CellText, GridChange, NewColumn, NewRows, RowRange, regridded};
pub use guard::guarded;
pub use records::delimiter;
pub use row::{Cell, Row};

use crate::diagnostics::{Place, Problem, Problems, SourceText};
use std::ops::Range;

/// A file that was read.
#[derive(Clone, Copy, Debug)]
pub struct Named<'a> {
    /// Its name as the person gave it.
    pub name: &'a str,
    /// What is in it.
    pub bytes: &'a [u8],
}

impl<'a> Named<'a> {
    /// A file of this name.
    pub fn new(name: &'a str, bytes: &'a (impl AsRef<[u8]> + ?Sized)) -> Named<'a> {
        Named { name, bytes: bytes.as_ref() }
    }
}

/// A file's cells.
#[derive(Clone, Debug)]
pub struct Table {
    source: SourceText,
    /// Content of all cells, one behind the other.
    content: String,
    cells: Vec<CellPlace>,
    /// The first is the header; none has more cells than it. Blank ones count.
    rows: Vec<Range<u32>>,
    /// The bytes of each row in the text, its line's end not counted.
    lines: Vec<Range<u32>>,
    /// What stands between cells.
    delimiter: char,
    /// Whether no row was left out for a mistake.
    is_whole: bool,
}

/// Where a cell stands in the file and in the content.
#[derive(Clone, Copy, Debug)]
struct CellPlace {
    start: u32,
    end: u32,
    line: u32,
    column: u32,
    length: u32,
    /// First byte in the text, quotes counted, blanks around it not.
    from: u32,
    /// The byte behind its last.
    to: u32,
}

impl CellPlace {
    /// A stretch of the text from a cursor on, of no content; marked up to the end of its first line.
    fn of(text: &str, at: &cursor::Cursor<'_>) -> CellPlace {
        let marked = text.split(['\n', '\r']).next().unwrap_or_default();
        CellPlace {
            start: 0,
            end: 0,
            line: at.line,
            column: at.column,
            length: marked.chars().count() as u32,
            from: at.at as u32,
            to: (at.at + text.len()) as u32,
        }
    }
}

/// Reads the bytes of a file. `None` with an error where there is no table in them.
pub fn read(file_name: &str, bytes: &[u8], problems: &mut Problems) -> Option<Table> {
    let text = text::decode(file_name, bytes, problems)?;
    let source = SourceText::new(file_name, text);
    let table = records::read(text, source, problems);
    if table.rows.is_empty() {
        problems.push(
            Problem::error("table-empty", format!("{file_name} has nothing to read"))
                .help("the first line names the columns, with commas between them"),
        );
        return None;
    }
    Some(table)
}

impl Table {
    /// Finds the wanted `columns` in the header; `None` where the header names none of them.
    ///
    /// Missing, doubled and unknown columns become problems.
    pub fn columns<'a>(
        &'a self,
        wanted: &'a [KnownColumn],
        problems: &mut Problems,
    ) -> Option<Columns<'a>> {
        Columns::find(self, wanted, problems)
    }

    /// Rows below the header, blank ones counted.
    pub fn count(&self) -> usize {
        self.rows.len().saturating_sub(1)
    }

    /// Whether every row of the file is a row of the table: none was left out for a mistake.
    pub const fn is_whole(&self) -> bool {
        self.is_whole
    }

    /// Whether a row has no content.
    fn is_blank(&self, row: usize) -> bool {
        self.spots(row).iter().all(|spot| spot.start == spot.end)
    }

    fn text(&self, spot: CellPlace) -> &str {
        self.content.get(spot.start as usize..spot.end as usize).unwrap_or_default()
    }

    fn place(&self, spot: CellPlace) -> Place {
        Place {
            file: self.source.file(),
            line: spot.line as usize,
            column: spot.column as usize,
            length: spot.length as usize,
            text: self.source.line(spot.line as usize),
        }
    }

    fn spots(&self, row: usize) -> &[CellPlace] {
        let range = self.rows.get(row).cloned().unwrap_or_default();
        self.cells.get(range.start as usize..range.end as usize).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests;
