//! The schedule on pages: the stages in the order of the work.

mod cutting;
mod section;
mod skyline;

use super::document::document;
use super::flow::Flow;
use super::fonts::Fonts;
use super::table::TableCell;
use super::{EDGE, SMALL, STRONG, Style, TEXT, TITLE};
use crate::reports::page::{after_cutting, before_cutting};
use crate::reports::picture::Point;
use crate::reports::report::Report;
use crate::reports::visible::shown;
use crate::reports::{ReportError, words};
use crate::workshop::PageSize;
use section::{section, stage};

/// How many.
const COUNT: Style = Style::bold(3.4);

/// The file.
///
/// # Errors
/// A font or a drawing cannot be written.
pub fn schedule(report: &Report, page: PageSize) -> Result<Vec<u8>, ReportError> {
    let fonts = Fonts::new()?;
    let mut flow = Flow::new(page, &fonts);
    opening(&mut flow, report);
    before_cutting(report).iter().for_each(|it| section(&mut flow, it));
    flow.turn();
    cutting::patterns(&mut flow, report);
    cutting::steps(&mut flow, report);
    let stages = after_cutting(report);
    stages.iter().filter(|it| !it.is_for_desk).for_each(|it| stage(&mut flow, it, report));
    let title = shown(&report.title);
    document(&format!("{title}: schedule"), &title, page, &flow.finish(), &fonts)
}

fn opening(flow: &mut Flow, report: &Report) {
    flow.lines("Bench schedule", SMALL);
    flow.lines(&report.title, TITLE);
    flow.y += 2.0;
    flow.lines(&report.answer(), Style::bold(3.8));
    flow.y += 1.0;
    for (word, told) in report.answers.rows() {
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

fn count_cell(count: u64) -> TableCell {
    let digits = count.to_string();
    // A long number is smaller, so that it stays on its line.
    let size = COUNT.size.min(COUNT.size * 5.0 / digits.len() as f64);
    TableCell::Texts(vec![(digits, Style { size, ..COUNT })])
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
