//! One neutral report and one neutral drawing, and the formats that translate them.
//!
//! In: order, stock, workshop, bill, checked plan, schedule. Out: the files of `reports/<order>/` and the terminal
//! summary. It solves nothing; [`folder`] is the one place that writes files.
//!
//! [`report`] and [`drawing`] hold all words and rectangles; `html`, `pdf`, `svg`, `csv`, `json` and [`terminal`] only
//! translate them. `schedule.html` and `schedule.pdf` say the same: headings, sentences and tables stand in `page` once for
//! both. `picture` lays a drawing out on paper and hands its parts to a canvas: `svg` writes them for the
//! screen, `pdf/plate.rs` makes marks of them for the printer.
//!
//! `walk` goes through the work one step at a time, for the screen alone.
//!
//! Drawings are made side by side, and so are the page and the pages for the printer. They are put together in order,
//! so that no byte depends on threads.

mod answers;
mod breaks;
mod buying;
mod csv;
pub mod drawing;
#[cfg(test)]
pub(crate) mod fixture;
pub mod folder;
mod gained;
mod html;
mod json;
mod labels;
mod lists;
mod offer;
mod page;
mod paper;
mod pdf;
pub mod picture;
pub mod quote;
pub mod report;
mod rest;
mod steps;
mod supplies;
mod sureness;
pub mod svg;
pub mod terminal;
pub mod timetable;
mod ups;
pub mod verdict;
pub mod visible;
pub mod walk;
pub mod words;

pub use answers::from_ratio;
pub use html::{SCRIPT, SCRIPTS};
pub use report::Report;

use crate::made::Made;
use crate::quote::{LinePrices, OtherBuying};
use crate::stock::Sheet;
use jiff::civil::Date;
use thiserror::Error;

/// All that is known of a batch when its reports are made.
#[derive(Clone, Copy, Debug)]
pub struct Batch<'a> {
    /// The batch.
    pub made: &'a Made,
    /// The day new offcuts go in the drawer; `None` leaves it open.
    pub since: Option<Date>,
    /// What each line would sell for in other counts; none where nobody asked.
    pub prices: &'a [LinePrices],
    /// What other buying would come to; none where nobody asked.
    pub other_buying: &'a [OtherBuying],
    /// To whom it is offered, and when.
    pub offered: Offered<'a>,
}

/// To whom an offer goes, and when; what is not known is left to be written by hand.
#[derive(Clone, Copy, Debug, Default)]
pub struct Offered<'a> {
    /// The customer.
    pub customer: Option<&'a str>,
    /// The day.
    pub on: Option<Date>,
}

impl<'a> Batch<'a> {
    /// The sheet of this id, as it stands in the stock.
    ///
    /// # Errors
    /// The plan names a sheet that is not in the stock.
    fn sheet(&self, id: &str) -> Result<&'a Sheet, ReportError> {
        let known = self.made.job.stock.sheets.iter().find(|sheet| sheet.id == id);
        known.ok_or_else(|| ReportError::UnknownSheet(id.to_owned()))
    }
}

/// Why there is no report. Each is a fault of the program: a checked plan gives none of them.
#[derive(Debug, Error)]
pub enum ReportError {
    /// The plan names a sheet that is not in the stock.
    #[error("the plan names the sheet `{0}`, which is not in the stock")]
    UnknownSheet(String),
    /// The plan names a run that it does not hold.
    #[error("the schedule names the run `{0}`, which is not in the plan")]
    UnknownRun(String),
    /// The page could not be filled in.
    #[error("the schedule page could not be written")]
    Page(#[from] askama::Error),
    /// The pages for the printer could not be made.
    #[error("the pages for the printer could not be made: {0}")]
    Print(&'static str),
    /// The plan could not be written as JSON.
    #[error("the plan could not be written as JSON")]
    Json(#[from] serde_json::Error),
    /// A table could not be written as CSV.
    #[error("a table could not be written as CSV")]
    Table(#[from] ::csv::Error),
}

/// A file of the report folder: its name and its bytes.
pub type ReportFile = (String, Vec<u8>);

/// All files of the report folder, from the batch and its report, in the order in which a person would open them.
///
/// # Errors
/// The plan does not fit its own stock or schedule.
pub fn files(batch: &Batch, report: &Report) -> Result<Vec<ReportFile>, ReportError> {
    let plan = json::plan(&batch.made.plan)?;
    let paper = batch.made.job.workshop.page;
    // These three take the longest.
    let ((page, labels), pages) = rayon::join(
        || (html::schedule(report, &plan), pdf::labels(report, &batch.made.job.workshop)),
        || pdf::schedule(report, paper),
    );
    let mut files = vec![("schedule.html".to_owned(), page?.into_bytes())];
    files.push(("schedule.pdf".to_owned(), pages?));
    files.extend(labels?.map(|pages| ("labels.pdf".to_owned(), pages)));
    files.push(("offer.html".to_owned(), offer::offer(report)?.into_bytes()));
    files.push(("offer.pdf".to_owned(), pdf::offer(report, paper)?));
    files.push(("plan.json".to_owned(), plan));
    let templates = pdf::templates(batch, &report.title, paper)?;
    files.extend(templates.map(|pages| ("templates.pdf".to_owned(), pages)));
    files.extend(pattern(report).map(|svg| ("pattern.svg".to_owned(), svg.into_bytes())));
    for (name, grid) in csv::grids(batch, report)? {
        files.push((name.to_owned(), csv::bytes(&grid)?));
    }
    Ok(files)
}

/// The drawing of the run that cuts the most sheets, the first of several, as a picture of its own.
fn pattern(report: &Report) -> Option<String> {
    let most = report.runs.iter().map(|run| run.sheets).max()?;
    let run = report.runs.iter().find(|run| run.sheets == most)?;
    let drawing = run.picture.drawing.clone();
    let scale = picture::Scale::common([drawing.sheet], picture::DrawingRoom::SCREEN);
    Some(svg::document(&picture::Picture::in_scale(drawing, scale)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_files_have_their_names() {
        let made = fixture::fair();
        let report = Report::of(&made.batch()).unwrap();
        let files = files(&made.batch(), &report).unwrap();
        let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
        let expected = [
            "schedule.html",
            "schedule.pdf",
            "labels.pdf",
            "offer.html",
            "offer.pdf",
            "plan.json",
            "templates.pdf",
            "pattern.svg",
            "cuts.csv",
            "pieces.csv",
            "offcuts.csv",
            "buy.csv",
            "quote.csv",
        ];
        assert_eq!(names, expected);
    }

    #[test]
    fn the_picture_shows_the_run_of_most_sheets() {
        let report = Report::of(&fixture::fair().batch()).unwrap();
        let most = report.runs.iter().max_by_key(|run| run.sheets).unwrap();
        assert!(pattern(&report).unwrap().contains(&format!(">{}: {} ", most.name, most.sheet)));
    }
}
