//! A pocket with two side flaps, a bottom flap and a top flap.

use super::{FLAP_OVERLAP, face};
use crate::folds::Blank;
use crate::folds::Score;
use crate::measure::{Axis, Length, Size, Unit, Usual};
use crate::workshop::{EnvelopeRules, Workshop};

/// Least width of a side flap, for the glue, and the usual one of short cards: 1/2 in or 13 mm (common practice, no
/// source).
const NARROW_SIDE: Usual = Usual::new(1, 2, 13);
/// Usual width of a side flap of long cards: 1 in or 25 mm (common practice, no source).
const WIDE_SIDE: Usual = Usual::new(1, 1, 25);
/// A card whose long side is at least this is long: 5 in or 127 mm (common practice, no source).
const LONG_CARD: Length = Length::from_inch_parts(5, 1);

/// A blank of four flaps round a pocket.
pub(super) struct Wrap {
    pub pocket: Size,
    pub bottom: Length,
    pub side: Length,
    pub top: Length,
}

impl Wrap {
    /// Flaps as the workshop says, or as they usually are.
    pub fn usual(card: Size, workshop: &Workshop) -> Wrap {
        let rules = &workshop.envelope;
        let pocket = face(card, workshop);
        let side = rules.side_flap.unwrap_or_else(|| auto_side(card.long(), workshop.unit));
        let bottom = card.short().rounded_up(workshop.trimmer.graduation).min(pocket.height);
        Wrap { pocket, bottom, side, top: usual_top(pocket.height, workshop) }
    }

    /// The smallest blank that closes: narrow side flaps, and a top flap that overlaps the bottom flap by a
    /// gum band. Flaps that the workshop sets stay as they are.
    pub fn least(card: Size, workshop: &Workshop) -> Wrap {
        let (rules, step) = (&workshop.envelope, workshop.trimmer.graduation);
        let pocket = face(card, workshop);
        let side = rules.side_flap.unwrap_or(NARROW_SIDE.of(workshop.unit).min(half(pocket.width)));
        let both = (pocket.height * 2 + FLAP_OVERLAP).rounded_up(step) - pocket.height;
        Wrap::with_flaps(pocket, side, both, workshop)
    }

    /// Flaps that make the blank as large as `part` exactly; `None` where they would not close, meet or reach
    /// past an edge, or where the workshop sets them otherwise.
    pub fn filling(part: Size, card: Size, workshop: &Workshop) -> Option<Wrap> {
        let rules = &workshop.envelope;
        let pocket = face(card, workshop);
        let sides = (part.width - pocket.width).ticks();
        let side = (sides % 2 == 0).then(|| Length::from_ticks(sides / 2))?;
        let wrap = Wrap::with_flaps(pocket, side, part.height - pocket.height, workshop);
        let as_set = rules.side_flap.is_none_or(|set| set == side);
        (as_set && side >= NARROW_SIDE.of(workshop.unit) && wrap.closes()).then_some(wrap)
    }

    /// Top and bottom flap share a length: the top flap has its usual one, as far as the bottom flap then
    /// reaches no further than the pocket.
    fn with_flaps(pocket: Size, side: Length, both: Length, workshop: &Workshop) -> Wrap {
        let usual = usual_top(pocket.height, workshop);
        let top = match workshop.envelope.top_flap {
            Some(set) => set,
            None => usual.max(both - pocket.height).min(pocket.height),
        };
        Wrap { pocket, bottom: both - top, side, top }
    }

    /// Whether its flaps overlap enough, and none reaches past the edge across from it.
    pub fn closes(&self) -> bool {
        self.overlap() >= FLAP_OVERLAP
            && self.top <= self.pocket.height
            && self.bottom <= self.pocket.height
            && self.bottom.is_positive()
            && self.side * 2 <= self.pocket.width
    }

    pub fn blank(&self) -> Blank {
        let width = self.pocket.width + self.side * 2;
        let folds_up = self.bottom + self.pocket.height;
        let size = Size::new(width, folds_up + self.top);
        let mut scores = vec![
            Score::new(Axis::Width, self.side),
            Score::new(Axis::Width, width - self.side),
            Score::new(Axis::Height, self.bottom),
            Score::new(Axis::Height, folds_up),
        ];
        // A flap of no depth has no crease.
        scores.retain(|score| score.at.is_positive() && score.at < size.along(score.across));
        Blank { size, scores, grain_along: None }
    }

    /// How far the closed top flap reaches over the edge of the bottom flap.
    pub fn overlap(&self) -> Length {
        self.bottom + self.top - self.pocket.height
    }
}

fn auto_side(long: Length, unit: Unit) -> Length {
    if long >= LONG_CARD { WIDE_SIDE.of(unit) } else { NARROW_SIDE.of(unit) }
}

/// The top flap of a pocket of this height, as the workshop says or as it usually is.
pub(in crate::pieces) fn usual_top(pocket: Length, workshop: &Workshop) -> Length {
    let rules = &workshop.envelope;
    rules.top_flap.unwrap_or_else(|| auto_top(pocket, rules, workshop.trimmer.graduation))
}

/// Two fifths of the pocket's height and 5/8 in, to the nearest step of the gauge: the straight line
/// through the two blanks known from practice (2 3/8 in on a pocket of 4 3/8 in, 1 7/8 in on 3 1/8 in).
/// It is never so short that the flap would not overlap, nor longer than the pocket.
pub(super) fn auto_top(pocket: Length, rules: &EnvelopeRules, step: Length) -> Length {
    let step = step.ticks().max(1);
    let fifths = 2 * pocket.ticks() + 5 * Length::from_inch_parts(5, 8).ticks();
    let nearest = Length::from_ticks((2 * fifths + 5 * step).div_euclid(10 * step) * step);
    let least = rules.clear_short + FLAP_OVERLAP;
    nearest.max(least.rounded_up(Length::from_ticks(step))).min(pocket)
}

fn half(length: Length) -> Length {
    Length::from_ticks(length.ticks() / 2)
}
