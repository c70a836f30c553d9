//! How thick paper is, in whole nanometres.

use super::length::{Length, LengthError, Unit, number};
use std::ops::{Add, AddAssign, Mul};

/// A thickness in nanometres, so that four decimals of an inch, as gauges for paper show them, are whole: paper is too thin
/// for the ticks of a [`Length`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Thickness(i64);

/// Nanometres in a tick of length.
const PER_TICK: i64 = 1_000_000 / Length::TICKS_PER_MM;

impl Thickness {
    /// No thickness at all.
    pub const ZERO: Thickness = Thickness(0);

    /// So many nanometres.
    pub const fn from_nanometres(nanometres: i64) -> Thickness {
        Thickness(nanometres)
    }

    /// So many micrometres.
    pub const fn from_micrometres(micrometres: i64) -> Thickness {
        Thickness(micrometres * 1000)
    }

    /// The nanometres.
    pub const fn nanometres(self) -> i64 {
        self.0
    }

    /// Whether it is thicker than nothing.
    pub const fn is_positive(self) -> bool {
        self.0 > 0
    }

    /// The least length that is as long as this is thick.
    pub const fn length(self) -> Length {
        Length::from_ticks((self.0 + PER_TICK - 1).div_euclid(PER_TICK))
    }

    /// Reads a thickness; a bare number is in `unit`. What is finer than a nanometre counts as a whole one.
    ///
    /// # Errors
    /// Not a number, or one with a doubtful comma, or longer than [`Length::MAX`].
    pub fn parse(text: &str, unit: Unit) -> Result<Thickness, LengthError> {
        let number = number(text, unit)?;
        let to_one = i128::from(number.unit.ticks()) * i128::from(PER_TICK);
        let nanometres = number.fraction.times(to_one).unwrap_or_else(|(_, above)| above);
        let most = i128::from(Length::MAX.ticks()) * i128::from(PER_TICK);
        match i64::try_from(nanometres).ok().filter(|_| nanometres.abs() <= most) {
            Some(nanometres) => Ok(Thickness(nanometres)),
            None => Err(LengthError::TooLong),
        }
    }
}

impl From<Length> for Thickness {
    fn from(length: Length) -> Thickness {
        Thickness(length.ticks().saturating_mul(PER_TICK))
    }
}

impl Add for Thickness {
    type Output = Thickness;

    fn add(self, other: Thickness) -> Thickness {
        Thickness(self.0 + other.0)
    }
}

impl AddAssign for Thickness {
    fn add_assign(&mut self, other: Thickness) {
        *self = *self + other;
    }
}

impl Mul<i64> for Thickness {
    type Output = Thickness;

    fn mul(self, times: i64) -> Thickness {
        Thickness(self.0 * times)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 in is 25.4 mm exactly (international yard and pound agreement, 1959).
    #[test]
    fn what_a_gauge_for_paper_shows_is_whole() {
        let inches = |text| Thickness::parse(text, Unit::Inch).unwrap().nanometres();
        assert_eq!(inches("0.0091"), 231_140);
        assert_eq!(inches("0.0114"), 289_560);
        assert_eq!(inches("0.0063"), 160_020);
        assert_eq!(inches("1/64"), 396_875);
        assert_eq!(inches("0.29 mm"), 290_000);
        assert_eq!(Thickness::parse("0.29", Unit::Millimetre).unwrap().nanometres(), 290_000);
    }

    #[test]
    fn what_is_finer_counts_as_a_whole_nanometre() {
        let thick = |text| Thickness::parse(text, Unit::Millimetre).map(Thickness::nanometres);
        assert_eq!(thick("0.0000001"), Ok(1));
        assert_eq!(thick("0"), Ok(0));
        assert!(thick("-0.1").unwrap() < 0);
        assert_eq!(thick("thin"), Length::parse("thin", Unit::Millimetre).map(|_| 0));
        assert_eq!(thick("100001"), Err(LengthError::TooLong));
    }

    #[test]
    fn a_length_is_never_less_than_the_thickness() {
        assert_eq!(Thickness::from_nanometres(231_140).length(), Length::from_ticks(9246));
        assert_eq!(Thickness::from_nanometres(25).length(), Length::from_ticks(1));
        assert_eq!(Thickness::from(Length::from_mm(1)), Thickness::from_micrometres(1000));
    }
}
