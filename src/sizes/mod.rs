//! What fits what: the envelopes that hold a card, the sheets that it is cut from, what the post says.
//!
//! In: a name or a size, and the workshop. Out: [`SizeFacts`]s. It knows nothing of orders and stock.

use crate::cuts::Bench;
use crate::folds::{self, Blank, Fold, FoldStyle, FoldedPaper};
use crate::formats::{
    self, CardFormat, EnvelopeFormat, FormatKind, Letter, MailForm, PostClass, PostRoom, PostRules,
    PostVerdict, SheetFormat, holders, means, room, said_kind,
};
use crate::measure::{Axis, Length, LengthStyle, Size, Unit};
use crate::patterns::{Shape, Space};
use crate::workshop::Workshop;

/// What is known of a name or a size.
#[derive(Clone, Debug)]
pub struct SizeFacts<'a> {
    /// What was found.
    pub what: What<'a>,
    /// Its size; of a card as it stands when it is read.
    pub size: Size,
    /// What is cut for it, fold by fold, of thin paper; for a card.
    pub opened: Vec<OpenedFold>,
    /// The envelopes that hold it, first those that are usual in the workshop, then the smallest; for a card.
    pub envelopes: Vec<Held<'a>>,
    /// The cards that it holds, the largest first; for an envelope.
    pub cards: Vec<Held<'a>>,
    /// The sheets that it can be cut from, the smallest first; for a card.
    pub sheets: Vec<Yielded<'a>>,
    /// What each post says: to an envelope itself, to a card in the first envelope that holds it.
    pub post: Vec<PostFacts<'a>>,
    /// The posts that take the card without an envelope, unfolded and in a single sheet, in a class of its own.
    pub alone: Vec<(&'a PostRules, &'a PostClass)>,
}

/// A card opened out.
#[derive(Clone, Debug)]
pub struct OpenedFold {
    /// How it folds.
    pub fold: Fold,
    /// Its size and its scores.
    pub blank: Blank,
}

/// What a post says to a thin, light letter.
#[derive(Clone, Debug)]
pub struct PostFacts<'a> {
    /// Whose rules.
    pub rules: &'a PostRules,
    /// What they say.
    pub verdict: PostVerdict<'a>,
    /// How much larger it could be within its class.
    pub room: Option<PostRoom>,
    /// Of the roomier envelopes of the workshop that this post takes better, the closest of those that it takes best; and
    /// as what.
    pub roomier: Option<(&'a str, &'a PostClass)>,
}

/// What a name stands for.
#[derive(Clone, Copy, Debug)]
pub enum What<'a> {
    /// Nothing but a size.
    Size,
    /// A card.
    Card(&'a CardFormat),
    /// An envelope.
    Envelope(&'a EnvelopeFormat),
    /// A full sheet.
    Sheet(&'a SheetFormat),
}

/// A card in an envelope.
#[derive(Clone, Copy, Debug)]
pub struct Held<'a> {
    /// Name of the other one.
    pub name: &'a str,
    /// Its size.
    pub size: Size,
    /// Room along the long side and the short side.
    pub room: (Length, Length),
}

/// Cards from a sheet.
#[derive(Clone, Debug)]
pub struct Yielded<'a> {
    /// The sheet.
    pub sheet: &'a SheetFormat,
    /// How many cards of each of [`SHEET_FOLDS`] it yields; `None` where they are too many to be counted.
    pub counts: [Option<u64>; SHEET_FOLDS.len()],
    /// Area of the flat cards in thousandths of the sheet's, where they are counted.
    pub used: Option<i128>,
}

/// The folds whose cards are counted on each sheet.
pub const SHEET_FOLDS: [Fold; 7] = Fold::examples();

/// Those with their panels below each other.
const BELOW: [Fold; 3] = [
    Fold::new(FoldStyle::Gate, Axis::Height),
    Fold::new(FoldStyle::Letter, Axis::Height),
    Fold::new(FoldStyle::Accordion(4), Axis::Height),
];

/// No card is smaller both ways.
const SMALLEST: Length = Length::from_inch_parts(1, 1);

/// Sheets beyond this are not laid on a bench.
const LARGEST: Length = Length::from_inch_parts(26, 1);

/// Most envelopes and cards that are named.
const NAMED: usize = 6;

