//! A stock-take: what somebody found who counted, as a table of it, and the table to count by.
//!
//! A row with a name says how much of that is there now; a blank count means as the files say. A row without a name is a
//! strip that lies in the drawer and is not in its file yet.

use super::edit::drafted;
use super::read::{StockReader, StockReading, check_offcut_papers};
use super::words::{GRAINS, print, word};
use super::{Back, Print, Sheet, SheetKind, Stock, SupplyKind};
use crate::diagnostics::{Place, Problem, Problems, Spanned, listed, nearest};
use crate::measure::{AmountUnit, Axis, LengthStyle, Size};
use crate::table::{self, Cell, KnownColumn, Named, Row, changed};
use crate::workshop::Workshop;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// The columns of a stock-take.
const TAKE: [KnownColumn; 9] = [
    KnownColumn::needed("name"),
    KnownColumn::optional("on file"),
    KnownColumn::needed("count"),
    KnownColumn::optional("what"),
    KnownColumn::optional("paper"),
    KnownColumn::optional("width"),
    KnownColumn::optional("height"),
    KnownColumn::optional("grain"),
    KnownColumn::optional("print"),
];

/// What can have become of what is not there.
const WHAT: [(&str, Absent); 2] =
    [("thrown away", Absent::ThrownAway), ("not found", Absent::NotFound)];

/// What the cells of a nameless row have to say.
const OF_A_STRIP: [&str; 4] = ["paper", "width", "height", "count"];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Absent {
    ThrownAway,
    NotFound,
}

/// What was found, and where it stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct StockTake {
    /// By the names of sheets, offcuts, envelopes and sundries. What is not named was not counted.
    pub found: BTreeMap<String, Spanned<Finding>>,
    /// Strips that are in no file yet.
    pub strips: Vec<FoundStrip>,
    /// The digest of the table that says so, by which it is known again.
    pub table: Option<String>,
}

/// What was found of one name; of what is measured, in parts of its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finding {
    /// As much as the files say.
    There,
    /// So much.
    Count(u64),
    /// The rest was thrown away.
    ThrownAway {
        /// What is there still.
        left: u64,
    },
    /// The rest was looked for, and not found.
    NotFound {
        /// What is there.
        left: u64,
    },
}

impl Finding {
    /// What is there, where the files say `was`.
    pub fn is(self, was: u64) -> u64 {
        match self {
            Finding::There => was,
            Finding::Count(count) => count,
            Finding::ThrownAway { left } | Finding::NotFound { left } => left,
        }
    }

    /// What is there of what was not all there.
    fn left(self) -> Option<u64> {
        match self {
            Finding::ThrownAway { left } | Finding::NotFound { left } => Some(left),
            Finding::There | Finding::Count(_) => None,
        }
    }
}

/// Equal strips that lie in the drawer without a name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FoundStrip {
    /// Their paper.
    pub paper: String,
    /// Width and height, in the directions of the sheet that they come from.
    pub size: Size,
    /// How many.
    pub count: u64,
    /// Direction of the fibres, where known.
    pub grain: Option<Axis>,
    /// How the design of the face may lie.
    pub print: Print,
    /// How that of the back may lie.
    pub back: Back,
    /// Where they stand in the table.
    pub place: Option<Place>,
}

impl FoundStrip {
    /// The strips as an offcut that is put in the drawer under a name.
    pub fn named(&self, name: &str, since: Date) -> Sheet {
        let FoundStrip { size, count, grain, print, back, ref place, .. } = *self;
        Sheet {
            kind: SheetKind::Offcut,
            on_hand: count,
            grain,
            print,
            back,
            since: Some(since),
            place: place.clone(),
            ..Sheet::plain(name, &self.paper, size)
        }
    }
}

/// What a thing of the stock is.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum StockKind {
    /// A full sheet.
    Sheet,
    /// An offcut.
    Offcut,
    /// A bought envelope.
    Envelope,
    /// Whatever else is bought ready-made.
    Sundry,
}

impl StockKind {
    /// All of them, in the order of their files.
    pub const ALL: [StockKind; 4] =
        [StockKind::Sheet, StockKind::Offcut, StockKind::Envelope, StockKind::Sundry];

