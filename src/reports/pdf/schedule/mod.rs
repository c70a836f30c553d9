//! The schedule on pages: the stages in the order of the work.

mod cutting;
mod stages;

use super::document::document;
use super::flow::Flow;
use super::fonts::Fonts;
use super::table::{TableCell, TableRow, column, named, numbers, row, table, text};
use super::{EDGE, SMALL, STRONG, Style, TEXT, TITLE};
use crate::reports::picture::Point;
use crate::reports::report::Report;
use crate::reports::visible::shown;
use crate::reports::{ReportError, lists, words};
use crate::workshop::PageSize;

/// How many.
const COUNT: Style = Style::bold(4.2);

/// The file.
///
/// # Errors
/// A font or a drawing cannot be written.
pub fn schedule(report: &Report, page: PageSize) -> Result<Vec<u8>, ReportError> {
    let fonts = Fonts::new()?;
    let mut flow = Flow::new(page, &fonts);
    opening(&mut flow, report);
    shopping(&mut flow, report);
    taking(&mut flow, report);
    cutting::patterns(&mut flow, report);
    cutting::steps(&mut flow, report);
    stages::count(&mut flow, report);
    stages::finishing(&mut flow, report);
    stages::packing(&mut flow, report);
    stages::drawer(&mut flow, report);
    stages::time(&mut flow, report);
    stages::price(&mut flow, report);
    stages::counts(&mut flow, report);
    stages::post(&mut flow, report);
    stages::proof(&mut flow, report);
    let title = shown(&report.title);
    document(&format!("{title}: schedule"), &title, page, &flow.finish(), &fonts)
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
        flow.make_room(TEXT.leading());
        flow.line(Point::new(EDGE, flow.y), word, STRONG);
        flow.lines_from(EDGE + 16.0, told, TEXT);
    }
    flow.heading("Before the blade moves");
    for caution in words::CAUTIONS {
        flow.lines(&format!("– {caution}"), TEXT);
    }
    flow.paragraph(words::CARE);
}

fn tick_and_count(count: u64) -> [TableCell; 2] {
    let digits = count.to_string();
    // A long number is smaller, so that it stays on its line.
    let size = COUNT.size.min(COUNT.size * 5.0 / digits.len() as f64);
    [TableCell::Tick, TableCell::Texts(vec![(digits, Style { size, ..COUNT })])]
}

fn shopping(flow: &mut Flow, report: &Report) {
    if report.purchases.is_empty() {
        flow.paragraph("Nothing has to be bought.");
        return;
    }
    flow.heading("Buy");
    let rows: Vec<TableRow> = report
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
        column("", 6.0),
        numbers("Packs", 16.0),
        column("Of", 0.0),
        numbers("Sheets in a pack", 30.0),
        numbers("Each", 22.0),
        numbers("Cost", 24.0),
    ];
    table(flow, &columns, &rows);
    flow.lines(&format!("In all {}", report.spend), STRONG);
    report.buying.iter().for_each(|sentence| flow.paragraph(sentence));
}

fn taking(flow: &mut Flow, report: &Report) {
    flow.heading("Take from shelf and drawer");
    let rows: Vec<TableRow> = report
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
        report.runs[0].picture.drawing.title = hostile.to_owned();
        report.packing[0].note = "word ".repeat(4_000);
        for page in [PageSize::Letter, PageSize::A4] {
            let pages = schedule(&report, page).unwrap();
            assert!(pages.starts_with(b"%PDF-"));
        }
    }
}
