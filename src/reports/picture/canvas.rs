//! What pictures are drawn on. Lengths are millimetres on paper, from the picture's left and upper edge.

use super::Rectangle;
use super::fills::Hatch;
use std::borrow::Cow;

/// Takes the parts of a picture, the lowest first.
pub trait Canvas {
    /// A rectangle.
    fn shape(&mut self, shape: &Panel);
    /// Straight lines that look alike.
    fn lines(&mut self, stroke: Stroke, lines: &[Line]);
    /// A line of text.
    fn text(&mut self, text: &Text);
    /// Lines of text in the middle of a place, set off from the hatch behind them.
    fn block(&mut self, block: &Paragraph);
}

/// A point.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// From the left edge.
    pub x: f64,
    /// From the upper edge.
    pub y: f64,
}

impl Point {
    /// So far from the left and the upper edge.
    pub const fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }
}

/// From one point to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// One end.
    pub from: Point,
    /// The other.
    pub to: Point,
}

impl Line {
    /// Between the ends `x1 y1` and `x2 y2`.
    pub const fn new([x1, y1, x2, y2]: [f64; 4]) -> Line {
        Line { from: Point::new(x1, y1), to: Point::new(x2, y2) }
    }
}

/// A colour: red, green and blue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

impl Colour {
    /// What lines and letters have.
    pub const INK: Colour = Colour(0x11, 0x11, 0x11);
    /// Bars of the timetable.
    pub const BAR: Colour = Colour(0x44, 0x44, 0x44);
    /// Text that is of less weight.
    pub const QUIET: Colour = Colour(0x4a, 0x4a, 0x4a);
    /// Lines behind others.
    pub const PALE: Colour = Colour(0x8a, 0x8a, 0x8a);
    /// Paper.
    pub const WHITE: Colour = Colour(0xff, 0xff, 0xff);
}

/// How a line looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// How broad it is.
    pub width: f64,
    /// Its colour.
    pub colour: Colour,
    /// Drawn and left out, where it is broken.
    pub dash: Option<[f64; 2]>,
    /// Whether its ends are round.
    pub round: bool,
    /// From nothing, 0, to all, 1.
    pub opacity: f64,
}

impl Stroke {
    /// A plain line of this width.
    pub const fn ink(width: f64) -> Stroke {
        Stroke { width, colour: Colour::INK, dash: None, round: false, opacity: 1.0 }
    }
}

/// What a place is filled with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fill {
    /// Nothing.
    Empty,
    /// A colour, so opaque.
    Plain(Colour, f64),
    /// A tint with a hatch.
    Hatched(Hatch),
}

/// A rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Panel {
    /// Where it lies.
    pub area: Rectangle,
    /// Radius of its corners.
    pub corner: f64,
    /// What is in it.
    pub fill: Fill,
    /// What is around it.
    pub stroke: Option<Stroke>,
}

impl Panel {
    /// A place that is filled.
    pub const fn filled(area: Rectangle, fill: Fill) -> Panel {
        Panel { area, corner: 0.0, fill, stroke: None }
    }
}

/// Where the point of a text lies in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Alignment {
    /// At its beginning.
    Start,
    /// In its middle.
    Middle,
}

/// A line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text<'a> {
    /// What is written, as it was typed.
    pub text: Cow<'a, str>,
    /// A point of its base line.
    pub at: Point,
    /// Which one.
    pub anchor: Alignment,
    /// Height of the letters.
    pub size: f64,
    /// Whether they are bold.
    pub bold: bool,
    /// Their colour.
    pub colour: Colour,
    /// Whether it reads upwards.
    pub upward: bool,
}

impl<'a> Text<'a> {
    /// A plain text that begins there.
    pub fn at(at: Point, size: f64, text: &'a str) -> Text<'a> {
        let (anchor, bold, colour, upward) = (Alignment::Start, false, Colour::INK, false);
        Text { text: Cow::Borrowed(text), at, anchor, size, bold, colour, upward }
    }
}

/// Lines of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Paragraph<'a> {
    /// What is written, as it was typed.
    pub lines: &'a [String],
    /// Middle of all of it.
    pub centre: Point,
    /// Height of the letters.
    pub size: f64,
    /// Whether it reads upwards.
    pub upward: bool,
    /// The room it takes.
    pub room: Rectangle,
    /// Whether lines of the drawing run below it.
    pub over_lines: bool,
}

/// From one line to the next, as a part of the letters' height.
pub const LEADING: f64 = 1.18;

impl<'a> Paragraph<'a> {
    /// A light ground behind it.
    pub fn ground(&self) -> Panel {
        Panel::filled(self.room, Fill::Plain(Colour::WHITE, 0.75))
    }

    /// Its lines, and how far below its middle their base lines are.
    pub fn base_lines(&self) -> impl Iterator<Item = (&'a str, f64)> {
        let first = 0.36 - LEADING * (self.lines.len() as f64 - 1.0) / 2.0;
        let size = self.size;
        let base = move |index: usize| size * (first + LEADING * index as f64);
        self.lines.iter().enumerate().map(move |(index, line)| (line.as_str(), base(index)))
    }
}
