//! What an order needs beside paper: bought envelopes, and sundries.

use super::given::Given;
use super::recipe::spares;
use super::{Before, Enclosed, Share};
use crate::diagnostics::{Misread, Problem, Problems, Spanned, nearest};
use crate::formats::LEAST_ROOM;
use crate::measure::{Length, LengthStyle, Size, Thickness};
use crate::orders::{Envelope, Order, OrderLine};
use crate::stock::{Counts, Stock, Sundry, no_amount};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// What is needed of one supply; amounts are in parts of its unit.
#[derive(Clone, Debug, PartialEq)]
pub struct SupplyNeed {
    /// Its name.
    pub supply: String,
    /// Who needs it, in the order of the lines.
    pub shares: Vec<Share>,
    /// What earlier plans of the batch took for it.
    pub taken: u64,
    /// What was spoiled of it then.
    pub wasted: u64,
}

impl SupplyNeed {
    /// What the order asks for, all of it.
    pub fn need(&self) -> u64 {
        self.shares.iter().map(|share| share.need).fold(0, u64::saturating_add)
    }

    /// What is still to be taken for it.
    pub fn left(&self) -> u64 {
        self.need().saturating_sub(self.taken)
    }

    /// What there should be beyond that, as long as anything is still to be taken; what was spoiled used spares up.
    pub fn spares(&self) -> u64 {
        let spares = self.shares.iter().map(|share| share.spares).fold(0, u64::saturating_add);
        if self.left() == 0 { 0 } else { spares.saturating_sub(self.wasted) }
    }

    /// What there should be in all.
    pub fn wanted(&self) -> u64 {
        self.left().saturating_add(self.spares())
    }
}

/// Notes what was taken and spoiled before. Envelopes that were taken under another name, since another was the closest fit then,
/// are those of other cards of now.
pub(super) fn take_off(needs: &mut [SupplyNeed], before: &Before, stock: &Stock) {
    let of = |counts: &Counts, name: &str| counts.get(name).copied().unwrap_or_default();
    for need in needs.iter_mut() {
        need.taken = of(&before.supplies, &need.supply).min(need.need());
        need.wasted = of(&before.wasted, &need.supply);
    }
    let is_envelope = |name: &str| stock.envelope(name).is_some() || stock.supply(name).is_none();
    let taken = before.supplies.iter().filter(|(name, _)| is_envelope(name));
    let taken: u64 = taken.map(|(_, amount)| amount).sum();
    let envelopes = || needs.iter().filter(|need| stock.envelope(&need.supply).is_some());
    let mut over = taken.saturating_sub(envelopes().map(|need| need.taken).sum());
    for need in needs.iter_mut().filter(|need| stock.envelope(&need.supply).is_some()) {
        let more = over.min(need.left());
        need.taken += more;
        over -= more;
    }
}

/// So much of a sundry for each card of a line.
#[derive(Clone, Copy, Debug)]
pub struct CardSundry<'a> {
    /// Which.
    pub sundry: &'a Sundry,
    /// How much, in parts of its unit.
    pub amount: u64,
}

impl CardSundry<'_> {
    /// `ribbon 12 in`; the name alone of a single one.
    pub fn told(&self) -> String {
        let supply = &self.sundry.supply;
        match supply.unit.word().is_empty() && self.amount == 1 {
            true => supply.name.clone(),
            false => format!("{} {}", supply.name, supply.unit.told(self.amount)),
        }
    }
}

/// The sundries of each card of a line, as far as its cell is understood; what it names twice, once with the sum.
pub fn sundries<'a>(line: &OrderLine, stock: &'a Stock) -> Vec<CardSundry<'a>> {
    let mut all: Vec<CardSundry> = Vec::new();
    for own in line.with.iter().filter_map(|part| sundry(part, stock).ok()) {
        let name = &own.sundry.supply.name;
        match all.iter_mut().find(|known| known.sundry.supply.name == *name) {
            Some(known) => known.amount = known.amount.saturating_add(own.amount),
            None => all.push(own),
        }
    }
    all
}

/// How thick the sundries of a card are together; those of which nobody knows count nothing.
pub(super) fn thickness(line: &OrderLine, stock: &Stock) -> Length {
    let known = sundries(line, stock).into_iter().filter_map(|it| it.sundry.thickness);
    known.fold(Thickness::ZERO, |sum, thick| sum + thick).length()
}

/// What all lines need. What is not understood, or does not fit, becomes a problem.
pub(super) fn of_order(
    order: &Order,
    enclosed: &Enclosed,
    ground: Given,
    problems: &mut Problems,
) -> Vec<SupplyNeed> {
    let Given { stock, workshop, .. } = ground;
    let mut needs: BTreeMap<String, Vec<Share>> = BTreeMap::new();
    for line in &order.lines {
        let cards = line.count.value;
        let more = spares(cards, &workshop.spares);
        let mut add = |name: &str, amount: u64| {
            let [need, spares] = [cards, more].map(|count| count.saturating_mul(amount));
            let share = Share { line: line.name.value.clone(), need, spares };
            needs.entry(name.to_owned()).or_default().push(share);
        };
        let wrong = line.with.iter().filter_map(|part| sundry(part, stock).err());
        problems.extend(wrong.map(|problem| *problem));
        for CardSundry { sundry, amount } in sundries(line, stock) {
            add(&sundry.supply.name, amount);
        }
        problems.extend(misfit(line, enclosed, stock, workshop.style()));
        let pocket = enclosed.pocket(line).filter(|pocket| pocket.is_stocked);
        if let Some(name) = pocket.and_then(|pocket| pocket.name.as_deref()) {
            add(name, 1);
        }
    }
    let need = |(supply, shares)| SupplyNeed { supply, shares, taken: 0, wasted: 0 };
    needs.into_iter().map(need).collect()
}

