//! Cells by the name of their column.

use super::columns::Columns;
use super::guard::unguarded;
use super::{CellPlace, Table};
use crate::diagnostics::{Misread, Place, Problem, Problems, Spanned};

/// One row below the header.
#[derive(Clone, Copy, Debug)]
pub struct Row<'a> {
    columns: &'a Columns<'a>,
    spots: &'a [CellPlace],
    /// Its number in the table; the header's is 0.
    pub(super) index: usize,
}

/// One cell that is not blank.
#[derive(Clone, Copy, Debug)]
pub struct Cell<'a> {
    table: &'a Table,
    spot: CellPlace,
}

impl<'a> Row<'a> {
    pub(super) fn new(columns: &'a Columns<'a>, index: usize) -> Row<'a> {
        Row { columns, spots: columns.table.spots(index), index }
    }

    /// The cell of a column; `None` where it is blank or the file has no such column.
    pub fn cell(&self, column: &str) -> Option<Cell<'a>> {
        let spot = *self.spots.get(self.columns.position(column)?)?;
        (spot.start < spot.end).then_some(Cell { table: self.columns.table, spot })
    }

    /// What `read` makes of the cell of a column: `Some(None)` where it is blank, `None` where it has a mistake.
    pub fn optional<T>(
        &self,
        column: &str,
        read: impl FnOnce(&Cell<'a>) -> Option<T>,
    ) -> Option<Option<T>> {
        match self.cell(column) {
            None => Some(None),
            Some(cell) => read(&cell).map(Some),
        }
    }

    /// The cell of a needed column; a blank one is an error.
    pub fn needed(&self, column: &str, problems: &mut Problems) -> Option<Cell<'a>> {
        let cell = self.cell(column);
        // A column that is not there was told once, above the rows.
        if cell.is_none() && self.columns.position(column).is_some() {
            problems.push(
                Problem::error("table-cell-blank", format!("{column} is blank"))
                    .at(self.blank(column).as_ref(), format!("expected a {column}"))
                    .help("every row needs it"),
            );
        }
        cell
    }

    /// Where the row begins, with its first cell marked.
    pub fn place(&self) -> Option<Place> {
        self.spots.first().map(|spot| self.columns.table.place(*spot))
    }

    /// Where a blank cell would stand: behind the last cell in a short row.
    fn blank(&self, column: &str) -> Option<Place> {
        let table = self.columns.table;
        let own = self.columns.position(column).and_then(|position| self.spots.get(position));
        let last = || {
            let last = self.spots.last()?;
            Some(CellPlace { column: last.column + last.length, length: 0, ..*last })
        };
        own.copied().or_else(last).map(|spot| table.place(spot))
    }
}

impl<'a> Cell<'a> {
    /// Its content, trimmed and without the apostrophe that guards a formula; never empty.
    pub fn text(&self) -> &'a str {
        unguarded(self.table.text(self.spot))
    }

    /// Where it stands.
    pub fn place(&self) -> Place {
        self.table.place(self.spot)
    }

    /// What is said of it, called `name`, where it cannot be read.
    pub fn misread<'b>(&self, code: &'static str, name: &'b str) -> Misread<'b> {
        Misread { code, name, place: Some(self.place()) }
    }

    /// A value read from it.
    pub fn spanned<T>(&self, value: T) -> Spanned<T> {
        Spanned { value, place: Some(self.place()) }
    }
}
