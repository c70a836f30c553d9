//! Names of files that a desk shows.

use super::folder::WORKSHOP;
use crate::desk::FileKind;
use crate::stock::{PerFile, USUAL_NAMES};
use std::path::Path;

/// The files of the stock by their usual names.
pub fn stock_names() -> [(FileKind, &'static str); 4] {
    let PerFile { sheets, offcuts, envelopes, sundries } = USUAL_NAMES;
    [
        (FileKind::Sheets, sheets),
        (FileKind::Offcuts, offcuts),
        (FileKind::Envelopes, envelopes),
        (FileKind::Sundries, sundries),
    ]
}

/// Whether a desk shows a file of this name.
pub fn is_shown(name: &str) -> bool {
    name == WORKSHOP || stock_names().iter().any(|(_, known)| *known == name) || is_order(name)
}

/// Whether a file's name is that of an order: a table that is none of the stock's.
pub fn is_order(name: &str) -> bool {
    name.strip_suffix(".csv").is_some_and(is_plain) && !is_stock(name)
}

/// Whether a file's name is one of the stock's.
pub fn is_stock(name: &str) -> bool {
    stock_names().iter().any(|(_, known)| name.eq_ignore_ascii_case(known))
}

/// Whether a name leads nowhere but to itself, on every system.
pub fn is_plain(name: &str) -> bool {
    let is_odd = |letter: char| letter.is_control() || "/\\:*?\"<>|".contains(letter);
    !name.is_empty()
        && name.len() <= 120
        && !name.starts_with(['.', '-', ' '])
        && !name.ends_with(['.', ' '])
        && !name.contains(is_odd)
        && !is_device(name)
}

/// Whether Windows keeps a name for a device, whatever ends it has.
fn is_device(name: &str) -> bool {
    let stem = name.split('.').next().unwrap_or_default().trim_end().to_uppercase();
    let port = stem.strip_prefix("COM").or_else(|| stem.strip_prefix("LPT"));
    let is_port = port.is_some_and(|number| {
        let mut letters = number.chars();
        let is_number = letters.next().is_some_and(|letter| "0123456789¹²³".contains(letter));
        is_number && letters.next().is_none()
    });
    is_port || ["CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"].contains(&stem.as_str())
}

/// The names in a folder, in order; none where it cannot be read.
pub fn names_in(folder: &Path) -> Vec<String> {
    let entries = folder.read_dir().into_iter().flatten().flatten();
    let mut names: Vec<String> =
        entries.filter_map(|entry| entry.file_name().into_string().ok()).collect();
    names.retain(|name| !name.starts_with('.'));
    names.sort();
    names
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_devices_are_no_names() {
        for name in ["con.csv", "NUL.csv", "aux .csv", "Com1.csv", "lpt9.a.csv", "COM².csv"] {
            assert!(!is_order(name), "{name}");
        }
        for name in ["console.csv", "com.csv", "com10.csv", "may con.csv", "lpt.csv", "a.con.csv"] {
            assert!(is_order(name), "{name}");
        }
    }
}
