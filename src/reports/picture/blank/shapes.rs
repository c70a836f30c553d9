//! The shapes of blanks. What an envelope and a box look like is common practice, no source; what a diagonal
//! blank needs follows from plane geometry.

use super::{Corner, Outline, SLANT};
use crate::measure::{Axis, Length, Size};
use crate::pieces::{LONGEST_FLAP, Piece};
use crate::reports::picture::millimetres;

/// Where a piece is folded, along an axis.
fn folds_at(piece: &Piece, axis: Axis) -> Vec<f64> {
    let own = piece.scores.iter().filter(|score| score.across == axis);
    own.map(|score| millimetres(score.at)).collect()
}

/// Bottom flap above, pocket, top flap below, a flap on each side of the pocket; corners are cut out, and
/// flaps grow narrower towards their edges.
pub fn wrap(piece: &Piece) -> Outline {
    let [width, height] = [piece.size.width, piece.size.height].map(millimetres);
    let (across, down) = (folds_at(piece, Axis::Width), folds_at(piece, Axis::Height));
    let left = across.first().copied().filter(|at| *at < width / 2.0).unwrap_or(0.0);
    let right = across.last().copied().filter(|at| *at > width / 2.0).unwrap_or(width);
    let upper = down.first().copied().unwrap_or(0.0);
    let lower = down.get(1).copied().unwrap_or(height);
    let slant = millimetres(SLANT);
    let outline = vec![
        (left + slant, 0.0),
        (right - slant, 0.0),
        (right, upper),
        (width, upper + slant),
        (width, lower - slant),
        (right, lower),
        (right - slant, height),
        (left + slant, height),
        (left, lower),
        (0.0, lower - slant),
        (0.0, upper + slant),
        (left, upper),
    ];
    let middle = |from: f64, to: f64| (width / 2.0, (from + to) / 2.0);
    let names = vec![
        (middle(0.0, upper), "bottom flap"),
        (middle(upper, lower), "front"),
        (middle(lower, height), "top flap"),
    ];
    let folds = vec![
        [(left, upper), (left, lower)],
        [(right, upper), (right, lower)],
        [(left, upper), (right, upper)],
        [(left, lower), (right, lower)],
    ];
    Outline { outline, folds, slits: Vec::new(), names }
}

/// A square whose diagonals lie along the sides of the face. At each corner of the face a small triangle is cut out
/// of the square's edge, so that two flaps part there.
pub fn diagonal(side: Length, face: Size) -> Outline {
    let side = millimetres(side);
    let (half_width, half_height) = (millimetres(face.width) / 2.0, millimetres(face.height) / 2.0);
    // From the middle, along the diagonals, to the square as it is cut.
    let turned = |(u, v): Corner| {
        let root = std::f64::consts::FRAC_1_SQRT_2;
        (side / 2.0 + (u + v) * root, side / 2.0 + (v - u) * root)
    };
    let reach = side * std::f64::consts::FRAC_1_SQRT_2;
    // Half of what the seams overlap, along the diagonals: what is left to the edge.
    let notch = (reach - half_width - half_height).max(0.0);
    let corner =
        |u: f64, v: f64| [(u + notch * u.signum(), v), (u, v), (u, v + notch * v.signum())];
    let [w, h] = [half_width, half_height];
    let mut outline = vec![(reach, 0.0)];
    outline.extend(corner(w, h));
    outline.push((0.0, reach));
    outline.extend(corner(-w, h).into_iter().rev());
    outline.push((-reach, 0.0));
    outline.extend(corner(-w, -h));
    outline.push((0.0, -reach));
    outline.extend(corner(w, -h).into_iter().rev());
    let corners = [(w, h), (-w, h), (-w, -h), (w, -h)].map(turned);
    let folds = (0..4).map(|at| [corners[at], corners[(at + 1) % 4]]).collect();
    let names = vec![
        (turned((0.0, -(h + (reach - h) / 3.0))), "top flap"),
        (turned((0.0, 0.0)), "front"),
        (turned((0.0, h + (reach - h) / 3.0)), "bottom flap"),
    ];
    let outline = outline.into_iter().map(turned).collect();
    Outline { outline, folds, slits: Vec::new(), names }
}

