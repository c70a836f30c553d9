//! The shapes of pieces: what is cut along by hand, what is folded, and what the parts are called.

mod shapes;

use super::millimetres;
use crate::folds::{Score, ScoreSide};
use crate::job::Job;
use crate::measure::{Axis, Length, Size};
use crate::orders::Envelope;
use crate::pieces::{Enclosed, Part, Piece, is_turned, scores_upright, upright};
use crate::workshop::EnvelopeKind;

/// A point of a blank, in millimetres from its upper left corner.
pub type Corner = (f64, f64);

/// The shape of a blank.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// What is cut along, round the blank.
    pub outline: Vec<Corner>,
    /// What is folded along, from one end to the other.
    pub folds: Vec<[Corner; 2]>,
    /// What is cut inside the outline.
    pub slits: Vec<[Corner; 2]>,
    /// What its parts are called, and where that stands.
    pub names: Vec<(Corner, &'static str)>,
}

impl Outline {
    /// The blank of this size after half a turn.
    fn half_turned(mut self, size: Size) -> Outline {
        let [width, height] = [size.width, size.height].map(millimetres);
        let turn = |corner: &mut Corner| *corner = (width - corner.0, height - corner.1);
        self.outline.iter_mut().for_each(turn);
        self.folds.iter_mut().chain(&mut self.slits).flatten().for_each(turn);
        self.names.iter_mut().for_each(|(corner, _)| turn(corner));
        self
    }
}

/// How much a flap is narrower at its edge than at its fold, on each side, so that it slides in easily.
const SLANT: Length = Length::from_inch_parts(1, 8);

/// The shapes of the pieces of a job.
#[derive(Debug)]
pub struct PieceShapes<'a> {
    job: &'a Job,
    enclosed: Enclosed<'a>,
}

impl<'a> PieceShapes<'a> {
    /// Of this job.
    pub fn of(job: &'a Job) -> PieceShapes<'a> {
        let enclosed = Enclosed::of(&job.order, &job.bill, &job.stock, &job.workshop);
        PieceShapes { job, enclosed }
    }

    /// The shape of a blank as it lies with the design of its paper upright; `None` of a piece that is a plain rectangle.
    pub fn shape(&self, piece: &Piece) -> Option<Outline> {
        let is_turned = is_turned(piece, upright(piece, &self.job.stock));
        let shape = self.unturned(piece)?;
        Some(if is_turned { shape.half_turned(piece.size) } else { shape })
    }

    /// Any piece opened out, outer side up: its shape, or its panels.
    pub fn opened(&self, piece: &Piece) -> Outline {
        self.shape(piece).unwrap_or_else(|| {
            let scores = scores_upright(piece, upright(piece, &self.job.stock));
            panels(piece.part, piece.size, &scores)
        })
    }

    /// The shape of a blank as its pieces are measured.
    fn unturned(&self, piece: &Piece) -> Option<Outline> {
        let share = piece.shares.first();
        let line = share.and_then(|share| {
            self.job.order.lines.iter().find(|line| line.name.value == share.line)
        });
        let is_cut = line.is_some_and(|line| matches!(line.envelope, Envelope::Cut(_)));
        let kind = if is_cut { self.job.workshop.envelope.kind } else { EnvelopeKind::Wrap };
        // The face of a square blank follows from the first line that needs it.
        let face = || line.and_then(|line| self.enclosed.pocket(line));
        match (piece.part, kind) {
            (Part::Envelope, EnvelopeKind::Wrap) => Some(shapes::wrap(piece)),
            (Part::Envelope, EnvelopeKind::Diagonal) => {
                face().map(|pocket| shapes::diagonal(piece.size.width, pocket.face))
            }
            (Part::EnvelopeLiner, EnvelopeKind::Wrap) => Some(shapes::lining(piece)),
            (Part::EnvelopeLiner, EnvelopeKind::Diagonal) => Some(shapes::pointed_lining(piece)),
            (Part::Box, _) => Some(shapes::gift_box(piece)),
            _ => None,
        }
    }
}

/// An open card, inner side up.
pub fn inner(size: Size, scores: &[Score]) -> Outline {
    // Turned over as it opens: what was on the left is on the right, and what was on top below.
    let turned = |score: &Score| Score { at: size.along(score.across) - score.at, ..*score };
    let mut turned: Vec<Score> = scores.iter().map(turned).collect();
    turned.sort();
    let mut opened = panels(Part::Card, size, &turned);
    let is_half = scores.len() == 1;
    for (_, name) in &mut opened.names {
        *name = match (*name, is_half) {
            ("back", true) => "inside of front",
            (_, true) => "inside of back",
            ("back", _) => "inside of back",
            _ => "",
        };
    }
    opened.names.retain(|(_, name)| !name.is_empty());
    opened
}

/// The panels of an accordion have no names but the last one.
const ACCORDION: [&str; 12] = ["", "", "", "", "", "", "", "", "", "", "", "front"];

/// A rectangle with its panels.
fn panels(part: Part, size: Size, scores: &[Score]) -> Outline {
    let [width, height] = [size.width, size.height].map(millimetres);
    let fold = |score: &Score| {
        let at = millimetres(score.at);
        match score.across {
            Axis::Width => [(at, 0.0), (at, height)],
            Axis::Height => [(0.0, at), (width, at)],
        }
    };
    let across = scores.first().map_or(Axis::Width, |score| score.across);
    let crosses = scores.iter().any(|score| score.across != across);
    let mut edges = vec![0.0];
    edges.extend(scores.iter().map(|score| millimetres(score.at)));
    edges.push(millimetres(size.along(across)));
    let lengths: Vec<f64> = edges.windows(2).map(|panel| panel[1] - panel[0]).collect();
    let middles = edges.windows(2).map(|panel| f64::midpoint(panel[0], panel[1]));
    let corner = |middle: f64| match across {
        Axis::Width => (middle, height / 2.0),
        Axis::Height => (width / 2.0, middle),
    };
    let names = match (part, scores.len()) {
        // Folded both ways, they are quarters.
        _ if crosses => &[],
        (Part::Card, 1) => &["back", "front"][..],
        (Part::Card, 2) if lengths[1] > lengths[2] + 0.01 => {
            &["half of front", "back", "half of front"]
        }
        (Part::Card, 2) if scores.iter().all(|score| score.side == ScoreSide::Outer) => {
            match lengths[0] < lengths[2] {
                true => &["folded in", "back", "front"],
                false => &["front", "back", "folded in"],
            }
        }
        (Part::Card, 2..) => &ACCORDION[(ACCORDION.len() - 1).saturating_sub(scores.len())..],
        (Part::Band, 2) => &["back end", "front", "back end"],
        _ => &[],
    };
    Outline {
        outline: vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)],
        folds: scores.iter().map(fold).collect(),
        slits: Vec::new(),
        names: middles
            .map(corner)
            .zip(names.iter().copied())
            .filter(|(_, name)| !name.is_empty())
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::shapes::{diagonal, gift_box, lining, wrap};
    use super::*;
    use crate::made::Made;
    use crate::pieces::{SEAM_OVERLAP, square_side};
    use crate::reports::fixture;
    use crate::stock::Print;
    use approx::assert_relative_eq;

