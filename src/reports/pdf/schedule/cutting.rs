//! The drawings of the patterns, and the steps at the trimmer.

use super::super::flow::Flow;
use super::super::fonts::Fonts;
use super::super::plate::Marks;
use super::super::table::{TableCell, TableRow, column, row, table};
use super::super::{EDGE, Mark, SMALL, STRONG, Style, TEXT};
use super::COUNT;
use super::section::whose;
use super::skyline::{self, FigurePlace, FigureSize, PageRoom};
use crate::diagnostics::counted;
use crate::reports::picture::{DrawingRoom, Picture, Point, Scale};
use crate::reports::report::{Report, RunReport, Setting, Step, YieldKind, YieldRow};
use crate::reports::words;
use rayon::prelude::*;

/// The distance on the gauge, to be read from where one stands.
const DIMENSION: Style = Style::bold(4.2);
/// Between two drawings beside each other, and below each other.
const GAP: f64 = 4.0;
const BELOW: f64 = 2.5;

pub fn patterns(flow: &mut Flow, report: &Report) {
    let drawings = report.runs.iter().map(|run| run.picture.drawing.sheet);
    let common = Scale::common(drawings, DrawingRoom::PAGE);
    flow.cut_here(&whose("cut", report));
    flow.heading("Cut");
    flow.paragraph(
        "Do the steps in order, over all sheets: cuts with one setting go together. In a drawing, the number \
         in the black disc is the step; a grey bar between two numbers stands for all cuts between them. Set \
         the gauge from fence to knife: it is the width of the strip that comes off, or of the sheet that is \
         left when an edge is squared. Each step names the edge, as drawn, that goes against the fence, \
         the rest that the gauge sets. A lift is the sheets you cut at once. Dotted lines are score lines, a dashed \
         frame goes to the drawer, grey hatching is waste.",
    );
    flow.paragraph(&format!("{} {}", words::LETTERED, words::WAY_UP));
    bar(flow, common);
    let (fonts, runs) = (flow.fonts, report.runs.par_iter());
    let figures: Vec<Figure> = runs.map(|run| Figure::new(fonts, run, common)).collect();
    flow.part("How each sheet is cut");
    put_figures(flow, figures);
}

/// Puts the drawings beside and below each other, in the order in which they take the fewest pages.
fn put_figures(flow: &mut Flow, figures: Vec<Figure>) {
    let room = PageRoom { top: flow.y, width: flow.width() + GAP, foot: EDGE + flow.height() };
    let sizes: Vec<FigureSize> = figures.iter().map(Figure::size).collect();
    let keys: [fn(&FigureSize) -> f64; 4] =
        [|_| 0.0, |size| size.height, |size| size.width, |size| size.width * size.height];
    let ways = keys.into_iter().map(|key| {
        let mut order: Vec<usize> = (0..sizes.len()).collect();
        order.sort_by(|one, other| key(&sizes[*other]).total_cmp(&key(&sizes[*one])));
        skyline::placed(&sizes, order, room)
    });
    let best = ways
        .min_by(|one, other| (one.pages.cmp(&other.pages)).then(one.foot.total_cmp(&other.foot)));
    let Some(best) = best else { return };
    let mut places: Vec<(FigurePlace, Figure)> = best.places.into_iter().zip(figures).collect();
    places.sort_by_key(|(place, _)| place.page);
    let mut page = 0;
    for (place, figure) in places {
        if place.page > page {
            page = place.page;
            flow.make_room(flow.height());
        }
        flow.y = place.y;
        figure.put(flow, EDGE + place.x);
        flow.release();
    }
    flow.y = best.foot;
}

