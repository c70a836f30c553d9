//! What sheets count in planning: whole units of worth, so small that next to nothing is lost.
//!
//! Prices count in the greatest common divisor of the packs' prices. Let g be the greatest common divisor, as
//! fractions, of what the group's full sheets with a price are worth, their share of a pack. The unit of worth is
//!
//! ```text
//! g / m     m the least of 1, 10, 100 and 1000 for which the cheapest of them counts 1000 units at least,
//!           or the largest of these for which no sheet counts more than 10⁹
//! ```
//!
//! and, where even g is too small for that, a 10⁹th of the dearest full sheet or of a whole multiple of it. So full
//! sheets are exact but in this last case. What goes by area is rounded down, to 1 at least. Paper without a price, or
//! with one of nothing, counts a thousandth of the group's lowest price for its area; where the group has no price at
//! all, areas take the place of worths.
//!
//! All of that hangs on the ratios of prices alone: all prices times any number lead to the same numbers here, so to
//! the same plan and the same proof. `tests/laws/worth.rs` holds it.
//!
//! Finer worths make proofs of level 2 harder, and the last of a gap is worth nothing to anybody. So a gap of less than
//! a fiftieth of the group's cheapest full sheet (`Units::little`) counts as proven: it is shown (`to within`),
//! `plan.json` keeps value, bound and status as they are, and the ways that take long end there. On the sets `drawers`,
//! `odd-pieces`, `packs`, `scarce` (ten orders of each, one more of `drawers`), `gcut-demands` and `wedding`, 54 of 196
//! groups of papers are proven in this sense, 41 of them to the last unit. Whole coins, which are wrong by up to half a
//! coin a sheet, prove 48 (`drawers` 12 instead of 11, `scarce` 2 instead of 9). Compared with them, what is open at
//! level 2 is larger by 0.3 % (`drawers`), 0.5 % (`packs`), 41 % (`odd-pieces`) and 43 % (`scarce`, where the search
//! ends at a fiftieth), and the same on the others; the wedding is proven either way.

use super::value::{of_pack, per_area, percent};
use super::{Prices, Sheet, SheetKind, Stock};
use crate::measure::{Money, Ratio, Worth, greatest_common_divisor};
use crate::workshop::Workshop;
use std::collections::BTreeMap;

/// Units that the cheapest full sheet should count at least, so that what is lost by rounding an offcut down is small.
const LEAST: i128 = 1_000;
/// The most that any sheet may count.
const MOST: i128 = 1_000_000_000;
/// What a common divisor is divided by at most, to come to so small a unit.
const FINEST: i128 = 1_000;
/// The part of the cheapest full sheet that is next to nothing.
const LITTLE: i128 = 50;
/// The part of the lowest price that paper without a price counts: it is worth nothing, but less of it is better.
const UNPRICED: i128 = 1_000;

/// What the whole numbers of a group of papers stand for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Units {
    /// That of prices: the greatest common divisor of the packs'.
    pub price: Money,
    /// That of worth, in minor units; `None` where no sheet of the group has a price above nothing. Then area counts.
    pub worth: Option<Ratio>,
    /// So many units of worth are next to nothing: a fiftieth of the cheapest full sheet.
    pub little: i64,
}

impl Default for Units {
    /// Prices in minor units, and area.
    fn default() -> Units {
        Units { price: Money::from_minor(1), worth: None, little: 0 }
    }
}

impl Units {
    /// A whole number of units of price as money.
    pub fn money(&self, units: i64) -> Money {
        Money::from_minor(units.saturating_mul(self.price.minor()))
    }
}

/// How the sheets of a group of papers count.
#[derive(Clone, Debug)]
pub struct Counting<'a> {
    prices: &'a Prices<'a>,
    /// What a square tick counts where it is worth nothing: in minor units, or 1 where area counts.
    plain: Ratio,
    keep: Ratio,
    unit: Ratio,
    /// So many units are next to nothing.
    little: i64,
    counts_money: bool,
    price: i64,
    /// What a square tick counts in units, by paper and kind: drawers are long.
    by_area: BTreeMap<(String, SheetKind), Ratio>,
}

