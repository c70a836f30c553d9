//! `envelopes.svg`: the envelope blanks of a batch in full size, to lay the paper on or to cut along.
//!
//! Continuous lines are cut, dotted ones are scored and folded. The shapes are common practice, no source; what a
//! diagonal blank needs follows from plane geometry.

use super::labels::width_of;
use super::mm;
use crate::measure::{Axis, Length, Size};
use crate::pieces::{Part, Piece};
use crate::reports::Batch;
use crate::reports::visible::escaped;
use crate::workshop::EnvelopeKind;
use std::fmt::Write;

/// A point of a blank, in millimetres from its upper left corner.
type Point = (f64, f64);

/// The shape of a blank.
#[derive(Clone, Debug, PartialEq)]
struct Shape {
    /// What is cut along, round the blank.
    outline: Vec<Point>,
    /// What is folded along, from one end to the other.
    folds: Vec<[Point; 2]>,
}

/// How much a flap is narrower at its edge than at its fold, on each side, so that it slides in easily.
const SLANT: Length = Length::from_inch_parts(1, 8);
/// Room round each blank.
const ROOM: f64 = 8.0;
/// Room for the words above each blank.
const TITLE: f64 = 10.0;

fn length(length: Length) -> f64 {
    length.ticks() as f64 / Length::TICKS_PER_MM as f64
}

/// All blanks of a batch below each other; `None` where no envelope is cut.
pub fn envelopes(batch: &Batch) -> Option<String> {
    let pieces = batch.bill.pieces.iter().filter(|piece| piece.part == Part::Envelope);
    let shapes: Vec<(&Piece, Shape)> = pieces.map(|piece| (piece, shape(piece, batch))).collect();
    if shapes.is_empty() {
        return None;
    }
    let (mut body, mut y, mut width) = (String::new(), 0.0, 0.0_f64);
    for (piece, shape) in &shapes {
        let title = format!(
            "{}: {}, {}; cut along the lines, score and fold along the dots",
            escaped(&piece.id),
            escaped(&piece.papers.join(" or ")),
            escaped(&batch.workshop.style().size(piece.size))
        );
        let _ = write!(
            body,
            "<text x=\"{}\" y=\"{}\" font-family=\"sans-serif\" font-size=\"4\">{title}</text>",
            mm(ROOM),
            mm(y + TITLE - 3.0)
        );
        put(&mut body, shape, (ROOM, y + TITLE));
        let own = length(piece.size.width).max(width_of(&title, 4.0));
        width = width.max(own + 2.0 * ROOM);
        y += TITLE + length(piece.size.height) + ROOM;
    }
    let [width, height] = [mm(width), mm(y)];
    Some(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"Envelope blanks in full size\" \
         width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>{body}</svg>\n"
    ))
}

fn put(body: &mut String, shape: &Shape, (x, y): Point) {
    let at = |(across, down): &Point| format!("{} {}", mm(x + across), mm(y + down));
    let outline: Vec<String> = shape.outline.iter().map(at).collect();
    let _ = write!(
        body,
        "<path d=\"M{}Z\" fill=\"none\" stroke=\"#111\" stroke-width=\".3\"/>",
        outline.join("L")
    );
    for [from, to] in &shape.folds {
        let _ = write!(
            body,
            "<path d=\"M{}L{}\" stroke=\"#111\" stroke-width=\".35\" stroke-dasharray=\".1 1.2\" \
             stroke-linecap=\"round\"/>",
            at(from),
            at(to)
        );
    }
}

fn shape(piece: &Piece, batch: &Batch) -> Shape {
    match batch.workshop.envelope.kind {
        EnvelopeKind::Wrap => wrap(piece),
        EnvelopeKind::Diagonal => diagonal(piece.size.width, face(piece, batch)),
    }
}

/// The pocket of the first line that needs the blank.
fn face(piece: &Piece, batch: &Batch) -> Size {
    let line = piece
        .shares
        .first()
        .and_then(|share| batch.order.lines.iter().find(|line| line.name.value == share.line));
    let card = line.map_or(piece.size, |line| line.card.value);
    let rules = &batch.workshop.envelope;
    Size::new(card.long() + rules.clear_long, card.short() + rules.clear_short)
}

