//! Pages of marks as a PDF file.

use super::fonts::Fonts;
use super::{EDGE, Mark, SMALL, Style, extent};
use crate::reports::ReportError;
use crate::reports::picture::{self, Colour, Hatch, Line, Panel, Rectangle, Trace};
use crate::workshop::PageSize;
use krilla::Document;
use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Rect, Size, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, Pattern, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::TextDirection;
use std::collections::BTreeMap;

/// Points in a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// Writes the pages, with their numbers and the name of the batch on each.
///
/// # Errors
/// A font cannot be written.
pub(super) fn document(
    title: &str,
    name: &str,
    page: PageSize,
    pages: &[Vec<Mark>],
    fonts: &Fonts,
) -> Result<Vec<u8>, ReportError> {
    let mut document = Document::new();
    let metadata = Metadata::new().title(title.to_owned()).language("en".to_owned());
    document.set_metadata(metadata.creator("Cardwright".to_owned()));
    let (width, height) = extent(page);
    let size = |width: f64, height: f64| Size::from_wh(points(width), points(height));
    let unprinted = ReportError::Print("a page has no size");
    let settings = PageSettings::new(size(width, height).ok_or(unprinted)?);
    let mut tiles = Tiles::default();
    for (number, marks) in pages.iter().enumerate() {
        let mut page = document.start_page_with(settings.clone());
        let mut surface = page.surface();
        let mut sheet = DrawnPage { surface: &mut surface, fonts, tiles: &mut tiles };
        let number = format!("{} / {}", number + 1, pages.len());
        let foot = foot(name, &number, Rectangle { x: 0.0, y: 0.0, width, height }, fonts);
        marks.iter().chain(&foot).for_each(|mark| sheet.draw(mark));
        surface.finish();
        page.finish();
    }
    document.finish().map_err(|_| ReportError::Print("the pages cannot be put together"))
}

/// The name of the batch and the number of the page.
fn foot(name: &str, number: &str, page: Rectangle, fonts: &Fonts) -> [Mark; 2] {
    let right = page.width - EDGE - fonts.width(number, &SMALL);
    let text = |x: f64, text: &str| Mark::Text {
        at: picture::Point::new(x, page.height - 7.0),
        text: text.to_owned(),
        style: SMALL,
    };
    [text(EDGE, name), text(right, number)]
}

/// A page that is drawn on.
struct DrawnPage<'a, 'b> {
    surface: &'a mut Surface<'b>,
    fonts: &'a Fonts,
    tiles: &'a mut Tiles,
}

impl DrawnPage<'_, '_> {
    fn draw(&mut self, mark: &Mark) {
        match mark {
            Mark::Text { at, text, style } => self.write(*at, text, style),
            Mark::Lines { lines, stroke } => {
                let mut path = PathBuilder::new();
                for Line { from, to } in lines {
                    path.move_to(points(from.x), points(from.y));
                    path.line_to(points(to.x), points(to.y));
                }
                self.path(path.finish(), None, Some(*stroke));
            }
            Mark::Panel(shape) => {
                let fill = match shape.fill {
                    picture::Fill::Empty => None,
                    picture::Fill::Plain(colour, opacity) => Some(filled(colour, opacity)),
                    picture::Fill::Hatched(hatch) => {
                        let pattern = self.tiles.pattern(hatch, self.surface);
                        Some(Fill { paint: pattern.into(), ..Fill::default() })
                    }
                };
                self.path(outline(shape), fill, shape.stroke);
            }
        }
    }

    fn path(&mut self, path: Option<Path>, fill: Option<Fill>, stroke: Option<picture::Stroke>) {
        self.surface.set_fill(fill);
        self.surface.set_stroke(stroke.map(drawn));
        path.iter().for_each(|path| self.surface.draw_path(path));
    }

    fn write(&mut self, at: picture::Point, text: &str, style: &Style) {
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(filled(style.colour, 1.0)));
        let (x, y) = (points(at.x), points(at.y));
        let turned = Transform::from_row(0.0, -1.0, 1.0, 0.0, x, y);
        let (start, turn) = match style.upward {
            true => (Point::from_xy(0.0, 0.0), Some(turned)),
            false => (Point::from_xy(x, y), None),
        };
        turn.iter().for_each(|turn| self.surface.push_transform(turn));
        let (size, font) = (points(style.size), self.fonts.font(style));
        match self.fonts.glyphs(text, style) {
            Some(glyphs) => self.surface.draw_glyphs(start, &glyphs, font, text, size, false),
            None => self.surface.draw_text(start, font, size, text, false, TextDirection::Auto),
        }
        turn.iter().for_each(|_| self.surface.pop());
    }
}

/// How far the ends of a curve that looks like a quarter of a circle pull, as a part of its radius: 4/3 (sqrt 2 - 1).
const PULL: f64 = 0.552_285;