impl<'a> Counting<'a> {
    /// That of the papers which `has` tells.
    pub fn of(
        has: impl Fn(&str) -> bool,
        stock: &Stock,
        prices: &'a Prices<'a>,
        workshop: &Workshop,
    ) -> Counting<'a> {
        let sheets: Vec<&Sheet> = stock.sheets.iter().filter(|sheet| has(&sheet.paper)).collect();
        let packs = sheets.iter().filter_map(|sheet| sheet.price).map(Money::minor);
        let priced = || sheets.iter().filter(|sheet| is_priced(sheet));
        let lowest = priced().filter_map(|sheet| per_area(sheet)).min();
        let counts_money = lowest.is_some();
        let plain = lowest.map_or(Ratio::whole(1), |lowest| &lowest / &Ratio::whole(UNPRICED));
        let mut counting = Counting {
            prices,
            plain,
            keep: percent(workshop.keep.value),
            unit: Ratio::whole(1),
            little: 0,
            counts_money,
            price: greatest_common_divisor(packs).max(1),
            by_area: BTreeMap::new(),
        };
        let full: Vec<Ratio> = match counts_money {
            true => priced().map(|sheet| counting.exact(sheet)).collect(),
            false => areas(&sheets),
        };
        let mut widest: BTreeMap<(String, SheetKind), i128> = BTreeMap::new();
        for sheet in sheets.iter().filter(|sheet| !is_priced(sheet)) {
            let area = sheet.size.area().square_ticks();
            let most = widest.entry((sheet.paper.clone(), sheet.kind)).or_default();
            *most = area.max(*most);
        }
        let rates = widest.into_iter().map(|(of, area)| (counting.rate(&of.0, of.1), of, area));
        let rates: Vec<_> = rates.collect();
        let by_area = rates.iter().map(|(rate, _, area)| rate * *area);
        counting.unit = unit(&full, by_area.max().unwrap_or_default());
        let least = &full.into_iter().min().unwrap_or_default() / &counting.unit;
        counting.little = (least.floor() / LITTLE).clamp(0, MOST) as i64;
        let by_area = rates.into_iter().map(|(rate, of, _)| (of, &rate / &counting.unit));
        counting.by_area = by_area.collect();
        counting
    }

    /// The units.
    pub fn units(&self) -> Units {
        let worth = self.counts_money.then(|| self.unit.clone());
        Units { price: Money::from_minor(self.price), worth, little: self.little }
    }

    /// What one sheet counts: at least 1, so that less paper is better.
    pub fn count(&self, sheet: &Sheet) -> Worth {
        let units = match self.by_area.get(&(sheet.paper.clone(), sheet.kind)) {
            Some(rate) if !is_priced(sheet) => rate.floor_times(sheet.size.area().square_ticks()),
            _ => (&self.exact(sheet) / &self.unit).floor(),
        };
        Worth::from_units(units.clamp(1, MOST) as i64)
    }

    /// What one sheet is worth more than its whole units come to, or less where it has to count 1: in minor units, or in
    /// square ticks where area counts. Nothing where it is worth nothing.
    pub fn rest(&self, sheet: &Sheet) -> Ratio {
        if self.counts_money && !self.prices.sheet(sheet).is_positive() {
            return Ratio::default();
        }
        self.exact(sheet) - &self.unit * i128::from(self.count(sheet).units())
    }

    /// So many units in minor units, or in square ticks where area counts.
    pub fn amount(&self, worth: Worth) -> Ratio {
        &self.unit * i128::from(worth.units())
    }

    /// The same before it is rounded.
    fn exact(&self, sheet: &Sheet) -> Ratio {
        match sheet.price {
            Some(price) if is_priced(sheet) => of_pack(price, sheet.pack),
            _ => &self.rate(&sheet.paper, sheet.kind) * sheet.size.area().square_ticks(),
        }
    }

    /// What a square tick counts of a sheet without a price above nothing.
    fn rate(&self, paper: &str, kind: SheetKind) -> Ratio {
        let lowest = self.prices.lowest(paper).unwrap_or(&self.plain);
        if kind == SheetKind::Offcut { lowest * &self.keep } else { lowest.clone() }
    }
}

