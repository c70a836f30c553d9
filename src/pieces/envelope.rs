//! Envelope blanks cut by hand, and what makes them close well.
//!
//! No published standard for such a blank was found; the shapes are common practice, no source, and
//! the least overlap of the closed flap is the gum band of a published paper specification.

use super::Score;
use super::recipe::Blank;
use crate::diagnostics::{Place, Problem, Problems};
use crate::measure::{Axis, Length, Size};
use crate::workshop::{EnvelopeKind, EnvelopeRules, Workshop};

/// Least overlap of the closed top flap: the gum band of 13 mm (1/2 in) in the US government paper
/// specification JCP V20.
pub const FLAP_OVERLAP: Length = Length::from_inch_parts(1, 2);

/// Overlap of the seams of a diagonal envelope, at right angles to the seam: 3/4 in (common practice,
/// no source).
pub const SEAM_OVERLAP: Length = Length::from_inch_parts(3, 4);

/// The blank for a card, by the workshop's kind.
pub(super) fn blank(
    card: Size,
    workshop: &Workshop,
    place: Option<&Place>,
    problems: &mut Problems,
) -> Blank {
    let rules = &workshop.envelope;
    let pocket = Size::new(card.long() + rules.clear_long, card.short() + rules.clear_short);
    let mut doubts = Doubts { workshop, place, problems };
    match rules.kind {
        EnvelopeKind::Wrap => {
            let wrap = Wrap::around(card, pocket, workshop);
            doubts.about_wrap(&wrap);
            wrap.blank()
        }
        EnvelopeKind::Diagonal => {
            doubts.about_diagonal(pocket);
            let side = square_side(pocket, SEAM_OVERLAP, workshop.trimmer.graduation);
            // Its folds run at 45 degrees to the blank's edges, so no score line is given for them.
            Blank { size: Size::new(side, side), scores: Vec::new(), fold_along: None }
        }
    }
}

/// A pocket with two side flaps, a bottom flap and a top flap.
struct Wrap {
    pocket: Size,
    bottom: Length,
    side: Length,
    top: Length,
}

impl Wrap {
    fn around(card: Size, pocket: Size, workshop: &Workshop) -> Wrap {
        let rules = &workshop.envelope;
        let side = rules.side_flap.unwrap_or_else(|| auto_side(card.long()));
        let step = workshop.trimmer.graduation;
        let top = rules.top_flap.unwrap_or_else(|| auto_top(pocket.height, rules, step));
        Wrap { pocket, bottom: card.short(), side, top }
    }

    fn blank(&self) -> Blank {
        let width = self.pocket.width + self.side * 2;
        let folds_up = self.bottom + self.pocket.height;
        let size = Size::new(width, folds_up + self.top);
        let mut scores = vec![
            Score { across: Axis::Width, at: self.side },
            Score { across: Axis::Width, at: width - self.side },
            Score { across: Axis::Height, at: self.bottom },
            Score { across: Axis::Height, at: folds_up },
        ];
        // A flap of no depth has no crease.
        scores.retain(|score| score.at.is_positive() && score.at < size.along(score.across));
        Blank { size, scores, fold_along: None }
    }

    /// How far the closed top flap reaches over the edge of the bottom flap.
    fn overlap(&self) -> Length {
        self.bottom + self.top - self.pocket.height
    }
}

/// 1 in for cards of 5 in and longer, else 1/2 in (common practice, no source).
fn auto_side(long: Length) -> Length {
    match long >= Length::from_inch_parts(5, 1) {
        true => Length::from_inch_parts(1, 1),
        false => Length::from_inch_parts(1, 2),
    }
}

/// Two fifths of the pocket's height and 5/8 in, to the nearest step of the gauge: the straight line
/// through the two blanks known from practice (2 3/8 in on a pocket of 4 3/8 in, 1 7/8 in on 3 1/8 in).
/// It is never so short that the flap would not overlap, nor longer than the pocket.
fn auto_top(pocket: Length, rules: &EnvelopeRules, step: Length) -> Length {
    let step = step.ticks().max(1);
    let fifths = 2 * pocket.ticks() + 5 * Length::from_inch_parts(5, 8).ticks();
    let nearest = Length::from_ticks((2 * fifths + 5 * step).div_euclid(10 * step) * step);
    let least = rules.clear_short + FLAP_OVERLAP;
    nearest.max(round_up(least.ticks(), step)).min(pocket)
}

/// Side of the square blank whose diagonals lie along the sides of `face`: `(w + h) / sqrt 2 + overlap`,
/// rounded up to a step of the gauge, exactly. The back is then covered, since that needs no more than
/// `(w + h) / sqrt 2` (plane geometry).
pub fn square_side(face: Size, overlap: Length, step: Length) -> Length {
    let around = i128::from((face.width + face.height).ticks());
    let root = ceiling_root_of_half(around * around);
    let side = i64::try_from(root).unwrap_or(i64::MAX / 2) + overlap.ticks();
    round_up(side, step.ticks().max(1))
}

/// The least whole r with `2 r² >= square`.
fn ceiling_root_of_half(square: i128) -> i128 {
    let root = (square / 2).isqrt();
    root + i128::from(2 * root * root < square)
}

fn round_up(ticks: i64, step: i64) -> Length {
    Length::from_ticks((ticks + step - 1).div_euclid(step) * step)
}

/// Says what may go wrong with an envelope; it is made all the same.
struct Doubts<'a> {
    workshop: &'a Workshop,
    place: Option<&'a Place>,
    problems: &'a mut Problems,
}