/// All that a name or a size may mean; empty where it means nothing.
pub fn answers<'a>(text: &str, workshop: &'a Workshop) -> Vec<SizeFacts<'a>> {
    if let Some(Ok(size)) = Size::parse(text, workshop.unit).filter(|_| is_size(text)) {
        return match size.short() >= Length::LEAST_SIDE {
            true => vec![of_card(What::Size, size, workshop)],
            false => Vec::new(),
        };
    }
    let found = named(text, None, workshop);
    match said_kind(text) {
        Some((kind, text)) if found.is_empty() => named(&text, Some(kind), workshop),
        _ => found,
    }
}

/// All formats that a name may mean, or those of a kind.
fn named<'a>(text: &str, kind: Option<FormatKind>, workshop: &'a Workshop) -> Vec<SizeFacts<'a>> {
    let own = &workshop.formats;
    let is_kind = |asked| kind.is_none_or(|kind| kind == asked);
    // A card may have the name of its envelope.
    let called = own.card(text).map(|card| card.name.as_str());
    let is_card =
        |card: &&CardFormat| means(&card.name, text) || Some(card.name.as_str()) == called;
    let cards = own.all_cards().filter(is_card).filter(|_| is_kind(FormatKind::Card));
    let envelopes = own.all_envelopes().filter(|envelope| means(&envelope.name, text));
    let sheets = own.all_sheets().filter(|sheet| means(&sheet.name, text));
    let mut answers: Vec<SizeFacts> =
        cards.map(|card| of_card(What::Card(card), card.size, workshop)).collect();
    if is_kind(FormatKind::Envelope) {
        answers.extend(envelopes.map(|envelope| of_envelope(envelope, workshop)));
    }
    if is_kind(FormatKind::Sheet) {
        answers.extend(sheets.map(of_sheet));
    }
    let square = Size::parse(text, workshop.unit).and_then(Result::ok);
    let square = square.filter(|size| size.width == size.height && is_kind(FormatKind::Card));
    match square.filter(|size| size.short() >= Length::LEAST_SIDE) {
        Some(size) if answers.is_empty() => vec![of_card(What::Size, size, workshop)],
        _ => answers,
    }
}

/// A name may hold a cross, such as `craft 12 x 18`; a size begins with a number.
fn is_size(text: &str) -> bool {
    text.trim_start().starts_with(|first: char| first.is_numeric() || first == '.')
}

/// The size in the other unit, where a size without a unit is far from any card: smaller than an inch both ways, or
/// larger than the sheets that go on a bench.
pub fn other_reading(text: &str, workshop: &Workshop) -> Option<String> {
    let read = |unit| Size::parse(text, unit).and_then(Result::ok);
    let size = read(workshop.unit)?;
    let other = match workshop.unit {
        Unit::Inch => Unit::Millimetre,
        Unit::Millimetre | Unit::Centimetre => Unit::Inch,
    };
    let is_far = size.long() < SMALLEST || size.long() > LARGEST;
    let meant = read(other).filter(|meant| is_far && *meant != size)?;
    Some(LengthStyle { unit: other, ..workshop.style() }.size(meant))
}

fn of_card<'a>(what: What<'a>, size: Size, workshop: &'a Workshop) -> SizeFacts<'a> {
    let holders = holders(workshop.formats.all_envelopes(), size, Length::ZERO, workshop.unit);
    let envelopes: Vec<Held> = holders
        .iter()
        .map(|envelope| Held {
            name: &envelope.name,
            size: envelope.size,
            room: envelope.room(size, Length::ZERO),
        })
        .take(NAMED)
        .collect();
    let usual: Vec<&EnvelopeFormat> =
        holders.iter().skip(1).copied().filter(|it| it.is_usual(workshop.unit)).collect();
    let post = holders.first().map(|fit| judged(fit.size, &usual)).unwrap_or_default();
    let mut sheets: Vec<Yielded> =
        workshop.formats.all_sheets().filter_map(|sheet| cut(size, sheet, workshop)).collect();
    sheets.sort_by_key(|cut| cut.sheet.size.area().square_ticks());
    let folds = SHEET_FOLDS.into_iter().chain(BELOW);
    let opened = folds.filter_map(|fold| opened(size, fold, workshop)).collect();
    SizeFacts { what, size, opened, envelopes, cards: Vec::new(), sheets, post, alone: alone(size) }
}

/// A card opened out, of thin paper; nothing where it has no fold, or is too narrow for it.
fn opened(card: Size, fold: Fold, workshop: &Workshop) -> Option<OpenedFold> {
    let paper = FoldedPaper::thin(workshop.style());
    let side = card.along(fold.opens()?);
    let is_wide_enough = side >= folds::least_side(fold.style, paper);
    is_wide_enough.then(|| OpenedFold { fold, blank: folds::opened(card, fold, paper) })
}