/// Narrowest room for what is said of a drawing.
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
        let picture = &Picture::readable(run.picture.drawing.clone(), common, DrawingRoom::PAGE);
        let extent = picture.extent();
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

    /// The room that it takes, with some beside and below it.
    fn size(&self) -> FigureSize {
        FigureSize { width: self.width + GAP, height: self.height() + BELOW }
    }

    fn height(&self) -> f64 {
        let above: f64 = self.above.iter().map(|(_, style)| style.leading()).sum();
        above + 0.5 + self.drawn + if self.common { 0.0 } else { SMALL.leading() }
    }

    fn put(self, flow: &mut Flow, x: f64) {
        let mut y = flow.y;
        for (line, style) in &self.above {
            y = flow.line(Point::new(x, y), line, *style);
        }
        y += 0.5;
        self.marks.into_iter().for_each(|mark| flow.put(mark.moved(x, y)));
        if !self.common {
            let style = Style::bold(SMALL.size);
            flow.text(Point::new(x + 6.5, y + self.drawn + 2.6), &self.scale.text(), style);
        }
    }
}

/// The bar, and in which scale most drawings are.
fn bar(flow: &mut Flow, common: Scale) {
    flow.make_room(8.0);
    let y = flow.y + 3.0;
    let told = format!(
        "Drawings are {} unless they say otherwise, and true if this bar is 50 mm long.",
        common.text()
    );
    flow.bar(y, &told);
    flow.y = y + 4.0;
}

pub fn steps(flow: &mut Flow, report: &Report) {
    flow.part("Steps");
    flow.paragraph(&format!("{} {}", report.settings, words::ASIDE));
    let rows: Vec<TableRow> = report.cutting.iter().flat_map(setting).collect();
    let columns = [
        column("", 6.0),
        column("Step", 10.0),
        column("Take", 42.0),
        column("At the fence", 17.5),
        column("Cut", 36.0),
        column("You get", 0.0),
    ];
    table(flow, &columns, &rows);
}

fn setting(setting: &Setting) -> Vec<TableRow> {
    let mut rows: Vec<TableRow> = setting.steps.iter().map(|step| row(step_cells(step))).collect();
    if let Some(first) = rows.first_mut() {
        let mut band =
            vec![("Set the gauge to".to_owned(), TEXT), (setting.gauge.clone(), DIMENSION)];
        if setting.off_graduation {
            band.push(("between two marks".to_owned(), STRONG));
        }
        band.push((format!("these steps: about {}", setting.time), SMALL));
        first.band = band;
    }
    rows
}

fn step_cells(step: &Step) -> Vec<TableCell> {
    let fetched = step.fetch.map(|sheets| format!("{sheets} of {}, ", step.sheet));
    let marked = if step.marked { ", marked edge on top" } else { "" };
    let from = format!("{}{}{marked}", fetched.unwrap_or_default(), step.run);
    // The edge says along which side is measured.
    let edge = (format!("{} edge", step.fence), TEXT);
    let squares = step.squaring.then(|| ("squares".to_owned(), SMALL));
    let side_lay = step.side_lay.map(|edge| (format!("side lay: {edge} edge"), SMALL));
    let edges = std::iter::once(edge).chain(squares).chain(side_lay).collect();
    let cuts = counted(step.cuts, "cut");
    let strokes = match step.lifts {
        1 => cuts,
        lifts => format!("{lifts} lifts × {cuts}"),
    };
    let short = step.short_lift.map(|short| (format!("last: {short}"), SMALL));
    let strokes = std::iter::once((strokes, STRONG)).chain(short).collect();
    vec![
        TableCell::Tick,
        TableCell::Disc(step.number),
        TableCell::Beside(vec![(step.stack.clone(), COUNT), (from, SMALL)]),
        TableCell::Beside(edges),
        TableCell::Beside(strokes),
        TableCell::Beside(step.yields.iter().map(yielded).collect()),
    ]
}

fn yielded(row: &YieldRow) -> (String, Style) {
    let YieldRow { count, name, size, next, .. } = row;
    let mark = if row.mark { ": mark its top edge" } else { "" };
    match row.kind {
        YieldKind::Stack => (format!("stack {name}: {count} of {size}, to {next}{mark}"), TEXT),
        YieldKind::Piece => (format!("✓ {count} {name} {size}, to {next}"), STRONG),
        YieldKind::Drawer => (format!("{count} keep {name} {size}"), STRONG),
        YieldKind::Waste => (format!("{count} waste {size}"), SMALL),
    }
}
