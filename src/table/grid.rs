//! All cells of a table by their place, the person's own columns too, and changes to them.

use super::draft::{Change, changed};
use super::edits::Edits;
use super::guard::unguarded;
use super::{Table, read};
use crate::diagnostics::Problems;
use serde::Deserialize;
use std::collections::BTreeMap;

/// The place of a cell in a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CellIndex {
    /// Its row; the header's is 0.
    pub row: usize,
    /// Its place in the row, from 0.
    pub column: usize,
}

/// A change to the rows below the header, which are counted from 0.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum GridChange {
    /// A cell gets another text.
    Set(CellText),
    /// Rows are added in front of another one, or behind the last.
    Insert(NewRows),
    /// Rows are taken out.
    Remove(RowRange),
    /// A column is added behind the last.
    AddColumn(NewColumn),
}

/// What a cell gets.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CellText {
    /// Its row.
    pub row: usize,
    /// Its column.
    pub column: usize,
    /// Its new text.
    pub text: String,
}

/// Rows that are added.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NewRows {
    /// The row in front of which they come.
    pub row: usize,
    /// Their cells.
    pub rows: Vec<Vec<String>>,
}

/// Rows that follow each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RowRange {
    /// The first.
    pub row: usize,
    /// How many there are.
    pub count: usize,
}

/// A column that is added.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NewColumn {
    /// Its name.
    pub name: String,
}

impl Table {
    /// The texts of all cells, row by row, the header first; rows may be shorter than the header.
    pub fn texts(&self) -> Vec<Vec<String>> {
        let row = |row: usize| {
            self.spots(row).iter().map(|spot| unguarded(self.text(*spot)).to_owned()).collect()
        };
        (0..self.rows.len()).map(row).collect()
    }

    /// The cell that begins at a place of the file, or stands there; `None` where none does.
    pub fn cell_at(&self, line: usize, column: usize) -> Option<CellIndex> {
        (0..self.rows.len()).find_map(|row| {
            let spots = self.spots(row);
            // A blank cell would stand behind the last one of its row.
            let is_on_line = |line: usize| spots.iter().any(|spot| spot.line as usize == line);
            if !is_on_line(line) {
                return None;
            }
            let begins = |spot: &super::CellPlace| {
                (spot.line as usize, spot.column as usize) <= (line, column)
            };
            let at = spots.iter().rposition(begins)?;
            Some(CellIndex { row, column: at })
        })
    }
}

/// Most changes at once but for cells that are set: each of them reads the table anew.
const MOST_CHANGES: usize = 200;

/// The text of a file after all changes, one after the other; `None` where it is no table, has no such row or column,
/// or there are too many changes.
pub fn regridded(name: &str, text: &str, all: &[GridChange]) -> Option<String> {
    if all.iter().filter(|it| !matches!(it, GridChange::Set(_))).count() > MOST_CHANGES {
        return None;
    }
    let mut text = text.to_owned();
    let mut rest = all;
    while let Some(first) = rest.first() {
        // Cells that are set one after the other do not move each other.
        let sets = rest.iter().take_while(|it| matches!(it, GridChange::Set(_))).count();
        let (now, later) = rest.split_at(sets.max(1));
        let table = read(name, text.as_bytes(), &mut Problems::new())?;
        let changes = match first {
            GridChange::Set(_) => set(&table, &text, now)?,
            other => one(&table, &text, other)?,
        };
        text = changed(&text, &changes)?;
        rest = later;
    }
    Some(text)
}

/// Cells of the same table; what is set last counts.
fn set(table: &Table, text: &str, changes: &[GridChange]) -> Option<Vec<Change>> {
    let mut cells = BTreeMap::new();
    for change in changes {
        if let GridChange::Set(CellText { row, column, text }) = change {
            cells.insert((*row, *column), text.as_str());
        }
    }
    let mut edits = Edits::new(table, text);
    let mut new: Vec<Vec<String>> = Vec::new();
    for ((row, column), text) in cells {
        if row < table.count() && column < edits.width() {
            edits.set(row + 1, column, text);
            continue;
        }
        // Behind the last row, where it may be the first cell of a new one.
        if row == table.count() + new.len() {
            new.push(filled(&[], edits.width()));
        }
        let cells = new.get_mut(row.checked_sub(table.count())?)?;
        text.clone_into(cells.get_mut(column)?);
    }
    new.iter().for_each(|cells| edits.append(cells));
    Some(edits.finish())
}

