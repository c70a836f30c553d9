//! Labels to cut out: one for every stack, one for every kind of strip that goes in the drawer.

use super::document::document;
use super::flow::Flow;
use super::fonts::Fonts;
use super::{EDGE, Mark, Style};
use crate::reports::ReportError;
use crate::reports::picture::{Point, Rectangle, Stroke};
use crate::reports::report::{Label, Report};
use crate::reports::visible::shown;
use crate::workshop::PageSize;

/// Labels beside each other and below each other.
const ACROSS: usize = 3;
const DOWN: usize = 7;
/// Free room within a label.
const PAD: f64 = 2.5;

/// The file; `None` where nothing needs a label.
///
/// # Errors
/// A font cannot be read.
pub fn labels(report: &Report, page: PageSize) -> Result<Option<Vec<u8>>, ReportError> {
    if report.labels.is_empty() {
        return Ok(None);
    }
    let fonts = Fonts::new()?;
    let mut flow = Flow::new(page, &fonts);
    let (width, height) = (flow.width() / ACROSS as f64, flow.height() / DOWN as f64);
    for (number, labels) in report.labels.chunks(ACROSS * DOWN).enumerate() {
        if number > 0 {
            flow.turn();
        }
        for (place, label) in labels.iter().enumerate() {
            let x = EDGE + width * (place % ACROSS) as f64;
            let y = EDGE + height * (place / ACROSS) as f64;
            put(&mut flow, label, Rectangle { x, y, width, height });
        }
        guides(&mut flow, labels.len().div_ceil(ACROSS), width, height);
    }
    let title = shown(&report.title);
    let foot = format!("{title}: labels. Cut with the guard on, fingers behind it.");
    document(&format!("{title}: labels"), &foot, page, &flow.finish(), &fonts).map(Some)
}

/// The lines to cut along, right through, so that a trimmer cuts them too.
fn guides(flow: &mut Flow, rows: usize, width: f64, height: f64) {
    let (right, foot) = (EDGE + width * ACROSS as f64, EDGE + height * rows as f64);
    let stroke = Stroke { dash: Some([1.6, 1.2]), ..Stroke::ink(0.15) };
    let mut line = |ends| flow.put(Mark::line(ends, stroke));
    for column in 0..=ACROSS {
        let x = EDGE + width * column as f64;
        line([x, EDGE, x, foot]);
    }
    for row in 0..=rows {
        let y = EDGE + height * row as f64;
        line([EDGE, y, right, y]);
    }
}

fn put(flow: &mut Flow, label: &Label, area: Rectangle) {
    let Rectangle { x, y, width, height } = area;
    let room = width - 2.0 * PAD;
    let name = shown(&label.name);
    // The largest letters in which the name fits on a line, or small ones on several.
    let sizes = [11.0, 8.0, 6.0, 4.6, 3.6];
    let style =
        sizes.into_iter().map(Style::bold).find(|style| flow.fonts.width(&name, style) <= room);
    let style = style.unwrap_or(Style::bold(3.0));
    let mut at = y + PAD;
    let told = label.lines.iter().map(|line| (line.clone(), Style::plain(3.1)));
    for (text, style) in std::iter::once((name, style)).chain(told) {
        for line in flow.fonts.lines(&text, &style, room) {
            if at + style.leading() > y + height - 1.0 {
                return;
            }
            at = flow.line(Point::new(x + PAD, at), &line, style);
        }
    }
}
