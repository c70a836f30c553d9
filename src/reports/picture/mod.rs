//! How a [`Drawing`] lies on paper, in true scale, and the pictures of it and of the timetable, part by part.
//!
//! [`Canvas`] takes the parts: one for the screen, one for the printer.

mod badges;
pub mod blank;
mod canvas;
mod card;
mod fills;
mod groups;
mod labels;
mod scale;
mod series;
mod timetable;

pub use canvas::{
    Alignment, Canvas, Colour, Fill, LEADING, Line, Panel, Paragraph, Point, Stroke, Text,
};
pub use card::{card_scale, card_size, draw_card};
pub use fills::{Hatch, Trace};
pub use labels::width_of;
use scale::Extent;
pub use scale::{DrawingRoom, Scale};
pub use timetable::{draw_timetable, timetable_size};

use super::drawing::{Drawing, Region, Role};
use crate::measure::{Axis, Length};
use crate::schedule::CutLine;
use crate::stock::{Back, Print};
use badges::Badge;
use labels::{Lettered, Lettering, Wordings};
use std::collections::BTreeSet;

/// A rectangle on paper, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rectangle {
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Across.
    pub width: f64,
    /// Down.
    pub height: f64,
}

impl Rectangle {
    /// A rectangle around its middle.
    pub fn around(x: f64, y: f64, width: f64, height: f64) -> Rectangle {
        Rectangle { x: x - width / 2.0, y: y - height / 2.0, width, height }
    }

    /// Whether both have room in common.
    pub fn meets(&self, other: &Rectangle) -> bool {
        self.x < other.x + other.width
            && other.x < self.x + self.width
            && self.y < other.y + other.height
            && other.y < self.y + self.height
    }

    /// Area that both cover.
    fn shared_with(&self, other: &Rectangle) -> f64 {
        let across = (self.x + self.width).min(other.x + other.width) - self.x.max(other.x);
        let down = (self.y + self.height).min(other.y + other.height) - self.y.max(other.y);
        across.max(0.0) * down.max(0.0)
    }

    /// What is left of it on each side of another.
    fn without(&self, other: &Rectangle) -> [Rectangle; 4] {
        let (right, bottom) = (self.x + self.width, self.y + self.height);
        let (end, foot) = (other.x + other.width, other.y + other.height);
        [
            Rectangle { width: other.x - self.x, ..*self },
            Rectangle { x: end, width: right - end, ..*self },
            Rectangle { height: other.y - self.y, ..*self },
            Rectangle { y: foot, height: bottom - foot, ..*self },
        ]
    }

    fn join(&mut self, other: &Rectangle) {
        let right = (self.x + self.width).max(other.x + other.width);
        let bottom = (self.y + self.height).max(other.y + other.height);
        (self.x, self.y) = (self.x.min(other.x), self.y.min(other.y));
        (self.width, self.height) = (right - self.x, bottom - self.y);
    }
}

/// The tints and hatches that the drawings use.
pub fn fills_used<'a>(drawings: impl IntoIterator<Item = &'a Drawing>) -> BTreeSet<usize> {
    let regions = drawings.into_iter().flat_map(|drawing| &drawing.regions);
    let used = regions.filter_map(|region| match region.role {
        Role::Piece(fill) => Some(fill),
        Role::Offcut | Role::Waste => None,
    });
    used.collect()
}

/// A drawing of more places than this is tried in the largest scale alone, if not in the common one: trying all of
/// them takes long, and it is crowded in each.
const MANY: usize = 120;

/// The scale in which the drawing is best read, and what is wrong with it there: no larger than it has to
/// be, so that every name can be read and no number lies on it, and no larger than there is room.
fn readable(drawing: &Drawing, first: Scale, room: Extent) -> (Arrangement, usize) {
    let mut best = tried(drawing, first);
    let mut larger = first.larger(drawing.sheet, room);
    if drawing.regions.len() > MANY {
        larger.drain(..larger.len().saturating_sub(1));
    }
    for scale in larger {
        if best.1 == 0 {
            break;
        }
        let next = tried(drawing, scale);
        if next.1 < best.1 {
            best = next;
        }
    }
    best
}

