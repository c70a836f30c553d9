//! Text to cells. The reader is fed by hand, so that every cell's line and column is exact.

use super::cursor::Cursor;
use super::{CellPlace, Table};
use crate::diagnostics::{Place, Problem, Problems, SourceText, counted};
use csv_core::{ReadFieldResult, Reader, ReaderBuilder};

/// More columns than any table of the trade has.
const MOST_COLUMNS: usize = 200;

/// More rows than any order or drawer has.
const MOST_ROWS: usize = 100_000;

/// More characters than any name or note has.
const LONGEST_CELL: usize = 10_000;

/// What may stand between cells, the rarest first, and what several of it are called.
const SEPARATORS: [(char, &str); 3] = [('\t', "tabs"), (';', "semicolons"), (',', "commas")];

/// All rows of `text`, the header first.
pub(super) fn read(text: &str, source: SourceText, problems: &mut Problems) -> Table {
    let delimiter = delimiter(text);
    let reader = ReaderBuilder::new().delimiter(delimiter as u8).build();
    let table = Table {
        source,
        content: String::new(),
        cells: Vec::new(),
        rows: Vec::new(),
        lines: Vec::new(),
        delimiter,
        is_whole: true,
    };
    let (cursor, buffer) = (Cursor::new(text), vec![0; 1024]);
    let mut records = Records {
        reader,
        delimiter,
        cursor,
        buffer,
        shifted: false,
        filled: 0,
        otherwise: None,
        table,
    };
    while records.next(problems) {}
    problems.extend(records.separated_otherwise());
    records.table
}

/// The separator that the header line holds most of; a comma where it holds none.
pub fn delimiter(text: &str) -> char {
    let mut cursor = Cursor::new(text);
    cursor.skip_between(|_, _| ());
    let header = cursor.rest().lines().next().unwrap_or_default();
    separator(header.split('\r').next().unwrap_or_default()).map_or(',', |(most, _)| most)
}

/// The separator that stands in a line most often, quotes left out, with its name; `None` where none does.
fn separator(line: &str) -> Option<(char, &'static str)> {
    let unquoted = || line.split('"').step_by(2);
    let count =
        |separator| -> usize { unquoted().map(|part| part.matches(separator).count()).sum() };
    // The last of equals wins.
    let most = SEPARATORS.into_iter().max_by_key(|(separator, _)| count(*separator));
    most.filter(|(separator, _)| count(*separator) > 0)
}

struct Records<'a> {
    reader: Reader,
    delimiter: char,
    cursor: Cursor<'a>,
    /// Where the reader puts a cell's content.
    buffer: Vec<u8>,
    /// Whether the cells of this row are not where they belong, or not all of them can be read.
    shifted: bool,
    /// Rows with content, the header too.
    filled: usize,
    /// The first row that is separated otherwise than the header, by what, and how many there are.
    otherwise: Option<(CellPlace, &'static str, u64)>,
    table: Table,
}

/// One cell as it stands in the file, and its content.
struct Field<'a> {
    /// At the first character.
    from: Cursor<'a>,
    /// With quotes and surrounding blanks, without the separator behind it.
    raw: &'a str,
    content: &'a [u8],
    ends_record: bool,
}

impl<'a> Records<'a> {
    /// Reads one record; whether there was one.
    fn next(&mut self, problems: &mut Problems) -> bool {
        self.skip_between(problems);
        if self.cursor.rest().is_empty() {
            return false;
        }
        if self.filled > MOST_ROWS {
            self.table.is_whole = false;
            problems.push(self.too_many_rows());
            return false;
        }
        let (first, start) = (self.table.cells.len(), self.cursor.at);
        self.shifted = false;
        for number in 1.. {
            let mut buffer = std::mem::take(&mut self.buffer);
            let field = self.field(&mut buffer);
            let ends_record = field.ends_record;
            self.keep(&field, number, problems);
            self.buffer = buffer;
            if ends_record {
                break;
            }
        }
        self.close_row(first, start);
        true
    }

