//! `cardwright new`: a small workshop, ready to plan, to be changed.

use super::access::in_full;
use super::arguments::{NewArguments, UnitArgument};
use super::console::{Console, Exit};
use super::table;
use super::typed::as_typed;
use crate::reports::folder::fill_folder;
use crate::reports::visible::shown;
use std::path::Path;

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

/// What each file is, in the order in which a person opens them.
const WHAT: [(&str, &str); 4] = [
    ("cards.csv", "the order: which cards, and how many"),
    ("sheets.csv", "your paper: the sheets you have or can buy"),
    ("workshop.toml", "your bench: trimmer, spares, rates"),
    ("offcuts.csv", "your drawer: the offcuts to use first"),
];

/// Writes them into a folder that is not there yet, or empty.
pub fn run(typed: &NewArguments, console: &mut Console) -> Exit {
    let folder = typed.folder.as_path();
    let starter = match typed.unit {
        UnitArgument::In => INCH,
        UnitArgument::Mm => METRIC,
    };
    let taken = folder.read_dir().is_ok_and(|mut entries| entries.next().is_some());
    if taken {
        let title = format!("{} is not empty", folder.display());
        return console.refused(&title, "name a folder that is new or empty");
    }
    let files = starter.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()));
    if let Err(error) = fill_folder(folder, &files) {
        let help = "check that you may write there and that the disk has room";
        return console.refused(&in_full(&error), help);
    }
    console.page(&next(folder))
}

/// What was written, and what to do with it.
fn next(folder: &Path) -> String {
    let here = folder == Path::new(".");
    let (folder, called) = match here {
        true => (Path::new(""), "this folder".to_owned()),
        false => (folder, shown(&folder.display().to_string())),
    };
    let path = |name: &str| folder.join(name).display().to_string();
    let rows = WHAT.map(|(name, what)| vec![path(name), what.to_owned()]);
    format!(
        "{called} is a small workshop, ready to plan:\n\n{}\n\
         Open the first three, and write in your own. Then plan:\n\n  \
         cardwright plan {}\n",
        table::rows(rows.into()),
        as_typed(&folder.join("cards.csv")),
    )
}
