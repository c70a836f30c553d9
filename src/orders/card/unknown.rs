//! What is said of a card that is no size and has no name of its own.

use crate::diagnostics::{Place, Problem};
use crate::formats::{
    CardFormat, EnvelopeFormat, FormatKind, OwnFormats, SheetFormat, alike, contents, ending_in,
    means, nearest_format, said_kind,
};
use crate::measure::{Length, LengthStyle, Unit};

/// A larger sheet is never meant for a card: A4 is 297 mm long (ISO 216).
const LARGEST: Length = Length::from_mm(297);

/// A size as it is written in a workshop of this unit.
pub(super) const fn example(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "5 1/2 x 4 1/4",
        Unit::Millimetre => "148 x 105",
        Unit::Centimetre => "14.8 x 10.5",
    }
}

/// A name that is none of a card format.
pub(super) struct UnknownCard<'a> {
    pub name: &'a str,
    pub place: &'a Place,
    pub style: &'a LengthStyle,
    pub own: &'a OwnFormats,
}

/// One of several things that a name could stand for.
struct CardMeaning {
    /// What to write for it.
    write: String,
    what: String,
}

impl UnknownCard<'_> {
    /// What the name could stand for, or is instead, or the nearest.
    pub fn problem(&self) -> Problem {
        let (kind, said) = match said_kind(self.name) {
            Some((kind, said)) => (Some(kind), said),
            None => (None, self.name.to_owned()),
        };
        let is_kind = |asked| kind.is_none_or(|kind| kind == asked);
        let cards = if is_kind(FormatKind::Card) { alike(self.name) } else { Vec::new() };
        let envelope = self.own.all_envelopes().find(|envelope| means(&envelope.name, &said));
        let sheet = self.own.all_sheets().find(|sheet| means(&sheet.name, &said));
        if !cards.is_empty() {
            return self.alike(&cards, sheet);
        }
        match (envelope, sheet) {
            (Some(envelope), _) if kind != Some(FormatKind::Sheet) => self.is_an_envelope(envelope),
            (_, Some(sheet)) if kind != Some(FormatKind::Envelope) => self.is_a_sheet(sheet),
            _ => self.nearest(),
        }
    }

    fn error(&self, title: String, label: String) -> Problem {
        Problem::error("order-card", title).at(Some(self.place), label)
    }

    fn unknown(&self, label: String) -> Problem {
        self.error(format!("unknown card format `{}`", self.name), label).help(self.or_a_size())
    }

    fn or_a_size(&self) -> String {
        let size = example(self.style.unit);
        format!("or write a size, such as {size}; `cardwright sizes` lists all formats")
    }

    fn with_size(&self, card: &CardFormat) -> String {
        format!("`{}` ({})", card.name, self.style.size(card.size))
    }

    /// Cards that the name could stand for, and the sheet of that name.
    fn alike(&self, cards: &[&CardFormat], sheet: Option<&SheetFormat>) -> Problem {
        let mut readings: Vec<CardMeaning> = cards.iter().map(|card| self.reading(card)).collect();
        let is_card = |sheet: &SheetFormat| cards.iter().any(|card| card.name == sheet.name);
        let size = sheet.filter(|sheet| !is_card(sheet) && sheet.size.long() <= LARGEST);
        readings.extend(size.map(|sheet| CardMeaning {
            write: self.style.size(sheet.size),
            what: format!("a card as large as {}", sheet.name),
        }));
        if let ([card], [_]) = (cards, readings.as_slice()) {
            return self.unknown(format!("did you mean {}?", self.with_size(card)));
        }
        let write: Vec<String> = readings.iter().map(|it| format!("`{}`", it.write)).collect();
        let title = format!("card format `{}` has several meanings", self.name);
        let problem = self.error(title, format!("expected {}", write.join(" or ")));
        let help = |it: &CardMeaning| format!("write `{}` for {}", it.write, it.what);
        readings.iter().map(help).fold(problem, Problem::help)
    }

    fn reading(&self, card: &CardFormat) -> CardMeaning {
        let size = self.style.size(card.size);
        let is_envelope = self.own.all_envelopes().any(|envelope| envelope.name == card.name);
        let what = match is_envelope {
            true => format!("the card of the {} envelope, {size}", card.name),
            false => format!("the size of {}, {size}", card.source),
        };
        CardMeaning { write: card.name.clone(), what }
    }

    fn is_an_envelope(&self, envelope: &EnvelopeFormat) -> Problem {
        let made_for = contents().iter().find(|row| row.envelope == envelope.name);
        let card = made_for.map_or(&envelope.name, |row| &row.card);
        let title = format!("`{}` is an envelope, not a card", self.name);
        match self.own.card(card) {
            Some(card) => {
                let card = self.with_size(card);
                self.error(title, format!("did you mean the card that it holds, {card}?"))
                    .help(self.or_a_size())
            }
            None => self.error(title, "expected the card that it holds".to_owned()).help(format!(
                "`cardwright sizes \"{}\"` lists the cards that it holds",
                envelope.name
            )),
        }
    }

    fn is_a_sheet(&self, sheet: &SheetFormat) -> Problem {
        let title = format!("`{}` is a sheet, not a card", self.name);
        let label = "expected a card format, or width x height".to_owned();
        let size = self.style.size(sheet.size);
        self.error(title, label).help(format!("write {size} for a card as large as the sheet"))
    }

    fn nearest(&self) -> Problem {
        let several = ending_in(self.name);
        if several.len() > 1 {
            let names: Vec<String> =
                several.iter().map(|card| format!("`{}`", card.name)).collect();
            let title = format!("card format `{}` has several meanings", self.name);
            return self
                .error(title, format!("expected {}", names.join(" or ")))
                .help(self.or_a_size());
        }
        let names = self.own.all_cards().map(|card| card.name.as_str());
        self.unknown(match nearest_format(self.name, names) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "expected a format name, or width x height".to_owned(),
        })
    }
}
