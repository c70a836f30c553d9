//! `schedule.pdf`, `labels.pdf`, `offer.pdf` and `templates.pdf`: the same report and the same drawings, on numbered pages.
//!
//! All lengths here are millimetres on the page, from its left and upper edge. `flow` puts one thing below the other
//! and begins pages, `table` keeps rows whole, `fonts` measures text, `plate` takes drawings, `document` writes the
//! pages; `schedule`, `labels` and `templates` say what goes on them. The fonts that travel with the pages, and their licence, are
//! in `fonts/`.

mod document;
mod flow;
mod fonts;
mod labels;
mod offer;
mod plate;
mod schedule;
mod table;
mod templates;

pub use labels::labels;
pub use offer::offer;
pub use schedule::schedule;
pub use templates::templates;

use super::picture::{Colour, Line, Panel, Point, Stroke};
use crate::workshop::PageSize;

/// Free edge of every page; most printers reach beyond it.
const EDGE: f64 = 10.0;

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
    Text { at: Point, text: String, style: Style },
    /// Straight lines that look alike.
    Lines { lines: Vec<Line>, stroke: Stroke },
    /// A rectangle.
    Panel(Panel),
}

impl Mark {
    /// A line.
    fn line(ends: [f64; 4], stroke: Stroke) -> Mark {
        Mark::Lines { lines: vec![Line::new(ends)], stroke }
    }

    /// The same, so much further right and down.
    fn moved(mut self, right: f64, down: f64) -> Mark {
        let moved = |point: Point| Point::new(point.x + right, point.y + down);
        match &mut self {
            Mark::Text { at, .. } => *at = moved(*at),
            Mark::Panel(Panel { area, .. }) => {
                (area.x, area.y) = (area.x + right, area.y + down);
            }
            Mark::Lines { lines, .. } => {
                let all = lines.iter_mut();
                all.for_each(|line| (line.from, line.to) = (moved(line.from), moved(line.to)));
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
    colour: Colour,
    /// Whether it reads upwards.
    upward: bool,
}

impl Style {
    const fn plain(size: f64) -> Style {
        Style { size, bold: false, colour: Colour::INK, upward: false }
    }

    const fn bold(size: f64) -> Style {
        Style { bold: true, ..Style::plain(size) }
    }

    const fn quiet(size: f64) -> Style {
        Style { colour: Colour::QUIET, ..Style::plain(size) }
    }

    /// From one line to the next.
    fn leading(&self) -> f64 {
        self.size * 1.3
    }
}

/// Letters of the running text, in millimetres: 8 1/2 point. Nothing is smaller than 8 point, 2.82 mm.
const TEXT: Style = Style::plain(3.0);
const STRONG: Style = Style::bold(3.0);
const SMALL: Style = Style::quiet(2.85);
const HEADING: Style = Style::bold(4.6);
const PART: Style = Style::bold(3.8);
const TITLE: Style = Style::bold(7.0);
