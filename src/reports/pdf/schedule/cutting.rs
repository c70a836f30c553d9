//! The drawings of the patterns, and the steps at the trimmer.

use super::super::flow::Flow;
use super::super::fonts::Fonts;
use super::super::plate::Marks;
use super::super::table::{TableCell, TableRow, column, row, table};
use super::super::{EDGE, Mark, SMALL, STRONG, Style, TEXT};
use super::COUNT;
use crate::diagnostics::counted;
use crate::measure::Axis;
use crate::reports::picture::{Point, Scale, Stroke};
use crate::reports::report::{Report, RunReport, Setting, Step, YieldKind, YieldRow};
use crate::reports::words;
use rayon::prelude::*;

/// The distance on the gauge, to be read from where one stands.
const DIMENSION: Style = Style::bold(6.0);
/// Between two drawings.
const GAP: f64 = 6.0;

pub fn patterns(flow: &mut Flow, report: &Report) {
    let common = report.scale;
    flow.heading("Cut");
    flow.paragraph(
        "Do the steps in order, over all sheets: cuts with one setting go together. In a drawing, the number \
         in the black disc is the step; a grey bar between two numbers stands for all cuts between them. Set \
         the gauge from fence to knife: it is the width of the strip that comes off, or of the sheet that is \
         left when an edge is squared. Each step names the edge, as drawn, that goes against the fence, \
         the rest that the gauge sets. Write the letter of each stack on it, and keep all sheets the way up they are \
         drawn. A lift is the sheets you cut at once.",
    );
    bar(flow, common);
    let (fonts, runs) = (flow.fonts, report.runs.par_iter());
    let figures: Vec<Figure> = runs.map(|run| Figure::new(fonts, run, common)).collect();
    flow.part("How each sheet is cut");
    let (mut x, mut lowest) = (EDGE, flow.y);
    for figure in figures {
        let beside = x > EDGE && x + figure.width <= EDGE + flow.width();
        if !beside {
            (x, flow.y) = (EDGE, lowest);
        }
        let before = flow.y;
        flow.make_room(figure.height());
        if flow.y < before {
            (x, lowest) = (EDGE, flow.y);
        }
        lowest = lowest.max(flow.y + figure.height() + 3.0);
        let right = x + figure.width + GAP;
        figure.put(flow, x);
        flow.release();
        x = right;
    }
    flow.y = lowest;
}

/// Narrowest column for a drawing and what is said of it.
const NARROWEST: f64 = 44.0;

/// A drawing with what is said above and below it.
struct Figure {
    scale: Scale,
    /// Whether its scale is that of most drawings.
    common: bool,
    above: Vec<(String, Style)>,
    width: f64,
    /// Height of the drawing.
    drawn: f64,
    marks: Vec<Mark>,
}

impl Figure {
    fn new(fonts: &Fonts, run: &RunReport, common: Scale) -> Figure {
        let (picture, extent) = (&run.picture, run.picture.extent());
        let scale = picture.scale();
        let (width, drawn) = (extent.width.max(NARROWEST), extent.height);
        let name = format!("{}  {} of {}", run.name, counted(run.sheets, "sheet"), run.sheet);
        let lift = match run.sheets > 1 && run.lift > 1 {
            true => format!(", at most {} in a lift", run.lift),
            false => String::new(),
        };
        let paper = format!("{}, {}{lift}", run.paper, run.size);
        let above = [(name, STRONG), (paper, SMALL)].into_iter().flat_map(|(text, style)| {
            let lines = fonts.lines(&text, &style, width);
            lines.into_iter().map(move |line| (line, style))
        });
        let above = above.collect();
        let corner = Point::new(extent.x, extent.y);
        let marks = Marks::of(fonts, corner, |canvas| picture.draw(canvas));
        Figure { scale, common: scale == common, above, width, drawn, marks }
    }

    fn height(&self) -> f64 {
        let above: f64 = self.above.iter().map(|(_, style)| style.leading()).sum();
        above + 1.0 + self.drawn + 4.0
    }

