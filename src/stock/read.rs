//! `sheets.csv` and `offcuts.csv` to stock.

use super::edges::COLUMN;
use super::supplies::{ENVELOPES, SUNDRIES};
use super::words::{self, BACKS, EDGES, FACES, GRAINS};
use super::{
    Back, PerFile, Print, ReadyEnvelope, RoughEdges, Sheet, SheetKind, Stock, USUAL_NAMES,
};
use crate::diagnostics::{Misread, Place, Problem, Problems, nearest};
use crate::formats::parse_paper_weight;
use crate::measure::{Axis, CountError, Length, LengthError, Money, Size, Thickness, parse_count};
use crate::table::{self, Cell, KnownColumn, Named, Row};
use crate::workshop::Workshop;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// Most sheets of a kind, and most in a pack.
const MOST: u64 = 1_000_000;

/// The columns of a file of sheets.
pub(super) const SHEETS: [KnownColumn; 12] = [
    KnownColumn::needed("sheet"),
    KnownColumn::needed("paper"),
    KnownColumn::needed("width"),
    KnownColumn::needed("height"),
    KnownColumn::optional("on hand"),
    KnownColumn::optional("price"),
    KnownColumn::optional("pack"),
    KnownColumn::optional("grain"),
    KnownColumn::optional("print"),
    KnownColumn::optional("gsm"),
    KnownColumn::optional("thickness"),
    KnownColumn::optional("rough edges"),
];

/// The columns of each file.
pub fn columns() -> PerFile<&'static [KnownColumn]> {
    PerFile { sheets: &SHEETS, offcuts: &OFFCUTS, envelopes: &ENVELOPES, sundries: &SUNDRIES }
}

/// The columns of a drawer.
pub(super) const OFFCUTS: [KnownColumn; 9] = [
    KnownColumn::needed("offcut"),
    KnownColumn::needed("paper"),
    KnownColumn::needed("width"),
    KnownColumn::needed("height"),
    KnownColumn::optional("count"),
    KnownColumn::optional("grain"),
    KnownColumn::optional("print"),
    KnownColumn::optional("from"),
    KnownColumn::optional("since"),
];

/// Reads the stock from the names and bytes of its files. All but that of the sheets may be missing.
///
/// All mistakes become problems. What is without mistakes is returned; `None` where a file is no table of what it
/// should hold.
pub fn read(
    files: PerFile<Option<Named>>,
    workshop: &Workshop,
    problems: &mut Problems,
) -> Option<Stock> {
    let PerFile { sheets, offcuts, envelopes, sundries } = files;
    let mut reading = StockReading { workshop, ids: BTreeMap::new(), problems };
    let sheets = sheets.unwrap_or(Named::new(USUAL_NAMES.sheets, ""));
    let full =
        reading.file(&SHEETS, Some(sheets), |row, reader| reader.sheet(row, SheetKind::Sheet));
    let saved = reading.file(&OFFCUTS, offcuts, |row, reader| reader.sheet(row, SheetKind::Offcut));
    let envelopes = reading.file(&ENVELOPES, envelopes, |row, reader| reader.envelope(row));
    let sundries = reading.file(&SUNDRIES, sundries, |row, reader| reader.sundry(row));
    let (full, saved) = (full?, saved?);
    check_offcut_papers(&full, &saved, problems);
    let (envelopes, sundries) = (envelopes?, sundries?);
    check_envelope_names(&full, &saved, &envelopes, problems);
    let sheets = [full, saved].concat();
    Some(Stock { sheets, envelopes, sundries })
}

/// Names of all papers in the bytes of the files, also in rows with mistakes.
pub fn papers(files: PerFile<Option<Named>>) -> BTreeSet<String> {
    in_column("paper", [files.sheets, files.offcuts])
}

/// Likewise of all envelopes.
pub fn envelopes(files: PerFile<Option<Named>>) -> BTreeSet<String> {
    in_column("envelope", [files.envelopes])
}

/// What stands in a column of some files; what cannot be read is left out.
pub fn in_column<'a>(
    column: &'static str,
    files: impl IntoIterator<Item = Option<Named<'a>>>,
) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    for file in files.into_iter().flatten() {
        // Mistakes are told when the stock is read.
        let mut told = Problems::of_file(file.name);
        let table = table::read(file.name, file.bytes, &mut told);
        let wanted = [KnownColumn::needed(column)];
        let columns = table.as_ref().and_then(|table| table.columns(&wanted, &mut told));
        if let Some(columns) = columns {
            names
                .extend(columns.rows().filter_map(|row| Some(row.cell(column)?.text().to_owned())));
        }
    }
    names
}

/// Where each id was first given: file and line.
pub(super) type Ids = BTreeMap<String, String>;