    /// `sheet`, `offcut`, `envelope`, `sundry`.
    pub fn word(self) -> &'static str {
        match self {
            StockKind::Sheet => "sheet",
            StockKind::Offcut => "offcut",
            StockKind::Envelope => SupplyKind::Envelope.word(),
            StockKind::Sundry => SupplyKind::Sundry.word(),
        }
    }
}

/// What the files say of one name.
#[derive(Clone, Debug)]
pub struct KnownCount<'a> {
    /// What it is.
    pub kind: StockKind,
    /// The sheet or offcut; `None` of an envelope or a sundry.
    pub sheet: Option<&'a Sheet>,
    /// What it is counted in.
    pub unit: AmountUnit,
    /// How much there is, in parts of that.
    pub count: u64,
}

impl Stock {
    /// All names, with what the files say of each.
    pub fn on_file(&self) -> BTreeMap<&str, KnownCount<'_>> {
        let sheets = self.sheets.iter().map(|sheet| {
            let kind = match sheet.kind {
                SheetKind::Sheet => StockKind::Sheet,
                SheetKind::Offcut => StockKind::Offcut,
            };
            let (unit, count) = (AmountUnit::default(), sheet.on_hand);
            (sheet.id.as_str(), KnownCount { kind, sheet: Some(sheet), unit, count })
        });
        let supplies = self.supplies().map(|(kind, supply)| {
            let kind = match kind {
                SupplyKind::Envelope => StockKind::Envelope,
                SupplyKind::Sundry => StockKind::Sundry,
            };
            let (unit, count) = (supply.unit.clone(), supply.on_hand);
            (supply.name.as_str(), KnownCount { kind, sheet: None, unit, count })
        });
        sheets.chain(supplies).collect()
    }
}

impl StockTake {
    /// Holds what was found against what the files say.
    pub fn check(&self, stock: &Stock, problems: &mut Problems) {
        if self.found.is_empty() && self.strips.is_empty() {
            let problem = Problem::error("take-empty", "nothing is counted");
            problems.push(problem.help(LIST));
        }
        let on_file = stock.on_file();
        for (name, finding) in &self.found {
            let place = finding.place.as_ref();
            match (on_file.get(name.as_str()), finding.value.left()) {
                (None, _) => problems.push(unknown(name, place, &on_file)),
                (Some(known), Some(left)) if left > 0 && left >= known.count => {
                    let [left, count] = [left, known.count].map(|it| known.unit.told(it));
                    let title = format!("`{name}`: {left} left of {count}, so none are gone");
                    let problem = Problem::error("take-count", title);
                    problems.push(
                        problem
                            .at(place, format!("expected less than {count}, as the file says"))
                            .help("`count` is what is there now; leave `what` blank to correct it"),
                    );
                }
                _ => {}
            }
        }
        for strip in &self.strips {
            if strip.count == 0 || !strip.size.is_positive() || strip.paper.is_empty() {
                problems.push(no_strip(strip.place.as_ref(), &OF_A_STRIP));
            }
        }
        let full = stock.sheets.iter().filter(|sheet| sheet.kind == SheetKind::Sheet);
        let full: Vec<Sheet> = full.cloned().collect();
        let strips = self.strips.iter().map(|strip| strip.named("", Date::ZERO));
        check_offcut_papers(&full, &strips.collect::<Vec<_>>(), problems);
    }
}

/// How to come to a table to count by.
const LIST: &str = "`cardwright shelf count` writes a table of all you have, to count by";

fn unknown(name: &str, place: Option<&Place>, on_file: &BTreeMap<&str, KnownCount>) -> Problem {
    let label = match nearest(name, on_file.keys().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "expected the name of a sheet, offcut, envelope or sundry".to_owned(),
    };
    Problem::error("take-name", format!("nothing of your stock is called `{name}`"))
        .at(place, label)
        .help("leave the name of a new strip blank: it gets one")
}

fn no_strip(place: Option<&Place>, missing: &[&str]) -> Problem {
    Problem::error("take-strip", "a row without a name is a new strip, and says too little of it")
        .at(place, format!("expected {}", listed(missing)))
        .help("measure the strip in the directions of its sheet; or write the name of what you counted")
}

