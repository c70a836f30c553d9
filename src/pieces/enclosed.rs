//! What lies in envelopes: the card with its layers, and the finished sets of other lines that go in with it.

use super::{Bill, ENVELOPE_LAYERS, Part, Piece, Pocket, bought_paper, contents};
use crate::measure::{Length, Size};
use crate::orders::{Envelope, Nesting, Order, OrderLine};
use crate::stock::KnownPapers;
use crate::workshop::Workshop;
use std::collections::BTreeMap;

/// How large something is as it lies, and how thick; of paper of which nothing is known, nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bulk {
    /// The least rectangle that holds it, its long side across.
    pub size: Size,
    /// How thick it is.
    pub thick: Length,
}

impl Bulk {
    /// A card as it lies closed.
    pub fn of_card(card: Size, thick: Length) -> Bulk {
        Bulk { size: Size::new(card.long(), card.short()), thick }
    }

    /// With another thing on it.
    fn and(self, other: Bulk) -> Bulk {
        let width = self.size.width.max(other.size.width);
        let height = self.size.height.max(other.size.height);
        Bulk { size: Size::new(width, height), thick: self.thick + other.thick }
    }
}

/// What lies in the envelope of each line, and how large and thick its finished set is.
#[derive(Debug)]
pub struct Enclosed<'a> {
    nesting: Nesting<'a>,
    inside: BTreeMap<String, Bulk>,
    sets: BTreeMap<String, Bulk>,
}

impl<'a> Enclosed<'a> {
    /// Of an order of which no pieces are known yet.
    pub(super) fn new(order: &'a Order) -> Enclosed<'a> {
        Enclosed { nesting: Nesting::of(order), inside: BTreeMap::new(), sets: BTreeMap::new() }
    }

    /// For all lines of an order, whose pieces are those of this bill.
    pub fn of(
        order: &'a Order,
        bill: &Bill,
        papers: &KnownPapers,
        workshop: &Workshop,
    ) -> Enclosed<'a> {
        let own = bill.by_line();
        let mut enclosed = Enclosed::new(order);
        for line in enclosed.nesting.inside_out() {
            let own = own.get(line.name.value.as_str()).map(Vec::as_slice).unwrap_or_default();
            enclosed.add(line, own, papers, workshop);
        }
        enclosed
    }

    /// Which sets lie in which envelopes.
    pub fn nesting(&self) -> &Nesting<'a> {
        &self.nesting
    }

    /// What lies in the envelope of a line, or its closed card where it has none.
    pub fn inside(&self, line: &OrderLine) -> Bulk {
        let known = self.inside.get(&line.name.value).copied();
        known.unwrap_or_else(|| Bulk::of_card(line.card.value, Length::ZERO))
    }

    /// How thick the sets are together that lie in the envelope of a line.
    pub(super) fn thickness(&self, line: &OrderLine) -> Length {
        self.guests(line).map(|set| set.thick).sum()
    }

    /// The same for a line of which so many pieces are known; those that go in it are known already.
    pub(super) fn with<'b>(
        &self,
        line: &OrderLine,
        own: impl IntoIterator<Item = &'b Piece>,
        papers: &KnownPapers,
    ) -> Bulk {
        let card = Bulk::of_card(line.card.value, contents(own, papers));
        self.guests(line).fold(card, Bulk::and)
    }

    fn guests(&self, line: &OrderLine) -> impl Iterator<Item = Bulk> {
        let inner = self.nesting.inside(&line.name.value).iter();
        inner.filter_map(|inner| self.sets.get(&inner.name.value).copied())
    }

    /// A line with its pieces, after those that go in it.
    pub(super) fn add(
        &mut self,
        line: &OrderLine,
        own: &[&Piece],
        papers: &KnownPapers,
        workshop: &Workshop,
    ) {
        let inside = self.with(line, own.iter().copied(), papers);
        let set = match Pocket::of(line, inside, workshop) {
            None => inside,
            Some(pocket) => {
                let thick = inside.thick + wrapping(line, own, papers);
                Bulk { size: pocket.face, thick }
            }
        };
        self.inside.insert(line.name.value.clone(), inside);
        self.sets.insert(line.name.value.clone(), set);
    }
}

/// How thick the envelope of a line is with its liner.
fn wrapping(line: &OrderLine, own: &[&Piece], papers: &KnownPapers) -> Length {
    let is_wrapping = |piece: &&&Piece| matches!(piece.part, Part::Envelope | Part::EnvelopeLiner);
    let cut = own.iter().filter(is_wrapping).copied();
    let cut = super::thickness::together(cut, papers).unwrap_or_default().length();
    match line.envelope {
        Envelope::Bought => {
            cut + (bought_paper().thickness.unwrap_or_default() * ENVELOPE_LAYERS).length()
        }
        Envelope::None | Envelope::PostedWithout | Envelope::Cut(_) => cut,
    }
}