/// All files of a stock, one after the other.
pub(super) struct StockReading<'a> {
    pub(super) workshop: &'a Workshop,
    pub(super) ids: Ids,
    pub(super) problems: &'a mut Problems,
}

impl StockReading<'_> {
    /// What `read` makes of the rows of a file; nothing where there is no file, `None` where it has not such columns.
    pub(super) fn file<T>(
        &mut self,
        wanted: &[KnownColumn],
        file: Option<Named>,
        read: impl Fn(&Row<'_>, &mut StockReader) -> Option<T>,
    ) -> Option<Vec<T>> {
        let Some(file) = file else { return Some(Vec::new()) };
        let mut found = Problems::of_file(file.name);
        let table = table::read(file.name, file.bytes, &mut found);
        let columns = table.as_ref().and_then(|table| table.columns(wanted, &mut found));
        let (workshop, ids) = (self.workshop, &mut self.ids);
        let rows = columns.map(|columns| {
            let mut reader = StockReader { workshop, ids, problems: &mut found };
            columns.rows().filter_map(|row| read(&row, &mut reader)).collect()
        });
        self.problems.append(found);
        rows
    }
}

pub(super) struct StockReader<'a> {
    pub(super) workshop: &'a Workshop,
    ids: &'a mut Ids,
    pub(super) problems: &'a mut Problems,
}

impl StockReader<'_> {
    /// Reads every cell of a row before it gives the row up.
    fn sheet(&mut self, row: &Row<'_>, kind: SheetKind) -> Option<Sheet> {
        let is_offcut = kind == SheetKind::Offcut;
        let id = row.needed(if is_offcut { "offcut" } else { "sheet" }, self.problems);
        let id = id.and_then(|cell| self.id(&cell));
        let paper = row.needed("paper", self.problems);
        let width = row.needed("width", self.problems);
        let width = width.and_then(|cell| self.side(&cell, "width"));
        let height = row.needed("height", self.problems);
        let height = height.and_then(|cell| self.side(&cell, "height"));
        let on_hand = if is_offcut { "count" } else { "on hand" };
        let on_hand = row.optional(on_hand, |cell| self.count(cell, on_hand, 0));
        let price = row.optional("price", |cell| self.price(cell));
        let pack = row.optional("pack", |cell| self.count(cell, "pack", 1));
        let grain = row.optional("grain", |cell| self.grain(cell));
        let print = row.optional("print", |cell| self.print(cell));
        let gsm = row.optional("gsm", |cell| self.gsm(cell));
        let thickness = row.optional("thickness", |cell| self.thickness(cell));
        let edges = row.optional(COLUMN, |cell| self.rough_edges(cell));
        let since = row.optional("since", |cell| self.since(cell));
        let (print, back) = print?.unwrap_or((Print::Free, Back::Free));
        Some(Sheet {
            id: id?,
            kind,
            paper: paper?.text().to_owned(),
            size: Size::new(width?, height?),
            rough_edges: edges?.unwrap_or_default(),
            on_hand: on_hand?.unwrap_or(u64::from(is_offcut)),
            price: price?,
            pack: pack?.unwrap_or(1),
            grain: grain?,
            print,
            back,
            milligrams_per_square_metre: gsm?,
            thickness: thickness?,
            from: row.cell("from").map(|cell| cell.text().to_owned()),
            since: since?,
            place: row.place(),
        })
    }

    pub(super) fn id(&mut self, cell: &Cell<'_>) -> Option<String> {
        let place = cell.place();
        if let Some(first) = self.ids.get(cell.text()) {
            let title = format!("two things of your stock are called `{}`", cell.text());
            self.problems.push(
                Problem::error("stock-sheet-doubled", title)
                    .at(Some(&place), format!("first used in {first}"))
                    .help("give each its own name, across all files"),
            );
            return None;
        }
        let first = format!("{}, line {}", place.file, place.line);
        self.ids.insert(cell.text().to_owned(), first);
        Some(cell.text().to_owned())
    }

    pub(super) fn side(&mut self, cell: &Cell<'_>, name: &str) -> Option<Length> {
        let misread = cell.misread("stock-size", name);
        self.above_zero(&misread, Length::parse(cell.text(), self.workshop.unit))
    }

    pub(super) fn thickness(&mut self, cell: &Cell<'_>) -> Option<Thickness> {
        let misread = cell.misread("stock-thickness", "thickness");
        match Thickness::parse(cell.text(), self.workshop.unit) {
            Err(LengthError::NotANumber) => {
                let example = "expected the thickness of a sheet, such as 0.012 in or 0.3 mm";
                self.problems.push(misread.problem("is not a length", example));
                None
            }
            read => self.above_zero(&misread, read),
        }
    }

    /// A length or thickness above zero.
    fn above_zero<T: Default + PartialOrd>(
        &mut self,
        misread: &Misread,
        read: Result<T, LengthError>,
    ) -> Option<T> {
        let problem = match read {
            Ok(length) if length > T::default() => return Some(length),
            Ok(_) => misread.problem("is not above zero", "expected a length above zero"),
            Err(error) => misread.length(error, &self.workshop.style()),
        };
        self.problems.push(problem);
        None
    }

    pub(super) fn count(&mut self, cell: &Cell<'_>, name: &str, least: u64) -> Option<u64> {
        let misread = cell.misread("stock-count", name);
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

    pub(super) fn price(&mut self, cell: &Cell<'_>) -> Option<Money> {
        let currency = &self.workshop.currency;
        match currency.parse(cell.text()) {
            Ok(Money::ZERO) => {
                let problem = Problem::warning("stock-price-free", "price is 0");
                self.problems.push(
                    problem
                        .at(Some(&cell.place()), "read as: as many packs as you like, for nothing")
                        .help("leave the cell blank if you cannot buy more"),
                );
                Some(Money::ZERO)
            }
            Ok(price) => Some(price),
            Err(error) => {
                self.problems.push(cell.misread("stock-price", "price").money(error, currency));
                None
            }
        }
    }

    pub(super) fn grain(&mut self, cell: &Cell<'_>) -> Option<Axis> {
        let grain = cell.misread("stock-grain", "grain").word(cell.text(), &GRAINS);
        grain.map_err(|problem| self.problems.push(*problem)).ok()
    }

    /// The design of the face, and behind a `/` that of the back.
    pub(super) fn print(&mut self, cell: &Cell<'_>) -> Option<(Print, Back)> {
        let (face, back) = cell.text().split_once('/').unwrap_or((cell.text(), "free"));
        let face = cell.misread("stock-print", "print").word(face.trim(), &FACES);
        let face = face.map_err(|problem| self.problems.push(*problem)).ok()?;
        let back = cell.misread("stock-print", "print of the back").word(back.trim(), &BACKS);
        let back = back.map_err(|problem| self.problems.push(*problem)).ok()?;
        if back == Back::Tumbled && face != Print::OneWay {
            self.problems.push(tumbled(face, &cell.place()));
            return Some((face, Back::OneWay));
        }
        Some((face, back))
    }

    fn rough_edges(&mut self, cell: &Cell<'_>) -> Option<RoughEdges> {
        let edges = cell.misread("stock-edges", COLUMN).word(cell.text(), &EDGES);
        edges.map_err(|problem| self.problems.push(*problem)).ok()
    }

    pub(super) fn gsm(&mut self, cell: &Cell<'_>) -> Option<u64> {
        let gsm = parse_paper_weight(cell.text());
        if gsm.is_none() {
            let misread = cell.misread("stock-gsm", "gsm");
            let expected = "expected grams per square metre, such as 176 or 175.8, or 65 lb cover";
            self.problems.push(
                misread
                    .problem("is not a weight", expected)
                    .help("write at most three decimals; leave it blank if you do not know it"),
            );
        }
        gsm
    }

    fn since(&mut self, cell: &Cell<'_>) -> Option<Date> {
        let date = cell.text().parse().ok();
        if date.is_none() {
            let misread = cell.misread("stock-date", "since");
            self.problems.push(misread.date());
        }
        date
    }
}

