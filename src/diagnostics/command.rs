//! Commands of the program as a person types them, so that what is suggested can be copied and run.

use std::path::{MAIN_SEPARATOR, Path};

/// What no shell reads as anything else, beside letters and digits.
const PLAIN: &str = "/._-+=@%,:";

/// A text as one word of a command: in quotes where it holds a blank, or what a shell would read.
pub fn one_word(text: &str) -> String {
    let is_plain = |letter: char| {
        letter.is_alphanumeric() || letter == MAIN_SEPARATOR || PLAIN.contains(letter)
    };
    match !text.is_empty() && text.chars().all(is_plain) {
        true => text.to_owned(),
        false if cfg!(windows) => format!("\"{text}\""),
        false => format!("'{}'", text.replace('\'', r"'\''")),
    }
}

/// A file that the program reads, with where it is.
#[derive(Clone, Copy, Debug)]
pub struct WorkshopFile<'a> {
    /// What it is called where nobody names it; without its ending, it is the option that does.
    pub usual: &'static str,
    /// As the person named it; `None` where there is none.
    pub path: Option<&'a str>,
}

impl WorkshopFile<'_> {
    /// The option that names it, unless it lies in this folder under its usual name.
    fn option(&self, folder: &Path) -> Option<String> {
        let path = self.path.filter(|path| Path::new(path) != folder.join(self.usual))?;
        Some(self.named(path))
    }

    fn named(&self, path: &str) -> String {
        let stem = self.usual.split('.').next().unwrap_or_default();
        format!("--{stem} {}", one_word(path))
    }
}

/// A command on the shelf of these files, the first of which is that of the sheets, such as `cardwright shelf rebuild orders`;
/// `verb` is empty for its list.
///
/// The folder is named even where it is this one: without it, a folder `orders` in it may be meant.
pub fn shelf_command(verb: &str, files: &[WorkshopFile]) -> String {
    let sheets = files.first().and_then(|sheets| sheets.path).unwrap_or_default();
    let folder = Path::new(sheets).parent().unwrap_or(Path::new(""));
    let is_usual = |file: &WorkshopFile| file.option(folder).is_none();
    let place = match (files.iter().all(is_usual), folder.as_os_str().is_empty()) {
        (true, true) => ".".to_owned(),
        (true, false) => one_word(&folder.display().to_string()),
        // Without a folder, none of them is looked for beside another.
        (false, _) => {
            let named = files.iter().filter_map(|file| Some(file.named(file.path?)));
            named.collect::<Vec<_>>().join(" ")
        }
    };
    let words = ["cardwright shelf", verb, &place];
    words.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

/// The command that plans orders with one more option, such as `cardwright plan orders/may.csv --as-many`. Only files that
/// do not lie beside the first order are named.
pub fn plan_command(orders: &[String], files: &[WorkshopFile], option: &str) -> String {
    let folder = orders.first().and_then(|order| Path::new(order).parent());
    let folder = folder.unwrap_or(Path::new(""));
    let named = files.iter().filter_map(|file| file.option(folder));
    let orders = orders.iter().map(|order| one_word(order));
    let words = ["cardwright plan".to_owned()].into_iter().chain(orders).chain(named);
    words.chain([option.to_owned()]).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plain_path_needs_no_quotes() {
        for path in ["cards/cards.csv", "mai-2/karten_ä.csv", "../a+b.csv"] {
            assert_eq!(one_word(path), path);
        }
    }

    #[cfg(unix)]
    #[test]
    fn others_are_one_word_in_quotes() {
        for (path, typed) in [
            ("my cards/cards.csv", "'my cards/cards.csv'"),
            ("it's.csv", r"'it'\''s.csv'"),
            ("$HOME", "'$HOME'"),
            ("~x", "'~x'"),
            ("a\\b", r"'a\b'"),
            ("", "''"),
        ] {
            assert_eq!(one_word(path), typed);
        }
    }

    #[cfg(unix)]
    #[test]
    fn only_files_elsewhere_are_named_to_plan() {
        let plan = |orders: &[&str], sheets, offcuts, workshop| {
            let orders: Vec<String> = orders.iter().map(|&order| order.to_owned()).collect();
            let files = [
                WorkshopFile { usual: "sheets.csv", path: Some(sheets) },
                WorkshopFile { usual: "offcuts.csv", path: offcuts },
                WorkshopFile { usual: "workshop.toml", path: workshop },
            ];
            plan_command(&orders, &files, "--as-many")
        };
        for (command, told) in [
            (plan(&["may.csv"], "sheets.csv", None, None), "cardwright plan may.csv --as-many"),
            (
                plan(
                    &["a b/may.csv", "june.csv"],
                    "a b/sheets.csv",
                    Some("a b/offcuts.csv"),
                    Some("a b/workshop.toml"),
                ),
                "cardwright plan 'a b/may.csv' june.csv --as-many",
            ),
            (
                plan(&["a/may.csv"], "sheets.csv", Some("a/strips.csv"), Some("b.toml")),
                "cardwright plan a/may.csv --sheets sheets.csv --offcuts a/strips.csv \
                 --workshop b.toml --as-many",
            ),
        ] {
            assert_eq!(command, told);
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_shelf_is_named_by_its_folder_or_by_its_files() {
        let shelf = |verb, sheets, offcuts| {
            let sheets = WorkshopFile { usual: "sheets.csv", path: Some(sheets) };
            shelf_command(verb, &[sheets, WorkshopFile { usual: "offcuts.csv", path: offcuts }])
        };
        let of = |verb, sheets, offcuts| shelf(verb, sheets, Some(offcuts));
        for (command, told) in [
            (of("", "sheets.csv", "offcuts.csv"), "cardwright shelf ."),
            (of("", "a b/sheets.csv", "a b/offcuts.csv"), "cardwright shelf 'a b'"),
            (of("rebuild", "a/sheets.csv", "a/offcuts.csv"), "cardwright shelf rebuild a"),
            (
                of("history", "a/sheets.csv", "b/offcuts.csv"),
                "cardwright shelf history --sheets a/sheets.csv --offcuts b/offcuts.csv",
            ),
            (shelf("", "a/paper.csv", None), "cardwright shelf --sheets a/paper.csv"),
            (shelf("", "a/sheets.csv", None), "cardwright shelf a"),
        ] {
            assert_eq!(command, told);
        }
    }
}
