//! How a piece may lie on a sheet, and whether one can be cut from it.

use super::Piece;
use crate::measure::{Axis, Length, Size};
use crate::orders::Turn;
use crate::stock::{Back, Print, Sheet, Stock};
use crate::workshop::{GrainRule, Trimmer, Workshop};

/// The ways a piece may lie on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Orientations {
    /// As the piece is given.
    pub upright: bool,
    /// After a quarter turn.
    pub turned: bool,
}

/// How `piece` may lie on `sheet`: on one of its papers only, turned only where neither the order line
/// nor the print forbids it, and with its fold along the grain where the grain is known and the rule
/// strict; on no sheet whose edges the knife cannot make true. Whether it is small enough is another
/// question.
pub fn orientations(piece: &Piece, sheet: &Sheet, workshop: &Workshop) -> Orientations {
    match is_squared(sheet, &workshop.trimmer) {
        true => wishes(piece, sheet, workshop),
        false => Orientations { upright: false, turned: false },
    }
}

/// The same, whatever the bench can do.
fn wishes(piece: &Piece, sheet: &Sheet, workshop: &Workshop) -> Orientations {
    let has_paper = piece.papers.contains(&sheet.paper);
    let turnable = piece.turn.unwrap_or(turn_of(piece, sheet)) == Turn::Free;
    Orientations {
        upright: has_paper && grain_allows(piece.grain_along, sheet, workshop),
        turned: has_paper
            && turnable
            && grain_allows(piece.grain_along.map(Axis::other), sheet, workshop),
    }
}

/// Whether the edges of a sheet are true, or can be made so.
fn is_squared(sheet: &Sheet, trimmer: &Trimmer) -> bool {
    !sheet.rough_edges.any() || trimmer.squares_first(sheet.size).is_some()
}

/// How `piece` may lie on the papers it is cut from: what the order line says, else the freest of the
/// prints of the sheets of its papers. This is the `turn` of a planned piece.
pub fn planned_turn(piece: &Piece, stock: &Stock) -> Turn {
    let prints = stock
        .sheets
        .iter()
        .filter(|sheet| piece.papers.contains(&sheet.paper))
        .map(|sheet| turn_of(piece, sheet));
    piece.turn.or_else(|| prints.min()).unwrap_or(Turn::Free)
}

/// How the designs that are seen of a piece may lie: that of the face, and where both faces are seen, the
/// stricter of both.
fn turn_of(piece: &Piece, sheet: &Sheet) -> Turn {
    let face = match sheet.print {
        Print::Free => Turn::Free,
        Print::TwoWay => Turn::Half,
        Print::OneWay => Turn::None,
    };
    let back = match sheet.back {
        Back::Free => Turn::Free,
        Back::TwoWay => Turn::Half,
        Back::OneWay | Back::Tumbled => Turn::None,
    };
    if piece.shows_both_faces() { face.max(back) } else { face }
}

fn grain_allows(fold: Option<Axis>, sheet: &Sheet, workshop: &Workshop) -> bool {
    match (workshop.grain, fold, sheet.grain) {
        (GrainRule::Strict, Some(fold), Some(grain)) => fold == grain,
        _ => true,
    }
}

/// What is left of a sheet once its edges are true: `squaring` less on all four sides of a rough one.
pub fn true_size(sheet: &Sheet, trimmer: &Trimmer) -> Size {
    if sheet.rough_edges.any() { trimmer.squared(sheet.size) } else { sheet.size }
}

/// Why a rectangle cannot be cut from a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Obstacle {
    /// It would fit, but a cut would be longer than the knife.
    Knife,
    /// It is too wide and too high by so much.
    Excess(Size),
}

