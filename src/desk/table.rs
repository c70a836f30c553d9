//! What is in a table, after some changes to it.

use super::choices::{self, Choices};
use super::{DeskFile, DeskFiles, FileKind, guide};
use crate::diagnostics::{Problem, Problems};
use crate::table::{self, GridChange, KnownColumn, Table, plain, regridded};
use serde::Deserialize;
use serde_json::{Value, json};

/// Asks what is in a table.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TableQuestion {
    /// All files.
    pub desk: DeskFiles,
    /// Which of them.
    pub kind: FileKind,
    /// What is changed first, one after the other.
    #[serde(default)]
    pub changes: Vec<GridChange>,
}

/// Columns that a new file begins with beside those that it needs.
fn usual(kind: FileKind) -> &'static [&'static str] {
    match kind {
        FileKind::Order => &["fold", "liner", "mat", "envelope", "note"],
        FileKind::Sheets => &["on hand", "price", "pack", "grain", "gsm", "thickness"],
        FileKind::Offcuts => &["count", "grain", "print", "from", "since"],
        FileKind::Envelopes => &["on hand", "price", "pack", "colour"],
        FileKind::Sundries => &["unit", "on hand", "price", "pack", "grams", "seconds"],
    }
}

/// The header of a new file.
fn header(kind: FileKind) -> String {
    let is_usual = |known: &&KnownColumn| known.needed || usual(kind).contains(&known.name);
    let names = choices::columns(kind).iter().filter(is_usual).map(|known| known.name);
    names.collect::<Vec<_>>().join(",") + "\n"
}

/// A text as a table, every row of it.
struct WholeTable {
    text: String,
    table: Table,
}

impl WholeTable {
    /// Reads a text.
    ///
    /// # Errors
    /// It is no table, or rows of it cannot be shown.
    fn of(name: &str, text: String) -> Result<WholeTable, Problems> {
        let mut found = Problems::of_file(name);
        match table::read(name, text.as_bytes(), &mut found) {
            Some(table) if table.is_whole() => Ok(WholeTable { text, table }),
            _ => {
                let mut problems = Problems::new();
                problems.append(found);
                Err(problems)
            }
        }
    }

    /// The same after some changes.
    ///
    /// # Errors
    /// They change what is not there, or the table could not be read any more.
    fn after(&self, name: &str, changes: &[GridChange]) -> Result<WholeTable, Problems> {
        match regridded(name, &self.text, changes) {
            Some(text) => WholeTable::of(name, text),
            None => Err(Problem::error("table-row", "these changes do not fit the table")
                .help("load the page again")
                .into()),
        }
    }
}

/// What is in the table after the changes, with what each of its cells may hold. Changes that break it are refused:
/// then it is as it was.
pub fn answer(TableQuestion { desk, kind, changes }: &TableQuestion) -> Value {
    let kind = *kind;
    let none = DeskFile { name: format!("{}.csv", kind.word()), text: String::new() };
    let DeskFile { name, text } = desk.table(kind).unwrap_or(&none);
    let begun = if text.trim().is_empty() { header(kind) } else { text.clone() };
    let grid = match WholeTable::of(name, begun) {
        Ok(grid) => grid,
        Err(problems) => return json!({ "is": "unreadable", "problems": told(&problems) }),
    };
    let (grid, refused) = match grid.after(name, changes) {
        Ok(after) => (after, Problems::new()),
        Err(problems) => (grid, problems),
    };
    document(kind, &grid, &refused, &Choices::of(desk))
}

fn document(kind: FileKind, grid: &WholeTable, refused: &Problems, choices: &Choices) -> Value {
    let mut rows = grid.table.texts();
    let header = rows.remove(0);
    let names: Vec<String> = header.iter().map(|name| plain(name)).collect();
    let known = choices::columns(kind);
    let own = KnownColumn::optional("");
    let columns = header.iter().zip(&names).map(|(title, name)| {
        let found = known.iter().find(|known| known.name == *name);
        column(title, found.unwrap_or(&own), kind, choices)
    });
    let missing = known.iter().filter(|known| !names.iter().any(|name| name == known.name));
    json!({
        "is": "table",
        "kind": kind.word(),
        "text": grid.text,
        "columns": columns.collect::<Vec<_>>(),
        "missing": missing.map(|it| column(it.name, it, kind, choices)).collect::<Vec<_>>(),
        "rows": rows,
        "refused": told(refused),
    })
}

fn told(problems: &Problems) -> Vec<Value> {
    problems.iter().map(Problem::document).collect()
}

