//! `templates.pdf`: the blanks in full size, to lay the paper on or to cut along. A blank that is larger than a page goes
//! over several, which are laid on each other by their crosses.
//!
//! Continuous lines are cut, dotted ones are scored and folded.

use super::document::document;
use super::flow::Flow;
use super::fonts::Fonts;
use super::{EDGE, Mark, SMALL, STRONG};
use crate::pieces::{Part, Piece, Upright, upright};
use crate::reports::picture::blank::{Corner, Outline, PieceShapes};
use crate::reports::picture::{Line, Point, Rectangle, Stroke, millimetres};
use crate::reports::visible::shown;
use crate::reports::words;
use crate::reports::{Batch, ReportError};
use crate::workshop::PageSize;

/// Free edge beside a blank: less than beside words, so that an envelope as wide as a page nearly is goes on one.
const SIDE: f64 = 6.0;
/// Room for the words above a blank, and below it for bar and cautions.
const HEAD: f64 = 12.0;
const FOOT: f64 = 26.0;
/// How far the parts of a blank on two pages lie on each other.
const LAP: f64 = 12.0;
/// Half the height of a cross, and how far it is from the end of its seam.
const CROSS: f64 = 3.0;
const INSET: f64 = 15.0;
/// How far the up arrow is from the corner of a blank.
const UP: f64 = 7.0;

/// The file; `None` where there is no blank that needs a drawing.
///
/// # Errors
/// A font cannot be read.
pub fn templates(
    batch: &Batch,
    order: &str,
    page: PageSize,
) -> Result<Option<Vec<u8>>, ReportError> {
    let templates = blanks(batch);
    if templates.is_empty() {
        return Ok(None);
    }
    let fonts = Fonts::new()?;
    let mut flow = Flow::new(page, &fonts);
    let mut is_first = true;
    for template in &templates {
        let tiles = BlankPages::of(template.extent, room(&flow));
        for number in 0..tiles.across * tiles.down {
            if !std::mem::take(&mut is_first) {
                flow.turn();
            }
            put(&mut flow, template, &tiles, number);
        }
    }
    let title = shown(order);
    let name = format!("{title}: templates");
    document(&name, &name, page, &flow.finish(), &fonts).map(Some)
}

/// A blank in full size, as it lies with the design of its paper upright.
#[derive(Clone, Debug, PartialEq)]
struct Template {
    /// Whose it is, and what to do with it.
    title: String,
    outline: Outline,
    /// Its width and height, in millimetres.
    extent: Corner,
    /// Whether the design of its paper has an up.
    has_up: bool,
}

/// The blanks of a batch that are no plain rectangles.
fn blanks(batch: &Batch) -> Vec<Template> {
    let style = batch.made.job.workshop.style();
    let shapes = PieceShapes::of(&batch.made.job);
    let template = |piece: &Piece| {
        let (papers, size) = (piece.papers.join(" or "), style.size(piece.size));
        Some(Template {
            title: format!("{}: {papers}, {size}", piece.id),
            outline: shapes.shape(piece)?,
            extent: (millimetres(piece.size.width), millimetres(piece.size.height)),
            has_up: has_an_up(piece, batch),
        })
    };
    batch.made.job.bill.pieces.iter().filter_map(template).collect()
}

/// Whether the design of its paper has an up that its edges run along.
fn has_an_up(piece: &Piece, batch: &Batch) -> bool {
    let is_askew = piece.part == Part::Envelope && piece.scores.is_empty();
    upright(piece, &batch.made.job.stock) != Upright::Any && !is_askew
}

/// How a blank is spread over pages, evenly.
struct BlankPages {
    across: usize,
    down: usize,
    /// What is on each page.
    width: f64,
    height: f64,
}

impl BlankPages {
    /// For a blank of this width and height, where so much goes on a page.
    fn of(whole: Corner, room: Corner) -> BlankPages {
        let (width, height) = whole;
        let count = |whole: f64, room: f64| match whole <= room {
            true => 1,
            false => ((whole - LAP) / (room - LAP)).ceil() as usize,
        };
        let (across, down) = (count(width, room.0), count(height, room.1));
        let part = |whole: f64, count: usize| (whole + LAP * (count - 1) as f64) / count as f64;
        BlankPages { across, down, width: part(width, across), height: part(height, down) }
    }

    /// The part of the blank that is on the page of this number.
    fn window(&self, number: usize) -> Rectangle {
        let (column, row) = ((number % self.across) as f64, (number / self.across) as f64);
        let BlankPages { width, height, .. } = *self;
        Rectangle { x: column * (width - LAP), y: row * (height - LAP), width, height }
    }

