//! The best guillotine pattern of one sheet for given piece values.
//!
//! In: a sheet, the shapes that may lie on it, a value for each. Out: the pattern worth most, as a cut
//! tree, and what it is worth. It knows nothing of the solver, of stock or of orders.

mod fill;
mod finder;
mod grid;
mod labels;
mod layout;
mod part;
mod raster;
mod solved;
mod space;
mod table;
mod within;

pub use layout::counts;
pub use space::{Best, Space};

use crate::measure::{Length, Size};

/// What the bench can do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bench {
    /// Width lost per cut.
    pub blade: Length,
    /// Longest cut.
    pub knife: Length,
    /// Narrowest strip that can be held while it is cut.
    pub hold: Length,
}

/// A piece that may be cut from the sheet, in the ways it may lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shape {
    /// Size as the piece is given.
    pub size: Size,
    /// Whether it may lie as given.
    pub upright: bool,
    /// Whether it may lie after a quarter turn.
    pub turned: bool,
}

/// A cut tree: one way to cut one plate. Positions are relative to the plate's own corner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout {
    /// Size of the plate.
    pub size: Size,
    /// What becomes of it.
    pub content: Content,
}

/// What becomes of a plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Content {
    /// Cut at this x: left part, then (a blade further) right part.
    CutX(Length, Box<Layout>, Box<Layout>),
    /// Cut at this y: upper part, then (a blade further) lower part.
    CutY(Length, Box<Layout>, Box<Layout>),
    /// It is a piece: the shape's index, and whether it lies turned.
    Piece(usize, bool),
    /// Nothing is cut from it.
    Remnant,
}
