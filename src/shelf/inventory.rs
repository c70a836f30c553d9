//! What lies on a shelf: how much of each paper, what it is worth, how long it has lain, what it yields.

use crate::cuts::Bench;
use crate::folds::{Blank, Fold, FoldedPaper};
use crate::formats::CardFormat;
use crate::measure::{AmountUnit, Area, Ratio, Size};
use crate::patterns::{Shape, Space};
use crate::stock::{Back, Counts, Prices, Print, Sheet, SheetKind, Stock, SupplyKind};
use crate::workshop::{GrainRule, Workshop};
use jiff::civil::Date;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// All that lies on a shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct Inventory {
    /// Sums by paper, in the order of their names.
    pub papers: Vec<PaperSum>,
    /// Full sheets, in the order of their file.
    pub sheets: Vec<Lying>,
    /// Offcuts, in the order of their file.
    pub offcuts: Vec<Lying>,
    /// Envelopes, then sundries, in the order of their files.
    pub supplies: Vec<LyingSupply>,
}

/// What there is of a paper.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PaperSum {
    /// Its name.
    pub paper: String,
    /// Full sheets.
    pub sheets: u64,
    /// Offcuts.
    pub offcuts: u64,
    /// Area of both.
    pub area: Area,
    /// What both are worth, in minor units; `None` where no sheet of the paper has a price.
    pub value: Option<Ratio>,
}

/// An envelope or a sundry; amounts are in parts of its unit.
#[derive(Clone, Debug, PartialEq)]
pub struct LyingSupply {
    /// Which file it is in.
    pub kind: SupplyKind,
    /// Its name.
    pub name: String,
    /// Its size, if it is an envelope.
    pub size: Option<Size>,
    /// What it is counted in.
    pub unit: AmountUnit,
    /// How much there is.
    pub amount: u64,
    /// How much of that is set aside for batches.
    pub reserved: u64,
    /// What all of it is worth, in minor units; `None` where it has no price.
    pub value: Option<Ratio>,
}

/// Sheets or offcuts of one name.
#[derive(Clone, Debug, PartialEq)]
pub struct Lying {
    /// Their name.
    pub name: String,
    /// Their paper.
    pub paper: String,
    /// Their size.
    pub size: Size,
    /// How many there are.
    pub count: u64,
    /// How many of these are set aside for batches.
    pub reserved: u64,
    /// What one is worth, in minor units; `None` where no sheet of the paper has a price.
    pub value: Option<Ratio>,
    /// Since when they lie there, and for how many days.
    pub since: Option<(Date, i32)>,
    /// Cards that one of them yields, as `best_cards` chooses them; offcuts only.
    pub cards: Vec<(String, u64)>,
}

impl Inventory {
    /// The stock on a day, with what is set aside of it.
    pub fn of(stock: &Stock, workshop: &Workshop, reserved: &Counts, on: Date) -> Inventory {
        let values = known_values(stock, workshop);
        let bench = Bench { stages: None, ..workshop.trimmer.bench() };
        let lying = |sheet: &Sheet, value: Option<Ratio>| Lying {
            name: sheet.id.clone(),
            paper: sheet.paper.clone(),
            size: sheet.size,
            count: sheet.on_hand,
            reserved: reserved.get(&sheet.id).copied().unwrap_or_default(),
            value,
            since: sheet.since.map(|since| (since, days(since, on))),
            cards: match sheet.kind {
                SheetKind::Sheet => Vec::new(),
                SheetKind::Offcut => best_cards(sheet, workshop, bench),
            },
        };
        let all = |kind| {
            let of_kind = stock.sheets.iter().zip(&values).filter(move |(it, _)| it.kind == kind);
            of_kind.map(|(sheet, value)| lying(sheet, value.clone())).collect()
        };
        let papers = papers(stock, &values);
        let supplies = stock.supplies().map(|(kind, supply)| LyingSupply {
            kind,
            name: supply.name.clone(),
            size: stock.envelope(&supply.name).map(|envelope| envelope.size),
            unit: supply.unit.clone(),
            amount: supply.on_hand,
            reserved: reserved.get(&supply.name).copied().unwrap_or_default(),
            value: supply.price.map(|_| supply.worth(supply.on_hand)),
        });
        let (sheets, offcuts) = (all(SheetKind::Sheet), all(SheetKind::Offcut));
        Inventory { papers, sheets, offcuts, supplies: supplies.collect() }
    }

