//! Tints and hatches: each order line has its own, told apart in grey as well as in colour.

use super::canvas::{Colour, Point, Stroke};

/// A tint with a hatch: a square that is repeated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hatch {
    /// What is thrown away.
    Waste,
    /// That of an order line.
    Line(usize),
}

/// Light enough for black text (each at least 12 : 1 against black).
const TINTS: [Colour; 7] = [
    Colour(0xe3, 0xed, 0xf7),
    Colour(0xf8, 0xec, 0xd2),
    Colour(0xe4, 0xf1, 0xdf),
    Colour(0xf6, 0xe2, 0xe6),
    Colour(0xeb, 0xe6, 0xf5),
    Colour(0xde, 0xf1, 0xee),
    Colour(0xf1, 0xef, 0xe2),
];

/// A tint without its hatch.
pub fn tint(number: usize) -> Colour {
    TINTS[number % TINTS.len()]
}

/// What is drawn in the square of a hatch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Trace {
    /// Straight lines from point to point.
    Through(&'static [Point], Stroke),
    /// A ring around a point, with its radius.
    Ring(Point, f64, Stroke),
    /// A dot, with its radius.
    Dot(Point, f64, Colour),
}

/// The square that a hatch repeats.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tile {
    /// Its side.
    pub side: f64,
    /// Its ground.
    pub tint: Colour,
    /// What is drawn in it.
    pub traces: &'static [Trace],
    /// Whether it stands on a corner: lines along it run down to the right.
    pub slanted: bool,
}

const fn at(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

const fn line(width: f64, colour: Colour) -> Stroke {
    Stroke { colour, ..Stroke::ink(width) }
}

const LIGHT: Stroke = line(0.2, Colour(0x99, 0x99, 0xaa));
const FINE: Stroke = line(0.22, Colour(0x99, 0x99, 0xaa));
const DARK: Stroke = line(0.22, Colour(0x88, 0x88, 0x99));
const DOT: Colour = Colour(0x77, 0x77, 0x88);

/// Hatches drawn over a tint: side of the repeated square and what is drawn in it.
const HATCHES: [(f64, &[Trace]); 8] = [
    (4.0, &[]),
    (3.0, &[Trace::Dot(at(0.75, 0.75), 0.3, DOT), Trace::Dot(at(2.25, 2.25), 0.3, DOT)]),
    (2.4, &[Trace::Through(&[at(0.0, 1.2), at(2.4, 1.2)], LIGHT)]),
    (
        4.0,
        &[Trace::Through(
            &[at(0.0, 1.0), at(1.0, 2.0), at(2.0, 1.0), at(3.0, 2.0), at(4.0, 1.0)],
            FINE,
        )],
    ),
    (2.4, &[Trace::Through(&[at(1.2, 0.0), at(1.2, 2.4)], LIGHT)]),
    (
        4.0,
        &[
            Trace::Through(&[at(1.0, 2.0), at(3.0, 2.0)], DARK),
            Trace::Through(&[at(2.0, 1.0), at(2.0, 3.0)], DARK),
        ],
    ),
    (4.0, &[Trace::Ring(at(2.0, 2.0), 0.9, DARK)]),
    (
        3.2,
        &[
            Trace::Through(&[at(0.0, 1.6), at(3.2, 1.6)], LIGHT),
            Trace::Through(&[at(1.6, 0.0), at(1.6, 3.2)], LIGHT),
        ],
    ),
];

const WASTE: Tile = Tile {
    side: 1.7,
    tint: Colour::WHITE,
    traces: &[Trace::Through(
        &[at(0.0, 0.85), at(1.7, 0.85)],
        line(0.25, Colour(0x66, 0x66, 0x66)),
    )],
    slanted: true,
};

/// Fills that differ; the next one is the first again.
const FILLS: usize = TINTS.len() * HATCHES.len();

impl Hatch {
    /// That of the order line with this number.
    pub const fn of_line(number: usize) -> Hatch {
        Hatch::Line(number % FILLS)
    }

    /// What it repeats.
    pub fn tile(self) -> Tile {
        match self {
            Hatch::Waste => WASTE,
            Hatch::Line(number) => {
                let (side, traces) = HATCHES[number % HATCHES.len()];
                Tile { side, tint: TINTS[number % TINTS.len()], traces, slanted: false }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn the_fills_of_a_page_all_differ() {
        let pairs: BTreeSet<(usize, usize)> =
            (0..FILLS).map(|fill| (fill % TINTS.len(), fill % HATCHES.len())).collect();
        assert_eq!(pairs.len(), FILLS);
        assert_eq!(Hatch::of_line(FILLS), Hatch::of_line(0));
    }

    /// Contrast of two colours as WCAG 2.2 computes it (formula from memory).
    fn luminance(Colour(red, green, blue): Colour) -> f64 {
        let part = |value: u8| {
            let value = f64::from(value) / 255.0;
            if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * part(red) + 0.7152 * part(green) + 0.0722 * part(blue)
    }

    #[test]
    fn black_text_stands_out_on_every_tint() {
        for tint in TINTS {
            assert!((luminance(tint) + 0.05) / 0.05 >= 12.0, "{tint:?}");
        }
    }
}
