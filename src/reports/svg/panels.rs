//! Pieces on the table, opened out, with their score lines.

use super::fills;
use super::view::{Caption, FONT, element, put_box, tenths};
use crate::measure::{Axis, Size};
use crate::pieces::Score;
use crate::reports::picture::millimetres;
use crate::reports::picture::{Hatch, Point, Rectangle, width_of};
use crate::reports::visible::escaped;
use crate::reports::walk::PanelView;
use std::fmt::Write;

/// Room for all of them, and between two.
const WIDE: f64 = 96.0;
const DEEP: f64 = 80.0;
const GAP: f64 = 6.0;
/// Room below a piece for its name.
const NAME: f64 = 7.0;
/// Room left of and above pieces for the numbers of their lines.
const MARGIN: f64 = 8.0;
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
    let margin = if numbered { MARGIN } else { 1.0 };
    let (width, height) = (margin + right + 1.0, margin + y - GAP + 1.0);
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
        own.x += (whole.width - own.width) / 2.0;
        own.y += (whole.height - own.height) / 2.0;
    }
    put_box(body, "piece", &fills::name(Hatch::of_line(panel.fill)), own);
    put_scores(body, &panel.lines, scale, own);
    if !panel.name.is_empty() {
        let (x, y) = (tenths(whole.x + whole.width / 2.0), tenths(whole.y + whole.height + 5.4));
        // Writing to a String cannot fail.
        let _ = write!(body, "<text x=\"{x}\" y=\"{y}\">{}</text>", escaped(&panel.name));
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

/// Numbers outside the piece, at the edges from which the lines run; close ones stand one behind the other.
fn put_numbers(body: &mut String, panel: &PanelView, scale: f64, corner: Point) {
    for (number, score) in panel.lines.iter().enumerate() {
        let at = millimetres(score.at) * scale;
        let (x, y) = match score.across {
            Axis::Width => (corner.x + at, corner.y - DISC - 1.0),
            Axis::Height => (corner.x - DISC - 1.0, corner.y + at),
        };
        let _ = write!(
            body,
            "<g class=\"number\" transform=\"translate({} {})\"><circle r=\"{DISC}\"/><text y=\"1.4\">{}</text></g>",
            tenths(x),
            tenths(y),
            number + 1
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture::{inch, size};
    use crate::reports::walk::HostView;

    fn card(name: &str) -> PanelView {
        let lines = vec![Score { across: Axis::Width, at: inch("5") }];
        PanelView { name: name.to_owned(), size: size("10 x 7"), lines, fill: 0, host: None }
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
        let host = Some(HostView { size: size("10 x 7"), lines: Vec::new() });
        let layer = PanelView { size: size("9 x 6"), lines: Vec::new(), host, ..card("") };
        let svg = panels(&[layer], false, told());
        assert!(svg.contains("class=\"paper\" d=\"M0 0H90V63H0z\""), "{svg}");
        assert!(svg.contains("d=\"M4.5 4.5H85.5V58.5H4.5z\""), "{svg}");
    }

    #[test]
    fn many_pieces_stand_in_rows_with_their_names() {
        let svg = panels(&[card("card"), card("liner"), card("envelope")], false, told());
        assert_eq!(svg.matches("class=\"piece\"").count(), 3);
        assert!(svg.contains(">envelope</text>"));
        assert_eq!(panels(&[], false, told()), "");
    }
}
