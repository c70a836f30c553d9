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

/// A command on the shelf of these files, such as `cardwright shelf rebuild orders`; `verb` is empty for its list.
///
/// The folder is named even where it is this one: without it, a folder `orders` in it may be meant.
pub fn shelf_command(verb: &str, sheets: &str, offcuts: Option<&str>) -> String {
    let folder = Path::new(sheets).parent().unwrap_or(Path::new(""));
    let usual = |name: &str| folder.join(name);
    let is_usual = Path::new(sheets) == usual("sheets.csv")
        && offcuts.is_none_or(|offcuts| Path::new(offcuts) == usual("offcuts.csv"));
    let place = match (is_usual, folder.as_os_str().is_empty()) {
        (true, true) => ".".to_owned(),
        (true, false) => one_word(&folder.display().to_string()),
        (false, _) => {
            let files = [("--sheets", Some(sheets)), ("--offcuts", offcuts)];
            let named = files.into_iter().filter_map(|(name, file)| Some((name, file?)));
            let named = named.map(|(name, file)| format!("{name} {}", one_word(file)));
            named.collect::<Vec<_>>().join(" ")
        }
    };
    let words = ["cardwright shelf", verb, &place];
    words.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

/// The files beside an order, as the person named them.
#[derive(Clone, Copy, Debug)]
pub struct StockFiles<'a> {
    /// The full sheets.
    pub sheets: &'a str,
    /// The drawer, where there is one.
    pub offcuts: Option<&'a str>,
    /// The bench, where there is a file of it.
    pub workshop: Option<&'a str>,
}

/// The command that plans orders with one more option, such as `cardwright plan orders/may.csv --as-many`. Only files that
/// do not lie beside the first order are named.
pub fn plan_command(orders: &[String], files: StockFiles, option: &str) -> String {
    let StockFiles { sheets, offcuts, workshop } = files;
    let folder = orders.first().and_then(|order| Path::new(order).parent());
    let folder = folder.unwrap_or(Path::new(""));
    let named = [
        ("--sheets", "sheets.csv", Some(sheets)),
        ("--offcuts", "offcuts.csv", offcuts),
        ("--workshop", "workshop.toml", workshop),
    ];
    let named = named.into_iter().filter_map(|(option, usual, file)| {
        let file = file.filter(|file| Path::new(file) != folder.join(usual))?;
        Some(format!("{option} {}", one_word(file)))
    });
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
            plan_command(&orders, StockFiles { sheets, offcuts, workshop }, "--as-many")
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
        let of = |verb, sheets, offcuts| shelf_command(verb, sheets, Some(offcuts));
        for (command, told) in [
            (of("", "sheets.csv", "offcuts.csv"), "cardwright shelf ."),
            (of("", "a b/sheets.csv", "a b/offcuts.csv"), "cardwright shelf 'a b'"),
            (of("rebuild", "a/sheets.csv", "a/offcuts.csv"), "cardwright shelf rebuild a"),
            (
                of("history", "a/sheets.csv", "b/offcuts.csv"),
                "cardwright shelf history --sheets a/sheets.csv --offcuts b/offcuts.csv",
            ),
            (shelf_command("", "a/paper.csv", None), "cardwright shelf --sheets a/paper.csv"),
            (shelf_command("", "a/sheets.csv", None), "cardwright shelf a"),
        ] {
            assert_eq!(command, told);
        }
    }
}
