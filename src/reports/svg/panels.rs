//! Pieces on the table, opened out, with their score lines.

use super::fills;
use super::view::{Caption, FONT, element, put_box, tenths};
use crate::folds::Score;
use crate::measure::{Axis, Size};
use crate::reports::picture::blank::{Corner, Outline};
use crate::reports::picture::{Hatch, Point, Rectangle, millimetres, width_of};
use crate::reports::visible::escaped;
use crate::reports::walk::{HostPanel, PanelView};
use std::fmt::Write;

/// Room for all of them, and between two.
const WIDE: f64 = 96.0;
const DEEP: f64 = 80.0;
const GAP: f64 = 6.0;
/// Room below a piece for its name.
const NAME: f64 = 7.0;
/// Radius of the disc that holds a number.
const DISC: f64 = 3.2;

/// Pieces beside each other, true to one scale; `numbered` puts numbers on their score lines.
pub fn panels(panels: &[PanelView], numbered: bool, told: Caption) -> String {
    let rows = (1..=panels.len().min(3)).map(|rows| PanelRows::of(panels, rows));
    let Some(rows) = rows.reduce(|best, next| if next.scale > best.scale { next } else { best })
    else {
        return String::new();
    };
    let (mut body, mut y, mut right) = (String::new(), 0.0, 0.0_f64);
    for row in panels.chunks(rows.each) {
        let mut x = 0.0;
        for panel in row {
            let cell = rows.cell(panel);
            let width = millimetres(outer(panel).width) * rows.scale;
            let corner = Point::new(x + (cell - width) / 2.0, y);
            put_panel(&mut body, panel, rows.scale, corner);
            if numbered {
                put_numbers(&mut body, panel, rows.scale, corner);
            }
            x += cell + GAP;
        }
        right = right.max(x - GAP);
        y += rows.height(row) + GAP;
    }
    let off = panels.iter().flat_map(|panel| distances(panel, rows.scale)).fold(0.0, f64::max);
    let margin = if numbered { off + DISC + 0.6 } else { 1.0 };
    let sides = panels.iter().filter_map(|panel| panel.sides.as_ref());
    let (beside, below) = sides.fold((1.0_f64, 1.0_f64), |(beside, below), sides| {
        // Bold letters are broader.
        (beside.max(2.0 + 1.2 * width_of(&sides.height, FONT)), below.max(NAME))
    });
    let (width, height) = (margin + right + beside, margin + y - GAP + below);
    element(told, Rectangle { x: -margin, y: -margin, width, height }, &body)
}

/// Pieces in rows.
struct PanelRows {
    /// Pieces in a row.
    each: usize,
    scale: f64,
}

impl PanelRows {
    /// As large as they can be in so many rows.
    fn of(panels: &[PanelView], rows: usize) -> PanelRows {
        let each = panels.len().div_ceil(rows).max(1);
        let (mut scale, mut tall) = (f64::INFINITY, 0.0);
        for row in panels.chunks(each) {
            let wide: f64 = row.iter().map(|panel| millimetres(outer(panel).width)).sum();
            tall += row.iter().map(|panel| millimetres(outer(panel).height)).fold(0.0, f64::max);
            scale = scale.min((WIDE - GAP * row.len() as f64) / wide);
        }
        PanelRows { each, scale: scale.min((DEEP - (GAP + NAME) * (rows as f64 - 1.0)) / tall) }
    }

    /// How wide a piece is with its name.
    fn cell(&self, panel: &PanelView) -> f64 {
        (millimetres(outer(panel).width) * self.scale).max(width_of(&panel.name, FONT))
    }

    fn height(&self, row: &[PanelView]) -> f64 {
        let name = |panel: &PanelView| if panel.name.is_empty() { 0.0 } else { NAME };
        let height =
            |panel: &PanelView| millimetres(outer(panel).height) * self.scale + name(panel);
        row.iter().map(height).fold(0.0, f64::max)
    }
}

/// The piece, or what it is laid on.
fn outer(panel: &PanelView) -> Size {
    panel.host.as_ref().map_or(panel.size, |host| host.size)
}