fn one(table: &Table, text: &str, change: &GridChange) -> Option<Vec<Change>> {
    let mut edits = Edits::new(table, text);
    match change {
        GridChange::Set(_) => return None,
        GridChange::Insert(NewRows { row, rows }) => {
            let width = edits.width();
            let filled: Vec<Vec<String>> = rows.iter().map(|cells| filled(cells, width)).collect();
            match *row < table.count() {
                true => edits.insert(row + 1, filled.iter().map(Vec::as_slice)),
                false => filled.iter().for_each(|cells| edits.append(cells)),
            }
        }
        GridChange::Remove(RowRange { row, count }) => {
            let rows = *row..row.saturating_add(*count).min(table.count());
            rows.for_each(|row| edits.remove(row + 1));
        }
        GridChange::AddColumn(NewColumn { name }) => edits.set(0, edits.width(), name),
    }
    Some(edits.finish())
}

/// A row with a cell in each column.
fn filled(cells: &[String], width: usize) -> Vec<String> {
    let mut cells = cells.to_vec();
    cells.resize(cells.len().max(width), String::new());
    cells
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# mine\nline;my own;count\na;\"x; y\";3\n\n# two\nb;;4\n";

    fn after(change: &str) -> String {
        let changes: Vec<GridChange> = serde_json::from_str(change).unwrap();
        regridded("a.csv", TEXT, &changes).unwrap()
    }

    #[test]
    fn cells_change_and_nothing_else() {
        let one = r#"[{"set":{"row":0,"column":2,"text":"12"}},{"set":{"row":1,"column":1,"text":"-1; 2"}}]"#;
        let expected = TEXT.replace(";3", ";12").replace("b;;", "b;\"'-1; 2\";");
        assert_eq!(after(one), expected);
        let own =
            r#"[{"set":{"row":2,"column":0,"text":"c"}},{"set":{"row":2,"column":2,"text":"5"}}]"#;
        assert_eq!(after(own), format!("{TEXT}c;;5\n"));
    }

    /// Quotes behind a blank would be text.
    #[test]
    fn a_cell_behind_blanks_is_put_in_quotes() {
        let changes = r##"[{"set":{"row":0,"column":1,"text":"x; y"}},{"set":{"row":0,"column":0,"text":"#1"}}]"##;
        let changes: Vec<GridChange> = serde_json::from_str(changes).unwrap();
        let text = "line; card\n  a;\t b \n";
        let new = regridded("a.csv", text, &changes).unwrap();
        assert_eq!(new, "line; card\n\"#1\";\"x; y\" \n");
        let table = read("a.csv", new.as_bytes(), &mut Problems::new()).unwrap();
        assert_eq!(table.texts()[1], ["#1", "x; y"]);
    }

    #[test]
    fn a_cell_that_holds_another_separator_stays_one() {
        let set = |text: &str| {
            let cell = CellText { row: 0, column: 0, text: text.to_owned() };
            regridded("a.csv", "line;card\na\n", &[GridChange::Set(cell)]).unwrap()
        };
        assert_eq!(set("x, y"), "line;card\n\"x, y\"\n");
        assert_eq!(set("x\ty"), "line;card\n\"x\ty\"\n");
        assert_eq!(set("x y"), "line;card\nx y\n");
    }

    #[test]
    fn rows_come_and_go() {
        let insert = r##"[{"insert":{"row":1,"rows":[["#c"],["d","e","f"]]}}]"##;
        assert_eq!(after(insert), TEXT.replace("b;;4", "\"#c\";;\nd;e;f\nb;;4"));
        let last = r#"[{"insert":{"row":2,"rows":[["c"]]}},{"remove":{"row":0,"count":2}}]"#;
        assert_eq!(after(last), "# mine\nline;my own;count\n\n# two\nc;;\n");
        assert_eq!(after(r#"[{"remove":{"row":5,"count":1}}]"#), TEXT);
    }

    /// A row keeps its place when all its cells are cleared, and a new one has its place before it is filled in.
    #[test]
    fn a_blank_row_is_a_row_of_the_grid() {
        let rows = |text: &str, change: &str| {
            let changes: Vec<GridChange> = serde_json::from_str(change).unwrap();
            let text = regridded("a.csv", text, &changes).unwrap();
            let table = read("a.csv", text.as_bytes(), &mut Problems::new()).unwrap();
            table.texts()[1..].iter().map(|row| row.join("|")).collect::<Vec<_>>()
        };
        let insert =
            r#"[{"insert":{"row":0,"rows":[[""]]}},{"set":{"row":0,"column":0,"text":"new"}}]"#;
        let clear = r#"[{"set":{"row":0,"column":0,"text":""}},{"insert":{"row":2,"rows":[["c"]]}},{"set":{"row":1,"column":0,"text":"B"}}]"#;
        let remove = r#"[{"insert":{"row":1,"rows":[[""],[" "]]}},{"remove":{"row":1,"count":2}}]"#;
        for text in ["line,note\na,\nb,\n", "line,note\na\nb\n", "line,note\r\n\"a\",\r\nb,"] {
            let plain = |change| {
                rows(text, change)
                    .iter()
                    .map(|row| row.trim_end_matches('|').to_owned())
                    .collect::<Vec<_>>()
            };
            assert_eq!(plain(insert), ["new", "a", "b"], "{text:?}");
            assert_eq!(plain(clear), ["", "B", "c"], "{text:?}");
            assert_eq!(plain(remove), ["a", "b"], "{text:?}");
        }
        // A line with nothing in it is none.
        assert_eq!(rows("line\na\n\nb\n", insert), ["new", "a", "b"]);
        assert_eq!(rows("line\na\n\nb\n", clear), ["", "B", "c"]);
        assert_eq!(rows("line\na\n\nb\n", remove), ["a", "b"]);
    }

    #[test]
    fn what_is_no_cell_is_not_set() {
        let set = |row, column| {
            let cell = CellText { row, column, text: "x".to_owned() };
            regridded("a.csv", "line,card\na\n", &[GridChange::Set(cell)])
        };
        assert_eq!([set(1, 1), set(0, 1)].map(|it| it.is_some()), [true, true]);
        assert_eq!(
            [set(2, 0), set(0, 2), set(1, 2), set(0, 1_000_000_000), set(1, usize::MAX)],
            [const { None }; 5]
        );
        let one = GridChange::Insert(NewRows { row: 0, rows: vec![Vec::new()] });
        let many = |count| regridded("a.csv", "line\n", &vec![one.clone(); count]);
        assert_eq!(
            [many(MOST_CHANGES), many(MOST_CHANGES + 1)].map(|it| it.is_some()),
            [true, false]
        );
    }

    #[test]
    fn blanks_around_a_cell_are_left_out() {
        let set = |text: &str| {
            let cell = CellText { row: 0, column: 1, text: text.to_owned() };
            let text = regridded("a.csv", "line,note\na,b\n", &[GridChange::Set(cell)]).unwrap();
            read("a.csv", text.as_bytes(), &mut Problems::new()).unwrap().texts()[1][1].clone()
        };
        assert_eq!(["\r", "\t=1 ", " x "].map(set), ["", "=1", "x"]);
    }

    #[test]
    fn a_row_ends_as_the_lines_above_the_header() {
        let row = GridChange::Insert(NewRows { row: 0, rows: vec![vec!["a".to_owned()]] });
        let with = |text: &str| regridded("a.csv", text, std::slice::from_ref(&row)).unwrap();
        assert_eq!(with("# x\r\nline,note"), "# x\r\nline,note\r\na,\r\n");
        assert_eq!(with("# x\r\nline,note\n"), "# x\r\nline,note\na,\n");
    }

    #[test]
    fn a_column_is_added_behind_the_last() {
        let text = r#"[{"add_column":{"name":"fold"}},{"set":{"row":1,"column":3,"text":"top"}}]"#;
        let expected = TEXT.replace("count\n", "count;fold\n").replace("b;;4", "b;;4;top");
        assert_eq!(after(text), expected);
    }

    #[test]
    fn a_place_leads_to_its_cell() {
        let table = read("a.csv", TEXT.as_bytes(), &mut Problems::new()).unwrap();
        let at = |line, column| table.cell_at(line, column).map(|it| [it.row, it.column]);
        assert_eq!(at(2, 1), Some([0, 0]));
        assert_eq!([at(3, 3), at(3, 5), at(3, 10)], [Some([1, 1]), Some([1, 1]), Some([1, 2])]);
        assert_eq!([at(6, 3), at(6, 4), at(5, 1)], [Some([2, 1]), Some([2, 2]), None].map(|it| it));
        assert_eq!(table.texts()[1], ["a", "x; y", "3"]);
    }
}
