//! Changes to a file's text that leave all else in it as it is: comments, order of columns, columns of
//! the person's own, blanks, line ends.

use super::columns::Columns;
use super::edits::Edits;
use super::row::Row;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// One stretch of a text replaced by another.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Change {
    /// Its first byte in the old text.
    pub at: usize,
    /// What stood there.
    pub old: String,
    /// What stands there now.
    pub new: String,
}

/// The text after all `changes`, which stand in the order of their places and do not overlap; `None`
/// where the text is not the one that they were made for.
pub fn changed(text: &str, changes: &[Change]) -> Option<String> {
    let mut new = String::with_capacity(text.len());
    let mut read = 0;
    for change in changes {
        new.push_str(text.get(read..change.at)?);
        text.get(change.at..)?.strip_prefix(change.old.as_str())?;
        new.push_str(&change.new);
        read = change.at + change.old.len();
    }
    new.push_str(text.get(read..)?);
    Some(new)
}

impl Change {
    /// The changes that lead back.
    pub fn reversed(changes: &[Change]) -> Vec<Change> {
        let (mut more, mut less) = (0, 0);
        let back = |change: &Change| {
            let at = change.at + more - less;
            more += change.new.len();
            less += change.old.len();
            Change { at, old: change.new.clone(), new: change.old.clone() }
        };
        changes.iter().map(back).collect()
    }

    /// The one change from one text to another: all between what they have in common at both ends.
    pub fn between(old: &str, new: &str) -> Vec<Change> {
        if old == new {
            return Vec::new();
        }
        let same = |(one, other): &(char, char)| one == other;
        let length = |pairs: &mut dyn Iterator<Item = (char, char)>| -> usize {
            pairs.take_while(same).map(|(letter, _)| letter.len_utf8()).sum()
        };
        let at = length(&mut old.chars().zip(new.chars()));
        let (old, new) = (&old[at..], &new[at..]);
        let end = length(&mut old.chars().rev().zip(new.chars().rev()));
        let part = |text: &str| text[..text.len() - end].to_owned();
        vec![Change { at, old: part(old), new: part(new) }]
    }
}

/// A table that is being changed.
#[derive(Debug)]
pub struct Draft<'a> {
    columns: &'a Columns<'a>,
    /// Columns that the file has not had.
    added: Vec<&'static str>,
    edits: Edits<'a>,
}