fn of_envelope<'a>(envelope: &'a EnvelopeFormat, workshop: &'a Workshop) -> SizeFacts<'a> {
    let held = |card: &'a CardFormat| Held {
        name: &card.name,
        size: card.size,
        room: room(envelope.size, card.size, Length::ZERO),
    };
    let fits = |held: &Held| held.room.0.min(held.room.1) >= formats::LEAST_ROOM;
    let mut cards: Vec<Held> = workshop.formats.all_cards().map(held).filter(fits).collect();
    cards.sort_by_key(|held| std::cmp::Reverse(held.size.area().square_ticks()));
    cards.truncate(NAMED);
    SizeFacts {
        what: What::Envelope(envelope),
        size: envelope.size,
        opened: Vec::new(),
        envelopes: Vec::new(),
        cards,
        sheets: Vec::new(),
        post: judged(envelope.size, &[]),
        alone: Vec::new(),
    }
}

fn of_sheet(sheet: &SheetFormat) -> SizeFacts<'_> {
    SizeFacts {
        what: What::Sheet(sheet),
        size: sheet.size,
        opened: Vec::new(),
        envelopes: Vec::new(),
        cards: Vec::new(),
        sheets: Vec::new(),
        post: Vec::new(),
        alone: Vec::new(),
    }
}

/// The posts' own rules; older ones of all posts together judge no letter beside them.
fn own_rules() -> impl Iterator<Item = &'static PostRules> {
    formats::post_rules().iter().filter(|rules| !rules.is_older)
}

/// What each post says to a thin, light letter of this size, addressed along its long side, or in one of the `roomier`
/// envelopes.
fn judged<'a>(size: Size, roomier: &[&'a EnvelopeFormat]) -> Vec<PostFacts<'a>> {
    let letter = Letter::enveloped(size);
    let facts = |rules: &'static PostRules| {
        let verdict = rules.judge(&letter);
        let other = |envelope: &&'a EnvelopeFormat| {
            let other = rules.judge(&Letter::enveloped(envelope.size));
            let class = other.class.filter(|_| other.rank() < verdict.rank())?;
            Some((other.rank(), envelope.name.as_str(), class))
        };
        // Of equally good ones the first, which is the closest.
        let best = roomier.iter().filter_map(other).min_by_key(|(rank, ..)| *rank);
        let roomier = best.map(|(_, name, class)| (name, class));
        let room = verdict.class.map(|class| class.room(&letter));
        PostFacts { rules, verdict, room, roomier }
    };
    own_rules().map(facts).collect()
}

/// The classes for single cards that take a card of this size.
fn alone<'a>(size: Size) -> Vec<(&'a PostRules, &'a PostClass)> {
    let card = Letter { form: MailForm::Card, ..Letter::enveloped(size) };
    let class = |rules: &'static PostRules| {
        let class = rules.judge(&card).class.filter(|class| class.is_for_cards())?;
        Some((rules, class))
    };
    own_rules().filter_map(class).collect()
}