    /// Where crosses are, on the seams between pages: two on each, seen on both pages.
    fn crosses(&self) -> Vec<Corner> {
        let mut crosses = Vec::new();
        for number in 0..self.across * self.down {
            let Rectangle { x, y, width, height } = self.window(number);
            let ends = |from: f64, length: f64| {
                let inset = INSET.min(length / 4.0);
                [from + inset, from + length - inset]
            };
            if number % self.across > 0 {
                crosses.extend(ends(y, height).map(|y| (x + LAP / 2.0, y)));
            }
            if number >= self.across {
                crosses.extend(ends(x, width).map(|x| (x, y + LAP / 2.0)));
            }
        }
        crosses
    }
}

/// What goes on a page, in millimetres across and down.
fn room(flow: &Flow) -> Corner {
    (flow.width() + 2.0 * (EDGE - SIDE), flow.height() - HEAD - FOOT)
}

/// Puts the part of a blank that is on one page.
fn put(flow: &mut Flow, template: &Template, tiles: &BlankPages, number: usize) {
    let count = tiles.across * tiles.down;
    flow.line(Point::new(EDGE, EDGE), &template.title, STRONG);
    let part = match count {
        1 => String::new(),
        _ => format!(
            "Page {} of {count} of this blank: row {} of {}, column {} of {}. Lay the crosses on each other. ",
            number + 1,
            number / tiles.across + 1,
            tiles.down,
            number % tiles.across + 1,
            tiles.across
        ),
    };
    let told = format!("{part}Cut along the lines, score and fold along the dots.");
    flow.line(Point::new(EDGE, EDGE + STRONG.leading()), &told, SMALL);
    let window = tiles.window(number);
    let sheet = Window { window, at: Point::new(SIDE, EDGE + HEAD) };
    let outline = &template.outline;
    let round = outline.outline.iter().zip(outline.outline.iter().cycle().skip(1));
    let cut = round.map(|(from, to)| [*from, *to]).chain(outline.slits.iter().copied());
    sheet.lines(flow, cut, Stroke::ink(0.3));
    let dots = Stroke { dash: Some([0.1, 1.2]), round: true, ..Stroke::ink(0.4) };
    sheet.lines(flow, outline.folds.iter().copied(), dots);
    for (corner, name) in &outline.names {
        if let Some(at) = sheet.place(*corner) {
            let half = flow.fonts.width(name, &SMALL) / 2.0;
            flow.text(Point::new(at.x - half, at.y + 1.1), name, SMALL);
        }
    }
    for (x, y) in tiles.crosses() {
        let arms = [[(x - CROSS, y), (x + CROSS, y)], [(x, y - CROSS), (x, y + CROSS)]];
        sheet.lines(flow, arms, Stroke::ink(0.2));
    }
    arrow(flow, template.has_up);
    foot(flow);
}

/// A part of a blank, and where its corner is on the page.
struct Window {
    window: Rectangle,
    at: Point,
}

impl Window {
    fn place(&self, corner: Corner) -> Option<Point> {
        let (x, y) = corner;
        let Rectangle { x: left, y: top, width, height } = self.window;
        let is_in = (left..=left + width).contains(&x) && (top..=top + height).contains(&y);
        is_in.then(|| Point::new(x - left + self.at.x, y - top + self.at.y))
    }

    /// Puts as much of lines as lies in it.
    fn lines(&self, flow: &mut Flow, lines: impl IntoIterator<Item = [Corner; 2]>, stroke: Stroke) {
        let Rectangle { x, y, .. } = self.window;
        let moved = |(across, down): Corner| (across - x + self.at.x, down - y + self.at.y);
        let clipped = lines.into_iter().filter_map(|line| clipped(line, self.window));
        let lines: Vec<Line> = clipped
            .map(|line| {
                let [(x1, y1), (x2, y2)] = line.map(moved);
                Line::new([x1, y1, x2, y2])
            })
            .collect();
        flow.put(Mark::Lines { lines, stroke });
    }
}

/// The part of a line that lies in a rectangle (Y.-D. Liang and B. A. Barsky, ACM Transactions on Graphics 3, 1984; from
/// memory).
fn clipped([from, to]: [Corner; 2], window: Rectangle) -> Option<[Corner; 2]> {
    let (across, down) = (to.0 - from.0, to.1 - from.1);
    let (mut first, mut last) = (0.0_f64, 1.0_f64);
    let sides = [
        (-across, from.0 - window.x),
        (across, window.x + window.width - from.0),
        (-down, from.1 - window.y),
        (down, window.y + window.height - from.1),
    ];
    for (along, room) in sides {
        if along == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if along < 0.0 {
            first = first.max(room / along);
        } else {
            last = last.min(room / along);
        }
    }
    let at = |part: f64| (from.0 + part * across, from.1 + part * down);
    (first <= last).then(|| [at(first), at(last)])
}

