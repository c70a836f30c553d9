//! `sheets.csv` and `offcuts.csv` to stock.

use super::{Back, Print, Sheet, SheetKind, Stock};
use crate::diagnostics::{Misread, Problem, Problems, nearest};
use crate::formats::parse_paper_weight;
use crate::measure::{Axis, CountError, Length, Money, Size, parse_count};
use crate::table::{self, Cell, Column, Row};
use crate::workshop::Workshop;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// Most sheets of a kind, and most in a pack.
const MOST: u64 = 1_000_000;

/// The columns of a file of sheets.
pub(super) const SHEETS: [Column; 11] = [
    Column::needed("sheet"),
    Column::needed("paper"),
    Column::needed("width"),
    Column::needed("height"),
    Column::optional("on hand"),
    Column::optional("price"),
    Column::optional("pack"),
    Column::optional("grain"),
    Column::optional("print"),
    Column::optional("gsm"),
    Column::optional("thickness"),
];

/// The columns of a drawer.
pub(super) const OFFCUTS: [Column; 9] = [
    Column::needed("offcut"),
    Column::needed("paper"),
    Column::needed("width"),
    Column::needed("height"),
    Column::optional("count"),
    Column::optional("grain"),
    Column::optional("print"),
    Column::optional("from"),
    Column::optional("since"),
];

/// Reads the stock from the names and bytes of the files of sheets and, where there is one, offcuts.
///
/// All mistakes become problems. The sheets without mistakes are returned; `None` where a file is no
/// table of sheets or offcuts.
pub fn read(
    sheets: (&str, &[u8]),
    offcuts: Option<(&str, &[u8])>,
    workshop: &Workshop,
    problems: &mut Problems,
) -> Option<Stock> {
    let mut ids = BTreeMap::new();
    let full = read_file(SheetKind::Sheet, sheets, workshop, &mut ids, problems);
    let saved = match offcuts {
        Some(file) => read_file(SheetKind::Offcut, file, workshop, &mut ids, problems)?,
        None => Vec::new(),
    };
    let full = full?;
    check_offcut_papers(&full, &saved, problems);
    Some(Stock { sheets: [full, saved].concat() })
}

/// Names of all papers in the bytes of these files of sheets or offcuts, also in rows with mistakes.
pub fn papers<'a>(files: impl IntoIterator<Item = (&'a str, &'a [u8])>) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    for (file, bytes) in files {
        // Mistakes are told when the stock is read.
        let mut told = Problems::of_file(file);
        let table = table::read(file, bytes, &mut told);
        let wanted = [Column::needed("paper")];
        let columns = table.as_ref().and_then(|table| table.columns(&wanted, &mut told));
        if let Some(columns) = columns {
            names.extend(
                columns.rows().filter_map(|row| Some(row.cell("paper")?.text().to_owned())),
            );
        }
    }
    names
}

/// Where each id was first given: file and line.
type Ids = BTreeMap<String, String>;

fn read_file(
    kind: SheetKind,
    (file, bytes): (&str, &[u8]),
    workshop: &Workshop,
    ids: &mut Ids,
    problems: &mut Problems,
) -> Option<Vec<Sheet>> {
    let mut found = Problems::of_file(file);
    let wanted: &[Column] = match kind {
        SheetKind::Sheet => &SHEETS,
        SheetKind::Offcut => &OFFCUTS,
    };
    let table = table::read(file, bytes, &mut found);
    let columns = table.as_ref().and_then(|table| table.columns(wanted, &mut found));
    let sheets = columns.map(|columns| {
        let mut reader = Reader { kind, workshop, ids, problems: &mut found };
        columns.rows().filter_map(|row| reader.sheet(&row)).collect()
    });
    problems.append(found);
    sheets
}

struct Reader<'a> {
    kind: SheetKind,
    workshop: &'a Workshop,
    ids: &'a mut Ids,
    problems: &'a mut Problems,
}