/// The outline of a rectangle, clockwise from its upper edge.
fn outline(shape: &Panel) -> Option<Path> {
    let Rectangle { x, y, width, height } = shape.area;
    let mut path = PathBuilder::new();
    if shape.corner <= 0.0 {
        let [x, y, width, height] = [x, y, width, height].map(points);
        path.push_rect(Rect::from_xywh(x, y, width, height)?);
        return path.finish();
    }
    let radius = shape.corner.min(width / 2.0).min(height / 2.0);
    let (right, foot, rest) = (x + width, y + height, radius * (1.0 - PULL));
    let (near, far, top, low) = (x + radius, right - radius, y + radius, foot - radius);
    path.move_to(points(near), points(y));
    for [x0, y0, x1, y1, x2, y2, x3, y3] in [
        [far, y, right - rest, y, right, y + rest, right, top],
        [right, low, right, foot - rest, right - rest, foot, far, foot],
        [near, foot, x + rest, foot, x, foot - rest, x, low],
        [x, top, x, y + rest, x + rest, y, near, y],
    ] {
        path.line_to(points(x0), points(y0));
        let [x1, y1, x2, y2, x3, y3] = [x1, y1, x2, y2, x3, y3].map(points);
        path.cubic_to(x1, y1, x2, y2, x3, y3);
    }
    path.close();
    path.finish()
}

fn ink(Colour(red, green, blue): Colour) -> rgb::Color {
    rgb::Color::new(red, green, blue)
}

fn filled(colour: Colour, opacity: f64) -> Fill {
    let opacity = NormalizedF32::new(opacity as f32).unwrap_or(NormalizedF32::ONE);
    Fill { paint: ink(colour).into(), opacity, rule: FillRule::NonZero }
}

fn drawn(stroke: picture::Stroke) -> Stroke {
    let opacity = NormalizedF32::new(stroke.opacity as f32).unwrap_or(NormalizedF32::ONE);
    let dash = stroke.dash.map(|dash| StrokeDash { array: dash.map(points).to_vec(), offset: 0.0 });
    Stroke {
        paint: ink(stroke.colour).into(),
        width: points(stroke.width),
        line_cap: if stroke.round { LineCap::Round } else { LineCap::Butt },
        opacity,
        dash,
        ..Stroke::default()
    }
}

/// The hatches of a document, each made once.
#[derive(Default)]
struct Tiles(BTreeMap<Hatch, Pattern>);

impl Tiles {
    fn pattern(&mut self, hatch: Hatch, surface: &mut Surface) -> Pattern {
        self.0.entry(hatch).or_insert_with(|| pattern(hatch, surface)).clone()
    }
}

fn pattern(hatch: Hatch, surface: &mut Surface) -> Pattern {
    let tile = hatch.tile();
    let side = points(tile.side);
    let mut builder = surface.stream_builder();
    let mut own = builder.surface();
    let area = Rectangle { x: 0.0, y: 0.0, width: tile.side, height: tile.side };
    own.set_fill(Some(filled(tile.tint, 1.0)));
    outline(&Panel::filled(area, picture::Fill::Empty)).iter().for_each(|path| own.draw_path(path));
    for trace in tile.traces {
        let (path, fill, stroke) = match *trace {
            Trace::Through(through, stroke) => (polyline(through), None, Some(stroke)),
            Trace::Ring(middle, radius, stroke) => (circle(middle, radius), None, Some(stroke)),
            Trace::Dot(middle, radius, colour) => {
                (circle(middle, radius), Some(filled(colour, 1.0)), None)
            }
        };
        own.set_fill(fill);
        own.set_stroke(stroke.map(drawn));
        path.iter().for_each(|path| own.draw_path(path));
    }
    own.finish();
    let slant = std::f32::consts::FRAC_1_SQRT_2;
    let transform = match tile.slanted {
        true => Transform::from_row(slant, slant, -slant, slant, 0.0, 0.0),
        false => Transform::identity(),
    };
    Pattern { stream: builder.finish(), transform, width: side, height: side }
}

fn polyline(through: &[picture::Point]) -> Option<Path> {
    let mut path = PathBuilder::new();
    let (first, rest) = through.split_first()?;
    path.move_to(points(first.x), points(first.y));
    rest.iter().for_each(|point| path.line_to(points(point.x), points(point.y)));
    path.finish()
}

fn circle(middle: picture::Point, corner: f64) -> Option<Path> {
    let (x, y, side) = (middle.x - corner, middle.y - corner, 2.0 * corner);
    let area = Rectangle { x, y, width: side, height: side };
    outline(&Panel { corner, ..Panel::filled(area, picture::Fill::Empty) })
}

fn points(length: f64) -> f32 {
    (length * POINTS) as f32
}