/// The longest name of a sundry that a part of the cell begins with, and behind it how much of it; a shorter one only where
/// no amount stands behind a longer.
fn sundry<'a>(part: &Spanned<String>, stock: &'a Stock) -> Result<CardSundry<'a>, Box<Problem>> {
    let text = part.value.trim();
    let behind = |sundry: &Sundry| {
        let rest = text.strip_prefix(sundry.supply.name.as_str())?;
        (rest.is_empty() || rest.starts_with(char::is_whitespace)).then(|| rest.trim())
    };
    let known = stock.sundries.iter().filter_map(|sundry| Some((sundry, behind(sundry)?)));
    let mut known: Vec<(&Sundry, &str)> = known.collect();
    known.sort_by_key(|(sundry, _)| Reverse(sundry.supply.name.len()));
    let mut read = known.into_iter().map(|(sundry, amount)| amount_of(sundry, amount, part));
    let Some(first) = read.next() else { return Err(Box::new(unknown(part, stock))) };
    first.or_else(|problem| read.find_map(Result::ok).ok_or(problem))
}

/// So much of a sundry.
fn amount_of<'a>(
    sundry: &'a Sundry,
    amount: &str,
    part: &Spanned<String>,
) -> Result<CardSundry<'a>, Box<Problem>> {
    let unit = &sundry.supply.unit;
    let misread = Misread { code: "order-with-amount", name: "amount", place: part.place.clone() };
    match amount {
        "" => Ok(CardSundry { sundry, amount: unit.parts() }),
        amount => match unit.parse(amount) {
            Ok(0) => Err(Box::new(misread.problem("is zero", "expected more than nothing"))),
            Ok(amount) => Ok(CardSundry { sundry, amount }),
            Err(error) => Err(Box::new(no_amount(&misread, error, unit))),
        },
    }
}

fn unknown(part: &Spanned<String>, stock: &Stock) -> Problem {
    let text = part.value.trim();
    if text.is_empty() {
        return Problem::error("order-with", "a `+` needs a sundry on both sides")
            .at(part.place.as_ref(), "expected sundries joined by +, such as ribbon 12 in + seal");
    }
    let names = || stock.sundries.iter().map(|sundry| sundry.supply.name.as_str());
    // What stands behind the last blanks may be an amount.
    let words: Vec<&str> = text.split_whitespace().collect();
    let begins = (1..=words.len()).rev().map(|many| words[..many].join(" "));
    let near = begins.filter_map(|name| nearest(&name, names())).next();
    let label = match near {
        Some(near) => format!("did you mean `{near}`?"),
        None => "expected a sundry of sundries.csv, and how much of it".to_owned(),
    };
    let problem = Problem::error("order-with", format!("no sundry is called `{text}`"));
    let problem = problem.at(part.place.as_ref(), label);
    match stock.sundries.is_empty() {
        true => problem.help("sundries.csv beside sheets.csv lists ribbons, seals and the like"),
        false => problem.help("write its name as in sundries.csv, or add it there"),
    }
}

/// What is wrong with the bought envelope of a line: it is too small, or none of the file holds the card.
fn misfit(
    line: &OrderLine,
    enclosed: &Enclosed,
    stock: &Stock,
    style: LengthStyle,
) -> Option<Problem> {
    let inside = enclosed.inside(line).size;
    let card = style.size(inside);
    match &line.envelope {
        Envelope::Ready(name) => {
            let size = stock.envelope(&name.value)?.size;
            let fits = inside.fits_in(size);
            let title = format!("`{}` is too small for line `{}`", name.value, line.name.value);
            (!fits).then(|| {
                Problem::error("order-envelope-small", title)
                    .at(name.place.as_ref(), format!("{} outside, for {card}", style.size(size)))
                    .help("name a larger envelope, or write `bought` for the closest fit")
            })
        }
        Envelope::Bought if !stock.envelopes.is_empty() => {
            let is_stocked = enclosed.pocket(line).is_some_and(|pocket| pocket.is_stocked);
            let title = format!("no envelope of envelopes.csv holds line `{}`", line.name.value);
            let needed = Size::new(inside.width + LEAST_ROOM, inside.height + LEAST_ROOM);
            (!is_stocked).then(|| {
                Problem::error("order-envelope-none", title)
                    .at(
                        line.card.place.as_ref(),
                        format!("it needs {} at least", style.size(needed)),
                    )
                    .help("add one to envelopes.csv, with a price or with some on hand")
                    .help("or name a paper to cut it from")
            })
        }
        _ => None,
    }
}