/// The part inside the pocket above; below it what lies under the flap, narrower towards its edge as the flap is.
pub fn lining(piece: &Piece) -> Outline {
    let [width, height] = [piece.size.width, piece.size.height].map(millimetres);
    let fold = folds_at(piece, Axis::Height).first().copied().unwrap_or(height);
    let slant = millimetres(SLANT).min(width / 2.0);
    let outline = vec![
        (0.0, 0.0),
        (width, 0.0),
        (width, fold),
        (width - slant, height),
        (slant, height),
        (0.0, fold),
    ];
    Outline {
        outline,
        folds: vec![[(0.0, fold), (width, fold)]],
        slits: Vec::new(),
        names: Vec::new(),
    }
}

/// The same for a flap with a point: its edges run at 45 degrees from there.
pub fn pointed_lining(piece: &Piece) -> Outline {
    let [width, height] = [piece.size.width, piece.size.height].map(millimetres);
    let fold = folds_at(piece, Axis::Height).first().copied().unwrap_or(height);
    let half = (height - fold).min(width / 2.0);
    let outline = vec![
        (0.0, 0.0),
        (width, 0.0),
        (width, fold),
        (width / 2.0 + half, fold),
        (width / 2.0, height),
        (width / 2.0 - half, fold),
        (0.0, fold),
    ];
    let folds = vec![[(width / 2.0 - half, fold), (width / 2.0 + half, fold)]];
    Outline { outline, folds, slits: Vec::new(), names: Vec::new() }
}

/// Bottom and side walls in the full width; front and back wall with their corners slit to become tabs; lid and flap
/// below them, as wide as the bottom.
pub fn gift_box(piece: &Piece) -> Outline {
    let [width, height] = [piece.size.width, piece.size.height].map(millimetres);
    let (across, down) = (folds_at(piece, Axis::Width), folds_at(piece, Axis::Height));
    let ([left, right], [front, back, lid, flap]) = (across.as_slice(), down.as_slice()) else {
        let outline = vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
        return Outline { outline, folds: Vec::new(), slits: Vec::new(), names: Vec::new() };
    };
    let (left, right, front, back, lid, flap) = (*left, *right, *front, *back, *lid, *flap);
    let slant = millimetres(SLANT).min((right - left) / 2.0);
    // Tabs of high walls are cut narrower, so that two of them find room on a side wall.
    let tab = front.min((back - front) / 2.0).min(millimetres(LONGEST_FLAP));
    let outline = vec![
        (left - tab, 0.0),
        (right + tab, 0.0),
        (right + tab, front),
        (width, front),
        (width, back),
        (right + tab, back),
        (right + tab, lid),
        (right, lid),
        (right, flap),
        (right - slant, height),
        (left + slant, height),
        (left, flap),
        (left, lid),
        (left - tab, lid),
        (left - tab, back),
        (0.0, back),
        (0.0, front),
        (left - tab, front),
    ];
    let middle = |from: f64, to: f64| ((left + right) / 2.0, (from + to) / 2.0);
    let names = vec![
        (middle(0.0, front), "front wall"),
        (middle(front, back), "bottom"),
        (middle(back, lid), "back wall"),
        (middle(lid, flap), "lid"),
        (middle(flap, height), "flap"),
        ((left / 2.0, (front + back) / 2.0), "side"),
        (((right + width) / 2.0, (front + back) / 2.0), "side"),
    ];
    let folds = vec![
        [(left, 0.0), (left, lid)],
        [(right, 0.0), (right, lid)],
        [(left, front), (right, front)],
        [(left, back), (right, back)],
        [(left, lid), (right, lid)],
        [(left, flap), (right, flap)],
    ];
    let slits = vec![
        [(left - tab, front), (left, front)],
        [(right, front), (right + tab, front)],
        [(left - tab, back), (left, back)],
        [(right, back), (right + tab, back)],
    ];
    Outline { outline, folds, slits, names }
}
