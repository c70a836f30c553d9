//! `offer.html`: what a customer is told, without what it costs inside.

use super::ReportError;
use super::quote::QuoteRow;
use super::report::{PackRow, Report};
use askama::Template;
use std::collections::{BTreeMap, BTreeSet};

#[derive(Template)]
#[template(path = "offer.html", config = "src/reports/templates/askama.toml")]
struct OfferPage<'a> {
    report: &'a Report,
    rows: Vec<(&'a QuoteRow, Vec<String>)>,
    /// The date by which all is wanted; empty where there is none, or where lines have dates of their own.
    due: String,
}

/// The whole page.
///
/// # Errors
/// The template cannot be filled in.
pub fn offer(report: &Report) -> Result<String, ReportError> {
    let packed = report.packing.iter().map(|packed| (packed.line.as_str(), packed));
    let packed: BTreeMap<&str, &PackRow> = packed.collect();
    let dues: BTreeSet<&Option<String>> = report.packing.iter().map(|packed| &packed.due).collect();
    let own_dates = dues.len() > 1;
    let contents = |row: &QuoteRow| {
        let Some(packed) = packed.get(row.line.as_str()) else { return Vec::new() };
        let due = packed.due.iter().filter(|_| own_dates).map(|due| format!("ready by {due}"));
        packed.contents.iter().cloned().chain(due).collect()
    };
    let due = dues.into_iter().flatten().next().filter(|_| !own_dates);
    let rows = report.quote.rows.iter().map(|row| (row, contents(row))).collect();
    let page = OfferPage { report, rows, due: due.cloned().unwrap_or_default() };
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
    }

    #[test]
    fn dates_stand_where_they_hold() {
        let mut report = Report::of(&fixture::fair().batch()).unwrap();
        let mut dated = |dues: [Option<&str>; 2]| {
            assert!(report.packing.len() > 1);
            for (packed, due) in report.packing.iter_mut().zip(dues.into_iter().cycle()) {
                packed.due = due.map(str::to_owned);
            }
            let page = offer(&report).unwrap();
            let of_lines = page.matches("<li>ready by 2031-05-0").count();
            (of_lines, page.contains("Ready by 2031-05-03."))
        };
        let (third, fourth) = (Some("2031-05-03"), Some("2031-05-04"));
        assert_eq!(dated([third, third]), (0, true));
        assert_eq!(dated([None, None]), (0, false));
        assert!(matches!(dated([third, None]), (1.., false)));
        assert!(matches!(dated([third, fourth]), (2.., false)));
    }

    #[test]
    fn any_name_is_only_text() {
        let mut report = Report::of(&fixture::fair().batch()).unwrap();
        report.title = "<script>alert(1)</script>\u{202e}".to_owned();
        let page = offer(&report).unwrap();
        assert!(!page.contains("<script>") && !page.contains('\u{202e}'));
    }
}
