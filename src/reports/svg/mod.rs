//! Pictures as SVG: one user unit is one millimetre on paper.

mod fence;
mod fills;
mod panels;
mod view;

pub use fence::fence;
pub use fills::{OFF, definitions, swatch};
pub use panels::panels;
pub use view::Caption;

use super::offer::CardView;
use super::picture::{
    self, Alignment, Canvas, Colour, Fill, Line, Panel, Paragraph, Picture, Point, Rectangle,
    Scale, Stroke, Text,
};
use super::timetable::TimetableRows;
use super::visible::escaped;
use std::fmt::Write;

/// A number of millimetres with at most two decimals.
fn mm(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// The drawing as one `svg` element for a page that holds [`definitions`] once. `id` makes its
/// title's and description's ids unique on the page.
pub fn element(picture: &Picture, id: &str) -> String {
    with_parts(picture, id, "")
}

/// The same, with a place over each piece that answers to the pointer and bears its name in `data-piece`.
pub fn touchable(picture: &Picture, id: &str) -> String {
    let mut svg = element(picture, id);
    let end = svg.len() - "</svg>".len();
    svg.truncate(end);
    for (name, Rectangle { x, y, width, height }) in picture.pieces() {
        let [x, y, width, height] = [x, y, width, height].map(mm);
        let name = escaped(name);
        let _ = write!(
            svg,
            "<g data-piece=\"{name}\"><rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" fill=\"#fff\" \
             fill-opacity=\"0\"><title>{name}</title></rect></g>"
        );
    }
    svg + "</svg>"
}

/// The drawing as a file of its own.
pub fn document(picture: &Picture) -> String {
    let fills = picture::fills_used([&picture.drawing]);
    let mut first = Svg(format!("<defs>{}</defs>", definitions(&fills)));
    // White behind it, wherever it is shown.
    first.shape(&Panel::filled(picture.extent(), Fill::Plain(Colour::WHITE, 1.0)));
    with_parts(picture, "drawing", &first.0) + "\n"
}

/// The drawing; `first` stands before all that is drawn.
fn with_parts(picture: &Picture, id: &str, first: &str) -> String {
    let Rectangle { x, y, width, height } = picture.extent();
    let mut svg = Svg(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-labelledby=\"{id}-t {id}-d\" \
         width=\"{w}mm\" height=\"{h}mm\" viewBox=\"{x} {y} {w} {h}\" \
         font-family=\"'Helvetica Neue',Arial,'Liberation Sans',sans-serif\">\
         <title id=\"{id}-t\">{title}</title><desc id=\"{id}-d\">{description}</desc>{first}",
        w = mm(width),
        h = mm(height),
        x = mm(x),
        y = mm(y),
        title = escaped(&picture.drawing.title),
        description = escaped(&picture.drawing.description),
    ));
    picture.draw(&mut svg);
    svg.0 + "</svg>"
}

/// The timetable as an `svg` element.
pub fn timetable(table: &TimetableRows) -> String {
    let (width, height) = picture::timetable_size(table);
    let mut svg = Svg(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"timetable\" role=\"img\" \
         aria-label=\"The stages over the days of work\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\">"
    ));
    picture::draw_timetable(table, &mut svg);
    svg.0 + "</svg>"
}

/// A card as a customer sees it, as an `svg` element.
pub fn card(card: &CardView, scale: Scale, line: &str) -> String {
    let Point { x: width, y: height } = picture::card_size(card, scale);
    let [width, height] = [width, height].map(mm);
    let mut svg = Svg(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"card\" role=\"img\" aria-label=\"{}\" \
         width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\">",
        escaped(line)
    ));
    picture::draw_card(card, scale, &mut svg);
    svg.0 + "</svg>"
}

/// Markup of what was drawn so far. Writing to a String cannot fail.
struct Svg(String);

/// Turns text so that it runs upwards. Whole numbers, since the cosine of an angle is not the same to the
/// last digit on every machine, and the pages should be.
const UPWARD: &str = "matrix(0 -1 1 0 0 0)";

/// `#rgb`, or `#rrggbb` where that is too short.
fn colour(Colour(red, green, blue): Colour) -> String {
    let parts = [red, green, blue];
    match parts.iter().all(|part| part >> 4 == part & 15) {
        true => format!("#{:x}{:x}{:x}", red & 15, green & 15, blue & 15),
        false => format!("#{red:02x}{green:02x}{blue:02x}"),
    }
}

/// The attributes of a line.
fn stroke(stroke: Stroke) -> String {
    let mut text =
        format!(" stroke=\"{}\" stroke-width=\"{}\"", colour(stroke.colour), mm(stroke.width));
    if let Some([drawn, left_out]) = stroke.dash {
        let _ = write!(text, " stroke-dasharray=\"{} {}\"", mm(drawn), mm(left_out));
    }
    if stroke.round {
        text.push_str(" stroke-linecap=\"round\"");
    }
    if stroke.opacity < 1.0 {
        let _ = write!(text, " stroke-opacity=\"{}\"", stroke.opacity);
    }
    text
}