/// A layout, and what is wrong with it: names that cannot be read, and numbers that lie on a text.
fn tried(drawing: &Drawing, scale: Scale) -> (Arrangement, usize) {
    let layout = Arrangement::of(drawing, scale);
    let named = drawing.regions.iter().filter(|region| !region.name.is_empty()).count();
    let told: usize = layout.labels.iter().map(Lettered::named).sum();
    let texts: Vec<Rectangle> = layout.labels.iter().map(Lettered::rectangle).collect();
    let hides = |badge: &&Badge| {
        let room = badge.rectangle();
        texts.iter().any(|text| text.meets(&room))
    };
    let faults = named - told + layout.badges.iter().filter(hides).count();
    (layout, faults)
}

/// More names than this that can be read over the width of the page only call for all of it.
const CROWDED: usize = 5;

/// A drawing in a scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// What is drawn.
    pub drawing: Drawing,
    layout: Arrangement,
    /// Whether it is too crowded to stand beside others.
    pub is_wide: bool,
}

/// Where everything goes.
#[derive(Clone, Debug, PartialEq)]
struct Arrangement {
    scale: Scale,
    sheet: Rectangle,
    labels: Vec<Lettered>,
    badges: Vec<Badge>,
    /// All that is drawn on.
    extent: Rectangle,
}

/// Room left of and above the sheet for its dimensions.
const MARGIN: f64 = 6.5;
/// Room right of and below what is drawn.
const EDGE: f64 = 0.6;
/// Height of a line that tells grain or print, of its letters, and where they begin.
const FOOT: f64 = 6.2;
const FOOT_FONT: f64 = 3.0;
const FOOT_TEXT: f64 = 9.0;
const FOOT_GAP: f64 = 3.0;
/// Letters of the sides.
const SIDE_FONT: f64 = 3.4;

impl Arrangement {
    fn of(drawing: &Drawing, scale: Scale) -> Arrangement {
        let sheet = Rectangle {
            x: 0.0,
            y: 0.0,
            width: scale.on_paper(drawing.sheet.width),
            height: scale.on_paper(drawing.sheet.height),
        };
        let places = drawing.regions.iter().map(|region| (region, rectangle(region, scale)));
        let groups = groups::groups(places);
        let texts = groups.iter().map(|group| (Wordings::of(&group.region), group));
        let texts: Vec<_> = texts.collect();
        let alone = texts.iter().filter_map(|(wordings, group)| wordings.fit(group.area));
        let alone: Vec<Rectangle> = alone.map(|place| place.rectangle()).collect();
        let badges = badges::place(&drawing.cuts, scale, &sheet, &alone);
        let taken: Vec<Rectangle> = badges.iter().map(Badge::rectangle).collect();
        let labels = texts.iter().filter_map(|(wordings, group)| {
            let place: Lettering = wordings.beside(group.area, &taken)?;
            Some(wordings.label(place, group.count))
        });
        let labels = labels.collect();
        let mut extent = sheet;
        taken.iter().for_each(|badge| extent.join(badge));
        extent.join(&Rectangle {
            x: -MARGIN,
            y: -MARGIN,
            width: MARGIN + sheet.width.max(20.0) + EDGE,
            height: MARGIN + sheet.height + EDGE,
        });
        (extent.width, extent.height) = (extent.width + EDGE, extent.height + EDGE);
        Arrangement { scale, sheet, labels, badges, extent }.with_foot(drawing)
    }

    fn with_foot(mut self, drawing: &Drawing) -> Self {
        let foot = foot(drawing, self.sheet.width);
        let right = foot.iter().map(|note| note.x + note.width()).fold(0.0, f64::max);
        self.extent.height += FOOT * lines(&foot) as f64;
        self.extent.width = self.extent.width.max(right - self.extent.x);
        self
    }
}

impl Picture {
    /// A drawing in a scale.
    pub fn in_scale(drawing: Drawing, scale: Scale) -> Picture {
        let layout = Arrangement::of(&drawing, scale);
        Picture { drawing, layout, is_wide: false }
    }

    /// A drawing as it is best read among others that have a common scale.
    pub fn readable(drawing: Drawing, common: Scale, room: DrawingRoom) -> Picture {
        let first = common.for_sheet(drawing.sheet, room);
        let (beside, faults) = readable(&drawing, first, room.beside);
        let above = room.above.filter(|_| faults > CROWDED);
        let above = above.map(|above| readable(&drawing, first, above));
        let (layout, is_wide) = match above {
            Some((above, fewer)) if faults > fewer + CROWDED => (above, true),
            _ => (beside, false),
        };
        Picture { drawing, layout, is_wide }
    }