/// A column as its header names it.
fn column(title: &str, known: &KnownColumn, kind: FileKind, choices: &Choices) -> Value {
    json!({
        "name": title,
        "known": !known.name.is_empty(),
        "needed": known.needed,
        "hint": guide::column(kind, known.name),
        "choices": choices.in_cells(kind, known.name),
        "joined": choices::joint(kind, known.name),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(kind: FileKind, changes: &str) -> Value {
        let file =
            |name: &str, text: &str| DeskFile { name: name.to_owned(), text: text.to_owned() };
        let desk = DeskFiles {
            order: file("may.csv", "# spring\nline,my own,card,count,paper\na,x,A2,3,fern\n"),
            sheets: Some(file(
                "sheets.csv",
                "sheet,paper,width,height\nf,fern,12,12\nm,moss,12,12\n",
            )),
            ..DeskFiles::default()
        };
        let changes = serde_json::from_str(changes).unwrap();
        answer(&TableQuestion { desk, kind, changes })
    }

    #[test]
    fn a_table_says_what_its_cells_may_hold() {
        let table = asked(FileKind::Order, "[]");
        assert_eq!(table["rows"], json!([["a", "x", "A2", "3", "fern"]]));
        let columns = table["columns"].as_array().unwrap();
        assert_eq!(columns[4]["choices"], json!(["fern", "moss"]));
        assert_eq!((&columns[4]["joined"], &columns[1]["known"]), (&json!("|"), &json!(false)));
        let missing = table["missing"].as_array().unwrap();
        let fold = missing.iter().find(|it| it["name"] == "fold").unwrap();
        assert!(fold["choices"].as_array().unwrap().contains(&json!("accordion 4")));
    }

    #[test]
    fn changes_leave_the_rest_as_it_is() {
        let changes =
            r#"[{"set":{"row":0,"column":3,"text":"12"}},{"add_column":{"name":"fold"}}]"#;
        let table = asked(FileKind::Order, changes);
        assert_eq!(table["text"], "# spring\nline,my own,card,count,paper,fold\na,x,A2,12,fern\n");
    }

    #[test]
    fn a_file_that_is_not_there_begins_with_its_usual_columns() {
        let table =
            asked(FileKind::Offcuts, r#"[{"insert":{"row":0,"rows":[["f-1","fern","3","4"]]}}]"#);
        assert_eq!(
            table["text"],
            "offcut,paper,width,height,count,grain,print,from,since\nf-1,fern,3,4,,,,,\n"
        );
    }

    #[test]
    fn what_is_no_table_is_told() {
        let mut question = TableQuestion {
            desk: DeskFiles::default(),
            kind: FileKind::Order,
            changes: Vec::new(),
        };
        question.desk.order.text = "a\0b".to_owned();
        assert_eq!(answer(&question)["is"], "unreadable");
    }

    /// A row that cannot be shown is not hidden: the text is shown instead.
    #[test]
    fn a_table_with_rows_that_cannot_be_read_is_told() {
        for row in ["b,2,too,long", "b;2", "b,\"2", "b,\"2\nc,3"] {
            let text = format!("line,count\na,1\n{row}\n");
            let mut question = TableQuestion {
                desk: DeskFiles::default(),
                kind: FileKind::Order,
                changes: serde_json::from_str(r#"[{"set":{"row":0,"column":1,"text":"9"}}]"#)
                    .unwrap(),
            };
            question.desk.order = DeskFile { name: "may.csv".to_owned(), text };
            let told = answer(&question);
            assert_eq!(told["is"], "unreadable", "{row}: {told}");
            assert_eq!(told["problems"].as_array().unwrap().len(), 1, "{row}");
        }
    }

    #[test]
    fn a_change_that_goes_too_far_is_refused_with_words() {
        let long = "x".repeat(10_001);
        let set = |row: u64, column: u64, text: &str| {
            json!([{ "set": { "row": row, "column": column, "text": text } }]).to_string()
        };
        let rows = vec![["b"]; 100_001];
        for (change, code) in [
            (set(0, 0, &long), "table-cell-long"),
            (set(0, 1_000_000_000, "x"), "table-row"),
            (set(1_000_000_000, 0, "x"), "table-row"),
            (json!([{ "insert": { "row": 0, "rows": rows } }]).to_string(), "table-rows"),
            (json!([{ "insert": { "row": 0, "rows": [vec!["b"; 6]] } }]).to_string(), "table-row"),
        ] {
            let table = asked(FileKind::Order, &change);
            assert_eq!(table["refused"][0]["code"], code, "{}", table["refused"]);
            assert_eq!(table["text"], asked(FileKind::Order, "[]")["text"], "{code}");
        }
        assert_eq!(asked(FileKind::Order, &set(0, 0, &long[1..]))["refused"], json!([]));
    }
}
