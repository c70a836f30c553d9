//! The cells of what belongs to a card besides: its liner's kind, envelope liner, insert, band, box.

use super::{OrderReader, paper};
use crate::diagnostics::{Problem, Spanned};
use crate::folds::{Fold, FoldStyle};
use crate::measure::{CountError, Length, Size, Usual, parse_count};
use crate::orders::card::{self, FoldedSize};
use crate::orders::{Band, Envelope, Extras, GiftBox, Insert, Liner, LinerKind, papers};
use crate::table::{Cell, Row};

/// Width of a band unless the order says so: 1 1/2 in or 40 mm (common practice, no source).
const USUAL_BAND: Usual = Usual::new(3, 2, 40);

/// Most sets in one box.
const MOST_IN_A_BOX: u64 = 1000;

impl OrderReader<'_> {
    /// The liner and its kind; `None` where it has a mistake.
    pub(super) fn liner(&mut self, row: &Row<'_>, fold: Option<Fold>) -> Option<Option<Liner>> {
        let Some(liner) = self.with_detail(row, "liner", "liner kind") else { return Some(None) };
        let kind = match fold.map(|fold| fold.style) {
            Some(FoldStyle::French) => {
                let misread = liner.misread("order-liner-fold", "liner");
                let problem = misread.problem("does not suit this fold", "expected no liner");
                self.problems.push(problem.help(
                    "inside a french fold, every panel is creased: glue a mat on the front, or lay an insert in",
                ));
                return None;
            }
            Some(FoldStyle::Accordion(panels)) => self.liner_panel(row, &liner, panels)?,
            _ => {
                let kind = row.optional("liner kind", |kind| self.liner_kind(kind, fold))?;
                kind.unwrap_or(LinerKind::Panel)
            }
        };
        Some(Some(Liner { paper: paper(&liner), kind }))
    }

    /// The panel of an accordion that its liner lies on: it has to be named.
    fn liner_panel(&mut self, row: &Row<'_>, liner: &Cell<'_>, panels: u8) -> Option<LinerKind> {
        let cell = row.cell("liner kind");
        let named = cell.as_ref().and_then(|cell| {
            let text = cell.text().trim().to_lowercase();
            parse_count(text.strip_prefix("panel")?.trim()).ok()
        });
        let named = named.and_then(|panel| u8::try_from(panel).ok());
        match named.filter(|panel| (1..=panels).contains(panel)) {
            Some(panel) => Some(LinerKind::PanelOf(panel)),
            None => {
                let misread =
                    cell.as_ref().unwrap_or(liner).misread("order-liner-kind", "liner kind");
                let expected =
                    format!("expected the panel that it lies on, panel 1 to panel {panels}");
                self.problems.push(
                    misread
                        .problem("names no panel of this accordion", expected)
                        .help("write it in the column `liner kind`; panel 1 is the inside of the front, and the next ones follow it"),
                );
                None
            }
        }
    }

    fn liner_kind(&mut self, cell: &Cell<'_>, fold: Option<Fold>) -> Option<LinerKind> {
        let misread = cell.misread("order-liner-kind", "liner kind");
        let words = [("panel", LinerKind::Panel), ("folded", LinerKind::Folded)];
        let problem = match misread.word(cell.text(), &words) {
            Ok(LinerKind::Folded) if fold == Some(Fold::FLAT) => misread
                .problem("does not suit a flat card", "expected panel")
                .help("a folded liner needs a fold: set `fold` to side or top"),
            Ok(LinerKind::Folded) if fold.is_some_and(|fold| fold.style != FoldStyle::Half) => misread
                .problem("does not suit this fold", "expected panel")
                .help("a folded liner has one fold, as a card has that opens like a book: `side` or `top`"),
            Ok(kind) => return Some(kind),
            Err(problem) => *problem,
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
        let envelope = row.cell("envelope").map(|cell| papers::no_paper(&cell));
        if matches!(envelope, None | Some(Some(Envelope::PostedWithout))) {
            self.unused(&cell, "envelope liner", "envelope");
            return None;
        }
        Some(paper(&cell))
    }

    fn insert(&mut self, row: &Row<'_>, card: Option<FoldedSize>) -> Option<Option<Insert>> {
        let Some(insert) = self.with_detail(row, "insert", "insert size") else {
            return Some(None);
        };
        let size = row.optional("insert size", |cell| self.insert_size(cell, card))?;
        Some(Some(Insert { paper: paper(&insert), size }))
    }

    fn insert_size(&mut self, cell: &Cell<'_>, card: Option<FoldedSize>) -> Option<Size> {
        let size = card::read(cell, "insert size", &self.style, self.own, self.problems)?.size;
        let Some(card) = card.map(|card| card.size) else { return Some(size) };
        if size.short() <= card.short() && size.long() <= card.long() {
            return Some(size);
        }
        let misread = cell.misread("order-insert-size", "insert size");
        let at_most = format!("expected at most {}", self.style.size(card));
        self.problems.push(
            misread
                .problem("is larger than the card", at_most)
                .help("the envelope and box fit the card; order a larger insert as its own line"),
        );
        None
    }

    fn band(&mut self, row: &Row<'_>, card: Option<FoldedSize>) -> Option<Option<Band>> {
        let Some(band) = self.with_detail(row, "band", "band width") else { return Some(None) };
        let most = card.map_or(Length::MAX, |card| card.size.height);
        let width = row.optional("band width", |cell| self.band_width(cell, most))?;
        let width = width.unwrap_or(USUAL_BAND.of(self.style.unit).min(most));
        Some(Some(Band { paper: paper(&band), width }))
    }

    fn band_width(&mut self, cell: &Cell<'_>, most: Length) -> Option<Length> {
        let misread = cell.misread("order-band-width", "band width");
        let problem = match Length::parse(cell.text(), self.style.unit) {
            Ok(width) if width >= Length::LEAST_SIDE && width <= most => return Some(width),
            Ok(width) if width > most => {
                let at_most = format!("expected at most {}", self.style.with_unit(most));
                misread.problem("is more than the card's height", at_most)
            }
            Ok(width) if width.is_positive() => {
                let least =
                    format!("expected at least {}", self.style.with_unit(Length::LEAST_SIDE));
                misread.problem("is too small to cut", least)
            }
            Ok(_) => misread.problem("is not above zero", "expected a length above zero"),
            Err(error) => misread.length(error, &self.style),
        };
        self.problems.push(problem);
        None
    }

    fn gift_box(&mut self, row: &Row<'_>) -> Option<Option<GiftBox>> {
        let Some(gift_box) = self.with_detail(row, "box", "per box") else { return Some(None) };
        let holds = row.optional("per box", |cell| self.per_box(cell))?.unwrap_or(1);
        Some(Some(GiftBox { paper: paper(&gift_box), holds }))
    }

    fn per_box(&mut self, cell: &Cell<'_>) -> Option<u64> {
        let misread = cell.misread("order-per-box", "per box");
        let problem = match parse_count(cell.text()) {
            Ok(0) => misread.problem("is zero", "expected at least 1"),
            Ok(count) if count <= MOST_IN_A_BOX => return Some(count),
            Ok(_) | Err(CountError::TooLarge) => misread
                .problem("is too large", format!("expected at most {MOST_IN_A_BOX}"))
                .help("count the finished sets in one box"),
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