    /// How much smaller than life it is.
    pub fn scale(&self) -> Scale {
        self.layout.scale
    }

    /// The places of the pieces, each with its id.
    pub fn pieces(&self) -> impl Iterator<Item = (&str, Rectangle)> {
        let pieces = self.drawing.regions.iter();
        let pieces = pieces.filter(|region| matches!(region.role, Role::Piece(_)));
        pieces.map(|region| (region.name.as_str(), rectangle(region, self.layout.scale)))
    }

    /// All that is drawn on.
    pub fn extent(&self) -> Rectangle {
        self.layout.extent
    }

    /// Draws all of it.
    pub fn draw(&self, canvas: &mut dyn Canvas) {
        self.draw_regions(canvas);
        self.draw_folds(canvas);
        self.draw_cuts(canvas);
        self.layout.badges.iter().for_each(|badge| badge.draw_tie(canvas));
        self.layout.labels.iter().for_each(|label| label.draw(canvas));
        // No leader may cross out a number.
        self.layout.badges.iter().for_each(|badge| badge.draw_leader(canvas));
        self.layout.badges.iter().for_each(|badge| badge.draw(canvas));
        self.draw_sides(canvas);
        self.draw_foot(canvas);
    }

    fn draw_regions(&self, canvas: &mut dyn Canvas) {
        for region in &self.drawing.regions {
            let area = rectangle(region, self.layout.scale);
            let hatched = |hatch| Panel::filled(area, Fill::Hatched(hatch));
            canvas.shape(&match region.role {
                Role::Piece(fill) => hatched(Hatch::of_line(fill)),
                Role::Waste => hatched(Hatch::Waste),
                Role::Offcut => Panel {
                    stroke: Some(Stroke { dash: Some([2.0, 1.2]), ..Stroke::ink(0.4) }),
                    ..Panel::filled(within(area), Fill::Plain(Colour::WHITE, 1.0))
                },
            });
        }
    }

    fn draw_folds(&self, canvas: &mut dyn Canvas) {
        let on_paper = |fold: &CutLine| self.line(fold);
        let folds: Vec<Line> = self.drawing.folds.iter().map(on_paper).collect();
        let stroke = Stroke { dash: Some([0.1, 1.0]), round: true, ..Stroke::ink(0.35) };
        canvas.lines(stroke, &folds);
    }

    fn draw_cuts(&self, canvas: &mut dyn Canvas) {
        let outline = Panel::filled(self.layout.sheet, Fill::Empty);
        canvas.shape(&Panel { stroke: Some(Stroke::ink(0.7)), ..outline });
        let cuts: Vec<Line> = self.drawing.cuts.iter().map(|cut| self.line(&cut.line)).collect();
        canvas.lines(Stroke::ink(0.5), &cuts);
    }

    fn line(&self, line: &CutLine) -> Line {
        Line::new([line.x1, line.y1, line.x2, line.y2].map(|end| self.layout.scale.on_paper(end)))
    }

    fn draw_sides(&self, canvas: &mut dyn Canvas) {
        let (width, height) = (self.layout.sheet.width, self.layout.sheet.height);
        let lines = [
            [0.0, -1.6, width, -1.6],
            [-1.6, 0.0, -1.6, height],
            [0.0, -2.4, 0.0, -0.8],
            [width, -2.4, width, -0.8],
            [-2.4, 0.0, -0.8, 0.0],
            [-2.4, height, -0.8, height],
        ];
        canvas.lines(Stroke::ink(0.2), &lines.map(Line::new));
        let (across, down) = &self.drawing.sides;
        let text = |at, text| Text { anchor: Alignment::Middle, ..Text::at(at, SIDE_FONT, text) };
        canvas.text(&text(Point::new(width / 2.0, -2.9), across));
        let down = text(Point::new(-2.9, height / 2.0), down);
        canvas.text(&Text { upward: true, ..down });
    }

