//! What a missing `workshop.toml` means.

use super::{
    BlankRule, EnvelopeKind, EnvelopeRules, GrainRule, Keep, Lift, MakerDetails, PageSize, Post,
    Rates, Spares, Trimmer, Workshop,
};
use crate::formats::OwnFormats;
use crate::measure::{Currency, Length, Money, Percent, Thickness, Unit, Usual};

const KNIFE: Usual = Usual::new(15, 1, 380);
const GRADUATION: Usual = Usual::new(1, 16, 1);
const HOLD: Usual = Usual::new(1, 4, 5);
const KEPT_SHORT: Usual = Usual::new(1, 1, 25);
const KEPT_LONG: Usual = Usual::new(4, 1, 100);
const CLEAR_LONG: Usual = Usual::new(1, 4, 6);
const CLEAR_SHORT: Usual = Usual::new(1, 8, 3);
const LINER_INSET: Usual = Usual::new(1, 4, 6);

impl Default for Workshop {
    fn default() -> Workshop {
        Workshop::usual(Unit::Inch)
    }
}

impl Workshop {
    /// The bench of a file that says nothing but its unit: every length is on the marks of such a gauge (common
    /// practice, no source).
    pub fn usual(unit: Unit) -> Workshop {
        Workshop {
            unit,
            currency: Currency::default(),
            page: match unit {
                Unit::Inch => PageSize::Letter,
                Unit::Millimetre | Unit::Centimetre => PageSize::A4,
            },
            labels: None,
            trimmer: Trimmer::usual(unit),
            keep: Keep { short: KEPT_SHORT.of(unit), long: KEPT_LONG.of(unit), value: 30 },
            spares: Spares { percent: 5, at_least: 1 },
            grain: GrainRule::Prefer,
            envelope: EnvelopeRules::usual(unit),
            rates: Rates::default(),
            has_rates: false,
            maker: MakerDetails::default(),
            post: Post { rules: "usps".to_owned(), prices: Vec::new() },
            formats: OwnFormats::default(),
            finishes: Vec::new(),
        }
    }
}

impl Trimmer {
    fn usual(unit: Unit) -> Trimmer {
        Trimmer {
            knife: KNIFE.of(unit),
            graduation: GRADUATION.of(unit),
            blade: Length::ZERO,
            squaring: Length::ZERO,
            lift: Lift { thickness: usual_lift(unit), sheets: None },
            smallest_hold: HOLD.of(unit),
            reach: KNIFE.of(unit),
            stages: None,
            waiting: WAITING,
        }
    }
}

/// Stacks that a table beside the trimmer has room for (common practice, no source).
const WAITING: u64 = 10;

/// What a hand trimmer cuts cleanly at once: 1/16 in or 1.5 mm (common practice, no source).
fn usual_lift(unit: Unit) -> Thickness {
    match unit {
        Unit::Inch => Length::from_inch_parts(1, 16).into(),
        Unit::Millimetre | Unit::Centimetre => Thickness::from_micrometres(1500),
    }
}

impl Default for EnvelopeRules {
    fn default() -> EnvelopeRules {
        EnvelopeRules::usual(Unit::Inch)
    }
}

impl EnvelopeRules {
    fn usual(unit: Unit) -> EnvelopeRules {
        EnvelopeRules {
            kind: EnvelopeKind::Wrap,
            clear_long: CLEAR_LONG.of(unit),
            clear_short: CLEAR_SHORT.of(unit),
            side_flap: None,
            top_flap: None,
            blank: BlankRule::Usual,
            liner_inset: LINER_INSET.of(unit),
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
            setup_minutes: 0,
            order_minimum: Money::ZERO,
            tax_percent: Percent::default(),
            deposit_percent: 0,
            valid_days: None,
            wholesale_percent: None,
            hours_per_day: 6,
            days_per_week: 7,
            dry_hours: 0,
            gauge: 20,
            stroke: 6,
            stack: 10,
            score: 8,
            fold: 6,
            stick: 20,
            envelope: 60,
            gift_box: 120,
            pack: 15,
        }
    }
}