/// Reads the table of a stock-take; `None` where it is no such table. All mistakes become problems.
pub fn read_take(
    file: Named,
    stock: &Stock,
    workshop: &Workshop,
    problems: &mut Problems,
) -> Option<StockTake> {
    let mut reading = StockReading { workshop, ids: BTreeMap::new(), problems };
    let on_file = stock.on_file();
    let rows = reading.file(&TAKE, Some(file), |row, reader| TakeRow::read(row, &on_file, reader));
    let mut take = StockTake::default();
    let mut told = Problems::of_file(file.name);
    let is_empty = rows.as_ref().is_some_and(Vec::is_empty) && !problems.has_errors();
    for row in rows.iter().flatten().cloned() {
        match row {
            TakeRow::Strip(strip) => take.strips.push(strip),
            TakeRow::Named(name, finding) => match take.found.get(&name) {
                Some(first) => told.push(twice(&name, &finding, first)),
                None => drop(take.found.insert(name, finding)),
            },
        }
    }
    if is_empty || !(take.found.is_empty() && take.strips.is_empty()) {
        take.check(stock, &mut told);
    }
    problems.append(told);
    rows.map(|_| take)
}

fn twice(name: &str, second: &Spanned<Finding>, first: &Spanned<Finding>) -> Problem {
    let line = first.place.as_ref().map_or(0, |place| place.line);
    Problem::error("take-name", format!("`{name}` is counted twice"))
        .at(second.place.as_ref(), format!("first counted in line {line}"))
        .help("add both counts up, in one row")
}

/// A row that says something.
#[derive(Clone, Debug)]
enum TakeRow {
    Named(String, Spanned<Finding>),
    Strip(FoundStrip),
}

impl TakeRow {
    fn read(
        row: &Row<'_>,
        on_file: &BTreeMap<&str, KnownCount>,
        reader: &mut StockReader,
    ) -> Option<TakeRow> {
        let Some(name) = row.cell("name") else {
            let is_blank = TAKE.iter().all(|column| row.cell(column.name).is_none());
            return if is_blank { None } else { strip(row, reader).map(TakeRow::Strip) };
        };
        let Some(known) = on_file.get(name.text()) else {
            reader.problems.push(unknown(name.text(), Some(&name.place()), on_file));
            return None;
        };
        let amount = |cell: &Cell<'_>, column: &str, reader: &mut StockReader| match known.sheet {
            Some(_) => reader.count(cell, column, 0),
            None => reader.amount(cell, column, &known.unit),
        };
        let count = row.optional("count", |cell| amount(cell, "count", reader));
        let was = row.optional("on file", |cell| amount(cell, "on file", reader));
        let what = row.optional("what", |cell| absent(cell, reader));
        if let (Some(Some(was)), Some(cell)) = (was, row.cell("on file"))
            && was != known.count
        {
            reader.problems.push(outdated(&cell, known));
        }
        check_same(row, known, reader);
        let finding = match (what?, count?) {
            (None, None) => Finding::There,
            (None, Some(count)) => Finding::Count(count),
            (Some(Absent::ThrownAway), left) => {
                Finding::ThrownAway { left: left.unwrap_or_default() }
            }
            (Some(Absent::NotFound), left) => Finding::NotFound { left: left.unwrap_or_default() },
        };
        Some(TakeRow::Named(name.text().to_owned(), name.spanned(finding)))
    }
}

fn absent(cell: &Cell<'_>, reader: &mut StockReader) -> Option<Absent> {
    let read = cell.misread("take-what", "word").word(cell.text(), &WHAT);
    read.map_err(|problem| reader.problems.push(*problem)).ok()
}

/// The table was written, and then the files were changed: what was counted may be what was cut since.
fn outdated(cell: &Cell<'_>, known: &KnownCount) -> Problem {
    let title = "the files have changed since this table was written";
    Problem::error("take-since", title)
        .at(Some(&cell.place()), format!("on file now: {}", known.unit.told(known.count)))
        .help("look what is there now, correct both numbers, or write a new table")
        .help(LIST)
}