    fn put(self, flow: &mut Flow, x: f64) {
        let mut y = flow.y;
        for (line, style) in &self.above {
            y = flow.line(Point::new(x, y), line, *style);
        }
        y += 1.0;
        self.marks.into_iter().for_each(|mark| flow.put(mark.moved(x, y)));
        let style = if self.common { SMALL } else { Style::bold(SMALL.size) };
        flow.text(Point::new(x + 6.5, y + self.drawn + 3.4), &self.scale.text(), style);
    }
}

/// A bar by which a print can be checked.
fn bar(flow: &mut Flow, common: Scale) {
    flow.make_room(8.0);
    let (y, left, right) = (flow.y + 3.0, EDGE, EDGE + 50.0);
    flow.put(Mark::line([left, y, right, y], Stroke::ink(0.5)));
    // Their outer edges are 50 mm apart.
    for x in [left + 0.15, right - 0.15] {
        flow.put(Mark::line([x, y - 2.0, x, y + 2.0], Stroke::ink(0.3)));
    }
    let told = format!(
        "Drawings are {} unless they say otherwise, and true if this bar is 50 mm long.",
        common.text()
    );
    flow.text(Point::new(right + 4.0, y + 1.0), &told, SMALL);
    flow.y = y + 4.0;
}

pub fn steps(flow: &mut Flow, report: &Report) {
    flow.part("Steps");
    flow.paragraph(&format!("{} {}", report.settings, words::ASIDE));
    let rows: Vec<TableRow> = report.cutting.iter().flat_map(setting).collect();
    let columns = [
        column("", 6.0),
        column("Step", 12.0),
        column("Take", 34.0),
        column("At the fence", 26.0),
        column("Cut", 36.0),
        column("You get", 0.0),
    ];
    table(flow, &columns, &rows);
}

fn setting(setting: &Setting) -> Vec<TableRow> {
    let mut rows: Vec<TableRow> = setting.steps.iter().map(|step| row(step_cells(step))).collect();
    if let Some(first) = rows.first_mut() {
        let mut band =
            vec![("Set the gauge to ".to_owned(), TEXT), (setting.gauge.clone(), DIMENSION)];
        if setting.off_graduation {
            band.push(("  between two marks".to_owned(), STRONG));
        }
        band.push((format!("  these steps: about {}", setting.time), SMALL));
        first.band = band;
    }
    rows
}

fn step_cells(step: &Step) -> Vec<TableCell> {
    let fetched = step.fetch.map(|sheets| format!("{sheets} of {}, ", step.sheet));
    let marked = if step.marked { ", marked edge on top" } else { "" };
    let from = format!("{}{}{marked}", fetched.unwrap_or_default(), step.run);
    let across = match step.across {
        Axis::Width => "along the width",
        Axis::Height => "along the height",
    };
    let edge = format!("{} edge", step.fence);
    let squares = if step.squaring { format!("{across}, squares") } else { across.to_owned() };
    let side_lay = step.side_lay.map(|edge| (format!("side lay: {edge} edge"), SMALL));
    let edges = [(edge, TEXT), (squares, SMALL)].into_iter().chain(side_lay).collect();
    let cuts = counted(step.cuts, "cut");
    let strokes = match step.lifts {
        1 => cuts,
        lifts => format!("{lifts} lifts × {cuts}"),
    };
    let short = step.short_lift.map(|short| (format!("last lift: {short}"), SMALL));
    let strokes = std::iter::once((strokes, STRONG)).chain(short).collect();
    vec![
        TableCell::Tick,
        TableCell::Disc(step.number),
        TableCell::Texts(vec![(step.stack.clone(), COUNT), (from, SMALL)]),
        TableCell::Texts(edges),
        TableCell::Texts(strokes),
        TableCell::Texts(step.yields.iter().map(yielded).collect()),
    ]
}

fn yielded(row: &YieldRow) -> (String, Style) {
    let YieldRow { count, name, size, next, .. } = row;
    let mark = if row.mark { ": mark its top edge" } else { "" };
    match row.kind {
        YieldKind::Stack => (format!("{count} stack {name} {size}, to {next}{mark}"), TEXT),
        YieldKind::Piece => (format!("✓ {count} {name} {size}, to {next}"), STRONG),
        YieldKind::Drawer => (format!("{count} keep {name} {size}"), STRONG),
        YieldKind::Waste => (format!("{count} waste {size}"), SMALL),
    }
}
