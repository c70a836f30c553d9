//! What a plan was made from: the report folder's note for settling and judging.
//!
//! A plan is known by a digest of what `plan.json` and `origin.json` say, written as this program writes them: a report
//! that was saved with other spaces or line ends is the same plan. The note holds how long the journal was, so that an
//! order planned again, from a shelf filled up again to what it was, is another plan, while the same report is never
//! settled twice. Earlier versions went by the bytes of both files; their entries are found by these.
//!
//! The note also keeps order, stock, bench and what was set aside for others, word for word, and where the report lay.
//! `settle` and `check` judge by these copies.

use super::event::digest;
use crate::pieces::Before;
use crate::plan::Plan;
use crate::stock::{Counts, PerFile};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};

/// The schema's name, first field of every note.
pub const ORIGIN_SCHEMA: &str = "cardwright-origin-2";

/// The schema before, whose notes are still read: they hold no copies.
pub const FIRST_ORIGIN_SCHEMA: &str = "cardwright-origin-1";

/// Which files a plan was made from, and what was in them. Paths are counted from the folder in which the plan was made,
/// with `/` between names; `None` where the file lies outside of that folder.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Origin {
    /// [`ORIGIN_SCHEMA`].
    pub schema: String,
    /// The report folder.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub report: Option<String>,
    /// The full sheets.
    pub sheets: Option<String>,
    /// The drawer, or where it would be.
    pub offcuts: Option<String>,
    /// Bought envelopes, or where these would be; `None` in a note of an earlier version, too.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub envelopes: Option<String>,
    /// Sundries likewise.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub sundries: Option<String>,
    /// The bench, or where it would be.
    pub workshop: Option<String>,
    /// Entries of the journal when the plan was made. The same order planned again from a shelf that is
    /// filled up again is another plan.
    pub entries: u64,
    /// The digest of all steps at the trimmer, by which they are known again; `None` in a note of an earlier version.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub steps: Option<String>,
    /// The plan of which this one makes the rest.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub rest_of: Option<String>,
    /// What was in the files; `None` in a note of the first schema.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub copies: Option<Copies>,
}

/// What a plan was made from, word for word.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Copies {
    /// The orders.
    pub orders: Vec<OrderCopy>,
    /// The full sheets.
    pub sheets: String,
    /// The drawer.
    pub offcuts: Option<String>,
    /// Bought envelopes.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub envelopes: Option<String>,
    /// Sundries.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub sundries: Option<String>,
    /// The bench.
    pub workshop: Option<String>,
    /// Paper that was set aside, by batch.
    pub set_aside: BTreeMap<String, Counts>,
    /// What earlier plans had done of the batch, where this one makes the rest.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub before: Option<Before>,
    /// Sets that the plan makes of a line, where these are fewer than ordered.
    #[serde(skip_serializing_if = "BTreeMap::is_empty", default)]
    pub sets: BTreeMap<String, u64>,
}

/// An order, word for word.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OrderCopy {
    /// What its file is called; the order is named after it.
    pub name: String,
    /// What was in it.
    pub text: String,
}

impl Origin {
    /// The files of the stock.
    pub fn stock(&self) -> PerFile<&Option<String>> {
        let Origin { sheets, offcuts, envelopes, sundries, .. } = self;
        PerFile { sheets, offcuts, envelopes, sundries }
    }

    /// The note as a file.
    ///
    /// # Errors
    /// It is no JSON, which is a fault of the program.
    pub fn bytes(&self) -> Result<Vec<u8>, serde_json::Error> {
        written(self)
    }
}

fn written(document: &impl Serialize) -> Result<Vec<u8>, serde_json::Error> {
    let mut bytes = serde_json::to_vec_pretty(document)?;
    bytes.push(b'\n');
    Ok(bytes)
}

/// What tells a plan from every other: a digest of what both files say, as JSON in lines. A file that was saved again
/// with other spaces or line ends says the same.
///
/// # Errors
/// They cannot be written, which is a fault of the program.
pub fn identity(plan: &Plan, origin: &Origin) -> Result<String, serde_json::Error> {
    Ok(identity_of_files(&written(plan)?, &written(origin)?))
}

/// The same of files as they lie there, which earlier versions went by.
pub fn identity_of_files(plan: &[u8], origin: &[u8]) -> String {
    digest(format!("{}{}", digest(plan), digest(origin)).as_bytes())
}

/// A path as a note keeps it; `None` where it leads out of the folder that it is counted from.
pub fn noted(path: &Path) -> Option<String> {
    let mut names = Vec::new();
    for part in path.components() {
        match part {
            Component::Normal(name) => names.push(name.to_str()?),
            Component::CurDir => {}
            _ => return None,
        }
    }
    (!names.is_empty()).then(|| names.join("/"))
}

/// The path of a note; `None` where it leads out of the folder that it is counted from.
pub fn inside(text: &str) -> Option<PathBuf> {
    noted(Path::new(text)).filter(|_| !text.contains('\0')).map(PathBuf::from)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_path_leads_out() {
        for path in ["sheets.csv", "orders/sheets.csv", "./orders//sheets.csv"] {
            assert_eq!(inside(path), Some(noted(Path::new(path)).unwrap().into()), "{path}");
        }
        assert_eq!(noted(Path::new("./orders//sheets.csv")).as_deref(), Some("orders/sheets.csv"));
        for path in ["", ".", "..", "../sheets.csv", "orders/../../sheets.csv", "/etc/sheets.csv"] {
            assert_eq!(inside(path), None, "{path}");
            assert_eq!(noted(Path::new(path)), None, "{path}");
        }
        assert_eq!(inside("a\0b"), None);
        #[cfg(unix)]
        assert!(inside("may: 1/sheets.csv").is_some() && inside("a\\b").is_some());
    }

    #[test]
    fn plans_are_told_apart_by_either_file() {
        let all = [("a", "b"), ("ab", ""), ("a", "c"), ("c", "b")];
        let ids = all.map(|(plan, origin)| identity_of_files(plan.as_bytes(), origin.as_bytes()));
        let unique: std::collections::BTreeSet<&String> = ids.iter().collect();
        assert_eq!(unique.len(), ids.len());
    }

    /// A note of the first schema is written as it was read, so that journals know its plan again.
    #[test]
    fn an_old_note_stays_what_it_was() {
        let text = "{\n  \"schema\": \"cardwright-origin-1\",\n  \"sheets\": \"orders/sheets.csv\",\n  \
                    \"offcuts\": null,\n  \"workshop\": null,\n  \"entries\": 3\n}\n";
        let origin: Origin = serde_json::from_str(text).unwrap();
        assert_eq!(origin.copies, None);
        assert_eq!(String::from_utf8(origin.bytes().unwrap()).unwrap(), text);
    }
}