impl Doubts<'_> {
    fn about_wrap(&mut self, wrap: &Wrap) {
        let style = self.workshop.style();
        if wrap.overlap() < FLAP_OVERLAP {
            let least = wrap.pocket.height - wrap.bottom + FLAP_OVERLAP;
            self.warn(
                "the envelope's top flap hardly overlaps its bottom flap",
                format!(
                    "it overlaps by {}, a gum band needs {}",
                    style.with_unit(wrap.overlap()),
                    style.with_unit(FLAP_OVERLAP)
                ),
                format!("make `top_flap` at least {}", style.with_unit(least)),
            );
        }
        if wrap.top > wrap.pocket.height {
            self.warn(
                "the envelope's top flap reaches past its bottom edge",
                format!("the pocket is {} high", style.with_unit(wrap.pocket.height)),
                format!("make `top_flap` at most {}", style.with_unit(wrap.pocket.height)),
            );
        }
        if wrap.side * 2 > wrap.pocket.width {
            self.warn(
                "the envelope's side flaps meet each other",
                format!("the pocket is {} wide", style.with_unit(wrap.pocket.width)),
                "make `side_flap` at most half of that".to_owned(),
            );
        }
    }

    /// The top flap's point is w/2 + overlap/sqrt 2 deep: at most h where `2 overlap² <= (2h - w)²`.
    fn about_diagonal(&mut self, face: Size) {
        let room = i128::from((face.height * 2 - face.width).ticks());
        let overlap = i128::from(SEAM_OVERLAP.ticks());
        if room < 0 || 2 * overlap * overlap > room * room {
            self.warn(
                "the envelope's pointed flap reaches past its bottom edge",
                format!("the face is {}", self.workshop.style().size(face)),
                "set `kind` to \"wrap\" for long cards, or trim the point by hand".to_owned(),
            );
        }
    }

    fn warn(&mut self, title: &str, label: String, help: String) {
        let problem = Problem::warning("piece-envelope-flap", title).at(self.place, label);
        self.problems.push(problem.help(format!("{help} (under [envelope] in the workshop file)")));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pieces::samples::{inches, size, workshop};

    fn top(pocket: &str) -> Length {
        let workshop = workshop();
        auto_top(inches(pocket), &workshop.envelope, workshop.trimmer.graduation)
    }

    #[test]
    fn the_automatic_top_flap_follows_its_line_and_stays_within_the_pocket() {
        assert_eq!(top("4 3/8"), inches("2 3/8"));
        assert_eq!(top("3 1/8"), inches("1 7/8"));
        assert_eq!(top("5 1/8"), inches("2 11/16"), "2.675 in to the nearest 1/16");
        assert_eq!(top("1"), inches("1"), "1.025 in would pass the bottom edge");
    }

    #[test]
    fn a_wide_clearance_lengthens_the_automatic_top_flap() {
        let mut workshop = workshop();
        workshop.envelope.clear_short = inches("2");
        let top = auto_top(inches("4"), &workshop.envelope, workshop.trimmer.graduation);
        assert_eq!(top, inches("2 1/2"));
    }

    fn warnings(card: &str, change: impl Fn(&mut EnvelopeRules)) -> usize {
        let mut workshop = workshop();
        change(&mut workshop.envelope);
        let mut problems = Problems::new();
        blank(size(card), &workshop, None, &mut problems);
        assert!(!problems.has_errors());
        problems.iter().count()
    }

    #[test]
    fn flaps_warn_just_beyond_their_limits() {
        let with_top = |text: &'static str| {
            move |rules: &mut EnvelopeRules| {
                rules.top_flap = Some(inches(text));
            }
        };
        assert_eq!(warnings("5 1/2 x 4 1/4", with_top("5/8")), 0, "overlap of exactly 1/2 in");
        assert_eq!(warnings("5 1/2 x 4 1/4", with_top("9/16")), 1);
        assert_eq!(warnings("5 1/2 x 4 1/4", with_top("4 3/8")), 0, "as long as the pocket");
        assert_eq!(warnings("5 1/2 x 4 1/4", with_top("4 7/16")), 1);
        let with_side = |text: &'static str| {
            move |rules: &mut EnvelopeRules| {
                rules.side_flap = Some(inches(text));
            }
        };
        assert_eq!(warnings("5 1/2 x 4 1/4", with_side("2 7/8")), 0, "they just meet");
        assert_eq!(warnings("5 1/2 x 4 1/4", with_side("2 15/16")), 1);
    }

    #[test]
    fn a_flap_left_out_has_no_crease() {
        let mut workshop = workshop();
        workshop.envelope.side_flap = Some(Length::ZERO);
        let blank = blank(size("5 1/2 x 4 1/4"), &workshop, None, &mut Problems::new());
        assert_eq!(blank.size.width, inches("5 3/4"));
        assert!(blank.scores.iter().all(|score| score.across == Axis::Height));
    }

    #[test]
    fn a_pointed_flap_warns_on_long_faces_only() {
        let diagonal = |rules: &mut EnvelopeRules| rules.kind = EnvelopeKind::Diagonal;
        assert_eq!(warnings("7 x 5", diagonal), 0);
        assert_eq!(warnings("9 1/4 x 4", diagonal), 1);
    }

    #[test]
    fn the_root_is_the_least_that_suffices() {
        for square in 0..2000_i128 {
            let root = ceiling_root_of_half(square);
            assert!(2 * root * root >= square);
            assert!(root == 0 || 2 * (root - 1) * (root - 1) < square);
        }
    }
}