/// Whether a rectangle, as it lies, can be cut from the sheet.
pub(super) fn obstacle(lying: Size, sheet: &Sheet, trimmer: &Trimmer) -> Option<Obstacle> {
    let room = true_size(sheet, trimmer);
    if !lying.fits_in(room) {
        let beyond = |axis| (lying.along(axis) - room.along(axis)).max(Length::ZERO);
        return Some(Obstacle::Excess(Size::new(beyond(Axis::Width), beyond(Axis::Height))));
    }
    if !is_squared(sheet, trimmer) {
        return Some(Obstacle::Knife);
    }
    let whole = room;
    // A cut across the width is as long as what is left of the height, and the other way round.
    let reaches = |first: Length, second: Length| first <= trimmer.knife && second <= trimmer.knife;
    let cuttable = match (lying.width == whole.width, lying.height == whole.height) {
        (true, true) => true,
        (false, true) => whole.height <= trimmer.knife,
        (true, false) => whole.width <= trimmer.knife,
        (false, false) => reaches(whole.height, lying.width) || reaches(whole.width, lying.height),
    };
    (!cuttable).then_some(Obstacle::Knife)
}

/// The least obstacle over the ways the piece may lie on the sheet; `None` where it may not lie on it
/// at all, `Some(None)` where one can be cut.
pub(super) fn least_obstacle(
    piece: &Piece,
    sheet: &Sheet,
    workshop: &Workshop,
) -> Option<Option<Obstacle>> {
    let ways = wishes(piece, sheet, workshop);
    let upright = ways.upright.then_some(piece.size);
    let turned = ways.turned.then(|| piece.size.turned());
    let obstacles = upright.into_iter().chain(turned);
    obstacles
        .map(|lying| obstacle(lying, sheet, &workshop.trimmer))
        .min_by_key(|obstacle| weight(*obstacle))
}

/// How bad an obstacle is: none, the knife, then by what is too much on both sides together.
pub(super) fn weight(obstacle: Option<Obstacle>) -> (u8, Length) {
    match obstacle {
        None => (0, Length::ZERO),
        Some(Obstacle::Knife) => (1, Length::ZERO),
        Some(Obstacle::Excess(excess)) => (2, excess.width + excess.height),
    }
}

/// Whether a sheet can be had at all.
pub(super) fn is_available(sheet: &Sheet) -> bool {
    sheet.on_hand > 0 || sheet.price.is_some()
}

