//! Finished card formats by name.

use super::list::rows;
use super::names::{stands_for, words};
use crate::diagnostics::Problems;
use crate::folds::{self, Blank, Fold, FoldedPaper};
use crate::measure::Size;
use crate::table::{KnownColumn, Named};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// A finished card size with a name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardFormat {
    /// Its name, unique whatever the case.
    pub name: String,
    /// Width across and height down as the card stands when read, in ticks.
    pub size: Size,
    /// The usual fold: flat unless the order says so.
    pub fold: Fold,
    /// The standard or authority that fixes it, or that there is none.
    pub source: String,
}

impl CardFormat {
    /// The card opened out, where it is usually folded, of such a paper.
    pub fn blank(&self, paper: FoldedPaper) -> Blank {
        folds::opened(self.size, self.fold, paper)
    }
}

const FILE: &str = "cards.csv";
const COLUMNS: [KnownColumn; 5] = [
    KnownColumn::needed("name"),
    KnownColumn::needed("width"),
    KnownColumn::needed("height"),
    KnownColumn::optional("fold"),
    KnownColumn::needed("source"),
];

static CARDS: LazyLock<Vec<CardFormat>> = LazyLock::new(|| read(&mut Problems::new()));

/// The formats by the words of their names.
static BY_NAME: LazyLock<BTreeMap<Vec<String>, &CardFormat>> =
    LazyLock::new(|| CARDS.iter().map(|card| (words(&card.name), card)).collect());

/// The card format of a name; case and doubled blanks make no difference, and `DIN A6` is `ISO A6`.
pub fn card(name: &str) -> Option<&'static CardFormat> {
    BY_NAME.get(&words(name)).copied()
}

/// All card formats, in the order of the table.
pub fn cards() -> &'static [CardFormat] {
    &CARDS
}

/// Formats that a name could stand for: `A6` is short for `ISO A6` and for `US A6`.
pub fn alike(name: &str) -> Vec<&'static CardFormat> {
    CARDS.iter().filter(|card| stands_for(name, &card.name)).collect()
}

/// Formats whose name ends in a word, such as `card`.
pub fn ending_in(word: &str) -> Vec<&'static CardFormat> {
    let word = word.trim().to_lowercase();
    let last =
        |card: &&CardFormat| card.name.rsplit_once(' ').is_some_and(|(_, last)| last == word);
    CARDS.iter().filter(last).collect()
}

fn read(problems: &mut Problems) -> Vec<CardFormat> {
    let file = Named::new(FILE, include_bytes!("cards.csv"));
    rows(file, &COLUMNS, problems, |cells| {
        let fold = |text: &str| Fold::parse(text).ok();
        Some(CardFormat {
            name: cells.text("name")?,
            size: cells.size()?,
            fold: cells.read("fold", fold)?.unwrap_or(Fold::FLAT),
            source: cells.text("source")?,
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::plain;
    use crate::measure::Length;
    use std::collections::BTreeSet;

    #[test]
    fn the_table_is_whole() {
        let mut problems = Problems::new();
        let cards = read(&mut problems);
        assert_eq!(problems, Problems::new());
        assert_eq!(cards.len(), 28);
        assert!(cards.iter().all(|card| card.size.is_positive()));
        let unique: BTreeSet<String> = cards.iter().map(|card| plain(&card.name)).collect();
        assert_eq!(unique.len(), cards.len());
    }

    #[test]
    fn names_are_found_whatever_the_case() {
        assert_eq!(card("us  a2").unwrap().name, "US A2");
        assert_eq!(card("Place Card").unwrap().size, Size::new(inches(7, 2), inches(2, 1)));
        assert_eq!(card("tent card").unwrap().fold, Fold::TOP);
        assert_eq!(card("US A2").unwrap().fold, Fold::FLAT);
        for name in ["DIN A6", "din-a6", "ISO  a6", "ISOA6"] {
            assert_eq!(card(name).unwrap().name, "ISO A6", "{name}");
        }
        assert!(card("A2").is_none() && card("A6").is_none() && card("DIN A2").is_none());
        assert!(card("").is_none());
    }

    #[test]
    fn a_bare_name_has_its_candidates() {
        let names = |name| alike(name).iter().map(|card| card.name.as_str()).collect::<Vec<_>>();
        assert_eq!(names("a6"), ["ISO A6", "US A6"]);
        assert_eq!(names("A6 card"), ["ISO A6", "US A6"]);
        assert_eq!(names("A2"), ["US A2"]);
        assert_eq!(names("A4"), ["US A4"]);
        assert_eq!(names("card"), [""; 0]);
        assert_eq!(names("b6"), [""; 0]);
        assert_eq!(names(""), [""; 0]);
    }

    #[test]
    fn a_word_ends_several_names() {
        let names =
            |word| ending_in(word).iter().map(|card| card.name.as_str()).collect::<Vec<_>>();
        assert_eq!(names("Card"), ["place card", "tent card", "business card"]);
        assert_eq!(names("bookmark"), [""; 0]);
        assert_eq!(names(""), [""; 0]);
    }

    #[test]
    fn iso_sizes_halve_the_long_side_and_round_down() {
        // ISO 216: each size is the one before it, halved; its figures A5 148 x 210 to A8 52 x 74.
        let mm = |name: &str| {
            let size = card(name).unwrap().size;
            (size.width.ticks() / Length::TICKS_PER_MM, size.height.ticks() / Length::TICKS_PER_MM)
        };
        let mut larger = (148, 210);
        assert_eq!(mm("ISO A5"), larger);
        for name in ["ISO A6", "ISO A7", "ISO A8"] {
            larger = (larger.1 / 2, larger.0);
            assert_eq!(mm(name), larger, "{name}");
        }
    }

    fn inches(numerator: i64, denominator: i64) -> Length {
        Length::from_inch_parts(numerator, denominator)
    }
}