fn put_panel(body: &mut String, panel: &PanelView, scale: f64, corner: Point) {
    let area = |size: Size, at: Point| Rectangle {
        x: at.x,
        y: at.y,
        width: millimetres(size.width) * scale,
        height: millimetres(size.height) * scale,
    };
    let whole = area(outer(panel), corner);
    let mut own = area(panel.size, corner);
    if let Some(host) = &panel.host {
        put_box(body, "paper", "", whole);
        put_scores(body, &host.lines, scale, whole);
        let middle = |whole: f64, own: f64, axis: Axis| match host.panel {
            Some(HostPanel { across, span }) if across == axis => {
                (millimetres(span.from + span.to) * scale - own) / 2.0
            }
            _ => (whole - own) / 2.0,
        };
        own.x += middle(whole.width, own.width, Axis::Width);
        own.y += middle(whole.height, own.height, Axis::Height);
    }
    let fill = fills::name(Hatch::of_line(panel.fill));
    let blank = LyingShape { outline: &panel.opened, scale, corner: Point::new(own.x, own.y) };
    if panel.is_cut_out {
        put_box(body, "off", "", own);
        blank.put(body, &fill);
    } else {
        put_box(body, "piece", &fill, own);
        put_scores(body, &panel.lines, scale, own);
    }
    match &panel.host {
        // A layer shows the names of the halves it lies on.
        Some(host) => {
            let corner = Point::new(whole.x, whole.y);
            LyingShape { outline: &host.opened, scale, corner }.put_names(body);
        }
        None if panel.name.is_empty() => blank.put_names(body),
        None => {}
    }
    if let Some(sides) = &panel.sides {
        let (x, y) = (tenths(own.x + own.width / 2.0), tenths(own.y + own.height + 5.4));
        let (beside, middle) = (own.x + own.width + 1.0, own.y + own.height / 2.0 + 1.8);
        // Writing to a String cannot fail.
        let _ = write!(
            body,
            "<text x=\"{x}\" y=\"{y}\">{}</text><text class=\"from\" x=\"{}\" y=\"{}\">{}</text>",
            escaped(&sides.width),
            tenths(beside),
            tenths(middle),
            escaped(&sides.height)
        );
    }
    if !panel.name.is_empty() {
        let (x, y) = (tenths(whole.x + whole.width / 2.0), tenths(whole.y + whole.height + 5.4));
        // Writing to a String cannot fail.
        let _ = write!(body, "<text x=\"{x}\" y=\"{y}\">{}</text>", escaped(&panel.name));
    }
}

/// A shape where it lies in the picture.
struct LyingShape<'a> {
    outline: &'a Outline,
    scale: f64,
    corner: Point,
}

impl LyingShape<'_> {
    fn at(&self, corner: Corner) -> String {
        let (x, y) = corner;
        let Point { x: left, y: top, .. } = self.corner;
        format!("{} {}", tenths(left + x * self.scale), tenths(top + y * self.scale))
    }

    /// What is cut along, and what is folded.
    fn put(&self, body: &mut String, fill: &str) {
        let points: Vec<String> = self.outline.outline.iter().map(|at| self.at(*at)).collect();
        let lines = |lines: &[[Corner; 2]]| -> String {
            lines.iter().map(|[from, to]| format!("M{}L{}", self.at(*from), self.at(*to))).collect()
        };
        // Writing to a String cannot fail.
        let _ = write!(
            body,
            "<path class=\"blank\" fill=\"url(#{fill})\" d=\"M{}z\"/><path class=\"score\" d=\"{}\"/>",
            points.join("L"),
            lines(&self.outline.folds)
        );
        if !self.outline.slits.is_empty() {
            let _ = write!(body, "<path class=\"slit\" d=\"{}\"/>", lines(&self.outline.slits));
        }
    }

    fn put_names(&self, body: &mut String) {
        for (corner, name) in &self.outline.names {
            let at = self.at((corner.0, corner.1));
            let _ = write!(
                body,
                "<text class=\"part\" transform=\"translate({at})\" y=\"1.5\">{name}</text>"
            );
        }
    }
}

fn put_scores(body: &mut String, scores: &[Score], scale: f64, area: Rectangle) {
    let line = |score: &Score| match score.across {
        Axis::Width => {
            format!(
                "M{} {}v{}",
                tenths(area.x + millimetres(score.at) * scale),
                tenths(area.y),
                tenths(area.height)
            )
        }
        Axis::Height => {
            format!(
                "M{} {}h{}",
                tenths(area.x),
                tenths(area.y + millimetres(score.at) * scale),
                tenths(area.width)
            )
        }
    };
    let lines: String = scores.iter().map(line).collect();
    if !lines.is_empty() {
        let _ = write!(body, "<path class=\"score\" d=\"{lines}\"/>");
    }
}

/// How far the number of each score line is from its edge; of two close ones the second stands off.
fn distances(panel: &PanelView, scale: f64) -> Vec<f64> {
    let mut last: Option<&Score> = None;
    let mut distances = Vec::new();
    for score in &panel.lines {
        let close = last.filter(|last| last.across == score.across);
        let close = close.filter(|last| millimetres(score.at - last.at) * scale < 2.0 * DISC);
        distances.push(if close.is_some() { 3.0 * DISC + 1.3 } else { DISC + 1.0 });
        last = if close.is_some() { None } else { Some(score) };
    }
    distances
}

