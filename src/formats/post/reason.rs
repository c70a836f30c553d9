//! Why a letter is not of a class.

use super::MailForm;
use crate::measure::{Length, LengthStyle, Weight};

/// A limit that a letter breaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// It is shorter than this along a side.
    Below(Side, Length, Length),
    /// It is longer than this along a side.
    Beyond(Side, Length, Length),
    /// It is lighter than this.
    Light(Weight, Weight),
    /// It is heavier than this.
    Heavy(Weight, Weight),
    /// Length to height is below this, both in thousandths.
    Square(u64, u64),
    /// Length to height is above this, both in thousandths.
    Narrow(u64, u64),
    /// Length, height and thickness together are beyond this.
    Sum(Length, Length),
    /// It is too thin for its size.
    Thin(Length, Length),
    /// It is too light for its size.
    LightForSize(Weight, Weight),
    /// Its paper is lighter than this, both in grams per square metre.
    LightPaper(u64, u64),
    /// Its paper is heavier than this, both in grams per square metre.
    HeavyPaper(u64, u64),
    /// It is no single sheet, or has no envelope.
    Form(MailForm),
    /// Something in it does not bend.
    Rigid,
    /// It is thicker in one place than in another.
    Uneven,
    /// It is not beyond a smaller class.
    Small,
}

/// A side of a letter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Along the address.
    Length,
    /// Across it.
    Height,
    /// Through it.
    Thickness,
}

pub(super) const SIDES: [Side; 3] = [Side::Length, Side::Height, Side::Thickness];

impl Reason {
    /// Whether the letter is too large or too heavy.
    pub(super) fn is_too_much(&self) -> bool {
        matches!(self, Reason::Beyond(..) | Reason::Heavy(..) | Reason::Sum(..))
    }

    /// How far the letter is from the limit, in millionths of the limit; 0 where that is no amount.
    pub(super) fn distance(&self) -> i128 {
        let [is, limit] = match *self {
            Reason::Below(_, is, limit)
            | Reason::Beyond(_, is, limit)
            | Reason::Sum(is, limit)
            | Reason::Thin(is, limit) => [is.ticks(), limit.ticks()].map(i128::from),
            Reason::Light(is, limit)
            | Reason::Heavy(is, limit)
            | Reason::LightForSize(is, limit) => {
                [is.picograms(), limit.picograms()].map(i128::from)
            }
            Reason::Square(is, limit)
            | Reason::Narrow(is, limit)
            | Reason::LightPaper(is, limit)
            | Reason::HeavyPaper(is, limit) => [is, limit].map(i128::from),
            Reason::Form(_) | Reason::Rigid | Reason::Uneven | Reason::Small => return 0,
        };
        (is - limit).abs() * 1_000_000 / limit.max(1)
    }

    /// `162 mm high, at most 155.575 mm`, in the unit of the person.
    pub fn told(&self, style: LengthStyle) -> String {
        let length = |length: &Length| style.with_unit(*length);
        let weight = |weight: &Weight| weight.told(style.unit);
        let ratio = |ratio: &u64| {
            let text = format!("{}.{:03}", ratio / 1000, ratio % 1000);
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        };
        match self {
            Reason::Below(side, is, limit) => {
                format!("{} {}, at least {}", length(is), side.word(), length(limit))
            }
            Reason::Beyond(side, is, limit) => {
                format!("{} {}, at most {}", length(is), side.word(), length(limit))
            }
            Reason::Light(is, limit) => format!("{}, at least {}", weight(is), weight(limit)),
            Reason::Heavy(is, limit) => format!("{}, at most {}", weight(is), weight(limit)),
            Reason::Square(is, limit) => {
                format!("length to height is {}, at least {}", ratio(is), ratio(limit))
            }
            Reason::Narrow(is, limit) => {
                format!("length to height is {}, at most {}", ratio(is), ratio(limit))
            }
            Reason::Sum(is, limit) => {
                format!("all sides together {}, at most {}", length(is), length(limit))
            }
            Reason::Thin(is, limit) => {
                format!("{} thick, at this size at least {}", length(is), length(limit))
            }
            Reason::LightForSize(is, limit) => {
                format!("{}, at this size at least {}", weight(is), weight(limit))
            }
            Reason::LightPaper(is, limit) => format!("paper of {is} g/m2, at least {limit} g/m2"),
            Reason::HeavyPaper(is, limit) => format!("paper of {is} g/m2, at most {limit} g/m2"),
            Reason::Form(MailForm::Folded) => "folded, and without an envelope".to_owned(),
            Reason::Form(_) => "more than a single sheet".to_owned(),
            Reason::Rigid => "stiff contents".to_owned(),
            Reason::Uneven => "uneven contents".to_owned(),
            Reason::Small => "no larger than the class above allows".to_owned(),
        }
    }
}

impl Side {
    fn word(self) -> &'static str {
        match self {
            Side::Length => "long",
            Side::Height => "high",
            Side::Thickness => "thick",
        }
    }
}
