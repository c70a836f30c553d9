//! A square that is folded on its diagonals.

use super::{FLAP_OVERLAP, face};
use crate::measure::{Length, Size};
use crate::workshop::Workshop;

/// Overlap of the seams of a diagonal envelope, at right angles to the seam: 3/4 in (common practice,
/// no source).
pub const SEAM_OVERLAP: Length = Length::from_inch_parts(3, 4);

/// A square blank whose diagonals lie along the sides of its face. Its folds run at 45 degrees to its edges,
/// so no score line is given for them.
pub(super) struct Diagonal {
    pub face: Size,
    pub side: Length,
}

impl Diagonal {
    pub fn usual(card: Size, workshop: &Workshop) -> Diagonal {
        Diagonal::overlapping(card, SEAM_OVERLAP, workshop)
    }

    /// Seams that overlap by a gum band and no more.
    pub fn least(card: Size, workshop: &Workshop) -> Diagonal {
        Diagonal::overlapping(card, FLAP_OVERLAP, workshop)
    }

    /// The square as large as `part`; `None` where that is none, or too small to close, or so large that a
    /// point passes the edge across from it.
    pub fn filling(part: Size, card: Size, workshop: &Workshop) -> Option<Diagonal> {
        let diagonal = Diagonal { face: face(card, workshop), side: part.width };
        let enough = square_side(diagonal.face, FLAP_OVERLAP, Length::from_ticks(1));
        let closes = part.width >= enough && !diagonal.passes_its_edge();
        (part.width == part.height && closes).then_some(diagonal)
    }

    fn overlapping(card: Size, overlap: Length, workshop: &Workshop) -> Diagonal {
        let face = face(card, workshop);
        Diagonal { face, side: square_side(face, overlap, workshop.trimmer.graduation) }
    }

    /// How far the point of the top flap reaches: half of the square's diagonal, less half of the face's height.
    pub fn flap(&self) -> Length {
        let side = i128::from(self.side.ticks());
        let half_diagonal = (side * side / 2).isqrt();
        let half_diagonal = i64::try_from(half_diagonal).unwrap_or(i64::MAX / 2);
        Length::from_ticks(half_diagonal - self.face.height.ticks() / 2)
    }

    /// The top flap's point is `side / sqrt 2 - h/2` deep: at most h where `2 side² <= (3h)²`.
    pub fn passes_its_edge(&self) -> bool {
        let (side, height) = (i128::from(self.side.ticks()), i128::from(self.face.height.ticks()));
        2 * side * side > 9 * height * height
    }
}

/// Side of the square blank whose diagonals lie along the sides of `face`: `(w + h) / sqrt 2 + overlap`,
/// rounded up to a step of the gauge, exactly. The back is then covered, since that needs no more than
/// `(w + h) / sqrt 2` (plane geometry).
pub fn square_side(face: Size, overlap: Length, step: Length) -> Length {
    let around = i128::from((face.width + face.height).ticks());
    let root = ceiling_root_of_half(around * around);
    let side = Length::from_ticks(i64::try_from(root).unwrap_or(i64::MAX / 2));
    (side + overlap).rounded_up(step)
}

/// The least whole r with `2 r² >= square`.
fn ceiling_root_of_half(square: i128) -> i128 {
    let root = (square / 2).isqrt();
    root + i128::from(2 * root * root < square)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_root_is_the_least_that_suffices() {
        for square in 0..2000_i128 {
            let root = ceiling_root_of_half(square);
            assert!(2 * root * root >= square);
            assert!(root == 0 || 2 * (root - 1) * (root - 1) < square);
        }
    }
}
