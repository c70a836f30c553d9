//! `cardwright new`: a small workshop that plans at once, to be changed.

use super::access::in_full;
use super::arguments::{NewArguments, UnitArgument};
use super::console::{Console, Exit};
use crate::reports::folder::write_folder;
use crate::reports::visible::shown;

type Starter = [(&'static str, &'static str); 4];

/// The files of a starter workshop in inches.
const INCH: Starter = [
    ("cards.csv", include_str!("starter/inch/cards.csv")),
    ("sheets.csv", include_str!("starter/inch/sheets.csv")),
    ("offcuts.csv", include_str!("starter/inch/offcuts.csv")),
    ("workshop.toml", include_str!("starter/inch/workshop.toml")),
];

/// The files of one in millimetres.
const METRIC: Starter = [
    ("cards.csv", include_str!("starter/metric/cards.csv")),
    ("sheets.csv", include_str!("starter/metric/sheets.csv")),
    ("offcuts.csv", include_str!("starter/metric/offcuts.csv")),
    ("workshop.toml", include_str!("starter/metric/workshop.toml")),
];

/// Writes them into a folder that is not there yet, or empty.
pub fn run(typed: &NewArguments, console: &mut Console) -> Exit {
    let folder = typed.folder.as_path();
    let starter = match typed.unit {
        UnitArgument::In => INCH,
        UnitArgument::Mm => METRIC,
    };
    let told = shown(&folder.display().to_string());
    let taken = folder.read_dir().is_ok_and(|mut entries| entries.next().is_some());
    if taken {
        let help = "name a folder that is not there yet";
        return console.refused(&format!("{told} is there already and not empty"), help);
    }
    let files = starter.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()));
    match write_folder(folder, &files) {
        Ok(told) => console.problems(&told),
        Err(error) => {
            let help = "check that you may write there and that the disk has room";
            return console.refused(&in_full(&error), help);
        }
    }
    let names = starter.map(|(name, _)| format!("  {told}/{name}\n")).concat();
    console.page(&format!(
        "a workshop to change as you like:\n{names}\nnext: cardwright plan {told}/cards.csv\n"
    ))
}