    /// What has lain longest; the first of several.
    pub fn oldest(&self) -> Option<&Lying> {
        let dated = self.offcuts.iter().filter(|offcut| offcut.count > 0 && offcut.since.is_some());
        dated.min_by_key(|offcut| offcut.since.map(|(since, _)| since))
    }
}

/// Days from one to the other; none where the first is later.
fn days(since: Date, on: Date) -> i32 {
    since.until(on).map_or(0, |span| span.get_days()).max(0)
}

/// What one of each sheet is worth.
fn known_values(stock: &Stock, workshop: &Workshop) -> Vec<Option<Ratio>> {
    let prices = Prices::of(stock, workshop);
    let known = |sheet: &Sheet| prices.has(&sheet.paper).then(|| prices.sheet(sheet));
    stock.sheets.iter().map(known).collect()
}

fn papers(stock: &Stock, values: &[Option<Ratio>]) -> Vec<PaperSum> {
    let mut papers: BTreeMap<&str, PaperSum> = BTreeMap::new();
    for (sheet, value) in stock.sheets.iter().zip(values) {
        let sum = papers.entry(&sheet.paper).or_default();
        match sheet.kind {
            SheetKind::Sheet => sum.sheets += sheet.on_hand,
            SheetKind::Offcut => sum.offcuts += sheet.on_hand,
        }
        sum.area += sheet.size.area() * sheet.on_hand;
        let before = sum.value.take().unwrap_or_default();
        sum.value = value.as_ref().map(|value| before + value * i128::from(sheet.on_hand));
    }
    papers.into_iter().map(|(name, sum)| PaperSum { paper: name.to_owned(), ..sum }).collect()
}

/// Most kinds of cards that are named for an offcut.
const NAMED: usize = 3;

/// The card formats of which an offcut yields the most area, with how many it yields.
fn best_cards(offcut: &Sheet, workshop: &Workshop, bench: Bench) -> Vec<(String, u64)> {
    // Of formats of one size, whichever way they lie, the first stands for all.
    let mut known = BTreeSet::new();
    let paper = FoldedPaper::thin(workshop.style());
    let lying = |card: &CardFormat| {
        let size = card.blank(paper).size;
        match is_turnable(offcut) && card.fold == Fold::FLAT {
            true => Size::new(size.long(), size.short()),
            false => size,
        }
    };
    let cards = workshop.formats.all_cards();
    let cards = cards.filter(|card| known.insert((lying(card), card.fold)));
    let mut yields: Vec<(i128, &str, u64)> = cards
        .filter_map(|card| {
            let blank = card.blank(paper);
            let shape = shape(&blank, offcut, workshop.grain);
            let count = Space::most_of(offcut.size, shape, bench).filter(|count| *count > 0)?;
            let area = blank.size.area().square_ticks() * i128::from(count);
            Some((area, card.name.as_str(), count))
        })
        .collect();
    yields.sort_by_key(|(area, ..)| Reverse(*area));
    yields.into_iter().take(NAMED).map(|(_, name, count)| (name.to_owned(), count)).collect()
}

/// Whether no design on either face forbids a quarter turn.
fn is_turnable(offcut: &Sheet) -> bool {
    offcut.print == Print::Free && offcut.back == Back::Free
}