fn is_priced(sheet: &Sheet) -> bool {
    let is_full = sheet.kind == SheetKind::Sheet;
    is_full && sheet.price.is_some_and(|price| of_pack(price, sheet.pack).is_positive())
}

/// The areas of the full sheets; where there is none, of the offcuts.
fn areas(sheets: &[&Sheet]) -> Vec<Ratio> {
    let is_full = |sheet: &&&Sheet| sheet.kind == SheetKind::Sheet;
    let all = !sheets.iter().any(|sheet| is_full(&sheet));
    let counted = sheets.iter().filter(|sheet| all || is_full(sheet));
    counted.map(|sheet| Ratio::whole(sheet.size.area().square_ticks())).collect()
}

/// A unit of which all of these are whole multiples; where one would be more than [`MOST`] of them, such that the
/// `largest` of all is about that.
fn unit(full: &[Ratio], largest: Ratio) -> Ratio {
    let dearest = full.iter().max().cloned().unwrap_or_default();
    let largest = largest.max(dearest.clone());
    let least = full.iter().min().cloned().unwrap_or_default();
    // A part of a price: the terms of a share by area are beyond any number that a plan holds.
    let times = (&largest / &dearest).ceil().clamp(1, MOST);
    let coarsest = &(&dearest * times) / &Ratio::whole(MOST);
    let mut divisor = Ratio::default();
    for worth in full {
        divisor = divisor.common_divisor(worth);
        if divisor < coarsest {
            return coarsest;
        }
    }
    if !divisor.is_positive() {
        return Ratio::whole(1);
    }
    let mut parts = 1;
    while parts < FINEST && &least * parts < &divisor * LEAST {
        parts *= 10;
    }
    while parts > 1 && &largest * parts > &divisor * MOST {
        parts /= 10;
    }
    &divisor / &Ratio::whole(parts)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::samples::{offcut, sheet, workshop};

    /// Unit of price, unit of worth or nothing, and what each sheet counts.
    fn counted(sheets: &[Sheet], percent: u32) -> (i64, Option<[i64; 2]>, Vec<i64>) {
        let (stock, workshop) = (Stock::of_sheets(sheets.to_vec()), workshop(percent));
        let prices = Prices::of(&stock, &workshop);
        let counting = Counting::of(|_| true, &stock, &prices, &workshop);
        let Units { price, worth, .. } = counting.units();
        let counts = sheets.iter().map(|sheet| counting.count(sheet).units()).collect();
        (price.minor(), worth.map(|worth| worth.terms().unwrap()), counts)
    }

    fn pack(text: &str, price: i64, pack: u64) -> Sheet {
        Sheet { pack, ..sheet(text, Some(price)) }
    }

    #[test]
    fn a_fiftieth_of_the_cheapest_sheet_is_little() {
        let little = |sheets: &[Sheet]| {
            let (stock, workshop) = (Stock::of_sheets(sheets.to_vec()), workshop(30));
            let prices = Prices::of(&stock, &workshop);
            Counting::of(|_| true, &stock, &prices, &workshop).units().little
        };
        assert_eq!(little(&[sheet("12 x 12", Some(110)), offcut("3 x 3")]), 20);
        // 220 and 499 times ten.
        assert_eq!(little(&[sheet("12 x 12", Some(110)), pack("12 x 12", 499, 2)]), 44);
        assert_eq!(little(&[sheet("12 x 12", None), offcut("3 x 3")]), 20);
        assert_eq!(little(&[sheet("9 x 9", Some(1)), sheet("9 x 9", Some(10_000_000))]), 2);
        assert_eq!(little(&[]), 0);
    }

    /// Sheets without a price that are large beside those of odd packs: the unit is a part of a price, which a plan can say.
    #[test]
    fn units_have_terms_that_a_plan_holds() {
        let sheets = [
            pack("38.096 x 51.787", 82_348, 999_983),
            pack("9.182 x 12.184", 43_833, 1_000),
            sheet("34.453 x 26.199", None),
        ];
        let (_, unit, counts) = counted(&sheets, 30);
        assert!(unit.is_some_and(|[_, below]| below > 1_000_000), "{unit:?}");
        assert!(counts.iter().all(|count| (1..=MOST).contains(&i128::from(*count))), "{counts:?}");
    }

    #[test]
    fn full_sheets_are_whole_units_of_a_common_divisor() {
        // 2.40 and 1.20 for 500: 0.48 and 0.24 of a cent. A thousandth of 0.24 is 3 of 12 500.
        let sheets = [pack("8 1/2 x 11", 240, 500), pack("8 1/2 x 5 1/2", 120, 500)];
        assert_eq!(counted(&sheets, 30), (120, Some([3, 12_500]), vec![2000, 1000]));
        // 1.10, and 4.99 for 2: half a cent divides both, and 1.10 has 220 of it.
        let sheets = [sheet("12 x 12", Some(110)), pack("12 x 12", 499, 2)];
        assert_eq!(counted(&sheets, 30), (1, Some([1, 20]), vec![2200, 4990]));
    }

    #[test]
    fn prices_any_number_of_times_as_high_count_the_same() {
        let counts = |times: i64| {
            let sheets = [
                pack("12 x 12", 7 * times, 3),
                pack("11 x 8 1/2", 11 * times, 7),
                offcut("5 x 5"),
                sheet("9 x 9", None),
                sheet("2 x 2", Some(0)),
            ];
            let (price, unit, counts) = counted(&sheets, 30);
            let unit = unit.map(|[above, below]| Ratio::new((above).into(), below.into()));
            (price / times, unit.map(|unit| &unit / &Ratio::whole(times.into())), counts)
        };
        assert_eq!(counts(1), counts(1000));
        assert_eq!(counts(1), counts(999_983));
    }

    #[test]
    fn what_goes_by_area_is_rounded_down_but_counts_something() {
        // 144 units of ten a square inch.
        let sheets = [sheet("12 x 12", Some(144)), offcut("1 x 1"), offcut("1/64 x 1/64")];
        assert_eq!(counted(&sheets, 33), (144, Some([18, 125]), vec![1000, 2, 1]));
        assert_eq!(counted(&sheets, 0).2, [1000, 1, 1]);
        assert_eq!(counted(&[sheets[0].clone(), sheet("6 x 6", None)], 30).2, [1000, 250]);
    }

    #[test]
    fn paper_that_is_worth_nothing_counts_a_thousandth() {
        let moss = |sheet: Sheet| Sheet { paper: "moss".to_owned(), ..sheet };
        let sheets = [
            sheet("12 x 12", Some(144)),
            moss(sheet("24 x 12", None)),
            moss(sheet("12 x 36", Some(0))),
            moss(Sheet { size: crate::stock::samples::size("120 x 12"), ..offcut("1 x 1") }),
        ];
        assert_eq!(counted(&sheets, 30).2, [1000, 2, 3, 3]);
    }

    #[test]
    fn without_a_price_area_counts() {
        let sheets = [sheet("12 x 12", None), sheet("12 x 6", Some(0)), offcut("6 x 6")];
        assert_eq!(counted(&sheets, 30), (1, None, vec![2000, 1000, 150]));
        assert_eq!(counted(&[offcut("6 x 6"), offcut("6 x 9")], 50), (1, None, vec![1000, 1500]));
        assert_eq!(counted(&[], 50), (1, None, vec![]));
    }

    #[test]
    fn odd_packs_leave_numbers_that_can_be_added() {
        let odd = [(999_983, 999_979), (999_961, 999_959), (999_953, 999_931)];
        let sheets: Vec<Sheet> = odd.iter().map(|&(price, of)| pack("9 x 9", price, of)).collect();
        let (_, unit, counts) = counted(&sheets, 30);
        assert_eq!(counts.iter().max(), Some(&1_000_000_000));
        assert!(counts.iter().all(|count| *count > 999_000_000), "{counts:?}");
        assert_eq!(unit, Some([999_953, 999_931_000_000_000]));
        // A sheet so cheap beside another is made no finer than the other allows.
        let sheets = [sheet("9 x 9", Some(1)), sheet("9 x 9", Some(10_000_000))];
        assert_eq!(counted(&sheets, 30).2, [100, 1_000_000_000]);
    }
}
