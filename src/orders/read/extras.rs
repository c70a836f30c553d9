//! The cells of what belongs to a card besides: its liner's kind, envelope liner, insert, band, box.

use super::{Reader, paper};
use crate::diagnostics::{Misread, Problem, Spanned};
use crate::measure::{CountError, Length, Size, Usual, parse_count};
use crate::orders::card::{self, FoldedSize};
use crate::orders::{Band, Extras, Fold, GiftBox, Insert, Liner};
use crate::table::{Cell, Row};

/// Width of a band unless the order says so: 1 1/2 in or 40 mm (common practice, no source).
const USUAL_BAND: Usual = Usual::new((3, 2), 40);

/// Most sets in one box.
const MOST_IN_A_BOX: u64 = 1000;

impl Reader<'_> {
    /// The liner and its kind; `None` where it has a mistake.
    pub(super) fn liner(&mut self, row: &Row<'_>, fold: Option<Fold>) -> Option<Option<Liner>> {
        let liner = self.with_detail(row, "liner", "liner kind");
        let folded = match row.cell("liner kind").filter(|_| liner.is_some()) {
            None => false,
            Some(kind) => self.liner_kind(&kind, fold)?,
        };
        Some(liner.map(|cell| Liner { paper: paper(&cell), folded }))
    }

    fn liner_kind(&mut self, cell: &Cell<'_>, fold: Option<Fold>) -> Option<bool> {
        let place = cell.place();
        let misread = Misread { code: "order-liner-kind", name: "liner kind", place: Some(&place) };
        let problem = match cell.text().to_lowercase().as_str() {
            "panel" => return Some(false),
            "folded" if fold != Some(Fold::Flat) => return Some(true),
            "folded" => misread
                .problem("does not suit a flat card", "expected panel")
                .help("a folded liner lies in the fold of a card: give `fold` as side or top"),
            _ => misread.choice(cell.text(), &["panel", "folded"]),
        };
        self.problems.push(problem);
        None
    }

    /// What belongs to the card besides; `None` where a cell of it has a mistake.
    pub(super) fn extras(&mut self, row: &Row<'_>, card: Option<FoldedSize>) -> Option<Extras> {
        let insert = self.insert(row, card);
        let band = self.band(row, card);
        let gift_box = self.gift_box(row);
        let envelope_liner = self.envelope_liner(row);
        Some(Extras { envelope_liner, insert: insert?, band: band?, gift_box: gift_box? })
    }

    /// Whatever lines an envelope needs one.
    fn envelope_liner(&mut self, row: &Row<'_>) -> Option<Spanned<String>> {
        let cell = row.cell("envelope liner")?;
        if row.cell("envelope").is_none() {
            self.unused(&cell, "envelope liner", "envelope");
            return None;
        }
        Some(paper(&cell))
    }

    fn insert(&mut self, row: &Row<'_>, card: Option<FoldedSize>) -> Option<Option<Insert>> {
        let Some(insert) = self.with_detail(row, "insert", "insert size") else {
            return Some(None);
        };
        let size = match row.cell("insert size") {
            None => None,
            Some(cell) => Some(self.insert_size(&cell, card)?),
        };
        Some(Some(Insert { paper: paper(&insert), size }))
    }

    fn insert_size(&mut self, cell: &Cell<'_>, card: Option<FoldedSize>) -> Option<Size> {
        let size = card::read(cell, "insert size", (&self.style, self.own), self.problems)?.size;
        let Some(card) = card.map(|card| card.size) else { return Some(size) };
        if size.short() <= card.short() && size.long() <= card.long() {
            return Some(size);
        }
        let place = cell.place();
        let misread =
            Misread { code: "order-insert-size", name: "insert size", place: Some(&place) };
        let at_most = format!("expected at most {}", self.style.size(card));
        self.problems.push(
            misread
                .problem("is larger than the card", at_most)
                .help("envelope and box are made for the card; order a larger insert as a line"),
        );
        None
    }

    fn band(&mut self, row: &Row<'_>, card: Option<FoldedSize>) -> Option<Option<Band>> {
        let Some(band) = self.with_detail(row, "band", "band width") else { return Some(None) };
        let width = match row.cell("band width") {
            None => {
                let usual = USUAL_BAND.of(self.style.unit);
                card.map_or(usual, |card| usual.min(card.size.height))
            }
            Some(cell) => self.band_width(&cell, card)?,
        };
        Some(Some(Band { paper: paper(&band), width }))
    }

    fn band_width(&mut self, cell: &Cell<'_>, card: Option<FoldedSize>) -> Option<Length> {
        let place = cell.place();
        let misread = Misread { code: "order-band-width", name: "band width", place: Some(&place) };
        let most = card.map_or(Length::MAX, |card| card.size.height);
        let problem = match Length::parse(cell.text(), self.style.unit) {
            Ok(width) if width.is_positive() && width <= most => return Some(width),
            Ok(width) if width > most => {
                let card =
                    format!("expected at most the card's height, {}", self.style.with_unit(most));
                misread.problem("is more than the card is high", card)
            }
            Ok(_) => misread.problem("is not above zero", "expected a length above zero"),
            Err(error) => misread.length(error, &self.style),
        };
        self.problems.push(problem);
        None
    }

    fn gift_box(&mut self, row: &Row<'_>) -> Option<Option<GiftBox>> {
        let Some(gift_box) = self.with_detail(row, "box", "per box") else { return Some(None) };
        let holds = match row.cell("per box") {
            None => 1,
            Some(cell) => self.per_box(&cell)?,
        };
        Some(Some(GiftBox { paper: paper(&gift_box), holds }))
    }

    fn per_box(&mut self, cell: &Cell<'_>) -> Option<u64> {
        let place = cell.place();
        let misread = Misread { code: "order-per-box", name: "per box", place: Some(&place) };
        let problem = match parse_count(cell.text()) {
            Ok(0) => misread.problem("is zero", "expected at least 1"),
            Ok(count) if count <= MOST_IN_A_BOX => return Some(count),
            Ok(_) | Err(CountError::TooLarge) => misread
                .problem("is too large", format!("expected at most {MOST_IN_A_BOX}"))
                .help("it is the number of finished sets in one box"),
            Err(error) => misread.count(error, "sets"),
        };
        self.problems.push(problem);
        None
    }

    /// A cell that says a paper, and a warning where another cell describes it although it is blank.
    fn with_detail<'a>(&mut self, row: &Row<'a>, column: &str, detail: &str) -> Option<Cell<'a>> {
        let cell = row.cell(column);
        if let (None, Some(detailed)) = (&cell, row.cell(detail)) {
            self.unused(&detailed, detail, column);
        }
        cell
    }

    fn unused(&mut self, cell: &Cell<'_>, name: &str, column: &str) {
        self.problems.push(
            Problem::warning("order-unused", format!("`{name}` without `{column}`"))
                .at(Some(&cell.place()), "not used")
                .help(format!("fill in the column `{column}`, or clear this cell")),
        );
    }
}
