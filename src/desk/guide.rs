//! What is said of each column and key: one home for it is the page that explains what people write.

use super::FileKind;
use std::collections::BTreeMap;
use std::sync::LazyLock;

const PAGE: &str = include_str!("../../orders/README.md");

/// The heading above a file's table.
const fn heading(kind: FileKind) -> &'static str {
    match kind {
        FileKind::Order => "The order",
        FileKind::Sheets => "The sheets",
        FileKind::Offcuts => "The drawer",
        FileKind::Envelopes => "Envelopes",
        FileKind::Sundries => "Sundries",
    }
}

type Hints = BTreeMap<String, String>;

static COLUMNS: LazyLock<BTreeMap<FileKind, Hints>> =
    LazyLock::new(|| FileKind::ALL.map(|kind| (kind, rows(heading(kind)))).into());

static KEYS: LazyLock<Hints> = LazyLock::new(|| rows("The bench"));

/// What goes into a column; empty for one of the person's own.
pub fn column(kind: FileKind, name: &str) -> &'static str {
    COLUMNS.get(&kind).and_then(|hints| hints.get(name)).map_or("", String::as_str)
}

/// What a key of the bench means; empty for one that is not explained.
pub fn key(name: &str) -> &'static str {
    KEYS.get(name).map_or("", String::as_str)
}

/// All keys of the bench that are explained, each with what it means.
pub fn keys() -> impl Iterator<Item = (&'static str, &'static str)> {
    KEYS.iter().map(|(key, hint)| (key.as_str(), hint.as_str()))
}

/// The first cells of the table under a heading, each with its last.
fn rows(heading: &str) -> Hints {
    let below = PAGE.lines().skip_while(|line| line.strip_prefix("## ") != Some(heading)).skip(1);
    let section = below.take_while(|line| !line.starts_with("## "));
    let table = section.filter_map(|line| line.strip_prefix("| "));
    let mut hints = Hints::new();
    for row in table {
        let row = row.replace("\\|", "\u{1}");
        let cells: Vec<&str> = row.trim_end_matches('|').split('|').map(str::trim).collect();
        let (Some(names), Some(told)) = (cells.first(), cells.last()) else { continue };
        // Only names stand in code: the title and the line below it do not.
        for name in names.split(", ").filter_map(|it| it.strip_prefix('`')?.strip_suffix('`')) {
            // Tables further down say more of one of them.
            hints.entry(name.to_owned()).or_insert_with(|| plain(told));
        }
    }
    hints
}

/// Text without marks: links are their words.
fn plain(text: &str) -> String {
    let text = text.replace('\u{1}', "|").replace('`', "");
    let mut parts = text.split('[');
    let mut plain = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        match part.split_once("](").and_then(|(words, rest)| Some((words, rest.split_once(')')?.1)))
        {
            Some((words, rest)) => plain.extend([words, rest]),
            None => plain.extend(["[", part]),
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::super::choices::columns;
    use super::*;

    #[test]
    fn every_column_is_explained() {
        for kind in FileKind::ALL {
            for known in columns(kind) {
                assert!(!column(kind, known.name).is_empty(), "{}: {}", kind.word(), known.name);
            }
        }
    }

    #[test]
    fn marks_are_left_out() {
        assert!(column(FileKind::Order, "paper").contains("fern|moss means either"));
        assert!(column(FileKind::Order, "fold").contains("or one of the other folds; blank"));
        assert!(column(FileKind::Offcuts, "print").ends_with("blank is free"));
        assert_eq!(column(FileKind::Order, "mine"), "");
        assert!(key("trimmer.knife").contains("cut"));
    }
}
