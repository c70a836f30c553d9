//! Rows and columns for a terminal, or for a pipe.

use crate::reports::visible::shown;
use comfy_table::presets::NOTHING;
use comfy_table::{CellAlignment, Table};

/// The rows below their titles, two blanks before each; columns whose title begins with `>` stand at the
/// right. Nothing where there are no rows.
pub fn table(titles: &[&str], rows: Vec<Vec<String>>) -> String {
    if rows.is_empty() {
        return String::new();
    }
    let mut table = filled(rows);
    table.set_header(titles.iter().map(|title| title.trim_start_matches('>')));
    for (column, title) in table.column_iter_mut().zip(titles) {
        if title.starts_with('>') {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    lines(&table)
}

/// Rows that need no titles.
pub fn rows(rows: Vec<Vec<String>>) -> String {
    lines(&filled(rows))
}

fn filled(rows: Vec<Vec<String>>) -> Table {
    let mut table = Table::new();
    table.load_style(NOTHING);
    for row in rows {
        table.add_row(row.iter().map(|cell| shown(cell)));
    }
    for column in table.column_iter_mut() {
        column.set_padding((0, 2));
    }
    table
}

fn lines(table: &Table) -> String {
    table.lines().map(|line| format!("  {}\n", line.trim_end())).collect()
}

/// Adds a table below a blank line; nothing where it has no rows.
pub fn add(text: &mut String, table: String) {
    if !table.is_empty() {
        text.push('\n');
        text.push_str(&table);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_stand_at_the_right_and_no_line_ends_in_blanks() {
        let rows =
            vec![vec!["a\u{1b}".to_owned(), "7".to_owned()], vec!["b".to_owned(), "12".to_owned()]];
        assert_eq!(
            table(&["name", ">count"], rows),
            "  name     count\n  a\\u{1b}      7\n  b           12\n"
        );
        assert_eq!(table(&["name"], Vec::new()), "");
        let untitled =
            [["a\u{1b}", "one"], ["b", "two"]].map(|row| row.map(str::to_owned).to_vec());
        assert_eq!(super::rows(untitled.into()), "  a\\u{1b}  one\n  b        two\n");
    }
}
