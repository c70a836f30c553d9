//! A stock-take from a page: its answers become the table that `shelf take` reads.

use crate::desk::FileKind;
use crate::table::{GridChange, NewRows, regridded};
use serde::Deserialize;

/// What was counted.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TakeRequest {
    counts: Vec<CountedLabel>,
    #[serde(default)]
    added: Vec<NewStrip>,
    /// Whether nothing is to change.
    #[serde(default)]
    pub preview: bool,
}

/// How many there are of a sheet or offcut; none that were thrown away.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct CountedLabel {
    sheet: String,
    count: Option<u64>,
}

/// A strip that is in no file yet, as it was written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct NewStrip {
    paper: String,
    width: String,
    height: String,
    count: u64,
}

/// The columns that are filled in.
const HEADER: &str = "name,count,what,paper,width,height\n";

impl TakeRequest {
    /// The table; `None` where it cannot be written.
    pub fn table(&self) -> Option<String> {
        let counted = self.counts.iter().map(|CountedLabel { sheet, count }| {
            let (count, what) = match count {
                None => (String::new(), "thrown away"),
                Some(0) => (String::new(), "not found"),
                Some(count) => (count.to_string(), ""),
            };
            vec![sheet.clone(), count, what.to_owned()]
        });
        let added = self.added.iter().map(|NewStrip { paper, width, height, count }| {
            let none = String::new;
            vec![none(), count.to_string(), none(), paper.clone(), width.clone(), height.clone()]
        });
        let rows = counted.chain(added).collect();
        regridded(FileKind::Offcuts.word(), HEADER, &[GridChange::Insert(NewRows { row: 0, rows })])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_become_rows() {
        let asked = r#"{"counts":[{"sheet":"f-1","count":2},{"sheet":"f-2","count":0},{"sheet":"=f","count":null}],
                        "added":[{"paper":"moss, dark","width":"3 in","height":"5","count":2}]}"#;
        let asked: TakeRequest = serde_json::from_str(asked).unwrap();
        let expected = "name,count,what,paper,width,height\nf-1,2,,,,\nf-2,,not found,,,\n'=f,,thrown away,,,\n\
                        ,2,,\"moss, dark\",3 in,5\n";
        assert_eq!(asked.table().unwrap(), expected);
        assert!(!asked.preview);
    }
}