/// Numbers outside the piece, at the edges from which the lines run.
fn put_numbers(body: &mut String, panel: &PanelView, scale: f64, corner: Point) {
    for ((score, off), number) in panel.lines.iter().zip(distances(panel, scale)).zip(1..) {
        let at = millimetres(score.at) * scale;
        let (x, y) = match score.across {
            Axis::Width => (corner.x + at, corner.y - off),
            Axis::Height => (corner.x - off, corner.y + at),
        };
        let _ = write!(
            body,
            "<g class=\"number\" transform=\"translate({} {})\"><circle r=\"{DISC}\"/><text y=\"1.4\">{}</text></g>",
            tenths(x),
            tenths(y),
            number
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::folds::PanelSpan;
    use crate::reports::fixture::{inch, size};
    use crate::reports::walk::{HostView, SideLengths};

    fn card(name: &str) -> PanelView {
        let lines = vec![Score::new(Axis::Width, inch("5"))];
        PanelView {
            name: name.to_owned(),
            size: size("10 x 7"),
            lines,
            fill: 0,
            host: None,
            opened: opened(),
            is_cut_out: false,
            sides: None,
        }
    }

    /// A triangle with a fold, a slit and a name.
    fn opened() -> Outline {
        Outline {
            outline: vec![(0.0, 0.0), (254.0, 0.0), (254.0, 177.8)],
            folds: vec![[(127.0, 0.0), (127.0, 88.9)]],
            slits: vec![[(0.0, 0.0), (25.4, 0.0)]],
            names: vec![((127.0, 50.8), "front")],
        }
    }

    fn told() -> Caption<'static> {
        Caption { id: "p", title: "t", description: "" }
    }

    /// 10 in are 90 units wide, so the line at 5 in runs at 45, and 7 in are 63 high.
    #[test]
    fn a_piece_is_drawn_to_scale_with_its_lines() {
        let svg = panels(&[card("")], true, told());
        assert!(svg.contains("d=\"M0 0H90V63H0z\""), "{svg}");
        assert!(svg.contains("class=\"score\" d=\"M45 0v63\""), "{svg}");
        assert_eq!(svg.matches("class=\"number\"").count(), 1);
        assert!(!panels(&[card("")], false, told()).contains("class=\"number\""));
    }

    #[test]
    fn a_layer_lies_in_the_middle_of_its_card() {
        let lying = |panel, text: &str| {
            let host =
                HostView { panel, opened: opened(), size: size("10 x 7"), lines: Vec::new() };
            let size = size(text);
            let layer = PanelView { size, lines: Vec::new(), host: Some(host), ..card("") };
            panels(&[layer], false, told())
        };
        // On the right half, 4 x 6 in begin at 5 1/2 in.
        let span = PanelSpan { from: size("5 x 5").width, to: size("10 x 10").width };
        let half = lying(Some(HostPanel { across: Axis::Width, span }), "4 x 6");
        assert!(half.contains("d=\"M49.5 4.5H85.5V58.5H49.5z\""), "{half}");
        let svg = lying(None, "9 x 6");
        assert!(svg.contains("class=\"paper\" d=\"M0 0H90V63H0z\""), "{svg}");
        assert!(svg.contains("d=\"M4.5 4.5H85.5V58.5H4.5z\""), "{svg}");
    }

    /// A tenth of a unit is the smallest step: 10 in are 90 units.
    #[test]
    fn a_blank_is_drawn_by_its_shape_with_its_names() {
        let svg = panels(&[PanelView { is_cut_out: true, ..card("") }], false, told());
        assert!(svg.contains("class=\"off\" d=\"M0 0H90V63H0z\""), "{svg}");
        assert!(svg.contains("d=\"M0 0L90 0L90 63z\"/>"), "{svg}");
        assert!(svg.contains("class=\"score\" d=\"M45 0L45 31.5\""), "{svg}");
        assert!(svg.contains("class=\"slit\" d=\"M0 0L9 0\""), "{svg}");
        assert!(svg.contains("transform=\"translate(45 18)\" y=\"1.5\">front</text>"), "{svg}");
    }

    /// Discs are 6.4 units wide, 1/2 in is 4.5.
    #[test]
    fn the_second_of_two_close_numbers_stands_off() {
        let lines = ["5", "5 1/2", "8"].map(|at| Score::new(Axis::Width, inch(at)));
        let panel = PanelView { lines: lines.to_vec(), ..card("") };
        assert_eq!(distances(&panel, 9.0 / 25.4), [4.2, 3.0 * DISC + 1.3, 4.2]);
    }

    #[test]
    fn sides_tell_their_lengths() {
        let [width, height] = ["10 in", "7 in"].map(str::to_owned);
        let sides = Some(SideLengths { width, height });
        let svg = panels(&[PanelView { sides, ..card("") }], true, told());
        assert!(svg.contains(">10 in</text>") && svg.contains(">7 in</text>"), "{svg}");
    }

    #[test]
    fn many_pieces_stand_in_rows_with_their_names() {
        let svg = panels(&[card("card"), card("liner"), card("envelope")], false, told());
        assert_eq!(svg.matches("class=\"piece\"").count(), 3);
        assert!(svg.contains(">envelope</text>"));
        assert_eq!(panels(&[], false, told()), "");
    }
}
