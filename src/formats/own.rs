//! Formats that a workshop has of its own, beside those of the trade.

use super::contents::called;
use super::list::plain;
use super::names::{means, words};
use super::{CardFormat, EnvelopeFormat, SheetFormat, card, cards, envelopes, sheets};
use crate::measure::Size;
use std::collections::BTreeSet;

/// Formats of a workshop. A name that the trade has too means the workshop's.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OwnFormats {
    /// Finished cards.
    pub cards: Vec<CardFormat>,
    /// Envelopes that it buys.
    pub envelopes: Vec<EnvelopeFormat>,
    /// Full sheets that it buys.
    pub sheets: Vec<SheetFormat>,
    /// Plain names of those with a mistake: told where they stand, and not again where they are used.
    pub mistaken: BTreeSet<String>,
}

impl OwnFormats {
    /// The card format of a name; case and doubled blanks make no difference. `DIN A6` is `ISO A6`, and `DL` is the
    /// card that goes into it, unless the workshop has an envelope of its own by that name.
    pub fn card<'a>(&'a self, name: &str) -> Option<&'a CardFormat> {
        let known = |name: &str| {
            let is_named = |own: &&CardFormat| words(&own.name) == words(name);
            self.cards.iter().find(is_named).or_else(|| card(name))
        };
        let is_own = || self.envelopes.iter().any(|own| means(&own.name, name));
        known(name).or_else(|| called(name).filter(|_| !is_own()).and_then(known))
    }

    /// Whether a name is that of a format with a mistake.
    pub fn is_mistaken(&self, name: &str) -> bool {
        self.mistaken.contains(&plain(name))
    }

    /// All card formats, its own first.
    pub fn all_cards(&self) -> impl Iterator<Item = &CardFormat> {
        self.cards.iter().chain(others(cards(), &self.cards, |card| &card.name))
    }

    /// All envelopes, its own first.
    pub fn all_envelopes(&self) -> impl Iterator<Item = &EnvelopeFormat> {
        let own = &self.envelopes;
        own.iter().chain(others(envelopes(), own, |envelope| &envelope.name))
    }

    /// Whether sheets of this size, either way round, are sold with rough edges.
    pub fn is_untrimmed(&self, size: Size) -> bool {
        let mut untrimmed = self.all_sheets().filter(|sheet| !sheet.trimmed);
        untrimmed.any(|sheet| sheet.size == size || sheet.size.turned() == size)
    }

    /// All sheets, its own first.
    pub fn all_sheets(&self) -> impl Iterator<Item = &SheetFormat> {
        self.sheets.iter().chain(others(sheets(), &self.sheets, |sheet| &sheet.name))
    }
}

/// Those of the trade whose names the workshop has not given to something of its own.
fn others<'a, T>(
    all: &'a [T],
    own: &'a [T],
    name: impl Fn(&T) -> &str + Copy + 'a,
) -> impl Iterator<Item = &'a T> {
    let is_own = move |it: &&T| own.iter().any(|own| plain(name(own)) == plain(name(it)));
    all.iter().filter(move |it| !is_own(it))
}

/// Whether a name can be told from a size and from the words that mean something else.
pub fn is_name(name: &str) -> bool {
    const WORDS: [&str; 5] = ["cards", "envelopes", "sheets", "papers", "post"];
    let name = plain(name);
    name.starts_with(char::is_alphabetic) && !WORDS.contains(&name.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::folds::Fold;
    use crate::measure::Length;
    use crate::measure::Size;

    #[test]
    fn a_name_of_ones_own_stands_for_the_trades() {
        let mini = Size::new(Length::from_mm(1), Length::from_mm(1));
        let source = "this workshop".to_owned();
        let own = CardFormat { name: "us  a2".to_owned(), size: mini, fold: Fold::FLAT, source };
        let formats = OwnFormats { cards: vec![own], ..OwnFormats::default() };
        assert_eq!(formats.card("US A2").unwrap().size, mini);
        assert_eq!(formats.all_cards().count(), cards().len());
    }

    #[test]
    fn a_card_may_have_the_name_of_its_envelope() {
        let mut formats = OwnFormats::default();
        assert_eq!(formats.card("DL").unwrap().name, "third of ISO A4");
        assert_eq!(formats.card("DIN A6").unwrap().name, "ISO A6");
        assert_eq!(formats.card("C6"), None);
        let size = Size::new(Length::from_mm(230), Length::from_mm(120));
        let source = "this workshop".to_owned();
        formats.envelopes.push(EnvelopeFormat {
            name: "dl".to_owned(),
            size,
            system: None,
            source,
        });
        assert_eq!(formats.card("DL"), None, "whose card is not known");
    }

    #[test]
    fn names_are_no_sizes() {
        for name in ["mini", "No 5", "\u{e9}cu"] {
            assert!(is_name(name), "{name}");
        }
        for name in ["", " ", "5 x 5", "1/2", "post", "Cards", "=1"] {
            assert!(!is_name(name), "{name}");
        }
    }
}
