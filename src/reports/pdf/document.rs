//! Pages of marks as a PDF file.

use super::fonts::Fonts;
use super::{EDGE, Mark, SMALL, Style, extent};
use crate::reports::ReportError;
use crate::workshop::PageSize;
use krilla::Document;
use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Rect, Size};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::TextDirection;

/// Points in a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// Writes the pages, with their numbers and the name of the batch on each.
///
/// # Errors
/// A font or a drawing cannot be written.
pub(super) fn document(
    (title, name): (&str, &str),
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
    for (number, marks) in pages.iter().enumerate() {
        let mut page = document.start_page_with(settings.clone());
        let mut surface = page.surface();
        let mut drawn = Ok(());
        for mark in
            marks.iter().chain(&foot(name, (number + 1, pages.len()), (width, height), fonts))
        {
            drawn = drawn.and_then(|()| draw(&mut surface, mark, fonts));
        }
        surface.finish();
        page.finish();
        drawn?;
    }
    document.finish().map_err(|_| ReportError::Print("the pages cannot be put together"))
}

/// The name of the batch and the number of the page.
fn foot(
    name: &str,
    (number, of): (usize, usize),
    (width, height): (f64, f64),
    fonts: &Fonts,
) -> [Mark; 2] {
    let number = format!("{number} / {of}");
    let right = width - EDGE - fonts.width(&number, &SMALL);
    let text = |x: f64, text: &str| Mark::Text {
        at: (x, height - 7.0),
        text: text.to_owned(),
        style: SMALL,
    };
    [text(EDGE, name), text(right, &number)]
}

fn draw(surface: &mut Surface, mark: &Mark, fonts: &Fonts) -> Result<(), ReportError> {
    match mark {
        Mark::Text { at, text, style } => write(surface, *at, text, style, fonts),
        Mark::Line { from, to, width, dashed } => {
            let mut path = PathBuilder::new();
            path.move_to(points(from.0), points(from.1));
            path.line_to(points(to.0), points(to.1));
            stroke(surface, path.finish(), *width, *dashed);
        }
        Mark::Box { at, size, line } => {
            let mut path = PathBuilder::new();
            let [x, y, width, height] = [at.0, at.1, size.0, size.1].map(points);
            if let Some(rectangle) = Rect::from_xywh(x, y, width, height) {
                path.push_rect(rectangle);
            }
            match line {
                Some(width) => stroke(surface, path.finish(), *width, false),
                None => fill(surface, path.finish()),
            }
        }
        Mark::Picture { at, picture } => {
            picture.draw(surface, (points(at.0), points(at.1)))?;
        }
    }
    Ok(())
}

fn write(surface: &mut Surface, (x, y): (f64, f64), text: &str, style: &Style, fonts: &Fonts) {
    let shade = match (style.inverse, style.quiet) {
        (true, _) => 255,
        (_, true) => 74,
        _ => 17,
    };
    paint(surface, shade);
    let start = Point::from_xy(points(x), points(y));
    let size = points(style.size);
    match fonts.glyphs(text, style) {
        Some(glyphs) => {
            surface.draw_glyphs(start, &glyphs, fonts.font(style), text, size, false);
        }
        None => {
            surface.draw_text(start, fonts.font(style), size, text, false, TextDirection::Auto);
        }
    }
}

fn paint(surface: &mut Surface, shade: u8) {
    let paint = rgb::Color::new(shade, shade, shade).into();
    surface.set_stroke(None);
    surface.set_fill(Some(Fill { paint, opacity: NormalizedF32::ONE, rule: FillRule::NonZero }));
}

fn fill(surface: &mut Surface, path: Option<Path>) {
    paint(surface, 17);
    path.iter().for_each(|path| surface.draw_path(path));
}

fn stroke(surface: &mut Surface, path: Option<Path>, width: f64, dashed: bool) {
    surface.set_fill(None);
    surface.set_stroke(Some(Stroke {
        paint: rgb::Color::new(17, 17, 17).into(),
        width: points(width),
        dash: dashed.then(|| StrokeDash { array: vec![points(1.6), points(1.2)], offset: 0.0 }),
        ..Stroke::default()
    }));
    path.iter().for_each(|path| surface.draw_path(path));
}

fn points(length: f64) -> f32 {
    (length * POINTS) as f32
}
