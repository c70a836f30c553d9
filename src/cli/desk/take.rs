//! A stock-take from a page: its answers become the table that `shelf take` reads.

use crate::desk::FileKind;
use crate::table::{GridChange, NewRows, regridded};
use serde::Deserialize;
use serde_json::Number;

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
    /// What the preview saw.
    #[serde(default)]
    pub seen: Option<String>,
}

/// How many there are of a sheet or offcut; none that were thrown away.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct CountedLabel {
    sheet: String,
    count: Option<Number>,
}

/// A strip that is in no file yet, as it was written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct NewStrip {
    paper: String,
    width: String,
    height: String,
    count: Number,
}

/// The columns that are filled in.
const HEADER: &str = "name,count,what,paper,width,height\n";

impl TakeRequest {
    /// The table.
    ///
    /// # Errors
    /// What is wrong with the count, and what to do.
    pub fn table(&self) -> Result<String, String> {
        let counted = self.counts.iter().map(CountedLabel::row);
        let added = self.added.iter().map(NewStrip::row);
        let rows = counted.chain(added).collect::<Result<Vec<_>, String>>()?;
        let rows = GridChange::Insert(NewRows { row: 0, rows });
        regridded(FileKind::Offcuts.word(), HEADER, &[rows]).ok_or_else(|| {
            "This count cannot be written as a table. Check what you typed.".to_owned()
        })
    }
}

impl CountedLabel {
    fn row(&self) -> Result<Vec<String>, String> {
        let found = self.count.as_ref().map(|count| counted(&self.sheet, count)).transpose()?;
        let (count, what) = match found {
            None => (String::new(), "thrown away"),
            Some(0) => (String::new(), "not found"),
            Some(count) => (count.to_string(), ""),
        };
        Ok(vec![self.sheet.clone(), count, what.to_owned()])
    }
}

impl NewStrip {
    fn row(&self) -> Result<Vec<String>, String> {
        let NewStrip { paper, width, height, count } = self;
        let count = counted(paper, count)?.to_string();
        let none = String::new;
        Ok(vec![none(), count, none(), paper.clone(), width.clone(), height.clone()])
    }
}

fn counted(name: &str, count: &Number) -> Result<u64, String> {
    count.as_u64().ok_or_else(|| {
        format!("Type how many there are of {name} in whole numbers, such as 12: {count} is none.")
    })
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

    #[test]
    fn a_count_that_is_not_whole_is_told_with_its_label() {
        for count in ["1.5", "-1"] {
            let asked = format!(r#"{{"counts":[{{"sheet":"f-1","count":{count}}}]}}"#);
            let asked: TakeRequest = serde_json::from_str(&asked).unwrap();
            let told = asked.table().unwrap_err();
            assert!(told.starts_with("Type how many there are of f-1 in whole numbers"), "{told}");
        }
    }
}
