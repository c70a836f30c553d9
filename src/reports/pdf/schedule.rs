//! The schedule on pages: the stages in the order of the work.

use super::document::document;
use super::flow::Flow;
use super::fonts::Fonts;
use super::table::{Cell, Column, Row, column, named, numbers, row, strong, table, text};
use super::{EDGE, Mark, SMALL, STRONG, Style, TEXT, TITLE};
use crate::diagnostics::counted;
use crate::measure::Axis;
use crate::reports::html::CAUTIONS;
use crate::reports::report::{Report, RunReport, Setting, Step, YieldKind, YieldRow};
use crate::reports::svg::{self, Scale};
use crate::reports::visible::shown;
use crate::reports::{ReportError, lists};
use crate::workshop::PageSize;

/// The distance on the gauge, to be read from where one stands.
const DIMENSION: Style = Style::bold(6.0);
/// How many.
const COUNT: Style = Style::bold(4.2);
/// Between two drawings.
const GAP: f64 = 6.0;

/// The file.
///
/// # Errors
/// A font or a drawing cannot be written.
pub fn schedule(report: &Report, page: PageSize) -> Result<Vec<u8>, ReportError> {
    let fonts = Fonts::new()?;
    let mut flow = Flow::new(page, &fonts);
    opening(&mut flow, report);
    shopping(&mut flow, report);
    patterns(&mut flow, report);
    steps(&mut flow, report);
    count(&mut flow, report);
    finishing(&mut flow, report);
    packing(&mut flow, report);
    time(&mut flow, report);
    proof(&mut flow, report);
    let title = shown(&report.title);
    document((&format!("{title}: schedule"), &title), page, &flow.finish(), &fonts)
}

fn opening(flow: &mut Flow, report: &Report) {
    flow.lines("Bench schedule", SMALL);
    flow.lines(&report.title, TITLE);
    flow.y += 2.0;
    flow.lines(&format!("Yes: {}.", report.verdict), Style::bold(4.2));
    flow.y += 1.0;
    let answers = &report.answers;
    for (word, told) in [
        ("Buy", &answers.buy),
        ("Use", &answers.take),
        ("Left", &answers.leave),
        ("Sure?", &answers.sure),
        ("Work", &answers.work),
    ] {
        let y = flow.y + TEXT.leading();
        flow.make_room(TEXT.leading());
        flow.text((EDGE, y - 0.3 * TEXT.size), word, STRONG);
        flow.lines_from(EDGE + 16.0, told, TEXT);
    }
    flow.heading("Before the blade moves", 20.0);
    for caution in CAUTIONS {
        flow.lines(&format!("– {caution}"), TEXT);
    }
    flow.paragraph(
        "The trimmer’s own instructions and your local safety rules come before this sheet. What may go \
         in the mail, and at what price, the post decides.",
    );
}

fn tick_and_count(count: u64) -> [Cell; 2] {
    [Cell::Tick, Cell::Texts(vec![(count.to_string(), COUNT)])]
}

/// The columns of a box to tick and a number.
const TICKED: [Column; 2] = [column("", 6.0), numbers("", 16.0)];

fn shopping(flow: &mut Flow, report: &Report) {
    let [tick, _] = TICKED;
    if report.purchases.is_empty() {
        flow.paragraph("Nothing has to be bought.");
    } else {
        flow.heading("Buy", 20.0);
        let rows: Vec<Row> = report
            .purchases
            .iter()
            .map(|bought| {
                let [tick, packs] = tick_and_count(bought.packs);
                let below = format!("{}, {}", bought.paper, bought.size);
                let [pack, cost] = [bought.pack.to_string(), bought.cost.clone()].map(text);
                row(vec![tick, packs, named(&bought.sheet, below), pack, text(&bought.price), cost])
            })
            .collect();
        let columns = [
            tick,
            numbers("Packs", 16.0),
            column("Of", 0.0),
            numbers("Sheets in a pack", 30.0),
            numbers("Each", 22.0),
            numbers("Cost", 24.0),
        ];
        table(flow, &columns, &rows);
        flow.lines(&format!("In all {}", report.spend), STRONG);
    }
    flow.heading("Take from shelf and drawer", 20.0);
    let rows: Vec<Row> = report
        .taken
        .iter()
        .map(|taken| {
            let [tick, count] = tick_and_count(taken.count);
            let below = format!("{}, {}", taken.paper, taken.size);
            let from = text(lists::place(taken));
            row(vec![tick, count, named(&taken.sheet, below), from, text(taken.stays.to_string())])
        })
        .collect();
    let columns = [
        column("", 6.0),
        numbers("Take", 16.0),
        column("Of", 0.0),
        column("From", 46.0),
        numbers("Stay behind", 28.0),
    ];
    table(flow, &columns, &rows);
}

