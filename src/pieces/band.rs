//! The strip round a card.

use super::given::Given;
use super::{Piece, thickness};
use crate::folds::Blank;
use crate::folds::Score;
use crate::measure::{Axis, Length, Size};
use crate::orders::{Band, OrderLine};

/// How far the ends of a band lie over each other at the back: 3/4 in (common practice, no source).
const OVERLAP: Length = Length::from_inch_parts(3, 4);

/// A band goes round the closed card from left to right: its front, creased where it turns at the edges of the
/// card, and two ends that meet at the back. Front and back are as wide as the card and as thick as all that
/// is in it, to the next step of the gauge, so that the band slides off.
pub(super) fn blank(line: &OrderLine, band: &Band, inside: &[Piece], ground: Given) -> Blank {
    let step = ground.workshop.trimmer.graduation;
    let thick = thickness::together(inside, ground.papers).unwrap_or_default();
    let thick = thick.length().max(Length::from_ticks(1));
    let front = (line.card.value.width + thick).rounded_up(step);
    // Ends that lie over each other further than the back is wide would reach past its edges.
    let overlap = OVERLAP.min(front);
    let end = Length::from_ticks((front + overlap).ticks() / 2).rounded_up(step);
    let score = |at| Score::new(Axis::Width, at);
    Blank {
        size: Size::new(front + end * 2, band.width),
        scores: vec![score(end), score(end + front)],
        grain_along: Some(Axis::Height),
    }
}
