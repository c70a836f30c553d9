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
