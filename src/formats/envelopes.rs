//! Envelopes by name, and which of them holds a card.

use super::list::{plain, rows};
use crate::diagnostics::Problems;
use crate::measure::{Length, Size, Unit};
use crate::table::{KnownColumn, Named};
use std::sync::LazyLock;

/// An envelope that can be bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EnvelopeFormat {
    /// Its name, unique whatever the case.
    pub name: String,
    /// Width along the opening and height, outside.
    pub size: Size,
    /// The system of sizes that it belongs to; `None` for one of the workshop's own.
    pub system: Option<EnvelopeSystem>,
    /// The standard that fixes it, or that there is none.
    pub source: String,
}

/// A system of envelope sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EnvelopeSystem {
    /// ISO 269 and DIN 678, and what is sold by millimetres.
    Metric,
    /// Announcement, commercial and square sizes in inches.
    Us,
}

/// Least room in both directions together, for a thin card: 1/8 in (common practice, no source).
pub const LEAST_ROOM: Length = Length::from_inch_parts(1, 8);

const COLUMNS: [KnownColumn; 5] = [
    KnownColumn::needed("name"),
    KnownColumn::needed("width"),
    KnownColumn::needed("height"),
    KnownColumn::needed("system"),
    KnownColumn::needed("source"),
];

static ENVELOPES: LazyLock<Vec<EnvelopeFormat>> = LazyLock::new(|| read(&mut Problems::new()));

/// All envelopes, in the order of the table.
pub fn envelopes() -> &'static [EnvelopeFormat] {
    &ENVELOPES
}

/// The envelope of a name; case and doubled blanks make no difference.
pub fn envelope(name: &str) -> Option<&'static EnvelopeFormat> {
    envelopes().iter().find(|envelope| envelope.is_called(name))
}

impl EnvelopeFormat {
    /// Whether this is its name; case and doubled blanks make no difference.
    pub fn is_called(&self, name: &str) -> bool {
        plain(&self.name) == plain(name)
    }

    /// The room that a card of this thickness leaves, long side and short side; negative where it does
    /// not fit. Each face gives up about the thickness of what is in it (from memory).
    pub fn room(&self, card: Size, thickness: Length) -> (Length, Length) {
        room(self.size, card, thickness)
    }

    /// Whether a workshop with this unit buys such envelopes: its own, and those of its system of sizes.
    pub fn is_usual(&self, unit: Unit) -> bool {
        match self.system {
            None => true,
            Some(EnvelopeSystem::Us) => unit == Unit::Inch,
            Some(EnvelopeSystem::Metric) => unit != Unit::Inch,
        }
    }
}

/// The room that a card leaves in an envelope of this size.
pub fn room(envelope: Size, card: Size, thickness: Length) -> (Length, Length) {
    (envelope.long() - card.long() - thickness, envelope.short() - card.short() - thickness)
}

/// Whether an envelope of this size holds a card with the least room on both sides, of which what is in it may use up
/// half.
pub fn holds(envelope: Size, card: Size, thickness: Length) -> bool {
    let (long, short) = room(envelope, card, Length::ZERO);
    let room = long.min(short);
    room >= LEAST_ROOM && (room - thickness) * 2 >= LEAST_ROOM
}

/// The envelopes of `among` that hold a card with the least room on both sides, of which what is in it may use up
/// half. Those that are usual in a workshop with this unit come first; then the smallest.
pub fn holders<'a>(
    among: impl Iterator<Item = &'a EnvelopeFormat>,
    card: Size,
    thickness: Length,
    unit: Unit,
) -> Vec<&'a EnvelopeFormat> {
    let holds = |envelope: &&EnvelopeFormat| holds(envelope.size, card, thickness);
    let mut holders: Vec<&EnvelopeFormat> = among.filter(holds).collect();
    holders.sort_by_key(|envelope| (!envelope.is_usual(unit), envelope.size.area().square_ticks()));
    holders
}

fn read(problems: &mut Problems) -> Vec<EnvelopeFormat> {
    let file = Named::new("envelopes.csv", include_bytes!("envelopes.csv"));
    rows(file, &COLUMNS, problems, |cells| {
        let system = |text: &str| match text {
            "metric" => Some(EnvelopeSystem::Metric),
            "US" => Some(EnvelopeSystem::Us),
            _ => None,
        };
        Some(EnvelopeFormat {
            name: cells.text("name")?,
            size: cells.size()?,
            system: cells.read("system", system)?,
            source: cells.text("source")?,
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    fn inches(text: &str) -> Size {
        Size::parse(text, Unit::Inch).unwrap().unwrap()
    }

    #[test]
    fn the_table_is_whole() {
        let mut problems = Problems::new();
        let all = read(&mut problems);
        assert_eq!(problems, Problems::new());
        assert_eq!(all.len(), 41);
        let unique: BTreeSet<String> = all.iter().map(|it| plain(&it.name)).collect();
        assert_eq!(unique.len(), all.len());
        assert!(all.iter().all(|it| it.size.width >= it.size.height && it.size.is_positive()));
    }

    #[test]
    fn a_card_needs_the_least_room_below_at_and_above() {
        let holds = |card: &str, thickness: i64| {
            let thickness = Length::from_inch_parts(thickness, 1000);
            let names = holders(envelopes().iter(), inches(card), thickness, Unit::Inch);
            names.iter().any(|envelope| envelope.name == "US A2")
        };
        // 5 3/4 x 4 3/8 in: 1/8 in of room, of which 0.0625 in may be used up.
        assert!(holds("5 1/2 x 4 1/4", 0));
        assert!(holds("5 1/2 x 4 1/4", 62));
        assert!(!holds("5 1/2 x 4 1/4", 63));
        assert!(!holds("5 1/2 x 4 5/16", 0));
        assert!(holds("5 5/8 x 4 1/4", 0));
        assert!(!holds("5 11/16 x 4 1/4", 0));
        assert!(holds("4 1/4 x 5 1/2", 0), "either way round");
    }

    #[test]
    fn the_smallest_of_the_workshops_system_comes_first() {
        let names = |card: &str, unit: Unit| -> Vec<&str> {
            let holders = holders(envelopes().iter(), inches(card), Length::ZERO, unit);
            holders.iter().map(|envelope| envelope.name.as_str()).collect()
        };
        assert_eq!(names("5 x 7", Unit::Inch)[0], "US A7");
        assert_eq!(names("4 1/4 x 5 1/2", Unit::Inch)[0], "US A2");
        // 229 x 162 mm; US A10, of 241.3 x 152.4 mm, is smaller, and no shop of a metric workshop has it.
        assert_eq!(names("215 x 145 mm", Unit::Millimetre)[0], "ISO C5");
        assert_eq!(names("215 x 145 mm", Unit::Inch)[0], "US A10");
        // Of an envelope that only the other system has, the name is told.
        assert_eq!(names("320 x 225 mm", Unit::Inch), ["ISO C4", "ISO B4"]);
        assert_eq!(names("30 x 30", Unit::Inch), [""; 0]);
    }
}
