//! What sheets are worth when all paper used is counted, not only the paper to buy.

use super::{Sheet, SheetKind, Stock};
use crate::measure::{Length, Money, Size};
use crate::workshop::Workshop;

/// Square ticks in a square centimetre.
const SQUARE_CENTIMETRE: i128 = {
    let centimetre = 10 * Length::TICKS_PER_MM as i128;
    centimetre * centimetre
};

/// The value of one sheet of each kind, by its index in the stock. A full sheet with a price is worth
/// its share of the pack, to the nearest minor unit; one without a price its area at the paper's price
/// per area; an offcut the keep value's percentage of that. The last two are at least 1 minor unit.
pub fn values(stock: &Stock, workshop: &Workshop) -> Vec<Money> {
    stock.sheets.iter().map(|sheet| value(sheet, stock, workshop)).collect()
}

/// The value of an offcut of `paper`, by the same rule as if it lay in the drawer.
pub fn offcut_value(size: Size, paper: &str, stock: &Stock, workshop: &Workshop) -> Money {
    price_per_area(paper, stock).of(size, workshop.keep.value)
}

fn value(sheet: &Sheet, stock: &Stock, workshop: &Workshop) -> Money {
    match (sheet.kind, sheet.price) {
        (SheetKind::Sheet, Some(price)) => price.shared_by(sheet.pack),
        (SheetKind::Sheet, None) => price_per_area(&sheet.paper, stock).of(sheet.size, 100),
        (SheetKind::Offcut, _) => offcut_value(sheet.size, &sheet.paper, stock, workshop),
    }
}

/// So many minor units for so many square ticks.
#[derive(Clone, Copy)]
struct Rate {
    minor: i128,
    area: i128,
}

impl Rate {
    fn of_pack(sheet: &Sheet) -> Option<Rate> {
        let minor = i128::from(sheet.price?.minor());
        let area = sheet.size.area().square_ticks().saturating_mul(i128::from(sheet.pack));
        (sheet.kind == SheetKind::Sheet && area > 0).then_some(Rate { minor, area })
    }

    fn is_below(self, other: Rate) -> bool {
        self.minor.saturating_mul(other.area) < other.minor.saturating_mul(self.area)
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

/// The cheapest of the paper's priced full sheets; where there is none, 1 minor unit for a square
/// centimetre, so that less paper is still better than more.
fn price_per_area(paper: &str, stock: &Stock) -> Rate {
    let sheets = stock.sheets.iter().filter(|sheet| sheet.paper == paper);
    sheets
        .filter_map(Rate::of_pack)
        .reduce(|best, rate| if rate.is_below(best) { rate } else { best })
        .unwrap_or(Rate { minor: 1, area: SQUARE_CENTIMETRE })
}
