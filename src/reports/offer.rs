//! `offer.html`: what a customer is told, without what it costs inside.

use super::quote::QuoteRow;
use super::report::{PackRow, Report};
use super::{Batch, Offered, ReportError};
use crate::diagnostics::counted;
use crate::workshop::MakerDetails;
use askama::Template;
use jiff::Span;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// Who offers to whom, and for how long; what is empty is not told, or written by hand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OfferHead {
    /// Name of the workshop.
    pub maker: String,
    /// Where it is, line by line.
    pub address: Vec<String>,
    /// The customer.
    pub customer: Option<String>,
    /// The day.
    pub on: Option<String>,
    /// `Valid until 2027-04-19.`, or for how many days.
    pub valid: String,
    /// What holds for every order, paragraph by paragraph.
    pub terms: Vec<String>,
}

impl OfferHead {
    /// That of a batch.
    pub fn of(batch: &Batch) -> OfferHead {
        let workshop = &batch.made.job.workshop;
        let MakerDetails { name, address, terms } = &workshop.maker;
        let lines = |text: &str| -> Vec<String> {
            text.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect()
        };
        let Offered { customer, on } = batch.offered;
        OfferHead {
            maker: name.clone(),
            address: lines(address),
            customer: customer.map(str::to_owned),
            on: on.map(|on| on.to_string()),
            valid: workshop.rates.valid_days.map(|days| valid(days, on)).unwrap_or_default(),
            terms: lines(terms),
        }
    }
}

fn valid(days: u64, on: Option<Date>) -> String {
    let until = on.and_then(|on| on.checked_add(Span::new().days(days as i64)).ok());
    match until {
        Some(until) => format!("Valid until {until}."),
        None => format!("Valid for {} from its date.", counted(days, "day")),
    }
}

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
    use crate::measure::{Money, Percent};
    use crate::reports::fixture;

    #[test]
    fn an_offer_says_who_offers_what_to_whom() {
        let mut made = fixture::fair();
        let blank = offer(&Report::of(&made.batch()).unwrap()).unwrap();
        assert_eq!(blank.matches("class=\"rule\"").count(), 2, "for hand and pen");
        for word in ["Tax", "Deposit", "least order", "Valid"] {
            assert!(!blank.contains(word), "{word}");
        }
        let workshop = &mut made.job.workshop;
        workshop.maker.name = "Fern <& Co>".to_owned();
        workshop.maker.address = "2 Ferry Lane\n Thistle Quay \n".to_owned();
        workshop.maker.terms = "Paid when fetched.".to_owned();
        workshop.rates.tax_percent = Percent::parse("8.25").unwrap();
        workshop.rates.deposit_percent = 50;
        workshop.rates.valid_days = Some(30);
        workshop.rates.order_minimum = Money::from_minor(10_000_000);
        let on = Some(jiff::civil::date(2031, 3, 20));
        let offered = Offered { customer: Some("Ada & Bo"), on };
        let page = offer(&Report::of(&Batch { offered, ..made.batch() }).unwrap()).unwrap();
        for text in [
            "<b>Fern &#60;&#38; Co&#62;</b><br>2 Ferry Lane<br>Thistle Quay</address>",
            "Ada &#38; Bo",
            "<dd>2031-03-20</dd>",
            "Tax 8.25 %",
            "Deposit 50 %",
            "To the least order",
            "108250.00",
            "Valid until 2031-04-19.",
            "Paid when fetched.",
        ] {
            assert!(page.contains(text), "{text}\n{page}");
        }
        let open = Offered { on: None, ..offered };
        let page = offer(&Report::of(&Batch { offered: open, ..made.batch() }).unwrap()).unwrap();
        assert!(page.contains("Valid for 30 days from its date."));
    }

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