    /// Twice the signed area (shoelace formula, plane geometry).
    fn area(points: &[Corner]) -> f64 {
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
        let piece = made.job.bill.pieces.iter().find(|it| it.part == Part::Envelope).unwrap();
        let shape = wrap(piece);
        let [width, height] = [piece.size.width, piece.size.height].map(millimetres);
        let inside = |(x, y): &Corner| (0.0..=width).contains(x) && (0.0..=height).contains(y);
        assert!(shape.outline.iter().all(inside));
        let scores: Vec<f64> = piece.scores.iter().map(|score| millimetres(score.at)).collect();
        let (side, upper, lower) = (scores[0], scores[2], scores[3]);
        let (top, slant) = (height - lower, millimetres(SLANT));
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
            let whole = millimetres(side) * millimetres(side);
            // Four notches, right triangles whose legs are the overlap over the root of two.
            let leg = millimetres(SEAM_OVERLAP) * std::f64::consts::FRAC_1_SQRT_2;
            assert_relative_eq!(
                area(&shape.outline),
                whole - 4.0 * leg * leg / 2.0,
                max_relative = 1e-5
            );
            let corners: Vec<Corner> = shape.folds.iter().map(|fold| fold[0]).collect();
            let face = millimetres(face.width) * millimetres(face.height);
            assert_relative_eq!(area(&corners), face, max_relative = 1e-9);
            // Folded in, the flaps cover the back and overlap along the seams.
            assert!(whole - face > face, "{text}");
        }
    }

    /// Scored where the schedule says, and its front is the right way up: the top flap is above it.
    #[test]
    fn on_paper_with_an_up_a_blank_lies_as_it_is_scored() {
        let mut made = fixture::fair();
        let piece = made.job.bill.pieces.iter().find(|it| it.part == Part::Envelope).unwrap();
        let piece = piece.clone();
        let down = |made: &Made| {
            let shape = PieceShapes::of(&made.job).shape(&piece).unwrap();
            let is_level = |fold: &&[Corner; 2]| (fold[0].1 - fold[1].1).abs() < 1e-9;
            let mut folds: Vec<f64> =
                shape.folds.iter().filter(is_level).map(|fold| fold[0].1).collect();
            folds.sort_by(f64::total_cmp);
            let scores = scores_upright(&piece, upright(&piece, &made.job.stock));
            let scores = scores.iter().filter(|score| score.across == Axis::Height);
            let scores: Vec<f64> = scores.map(|score| millimetres(score.at)).collect();
            assert_eq!(folds.len(), scores.len());
            for (fold, score) in folds.iter().zip(&scores) {
                assert_relative_eq!(*fold, *score, epsilon = 1e-6);
            }
            folds
        };
        let free = down(&made);
        made.job.stock.sheets.iter_mut().for_each(|sheet| sheet.print = Print::OneWay);
        let upright = down(&made);
        assert_relative_eq!(upright[0], millimetres(piece.size.height) - free[1], epsilon = 1e-6);
    }

    fn blank(part: Part, size: &str, across: &[&str], down: &[&str]) -> Piece {
        let made = fixture::fair();
        let mut piece = made.job.bill.pieces[0].clone();
        let score =
            |across: Axis, at: &&str| Score::new(across, inches(&format!("{at} x 1")).width);
        piece.scores = across.iter().map(|at| score(Axis::Width, at)).collect();
        piece.scores.extend(down.iter().map(|at| score(Axis::Height, at)));
        Piece { part, size: inches(size), ..piece }
    }

    /// A rectangle less the two strips beside lid and flap, and the slants of the flap.
    #[test]
    fn a_box_is_cut_out_beside_its_lid() {
        let piece = blank(Part::Box, "7 x 10 1/2", &["1/2", "6 1/2"], &["1/2", "5", "5 1/2", "10"]);
        let inch = |text: f64| text * 25.4;
        let strips = 2.0 * inch(0.5) * inch(5.0);
        let slants = inch(0.125) * inch(0.5);
        let expected = inch(7.0) * inch(10.5) - strips - slants;
        let shape = gift_box(&piece);
        assert_relative_eq!(area(&shape.outline), expected, max_relative = 1e-9);
        assert_eq!((shape.folds.len(), shape.slits.len()), (6, 4));
        // Each tab is a square between a wall's crease and a slit.
        assert!(shape.slits.iter().all(|[from, to]| (to.0 - from.0 - inch(0.5)).abs() < 1e-9));
    }

    #[test]
    fn a_lining_is_narrower_under_the_flap() {
        let piece = blank(Part::EnvelopeLiner, "5 1/2 x 6 1/8", &[], &["4 1/4"]);
        let inch = |text: f64| text * 25.4;
        let expected = inch(5.5) * inch(6.125) - inch(0.125) * inch(1.875);
        assert_relative_eq!(area(&lining(&piece).outline), expected, max_relative = 1e-9);
    }

    /// Opened out with its outer side up, a card that folds at the side has its front on the right, one that folds on top
    /// has it below.
    #[test]
    fn panels_are_named() {
        let named = |part, across: Axis, at: &[&str]| {
            let at = at.iter().map(|at| Score::new(across, fixture::inch(at)));
            panels(part, inches("10 x 7"), &at.collect::<Vec<_>>()).names
        };
        // To a hundredth.
        let inch = |(x, y): Corner| {
            let inches = |mm: f64| (mm / 25.4 * 100.0).round() / 100.0;
            (inches(x), inches(y))
        };
        let told = |names: Vec<(Corner, &'static str)>| -> Vec<(Corner, &str)> {
            names.into_iter().map(|(at, name)| (inch(at), name)).collect()
        };
        let side = told(named(Part::Card, Axis::Width, &["5"]));
        assert_eq!(side, [((2.5, 3.5), "back"), ((7.5, 3.5), "front")]);
        let top = told(named(Part::Card, Axis::Height, &["3"]));
        assert_eq!(top, [((5.0, 1.5), "back"), ((5.0, 5.0), "front")]);
        assert_eq!(named(Part::Band, Axis::Width, &["3", "7"]).len(), 3);
        assert_eq!(named(Part::Card, Axis::Width, &[]), []);
        let score = Score::new(Axis::Width, fixture::inch("5"));
        let inside = told(inner(inches("10 x 7"), &[score]).names);
        assert_eq!(inside, [((2.5, 3.5), "inside of front"), ((7.5, 3.5), "inside of back")]);
    }
}
