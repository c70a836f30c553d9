//! Labels, each with an outline of what it is for: on plain pages to be cut apart, or on sheets of adhesive labels.

use super::document::document;
use super::flow::Flow;
use super::fonts::Fonts;
use super::{EDGE, Mark, SMALL, Style, TEXT};
use crate::formats::LabelGrid;
use crate::measure::Size;
use crate::reports::ReportError;
use crate::reports::picture::{Fill, Panel, Point, Rectangle, Stroke, millimetres};
use crate::reports::report::{Label, Report};
use crate::reports::visible::shown;
use crate::workshop::{PageSize, Workshop};

/// Labels beside each other and below each other on a plain page.
const ACROSS: usize = 3;
const DOWN: usize = 7;
/// Free room within a label.
const PAD: f64 = 2.5;

/// Where labels lie on a page, in millimetres.
struct LabelSheet {
    page: PageSize,
    across: usize,
    down: usize,
    /// The first label.
    first: Rectangle,
    /// From one to the next.
    step: Point,
    /// Whether they are cut apart.
    is_plain: bool,
}

impl LabelSheet {
    fn of(workshop: &Workshop) -> LabelSheet {
        match workshop.labels {
            Some(grid) => LabelSheet::adhesive(grid),
            None => LabelSheet::plain(workshop.page),
        }
    }

    fn plain(page: PageSize) -> LabelSheet {
        let (width, height) = super::extent(page);
        let width = (width - 2.0 * EDGE) / ACROSS as f64;
        let height = (height - 2.5 * EDGE) / DOWN as f64;
        let first = Rectangle { x: EDGE, y: EDGE, width, height };
        let step = Point::new(width, height);
        LabelSheet { page, across: ACROSS, down: DOWN, first, step, is_plain: true }
    }

    fn adhesive(grid: &LabelGrid) -> LabelSheet {
        let page = PageSize::named(&grid.page).unwrap_or(PageSize::Letter);
        let [x, y] = [grid.left, grid.top].map(millimetres);
        let [width, height] = [grid.size.width, grid.size.height].map(millimetres);
        let [across, down] = [grid.step.width, grid.step.height].map(millimetres);
        LabelSheet {
            page,
            across: grid.across,
            down: grid.down,
            first: Rectangle { x, y, width, height },
            step: Point::new(across, down),
            is_plain: false,
        }
    }

    /// The label of this number on its page.
    fn place(&self, number: usize) -> Rectangle {
        let Rectangle { x, y, .. } = self.first;
        let (column, row) = ((number % self.across) as f64, (number / self.across) as f64);
        Rectangle { x: x + self.step.x * column, y: y + self.step.y * row, ..self.first }
    }
}

/// The file; `None` where nothing needs a label.
///
/// # Errors
/// A font cannot be read.
pub fn labels(report: &Report, workshop: &Workshop) -> Result<Option<Vec<u8>>, ReportError> {
    if report.labels.is_empty() {
        return Ok(None);
    }
    let fonts = Fonts::new()?;
    let sheet = LabelSheet::of(workshop);
    let mut flow = Flow::new(sheet.page, &fonts);
    for (number, labels) in report.labels.chunks(sheet.across * sheet.down).enumerate() {
        if number > 0 {
            flow.turn();
        }
        for (place, label) in labels.iter().enumerate() {
            put(&mut flow, label, sheet.place(place));
        }
        if sheet.is_plain {
            guides(&mut flow, &sheet, labels.len().div_ceil(sheet.across));
        }
    }
    let title = shown(&report.title);
    let care = if sheet.is_plain { " Cut with the guard on, fingers behind it." } else { "" };
    let foot = format!("{title}: labels.{care}");
    document(&format!("{title}: labels"), &foot, sheet.page, &flow.finish(), &fonts).map(Some)
}

/// The lines to cut along, right through, so that a trimmer cuts them too.
fn guides(flow: &mut Flow, sheet: &LabelSheet, rows: usize) {
    let Rectangle { x: left, y: top, width, height } = sheet.first;
    let (right, foot) = (left + width * sheet.across as f64, top + height * rows as f64);
    let stroke = Stroke { dash: Some([1.6, 1.2]), ..Stroke::ink(0.15) };
    let mut line = |ends| flow.put(Mark::line(ends, stroke));
    for column in 0..=sheet.across {
        let x = left + width * column as f64;
        line([x, top, x, foot]);
    }
    for row in 0..=rows {
        let y = top + height * row as f64;
        line([left, y, right, y]);
    }
}

/// Longest side of an outline.
const OUTLINE: f64 = 16.0;

/// The outline of a plate around this point, with an arrow up.
fn outline(flow: &mut Flow, size: Size, longest: f64, middle: Point) {
    let scale = longest / millimetres(size.long()).max(0.1);
    let [width, height] =
        [size.width, size.height].map(|side| (millimetres(side) * scale).max(2.0));
    let area = Rectangle::around(middle.x, middle.y, width, height);
    let stroke = Some(Stroke::ink(0.35));
    flow.put(Mark::Panel(Panel { stroke, ..Panel::filled(area, Fill::Empty) }));
    let reach = (height / 2.0 - 0.8).clamp(0.6, 4.0);
    let head = (reach * 0.6).min(1.4);
    flow.arrow_up(middle, reach, head);
}

fn put(flow: &mut Flow, label: &Label, area: Rectangle) {
    let Rectangle { x, y, width, height } = area;
    let longest = OUTLINE.min(height - 2.0 * PAD);
    let middle = Point::new(x + width - PAD - longest / 2.0, y + height / 2.0);
    outline(flow, label.size, longest, middle);
    let room = width - 3.0 * PAD - longest;
    let name = shown(&label.name);
    // The largest letters in which the name is on a line and all is on the label, or small ones on several.
    let sizes = [11.0, 8.0, 7.0, 6.0, 5.0, 4.2, 3.6].map(Style::bold);
    let told =
        label.lines.iter().map(|line| (line.clone(), Style { colour: TEXT.colour, ..SMALL }));
    let told: Vec<(String, Style)> = told.collect();
    let lines = |style: Style| -> Vec<(String, Style)> {
        let all = std::iter::once((name.clone(), style)).chain(told.iter().cloned());
        let broken = |(text, style): (String, Style)| {
            flow.fonts.lines(&text, &style, room).into_iter().map(move |line| (line, style))
        };
        all.flat_map(broken).collect()
    };
    let fits = |style: &Style| {
        let deep: f64 = lines(*style).iter().map(|(_, style)| style.leading()).sum();
        flow.fonts.width(&name, style) <= room && deep <= height - PAD
    };
    let style = sizes.into_iter().find(fits).unwrap_or(Style { bold: true, ..TEXT });
    let mut at = y + PAD / 2.0;
    for (line, style) in lines(style) {
        if at + style.leading() > y + height - PAD / 4.0 {
            return;
        }
        at = flow.line(Point::new(x + PAD, at), &line, style);
    }
}
