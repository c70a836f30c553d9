//! `offer.html` and `offer.pdf`: what a customer sees, and none of the inner costs.

use super::picture::{Point, Scale, card_scale};
use super::quote::{QuoteReport, QuoteRow};
use super::report::{PackRow, Report};
use super::{Batch, Offered, ReportError, svg};
use crate::diagnostics::counted;
use crate::folds::{Blank, Fold};
use crate::measure::{Length, Size};
use crate::orders::{Envelope, OrderLine};
use crate::pieces::{Enclosed, Part, Piece};
use crate::workshop::MakerDetails;
use askama::Template;
use jiff::Span;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// Who offers what to whom, and for how long; what is empty is not told, or written by hand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OfferReport {
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
    /// The cards.
    pub lines: Vec<OfferLine>,
    /// The date by which all is wanted; empty where there is none, or where lines have dates of their own.
    pub due: String,
}

/// A kind of card that is offered.
#[derive(Clone, Debug, PartialEq)]
pub struct OfferLine {
    /// Its name.
    pub line: String,
    /// Cards.
    pub cards: u64,
    /// What one is, part by part, and when it is ready where lines differ in that.
    pub contents: Vec<String>,
    /// The price of a card.
    pub each: String,
    /// The price of all.
    pub price: String,
    /// What it looks like.
    pub card: CardView,
}

/// What a card looks like. Papers are numbered.
#[derive(Clone, Debug, PartialEq)]
pub struct CardView {
    /// Its front, closed.
    pub size: Size,
    /// How it folds.
    pub fold: Fold,
    /// Opened out.
    pub open: Blank,
    /// Its paper.
    pub paper: usize,
    /// What lies on its front, the lowest first.
    pub front: Vec<LayerView>,
    /// What lies in it.
    pub inside: Vec<LayerView>,
    /// Its envelope.
    pub envelope: Option<EnvelopeView>,
}

/// A layer of a card, in the middle of what it lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LayerView {
    /// Its size.
    pub size: Size,
    /// Its paper.
    pub paper: usize,
    /// The panel that it lies on, 0 the inside of the front; over the whole open card where there is none.
    pub panel: Option<usize>,
}

/// An envelope from the back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EnvelopeView {
    /// Its face.
    pub size: Size,
    /// How far its flap reaches down.
    pub flap: Length,
    /// Its paper.
    pub paper: usize,
}

impl OfferReport {
    /// That of a batch.
    pub fn of(batch: &Batch, quote: &QuoteReport, packing: &[PackRow]) -> OfferReport {
        let workshop = &batch.made.job.workshop;
        let MakerDetails { name, address, terms } = &workshop.maker;
        let lines = |text: &str| -> Vec<String> {
            text.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect()
        };
        let Offered { customer, on } = batch.offered;
        let dues: BTreeSet<&Option<String>> = packing.iter().map(|packed| &packed.due).collect();
        let due = dues.iter().copied().flatten().next().filter(|_| dues.len() == 1);
        OfferReport {
            maker: name.clone(),
            address: lines(address),
            customer: customer.map(str::to_owned),
            on: on.map(|on| on.to_string()),
            valid: workshop.rates.valid_days.map(|days| valid(days, on)).unwrap_or_default(),
            terms: lines(terms),
            lines: offered(batch, quote, packing, dues.len() > 1),
            due: due.cloned().unwrap_or_default(),
        }
    }

    /// One scale for all cards in so much room.
    pub fn scale(&self, room: Point) -> Scale {
        card_scale(self.lines.iter().map(|line| &line.card), room)
    }

    /// What is said below the prices: what is not in them, when all is ready, how long it holds.
    pub fn notes(&self) -> String {
        let fixed = "The price of each card is rounded; the price of each line counts. Postage is not included.";
        let due = (!self.due.is_empty()).then(|| format!("Ready by {}.", self.due));
        let valid = Some(self.valid.clone()).filter(|valid| !valid.is_empty());
        let parts = [Some(fixed.to_owned()), due, valid];
        parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
    }
}

fn valid(days: u64, on: Option<Date>) -> String {
    let until = on.and_then(|on| on.checked_add(Span::new().days(days as i64)).ok());
    match until {
        Some(until) => format!("Valid until {until}."),
        None => format!("Valid for {} from its date.", counted(days, "day")),
    }
}