    /// Makes a row of the cells from `first` on, unless one mistake, told already, has moved them: what
    /// they seem to say would be told as more mistakes. Blank rows above the header are none.
    fn close_row(&mut self, first: usize, start: usize) {
        let end = self.cursor.read().trim_end_matches(['\n', '\r']).len().max(start);
        self.compare_separators(first);
        let Table { cells, rows, lines, is_whole, .. } = &mut self.table;
        let blank = cells[first..].iter().all(|cell| cell.start == cell.end);
        *is_whole &= !self.shifted;
        self.filled += usize::from(!blank);
        match if rows.is_empty() { blank } else { self.shifted } {
            true => cells.truncate(first),
            false => {
                rows.push(first as u32..cells.len() as u32);
                lines.push(start as u32..end as u32);
            }
        }
    }

    /// Notes a row that is one long cell because something else stands between its cells than in the header.
    fn compare_separators(&mut self, first: usize) {
        let Table { cells, .. } = &self.table;
        let [spot] = cells[first..] else { return };
        if self.shifted || self.table.spots(0).len() < 2 {
            return;
        }
        let raw = &self.cursor.read()[spot.from as usize..spot.to as usize];
        if let Some((_, name)) = separator(raw) {
            let (_, _, rows) = self.otherwise.get_or_insert((spot, name, 0));
            *rows += 1;
            self.shifted = true;
        }
    }

    /// The rows that are separated otherwise than the header, all in one problem.
    fn separated_otherwise(&self) -> Option<Problem> {
        let (spot, name, rows) = self.otherwise?;
        let own = SEPARATORS.into_iter().find(|(separator, _)| *separator == self.delimiter);
        let own = own.map_or("commas", |(_, name)| name);
        let more = match rows - 1 {
            0 => String::new(),
            more => format!(", here and in {}", counted(more, "more row")),
        };
        let title = format!("a row with {name} below a header with {own}");
        Some(
            Problem::error("table-separator", title)
                .at(
                    Some(&self.table.place(spot)),
                    format!("expected {own} between the cells{more}"),
                )
                .help("use the same separator in all lines"),
        )
    }

    /// Passes blank lines and comments; a comment that could be a row is told.
    fn skip_between(&mut self, problems: &mut Problems) {
        let Records { cursor, table, delimiter, .. } = self;
        let columns = table.spots(0).len();
        cursor.skip_between(|at, line| {
            let starts_a_name = line[1..].starts_with(char::is_alphanumeric);
            if starts_a_name && columns > 1 && line.matches(*delimiter).count() + 1 == columns {
                let place = table.place(CellPlace::of(line, &at));
                problems.push(
                    Problem::warning("table-comment", "a comment that could be a row")
                        .at(Some(&place), "not read, because it begins with #")
                        .help("if it is a row, put its first cell in quotes; if a comment, put a space after the #"),
                );
            }
        });
    }