    fn draw_foot(&self, canvas: &mut dyn Canvas) {
        let foot = foot(&self.drawing, self.layout.sheet.width);
        let top = self.layout.extent.y + self.layout.extent.height - FOOT * lines(&foot) as f64;
        for FootNote { arrow, words, x, line } in foot {
            let (x, y) = (x + 4.0, top + FOOT * (line as f64 + 0.5));
            let moved = |[x1, y1, x2, y2]: &[f64; 4]| Line::new([x + x1, y + y1, x + x2, y + y2]);
            let arrow: Vec<Line> = arrow.iter().map(moved).collect();
            canvas.lines(Stroke { round: true, ..Stroke::ink(0.35) }, &arrow);
            canvas.text(&Text::at(Point::new(x + FOOT_TEXT - 4.0, y + 1.0), FOOT_FONT, words));
        }
    }
}

/// The place of an offcut, drawn a little smaller, so that its broken line can be seen.
fn within(area: Rectangle) -> Rectangle {
    let inset = 0.9_f64.min(area.width / 5.0).min(area.height / 5.0);
    Rectangle {
        x: area.x + inset,
        y: area.y + inset,
        width: area.width - 2.0 * inset,
        height: area.height - 2.0 * inset,
    }
}

/// What is told below the sheet.
struct FootNote {
    /// An arrow, around its middle.
    arrow: &'static [[f64; 4]],
    words: &'static str,
    /// How far right it begins.
    x: f64,
    /// In which line, from 0.
    line: usize,
}

impl FootNote {
    fn width(&self) -> f64 {
        FOOT_TEXT + width_of(self.words, FOOT_FONT)
    }
}

/// How many lines they take.
fn lines(foot: &[FootNote]) -> usize {
    foot.last().map_or(0, |last| last.line + 1)
}

/// What is told below a sheet that is drawn so wide: beside each other as long as there is room.
fn foot(drawing: &Drawing, width: f64) -> Vec<FootNote> {
    let (mut x, mut line) = (0.0, 0);
    let notes = notes(drawing).into_iter().map(|(arrow, words)| {
        let note = FootNote { arrow, words, x, line };
        if x > 0.0 && x + note.width() > width {
            (x, line) = (0.0, line + 1);
        }
        let note = FootNote { x, line, ..note };
        x += note.width() + FOOT_GAP;
        note
    });
    notes.collect()
}

/// Arrows, each around its middle, with their words.
fn notes(drawing: &Drawing) -> Vec<(&'static [[f64; 4]], &'static str)> {
    const ACROSS: &[[f64; 4]] = &[
        [-4.0, 0.0, 4.0, 0.0],
        [2.4, -1.2, 4.0, 0.0],
        [4.0, 0.0, 2.4, 1.2],
        [-2.4, 1.2, -4.0, 0.0],
        [-4.0, 0.0, -2.4, -1.2],
    ];
    const DOWN: &[[f64; 4]] = &[
        [0.0, -3.0, 0.0, 3.0],
        [-1.2, 1.4, 0.0, 3.0],
        [0.0, 3.0, 1.2, 1.4],
        [1.2, -1.4, 0.0, -3.0],
        [0.0, -3.0, -1.2, -1.4],
    ];
    const UP: &[[f64; 4]] =
        &[[0.0, 2.5, 0.0, -2.5], [-1.3, -0.7, 0.0, -2.5], [0.0, -2.5, 1.3, -0.7]];
    let grain = drawing.grain.map(|grain| match grain {
        Axis::Width => (ACROSS, "grain"),
        Axis::Height => (DOWN, "grain"),
    });
    let print = match drawing.print {
        Print::Free => None,
        Print::TwoWay => Some((DOWN, "print: either end up")),
        Print::OneWay => Some((UP, "this way up")),
    };
    let back = match drawing.back {
        Back::Free => None,
        Back::TwoWay => Some((DOWN, "back: either end up")),
        Back::OneWay => Some((UP, "back: this way up, turned over like a page")),
        Back::Tumbled => Some((UP, "back: this way up, turned over top to bottom")),
    };
    grain.into_iter().chain(print).chain(back).collect()
}

/// A length in millimetres.
pub fn millimetres(length: Length) -> f64 {
    length.ticks() as f64 / Length::TICKS_PER_MM as f64
}

fn rectangle(region: &Region, scale: Scale) -> Rectangle {
    Rectangle {
        x: scale.on_paper(region.x),
        y: scale.on_paper(region.y),
        width: scale.on_paper(region.size.width),
        height: scale.on_paper(region.size.height),
    }
}
