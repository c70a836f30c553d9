//! What lies in envelopes: the card with its layers, and the finished sets of other lines that go in with it.

use super::given::Given;
use super::{Bill, Part, Piece, Pocket, contents, supplies};
use crate::measure::{Length, Size};
use crate::orders::{Nesting, Order, OrderLine};
use crate::stock::{KnownPapers, Stock};
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
    pockets: BTreeMap<String, Pocket>,
}

impl<'a> Enclosed<'a> {
    /// Of an order of which no pieces are known yet.
    pub(super) fn new(order: &'a Order) -> Enclosed<'a> {
        let nesting = Nesting::of(order);
        let (inside, sets, pockets) = Default::default();
        Enclosed { nesting, inside, sets, pockets }
    }

    /// For all lines of an order, whose pieces are those of this bill.
    pub fn of(order: &'a Order, bill: &Bill, stock: &Stock, workshop: &Workshop) -> Enclosed<'a> {
        let ground = Given { papers: &KnownPapers::of(stock), stock, workshop };
        let own = bill.by_line();
        let mut enclosed = Enclosed::new(order);
        for line in enclosed.nesting.inside_out() {
            let own = own.get(line.name.value.as_str()).map(Vec::as_slice).unwrap_or_default();
            enclosed.add(line, own, ground);
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

    /// The envelope of a line.
    pub fn pocket(&self, line: &OrderLine) -> Option<&Pocket> {
        self.pockets.get(&line.name.value)
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
        ground: Given,
    ) -> Bulk {
        let thick = contents(own, ground.papers) + supplies::thickness(line, ground.stock);
        let card = Bulk::of_card(line.card.value, thick);
        self.guests(line).fold(card, Bulk::and)
    }

    fn guests(&self, line: &OrderLine) -> impl Iterator<Item = Bulk> {
        let inner = self.nesting.inside(&line.name.value).iter();
        inner.filter_map(|inner| self.sets.get(&inner.name.value).copied())
    }

    /// A line with its pieces, after those that go in it.
    pub(super) fn add(&mut self, line: &OrderLine, own: &[&Piece], ground: Given) {
        let inside = self.with(line, own.iter().copied(), ground);
        let pocket = Pocket::of(line, inside, ground.stock, ground.workshop);
        let set = match &pocket {
            None => inside,
            Some(pocket) => {
                let thick = inside.thick + wrapping(pocket, own, ground.papers);
                Bulk { size: pocket.face, thick }
            }
        };
        self.pockets.extend(pocket.map(|pocket| (line.name.value.clone(), pocket)));
        self.inside.insert(line.name.value.clone(), inside);
        self.sets.insert(line.name.value.clone(), set);
    }
}

/// How thick an envelope is with its liner.
fn wrapping(pocket: &Pocket, own: &[&Piece], papers: &KnownPapers) -> Length {
    let is_wrapping = |piece: &&&Piece| matches!(piece.part, Part::Envelope | Part::EnvelopeLiner);
    let cut = own.iter().filter(is_wrapping).copied();
    let cut = super::thickness::together(cut, papers).unwrap_or_default().length();
    cut + pocket.bought_thickness().length()
}