    /// The next cell, and the separator behind it passed.
    fn field<'b>(&mut self, buffer: &'b mut Vec<u8>) -> Field<'b>
    where
        'a: 'b,
    {
        let from = self.cursor;
        let (mut read, mut filled, mut ends_file) = (0, 0, false);
        let ends_record = loop {
            let rest = &from.rest().as_bytes()[read..];
            let (result, taken, written) = self.reader.read_field(rest, &mut buffer[filled..]);
            ends_file = ends_file || rest.is_empty();
            read += taken;
            filled += written;
            match result {
                ReadFieldResult::InputEmpty => {}
                ReadFieldResult::OutputFull => buffer.resize(2 * buffer.len(), 0),
                ReadFieldResult::Field { record_end } => break record_end,
                ReadFieldResult::End => break true,
            }
        };
        self.cursor.advance(read);
        let raw = &from.rest()[..read];
        let raw = match (ends_file, ends_record) {
            (true, _) => raw,
            (false, true) => raw.strip_suffix(['\n', '\r']).unwrap_or(raw),
            (false, false) => raw.strip_suffix(self.delimiter).unwrap_or(raw),
        };
        Field { from, raw, content: &buffer[..filled], ends_record }
    }

    /// Adds a cell to the table, or tells that it is one too many.
    fn keep(&mut self, field: &Field<'_>, number: usize, problems: &mut Problems) {
        let header = self.table.spots(0).len();
        let spot = self.spot(field);
        if field.raw.starts_with('"') {
            self.shifted |= field.behind_quotes().is_none();
            problems.extend(field.quote_problem(&self.table.place(spot)));
        }
        if number <= if header == 0 { MOST_COLUMNS } else { header } {
            let mut text = field.text();
            if let Some((end, _)) = text.char_indices().nth(LONGEST_CELL) {
                problems.push(too_long(&self.table.place(spot)));
                self.shifted = true;
                text = &text[..end];
            }
            self.table.content.push_str(text);
            self.table.cells.push(CellPlace { end: spot.start + text.len() as u32, ..spot });
        } else if !self.shifted && !field.text().is_empty() {
            self.shifted = true;
            problems.push(overlong(header, &self.table.place(spot)));
        }
    }

    /// The first row beyond the most.
    fn too_many_rows(&self) -> Problem {
        let line = self.cursor.rest().lines().next().unwrap_or_default();
        let place = self.table.place(CellPlace::of(line, &self.cursor));
        Problem::error("table-rows", "the file has too many rows")
            .at(Some(&place), format!("expected at most {MOST_ROWS} rows"))
            .help("split it into several files")
    }

    /// Where the field stands, and where its content will.
    fn spot(&self, field: &Field<'_>) -> CellPlace {
        let trimmed = field.raw.trim_start();
        let mut from = field.from;
        from.advance(field.raw.len() - trimmed.len());
        let start = self.table.content.len();
        let end = start + field.text().len();
        CellPlace {
            start: start as u32,
            end: end as u32,
            ..CellPlace::of(trimmed.trim_end(), &from)
        }
    }
}

/// A cell that holds more than a name or note does.
fn too_long(place: &Place) -> Problem {
    Problem::error("table-cell-long", "a cell is too long")
        .at(Some(place), format!("expected at most {LONGEST_CELL} characters"))
        .help("shorten it, or check whether a quote before it was not closed")
}

/// A cell beyond the header's last, or beyond the most columns in the header itself.
fn overlong(header: usize, place: &Place) -> Problem {
    match header {
        0 => Problem::error("table-header", "the header has too many columns")
            .at(Some(place), format!("expected at most {MOST_COLUMNS} columns")),
        _ => Problem::error("table-row", "a row is longer than the header")
            .at(Some(place), format!("the header has {}", counted(header as u64, "column")))
            .help("put quotes around a cell that holds a comma, semicolon or tab itself"),
    }
}

impl Field<'_> {
    fn text(&self) -> &str {
        std::str::from_utf8(self.content).unwrap_or_default().trim()
    }

    /// What follows the closing quote of a quoted cell; `None` where no quote closes it.
    fn behind_quotes(&self) -> Option<&str> {
        let mut rest = self.raw.strip_prefix('"').unwrap_or(self.raw);
        loop {
            let (_, after) = rest.split_once('"')?;
            match after.strip_prefix('"') {
                Some(after) => rest = after,
                None => return Some(after),
            }
        }
    }

    /// A quote that never closes, or text behind the one that does.
    fn quote_problem(&self, place: &Place) -> Option<Problem> {
        let (title, label) = match self.behind_quotes() {
            None => ("a quoted cell never ends", "the quote that opens here is never closed"),
            Some(behind) if behind.trim().is_empty() => return None,
            Some(_) => ("text after a closing quote", "expected the cell to end at the quote"),
        };
        Some(
            Problem::error("table-quote", title).at(Some(place), label).help(
                "inside a quoted cell, write an inch mark or quote twice: \"8 1/2\"\" wide\"",
            ),
        )
    }
}
