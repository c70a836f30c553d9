//! The bench and its rules.
//!
//! In: `workshop.toml`, every key optional. Out: a [`Workshop`]. It knows nothing of orders or stock.

mod defaults;
mod document;
mod read;

pub use read::read;

use crate::cuts::Bench;
use crate::formats::{LabelGrid, OwnFormats};
use crate::measure::{
    Axis, Currency, Length, LengthStyle, Money, Percent, Size, Thickness, Unit, Weight,
};

/// All settings of a workshop; [`Workshop::default`] is what a missing file means, [`Workshop::usual`] what missing
/// keys mean.
#[derive(Clone, Debug, PartialEq)]
pub struct Workshop {
    /// Unit of bare lengths.
    pub unit: Unit,
    /// Currency of all prices.
    pub currency: Currency,
    /// What the schedule is printed on.
    pub page: PageSize,
    /// The adhesive labels that `labels.pdf` is printed on; `None` for plain pages that are cut apart.
    pub labels: Option<&'static LabelGrid>,
    /// The trimmer.
    pub trimmer: Trimmer,
    /// What goes back in the drawer.
    pub keep: Keep,
    /// Extra pieces for spoilage.
    pub spares: Spares,
    /// How strictly folds follow the grain.
    pub grain: GrainRule,
    /// How cut envelopes are made.
    pub envelope: EnvelopeRules,
    /// What work costs.
    pub rates: Rates,
    /// Whether the file says what an hour, overhead or margin come to: else nobody asked for a price.
    pub has_rates: bool,
    /// Who makes the cards, for offers.
    pub maker: MakerDetails,
    /// Whose rules for letters, and what they cost.
    pub post: Post,
    /// Formats beside those of the trade.
    pub formats: OwnFormats,
    /// What it does to cards by hand beside folding and gluing, in the order of the file.
    pub finishes: Vec<Finish>,
}

/// Work on a card by hand, such as rounding its corners.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finish {
    /// What the workshop calls it.
    pub name: String,
    /// Seconds that it takes for a card.
    pub seconds: u64,
    /// What it costs for a card, beside the work.
    pub price: Money,
}

/// Who makes the cards; what is empty is not told.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct MakerDetails {
    /// The workshop's name.
    pub name: String,
    /// Where it is, line by line.
    pub address: String,
    /// What holds for every order, such as when it is paid.
    pub terms: String,
}

/// Whose rules for letters, and what they cost.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Post {
    /// Name of the postal rule set.
    pub rules: String,
    /// What letters cost, as far as it is known.
    pub prices: Vec<Postage>,
}

/// What a letter of a class costs up to a weight.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Postage {
    /// The class, as the rules call it.
    pub class: String,
    /// The heaviest letter of this price.
    pub up_to: Weight,
    /// The price.
    pub price: Money,
}

/// Sizes of paper that a schedule is printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PageSize {
    /// 8 1/2 x 11 in.
    Letter,
    /// 210 x 297 mm (ISO 216).
    A4,
}

/// The trimmer.
#[derive(Clone, Debug, PartialEq)]
pub struct Trimmer {
    /// Longest cut it makes.
    pub knife: Length,
    /// Finest step of its gauge.
    pub graduation: Length,
    /// Width lost per cut; 0 for a knife.
    pub blade: Length,
    /// Taken off each rough edge of a sheet before measuring; the blade is part of it.
    pub squaring: Length,
    /// How much goes under the knife at once.
    pub lift: Lift,
    /// Narrowest strip that can be held while it is cut.
    pub smallest_hold: Length,
    /// Farthest that the gauge can be set.
    pub reach: Length,
    /// How many stages a pattern may have, squaring apart: how often its cuts go another way than those
    /// before, and once for the first. `None` is any number.
    pub stages: Option<u32>,
    /// Stacks that may wait on the bench at once.
    pub waiting: u64,
}

/// How much goes under the knife at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lift {
    /// As many sheets as are this thick together, where it is known how thick one is.
    pub thickness: Thickness,
    /// So many sheets at most.
    pub sheets: Option<u64>,
}

impl Lift {
    /// Sheets at once where neither their thickness nor their number is known (common practice, no source).
    const UNMEASURED: u64 = 5;

    /// How many sheets of this thickness go under the knife at once: one at least.
    pub fn of(self, sheet: Option<Thickness>) -> u64 {
        let Some(sheet) = sheet.filter(|sheet| sheet.is_positive()) else {
            return self.sheets.unwrap_or(Lift::UNMEASURED);
        };
        let sheets = (self.thickness.nanometres() / sheet.nanometres()).max(1).unsigned_abs();
        self.sheets.map_or(sheets, |most| sheets.min(most))
    }
}

/// The keep rule: a remnant that reaches both sides is an offcut.
#[derive(Clone, Debug, PartialEq)]
pub struct Keep {
    /// Least short side.
    pub short: Length,
    /// Least long side.
    pub long: Length,
    /// Worth of an offcut, in percent of the sheet's price per area.
    pub value: u32,
}

impl Keep {
    /// Whether a remnant of this size goes back in the drawer.
    pub fn keeps(&self, size: Size) -> bool {
        size.is_positive() && size.short() >= self.short && size.long() >= self.long
    }
}

/// The spares rule: the larger of both, for each line and part.
#[derive(Clone, Debug, PartialEq)]
pub struct Spares {
    /// Percent of the count, rounded up.
    pub percent: u32,
    /// At least so many.
    pub at_least: u64,
}

/// How strictly folds follow the grain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GrainRule {
    /// A base that folds lies with its fold along the grain, or not at all.
    Strict,
    /// The better way where it costs nothing.
    Prefer,
    /// Not considered.
    Ignore,
}