/// Whether one such piece can be cut from any sheet that can be had.
pub(super) fn fits_somewhere(piece: &Piece, stock: &Stock, workshop: &Workshop) -> bool {
    let mut sheets = stock.sheets.iter().filter(|sheet| is_available(sheet));
    sheets.any(|sheet| least_obstacle(piece, sheet, workshop) == Some(None))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pieces::samples::{base, inches, sheet, size, workshop};
    use crate::stock::RoughEdges;

    #[test]
    fn prints_and_lines_decide_about_quarter_turns() {
        let workshop = workshop();
        let mut paper = sheet("12 x 12");
        let mut piece = base("8 x 5");
        let turned = |piece: &Piece, sheet: &Sheet| orientations(piece, sheet, &workshop).turned;
        assert!(turned(&piece, &paper));
        paper.print = Print::TwoWay;
        assert!(!turned(&piece, &paper));
        piece.turn = Some(Turn::Free);
        assert!(turned(&piece, &paper), "the line overrides the print");
        paper.print = Print::Free;
        piece.turn = Some(Turn::Half);
        assert!(!turned(&piece, &paper));
    }

    #[test]
    fn a_strict_grain_rule_leaves_one_way_to_lie() {
        let mut workshop = workshop();
        let mut paper = sheet("12 x 12");
        let mut piece = base("8 x 5");
        piece.grain_along = Some(Axis::Height);
        paper.grain = Some(Axis::Width);
        let ways = |workshop: &Workshop, piece: &Piece| orientations(piece, &paper, workshop);
        assert_eq!(ways(&workshop, &piece), Orientations { upright: true, turned: true });
        workshop.grain = GrainRule::Strict;
        assert_eq!(ways(&workshop, &piece), Orientations { upright: false, turned: true });
        piece.grain_along = Some(Axis::Width);
        assert_eq!(ways(&workshop, &piece), Orientations { upright: true, turned: false });
        piece.grain_along = None;
        assert_eq!(ways(&workshop, &piece), Orientations { upright: true, turned: true });
    }

    #[test]
    fn another_paper_is_no_place_to_lie() {
        let mut paper = sheet("12 x 12");
        paper.paper = "ivory".to_owned();
        let ways = orientations(&base("8 x 5"), &paper, &workshop());
        assert_eq!(ways, Orientations { upright: false, turned: false });
    }

    #[test]
    fn the_planned_turn_is_the_freest_print_of_its_papers() {
        let mut piece = base("8 x 5");
        let (mut striped, mut printed) = (sheet("12 x 12"), sheet("12 x 12"));
        (striped.print, printed.print) = (Print::TwoWay, Print::OneWay);
        let stock = Stock::of_sheets(vec![printed.clone(), striped]);
        assert_eq!(planned_turn(&piece, &stock), Turn::Half);
        assert_eq!(planned_turn(&piece, &Stock::of_sheets(vec![printed])), Turn::None);
        piece.turn = Some(Turn::Free);
        assert_eq!(planned_turn(&piece, &stock), Turn::Free);
    }

    #[test]
    fn squaring_takes_room_from_rough_sheets_alone() {
        let mut trimmer = workshop().trimmer;
        trimmer.squaring = inches("1/8");
        let mut paper = sheet("12 x 12");
        let check = |paper: &Sheet, text| obstacle(size(text), paper, &trimmer);
        assert_eq!(check(&paper, "11 3/4 x 11 3/4"), None);
        let excess = Size::new(inches("1/16"), Length::ZERO);
        assert_eq!(check(&paper, "11 13/16 x 11 3/4"), Some(Obstacle::Excess(excess)));
        paper.rough_edges = RoughEdges::None;
        assert_eq!(check(&paper, "12 x 12"), None);
    }

    #[test]
    fn squaring_trims_are_no_longer_than_the_knife() {
        let mut trimmer = workshop().trimmer;
        let check =
            |trimmer: &Trimmer, paper: &str| obstacle(size("3 x 3"), &sheet(paper), trimmer);
        assert_eq!(check(&trimmer, "12 x 18"), None, "nothing is squared");
        trimmer.squaring = inches("1/8");
        assert_eq!(check(&trimmer, "12 x 15 1/8"), None, "first trimmed above and below");
        assert_eq!(check(&trimmer, "15 1/8 x 12"), None, "first trimmed left and right");
        assert_eq!(check(&trimmer, "12 x 15 3/16"), Some(Obstacle::Knife));
        let mut saved = sheet("12 x 18");
        saved.rough_edges = RoughEdges::None;
        assert_eq!(obstacle(size("3 x 3"), &saved, &trimmer), None, "its edges are true");
    }

    #[test]
    fn the_knife_reaches_over_the_short_side_first() {
        let trimmer = workshop().trimmer;
        let long = sheet("26 x 14");
        assert_eq!(obstacle(size("15 x 10"), &long, &trimmer), None);
        assert_eq!(obstacle(size("15 1/16 x 10"), &long, &trimmer), Some(Obstacle::Knife));
        assert_eq!(obstacle(size("15 1/16 x 14"), &long, &trimmer), None, "one cut, 14 in long");
        let high = sheet("14 x 26");
        assert_eq!(obstacle(size("14 x 15 1/16"), &high, &trimmer), None, "one cut, 14 in long");
        assert_eq!(obstacle(size("26 x 10"), &long, &trimmer), Some(Obstacle::Knife));
        assert_eq!(obstacle(size("10 x 26"), &high, &trimmer), Some(Obstacle::Knife));
        assert_eq!(obstacle(size("5 x 5"), &sheet("26 x 20"), &trimmer), Some(Obstacle::Knife));
        assert_eq!(obstacle(size("26 x 20"), &sheet("26 x 20"), &trimmer), None, "no cut at all");
    }
}
