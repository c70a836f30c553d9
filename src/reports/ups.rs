//! Which way up a stack lies that looks the same either way.

use crate::measure::Size;

/// Sides that differ by less than this share of the longer one are not told apart by eye (common practice, no source).
const SHARE: i64 = 20;

/// Whether the sides of a stack are equal, or nearly: taken up again, it may be turned without anybody seeing it.
pub fn is_nearly_square(size: Size) -> bool {
    (size.long() - size.short()).ticks() * SHARE < size.long().ticks()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit;

    #[test]
    fn sides_are_told_apart_from_a_twentieth_on() {
        let is_nearly_square =
            |size: &str| is_nearly_square(Size::parse(size, Unit::Inch).unwrap().unwrap());
        for (size, expected) in
            [("6 x 6", true), ("10 x 9.51", true), ("10 x 9.5", false), ("9 1/2 x 10", false)]
        {
            assert_eq!(is_nearly_square(size), expected, "{size}");
        }
    }
}
