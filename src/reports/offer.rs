//! `offer.html`: what a customer is told, without what it costs inside.

use super::ReportError;
use super::quote::QuoteRow;
use super::report::Report;
use askama::Template;
use std::collections::BTreeMap;

#[derive(Template)]
#[template(path = "offer.html")]
struct Page<'a> {
    report: &'a Report,
    rows: Vec<(&'a QuoteRow, Vec<String>)>,
    /// The last of the dates on which something is wanted; empty where none is.
    due: String,
}

/// The whole page.
///
/// # Errors
/// The template cannot be filled in.
pub fn offer(report: &Report) -> Result<String, ReportError> {
    let packed = report.packing.iter().map(|packed| (packed.line.as_str(), &packed.contents));
    let packed: BTreeMap<&str, &Vec<String>> = packed.collect();
    let contents = |row: &QuoteRow| {
        packed.get(row.line.as_str()).map(|contents| (*contents).clone()).unwrap_or_default()
    };
    let dues = report.packing.iter().filter_map(|packed| packed.due.clone());
    let page = Page {
        report,
        rows: report.quote.rows.iter().map(|row| (row, contents(row))).collect(),
        due: dues.max().unwrap_or_default(),
    };
    Ok(page.render()?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture;

    #[test]
    fn a_customer_sees_prices_and_nothing_of_what_it_costs() {
        let report = Report::of(&fixture::fair().batch()).unwrap();
        let page = offer(&report).unwrap();
        let total = &report.quote.total;
        assert!(page.contains(&format!("{} USD", total.price)));
        for inner in [&total.cost, &total.margin, &total.labour, &total.overhead] {
            assert!(!page.contains(inner.as_str()), "{inner}");
        }
        assert!(page.contains("Ready by 2031-05-"));
    }

    #[test]
    fn any_name_is_only_text() {
        let mut report = Report::of(&fixture::fair().batch()).unwrap();
        report.title = "<script>alert(1)</script>\u{202e}".to_owned();
        let page = offer(&report).unwrap();
        assert!(!page.contains("<script>") && !page.contains('\u{202e}'));
    }
}
