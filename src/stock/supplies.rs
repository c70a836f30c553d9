//! What is bought ready-made beside paper: envelopes, and sundries such as ribbon and seals.

use super::read::StockReader;
use super::{PaperFacts, Stock};
use crate::diagnostics::{Misread, Place, Problem};
use crate::formats::{MailContents, guessed_thickness, plain};
use crate::measure::{AmountError, AmountUnit, Money, Ratio, Size, Thickness, Weight, parse_count};
use crate::table::{Cell, KnownColumn, Row};

/// The columns of a file of envelopes.
pub(super) const ENVELOPES: [KnownColumn; 8] = [
    KnownColumn::needed("envelope"),
    KnownColumn::needed("size"),
    KnownColumn::optional("on hand"),
    KnownColumn::optional("price"),
    KnownColumn::optional("pack"),
    KnownColumn::optional("gsm"),
    KnownColumn::optional("thickness"),
    KnownColumn::optional("colour"),
];

/// The columns of a file of sundries.
pub(super) const SUNDRIES: [KnownColumn; 9] = [
    KnownColumn::needed("sundry"),
    KnownColumn::optional("unit"),
    KnownColumn::optional("on hand"),
    KnownColumn::optional("price"),
    KnownColumn::optional("pack"),
    KnownColumn::optional("grams"),
    KnownColumn::optional("thickness"),
    KnownColumn::optional("seconds"),
    KnownColumn::optional("post"),
];

/// Most seconds that a sundry takes a card: an hour.
const LONGEST: u64 = 3600;

/// Something that is bought ready-made: how much of it there is, and what more of it costs. Amounts are in parts of its
/// unit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StockItem {
    /// Its name, unique in the whole stock.
    pub name: String,
    /// What it is counted in.
    pub unit: AmountUnit,
    /// How much lies in the workshop.
    pub on_hand: u64,
    /// Price of a pack; `None` where it cannot be bought.
    pub price: Option<Money>,
    /// How much is in a pack, more than nothing.
    pub pack: u64,
    /// Where it stands in its file.
    pub place: Option<Place>,
}

impl StockItem {
    /// What so much of it is worth, in minor units: its share of a pack; nothing where it has no price.
    pub fn worth(&self, amount: u64) -> Ratio {
        let price = self.price.map_or(0, Money::minor);
        Ratio::new(i128::from(price) * i128::from(amount), self.pack.max(1).into())
    }

    /// Packs that have to be bought where so much is needed.
    pub fn packs_for(&self, amount: u64) -> u64 {
        amount.saturating_sub(self.on_hand).div_ceil(self.pack.max(1))
    }

    /// Whether any can be had.
    pub fn is_available(&self) -> bool {
        self.on_hand > 0 || self.price.is_some()
    }
}

/// An envelope that is bought.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadyEnvelope {
    /// How many there are.
    pub supply: StockItem,
    /// Outside, its long side across.
    pub size: Size,
    /// Its paper, as far as it is known.
    pub paper: PaperFacts,
    /// Whether an address in ink cannot be read on it.
    pub is_dark: bool,
}

/// Whatever else is put on or in a card.
#[derive(Clone, Debug, PartialEq)]
pub struct Sundry {
    /// How much there is.
    pub supply: StockItem,
    /// What one unit of it weighs, where that is known.
    pub weight: Option<Weight>,
    /// How much thicker it makes a card, where that is known.
    pub thickness: Option<Thickness>,
    /// Seconds that it takes a card.
    pub seconds: u64,
    /// What it does to a letter.
    pub post: MailContents,
}

impl Sundry {
    /// What so much of it weighs.
    pub fn weight_of(&self, amount: u64) -> Option<Weight> {
        let parts = i128::from(self.supply.unit.parts());
        let picograms = i128::from(self.weight?.picograms()) * i128::from(amount);
        let nearest = Ratio::new(picograms, parts).nearest();
        Some(Weight::from_picograms(i64::try_from(nearest).unwrap_or(i64::MAX)))
    }
}

/// Which file of supplies.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum SupplyKind {
    /// `envelopes.csv`.
    Envelope,
    /// `sundries.csv`.
    Sundry,
}

impl SupplyKind {
    /// `envelope`, `sundry`.
    pub fn word(self) -> &'static str {
        match self {
            SupplyKind::Envelope => "envelope",
            SupplyKind::Sundry => "sundry",
        }
    }
}