fn offered(
    batch: &Batch,
    quote: &QuoteReport,
    packing: &[PackRow],
    own_dates: bool,
) -> Vec<OfferLine> {
    let packed: BTreeMap<&str, &PackRow> =
        packing.iter().map(|packed| (packed.line.as_str(), packed)).collect();
    let contents = |row: &QuoteRow| {
        let Some(packed) = packed.get(row.line.as_str()) else { return Vec::new() };
        let due = packed.due.iter().filter(|_| own_dates).map(|due| format!("ready by {due}"));
        packed.contents.iter().cloned().chain(due).collect()
    };
    let mut views = CardViews::of(batch);
    let rows = batch.made.job.order.lines.iter().zip(&quote.rows);
    rows.map(|(line, row)| OfferLine {
        line: row.line.clone(),
        cards: row.cards,
        contents: contents(row),
        each: row.card_price.clone(),
        price: row.amounts.price.clone(),
        card: views.card(line),
    })
    .collect()
}

/// Looks at cards, and numbers their papers as they come.
struct CardViews<'a> {
    enclosed: Enclosed<'a>,
    pieces: BTreeMap<&'a str, Vec<&'a Piece>>,
    papers: BTreeMap<String, usize>,
}

impl<'a> CardViews<'a> {
    fn of(batch: &'a Batch<'a>) -> CardViews<'a> {
        let job = &batch.made.job;
        let enclosed = Enclosed::of(&job.order, &job.bill, &job.stock, &job.workshop);
        CardViews { enclosed, pieces: job.bill.by_line(), papers: BTreeMap::new() }
    }

    fn paper(&mut self, name: &str) -> usize {
        let next = self.papers.len();
        *self.papers.entry(name.to_owned()).or_insert(next)
    }

    fn card(&mut self, line: &OrderLine) -> CardView {
        let own = self.pieces.get(line.name.value.as_str()).cloned().unwrap_or_default();
        let paper = line.papers.value.first().map_or(0, |paper| self.paper(paper));
        let layer = |views: &mut Self, piece: &Piece| LayerView {
            size: piece.size,
            paper: piece.papers.first().map_or(0, |paper| views.paper(paper)),
            panel: match (piece.part, &line.liner) {
                (Part::Liner, Some(liner)) => liner.kind.panel(),
                _ => Some(1),
            },
        };
        let (mut front, mut inside) = (Vec::new(), Vec::new());
        for piece in &own {
            match piece.part {
                Part::Mat => front.push(layer(self, piece)),
                Part::Liner | Part::Insert => inside.push(layer(self, piece)),
                Part::Band => {
                    let size = Size::new(line.card.value.width, piece.size.height);
                    front.push(LayerView { size, ..layer(self, piece) });
                }
                Part::Card | Part::Envelope | Part::EnvelopeLiner | Part::Box => {}
            }
        }
        let card = own.iter().find(|piece| piece.part == Part::Card);
        let open = card.map_or_else(
            || Blank::plain(line.card.value),
            |piece| Blank {
                size: piece.size,
                scores: piece.scores.clone(),
                grain_along: piece.grain_along,
            },
        );
        let envelope = self.envelope(line);
        let (size, fold) = (line.card.value, line.fold);
        CardView { size, fold, open, paper, front, inside, envelope }
    }

    fn envelope(&mut self, line: &OrderLine) -> Option<EnvelopeView> {
        let pocket = self.enclosed.pocket(line)?;
        let (size, flap) = (pocket.face, pocket.flap);
        let paper = match &line.envelope {
            Envelope::Cut(paper) => self.paper(&paper.value),
            // One that is bought has a paper of its own.
            _ => self.paper(""),
        };
        Some(EnvelopeView { size, flap, paper })
    }
}

#[derive(Template)]
#[template(path = "offer.html", config = "src/reports/templates/askama.toml")]
struct OfferPage<'a> {
    report: &'a Report,
    scale: Scale,
}

/// Room for all pictures of a page, in millimetres.
const ROOM: Point = Point::new(150.0, 190.0);

impl OfferPage<'_> {
    fn picture(&self, card: &CardView, line: &str) -> String {
        svg::card(card, self.scale, line)
    }
}

/// The whole page.
///
/// # Errors
/// The template cannot be filled in.
pub fn offer(report: &Report) -> Result<String, ReportError> {
    let page = OfferPage { report, scale: report.offer.scale(ROOM) };
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
            "<b>Fern &lt;&amp; Co&gt;</b><br>2 Ferry Lane<br>Thistle Quay</address>",
            "Ada &amp; Bo",
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
        let mut made = fixture::fair();
        assert!(made.job.order.lines.len() > 1);
        let mut dated = |dues: [Option<&str>; 2]| {
            for (line, due) in made.job.order.lines.iter_mut().zip(dues.into_iter().cycle()) {
                line.due = due.map(|due| due.parse().unwrap());
            }
            let page = offer(&Report::of(&made.batch()).unwrap()).unwrap();
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