/// A stock-take says how much there is of a thing, not what it is.
fn check_same(row: &Row<'_>, known: &KnownCount, reader: &mut StockReader) {
    let expected = |column: &str, reader: &mut StockReader| -> Option<String> {
        let cell = row.cell(column)?;
        let Some(sheet) = known.sheet else { return Some("nothing".to_owned()) };
        let style = reader.workshop.style();
        let (is_same, is) = match column {
            "paper" => (cell.text() == sheet.paper, sheet.paper.clone()),
            "width" | "height" => {
                let side = if column == "width" { sheet.size.width } else { sheet.size.height };
                (reader.side(&cell, column)? == side, style.with_unit(side))
            }
            "grain" => {
                let is = sheet.grain.map_or("nothing", |grain| word(&GRAINS, &grain));
                (Some(reader.grain(&cell)?) == sheet.grain, is.to_owned())
            }
            _ => {
                let is = print(sheet.print, sheet.back);
                (reader.print(&cell)? == (sheet.print, sheet.back), is)
            }
        };
        (!is_same).then_some(is)
    };
    for column in ["paper", "width", "height", "grain", "print"] {
        let Some(is) = expected(column, reader) else { continue };
        let misread = row.cell(column).map(|cell| cell.misread("take-other", column));
        reader.problems.extend(misread.map(|misread| {
            misread
                .problem("is not as the file says", format!("expected {is}"))
                .help("a stock-take changes counts alone: for another strip, leave its name blank")
        }));
    }
}

fn strip(row: &Row<'_>, reader: &mut StockReader) -> Option<FoundStrip> {
    let missing: Vec<&str> =
        OF_A_STRIP.into_iter().filter(|column| row.cell(column).is_none()).collect();
    if !missing.is_empty() {
        reader.problems.push(no_strip(row.place().as_ref(), &missing));
    }
    if let Some(what) = row.cell("what") {
        let misread = what.misread("take-what", "`what`");
        let expected = "expected nothing beside a strip that is new";
        reader.problems.push(misread.problem("has no name beside it", expected));
    }
    let width = row.optional("width", |cell| reader.side(cell, "width"));
    let height = row.optional("height", |cell| reader.side(cell, "height"));
    let count = row.optional("count", |cell| reader.count(cell, "count", 1));
    let grain = row.optional("grain", |cell| reader.grain(cell));
    let design = row.optional("print", |cell| reader.print(cell));
    let (print, back) = design?.unwrap_or_default();
    Some(FoundStrip {
        paper: row.cell("paper")?.text().to_owned(),
        size: Size::new(width??, height??),
        count: count??,
        grain: grain?,
        print,
        back,
        place: row.place(),
    })
    .filter(|_| row.cell("what").is_none())
}

/// A table of all that is on file, to count by, its cells parted like those of the file of sheets.
pub fn take_list(stock: &Stock, sheets: &str, style: LengthStyle) -> String {
    let columns = TAKE.map(|column| column.name);
    let text = columns.join(&table::delimiter(sheets).to_string()) + "\n";
    let sheets = stock.sheets.iter().map(|sheet| {
        let grain = sheet.grain.map_or("", |grain| word(&GRAINS, &grain));
        vec![
            ("name", sheet.id.clone()),
            ("on file", sheet.on_hand.to_string()),
            ("paper", sheet.paper.clone()),
            ("width", style.with_unit(sheet.size.width)),
            ("height", style.with_unit(sheet.size.height)),
            ("grain", grain.to_owned()),
            ("print", print(sheet.print, sheet.back)),
        ]
    });
    let supplies = stock.supplies().map(|(_, supply)| {
        vec![("name", supply.name.clone()), ("on file", supply.unit.told(supply.on_hand))]
    });
    let rows: Vec<Vec<(&'static str, String)>> = sheets.chain(supplies).collect();
    let changes = drafted(&text, &TAKE, |draft, _| rows.iter().for_each(|row| draft.append(row)));
    changed(&text, &changes).unwrap_or_default()
}

#[cfg(test)]
mod tests;