/// An arrow that shows which way is up, in the corner of the page: that of the paper's design where it has one.
fn arrow(flow: &mut Flow, has_up: bool) {
    let (x, y) = (EDGE + flow.width() - UP / 2.0, EDGE + flow.height() - UP);
    flow.arrow_up(Point::new(x, y), UP / 2.0, 1.5);
    let told = if has_up { "up, as the paper's design" } else { "up" };
    let width = flow.fonts.width(told, &SMALL);
    flow.text(Point::new(x - 3.0 - width, y + 1.0), told, SMALL);
}

/// The bar that proves the size, and what to mind.
fn foot(flow: &mut Flow) {
    let top = EDGE + HEAD + room(flow).1 + 3.0;
    flow.bar(top + 2.0, "Print at 100 %, not fitted to the page: then this bar is 50 mm long.");
    flow.y = top + 5.5;
    words::BY_HAND.iter().for_each(|caution| flow.lines(caution, SMALL));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture;
    use crate::stock::Print;
    use proptest::prelude::*;

    const WINDOW: Rectangle = Rectangle { x: 10.0, y: 20.0, width: 100.0, height: 50.0 };

    #[test]
    fn envelopes_are_drawn_and_plain_rectangles_are_not() {
        let made = fixture::fair();
        let drawn = blanks(&made.batch());
        let envelopes: Vec<&Piece> =
            made.job.bill.pieces.iter().filter(|it| it.part == Part::Envelope).collect();
        assert!(!envelopes.is_empty() && drawn.len() == envelopes.len());
        for (template, piece) in drawn.iter().zip(envelopes) {
            assert!(template.title.starts_with(&format!("{}: ", piece.id)), "{}", template.title);
            assert_eq!(
                template.extent,
                (millimetres(piece.size.width), millimetres(piece.size.height))
            );
        }
        assert_eq!(blanks(&fixture::lesson().batch()), []);
        assert!(drawn.iter().all(|template| !template.has_up));
        let mut made = made;
        made.job.stock.sheets.iter_mut().for_each(|sheet| sheet.print = Print::OneWay);
        assert!(blanks(&made.batch()).iter().all(|template| template.has_up));
    }

    #[test]
    fn a_line_is_cut_off_at_the_edges() {
        let of = |from, to| clipped([from, to], WINDOW);
        assert_eq!(of((0.0, 30.0), (60.0, 30.0)), Some([(10.0, 30.0), (60.0, 30.0)]));
        assert_eq!(of((60.0, 0.0), (60.0, 200.0)), Some([(60.0, 20.0), (60.0, 70.0)]));
        assert_eq!(of((0.0, 0.0), (5.0, 200.0)), None);
        assert_eq!(of((20.0, 30.0), (30.0, 40.0)), Some([(20.0, 30.0), (30.0, 40.0)]));
    }

    const ROOM: Corner = (195.0, 218.0);

    proptest! {
        /// All of the blank is on some page, and each cross whole on two or more.
        #[test]
        fn pages_cover_the_blank_and_share_their_crosses(
            width in 10.0_f64..1500.0,
            height in 10.0_f64..1500.0,
            part in prop::array::uniform2(0.0_f64..1.0),
        ) {
            let tiles = BlankPages::of((width, height), ROOM);
            let windows: Vec<Rectangle> =
                (0..tiles.across * tiles.down).map(|number| tiles.window(number)).collect();
            let seen = |(x, y): Corner, reach: f64| {
                let is_in = |window: &&Rectangle| {
                    let Rectangle { x: left, y: top, width, height } = **window;
                    x - reach >= left - 1e-9
                        && x + reach <= left + width + 1e-9
                        && y - reach >= top - 1e-9
                        && y + reach <= top + height + 1e-9
                };
                windows.iter().filter(is_in).count()
            };
            prop_assert!(seen((width * part[0], height * part[1]), 0.0) >= 1);
            let is_tiled = tiles.across * tiles.down > 1;
            prop_assert_eq!(is_tiled, !tiles.crosses().is_empty());
            prop_assert!(tiles.width <= ROOM.0 && tiles.height <= ROOM.1);
            // Beside a seam a blank is never so narrow: its other side has a page of its own.
            prop_assume!(width.min(height) > 12.0 * CROSS);
            for cross in tiles.crosses() {
                prop_assert!(seen(cross, CROSS) >= 2, "{cross:?}");
            }
        }
    }
}
