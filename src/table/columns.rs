//! The header: which column stands where.

use super::row::Row;
use super::{CellPlace, Table};
use crate::diagnostics::{Problem, Problems, listed, misspelt, nearest};

/// A column that a reader knows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KnownColumn {
    /// Its name in lower case with single blanks.
    pub name: &'static str,
    /// Whether the file must have it.
    pub needed: bool,
}

impl KnownColumn {
    /// A column that the file must have.
    pub const fn needed(name: &'static str) -> KnownColumn {
        KnownColumn { name, needed: true }
    }

    /// A column that the file may have.
    pub const fn optional(name: &'static str) -> KnownColumn {
        KnownColumn { name, needed: false }
    }
}

/// A table whose columns have been found.
#[derive(Clone, Debug)]
pub struct Columns<'a> {
    pub(super) table: &'a Table,
    /// Each wanted column's name, and its place in the rows.
    found: Vec<(&'static str, Option<usize>)>,
}

impl<'a> Columns<'a> {
    pub(super) fn find(
        table: &'a Table,
        wanted: &[KnownColumn],
        problems: &mut Problems,
    ) -> Option<Columns<'a>> {
        let header = table.spots(0);
        let names: Vec<String> = header.iter().map(|spot| plain(table.text(*spot))).collect();
        let at = |column: &KnownColumn| names.iter().position(|name| name == column.name);
        let found: Vec<_> = wanted.iter().map(|column| (column.name, at(column))).collect();
        if found.iter().all(|(_, position)| position.is_none()) {
            problems.push(no_header(table, wanted));
            return None;
        }
        tell_doubled_and_unknown(table, &names, wanted, problems);
        tell_missing(table, wanted, &found, problems);
        Some(Columns { table, found })
    }

    /// The rows below the header that are not blank.
    pub fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        let filled = (1..=self.table.count()).filter(|index| !self.table.is_blank(*index));
        filled.map(|index| Row::new(self, index))
    }

    /// Where a column stands in the rows.
    pub(super) fn position(&self, name: &str) -> Option<usize> {
        self.found.iter().find(|(known, _)| *known == name).and_then(|(_, position)| *position)
    }
}

/// The name of a column: case, underscores, hyphens and doubled blanks make no difference.
pub fn plain(name: &str) -> String {
    let words: Vec<&str> = name.split([' ', '_', '-', '\n', '\r', '\t']).collect();
    let words: Vec<&str> = words.into_iter().filter(|word| !word.is_empty()).collect();
    words.join(" ").to_lowercase()
}

fn needed(wanted: &[KnownColumn]) -> Vec<&'static str> {
    wanted.iter().filter(|column| column.needed).map(|column| column.name).collect()
}

fn no_header(table: &Table, wanted: &[KnownColumn]) -> Problem {
    let place = table.spots(0).first().map(|spot| table.place(*spot));
    Problem::error("table-header", "the first line does not name the columns")
        .at(place.as_ref(), format!("expected columns such as {}", listed(&needed(wanted))))
        .help("put a line with the column names above the rows")
}

fn tell_doubled_and_unknown(
    table: &Table,
    names: &[String],
    wanted: &[KnownColumn],
    problems: &mut Problems,
) {
    let is_known = |name: &str| wanted.iter().any(|column| column.name == name);
    for (index, (name, spot)) in names.iter().zip(table.spots(0)).enumerate() {
        let place = table.place(*spot);
        let shown = table.text(*spot);
        if name.is_empty() {
            continue;
        }
        if !is_known(name) {
            // Any other column is the person's own.
            if let Some(near) = meant(name, names, wanted) {
                problems.push(
                    Problem::warning("table-column-unknown", format!("unknown column `{shown}`"))
                        .at(Some(&place), format!("not read: did you mean `{near}`?")),
                );
            }
        } else if names[..index].contains(name) {
            problems.push(
                Problem::error("table-column-doubled", format!("column `{shown}` appears twice"))
                    .at(Some(&place), "expected each column once")
                    .help("rename or delete one of them"),
            );
        }
    }
}

/// The column that a name nearly is. For one that the file lacks and needs, a likeness will do.
fn meant(name: &str, names: &[String], wanted: &[KnownColumn]) -> Option<&'static str> {
    // A name that is taken already is no likely meaning.
    let free = || wanted.iter().filter(|column| !names.iter().any(|other| other == column.name));
    let needed = free().filter(|column| column.needed).map(|column| column.name);
    misspelt(name, free().map(|column| column.name)).or_else(|| nearest(name, needed))
}

/// The needed columns that are not there, all in one problem.
fn tell_missing(
    table: &Table,
    wanted: &[KnownColumn],
    found: &[(&'static str, Option<usize>)],
    problems: &mut Problems,
) {
    let missing: Vec<String> = wanted
        .iter()
        .zip(found)
        .filter(|(column, (_, position))| column.needed && position.is_none())
        .map(|(column, _)| format!("`{}`", column.name))
        .collect();
    if missing.is_empty() {
        return;
    }
    let noun = if missing.len() == 1 { "column" } else { "columns" };
    let place = table.spots(0).last().map(|spot| {
        let end = spot.column + spot.length;
        table.place(CellPlace { column: end, length: 0, ..*spot })
    });
    problems.push(
        Problem::error("table-column-missing", format!("no {noun} {}", listed(&missing)))
            .at(place.as_ref(), format!("expected {noun} {}", listed(&missing)))
            .help(format!("needed columns: {}", listed(&needed(wanted)))),
    );
}
