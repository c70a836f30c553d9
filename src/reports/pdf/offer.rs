//! The offer on pages: one, where the order has few lines.

use super::document::document;
use super::flow::Flow;
use super::fonts::Fonts;
use super::plate::Marks;
use super::{EDGE, Mark, SMALL, STRONG, Style, TEXT, TITLE};
use crate::reports::ReportError;
use crate::reports::offer::OfferLine;
use crate::reports::picture::{Point, Scale, Stroke, card_size, draw_card};
use crate::reports::report::Report;
use crate::reports::visible::shown;
use crate::workshop::PageSize;

/// Room for a count, and for an amount.
const COUNT: f64 = 16.0;
const AMOUNT: f64 = 26.0;
/// Lines to write on.
const RULE: f64 = 60.0;
/// Room that all pictures share, of a page's height.
const PICTURES: f64 = 95.0;

/// The file.
///
/// # Errors
/// A font cannot be written.
pub fn offer(report: &Report, page: PageSize) -> Result<Vec<u8>, ReportError> {
    let fonts = Fonts::new()?;
    let mut flow = Flow::new(page, &fonts);
    let room = Point::new(flow.width() - COUNT - 2.0 * AMOUNT, PICTURES);
    let scale = report.offer.scale(room);
    head(&mut flow, report);
    columns(&mut flow);
    report.offer.lines.iter().for_each(|line| put_line(&mut flow, line, scale));
    sums(&mut flow, report);
    flow.y += 3.0;
    let notes = format!("{} Pictures are {}.", report.offer.notes(), scale.text());
    flow.lines(&notes, SMALL);
    flow.y += 2.0;
    report.offer.terms.iter().for_each(|terms| flow.paragraph(terms));
    signed(&mut flow);
    let title = shown(&report.title);
    let name = format!("{title}: offer");
    document(&name, &name, page, &flow.finish(), &fonts)
}

fn head(flow: &mut Flow, report: &Report) {
    let offer = &report.offer;
    if !offer.maker.is_empty() {
        flow.lines(&offer.maker, STRONG);
    }
    offer.address.iter().for_each(|line| flow.lines(line, TEXT));
    flow.y += 4.0;
    flow.lines("Offer", SMALL);
    flow.lines(&report.title, TITLE);
    flow.y += 2.0;
    let half = flow.width() / 2.0;
    for (x, word, told) in [(EDGE, "For", &offer.customer), (EDGE + half + 10.0, "Date", &offer.on)]
    {
        flow.line(Point::new(x, flow.y), word, SMALL);
        let at = Point::new(x + 12.0, flow.y);
        match told {
            Some(told) => drop(flow.line(at, told, TEXT)),
            None => flow.put(rule(at, RULE)),
        }
    }
    flow.y += TEXT.leading() + 4.0;
}

/// A line to write on.
fn rule(at: Point, width: f64) -> Mark {
    let y = at.y + TEXT.leading();
    Mark::line([at.x, y, at.x + width, y], Stroke::ink(0.2))
}

fn columns(flow: &mut Flow) {
    let right = EDGE + flow.width();
    flow.line(Point::new(EDGE, flow.y), "Cards", SMALL);
    flow.line(Point::new(EDGE + COUNT, flow.y), "Kind", SMALL);
    let ends = [(right - AMOUNT, "Each"), (right, "Price")];
    ends.into_iter().for_each(|(end, head)| amount(flow, end, head, SMALL));
    flow.y += SMALL.leading() + 0.6;
    flow.put(Mark::line([EDGE, flow.y, right, flow.y], Stroke::ink(0.4)));
    flow.y += 1.0;
}

/// A text that ends there.
fn amount(flow: &mut Flow, end: f64, text: &str, style: Style) {
    let x = end - flow.fonts.width(text, &style);
    flow.line(Point::new(x, flow.y), text, style);
}

fn put_line(flow: &mut Flow, line: &OfferLine, scale: Scale) {
    let right = EDGE + flow.width();
    let width = flow.width() - COUNT - 2.0 * AMOUNT;
    let told = line.contents.join("; ");
    let lines = flow.fonts.lines(&told, &SMALL, width);
    let picture = card_size(&line.card, scale);
    flow.make_room(STRONG.leading() + lines.len() as f64 * SMALL.leading() + picture.y + 4.0);
    flow.line(Point::new(EDGE, flow.y), &line.cards.to_string(), STRONG);
    flow.line(Point::new(EDGE + COUNT, flow.y), &line.line, STRONG);
    amount(flow, right - AMOUNT, &line.each, TEXT);
    amount(flow, right, &line.price, TEXT);
    flow.y += STRONG.leading();
    for text in &lines {
        flow.y = flow.line(Point::new(EDGE + COUNT, flow.y), text, SMALL);
    }
    flow.y += 1.2;
    let at = Point::new(EDGE + COUNT, flow.y);
    let origin = Point::new(0.0, 0.0);
    let marks = Marks::of(flow.fonts, origin, |canvas| draw_card(&line.card, scale, canvas));
    marks.into_iter().for_each(|mark| flow.put(mark.moved(at.x, at.y)));
    flow.y += picture.y + 1.4;
    flow.put(Mark::line([EDGE, flow.y, right, flow.y], Stroke::ink(0.15)));
    flow.y += 1.0;
}

fn sums(flow: &mut Flow, report: &Report) {
    let (quote, asked) = (&report.quote, &report.quote.asked);
    let right = EDGE + flow.width();
    let mut row = |name: String, told: &str, style: Style| {
        flow.make_room(style.leading());
        amount(flow, right - AMOUNT, &name, style);
        amount(flow, right, told, style);
        flow.y += style.leading();
    };
    if !asked.least.is_empty() || asked.tax.is_some() {
        row("Cards".to_owned(), &quote.total.price, TEXT);
    }
    if !asked.least.is_empty() {
        row("To the least order".to_owned(), &asked.least, TEXT);
    }
    if let Some(tax) = &asked.tax {
        row(format!("Tax {} %", tax.percent), &tax.amount, TEXT);
    }
    row("Total".to_owned(), &format!("{} {}", asked.total, quote.currency), STRONG);
    if let Some(deposit) = &asked.deposit {
        row(format!("Deposit {} %, when you order", deposit.percent), &deposit.amount, TEXT);
    }
}

fn signed(flow: &mut Flow) {
    let half = flow.width() / 2.0;
    flow.make_room(18.0);
    flow.y += 14.0;
    for (x, word) in [(EDGE, "Date"), (EDGE + half, "Signed")] {
        flow.put(Mark::line([x, flow.y, x + half - 8.0, flow.y], Stroke::ink(0.2)));
        flow.line(Point::new(x, flow.y + 0.5), word, SMALL);
    }
    flow.y += SMALL.leading();
}