fn patterns(flow: &mut Flow, report: &Report) {
    let common = Scale::common(report.runs.iter().map(|run| run.drawing.sheet));
    flow.heading("Cut", 60.0);
    flow.paragraph(
        "Do the steps in order, over all sheets: what wants the same gauge is cut together. Set the gauge \
         from fence to knife: it is the width of the strip that comes off, or of what stays when an edge \
         is squared. The edge that is named, as drawn, lies against the fence. Write its letter on every \
         stack, and keep all sheets the way up they are drawn.",
    );
    bar(flow, common);
    flow.part("How the sheets are cut up", 60.0);
    let (mut x, mut lowest) = (EDGE, flow.y);
    for run in &report.runs {
        let figure = Figure::new(flow, run, common);
        let beside = x > EDGE && x + figure.width <= EDGE + flow.width();
        if !beside {
            (x, flow.y) = (EDGE, lowest);
        }
        let before = flow.y;
        flow.make_room(figure.height());
        if flow.y < before {
            (x, lowest) = (EDGE, flow.y);
        }
        figure.put(flow, x);
        x += figure.width + GAP;
        lowest = lowest.max(flow.y + figure.height() + 3.0);
    }
    flow.y = lowest;
}

/// Narrowest column for a drawing and what is said of it.
const NARROWEST: f64 = 44.0;

/// A drawing with what is said above and below it.
struct Figure<'a> {
    run: &'a RunReport,
    scale: Scale,
    /// Whether its scale is that of most drawings.
    common: bool,
    above: Vec<(String, Style)>,
    width: f64,
    /// Height of the drawing.
    drawn: f64,
}

