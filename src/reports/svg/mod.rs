//! A [`Drawing`] as SVG, true to scale: one user unit is one millimetre on paper.

mod badges;
mod fills;
mod groups;
mod labels;
mod scale;
mod series;
mod template;
mod timetable;

pub use fills::{definitions, swatch};
pub use scale::{Room, Scale};
pub use template::templates;
pub use timetable::{timetable, timetable_size};

use super::drawing::{Drawing, Region, Role};
use super::visible::escaped;
use crate::measure::Axis;
use crate::stock::{Back, Print};
use badges::Badge;
use groups::Group;
use labels::{Behind, Label, width_of};
use std::collections::BTreeSet;
use std::fmt::Write;

/// A rectangle on paper, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Rectangle {
    x: f64,
    y: f64,
    width: f64,
    height: f64,
}

impl Rectangle {
    fn around(x: f64, y: f64, width: f64, height: f64) -> Rectangle {
        Rectangle { x: x - width / 2.0, y: y - height / 2.0, width, height }
    }

    fn meets(&self, other: &Rectangle) -> bool {
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

/// A number of millimetres with at most two decimals.
fn mm(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
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

/// The drawing as one `svg` element for a page that holds [`definitions`] once. `id` makes its
/// title's and description's ids unique on the page.
pub fn element(drawing: &Drawing, scale: Scale, id: &str) -> String {
    picture(drawing, scale, (id, Behind::Letters), "")
}

/// The scale in which the drawing is best read, and what is wrong with it there: no larger than it has to
/// be, so that every name can be read and no number lies on it, and no larger than there is room.
fn readable(drawing: &Drawing, common: Scale, room: Room) -> (Scale, usize) {
    let first = common.for_sheet(drawing.sheet);
    let mut best = (first, faults(drawing, first));
    for scale in first.larger(drawing.sheet, room) {
        if best.1 == 0 {
            break;
        }
        let faults = faults(drawing, scale);
        if faults < best.1 {
            best = (scale, faults);
        }
    }
    best
}

/// More names than this that can be read over the width of the page only call for all of it.
const CROWDED: usize = 5;

/// How large a drawing is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shown {
    /// The scale that suits it.
    pub scale: Scale,
    /// Whether it is too crowded to stand beside others.
    pub wide: bool,
}

impl Shown {
    /// What suits a drawing among others that have a common scale.
    pub fn of(drawing: &Drawing, common: Scale) -> Shown {
        let (scale, faults) = readable(drawing, common, Room::BESIDE);
        let beside = Shown { scale, wide: false };
        if faults <= CROWDED {
            return beside;
        }
        let (scale, fewer) = readable(drawing, common, Room::ABOVE);
        if faults > fewer + CROWDED { Shown { scale, wide: true } } else { beside }
    }
}

/// Width and height of a drawing with all that stands around it, in millimetres.
pub fn size(drawing: &Drawing, scale: Scale) -> (f64, f64) {
    let Rectangle { width, height, .. } = Page::lay_out(drawing, scale).extent;
    (width, height)
}

/// Names that cannot be read and numbers that lie on a text.
fn faults(drawing: &Drawing, scale: Scale) -> usize {
    let page = Page::lay_out(drawing, scale);
    let named = drawing.regions.iter().filter(|region| !region.name.is_empty()).count();
    let told: usize = page.labels.iter().map(Label::named).sum();
    let hides = |badge: &&Badge| {
        page.labels.iter().any(|label| label.rectangle().meets(&badge.rectangle()))
    };
    named - told + page.badges.iter().filter(hides).count()
}

/// The drawing as a file of its own.
pub fn document(drawing: &Drawing, scale: Scale) -> String {
    alone(drawing, scale, Behind::Letters)
}

/// The drawing by itself, for a page that is printed.
pub fn printed(drawing: &Drawing, scale: Scale) -> String {
    alone(drawing, scale, Behind::Lines)
}

fn alone(drawing: &Drawing, scale: Scale, behind: Behind) -> String {
    let definitions = definitions(&fills_used([drawing]));
    // White behind it, wherever it is shown.
    let extent = Page::lay_out(drawing, scale).extent;
    let mut first = format!("<defs>{definitions}</defs>");
    push_rectangle(&mut first, &extent, "fill=\"#fff\"");
    let mut document = picture(drawing, scale, ("drawing", behind), &first);
    document.push('\n');
    document
}

/// The drawing; `first` stands before all that is drawn.
fn picture(drawing: &Drawing, scale: Scale, (id, behind): (&str, Behind), first: &str) -> String {
    let page = Page::lay_out(drawing, scale);
    let Rectangle { x, y, width, height } = page.extent;
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-labelledby=\"{id}-t {id}-d\" \
         width=\"{w}mm\" height=\"{h}mm\" viewBox=\"{x} {y} {w} {h}\" \
         font-family=\"'Helvetica Neue',Arial,'Liberation Sans',sans-serif\">\
         <title id=\"{id}-t\">{title}</title><desc id=\"{id}-d\">{description}</desc>{first}",
        w = mm(width),
        h = mm(height),
        x = mm(x),
        y = mm(y),
        title = escaped(&drawing.title),
        description = escaped(&drawing.description),
    );
    page.draw(behind, &mut svg);
    svg.push_str("</svg>");
    svg
}

/// Where everything goes.
struct Page<'a> {
    drawing: &'a Drawing,
    scale: Scale,
    sheet: Rectangle,
    labels: Vec<Label>,
    badges: Vec<Badge>,
    extent: Rectangle,
}