/// How cut envelopes are made.
#[derive(Clone, Debug, PartialEq)]
pub struct EnvelopeRules {
    /// Shape of the blank.
    pub kind: EnvelopeKind,
    /// Room beyond the card's long side.
    pub clear_long: Length,
    /// Room beyond the card's short side.
    pub clear_short: Length,
    /// Side flap; `None` is the rule of `pieces/`.
    pub side_flap: Option<Length>,
    /// Top flap; `None` is the rule of `pieces/`.
    pub top_flap: Option<Length>,
    /// How large the blank is.
    pub blank: BlankRule,
    /// Liner inset on each side.
    pub liner_inset: Length,
    /// What an envelope costs that is bought.
    pub price: Money,
}

/// Shape of an envelope blank.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EnvelopeKind {
    /// Two side flaps, a bottom flap, a top flap.
    Wrap,
    /// A square folded on the diagonal.
    Diagonal,
}

/// How large an envelope blank is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BlankRule {
    /// With the usual flaps.
    Usual,
    /// As small as it can be and still close.
    Least,
    /// Such that a whole number of them fills a sheet of this size.
    Fill(Size),
}

/// What work costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Rates {
    /// Money for an hour of work, in minor units.
    pub labour_per_hour: Money,
    /// Percent on labour and paper.
    pub overhead_percent: u32,
    /// Percent of the price.
    pub margin_percent: u32,
    /// Minutes of work that a line takes however many cards it has.
    pub setup_minutes: u64,
    /// The least that an order is made for, before tax.
    pub order_minimum: Money,
    /// Tax on the price.
    pub tax_percent: Percent,
    /// What is paid before the work begins, in percent of all that is to be paid.
    pub deposit_percent: u32,
    /// How long an offer holds, in days; `None` where it does not say.
    pub valid_days: Option<u64>,
    /// What resellers pay, in percent of the price; `None` where there are none.
    pub wholesale_percent: Option<u32>,
    /// Hours of work in a day, 1 to 24.
    pub hours_per_day: u64,
    /// Days of work in a week, from Monday on, 1 to 7.
    pub days_per_week: u8,
    /// Hours for which what is glued dries, or is pressed, before work goes on.
    pub dry_hours: u64,
    /// Seconds a gauge setting takes.
    pub gauge: u64,
    /// Seconds a stroke takes.
    pub stroke: u64,
    /// Seconds it takes to fetch a stack, turn it or put it aside.
    pub stack: u64,
    /// Seconds a score line takes.
    pub score: u64,
    /// Seconds a fold takes.
    pub fold: u64,
    /// Seconds a glued layer takes.
    pub stick: u64,
    /// Seconds an envelope takes to make up.
    pub envelope: u64,
    /// Seconds a box takes to make up.
    pub gift_box: u64,
    /// Seconds a finished set takes to pack.
    pub pack: u64,
}

/// What cutting takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct TrimmerWork {
    /// How often the gauge is set.
    pub settings: u64,
    /// How often the knife comes down.
    pub strokes: u64,
    /// How often a stack is fetched, turned or put aside.
    pub moves: u64,
}

impl Rates {
    /// How long so much cutting takes, in seconds.
    pub fn cutting(&self, work: TrimmerWork) -> u64 {
        let TrimmerWork { settings, strokes, moves } = work;
        let parts = [(self.gauge, settings), (self.stroke, strokes), (self.stack, moves)];
        let times = parts.map(|(seconds, count)| seconds.saturating_mul(count));
        times.into_iter().fold(0, u64::saturating_add)
    }
}

impl PageSize {
    /// What `workshop.toml` calls them.
    pub const NAMES: [(&str, PageSize); 2] = [("letter", PageSize::Letter), ("a4", PageSize::A4)];

    /// The size of this name.
    pub fn named(name: &str) -> Option<PageSize> {
        PageSize::NAMES.into_iter().find(|(known, _)| *known == name).map(|(_, page)| page)
    }
}

impl Trimmer {
    /// Whether the gauge can be set to this distance, and the strip behind it be held.
    pub fn can_set(&self, gauge: Length) -> bool {
        (self.smallest_hold..=self.reach).contains(&gauge)
    }

    /// What can be cut with it.
    pub fn bench(&self) -> Bench {
        let Trimmer { blade, knife, smallest_hold: hold, stages, .. } = *self;
        Bench { blade, knife, hold, stages }
    }

    /// The direction in which a rough sheet of this size loses an edge first, so that no trim is longer than the knife: the
    /// first one is as long as the sheet, the second one shorter by what the first took, and those after it shorter still.
    /// `None` where the knife is too short either way, and the sheet can only be used by a bench that squares nothing.
    pub fn squares_first(&self, sheet: Size) -> Option<Axis> {
        let reaches = |axis: Axis| {
            let (first, second) = (sheet.along(axis.other()), sheet.along(axis) - self.squaring);
            first <= self.knife && second <= self.knife
        };
        let squares_nothing = !self.squaring.is_positive();
        [Axis::Width, Axis::Height].into_iter().find(|axis| squares_nothing || reaches(*axis))
    }

    /// What is left of a rough sheet of this size once its edges are off.
    pub fn squared(&self, sheet: Size) -> Size {
        let margin = self.squaring * 2;
        Size::new(sheet.width - margin, sheet.height - margin)
    }
}

impl Workshop {
    /// How lengths are written in this workshop.
    pub fn style(&self) -> LengthStyle {
        LengthStyle { unit: self.unit, graduation: self.trimmer.graduation }
    }
}