/// A back that has its up where the foot of the face is, although the face has neither.
fn tumbled(face: Print, place: &Place) -> Problem {
    let read = words::print(face, Back::OneWay);
    Problem::warning("stock-print-tumbled", "the back is tumbled, but the face has no up")
        .at(Some(place), format!("read as {read}: the back has an up"))
        .help(format!(
            "write `{read}`; or `one-way/tumbled` if the face has an up, at the other edge"
        ))
}

/// Warns of offcuts whose paper is nearly, but not quite, one of the sheets'.
pub(super) fn check_offcut_papers(full: &[Sheet], saved: &[Sheet], problems: &mut Problems) {
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
                .help("an offcut is used only for the paper it names, letter by letter"),
        );
    }
}

/// Tells of envelopes that are called like a paper: an order could mean either.
fn check_envelope_names(
    full: &[Sheet],
    saved: &[Sheet],
    envelopes: &[ReadyEnvelope],
    problems: &mut Problems,
) {
    let papers: BTreeSet<&str> =
        full.iter().chain(saved).map(|sheet| sheet.paper.as_str()).collect();
    let supplies = envelopes.iter().map(|envelope| &envelope.supply);
    for supply in supplies.filter(|supply| papers.contains(supply.name.as_str())) {
        problems.push(
            Problem::error("stock-envelope-paper", format!("`{}` is a paper, too", supply.name))
                .at(supply.place.as_ref(), "expected a name that no paper has")
                .help("an order could mean either: give the envelope another name"),
        );
    }
}

#[cfg(test)]
mod tests;