/// Turns text so that it runs upwards. Whole numbers, since the cosine of an angle is not the same to the
/// last digit on every machine, and the pages should be.
const UPWARD: &str = "matrix(0 -1 1 0 0 0)";
/// Room left of and above the sheet for its dimensions.
const MARGIN: f64 = 6.5;
/// Room right of and below what is drawn.
const EDGE: f64 = 0.6;
/// Height of a line that tells grain or print, of its letters, and where they begin.
const FOOT: f64 = 6.6;
const FOOT_FONT: f64 = 3.0;
const FOOT_TEXT: f64 = 10.0;

impl<'a> Page<'a> {
    fn lay_out(drawing: &'a Drawing, scale: Scale) -> Page<'a> {
        let sheet = Rectangle {
            x: 0.0,
            y: 0.0,
            width: scale.on_paper(drawing.sheet.width),
            height: scale.on_paper(drawing.sheet.height),
        };
        let places = drawing.regions.iter().map(|region| (region, rectangle(region, scale)));
        let groups = groups::groups(places);
        let fit = |group: &Group| labels::fit(&group.region, group.area);
        let labels: Vec<Label> = groups.iter().filter_map(fit).collect();
        let badges = badges::place(&drawing.cuts, scale, &sheet, &labels);
        let taken: Vec<Rectangle> = badges.iter().map(Badge::rectangle).collect();
        let beside = |group: &Group| {
            let label = labels::beside(&group.region, group.area, &taken)?;
            Some(label.of(group.count))
        };
        let labels = groups.iter().filter_map(beside).collect();
        let mut extent = sheet;
        badges.iter().for_each(|badge| extent.join(&badge.rectangle()));
        extent.join(&Rectangle {
            x: -MARGIN,
            y: -MARGIN,
            width: MARGIN + sheet.width.max(20.0) + EDGE,
            height: MARGIN + sheet.height + EDGE,
        });
        (extent.width, extent.height) = (extent.width + EDGE, extent.height + EDGE);
        Page { drawing, scale, sheet, labels, badges, extent }.with_foot()
    }

    fn with_foot(mut self) -> Self {
        let lines = foot(self.drawing);
        let widest = lines.iter().map(|(_, words)| FOOT_TEXT + width_of(words, FOOT_FONT));
        let widest = widest.fold(0.0, f64::max);
        self.extent.height += FOOT * lines.len() as f64;
        self.extent.width = self.extent.width.max(widest - self.extent.x);
        self
    }

    fn draw(&self, behind: Behind, svg: &mut String) {
        self.draw_regions(svg);
        self.draw_folds(svg);
        self.draw_cuts(svg);
        self.badges.iter().for_each(|badge| badge.draw_tie(svg));
        self.labels.iter().for_each(|label| label.draw(behind, svg));
        // No leader may cross out a number.
        self.badges.iter().for_each(|badge| badge.draw_leader(svg));
        self.badges.iter().for_each(|badge| badge.draw(svg));
        self.draw_sides(svg);
        self.draw_foot(svg);
    }

    fn draw_regions(&self, svg: &mut String) {
        for region in &self.drawing.regions {
            let area = rectangle(region, self.scale);
            match region.role {
                Role::Piece(fill) => push_rectangle(svg, &area, &fills::paint(fill)),
                Role::Waste => push_rectangle(svg, &area, "fill=\"url(#waste)\""),
                Role::Offcut => {
                    let inset = 0.9_f64.min(area.width / 5.0).min(area.height / 5.0);
                    let inner = Rectangle {
                        x: area.x + inset,
                        y: area.y + inset,
                        width: area.width - 2.0 * inset,
                        height: area.height - 2.0 * inset,
                    };
                    let dashes = "fill=\"#fff\" stroke=\"#111\" stroke-width=\".4\" \
                                  stroke-dasharray=\"2 1.2\"";
                    push_rectangle(svg, &inner, dashes);
                }
            }
        }
    }

    fn draw_folds(&self, svg: &mut String) {
        svg.push_str("<g stroke=\"#111\" stroke-width=\".35\" stroke-dasharray=\".1 1\" stroke-linecap=\"round\">");
        for fold in &self.drawing.folds {
            let ends = [fold.x1, fold.y1, fold.x2, fold.y2].map(|end| self.scale.on_paper(end));
            push_line(svg, ends);
        }
        svg.push_str("</g>");
    }

    fn draw_cuts(&self, svg: &mut String) {
        push_rectangle(svg, &self.sheet, "fill=\"none\" stroke=\"#111\" stroke-width=\".7\"");
        svg.push_str("<g stroke=\"#111\" stroke-width=\".5\">");
        for cut in &self.drawing.cuts {
            let line = &cut.line;
            push_line(
                svg,
                [line.x1, line.y1, line.x2, line.y2].map(|end| self.scale.on_paper(end)),
            );
        }
        svg.push_str("</g>");
    }

    fn draw_sides(&self, svg: &mut String) {
        let (width, height) = (self.sheet.width, self.sheet.height);
        svg.push_str("<g stroke=\"#111\" stroke-width=\".2\">");
        push_line(svg, [0.0, -1.6, width, -1.6]);
        push_line(svg, [-1.6, 0.0, -1.6, height]);
        for (x, y) in [(0.0, -1.6), (width, -1.6)] {
            push_line(svg, [x, y - 0.8, x, y + 0.8]);
        }
        for (x, y) in [(-1.6, 0.0), (-1.6, height)] {
            push_line(svg, [x - 0.8, y, x + 0.8, y]);
        }
        svg.push_str("</g><g font-size=\"3.4\" text-anchor=\"middle\" fill=\"#111\">");
        let (across, down) = &self.drawing.sides;
        let _ = write!(
            svg,
            "<text x=\"{}\" y=\"-2.9\">{}</text>\
             <text transform=\"translate(-2.9 {}) {UPWARD}\">{}</text></g>",
            mm(width / 2.0),
            escaped(across),
            mm(height / 2.0),
            escaped(down)
        );
    }

    fn draw_foot(&self, svg: &mut String) {
        let lines = foot(self.drawing);
        let top = self.extent.y + self.extent.height - FOOT * lines.len() as f64;
        let _ = write!(svg, "<g font-size=\"{FOOT_FONT}\" fill=\"#111\" stroke-width=\".35\">");
        for (index, (arrow, words)) in lines.iter().enumerate() {
            let y = top + FOOT * (index as f64 + 0.5);
            let _ = write!(
                svg,
                "<path transform=\"translate(4 {})\" d=\"{arrow}\" fill=\"none\" stroke=\"#111\"/>\
                 <text x=\"{FOOT_TEXT}\" y=\"{}\">{words}</text>",
                mm(y),
                mm(y + 1.0)
            );
        }
        svg.push_str("</g>");
    }
}

/// What is told below the sheet: an arrow around its middle, and words.
fn foot(drawing: &Drawing) -> Vec<(&'static str, &'static str)> {
    const ACROSS: &str = "M-4 0h8m-1.6 -1.2l1.6 1.2l-1.6 1.2m-4.8 0l-1.6 -1.2l1.6 -1.2";
    const DOWN: &str = "M0 -3v6m-1.2 -1.6l1.2 1.6l1.2 -1.6m0 -2.8l-1.2 -1.6l-1.2 1.6";
    const UP: &str = "M0 2.5v-5m-1.3 1.8l1.3 -1.8l1.3 1.8";
    let grain = drawing.grain.map(|grain| match grain {
        Axis::Width => (ACROSS, "grain"),
        Axis::Height => (DOWN, "grain"),
    });
    let print = match drawing.print {
        Print::Free => None,
        Print::TwoWay => Some((DOWN, "print: either end up, never sideways")),
        Print::OneWay => Some((UP, "this way up")),
    };
    let back = match drawing.back {
        Back::Free => None,
        Back::TwoWay => Some((DOWN, "its back: either end up, never sideways")),
        Back::OneWay => Some((UP, "its back, too, turned over like a page")),
        Back::Tumbled => Some((UP, "its back, turned over from top to bottom")),
    };
    grain.into_iter().chain(print).chain(back).collect()
}

fn rectangle(region: &Region, scale: Scale) -> Rectangle {
    Rectangle {
        x: scale.on_paper(region.x),
        y: scale.on_paper(region.y),
        width: scale.on_paper(region.size.width),
        height: scale.on_paper(region.size.height),
    }
}

fn push_rectangle(svg: &mut String, area: &Rectangle, paint: &str) {
    let Rectangle { x, y, width, height } = *area;
    let _ = write!(
        svg,
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" {paint}/>",
        mm(x),
        mm(y),
        mm(width),
        mm(height)
    );
}

fn push_line(svg: &mut String, [x1, y1, x2, y2]: [f64; 4]) {
    let _ = write!(svg, "<path d=\"M{} {}L{} {}\"/>", mm(x1), mm(y1), mm(x2), mm(y2));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::{Report, fixture};

    fn lesson() -> Drawing {
        Report::of(&fixture::lesson().batch()).unwrap().runs.remove(0).drawing
    }

    #[test]
    fn a_sheet_is_drawn_in_true_millimetres() {
        let svg = element(&lesson(), Scale::of(4), "r");
        // 9 x 12 in are 228.6 x 304.8 mm, a quarter of it is 57.15 x 76.2 mm.
        assert!(
            svg.contains("<rect x=\"0\" y=\"0\" width=\"57.15\" height=\"76.2\" fill=\"none\"")
        );
    }

    #[test]
    fn every_region_cut_and_fold_is_drawn() {
        let drawing = lesson();
        let svg = element(&drawing, Scale::of(4), "r");
        assert_eq!(svg.matches("<rect").count(), drawing.regions.len() + 1 + drawing.cuts.len());
        assert_eq!(svg.matches("url(#waste)").count(), 1);
        assert_eq!(svg.matches("stroke-dasharray=\"2 1.2\"").count(), 1);
    }

    #[test]
    fn names_are_escaped() {
        let mut drawing = lesson();
        drawing.regions[0].name = "<b>&".to_owned();
        drawing.title = "\"</title>".to_owned();
        let svg = element(&drawing, Scale::of(4), "r");
        assert!(svg.contains("&lt;b&gt;&amp;"));
        assert!(!svg.contains("<b>") && svg.matches("</title>").count() == 1);
    }

    #[test]
    fn a_file_of_its_own_holds_its_hatches() {
        let document = document(&lesson(), Scale::of(5));
        assert!(document.contains("<pattern id=\"waste\"") && document.contains("id=\"fill-1\""));
        assert!(!element(&lesson(), Scale::of(5), "r").contains("<pattern"));
    }

    #[test]
    fn numbers_are_short_and_never_minus_nothing() {
        assert_eq!([mm(-0.001), mm(12.0), mm(1.456), mm(100.0)], ["0", "12", "1.46", "100"]);
    }
}
