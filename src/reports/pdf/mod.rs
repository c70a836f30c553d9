//! `schedule.pdf` and `labels.pdf`: the same report and the same drawings, on numbered pages.
//!
//! All lengths here are millimetres on the page, from its left and upper edge. `flow` puts one thing
//! below the other and begins pages, `table` keeps rows whole, `fonts` measures text, `picture` reads
//! drawings, `document` writes the pages; `schedule` and `labels` say what goes on them.

mod document;
mod flow;
mod fonts;
mod labels;
mod picture;
mod schedule;
mod table;

pub use labels::labels;
pub use schedule::schedule;

use crate::workshop::PageSize;
use picture::Picture;

/// Free edge of every page; most printers reach beyond it.
const EDGE: f64 = 12.0;

/// Width and height of a page.
const fn extent(page: PageSize) -> (f64, f64) {
    match page {
        // 8 1/2 x 11 in (ANSI/ASME Y14.1).
        PageSize::Letter => (215.9, 279.4),
        // ISO 216.
        PageSize::A4 => (210.0, 297.0),
    }
}

/// Something on a page.
#[derive(Clone, Debug)]
enum Mark {
    /// A line of text from this point, which lies on its base line.
    Text { at: (f64, f64), text: String, style: Style },
    /// A line.
    Line { from: (f64, f64), to: (f64, f64), width: f64, dashed: bool },
    /// A rectangle: filled, or drawn in a line of this width.
    Box { at: (f64, f64), size: (f64, f64), line: Option<f64> },
    /// A picture, in the size it has by itself.
    Picture { at: (f64, f64), picture: Picture },
}

impl Mark {
    /// The same, so much higher up.
    fn moved_up(mut self, way: f64) -> Mark {
        match &mut self {
            Mark::Text { at, .. } | Mark::Box { at, .. } | Mark::Picture { at, .. } => at.1 -= way,
            Mark::Line { from, to, .. } => {
                from.1 -= way;
                to.1 -= way;
            }
        }
        self
    }
}

/// How text looks.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Style {
    /// Height of the letters.
    size: f64,
    bold: bool,
    /// Grey instead of black.
    quiet: bool,
    /// White, on something black.
    inverse: bool,
}

impl Style {
    const fn plain(size: f64) -> Style {
        Style { size, bold: false, quiet: false, inverse: false }
    }

    const fn bold(size: f64) -> Style {
        Style { bold: true, ..Style::plain(size) }
    }

    const fn quiet(size: f64) -> Style {
        Style { quiet: true, ..Style::plain(size) }
    }

    /// From one line to the next.
    fn leading(&self) -> f64 {
        self.size * 1.3
    }
}

/// Letters of the running text, in millimetres: 9 1/2 point.
const TEXT: Style = Style::plain(3.35);
const STRONG: Style = Style::bold(3.35);
const SMALL: Style = Style::quiet(2.7);
const HEADING: Style = Style::bold(5.0);
const PART: Style = Style::bold(4.0);
const TITLE: Style = Style::bold(8.0);
