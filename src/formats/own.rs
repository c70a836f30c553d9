//! Formats that a workshop has of its own, beside those of the trade.

use super::list::plain;
use super::{CardFormat, EnvelopeFormat, SheetFormat, card, cards, envelopes, sheets};

/// Formats of a workshop. A name that the trade has too means the workshop's.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OwnFormats {
    /// Finished cards.
    pub cards: Vec<CardFormat>,
    /// Envelopes that it buys.
    pub envelopes: Vec<EnvelopeFormat>,
    /// Full sheets that it buys.
    pub sheets: Vec<SheetFormat>,
}

impl OwnFormats {
    /// The card format of a name; case and doubled blanks make no difference.
    pub fn card<'a>(&'a self, name: &str) -> Option<&'a CardFormat> {
        self.cards.iter().find(|own| plain(&own.name) == plain(name)).or_else(|| card(name))
    }

    /// All card formats, its own first.
    pub fn all_cards(&self) -> impl Iterator<Item = &CardFormat> {
        self.cards.iter().chain(cards())
    }

    /// All envelopes, its own first.
    pub fn all_envelopes(&self) -> impl Iterator<Item = &EnvelopeFormat> {
        self.envelopes.iter().chain(envelopes())
    }

    /// All sheets, its own first.
    pub fn all_sheets(&self) -> impl Iterator<Item = &SheetFormat> {
        self.sheets.iter().chain(sheets())
    }
}