impl<'a> Figure<'a> {
    fn new(flow: &Flow, run: &'a RunReport, common: Scale) -> Figure<'a> {
        let (scale, _) = svg::suited(&run.drawing, common);
        let (width, drawn) = svg::size(&run.drawing, scale);
        let width = width.max(NARROWEST);
        let name = format!("{}  {} of {}", run.name, counted(run.sheets, "sheet"), run.sheet);
        let lift = match run.sheets > 1 && run.lift > 1 {
            true => format!(", at most {} in a lift", run.lift),
            false => String::new(),
        };
        let paper = format!("{}, {}{lift}", run.paper, run.size);
        let above = [(name, STRONG), (paper, SMALL)].into_iter().flat_map(|(text, style)| {
            let lines = flow.fonts.lines(&shown(&text), &style, width);
            lines.into_iter().map(move |line| (line, style))
        });
        let above = above.collect();
        Figure { run, scale, common: scale == common, above, width, drawn }
    }

    fn height(&self) -> f64 {
        let above: f64 = self.above.iter().map(|(_, style)| style.leading()).sum();
        above + 1.0 + self.drawn + 4.0
    }

    fn put(&self, flow: &mut Flow, x: f64) {
        let mut y = flow.y;
        for (line, style) in &self.above {
            y += style.leading();
            flow.text((x, y - 0.3 * style.size), line, *style);
        }
        y += 1.0;
        let svg = svg::printed(&self.run.drawing, self.scale);
        flow.put(Mark::Picture { at: (x, y), svg });
        let style = if self.common { SMALL } else { Style::bold(SMALL.size) };
        flow.text((x + 6.5, y + self.drawn + 3.4), &self.scale.text(), style);
    }
}

/// A bar by which a print can be checked.
fn bar(flow: &mut Flow, common: Scale) {
    flow.make_room(8.0);
    let (y, left, right) = (flow.y + 3.0, EDGE, EDGE + 50.0);
    flow.put(Mark::Line { from: (left, y), to: (right, y), width: 0.5, dashed: false });
    // Their outer edges are 50 mm apart.
    for x in [left + 0.15, right - 0.15] {
        let (from, to) = ((x, y - 2.0), (x, y + 2.0));
        flow.put(Mark::Line { from, to, width: 0.3, dashed: false });
    }
    let told = format!(
        "Drawings are {} unless they say otherwise, and true to it when this bar is 50 mm long.",
        common.text()
    );
    flow.text((right + 4.0, y + 1.0), &told, SMALL);
    flow.y = y + 4.0;
}

fn steps(flow: &mut Flow, report: &Report) {
    flow.part("The steps", 30.0);
    flow.paragraph(&format!(
        "{} Stacks that wait are put aside, their letter on top.",
        report.settings
    ));
    let rows: Vec<Row> = report.cutting.iter().flat_map(setting).collect();
    let columns = [
        column("", 6.0),
        column("Step", 12.0),
        column("Take", 34.0),
        column("At the fence", 26.0),
        column("Cut", 36.0),
        column("Comes out", 0.0),
    ];
    table(flow, &columns, &rows);
}

fn setting(setting: &Setting) -> Vec<Row> {
    let mut rows: Vec<Row> = setting.steps.iter().map(|step| row(step_cells(step))).collect();
    if let Some(first) = rows.first_mut() {
        let mut band =
            vec![("Set the gauge to ".to_owned(), TEXT), (setting.gauge.clone(), DIMENSION)];
        if setting.off_graduation {
            band.push(("  between two marks".to_owned(), STRONG));
        }
        first.band = band;
    }
    rows
}

fn step_cells(step: &Step) -> Vec<Cell> {
    let fetched = step.fetch.map(|sheets| format!("{sheets} of {}, ", step.sheet));
    let from = format!("{}{}", fetched.unwrap_or_default(), step.run);
    let across = match step.across {
        Axis::Width => "across the width",
        Axis::Height => "across the height",
    };
    let edge = format!("{} edge", step.fence);
    let squares = if step.squaring { format!("{across}, squares") } else { across.to_owned() };
    let cuts = counted(step.cuts, "cut");
    let strokes = match step.lifts {
        1 => cuts,
        lifts => format!("{lifts} lifts × {cuts}"),
    };
    let short = step.short_lift.map(|short| (format!("last lift: {short}"), SMALL));
    let strokes = std::iter::once((strokes, STRONG)).chain(short).collect();
    vec![
        Cell::Tick,
        Cell::Disc(step.number),
        Cell::Texts(vec![(step.stack.clone(), COUNT), (from, SMALL)]),
        Cell::Texts(vec![(edge, TEXT), (squares, SMALL)]),
        Cell::Texts(strokes),
        Cell::Texts(step.yields.iter().map(yielded).collect()),
    ]
}

fn yielded(row: &YieldRow) -> (String, Style) {
    let YieldRow { count, name, size, next, .. } = row;
    match row.kind {
        YieldKind::Stack => (format!("{count} stack {name} {size}, to {next}"), TEXT),
        YieldKind::Piece => (format!("✓ {count} {name} {size}, to {next}"), STRONG),
        YieldKind::Drawer => (format!("{count} keep {name} {size}"), STRONG),
        YieldKind::Waste => (format!("{count} waste {size}"), SMALL),
    }
}

fn count(flow: &mut Flow, report: &Report) {
    flow.heading("Count before you go on", 20.0);
    let rows: Vec<Row> = report
        .pieces
        .iter()
        .map(|piece| {
            let [tick, count] = tick_and_count(piece.cut);
            let below = format!("{}, {}", piece.papers.join(" or "), piece.size);
            let spares = (piece.cut - piece.need).to_string();
            let [need, spares] = [piece.need.to_string(), spares].map(text);
            row(vec![tick, count, named(&piece.piece, below), need, spares])
        })
        .collect();
    let columns = [
        column("", 6.0),
        numbers("There are", 20.0),
        column("Of", 0.0),
        numbers("Ordered", 22.0),
        numbers("Spares", 22.0),
    ];
    table(flow, &columns, &rows);
}

fn finishing(flow: &mut Flow, report: &Report) {
    if !report.scoring.is_empty() {
        flow.heading("Score", 24.0);
        flow.paragraph(
            "Measured on the piece as its card is read, width first, its outer side up, so that the ridge \
             of the crease comes to lie inside the fold. All lines of a piece in one go, before the next \
             piece.",
        );
        let mut rows = Vec::new();
        for setting in &report.scoring {
            let first = rows.len();
            for scored in &setting.rows {
                let [tick, count] = tick_and_count(scored.count);
                let lines = text(counted(setting.lines.len() as u64, "line"));
                rows.push(row(vec![tick, count, named(&scored.piece, &scored.size), lines]));
            }
            let at = (setting.lines.join(",  "), STRONG);
            if let Some(first) = rows.get_mut(first) {
                first.band = vec![("Score at ".to_owned(), TEXT), at];
            }
        }
        let [tick, _] = TICKED;
        table(
            flow,
            &[tick, numbers("Pieces", 18.0), column("Of", 0.0), column("Lines", 26.0)],
            &rows,
        );
    }
    for list in &report.work {
        flow.heading(list.title, 20.0);
        let rows: Vec<Row> = list
            .rows
            .iter()
            .map(|work| {
                let [tick, count] = tick_and_count(work.count);
                row(vec![tick, count, named(&work.piece, &work.size), text(&work.what)])
            })
            .collect();
        let columns = [
            column("", 6.0),
            numbers("Pieces", 18.0),
            column("Of", 52.0),
            column("What to do", 0.0),
        ];
        table(flow, &columns, &rows);
    }
}

fn packing(flow: &mut Flow, report: &Report) {
    if !report.packing.is_empty() {
        flow.heading("Pack", 20.0);
        let rows: Vec<Row> = report
            .packing
            .iter()
            .map(|packed| {
                let [tick, count] = tick_and_count(packed.count);
                let holds = packed.contents.iter().map(|part| (format!("– {part}"), TEXT));
                let due = text(packed.due.clone().unwrap_or_default());
                let holds = Cell::Texts(holds.collect());
                row(vec![tick, count, strong(&packed.line), holds, due, text(&packed.note)])
            })
            .collect();
        let columns = [
            column("", 6.0),
            numbers("Sets", 16.0),
            column("Line", 32.0),
            column("Each holds", 0.0),
            column("Due", 24.0),
            column("Note", 36.0),
        ];
        table(flow, &columns, &rows);
    }
    if !report.drawer.is_empty() {
        flow.heading("Put away in the drawer", 24.0);
        flow.paragraph(
            "Write the name on each strip, and keep width and height as they lay on the sheet.",
        );
        let rows: Vec<Row> = report
            .drawer
            .iter()
            .map(|kept| {
                let [tick, count] = tick_and_count(kept.count);
                let below = format!("{}, {}", kept.paper, kept.size);
                row(vec![tick, count, named(&kept.offcut, below), text(&kept.run)])
            })
            .collect();
        let columns = [
            column("", 6.0),
            numbers("Strips", 18.0),
            column("Name", 0.0),
            column("From run", 26.0),
        ];
        table(flow, &columns, &rows);
    }
}

fn time(flow: &mut Flow, report: &Report) {
    let svg = svg::timetable(&report.timetable);
    let (_, height) = svg::timetable_size(&report.timetable);
    flow.heading("Time", 12.0 + height);
    flow.paragraph(&report.timetable.sentence);
    flow.make_room(height);
    flow.put(Mark::Picture { at: (EDGE, flow.y), svg });
    flow.y += height + 2.0;
    let rows: Vec<Row> = report
        .timetable
        .bars
        .iter()
        .map(|bar| row(vec![strong(bar.stage), text(&bar.time), text(&bar.when)]))
        .collect();
    table(flow, &[column("Stage", 40.0), numbers("Takes", 30.0), column("When", 0.0)], &rows);
}

fn proof(flow: &mut Flow, report: &Report) {
    flow.heading("How sure this plan is", 30.0);
    flow.paragraph(
        "For money and for paper a lower limit was worked out that no plan whatever can go below. Where \
         this plan reaches it, it is proven; where it does not, a better plan may exist between the two \
         numbers, or may not. Anybody can work the limits out again from the numbers in plan.json.",
    );
    let quiet = |told: &str| Cell::Texts(vec![(told.to_owned(), SMALL)]);
    let mut rows = Vec::new();
    for proof in &report.proofs {
        for (papers, counted, level) in [
            (proof.papers.join(", "), "money spent", &proof.spend),
            (String::new(), "paper used", &proof.stock),
        ] {
            let figures = [&level.value, &level.bound, &level.status].map(|told| quiet(told));
            let mut cells = vec![strong(papers), quiet(counted)];
            cells.extend(figures);
            cells.push(quiet(level.reason));
            rows.push(row(cells));
        }
    }
    let columns = [
        column("Papers", 34.0),
        column("Counted", 24.0),
        numbers("This plan", 24.0),
        numbers("No plan below", 26.0),
        column("So it is", 22.0),
        column("Limit found", 0.0),
    ];
    table(flow, &columns, &rows);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture;

    #[test]
    fn any_name_can_be_printed() {
        let mut report = Report::of(&fixture::fair().batch()).unwrap();
        let long = "a_very_long_name_without_a_joint".repeat(20);
        let hostile = "\u{202e}<b>&\"'\0\n\u{5d0}\u{4e2d}\u{1f4a1}";
        report.title = hostile.to_owned();
        report.taken[0].sheet = long.clone();
        report.pieces[0].piece = hostile.to_owned();
        report.runs[0].sheet = long;
        report.runs[0].drawing.title = hostile.to_owned();
        report.packing[0].note = "word ".repeat(4_000);
        for page in [PageSize::Letter, PageSize::A4] {
            let pages = schedule(&report, page).unwrap();
            assert!(pages.starts_with(b"%PDF-"));
        }
    }
}