/// How a card's blank may lie on an offcut: as its print lets it, and where grain is strict, with the
/// fold along the fibres.
fn shape(blank: &Blank, offcut: &Sheet, rule: GrainRule) -> Shape {
    let along = match (rule, blank.grain_along, offcut.grain) {
        (GrainRule::Strict, Some(along), Some(grain)) => Some(along == grain),
        _ => None,
    };
    Shape {
        size: blank.size,
        upright: along != Some(false),
        turned: is_turnable(offcut) && along != Some(true),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostics::Problems;
    use crate::stock::PerFile;
    use crate::table::Named;

    fn inventory(offcuts: &str, workshop: &str) -> Inventory {
        let mut problems = Problems::new();
        let workshop = crate::workshop::read("workshop.toml", workshop.as_bytes(), &mut problems);
        let sheets = "sheet,paper,width,height,on hand,price\nfern-12,fern,12,12,2,1.44\n";
        let offcuts = format!("offcut,paper,width,height,count,grain,print,since\n{offcuts}");
        let offcuts = Some(Named::new("offcuts.csv", &offcuts));
        let sheets = Some(Named::new("sheets.csv", sheets));
        let files = PerFile { sheets, offcuts, ..PerFile::default() };
        let stock = crate::stock::read(files, &workshop, &mut problems).unwrap();
        assert!(problems.is_empty(), "{problems:?}");
        let reserved = [("fern-12".to_owned(), 1)].into();
        Inventory::of(&stock, &workshop, &reserved, jiff::civil::date(2031, 3, 1))
    }

    #[test]
    fn papers_are_summed_up() {
        let inventory = inventory("a,fern,10,10,3,,,\nb,moss,1,1,1,,,\n", "");
        let fern = &inventory.papers[0];
        // An offcut counts 30 % of the sheet's price for its area.
        let worth = fern.value.clone();
        assert_eq!((fern.sheets, fern.offcuts, worth), (2, 3, Some(Ratio::whole(288 + 90))));
        let inch = Size::parse("1 x 1", crate::measure::Unit::Inch).unwrap().unwrap().area();
        assert_eq!(fern.area, inch * (2 * 144 + 3 * 100));
        let moss = &inventory.papers[1];
        assert_eq!(moss.paper, "moss");
        assert_eq!((&moss.value, &inventory.offcuts[1].value), (&None, &None), "moss has no price");
        assert_eq!(inventory.sheets[0].reserved, 1);
    }

    #[test]
    fn the_oldest_is_known() {
        let offcuts =
            "a,fern,4,4,1,,,2031-02-28\nb,fern,4,4,0,,,2029-01-01\nc,fern,4,4,1,,,2030-03-01\n";
        let inventory = inventory(offcuts, "");
        assert_eq!(inventory.oldest().map(|it| it.name.as_str()), Some("c"));
        let days: Vec<i32> = inventory.offcuts.iter().map(|it| it.since.unwrap().1).collect();
        assert_eq!(days, [1, 789, 365]);
    }

    #[test]
    fn an_offcut_yields_what_can_be_cut_from_it() {
        let cards = |offcut: &str, bench: &str| inventory(offcut, bench).offcuts[0].cards.clone();
        // 7 x 4 in: four place cards of 3 1/2 x 2 in, or one card of 4 x 6 in with an inch to spare.
        let all = cards("a,fern,7,4,1,,,\n", "");
        assert!(!all.iter().any(|(name, _)| name == "business card"), "as large as a place card");
        assert!(all.contains(&("place card".to_owned(), 4)), "{all:?}");
        assert_eq!(all.len(), NAMED);
        // Upright only: a tag is as large as a place card that lies on its side.
        let upright = cards("a,fern,2,3 1/2,1,,one-way,\n", "");
        assert_eq!(upright, [("gift tag".to_owned(), 1)]);
        assert_eq!(cards("a,fern,2,3 1/2,1,,free,\n", "")[0], ("place card".to_owned(), 1));
        // A tent card folds across its width: along fibres that run across.
        let tent = |grain: &str| {
            let strict = "[grain]\nrule = \"strict\"\n";
            let cards = cards(&format!("a,fern,3 1/2,4,1,{grain},two-way,\n"), strict);
            cards.iter().any(|(name, _)| name == "tent card")
        };
        assert_eq!((tent("width"), tent("height")), (true, false));
    }
}
