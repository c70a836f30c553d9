//! The layer inside an envelope: along its front, and up under the top flap.

use super::{FLAP_OVERLAP, Pocket};
use crate::diagnostics::{Place, Problem, Problems};
use crate::folds::Blank;
use crate::folds::Score;
use crate::measure::{Axis, Length, Size, Usual};
use crate::workshop::Workshop;

/// What a liner leaves free at the sides and at the bottom of the pocket, so that it slides in: 1/8 in or
/// 3 mm (common practice, no source).
const ROOM: Usual = Usual::new(1, 8, 3);

/// As wide as the pocket allows; from its bottom up to the gum band of the top flap, where the flap's slants are
/// cut off by hand. It is creased where the flap folds.
pub fn liner(
    pocket: &Pocket,
    workshop: &Workshop,
    place: Option<&Place>,
    problems: &mut Problems,
) -> Option<Blank> {
    let step = workshop.trimmer.graduation;
    let room = ROOM.of(workshop.unit);
    let inside = pocket.face.height - room;
    let size = Size::new(
        pocket.face.width - room * 2,
        (inside + pocket.flap - FLAP_OVERLAP).rounded_down(step),
    );
    if size.short() < Length::LEAST_SIDE {
        let label = format!("the envelope is {}", workshop.style().size(pocket.face));
        problems.push(
            Problem::error("piece-vanishes", "no room for the liner of an envelope")
                .at(place, label)
                .help("leave the liner out of such small envelopes"),
        );
        return None;
    }
    let flap = Score::new(Axis::Height, inside);
    let scores = vec![flap].into_iter().filter(|score| score.at < size.height);
    Some(Blank { size, scores: scores.collect(), grain_along: None })
}