fn fill(fill: Fill) -> String {
    match fill {
        Fill::Empty => " fill=\"none\"".to_owned(),
        Fill::Hatched(hatch) => format!(" fill=\"url(#{})\"", fills::name(hatch)),
        Fill::Plain(tint, opacity) if opacity < 1.0 => {
            format!(" fill=\"{}\" fill-opacity=\"{opacity}\"", colour(tint))
        }
        Fill::Plain(tint, _) => format!(" fill=\"{}\"", colour(tint)),
    }
}

impl Canvas for Svg {
    fn shape(&mut self, shape: &Panel) {
        let Rectangle { x, y, width, height } = shape.area;
        let corner = match shape.corner > 0.0 {
            true => format!(" rx=\"{}\"", mm(shape.corner)),
            false => String::new(),
        };
        let _ = write!(
            self.0,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{corner}{}{}/>",
            mm(x),
            mm(y),
            mm(width),
            mm(height),
            fill(shape.fill),
            shape.stroke.map(stroke).unwrap_or_default()
        );
    }

    fn lines(&mut self, look: Stroke, lines: &[Line]) {
        if lines.is_empty() {
            return;
        }
        self.0.push_str("<path d=\"");
        for Line { from, to } in lines {
            let _ = write!(self.0, "M{} {}L{} {}", mm(from.x), mm(from.y), mm(to.x), mm(to.y));
        }
        let _ = write!(self.0, "\"{}/>", stroke(look));
    }

    fn text(&mut self, text: &Text) {
        let (x, y) = (mm(text.at.x), mm(text.at.y));
        let _ = match text.upward {
            true => write!(self.0, "<text transform=\"translate({x} {y}) {UPWARD}\""),
            false => write!(self.0, "<text x=\"{x}\" y=\"{y}\""),
        };
        let bold = if text.bold { " font-weight=\"700\"" } else { "" };
        let anchor = match text.anchor {
            Alignment::Start => "",
            Alignment::Middle => " text-anchor=\"middle\"",
        };
        let _ = write!(
            self.0,
            " font-size=\"{}\"{bold}{anchor} fill=\"{}\">{}</text>",
            mm(text.size),
            colour(text.colour),
            escaped(&text.text)
        );
    }

    /// A pale rim keeps a hatch off the letters.
    fn block(&mut self, block: &Paragraph) {
        let halo = match block.over_lines {
            true => {
                self.shape(&block.ground());
                ""
            }
            false => {
                " stroke=\"#fff\" stroke-width=\".7\" stroke-opacity=\".8\" stroke-linejoin=\"round\" \
                 paint-order=\"stroke\""
            }
        };
        let turn = if block.upward { format!(" {UPWARD}") } else { String::new() };
        let _ = write!(
            self.0,
            "<g transform=\"translate({} {}){turn}\" font-size=\"{}\" text-anchor=\"middle\" \
             fill=\"#111\"{halo}>",
            mm(block.centre.x),
            mm(block.centre.y),
            mm(block.size)
        );
        for (line, y) in block.base_lines() {
            let _ = write!(self.0, "<text y=\"{}\">{}</text>", mm(y), escaped(line));
        }
        self.0.push_str("</g>");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::drawing::Drawing;
    use crate::reports::picture::Scale;
    use crate::reports::{Report, fixture};

    fn lesson() -> Drawing {
        Report::of(&fixture::lesson().batch()).unwrap().runs.remove(0).picture.drawing
    }

    /// A quarter of its size.
    fn quarter(drawing: Drawing) -> String {
        element(&Picture::in_scale(drawing, Scale::of(4)), "r")
    }

    #[test]
    fn a_sheet_is_drawn_in_true_millimetres() {
        let svg = quarter(lesson());
        // 9 x 12 in are 228.6 x 304.8 mm, a quarter of it is 57.15 x 76.2 mm.
        assert!(
            svg.contains("<rect x=\"0\" y=\"0\" width=\"57.15\" height=\"76.2\" fill=\"none\"")
        );
    }

    #[test]
    fn every_region_cut_and_fold_is_drawn() {
        let drawing = lesson();
        let svg = quarter(drawing.clone());
        assert_eq!(svg.matches("<rect").count(), drawing.regions.len() + 1 + drawing.cuts.len());
        assert_eq!(svg.matches("url(#waste)").count(), 1);
        assert_eq!(svg.matches("stroke-dasharray=\"2 1.2\"").count(), 1);
    }

    #[test]
    fn names_are_escaped() {
        let mut drawing = lesson();
        drawing.regions[0].name = "<b>&".to_owned();
        drawing.title = "\"</title>".to_owned();
        let svg = quarter(drawing);
        assert!(svg.contains("&lt;b&gt;&amp;"));
        assert!(!svg.contains("<b>") && svg.matches("</title>").count() == 1);
    }

    #[test]
    fn a_file_of_its_own_holds_its_hatches() {
        let document = document(&Picture::in_scale(lesson(), Scale::of(5)));
        assert!(document.contains("<pattern id=\"waste\"") && document.contains("id=\"fill-1\""));
        assert!(!quarter(lesson()).contains("<pattern"));
    }

    #[test]
    fn numbers_are_short_and_never_minus_nothing() {
        assert_eq!([mm(-0.001), mm(12.0), mm(1.456), mm(100.0)], ["0", "12", "1.46", "100"]);
    }
}
