//! Weights as whole picograms.

use super::fraction::Fraction;
use super::glyphs::in_plain_digits;
use super::{Area, Length, Unit};
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};

/// A weight in picograms, so that halves and tenths of ounces are whole: 1 oz = 28 349 523 125 000 pg (international yard and pound
/// agreement, 1959: 1 lb = 453.59237 g).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Weight(i64);

impl Weight {
    /// No weight at all.
    pub const ZERO: Weight = Weight(0);
    /// Picograms in a gram.
    const PICOGRAMS_PER_GRAM: i64 = 1_000_000_000_000;
    /// Picograms in an ounce.
    const PICOGRAMS_PER_OUNCE: i64 = 28_349_523_125_000;
    /// Heaviest weight that is read: a tonne.
    const MOST: i64 = 1_000_000 * Self::PICOGRAMS_PER_GRAM;

    /// A weight of so many picograms.
    pub const fn from_picograms(picograms: i64) -> Weight {
        Weight(picograms)
    }

    /// The number of picograms.
    pub const fn picograms(self) -> i64 {
        self.0
    }

    /// Reads `20 g` or `3.5 oz`. `None` where it is neither, below zero, or finer than a picogram.
    pub fn parse(text: &str) -> Option<Weight> {
        let text = text.trim();
        let units = [("oz", Self::PICOGRAMS_PER_OUNCE), ("g", Self::PICOGRAMS_PER_GRAM)];
        let (number, unit) =
            units.into_iter().find_map(|(name, unit)| Some((text.strip_suffix(name)?, unit)))?;
        let picograms = Fraction::parse(&in_plain_digits(number))?.times(i128::from(unit)).ok()?;
        let picograms = i64::try_from(picograms).ok()?;
        (0..=Self::MOST).contains(&picograms).then_some(Weight(picograms))
    }

    /// What an area of paper weighs, to the nearest picogram; the paper's weight in milligrams per square
    /// metre.
    pub fn of_paper(area: Area, milligrams_per_square_metre: u64) -> Weight {
        // A square metre in square ticks, over the picograms in a milligram.
        const SHARE: i128 = {
            let metre = 1000 * Length::TICKS_PER_MM as i128;
            metre * metre / 1_000_000_000
        };
        let weighed = area.square_ticks().saturating_mul(i128::from(milligrams_per_square_metre));
        let nearest = (weighed.saturating_mul(2) + SHARE).div_euclid(2 * SHARE);
        Weight(i64::try_from(nearest).unwrap_or(i64::MAX))
    }

    /// Grams per square metre of a sheet of this weight and area, to the nearest; the most there is where it has no area.
    pub fn grams_per_square_metre(self, area: Area) -> u64 {
        let gram = i128::from(Weight::of_paper(area, 1000).0).max(1);
        u64::try_from((2 * i128::from(self.0) + gram) / (2 * gram)).unwrap_or(u64::MAX)
    }

    /// In ounces where lengths are in inches, else in grams, as [`Weight::ounces`] and [`Weight::grams`] show it, but never
    /// more than it is.
    pub fn rounded_down(self, unit: Unit) -> String {
        let down = |step: i64| Weight(self.0.div_euclid(step) * step);
        match unit {
            Unit::Inch => down(Self::PICOGRAMS_PER_OUNCE / 100).ounces(),
            Unit::Millimetre | Unit::Centimetre => down(Self::PICOGRAMS_PER_GRAM / 10).grams(),
        }
    }

    /// `21.5 g`, to a tenth.
    pub fn grams(self) -> String {
        format!("{} g", tenths(self.0, Self::PICOGRAMS_PER_GRAM / 10))
    }

    /// In grams, and in ounces too where lengths are in inches: `21.5 g, 0.76 oz`.
    pub fn told(self, unit: Unit) -> String {
        match unit {
            Unit::Inch => format!("{}, {}", self.grams(), self.ounces()),
            Unit::Millimetre | Unit::Centimetre => self.grams(),
        }
    }

    /// `0.76 oz`, to a hundredth.
    pub fn ounces(self) -> String {
        let unit = i128::from(Self::PICOGRAMS_PER_OUNCE);
        let hundredths = (i128::from(self.0) * 200 + unit).div_euclid(2 * unit);
        format!("{}.{:02} oz", hundredths / 100, hundredths % 100)
    }
}

