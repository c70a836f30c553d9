//! Rectangles and their two directions.

use super::length::split_unit;
use super::{Area, Length, LengthError, LengthStyle, Unit};
use serde::{Deserialize, Serialize};

/// One of the two directions of a sheet or piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Axis {
    /// Across.
    Width,
    /// Down.
    Height,
}

impl Axis {
    /// The other direction.
    pub const fn other(self) -> Axis {
        match self {
            Axis::Width => Axis::Height,
            Axis::Height => Axis::Width,
        }
    }
}

/// A rectangle: `width` across, `height` down, both in ticks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Size {
    /// Across.
    pub width: Length,
    /// Down.
    pub height: Length,
}

impl Size {
    /// `width` by `height`.
    pub const fn new(width: Length, height: Length) -> Size {
        Size { width, height }
    }

    /// Reads `5 1/2 x 4 1/4`, width first; `×` and `*` will do for `x`. A unit behind one length
    /// holds for both where the other has none.
    ///
    /// # Errors
    /// `None` where there is no cross between two texts, else the first side that is no length, and
    /// what is wrong with it.
    pub fn parse(text: &str, unit: Unit) -> Option<Result<Size, (Axis, LengthError)>> {
        let (width, height) = text.split_once(['x', 'X', '\u{d7}', '*'])?;
        let shared = split_unit(height).1.or(split_unit(width).1).unwrap_or(unit);
        let width = Length::parse(width, shared).map_err(|error| (Axis::Width, error));
        let height = Length::parse(height, shared).map_err(|error| (Axis::Height, error));
        Some(width.and_then(|width| Ok(Size::new(width, height?))))
    }

    /// The side in the direction `axis`.
    pub const fn along(self, axis: Axis) -> Length {
        match axis {
            Axis::Width => self.width,
            Axis::Height => self.height,
        }
    }

    /// The same size with the side along `axis` replaced.
    pub const fn with(self, axis: Axis, length: Length) -> Size {
        match axis {
            Axis::Width => Size::new(length, self.height),
            Axis::Height => Size::new(self.width, length),
        }
    }

    /// After a quarter turn.
    pub const fn turned(self) -> Size {
        Size::new(self.height, self.width)
    }

    /// The shorter side.
    pub fn short(self) -> Length {
        self.width.min(self.height)
    }

    /// The longer side.
    pub fn long(self) -> Length {
        self.width.max(self.height)
    }

    /// Whether it lies inside `other` without a turn.
    pub fn fits_in(self, other: Size) -> bool {
        self.width <= other.width && self.height <= other.height
    }

    /// Whether both sides are longer than nothing.
    pub const fn is_positive(self) -> bool {
        self.width.is_positive() && self.height.is_positive()
    }

    /// Its area.
    pub fn area(self) -> Area {
        Area::of(self)
    }
}

impl LengthStyle {
    /// `5 1/2 x 4 1/4 in`; each length with its own unit where the two need different ones.
    pub fn size(&self, size: Size) -> String {
        let (width, width_unit) = self.in_unit(size.width);
        let (height, height_unit) = self.in_unit(size.height);
        match width_unit == height_unit {
            true => format!("{width} x {height} {}", height_unit.symbol()),
            false => {
                format!("{width} {} x {height} {}", width_unit.symbol(), height_unit.symbol())
            }
        }
    }
}