impl<'a> Draft<'a> {
    /// No changes yet to the text whose `columns` these are.
    pub fn new(columns: &'a Columns<'a>, text: &'a str) -> Draft<'a> {
        Draft { columns, added: Vec::new(), edits: Edits::new(columns.table, text) }
    }

    /// Puts a text into the cell of a row; the column is added where the file lacks it.
    pub fn set(&mut self, row: &Row<'_>, column: &'static str, text: &str) {
        let at = self.position(column);
        self.edits.set(row.index, at, text);
    }

    /// Takes a row out, with its line's end.
    pub fn remove(&mut self, row: &Row<'_>) {
        self.edits.remove(row.index);
    }

    /// Adds a row at the end, of these columns and texts; columns that the file lacks are added for what
    /// is not blank.
    pub fn append(&mut self, cells: &[(&'static str, String)]) {
        let mut row = BTreeMap::new();
        for (column, text) in cells.iter().filter(|(_, text)| !text.is_empty()) {
            row.insert(self.position(column), text);
        }
        let last = row.keys().next_back().copied().unwrap_or_default();
        let width = last.max(self.edits.width() - 1) + 1;
        let cell = |at: usize| row.get(&at).map(|text| (*text).clone()).unwrap_or_default();
        self.edits.append(&(0..width).map(cell).collect::<Vec<_>>());
    }

    /// All changes, in the order of their places.
    pub fn finish(mut self) -> Vec<Change> {
        let width = self.edits.width();
        for (at, name) in self.added.iter().enumerate() {
            self.edits.set(0, width + at, name);
        }
        self.edits.finish()
    }

    /// Where a column stands in the rows, or will.
    fn position(&mut self, column: &'static str) -> usize {
        if let Some(at) = self.columns.position(column) {
            return at;
        }
        let known = self.added.iter().position(|added| *added == column);
        self.edits.width()
            + known.unwrap_or_else(|| {
                self.added.push(column);
                self.added.len() - 1
            })
    }
}

#[cfg(test)]
mod tests {
    use super::super::{KnownColumn, read};
    use super::*;
    use crate::diagnostics::Problems;
    use proptest::prelude::*;

    const COLUMNS: [KnownColumn; 3] = [
        KnownColumn::needed("offcut"),
        KnownColumn::optional("count"),
        KnownColumn::optional("from"),
    ];

    /// The text after what `change` does to it.
    fn drafted(text: &str, change: impl Fn(&mut Draft<'_>, &[Row<'_>])) -> String {
        let mut problems = Problems::new();
        let table = read("offcuts.csv", text.as_bytes(), &mut problems).unwrap();
        let columns = table.columns(&COLUMNS, &mut problems).unwrap();
        let rows: Vec<Row<'_>> = columns.rows().collect();
        let mut draft = Draft::new(&columns, text);
        change(&mut draft, &rows);
        let changes = draft.finish();
        let new = changed(text, &changes).unwrap();
        assert_eq!(changed(&new, &Change::reversed(&changes)).as_deref(), Some(text));
        new
    }

    const TEXT: &str =
        "# mine\noffcut, my shelf ,count\n a ,left, 3 \n\n# two\n\"b\",\"right\",4\n";

    #[test]
    fn a_cell_is_changed_and_nothing_else() {
        let new = drafted(TEXT, |draft, rows| {
            draft.set(&rows[0], "count", "12");
            draft.set(&rows[1], "count", "1");
        });
        let expected = TEXT.replace(" 3 ", " 12 ").replace(",4", ",1");
        assert_eq!(new, expected);
        assert_eq!(drafted(TEXT, |draft, rows| draft.set(&rows[0], "count", "3")), TEXT);
    }

    #[test]
    fn a_row_goes_with_its_line() {
        let new = drafted(TEXT, |draft, rows| draft.remove(&rows[0]));
        assert_eq!(new, "# mine\noffcut, my shelf ,count\n\n# two\n\"b\",\"right\",4\n");
        let new = drafted(TEXT, |draft, rows| rows.iter().for_each(|row| draft.remove(row)));
        assert_eq!(new, "# mine\noffcut, my shelf ,count\n\n# two\n");
        assert_eq!(
            drafted("offcut\r\na\r\nb", |draft, rows| draft.remove(&rows[1])),
            "offcut\r\na\r\n"
        );
        assert_eq!(drafted("offcut\ra\rb\r", |draft, rows| draft.remove(&rows[0])), "offcut\rb\r");
    }

    #[test]
    fn a_row_is_added_as_the_file_is_written() {
        let row = [("offcut", "c".to_owned()), ("count", "2".to_owned()), ("from", String::new())];
        let add = |draft: &mut Draft<'_>, _: &[Row<'_>]| draft.append(&row);
        assert_eq!(drafted(TEXT, add), format!("{TEXT}c,,2\n"));
        assert_eq!(drafted("offcut;count\r\na;1", add), "offcut;count\r\na;1\r\nc;2\r\n");
        assert_eq!(drafted("\u{feff}count\toffcut\n", add), "\u{feff}count\toffcut\n2\tc\n");
        assert_eq!(drafted("offcut,count", add), "offcut,count\nc,2\n");
    }

    #[test]
    fn a_column_that_is_not_there_is_added() {
        let set = |draft: &mut Draft<'_>, rows: &[Row<'_>]| {
            draft.set(&rows[1], "from", "may");
            draft.set(&rows[1], "count", "5");
            draft.append(&[("offcut", "c".to_owned()), ("count", "7".to_owned())]);
        };
        assert_eq!(
            drafted("offcut,mine\na\nb\n", set),
            "offcut,mine,from,count\na\nb,,may,5\nc,,,7\n"
        );
        // A short row of a file that has the column.
        let set = |draft: &mut Draft<'_>, rows: &[Row<'_>]| draft.set(&rows[0], "count", "5");
        assert_eq!(drafted("offcut,mine,count\na\n", set), "offcut,mine,count\na,,5\n");
        // Blank cells beyond the header stay behind.
        assert_eq!(drafted("offcut,mine\na,b,,\n", set), "offcut,mine,count\na,b,5,,\n");
    }

    #[test]
    fn nothing_that_is_written_is_misread_or_run() {
        let row = |text: &str| [("offcut", text.to_owned())];
        let cell = |text: &str| {
            let add = |draft: &mut Draft<'_>, _: &[Row<'_>]| draft.append(&row(text));
            drafted("offcut\n", add)["offcut\n".len()..].to_owned()
        };
        assert_eq!(cell("=1+2"), "'=1+2\n");
        assert_eq!(cell("#1"), "\"#1\"\n");
        assert_eq!(cell("8 1/2\" wide"), "\"8 1/2\"\" wide\"\n");
        assert_eq!(cell("a,b\nc"), "\"a,b\nc\"\n");
    }

    proptest! {
        #[test]
        fn what_was_added_is_read_again(names in prop::collection::vec("[a-c#=,;\"' \n]{1,6}", 1..5)) {
            let names: Vec<String> = names.iter().map(|name| format!("x{name}y")).collect();
            let text = drafted("offcut,count\n", |draft, _| {
                names.iter().for_each(|name| draft.append(&[("offcut", name.clone())]));
            });
            let mut problems = Problems::new();
            let table = read("offcuts.csv", text.as_bytes(), &mut problems).unwrap();
            let columns = table.columns(&COLUMNS, &mut problems).unwrap();
            let read: Vec<String> = columns.rows().map(|row| row.cell("offcut").unwrap().text().to_owned()).collect();
            prop_assert_eq!(read, names);
        }

        #[test]
        fn texts_are_changed_into_each_other_and_back(old in "[a-b\u{e9}]{0,8}", new in "[a-b\u{e9}]{0,8}") {
            let changes = Change::between(&old, &new);
            prop_assert_eq!(changed(&old, &changes), Some(new.clone()));
            prop_assert_eq!(changed(&new, &Change::reversed(&changes)), Some(old));
        }
    }

    #[test]
    fn another_text_is_not_changed() {
        let change = Change { at: 2, old: "b".to_owned(), new: "c".to_owned() };
        assert_eq!(changed("a b", std::slice::from_ref(&change)).as_deref(), Some("a c"));
        assert_eq!(changed("a d", std::slice::from_ref(&change)), None);
        assert_eq!(changed("", std::slice::from_ref(&change)), None);
    }
}
