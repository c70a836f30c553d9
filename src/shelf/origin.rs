//! What a plan was made from: the report folder's note for settling.

use super::event::digest;
use serde::{Deserialize, Serialize};
use std::path::{Component, Path, PathBuf};

/// The schema's name, first field of every note.
pub const ORIGIN_SCHEMA: &str = "cardwright-origin-1";

/// Which files a plan was made from. Paths are counted from the folder in which the plan was made, with
/// `/` between names; `None` where the file lies outside of that folder.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Origin {
    /// [`ORIGIN_SCHEMA`].
    pub schema: String,
    /// The full sheets.
    pub sheets: Option<String>,
    /// The drawer, or where it would be.
    pub offcuts: Option<String>,
    /// The bench, or where it would be.
    pub workshop: Option<String>,
    /// Entries of the journal when the plan was made. The same order planned again from a shelf that is
    /// filled up again is another plan.
    pub entries: u64,
}

impl Origin {
    /// The note as a file.
    ///
    /// # Errors
    /// It is no JSON, which is a fault of the program.
    pub fn bytes(&self) -> Result<Vec<u8>, serde_json::Error> {
        let mut bytes = serde_json::to_vec_pretty(self)?;
        bytes.push(b'\n');
        Ok(bytes)
    }
}

/// What tells a plan from every other: a digest of both files.
pub fn identity(plan: &[u8], origin: &[u8]) -> String {
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
        let ids = all.map(|(plan, origin)| identity(plan.as_bytes(), origin.as_bytes()));
        let unique: std::collections::BTreeSet<&String> = ids.iter().collect();
        assert_eq!(unique.len(), ids.len());
    }
}
