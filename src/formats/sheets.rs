//! Full sheets as they are sold.

use super::list::rows;
use crate::diagnostics::Problems;
use crate::measure::Size;
use crate::table::{KnownColumn, Named};
use std::sync::LazyLock;

/// A sheet that can be bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetFormat {
    /// Its name, unique whatever the case.
    pub name: String,
    /// Width and height.
    pub size: Size,
    /// Whether its edges are sold true.
    pub trimmed: bool,
    /// The standard that fixes it, or that there is none.
    pub source: String,
}

const COLUMNS: [KnownColumn; 5] = [
    KnownColumn::needed("name"),
    KnownColumn::needed("width"),
    KnownColumn::needed("height"),
    KnownColumn::needed("edges"),
    KnownColumn::needed("source"),
];

static SHEETS: LazyLock<Vec<SheetFormat>> = LazyLock::new(|| read(&mut Problems::new()));

/// All sheets, in the order of the table.
pub fn sheets() -> &'static [SheetFormat] {
    &SHEETS
}

fn read(problems: &mut Problems) -> Vec<SheetFormat> {
    let file = Named::new("sheets.csv", include_bytes!("sheets.csv"));
    rows(file, &COLUMNS, problems, |cells| {
        let edges = |text: &str| match text {
            "trimmed" => Some(true),
            "untrimmed" => Some(false),
            _ => None,
        };
        Some(SheetFormat {
            name: cells.text("name")?,
            size: cells.size()?,
            trimmed: cells.read("edges", edges)??,
            source: cells.text("source")?,
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn the_table_is_whole() {
        let mut problems = Problems::new();
        let all = read(&mut problems);
        assert_eq!(problems, Problems::new());
        assert_eq!(all.len(), 37);
        let unique: BTreeSet<String> = all.iter().map(|it| it.name.to_lowercase()).collect();
        assert_eq!(unique.len(), all.len());
    }
}