impl Stock {
    /// All supplies, envelopes first.
    pub fn supplies(&self) -> impl Iterator<Item = (SupplyKind, &StockItem)> {
        let envelopes = self.envelopes.iter().map(|it| (SupplyKind::Envelope, &it.supply));
        envelopes.chain(self.sundries.iter().map(|it| (SupplyKind::Sundry, &it.supply)))
    }

    /// The same, to be changed.
    pub fn supplies_mut(&mut self) -> impl Iterator<Item = &mut StockItem> {
        let envelopes = self.envelopes.iter_mut().map(|it| &mut it.supply);
        envelopes.chain(self.sundries.iter_mut().map(|it| &mut it.supply))
    }

    /// All names that are taken.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        let sheets = self.sheets.iter().map(|sheet| sheet.id.as_str());
        sheets.chain(self.supplies().map(|(_, supply)| supply.name.as_str()))
    }

    /// The supply of a name.
    pub fn supply(&self, name: &str) -> Option<(SupplyKind, &StockItem)> {
        self.supplies().find(|(_, supply)| supply.name == name)
    }

    /// The envelope of a name.
    pub fn envelope(&self, name: &str) -> Option<&ReadyEnvelope> {
        self.envelopes.iter().find(|envelope| envelope.supply.name == name)
    }

    /// The sundry of a name.
    pub fn sundry(&self, name: &str) -> Option<&Sundry> {
        self.sundries.iter().find(|sundry| sundry.supply.name == name)
    }
}

