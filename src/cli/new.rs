//! `cardwright new`: a small workshop that plans at once, to be changed.

use super::access::in_full;
use super::console::{Console, Exit};
use crate::reports::folder::write_folder;
use crate::reports::visible::shown;
use std::path::Path;

/// The files of a starter workshop.
const FILES: [(&str, &str); 4] = [
    ("cards.csv", include_str!("starter/cards.csv")),
    ("sheets.csv", include_str!("starter/sheets.csv")),
    ("offcuts.csv", include_str!("starter/offcuts.csv")),
    ("workshop.toml", include_str!("starter/workshop.toml")),
];

/// Writes them into a folder that is not there yet, or empty.
pub fn run(folder: &Path, console: &mut Console) -> Exit {
    let told = shown(&folder.display().to_string());
    let taken = folder.read_dir().is_ok_and(|mut entries| entries.next().is_some());
    if taken {
        let help = "name a folder that is not there yet";
        return console.refused(&format!("{told} is there already and not empty"), help);
    }
    let files = FILES.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()));
    if let Err(error) = write_folder(folder, &files) {
        let help = "check that you may write there and that the disk has room";
        return console.refused(&in_full(&error), help);
    }
    let names = FILES.map(|(name, _)| format!("  {told}/{name}\n")).concat();
    console.page(&format!(
        "a workshop to change as you like:\n{names}\nnext: cardwright plan {told}/cards.csv\n"
    ))
}