fn tenths(amount: i64, tenth: i64) -> String {
    let tenths = (i128::from(amount) * 2 + i128::from(tenth)).div_euclid(2 * i128::from(tenth));
    format!("{}.{}", tenths / 10, tenths % 10)
}

impl Add for Weight {
    type Output = Weight;

    fn add(self, other: Weight) -> Weight {
        Weight(self.0.saturating_add(other.0))
    }
}

impl Sub for Weight {
    type Output = Weight;

    fn sub(self, other: Weight) -> Weight {
        Weight(self.0.saturating_sub(other.0))
    }
}

impl AddAssign for Weight {
    fn add_assign(&mut self, other: Weight) {
        *self = *self + other;
    }
}

impl Mul<u64> for Weight {
    type Output = Weight;

    fn mul(self, times: u64) -> Weight {
        Weight(self.0.saturating_mul(i64::try_from(times).unwrap_or(i64::MAX)))
    }
}

impl Sum for Weight {
    fn sum<I: Iterator<Item = Weight>>(weights: I) -> Weight {
        weights.fold(Weight::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Size;

    #[test]
    fn ounces_and_grams_are_exact() {
        assert_eq!(Weight::parse("3.5 oz").unwrap().picograms(), 99_223_330_937_500);
        assert_eq!(Weight::parse("1 oz").unwrap().picograms(), Weight::PICOGRAMS_PER_OUNCE);
        assert_eq!(Weight::parse("20 g").unwrap().grams(), "20.0 g");
        assert_eq!(Weight::parse("20g"), Weight::parse("20 g"));
        for text in ["", "20", "-1 g", "g", "20 lb", "9999999 g"] {
            assert_eq!(Weight::parse(text), None, "{text}");
        }
    }

    #[test]
    fn weights_are_added_up_and_told_in_the_units_of_the_place() {
        let [small, large] = [6, 15].map(Weight::from_picograms);
        assert_eq!((small + large).picograms(), 21);
        assert_eq!((large * 4).picograms(), 60);
        assert_eq!([small, large, small].into_iter().sum::<Weight>().picograms(), 27);
        let mut sum = small;
        sum += large;
        assert_eq!(sum.picograms(), 21);
        let ounce = Weight::parse("1 oz").unwrap();
        assert_eq!(ounce.told(Unit::Inch), "28.3 g, 1.00 oz");
        assert_eq!(ounce.told(Unit::Millimetre), "28.3 g");
    }

    #[test]
    fn a_square_metre_weighs_what_its_paper_says() {
        let metre = Size::new(Length::from_mm(1000), Length::from_mm(1000)).area();
        assert_eq!(Weight::of_paper(metre, 216_330).picograms(), 216_330_000_000_000);
        assert_eq!(Weight::of_paper(Area::default(), 216_330), Weight::ZERO);
    }

    #[test]
    fn weights_are_shown_rounded() {
        let weight = |picograms| Weight::from_picograms(picograms);
        assert_eq!(weight(21_549_999_999_999).grams(), "21.5 g");
        assert_eq!(weight(21_550_000_000_000).grams(), "21.6 g");
        assert_eq!(weight(Weight::PICOGRAMS_PER_OUNCE * 3 / 4).ounces(), "0.75 oz");
        let nearly = weight(Weight::PICOGRAMS_PER_OUNCE * 3 / 4 - 1);
        assert_eq!(
            (nearly.ounces().as_str(), nearly.rounded_down(Unit::Inch).as_str()),
            ("0.75 oz", "0.74 oz")
        );
        assert_eq!(weight(21_599_999_999_999).rounded_down(Unit::Millimetre), "21.5 g");
    }

    #[test]
    fn a_sheet_weighs_so_much_a_square_metre() {
        let area = Size::new(Length::from_mm(140), Length::from_mm(90)).area();
        assert_eq!(Weight::of_paper(area, 300_000).grams_per_square_metre(area), 300);
        assert_eq!((Weight::of_paper(area, 150_000) - Weight(1)).grams_per_square_metre(area), 150);
    }
}
