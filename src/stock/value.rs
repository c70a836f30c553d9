//! What paper is worth in money, exactly: a share of a price, never rounded to a coin.

use super::{Sheet, SheetKind, Stock};
use crate::measure::{Money, Ratio, Size};
use crate::workshop::Workshop;
use std::collections::BTreeMap;

/// What the papers of a stock cost, from which all worth follows. Amounts are in minor units.
#[derive(Clone, Debug)]
pub struct Prices<'a> {
    /// By paper, the lowest price of a square tick of it; papers without any price are not in it.
    lowest: BTreeMap<&'a str, Ratio>,
    /// What an offcut is worth, in percent of a full sheet's price per area.
    keep: u32,
}

impl<'a> Prices<'a> {
    /// The prices of a stock.
    pub fn of(stock: &'a Stock, workshop: &Workshop) -> Prices<'a> {
        let mut lowest: BTreeMap<&str, Ratio> = BTreeMap::new();
        for sheet in &stock.sheets {
            let Some(rate) = per_area(sheet) else { continue };
            match lowest.get_mut(sheet.paper.as_str()) {
                Some(best) => *best = rate.min(best.clone()),
                None => drop(lowest.insert(&sheet.paper, rate)),
            }
        }
        Prices { lowest, keep: workshop.keep.value }
    }

    /// Whether any sheet of a paper has a price.
    pub fn has(&self, paper: &str) -> bool {
        self.lowest.contains_key(paper)
    }

    /// What one sheet is worth: its share of its pack; without a price, its area at the paper's lowest price; an
    /// offcut the keep value's percentage of that. Nothing where the paper has no price, or one of nothing.
    pub fn sheet(&self, sheet: &Sheet) -> Ratio {
        match (sheet.kind, sheet.price) {
            (SheetKind::Sheet, Some(price)) => of_pack(price, sheet.pack),
            (SheetKind::Sheet, None) => self.area(sheet.size, &sheet.paper),
            (SheetKind::Offcut, _) => self.offcut(sheet.size, &sheet.paper),
        }
    }

    /// What a customer pays for a sheet: the same, but an offcut is charged like new paper.
    pub fn charged(&self, sheet: &Sheet) -> Ratio {
        match sheet.kind {
            SheetKind::Sheet => self.sheet(sheet),
            SheetKind::Offcut => self.area(sheet.size, &sheet.paper),
        }
    }

    /// What an offcut of a paper is worth, whether it lies in the drawer or goes there.
    pub fn offcut(&self, size: Size, paper: &str) -> Ratio {
        &self.area(size, paper) * &percent(self.keep)
    }

    fn area(&self, size: Size, paper: &str) -> Ratio {
        let lowest = self.lowest.get(paper);
        lowest.map_or(Ratio::default(), |lowest| lowest * size.area().square_ticks())
    }

    /// The lowest price of a square tick of a paper, above nothing.
    pub(super) fn lowest(&self, paper: &str) -> Option<&Ratio> {
        self.lowest.get(paper).filter(|lowest| lowest.is_positive())
    }
}

/// A sheet's share of its pack.
pub(super) fn of_pack(price: Money, pack: u64) -> Ratio {
    Ratio::new(price.minor().into(), pack.into())
}

/// The price of a square tick of a full sheet.
pub(super) fn per_area(sheet: &Sheet) -> Option<Ratio> {
    let area = Ratio::whole(sheet.size.area().square_ticks());
    let price = sheet.price.filter(|_| sheet.kind == SheetKind::Sheet && area.is_positive())?;
    Some(&of_pack(price, sheet.pack) / &area)
}

/// Hundredths.
pub(super) fn percent(hundredths: u32) -> Ratio {
    Ratio::new(hundredths.into(), 100)
}

/// An exact amount as money: to the nearest minor unit, halves up. It is rounded where it is shown, once.
pub fn rounded(amount: &Ratio) -> Money {
    let most = i128::from(i64::MAX / 4);
    Money::from_minor(amount.nearest().clamp(-most, most) as i64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::samples::{offcut, sheet, size, workshop};

    fn worth(sheets: Vec<Sheet>, percent: u32) -> Vec<Ratio> {
        let (stock, workshop) = (Stock::of_sheets(sheets), workshop(percent));
        let prices = Prices::of(&stock, &workshop);
        stock.sheets.iter().map(|sheet| prices.sheet(sheet)).collect()
    }

    #[test]
    fn a_sheet_is_its_share_of_the_pack() {
        let pack = |price, pack| Sheet { pack, ..sheet("12 x 12", Some(price)) };
        assert_eq!(
            worth(vec![pack(110, 1), pack(499, 2), pack(600, 500), pack(0, 5)], 30),
            [Ratio::whole(110), Ratio::new(499, 2), Ratio::new(6, 5), Ratio::whole(0)]
        );
    }

    #[test]
    fn sheets_without_a_price_go_by_the_cheapest_area() {
        // 144 square inches for 144 or for 288; half of that area is worth 72.
        let sheets =
            vec![sheet("12 x 12", Some(288)), sheet("12 x 12", Some(144)), sheet("12 x 6", None)];
        assert_eq!(worth(sheets, 30), [288, 144, 72].map(Ratio::whole));
    }

    #[test]
    fn offcuts_are_worth_a_percentage() {
        let sheets = vec![sheet("12 x 12", Some(1440)), offcut("6 x 6"), offcut("1 x 1")];
        let exact = |above| Ratio::new(above, 10);
        assert_eq!(worth(sheets.clone(), 30), [14_400, 1_080, 30].map(exact));
        assert_eq!(worth(sheets.clone(), 5), [14_400, 180, 5].map(exact), "half a cent");
        assert_eq!(worth(sheets, 0), [14_400, 0, 0].map(exact));
    }

    #[test]
    fn papers_without_any_price_are_worth_nothing() {
        let sheets = vec![sheet("12 x 12", None), offcut("6 x 6")];
        assert_eq!(worth(sheets, 30), [Ratio::default(), Ratio::default()]);
    }

    #[test]
    fn what_is_kept_is_worth_what_the_drawer_is() {
        let stock = Stock::of_sheets(vec![sheet("12 x 12", Some(1440)), offcut("6 x 6")]);
        let (workshop, six) = (workshop(30), size("6 x 6"));
        let prices = Prices::of(&stock, &workshop);
        assert_eq!(prices.offcut(six, "fern"), Ratio::whole(108));
        assert_eq!(prices.offcut(six, "moss"), Ratio::default());
    }

    #[test]
    fn amounts_are_rounded_halves_up() {
        let rounded = |above, below| rounded(&Ratio::new(above, below)).minor();
        assert_eq!([rounded(5, 2), rounded(-5, 2), rounded(7, 3)], [3, -2, 2]);
    }
}
