//! What is in a table, after some changes to it.

use super::choices::{self, Choices};
use super::{DeskFile, DeskFiles, FileKind, guide};
use crate::diagnostics::{Problem, Problems};
use crate::table::{self, GridChange, KnownColumn, plain, regridded};
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

/// What is in the table after the changes, with what each of its cells may hold.
pub fn answer(TableQuestion { desk, kind, changes }: &TableQuestion) -> Value {
    let kind = *kind;
    let none = DeskFile { name: format!("{}.csv", kind.word()), text: String::new() };
    let DeskFile { name, text } = desk.table(kind).unwrap_or(&none);
    let begun = if text.trim().is_empty() { header(kind) } else { text.clone() };
    let mut problems = Problems::new();
    let Some(text) = regridded(name, &begun, changes) else {
        table::read(name, begun.as_bytes(), &mut problems);
        if problems.is_empty() {
            problems.push(Problem::error("table-row", "there is no such row or column any more"));
        }
        return unreadable(&problems);
    };
    let Some(table) = table::read(name, text.as_bytes(), &mut problems) else {
        return unreadable(&problems);
    };
    let mut rows = table.texts();
    let header = rows.remove(0);
    let choices = Choices::of(desk);
    let names: Vec<String> = header.iter().map(|name| plain(name)).collect();
    let known = choices::columns(kind);
    let own = KnownColumn::optional("");
    let columns = header.iter().zip(&names).map(|(title, name)| {
        let found = known.iter().find(|known| known.name == *name);
        column(title, found.unwrap_or(&own), kind, &choices)
    });
    let missing = known.iter().filter(|known| !names.iter().any(|name| name == known.name));
    json!({
        "is": "table",
        "kind": kind.word(),
        "text": text,
        "columns": columns.collect::<Vec<_>>(),
        "missing": missing.map(|it| column(it.name, it, kind, &choices)).collect::<Vec<_>>(),
        "rows": rows,
    })
}

fn unreadable(problems: &Problems) -> Value {
    let told: Vec<Value> = problems.iter().map(Problem::document).collect();
    json!({ "is": "unreadable", "problems": told })
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
}
