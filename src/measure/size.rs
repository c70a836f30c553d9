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

    /// Reads `5 1/2 x 4 1/4`, width first, or `square 6`; `×` and `*` will do for `x`. A unit behind one
    /// length holds for both where the other has none.
    ///
    /// # Errors
    /// `None` where there is no cross between two texts and no square, else the first side that is no
    /// length, and what is wrong with it.
    pub fn parse(text: &str, unit: Unit) -> Option<Result<Size, (Axis, LengthError)>> {
        if let Some(side) = square_side(text) {
            let side = Length::parse(side, unit).map_err(|error| (Axis::Width, error));
            return Some(side.map(|side| Size::new(side, side)));
        }
        let (width, height) = text.split_once(is_cross)?;
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

/// Whether a letter may stand between two sides: `x`, or a sign of multiplication.
pub fn is_cross(letter: char) -> bool {
    ['x', 'X', '*', '\u{d7}', '\u{2715}', '\u{2a2f}'].contains(&letter)
}

/// The side in `square 6` or `6 in square`.
fn square_side(text: &str) -> Option<&str> {
    const SQUARE: &str = "square";
    let text = text.trim();
    let is_square = |part: Option<&str>| part.is_some_and(|it| it.eq_ignore_ascii_case(SQUARE));
    let (front, behind) = (SQUARE.len(), text.len().saturating_sub(SQUARE.len()));
    let side = match () {
        () if is_square(text.get(..front)) => text[front..].trim_start(),
        () if is_square(text.get(behind..)) => text[..behind].trim_end(),
        () => return None,
    };
    // A name, such as `square envelope 5`, is no side, nor is another size.
    let is_side = side.starts_with(|first: char| first.is_numeric() || first == '.');
    (is_side && !side.contains(is_cross)).then_some(side)
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn inches(width: (i64, i64), height: (i64, i64)) -> Size {
        Size::new(
            Length::from_inch_parts(width.0, width.1),
            Length::from_inch_parts(height.0, height.1),
        )
    }

    #[test]
    fn width_comes_first_whatever_the_cross() {
        let card = Some(Ok(inches((11, 2), (17, 4))));
        for text in [
            "5 1/2 x 4 1/4",
            "5.5X4.25",
            "5 1/2\u{d7}4 1/4",
            "5.5*4.25",
            "5.5 in x 4.25 in",
            "5 1/2\" x 4 1/4\"",
            "139.7 x 107.95 mm",
            "139.7 mm x 4 1/4 in",
            "5\u{bd} \u{d7} 4\u{bc}",
            "5\u{bd}\u{2033}\u{d7}4\u{bc}\u{2033}",
            "5 1/2 \u{2715} 4-1/4",
            "5.5\u{2a2f}4.25",
        ] {
            assert_eq!(Size::parse(text, Unit::Inch), card, "{text}");
        }
    }

    #[test]
    fn one_unit_holds_for_both() {
        let mm = Some(Ok(Size::new(Length::from_mm(105), Length::from_mm(148))));
        assert_eq!(Size::parse("105 x 148 mm", Unit::Inch), mm);
        assert_eq!(Size::parse("105 mm x 148", Unit::Inch), mm);
        assert_eq!(Size::parse("10.5 x 14.8 cm", Unit::Inch), mm);
        assert_eq!(Size::parse("105 x 148", Unit::Millimetre), mm);
    }

    #[test]
    fn the_wrong_side_is_named() {
        let wrong = |text| Size::parse(text, Unit::Inch).map(|size| size.map_err(|(axis, _)| axis));
        assert_eq!(wrong("five x 4"), Some(Err(Axis::Width)));
        assert_eq!(wrong("5 x four"), Some(Err(Axis::Height)));
        assert_eq!(wrong("5 x 4 x 3"), Some(Err(Axis::Height)));
        assert_eq!(wrong("x"), Some(Err(Axis::Width)));
        assert_eq!(wrong("5 by 4"), None);
        assert_eq!(wrong(""), None);
    }

    #[test]
    fn a_square_has_one_side() {
        let six = Some(Ok(inches((6, 1), (6, 1))));
        for text in [
            "square 6",
            "Square 6 in",
            " square  6\"",
            "152.4 mm square",
            "6 in square",
            "square 6.0",
            "\u{b9}\u{b2}\u{2044}\u{2082} in square",
        ] {
            assert_eq!(Size::parse(text, Unit::Inch), six, "{text}");
        }
        let mm = Some(Ok(Size::new(Length::from_mm(150), Length::from_mm(150))));
        assert_eq!(Size::parse("square 150", Unit::Millimetre), mm);
        assert_eq!(Size::parse("square 15 cm", Unit::Inch), mm);
        let half = Some(Ok(inches((11, 2), (11, 2))));
        assert_eq!(Size::parse("square 5\u{bd}", Unit::Inch), half);
        for text in
            ["square", "square six", "square envelope 5", "squared 5", "a square", "5 x 5 square"]
        {
            let size = Size::parse(text, Unit::Inch).and_then(Result::ok);
            assert_eq!(size, None, "{text}");
        }
        assert!(matches!(Size::parse("square 5 pt", Unit::Inch), Some(Err((Axis::Width, _)))));
    }

    #[test]
    fn sides_and_turns() {
        let size = inches((5, 1), (7, 1));
        assert_eq!(size.turned(), inches((7, 1), (5, 1)));
        assert_eq!((size.short(), size.long()), (size.width, size.height));
        assert_eq!((size.turned().short(), size.turned().long()), (size.width, size.height));
        assert_eq!(size.along(Axis::Width.other()), size.height);
        assert_eq!(size.with(Axis::Width, size.height), inches((7, 1), (7, 1)));
        assert!(size.fits_in(size) && !size.fits_in(size.turned()));
        assert!(size.is_positive() && !Size::new(size.width, Length::ZERO).is_positive());
    }

    #[test]
    fn two_units_are_both_written() {
        let style = LengthStyle { unit: Unit::Inch, graduation: Length::from_inch_parts(1, 16) };
        assert_eq!(style.size(inches((11, 2), (17, 4))), "5 1/2 x 4 1/4 in");
        let mixed = Size::new(Length::from_inch_parts(4, 1), Length::from_mm(148));
        assert_eq!(style.size(mixed), "4 in x 148 mm");
        assert_eq!(style.size(mixed.turned()), "148 mm x 4 in");
    }

    proptest! {
        #[test]
        fn what_is_written_is_read(
            width in 1..Length::MAX.ticks(),
            height in 1..Length::MAX.ticks(),
            whole in proptest::bool::ANY,
            unit in prop::sample::select(vec![Unit::Inch, Unit::Millimetre, Unit::Centimetre]),
        ) {
            let style = LengthStyle { unit, graduation: Length::from_inch_parts(1, 16) };
            let sixteenths = if whole { Length::from_inch_parts(1, 16).ticks() } else { 1 };
            let width = Length::from_ticks((width / sixteenths * sixteenths).max(1));
            let size = Size::new(width, Length::from_ticks(height));
            for read_as in [Unit::Inch, Unit::Millimetre] {
                prop_assert_eq!(Size::parse(&style.size(size), read_as), Some(Ok(size)));
                prop_assert_eq!(Size::parse(&style.size(size.turned()), read_as), Some(Ok(size.turned())));
            }
        }
    }
}
