//! Reading the tables of this folder. Each is part of the program, and a test proves it free of problems.

use crate::diagnostics::Problems;
use crate::measure::{Length, LengthStyle, Size, Unit, Weight};
use crate::table::{self, KnownColumn, Named, Row};

/// What bare lengths in the tables would be; none is bare.
pub(super) const STYLE: LengthStyle = LengthStyle { unit: Unit::Inch, graduation: Length::ZERO };

/// The rows of a table, each as `make` reads it; `None` leaves a row with mistakes out.
pub(super) fn rows<T>(
    file: Named,
    columns: &[KnownColumn],
    problems: &mut Problems,
    make: impl Fn(&mut Cells<'_, '_>) -> Option<T>,
) -> Vec<T> {
    let table = table::read(file.name, file.bytes, problems);
    let columns = table.as_ref().and_then(|table| table.columns(columns, problems));
    let Some(columns) = columns else { return Vec::new() };
    columns.rows().filter_map(|row| make(&mut Cells { row, problems })).collect()
}

/// The cells of a row.
pub(super) struct Cells<'a, 'b> {
    row: Row<'a>,
    problems: &'b mut Problems,
}

impl Cells<'_, '_> {
    /// A text that has to be there.
    pub fn text(&mut self, column: &'static str) -> Option<String> {
        Some(self.row.needed(column, self.problems)?.text().to_owned())
    }

    /// A length that has to be there.
    pub fn length(&mut self, column: &'static str) -> Option<Length> {
        let cell = self.row.needed(column, self.problems)?;
        Length::parse(cell.text(), STYLE.unit)
            .map_err(|error| {
                self.problems.push(cell.misread("order-size", column).length(error, &STYLE));
            })
            .ok()
    }

    /// Width and height.
    pub fn size(&mut self) -> Option<Size> {
        Some(Size::new(self.length("width")?, self.length("height")?))
    }

    /// What `read` makes of a cell that may be blank: `Some(None)` where it is.
    pub fn read<T>(
        &mut self,
        column: &'static str,
        read: impl Fn(&str) -> Option<T>,
    ) -> Option<Option<T>> {
        self.row.optional(column, |cell| {
            let value = read(cell.text());
            if value.is_none() {
                let misread = cell.misread("order-size", column);
                self.problems.push(misread.problem("cannot be read", "expected another form"));
            }
            value
        })
    }
}

/// A length of a table.
pub(super) fn length(text: &str) -> Option<Length> {
    Length::parse(text, STYLE.unit).ok()
}

/// Weights joined by `|`.
pub(super) fn weights(text: &str) -> Option<Vec<Weight>> {
    text.split('|').map(Weight::parse).collect()
}

/// The name as it is compared: case and doubled blanks make no difference.
pub fn plain(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}
