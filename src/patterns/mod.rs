//! The best guillotine pattern of one sheet for given piece values.
//!
//! In: a sheet, the shapes that may lie on it, a value for each. Out: the pattern worth most, as a cut tree, and what
//! it is worth. It knows nothing of the solver, of stock or of orders.
//!
//! In a guillotine pattern every cut runs from edge to edge of the plate that it cuts. With F(x, y) the most that a
//! plate of x by y is worth, v, w, h value and sides of a shape as it may lie:
//!
//! ```text
//! F(x, y) = max { 0
//!                 v_i                          : w_i ≤ x, h_i ≤ y
//!                 F(u, y) + F(x − u, y)        : 0 < u ≤ x/2     cut across
//!                 F(x, s) + F(x, y − s)        : 0 < s ≤ y/2 }   cut down
//! ```
//!
//! (Gilmore & Gomory 1966, Operations Research 14:1045-1074; Beasley 1985), where u and s need only be sums of piece
//! sides (Herz 1972; Christofides & Whitlock 1977), and of these only the reduced raster points (Terno, Lindemann &
//! Scheithauer 1987; Scheithauer & Terno 1996; used for this recursion by Cintra, Miyazawa, Wakabayashi & Xavier 2008,
//! against whose results it is measured): `raster.rs`.
//!
//! This is the unbounded problem: a pattern may hold more of a piece than is wanted. Every bounded pattern is also an
//! unbounded one, so what F bounds stays bounded.
//!
//! The bench enters exactly as follows:
//!
//! - **blade** b: every piece and the sheet count as b longer, so that a second part begins b after the cut. A rest of
//!   at most b vanishes under the blade: the cut is made, and the tree has a remnant of zero width (or height) at the
//!   far edge. Only remnants can be that thin, and no other part is.
//! - **knife**: where one side of the sheet exceeds it, plates longer than the knife are only cut across that side, so
//!   that a longer piece has to have the sheet's full other side. The cuts that free a piece from a larger plate obey
//!   the same limit. Where both sides exceed it, nothing can be cut, and only a piece of exactly the sheet's size is
//!   held.
//! - **hold**: a plate is only cut where both its sides reach it. If no piece is narrower, that holds by itself. Else
//!   each part is a raster point exactly or is trimmed to one, which is always possible at the bench but may miss a
//!   better pattern; [`Space::relaxed`] gives the bound.
//! - **stages**: where their number is limited, patterns come from a table of their own, which may miss a better one
//!   too. The bound stays that of any number of stages.
//!
//! Labels, tables by stages and merged sums have bounds of their own, so that one pattern takes a tenth of a second at
//! most.
//!
//! | file | what |
//! | --- | --- |
//! | `raster.rs`, `grid.rs` | points, cells, seats of shapes, what may be cut |
//! | `space.rs` | one sheet, asked with many values |
//! | `table.rs`, `solved.rs` | F for all cells |
//! | `finder.rs`, `part.rs`, `lay_out.rs` | from F back to a cut tree, with few and large remnants |
//! | `staged.rs` | a good pattern with a limited number of stages |
//! | `within.rs`, `labels.rs`, `fill.rs` | a good pattern with limited numbers of pieces |
//! | `listing/` | all patterns with limited numbers of pieces that are worth at least so much |
//!
//! # Literature
//!
//! - Beasley, J. E. (1985). Algorithms for unconstrained two-dimensional guillotine cutting. *Journal of the
//!   Operational Research Society* 36, 297–306.
//! - Christofides, N., Whitlock, C. (1977). An algorithm for two-dimensional cutting problems. *Operations Research*
//!   25, 30–44.
//! - Cintra, G. F., Miyazawa, F. K., Wakabayashi, Y., Xavier, E. C. (2008). Algorithms for two-dimensional cutting
//!   stock and strip packing problems using dynamic programming and column generation. *European Journal of Operational
//!   Research* 191, 61–85.
//! - Herz, J. C. (1972). Recursive computational procedure for two-dimensional stock cutting. *IBM Journal of Research
//!   and Development* 16, 462–469.
//! - Scheithauer, G., Terno, J. (1996). The G4-heuristic for the pallet loading problem. *Journal of the Operational
//!   Research Society* 47, 511–522.
//! - Terno, J., Lindemann, R., Scheithauer, G. (1987). *Zuschnittprobleme und ihre praktische Lösung*. Harri Deutsch.

mod fill;
mod finder;
mod grid;
mod labels;
mod lay_out;
mod listing;
mod part;
mod raster;
mod solved;
mod space;
mod staged;
mod table;
mod within;

pub use grid::MOST_POINTS;
pub use listing::Pattern;
pub use space::{Best, Space};

use crate::measure::Size;

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
