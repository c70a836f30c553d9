//! What sheets are worth when all paper used is counted, not only the paper to buy.

use super::{Sheet, SheetKind, Stock};
use crate::measure::{Length, Money, Size};
use crate::workshop::Workshop;
use std::collections::BTreeMap;

/// Square ticks in a square centimetre.
const SQUARE_CENTIMETRE: i128 = {
    let centimetre = 10 * Length::TICKS_PER_MM as i128;
    centimetre * centimetre
};

/// The value of one sheet of each kind, by its index in the stock. A full sheet with a price is worth
/// its share of the pack, to the nearest minor unit; one without a price its area at the paper's price
/// per area; an offcut the keep value's percentage of that. The last two are at least 1 minor unit.
pub fn values(stock: &Stock, workshop: &Workshop) -> Vec<Money> {
    // Once for each paper: a drawer may hold thousands of offcuts.
    let mut rates: BTreeMap<&str, Rate> = BTreeMap::new();
    for sheet in &stock.sheets {
        if let Some(rate) = Rate::of_pack(sheet) {
            let best = rates.entry(&sheet.paper).or_insert(rate);
            *best = best.cheaper(rate);
        }
    }
    let value = |sheet: &Sheet| {
        let rate = rates.get(sheet.paper.as_str()).copied().unwrap_or(UNPRICED);
        match (sheet.kind, sheet.price) {
            (SheetKind::Sheet, Some(price)) => price.shared_by(sheet.pack),
            (SheetKind::Sheet, None) => rate.of(sheet.size, 100),
            (SheetKind::Offcut, _) => rate.of(sheet.size, workshop.keep.value),
        }
    };
    stock.sheets.iter().map(value).collect()
}

/// The value of an offcut of `paper`, by the same rule as if it lay in the drawer.
pub fn offcut_value(size: Size, paper: &str, stock: &Stock, workshop: &Workshop) -> Money {
    price_per_area(paper, stock).of(size, workshop.keep.value)
}

/// So many minor units for so many square ticks.
#[derive(Clone, Copy)]
struct Rate {
    minor: i128,
    area: i128,
}

/// Of a paper without any price: less of it is still better than more.
const UNPRICED: Rate = Rate { minor: 1, area: SQUARE_CENTIMETRE };

impl Rate {
    fn of_pack(sheet: &Sheet) -> Option<Rate> {
        let minor = i128::from(sheet.price?.minor());
        let area = sheet.size.area().square_ticks().saturating_mul(i128::from(sheet.pack));
        (sheet.kind == SheetKind::Sheet && area > 0).then_some(Rate { minor, area })
    }

    /// The lower of two; of equals the first.
    fn cheaper(self, other: Rate) -> Rate {
        let (own, others) =
            (self.minor.saturating_mul(other.area), other.minor.saturating_mul(self.area));
        if others < own { other } else { self }
    }

    /// `percent` of the price of a rectangle, to the nearest minor unit, halves up, at least 1.
    fn of(self, size: Size, percent: u32) -> Money {
        let hundredths = size.area().square_ticks() * i128::from(percent);
        let above = self.minor.saturating_mul(hundredths);
        let below = self.area.saturating_mul(100);
        let nearest = above.saturating_mul(2).saturating_add(below) / below.saturating_mul(2);
        Money::from_minor(i64::try_from(nearest).unwrap_or(i64::MAX).max(1))
    }
}

/// The cheapest of the paper's priced full sheets; where there is none, 1 minor unit for a square centimetre.
fn price_per_area(paper: &str, stock: &Stock) -> Rate {
    let sheets = stock.sheets.iter().filter(|sheet| sheet.paper == paper);
    sheets.filter_map(Rate::of_pack).reduce(Rate::cheaper).unwrap_or(UNPRICED)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit;

    fn size(text: &str) -> Size {
        Size::parse(text, Unit::Inch).unwrap().unwrap()
    }

    fn sheet(text: &str, price: Option<i64>) -> Sheet {
        Sheet {
            on_hand: 1,
            price: price.map(Money::from_minor),
            ..Sheet::plain(text, "fern", size(text))
        }
    }

    fn offcut(text: &str) -> Sheet {
        Sheet { kind: SheetKind::Offcut, ..sheet(text, None) }
    }

    fn workshop(percent: u32) -> Workshop {
        let mut workshop = Workshop::default();
        workshop.keep.value = percent;
        workshop
    }

    fn minor(sheets: Vec<Sheet>, percent: u32) -> Vec<i64> {
        let values = values(&Stock { sheets }, &workshop(percent));
        values.into_iter().map(Money::minor).collect()
    }

    #[test]
    fn a_sheet_is_its_share_of_the_pack() {
        let pack = |price, pack| Sheet { pack, ..sheet("12 x 12", Some(price)) };
        assert_eq!(
            minor(vec![pack(110, 1), pack(499, 2), pack(100, 3), pack(0, 5)], 30),
            [110, 250, 33, 0]
        );
    }

    #[test]
    fn sheets_without_a_price_go_by_the_cheapest_area() {
        // 144 square inches for 144 or for 288; half of that area is worth 72.
        let sheets =
            vec![sheet("12 x 12", Some(288)), sheet("12 x 12", Some(144)), sheet("12 x 6", None)];
        assert_eq!(minor(sheets, 30), [288, 144, 72]);
    }

    #[test]
    fn offcuts_count_a_percentage() {
        let sheets = vec![sheet("12 x 12", Some(1440)), offcut("6 x 6"), offcut("1 x 1")];
        assert_eq!(minor(sheets.clone(), 30), [1440, 108, 3]);
        assert_eq!(minor(sheets.clone(), 5), [1440, 18, 1], "half a cent is one");
        assert_eq!(minor(sheets, 0), [1440, 1, 1], "never nothing");
    }

    #[test]
    fn papers_without_any_price_count_square_centimetres() {
        let ten = Size::new(Length::from_mm(100), Length::from_mm(105));
        let sheets = vec![
            Sheet { size: ten, ..sheet("1 x 1", None) },
            Sheet { size: ten, ..offcut("1 x 1") },
        ];
        assert_eq!(minor(sheets, 30), [105, 32]);
    }

    #[test]
    fn what_is_kept_is_worth_what_the_drawer_is() {
        let stock = Stock { sheets: vec![sheet("12 x 12", Some(1440)), offcut("6 x 6")] };
        let workshop = workshop(30);
        assert_eq!(offcut_value(size("6 x 6"), "fern", &stock, &workshop).minor(), 108);
        assert_eq!(offcut_value(size("6 x 6"), "moss", &stock, &workshop).minor(), 70);
    }
}
