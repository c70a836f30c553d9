//! Areas, exact in square ticks.

use super::Size;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error};
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};

/// An area in square ticks. Written as text in JSON, since it outgrows 2^53.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Area(i128);

impl Area {
    /// No area at all.
    pub const ZERO: Area = Area(0);

    /// The area of a rectangle.
    pub fn of(size: Size) -> Area {
        Area(i128::from(size.width.ticks()) * i128::from(size.height.ticks()))
    }

    /// The number of square ticks.
    pub const fn square_ticks(self) -> i128 {
        self.0
    }

    /// An area of so many square ticks.
    pub const fn from_square_ticks(square_ticks: i128) -> Area {
        Area(square_ticks)
    }

    /// What part of `whole` it is, in tenths of a percent, rounded to nearest; 0 of nothing.
    pub fn permille_of(self, whole: Area) -> i128 {
        match whole.0 {
            0 => 0,
            whole => (self.0 * 1000 + whole / 2) / whole,
        }
    }
}

impl Add for Area {
    type Output = Area;
    fn add(self, other: Area) -> Area {
        Area(self.0 + other.0)
    }
}
impl AddAssign for Area {
    fn add_assign(&mut self, other: Area) {
        self.0 += other.0;
    }
}
impl Sub for Area {
    type Output = Area;
    fn sub(self, other: Area) -> Area {
        Area(self.0 - other.0)
    }
}
impl Mul<u64> for Area {
    type Output = Area;
    fn mul(self, times: u64) -> Area {
        Area(self.0 * i128::from(times))
    }
}
impl Sum for Area {
    fn sum<I: Iterator<Item = Area>>(areas: I) -> Area {
        areas.fold(Area::ZERO, Add::add)
    }
}

impl Serialize for Area {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for Area {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Area, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map(Area).map_err(|_| D::Error::custom("an area is whole square ticks"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Length;

    #[test]
    fn the_largest_sheets_do_not_overflow() {
        let square = Area::of(Size::new(Length::MAX, Length::MAX));
        assert_eq!(square.square_ticks(), i128::from(Length::MAX.ticks()).pow(2));
        let many = square * 1_000_000_000_000;
        assert_eq!(many.square_ticks() / square.square_ticks(), 1_000_000_000_000);
    }

    #[test]
    fn areas_are_added_up_and_taken_away() {
        let (small, large) = (Area(6), Area(15));
        assert_eq!(small + large, Area(21));
        assert_eq!(large - small, Area(9));
        assert_eq!(small * 7, Area(42));
        assert_eq!([small, large, small].into_iter().sum::<Area>(), Area(27));
        let mut sum = small;
        sum += large;
        assert_eq!(sum, Area(21));
    }

    #[test]
    fn parts_are_rounded_to_tenths_of_a_percent() {
        let part = |part, whole| Area(part).permille_of(Area(whole));
        assert_eq!(part(1, 3), 333);
        assert_eq!(part(2, 3), 667);
        assert_eq!(part(1, 2000), 1);
        assert_eq!(part(1, 2001), 0);
        assert_eq!(part(5, 5), 1000);
        assert_eq!(part(5, 0), 0);
    }

    #[test]
    fn json_keeps_every_digit() {
        // Beyond 2^53 a JSON number would lose its last digits.
        let area = Area((1 << 53) + 1);
        let text = serde_json::to_string(&area).unwrap();
        assert_eq!(text, "\"9007199254740993\"");
        assert_eq!(serde_json::from_str::<Area>(&text).unwrap(), area);
        assert!(serde_json::from_str::<Area>("\"12.5\"").is_err());
        assert!(serde_json::from_str::<Area>("12").is_err());
    }
}