/// Bottom flap above, pocket, top flap below, a flap on each side of the pocket; corners are cut out, and
/// flaps grow narrower towards their edges.
fn wrap(piece: &Piece) -> Shape {
    let [width, height] = [piece.size.width, piece.size.height].map(length);
    let folds_at = |axis: Axis| -> Vec<f64> {
        let own = piece.scores.iter().filter(|score| score.across == axis);
        own.map(|score| length(score.at)).collect()
    };
    let (across, down) = (folds_at(Axis::Width), folds_at(Axis::Height));
    let left = across.first().copied().filter(|at| *at < width / 2.0).unwrap_or(0.0);
    let right = across.last().copied().filter(|at| *at > width / 2.0).unwrap_or(width);
    let upper = down.first().copied().unwrap_or(0.0);
    let lower = down.get(1).copied().unwrap_or(height);
    let slant = length(SLANT);
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
    let folds = vec![
        [(left, upper), (left, lower)],
        [(right, upper), (right, lower)],
        [(left, upper), (right, upper)],
        [(left, lower), (right, lower)],
    ];
    Shape { outline, folds }
}

/// A square whose diagonals lie along the sides of the face. At each corner of the face a small triangle is cut out
/// of the square's edge, so that two flaps part there.
fn diagonal(side: Length, face: Size) -> Shape {
    let side = length(side);
    let (half_width, half_height) = (length(face.width) / 2.0, length(face.height) / 2.0);
    // From the middle, along the diagonals, to the square as it is cut.
    let turned = |(u, v): Point| {
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
    Shape { outline: outline.into_iter().map(turned).collect(), folds }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pieces::{SEAM_OVERLAP, square_side};
    use crate::reports::fixture;
    use approx::assert_relative_eq;

    /// Twice the signed area (shoelace formula, plane geometry).
    fn area(points: &[Point]) -> f64 {
        let next = points.iter().cycle().skip(1);
        let sum: f64 = points.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
        sum.abs() / 2.0
    }

    fn inches(text: &str) -> Size {
        fixture::size(text)
    }

    #[test]
    fn a_wrap_blank_is_its_rectangle_less_four_corners_and_the_slants() {
        let made = fixture::fair();
        let piece = made.bill.pieces.iter().find(|it| it.part == Part::Envelope).unwrap();
        let shape = wrap(piece);
        let [width, height] = [piece.size.width, piece.size.height].map(length);
        let inside = |(x, y): &Point| (0.0..=width).contains(x) && (0.0..=height).contains(y);
        assert!(shape.outline.iter().all(inside));
        let scores: Vec<f64> = piece.scores.iter().map(|score| length(score.at)).collect();
        let (side, upper, lower) = (scores[0], scores[2], scores[3]);
        let (top, slant) = (height - lower, length(SLANT));
        let corners = 2.0 * side * (upper + top);
        let slants = slant * (upper + top) + 2.0 * slant * side;
        assert_relative_eq!(
            area(&shape.outline),
            width * height - corners - slants,
            epsilon = 1e-6
        );
    }

    /// The faces of the published derivation: the side of the square, and what its flaps come to.
    #[test]
    fn a_diagonal_blank_closes_over_its_face() {
        for text in ["5 3/4 x 4 3/8", "6 1/2 x 4 3/4", "7 1/4 x 5 1/4", "6 x 6"] {
            let face = inches(text);
            let side = square_side(face, SEAM_OVERLAP, Length::from_ticks(1));
            let shape = diagonal(side, face);
            let whole = length(side) * length(side);
            // Four notches, right triangles whose legs are the overlap over the root of two.
            let leg = length(SEAM_OVERLAP) * std::f64::consts::FRAC_1_SQRT_2;
            assert_relative_eq!(
                area(&shape.outline),
                whole - 4.0 * leg * leg / 2.0,
                max_relative = 1e-5
            );
            let corners: Vec<Point> = shape.folds.iter().map(|fold| fold[0]).collect();
            let face = length(face.width) * length(face.height);
            assert_relative_eq!(area(&corners), face, max_relative = 1e-9);
            // Folded in, the flaps cover the back and overlap along the seams.
            assert!(whole - face > face, "{text}");
        }
    }

    #[test]
    fn blanks_are_drawn_in_full_size_and_names_are_only_text() {
        let mut made = fixture::fair();
        for piece in &mut made.bill.pieces {
            piece.id = "<b>\u{202e}".to_owned();
        }
        let svg = envelopes(&made.batch()).unwrap();
        let height = svg.split("height=\"").nth(1).unwrap().split("mm").next().unwrap();
        let piece = made.bill.pieces.iter().find(|it| it.part == Part::Envelope).unwrap();
        let blanks = made.bill.pieces.iter().filter(|it| it.part == Part::Envelope).count() as f64;
        let expected = length(piece.size.height) * blanks + blanks * (TITLE + ROOM);
        assert_relative_eq!(height.parse::<f64>().unwrap(), expected, epsilon = 0.02);
        assert!(!svg.contains("<b>") && !svg.contains('\u{202e}'));
        assert_eq!(envelopes(&fixture::lesson().batch()), None);
    }
}