/// How many cards a sheet yields at the workshop's bench; `None` where it yields none or is too large.
fn cut<'a>(card: Size, sheet: &'a SheetFormat, workshop: &Workshop) -> Option<Yielded<'a>> {
    let trimmer = &workshop.trimmer;
    let reaches = sheet.trimmed || trimmer.squares_first(sheet.size).is_some();
    if sheet.size.long() > LARGEST || !reaches {
        return None;
    }
    let plate = if sheet.trimmed { sheet.size } else { trimmer.squared(sheet.size) };
    // Any number of stages: what fits, not how it is cut.
    let bench = Bench { stages: None, ..workshop.trimmer.bench() };
    let count = |blank: Size| {
        let shape = Shape { size: blank, upright: true, turned: true };
        Space::most_of(plate, shape, bench)
    };
    let of_fold = |fold: Fold| match fold.opens() {
        None => count(card),
        Some(_) => opened(card, fold, workshop).map_or(Some(0), |it| count(it.blank.size)),
    };
    let counts = SHEET_FOLDS.map(of_fold);
    let flat = counts[0];
    let share = |flat: u64| {
        card.area().square_ticks() * i128::from(flat) * 1000 / sheet.size.area().square_ticks()
    };
    (flat != Some(0)).then(|| Yielded { sheet, counts, used: flat.map(share) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit;

    fn size(text: &str) -> Size {
        Size::parse(text, Unit::Inch).unwrap().unwrap()
    }

    #[test]
    fn a_short_name_means_all_that_end_in_it() {
        let workshop = Workshop::default();
        let kinds = |text: &str| -> Vec<String> {
            let answers = answers(text, &workshop);
            let name = |answer: &SizeFacts| match answer.what {
                What::Size => "size".to_owned(),
                What::Card(card) => format!("card {}", card.name),
                What::Envelope(envelope) => format!("envelope {}", envelope.name),
                What::Sheet(sheet) => format!("sheet {}", sheet.name),
            };
            answers.iter().map(name).collect()
        };
        assert_eq!(kinds("a7"), ["card ISO A7", "card US A7", "envelope US A7"]);
        assert_eq!(kinds("a7 envelope"), ["envelope US A7"]);
        assert_eq!(kinds("A4 paper"), ["sheet ISO A4"]);
        assert_eq!(kinds("DIN A6"), ["card ISO A6"]);
        assert_eq!(kinds("DL"), ["card third of ISO A4", "envelope ISO DL"]);
        assert_eq!(kinds("C6"), ["envelope ISO C6"]);
        assert_eq!(kinds("#10"), ["envelope No. 10"]);
        assert_eq!(kinds("square 6"), ["card square 6"]);
        assert_eq!(kinds("square 150 mm"), ["size"]);
        assert_eq!(kinds("\u{bd} x 4\u{bc} in"), ["size"]);
        assert_eq!(kinds("Letter"), ["sheet letter"]);
        assert_eq!(kinds("craft 12 x 18"), ["sheet craft 12 x 18"]);
        assert_eq!(kinds("5 x 7 in"), ["size"]);
        assert_eq!(kinds("0 x 7 in"), [""; 0]);
        assert_eq!(kinds("velvet"), [""; 0]);
        assert_eq!(kinds(""), [""; 0]);
    }

    #[test]
    fn a_card_finds_its_envelope_its_sheets_and_the_post() {
        let workshop = Workshop::default();
        let answer = answers("5 x 7 in", &workshop).remove(0);
        assert_eq!(answer.envelopes[0].name, "US A7");
        assert_eq!(answer.envelopes[0].room, (size("1/4 x 1").width, size("1/4 x 1").width));
        let of = |name: &str| answer.sheets.iter().find(|cut| cut.sheet.name == name).unwrap();
        // Two of 5 x 7 in, or one of 10 x 7, from 8 1/2 x 11 in.
        let letter = of("letter");
        assert_eq!(letter.counts[..3], [Some(2), Some(1), Some(0)]);
        assert_eq!(of("craft 12").counts[0], Some(3));
        // A gate of 9 7/8 x 7 in, a letter fold of 14 7/8 x 7 and an accordion of 20 x 7 from 11 x 17; 10 x 14 is french.
        assert_eq!(of("tabloid").counts[3..], [Some(2), Some(1), Some(1), Some(0)]);
        let usps = &answer.post[0].verdict;
        assert_eq!(usps.class.unwrap().name, "letter");
    }

    /// As when it is planned: what the bench squares is taken off rough edges, and of no other sheet.
    #[test]
    fn squaring_takes_cards_from_an_untrimmed_sheet() {
        let flat = |name: &str, squaring: &str, knife: &str| -> Option<Option<u64>> {
            let mut workshop = Workshop::default();
            let length = |text| size(&format!("{text} x 1")).width;
            (workshop.trimmer.squaring, workshop.trimmer.knife) = (length(squaring), length(knife));
            let answer = answers("5 x 6 1/2 in", &workshop).remove(0);
            answer.sheets.iter().find(|it| it.sheet.name == name).map(|cut| cut.counts[0])
        };
        assert_eq!(flat("cover parent", "0", "26"), Some(Some(16)));
        assert_eq!(flat("cover parent", "1/8", "26"), Some(Some(15)));
        assert_eq!(flat("cover parent", "1/8", "25 7/8"), Some(Some(15)));
        assert_eq!(flat("cover parent", "1/8", "25 13/16"), None, "too long to be squared");
        assert_eq!(flat("letter", "1/8", "15"), flat("letter", "0", "15"), "it is sold trimmed");
    }

    /// USPS DMM 101.1.2a: a square letter is nonmachinable. A card of 5 x 5 in has 2 in of room in an envelope US A7.
    #[test]
    fn a_roomier_envelope_that_the_post_takes_better_is_told() {
        let workshop = Workshop::default();
        let answer = answers("5 x 5 in", &workshop).remove(0);
        assert_eq!(answer.envelopes[0].name, "square envelope 5 1/2");
        let told = |rules: &str| {
            let facts = answer.post.iter().find(|facts| facts.rules.name == rules).unwrap();
            let roomier = facts.roomier.map(|(name, class)| (name, class.name.as_str()));
            (facts.verdict.word(), roomier)
        };
        assert_eq!(told("usps"), ("letter nonmachinable", Some(("US A7", "letter"))));
        assert_eq!(told("royal mail"), ("may not be taken", Some(("square envelope 6", "letter"))));
        assert_eq!(told("canada post"), ("not taken", Some(("US A7", "standard"))));
        assert_eq!(told("deutsche post"), ("Gro\u{df}brief", None));
        let metric = Workshop::usual(Unit::Millimetre);
        let names = |text| answers(text, &metric).remove(0).envelopes[0].name.to_owned();
        assert_eq!(names("215 x 145 mm"), "ISO C5", "US A10 is closer");
    }

    /// USPS DMM 101.6.2.2: a postcard is at most 6 x 4 1/4 in.
    #[test]
    fn a_card_goes_alone_where_a_post_has_a_class_for_it() {
        let workshop = Workshop::default();
        let alone = |text: &str| -> Vec<String> {
            let all = answers(text, &workshop).remove(0).alone;
            all.iter().map(|(rules, class)| format!("{} {}", rules.name, class.name)).collect()
        };
        assert_eq!(alone("4 x 6 in"), ["usps postcard", "deutsche post Postkarte"]);
        assert_eq!(alone("4 1/4 x 6 in"), ["usps postcard", "deutsche post Postkarte"]);
        assert_eq!(alone("4 5/16 x 6 in"), [""; 0]);
    }

    /// As an order's: a card of 5 x 7 in opens to 9 7/8 x 7 in as a gate. One that is too narrow for a fold has none.
    #[test]
    fn a_card_is_opened_out_fold_by_fold() {
        let workshop = Workshop::default();
        let answer = answers("5 x 7 in", &workshop).remove(0);
        let told: Vec<(String, Size)> =
            answer.opened.iter().map(|it| (it.fold.word(), it.blank.size)).collect();
        let expected = [
            ("side", "10 x 7"),
            ("top", "5 x 14"),
            ("gate", "9 7/8 x 7"),
            ("letter", "14 7/8 x 7"),
            ("french", "10 x 14"),
            ("accordion 4", "20 x 7"),
            ("gate top", "5 x 13 7/8"),
            ("letter top", "5 x 20 7/8"),
            ("accordion 4 top", "5 x 28"),
        ];
        assert_eq!(told, expected.map(|(word, text)| (word.to_owned(), size(text))));
        let narrow = answers("1/8 x 7 in", &workshop).remove(0);
        let words: Vec<String> = narrow.opened.iter().map(|it| it.fold.word()).collect();
        assert!(!words.contains(&"gate".to_owned()) && words.contains(&"gate top".to_owned()));
    }

    #[test]
    fn an_envelope_finds_its_cards() {
        let workshop = Workshop::default();
        let answers = answers("US A7", &workshop);
        let envelope = answers.iter().find(|it| matches!(it.what, What::Envelope(_))).unwrap();
        assert_eq!(envelope.cards[0].name, "US A7");
    }

    #[test]
    fn a_size_far_from_any_card_is_meant_in_the_other_unit() {
        let mut workshop = Workshop::default();
        let other = |text: &str, workshop: &Workshop| other_reading(text, workshop);
        assert_eq!(other("148x105", &workshop).as_deref(), Some("148 x 105 mm"));
        assert_eq!(other("square 150", &workshop).as_deref(), Some("150 x 150 mm"));
        // The largest sheet that is laid on a bench is 26 in long.
        assert_eq!(other("26 x 1", &workshop), None);
        assert_eq!(other("26.1 x 1", &workshop).as_deref(), Some("26.1 x 1 mm"));
        for text in ["5 x 7", "148 x 105 in", "148 in x 105", "A7", ""] {
            assert_eq!(other(text, &workshop), None, "{text}");
        }
        workshop.unit = Unit::Millimetre;
        assert_eq!(other("5 x 7", &workshop).as_deref(), Some("5 x 7 in"));
        assert_eq!(other("25.4 x 3", &workshop), None);
        assert_eq!(other("148 x 105", &workshop), None);
    }

    #[test]
    fn formats_of_the_workshop_come_first() {
        let mut workshop = Workshop::default();
        let mini = CardFormat {
            name: "mini".to_owned(),
            size: size("2 x 2"),
            fold: Fold::FLAT,
            source: "this workshop".to_owned(),
        };
        workshop.formats.cards.push(mini);
        assert_eq!(answers("mini", &workshop).len(), 1);
    }
}
