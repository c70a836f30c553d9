//! The box for finished sets, from one blank: a tray whose back wall goes on as a lid with a flap to tuck in.
//!
//! ```text
//!        L
//!     ┌─────┐        D  front wall
//! ┌───┼─────┼───┐
//! │ D │     │ D │    B  bottom, between two side walls
//! └───┼─────┼───┘
//!     ├─────┤        D  back wall
//!     │     │        B  lid
//!     ├─────┤        flap, D or 1 in
//!     └─────┘
//! ```
//! The corners beside the front and the back wall stay as tabs for the glue, no wider than half of the side wall that
//! they are glued to, nor than an inch; the strips beside lid and flap are cut away. No published standard for such a box was found: common practice, no source.

use super::given::Given;
use super::{Bulk, Piece, Pocket, supplies, thickness};
use crate::diagnostics::{Problem, Problems};
use crate::folds::Blank;
use crate::folds::Score;
use crate::measure::{Axis, Length, Size};
use crate::orders::{GiftBox, OrderLine};

/// Room in a box beyond what lies in it, in each direction: 1/8 in (common practice, no source).
const ROOM: Length = Length::from_inch_parts(1, 8);

/// Walls that are lower are no use as tabs for the glue: 3/8 in (common practice, no source).
const LOWEST_WALL: Length = Length::from_inch_parts(3, 8);

/// The flap of the lid is no longer than this, nor are the tabs wider: 1 in (common practice, no source).
pub const LONGEST_FLAP: Length = Length::from_inch_parts(1, 1);

/// A finished set, of its line.
#[derive(Clone, Copy)]
pub(super) struct FilledSet<'a> {
    pub line: &'a OrderLine,
    /// Its pieces.
    pub pieces: &'a [Piece],
    /// What lies in its envelope.
    pub inside: Bulk,
    /// How thick the sets of other lines are in there.
    pub with_it: Length,
}

/// The blank for so many sets, each as its envelope is outside, or as its card is. Walls are as high as all of
/// them are thick and a little more; where that is not known, there is no box.
pub(super) fn blank(
    gift_box: &GiftBox,
    set: FilledSet,
    ground: Given,
    problems: &mut Problems,
) -> Option<Blank> {
    let FilledSet { line, pieces, inside, with_it } = set;
    let pocket = Pocket::of(line, inside, ground.stock, ground.workshop);
    let envelope = pocket.as_ref().map(Pocket::bought_thickness).unwrap_or_default();
    let one = match thickness::together(pieces, ground.papers) {
        Ok(thick) => thick + envelope,
        Err(paper) => {
            // Of a paper that is not there, or whose row has a mistake, that is told.
            if ground.papers.has(paper) {
                problems.push(unknown(line, gift_box, paper));
            }
            return None;
        }
    };
    let step = ground.workshop.trimmer.graduation;
    let sundries = supplies::thickness(line, ground.stock);
    let walls = ((one * gift_box.holds as i64).length()
        + (with_it + sundries) * gift_box.holds as i64
        + ROOM)
        .max(LOWEST_WALL)
        .rounded_up(step);
    let face = pocket.map_or(inside.size, |pocket| pocket.face);
    // A tab is glued to each side wall, and each crease takes half a board on either side of it.
    let board = ground.papers.heaviest(std::slice::from_ref(&gift_box.paper.value)).thickness;
    let room = ROOM + (board.unwrap_or_default() * 4).length();
    let wide = |length: Length| (length + room).rounded_up(step);
    Some(around(Size::new(wide(face.long()), wide(face.short())), walls, step))
}

fn around(bottom: Size, walls: Length, step: Length) -> Blank {
    let (length, breadth) = (bottom.width, bottom.height);
    let flap = walls.min(LONGEST_FLAP.rounded_up(step));
    let score = |across: Axis, at: Length| Score::new(across, at);
    let scores = vec![
        score(Axis::Width, walls),
        score(Axis::Width, walls + length),
        score(Axis::Height, walls),
        score(Axis::Height, walls + breadth),
        score(Axis::Height, walls * 2 + breadth),
        score(Axis::Height, walls * 2 + breadth * 2),
    ];
    let size = Size::new(length + walls * 2, walls * 2 + breadth * 2 + flap);
    Blank { size, scores, grain_along: None }
}

fn unknown(line: &OrderLine, gift_box: &GiftBox, paper: &str) -> Problem {
    let title = format!("the height of the box of line `{}` is not known", line.name.value);
    let label = format!("the thickness of {paper} is not known");
    Problem::error("piece-box-height", title)
        .at(gift_box.paper.place.as_ref(), label)
        .help(format!("write the `thickness` or the `gsm` of {paper} in sheets.csv"))
}
