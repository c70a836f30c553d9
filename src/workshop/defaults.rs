//! What a missing `workshop.toml` means.

use super::{
    BlankRule, EnvelopeKind, EnvelopeRules, GrainRule, Keep, Lift, PageSize, Post, Rates, Spares,
    Trimmer, Workshop,
};
use crate::formats::OwnFormats;
use crate::measure::{Currency, Length, Money, Unit};

const fn inches(numerator: i64, denominator: i64) -> Length {
    Length::from_inch_parts(numerator, denominator)
}

impl Default for Workshop {
    fn default() -> Workshop {
        Workshop {
            unit: Unit::Inch,
            currency: Currency::default(),
            page: PageSize::Letter,
            trimmer: Trimmer::default(),
            keep: Keep { short: inches(1, 1), long: inches(4, 1), value: 30 },
            spares: Spares { percent: 5, at_least: 1 },
            grain: GrainRule::Prefer,
            envelope: EnvelopeRules::default(),
            rates: Rates::default(),
            post: Post { rules: "usps".to_owned(), prices: Vec::new() },
            formats: OwnFormats::default(),
        }
    }
}

impl Default for Trimmer {
    fn default() -> Trimmer {
        Trimmer {
            knife: inches(15, 1),
            graduation: inches(1, 16),
            blade: Length::ZERO,
            squaring: Length::ZERO,
            lift: Lift::Sheets(5),
            smallest_hold: Length::ZERO,
            stages: None,
        }
    }
}

impl Default for EnvelopeRules {
    fn default() -> EnvelopeRules {
        EnvelopeRules {
            kind: EnvelopeKind::Wrap,
            clear_long: inches(1, 4),
            clear_short: inches(1, 8),
            side_flap: None,
            top_flap: None,
            blank: BlankRule::Usual,
            liner_inset: inches(1, 4),
            price: Money::ZERO,
        }
    }
}

impl Default for Rates {
    fn default() -> Rates {
        Rates {
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
        }
    }
}