impl Reader<'_> {
    /// Reads every cell of a row before it gives the row up.
    fn sheet(&mut self, row: &Row<'_>) -> Option<Sheet> {
        let is_offcut = self.kind == SheetKind::Offcut;
        let id = row.needed(if is_offcut { "offcut" } else { "sheet" }, self.problems);
        let id = id.and_then(|cell| self.id(&cell));
        let paper = row.needed("paper", self.problems);
        let width = row.needed("width", self.problems);
        let width = width.and_then(|cell| self.side(&cell, "width"));
        let height = row.needed("height", self.problems);
        let height = height.and_then(|cell| self.side(&cell, "height"));
        let on_hand = match is_offcut {
            true => self.optional(row, "count", |reader, cell| reader.count(cell, "count", 0)),
            false => self.optional(row, "on hand", |reader, cell| reader.count(cell, "on hand", 0)),
        };
        let price = self.optional(row, "price", Reader::price);
        let pack = self.optional(row, "pack", |reader, cell| reader.count(cell, "pack", 1));
        let grain = self.optional(row, "grain", Reader::grain);
        let print = self.optional(row, "print", Reader::print);
        let gsm = self.optional(row, "gsm", Reader::gsm);
        let thickness = self.optional(row, "thickness", Reader::thickness);
        let since = self.optional(row, "since", Reader::since);
        let faces = print?.unwrap_or((Print::Free, Back::Free));
        Some(Sheet {
            id: id?,
            kind: self.kind,
            paper: paper?.text().to_owned(),
            size: Size::new(width?, height?),
            on_hand: on_hand?.unwrap_or(u64::from(is_offcut)),
            price: price?,
            pack: pack?.unwrap_or(1),
            grain: grain?,
            print: faces.0,
            back: faces.1,
            milligrams_per_square_metre: gsm?,
            thickness: thickness?,
            from: row.cell("from").map(|cell| cell.text().to_owned()),
            since: since?,
            place: row.place(),
        })
    }

    /// `Some(None)` for a blank cell, `None` for one with a mistake.
    fn optional<T>(
        &mut self,
        row: &Row<'_>,
        column: &str,
        read: impl FnOnce(&mut Self, &Cell<'_>) -> Option<T>,
    ) -> Option<Option<T>> {
        match row.cell(column) {
            None => Some(None),
            Some(cell) => read(self, &cell).map(Some),
        }
    }

    fn id(&mut self, cell: &Cell<'_>) -> Option<String> {
        let place = cell.place();
        if let Some(first) = self.ids.get(cell.text()) {
            let title = format!("two sheets or offcuts are called `{}`", cell.text());
            self.problems.push(
                Problem::error("stock-sheet-doubled", title)
                    .at(Some(&place), format!("the first stands in {first}"))
                    .help("give each its own name, over both files"),
            );
            return None;
        }
        let first = format!("{}, line {}", place.file, place.line);
        self.ids.insert(cell.text().to_owned(), first);
        Some(cell.text().to_owned())
    }

    fn side(&mut self, cell: &Cell<'_>, name: &str) -> Option<Length> {
        self.length(cell, "stock-size", name)
    }

    fn thickness(&mut self, cell: &Cell<'_>) -> Option<Length> {
        self.length(cell, "stock-thickness", "thickness")
    }

    /// A length above zero.
    fn length(&mut self, cell: &Cell<'_>, code: &'static str, name: &str) -> Option<Length> {
        let place = cell.place();
        let misread = Misread { code, name, place: Some(&place) };
        let style = self.workshop.style();
        let problem = match Length::parse(cell.text(), style.unit) {
            Ok(length) if length.is_positive() => return Some(length),
            Ok(_) => misread.problem("is not above zero", "expected a length above zero"),
            Err(error) => misread.length(error, &style),
        };
        self.problems.push(problem);
        None
    }

    fn count(&mut self, cell: &Cell<'_>, name: &str, least: u64) -> Option<u64> {
        let place = cell.place();
        let misread = Misread { code: "stock-count", name, place: Some(&place) };
        let problem = match parse_count(cell.text()) {
            Ok(count) if count < least => {
                misread.problem("is zero", format!("expected at least {least}"))
            }
            Ok(count) if count <= MOST => return Some(count),
            Ok(_) | Err(CountError::TooLarge) => {
                misread.problem("is too large", format!("expected at most {MOST}"))
            }
            Err(error) => misread.count(error, "sheets"),
        };
        self.problems.push(problem);
        None
    }

    fn price(&mut self, cell: &Cell<'_>) -> Option<Money> {
        let place = cell.place();
        let currency = &self.workshop.currency;
        match currency.parse(cell.text()) {
            Ok(Money::ZERO) => {
                let problem = Problem::warning("stock-price-free", "a price of 0");
                self.problems.push(
                    problem
                        .at(Some(&place), "read as: any number of packs for nothing")
                        .help("leave the cell blank where the sheet cannot be bought"),
                );
                Some(Money::ZERO)
            }
            Ok(price) => Some(price),
            Err(error) => {
                let misread = Misread { code: "stock-price", name: "price", place: Some(&place) };
                self.problems.push(misread.money(error, currency));
                None
            }
        }
    }

    fn grain(&mut self, cell: &Cell<'_>) -> Option<Axis> {
        match cell.text().to_lowercase().as_str() {
            "width" => Some(Axis::Width),
            "height" => Some(Axis::Height),
            _ => self.no_choice(cell, ("stock-grain", "grain"), &["width", "height"]),
        }
    }

    /// The design of the face, and behind a `/` that of the back.
    fn print(&mut self, cell: &Cell<'_>) -> Option<(Print, Back)> {
        let text = cell.text().to_lowercase();
        let (face, back) = text.split_once('/').unwrap_or((&text, "free"));
        let face = match face.trim() {
            "free" => Some(Print::Free),
            "two-way" => Some(Print::TwoWay),
            "one-way" => Some(Print::OneWay),
            _ => None,
        };
        let back = match back.trim() {
            "free" => Some(Back::Free),
            "two-way" => Some(Back::TwoWay),
            "one-way" => Some(Back::OneWay),
            "tumbled" => Some(Back::Tumbled),
            _ => None,
        };
        if face.is_none() || !text.contains('/') {
            let words = ["free", "two-way", "one-way"];
            let face = face.or_else(|| self.no_choice(cell, ("stock-print", "print"), &words));
            return face.zip(back);
        }
        if back.is_none() {
            let place = cell.place();
            let name = "print of the back";
            let misread = Misread { code: "stock-print", name, place: Some(&place) };
            let found = text.split_once('/').map(|(_, back)| back.trim()).unwrap_or_default();
            let words = ["free", "two-way", "one-way", "tumbled"];
            self.problems.push(misread.choice(found, &words));
        }
        face.zip(back)
    }

    fn no_choice<T>(
        &mut self,
        cell: &Cell<'_>,
        (code, name): (&'static str, &str),
        words: &[&str],
    ) -> Option<T> {
        let place = cell.place();
        let misread = Misread { code, name, place: Some(&place) };
        self.problems.push(misread.choice(cell.text(), words));
        None
    }

    fn gsm(&mut self, cell: &Cell<'_>) -> Option<u64> {
        let gsm = parse_paper_weight(cell.text());
        if gsm.is_none() {
            let place = cell.place();
            let misread = Misread { code: "stock-gsm", name: "gsm", place: Some(&place) };
            let expected = "expected grams per square metre, such as 176 or 175.8, or 65 lb cover";
            self.problems.push(
                misread
                    .problem("is not a weight", expected)
                    .help("at most three decimals; leave it blank where it is not known"),
            );
        }
        gsm
    }

    fn since(&mut self, cell: &Cell<'_>) -> Option<Date> {
        let date = cell.text().parse().ok();
        if date.is_none() {
            let place = cell.place();
            let misread = Misread { code: "stock-date", name: "since", place: Some(&place) };
            self.problems.push(misread.date());
        }
        date
    }
}

/// Warns of offcuts whose paper is nearly, but not quite, one of the sheets'.
fn check_offcut_papers(full: &[Sheet], saved: &[Sheet], problems: &mut Problems) {
    let papers: BTreeSet<&str> = full.iter().map(|sheet| sheet.paper.as_str()).collect();
    let strange: BTreeMap<&str, &Sheet> = saved
        .iter()
        .rev()
        .map(|offcut| (offcut.paper.as_str(), offcut))
        .filter(|(paper, _)| !papers.contains(paper))
        .collect();
    for (paper, offcut) in strange {
        let Some(near) = nearest(paper, papers.iter().copied()) else { continue };
        problems.push(
            Problem::warning("stock-paper", format!("no full sheet of paper `{paper}`"))
                .at(offcut.place.as_ref(), format!("did you mean `{near}`?"))
                .help("an offcut is used for the paper it names, letter by letter"),
        );
    }
}

#[cfg(test)]
mod tests;
