//! A workshop and texts as lengths, for the tests of this folder.

use super::{Piece, pieces};
use crate::diagnostics::{Problems, Spanned};
use crate::measure::{Currency, Length, Money, Size, Unit};
use crate::orders::{Envelope, Extras, Fold, Order, OrderLine};
use crate::stock::{Back, Print, Sheet, SheetKind, Stock};
use crate::workshop::{
    BlankRule, EnvelopeKind, EnvelopeRules, GrainRule, Keep, Lift, PageSize, Rates, Spares,
    Trimmer, Workshop,
};

pub(super) fn inches(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

pub(super) fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap().unwrap()
}

/// A plain bench that measures in inches.
pub(super) fn workshop() -> Workshop {
    Workshop {
        unit: Unit::Inch,
        currency: Currency::new("USD").unwrap(),
        page: PageSize::Letter,
        trimmer: Trimmer {
            knife: inches("15"),
            graduation: inches("1/16"),
            blade: Length::ZERO,
            squaring: Length::ZERO,
            lift: Lift::Sheets(5),
            smallest_hold: Length::ZERO,
            stages: None,
        },
        keep: Keep { short: inches("1"), long: inches("4"), value: 30 },
        spares: Spares { percent: 5, at_least: 1 },
        grain: GrainRule::Prefer,
        envelope: EnvelopeRules {
            kind: EnvelopeKind::Wrap,
            clear_long: inches("1/4"),
            clear_short: inches("1/8"),
            side_flap: None,
            top_flap: None,
            blank: BlankRule::Usual,
            liner_inset: inches("1/4"),
            price: Money::ZERO,
        },
        rates: Rates {
            labour_per_hour: Money::from_minor(1800),
            overhead_percent: 15,
            margin_percent: 30,
            hours_per_day: 6,
            days_per_week: 7,
            gauge: 20,
            stroke: 6,
            score: 8,
            fold: 6,
            stick: 20,
            envelope: 60,
            gift_box: 120,
            pack: 15,
        },
        ..Workshop::default()
    }
}

/// A sheet of fern, to be bought singly.
pub(super) fn sheet(text: &str) -> Sheet {
    Sheet {
        id: format!("fern {text}"),
        kind: SheetKind::Sheet,
        paper: "fern".to_owned(),
        size: size(text),
        on_hand: 0,
        price: Some(Money::from_minor(110)),
        pack: 1,
        grain: None,
        print: Print::Free,
        back: Back::Free,
        milligrams_per_square_metre: None,
        thickness: None,
        from: None,
        since: None,
        place: None,
    }
}

/// A line of fern that asks for ten flat cards.
pub(super) fn line(name: &str, card: &str) -> OrderLine {
    OrderLine {
        name: Spanned::nowhere(name.to_owned()),
        card: Spanned::nowhere(size(card)),
        fold: Fold::Flat,
        count: Spanned::nowhere(10),
        papers: Spanned::nowhere(vec!["fern".to_owned()]),
        liner: None,
        mats: Vec::new(),
        envelope: Envelope::None,
        extras: Extras::default(),
        turn: None,
        due: None,
        note: String::new(),
    }
}

/// The base of such a line.
pub(super) fn base(card: &str) -> Piece {
    only_piece(line("invite", card), 0)
}

/// The envelope of such a line, on fern.
pub(super) fn envelope(card: &str) -> Piece {
    let mut line = line("invite", card);
    line.envelope = Envelope::Cut(Spanned::nowhere("fern".to_owned()));
    only_piece(line, 1)
}

fn only_piece(line: OrderLine, index: usize) -> Piece {
    let order = Order { name: "spring".to_owned(), lines: vec![line] };
    let mut bill = pieces(&order, &Stock::default(), &workshop(), &mut Problems::new());
    bill.pieces.remove(index)
}