impl StockReader<'_> {
    /// Reads every cell of a row before it gives the row up.
    pub(super) fn envelope(&mut self, row: &Row<'_>) -> Option<ReadyEnvelope> {
        let name = row.needed("envelope", self.problems);
        let name = name.and_then(|cell| self.supply_name(&cell)).and_then(|cell| self.id(&cell));
        let size = row.needed("size", self.problems).and_then(|cell| self.envelope_size(&cell));
        let supply = self.supply(row, AmountUnit::default());
        let gsm = row.optional("gsm", |cell| self.gsm(cell))?;
        let thickness = row.optional("thickness", |cell| self.thickness(cell))?;
        let colour = row.cell("colour").map(|cell| cell.text().to_lowercase()).unwrap_or_default();
        Some(ReadyEnvelope {
            size: size?,
            supply: StockItem { name: name?, ..supply? },
            paper: PaperFacts {
                weight: gsm,
                thickness: thickness.or(gsm.map(guessed_thickness)),
                guessed: thickness.is_none() && gsm.is_some(),
            },
            is_dark: colour.split_whitespace().any(|word| word == "dark"),
        })
    }

    /// The same of a sundry.
    pub(super) fn sundry(&mut self, row: &Row<'_>) -> Option<Sundry> {
        let name = row.needed("sundry", self.problems);
        let name = name.and_then(|cell| self.supply_name(&cell)).and_then(|cell| self.id(&cell));
        let unit = row.cell("unit").map(|cell| AmountUnit::of(cell.text())).unwrap_or_default();
        let supply = self.supply(row, unit);
        let weight = row.optional("grams", |cell| self.grams(cell));
        let thickness = row.optional("thickness", |cell| self.thickness(cell));
        let seconds = row.optional("seconds", |cell| self.seconds(cell));
        let post = row.optional("post", |cell| self.post(cell));
        Some(Sundry {
            supply: StockItem { name: name?, ..supply? },
            weight: weight?,
            thickness: thickness?,
            seconds: seconds?.unwrap_or_default(),
            post: post?.unwrap_or_default(),
        })
    }

    /// A name that an order can mean.
    fn supply_name<'a>(&mut self, cell: &Cell<'a>) -> Option<Cell<'a>> {
        let is_word = ["bought", "posted without"].contains(&plain(cell.text()).as_str());
        if is_word || cell.text().contains('+') {
            let title = format!("nothing can be called `{}`", cell.text());
            let why = match is_word {
                true => "in an order, this word means something else",
                false => "in an order, a + stands between two sundries",
            };
            let problem = Problem::error("stock-supply-name", title).at(Some(&cell.place()), why);
            self.problems.push(problem.help("give it another name"));
            return None;
        }
        Some(*cell)
    }

    /// How much there is, and what more costs; its name is read apart.
    fn supply(&mut self, row: &Row<'_>, unit: AmountUnit) -> Option<StockItem> {
        let on_hand = row.optional("on hand", |cell| self.amount(cell, "on hand", &unit));
        let price = row.optional("price", |cell| self.price(cell));
        let pack = row.optional("pack", |cell| {
            let pack = self.amount(cell, "pack", &unit)?;
            if pack == 0 {
                let misread = cell.misread("stock-count", "pack");
                self.problems.push(misread.problem("is zero", "expected more than nothing"));
            }
            Some(pack).filter(|pack| *pack > 0)
        });
        Some(StockItem {
            name: String::new(),
            on_hand: on_hand?.unwrap_or_default(),
            price: price?,
            pack: pack?.unwrap_or(unit.parts()),
            place: row.place(),
            unit,
        })
    }

    pub(super) fn amount(&mut self, cell: &Cell<'_>, name: &str, unit: &AmountUnit) -> Option<u64> {
        match unit.parse(cell.text()) {
            Ok(amount) => Some(amount),
            Err(error) => {
                let misread = cell.misread("stock-count", name);
                self.problems.push(no_amount(&misread, error, unit));
                None
            }
        }
    }

    /// A name of the program's or the workshop's own sizes, or width and height, either way round.
    fn envelope_size(&mut self, cell: &Cell<'_>) -> Option<Size> {
        let mut known = self.workshop.formats.all_envelopes();
        let size = match known.find(|it| it.is_called(cell.text())) {
            Some(named) => Some(named.size),
            None => match Size::parse(cell.text(), self.workshop.unit) {
                Some(Ok(size)) if size.is_positive() => Some(size),
                _ => None,
            },
        };
        if size.is_none() {
            let misread = cell.misread("stock-envelope", "size");
            let expected = "expected the size of an envelope, such as US A7 or 7 1/4 x 5 1/4";
            let problem = misread.problem("is not known", expected);
            self.problems.push(problem.help("`cardwright sizes envelopes` lists all names"));
        }
        size.map(|size| Size::new(size.long(), size.short()))
    }

    fn grams(&mut self, cell: &Cell<'_>) -> Option<Weight> {
        let text = cell.text().trim();
        let number = text.strip_suffix('g').unwrap_or(text).trim_end();
        let weight = Weight::parse(&format!("{number} g"));
        if weight.is_none() {
            let misread = cell.misread("stock-grams", "grams");
            let expected = "expected what one unit of it weighs in grams, such as 0.4";
            self.problems.push(misread.problem("is not a weight", expected));
        }
        weight
    }

    fn seconds(&mut self, cell: &Cell<'_>) -> Option<u64> {
        let seconds = parse_count(cell.text()).ok().filter(|seconds| *seconds <= LONGEST);
        if seconds.is_none() {
            let misread = cell.misread("stock-count", "seconds");
            let expected = format!("expected whole seconds a card, at most {LONGEST}");
            self.problems.push(misread.problem("is not a number of seconds", expected));
        }
        seconds
    }

    fn post(&mut self, cell: &Cell<'_>) -> Option<MailContents> {
        let words = [
            ("rigid", MailContents { is_rigid: true, is_uneven: false }),
            ("uneven", MailContents { is_rigid: false, is_uneven: true }),
        ];
        let read = cell.misread("stock-post", "post").word(cell.text(), &words);
        read.map_err(|problem| self.problems.push(*problem)).ok()
    }
}

/// Why a cell is no amount of this unit.
pub fn no_amount(misread: &Misread, error: AmountError, unit: &AmountUnit) -> Problem {
    let expected = match unit.word() {
        "" => "expected a whole number".to_owned(),
        word => format!("expected an amount, such as 12 {word}"),
    };
    match error {
        AmountError::NotANumber => misread.problem("is not a number", expected),
        AmountError::Doubtful => misread
            .problem("can be read in two ways", expected)
            .help("write a point before decimals, nothing between thousands, and a blank before a fraction"),
        AmountError::TooFine => misread.problem("is too fine", expected),
        AmountError::OtherUnit => misread.problem("has another unit", expected),
        AmountError::TooLarge => misread.problem("is too large", expected),
    }
}
