//! The card that an envelope is made for.

use super::list::rows;
use super::names::means;
use crate::diagnostics::Problems;
use crate::table::{KnownColumn, Named};
use std::sync::LazyLock;

/// An envelope and its card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Contents {
    /// The envelope's name.
    pub envelope: String,
    /// The card's name.
    pub card: String,
    /// Whether the card goes by the envelope's name, too.
    pub is_called: bool,
    /// The standard that says so, or that there is none.
    pub source: String,
}

const COLUMNS: [KnownColumn; 4] = [
    KnownColumn::needed("envelope"),
    KnownColumn::needed("card"),
    KnownColumn::optional("called"),
    KnownColumn::needed("source"),
];

static CONTENTS: LazyLock<Vec<Contents>> = LazyLock::new(|| read(&mut Problems::new()));

/// All envelopes that are made for a card, in the order of the table.
pub fn contents() -> &'static [Contents] {
    &CONTENTS
}

/// The card that goes by the name of an envelope: `DL`.
pub(super) fn called(text: &str) -> Option<&'static str> {
    let called = CONTENTS.iter().find(|row| row.is_called && means(&row.envelope, text));
    called.map(|row| row.card.as_str())
}

fn read(problems: &mut Problems) -> Vec<Contents> {
    let file = Named::new("contents.csv", include_bytes!("contents.csv"));
    rows(file, &COLUMNS, problems, |cells| {
        let called = |text: &str| (text == "yes").then_some(());
        Some(Contents {
            envelope: cells.text("envelope")?,
            card: cells.text("card")?,
            is_called: cells.read("called", called)?.is_some(),
            source: cells.text("source")?,
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::{LEAST_ROOM, card, envelope};
    use crate::measure::Length;

    #[test]
    fn the_table_is_whole() {
        let mut problems = Problems::new();
        let all = read(&mut problems);
        assert_eq!(problems, Problems::new());
        assert_eq!(all.len(), 6);
        for row in all {
            let (long, short) =
                envelope(&row.envelope).unwrap().room(card(&row.card).unwrap().size, Length::ZERO);
            assert!(long.min(short) >= LEAST_ROOM, "{row:?}");
        }
    }

    #[test]
    fn dl_is_a_card_and_c6_is_not() {
        for name in ["DL", "iso dl", "DIN DL", "DIN lang"] {
            assert_eq!(called(name), Some("third of ISO A4"), "{name}");
        }
        for name in ["C6", "ISO C6", "C6/C5", ""] {
            assert_eq!(called(name), None, "{name}");
        }
    }
}
