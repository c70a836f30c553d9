//! Designs that have an up, and whether they are read upright when the card is folded.
//!
//! A card is folded with the face outside. One that opens like a page shows its back turned over like a page, so
//! a back whose up is where the face's is reads upright inside. One that opens upwards shows it turned over from
//! top to bottom, and there a tumbled back reads upright.

use super::{Part, Piece};
use crate::diagnostics::{Problem, Problems};
use crate::folds::Score;
use crate::measure::Axis;
use crate::orders::Turn;
use crate::stock::{Back, Print, Sheet, Stock};

/// Which design of a piece has an up, so that it matters how it is folded.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Upright {
    /// None.
    #[default]
    Any,
    /// That of the face, which is seen outside.
    Outside,
    /// That of the back alone, which is seen inside.
    Inside,
}

/// Which design of a piece has an up, on any sheet of its papers; none where its line lets it be turned.
pub fn upright(piece: &Piece, stock: &Stock) -> Upright {
    if piece.turn.is_some_and(|turn| turn != Turn::None) {
        return Upright::Any;
    }
    let has = |up: fn(&Sheet) -> bool| of(piece, stock).any(up);
    if has(|sheet| sheet.print == Print::OneWay) {
        Upright::Outside
    } else if piece.shows_both_faces() && has(|sheet| has_an_up(sheet.back)) {
        Upright::Inside
    } else {
        Upright::Any
    }
}

/// Whether the face of a piece is upright only once the piece is turned by half: the blank of an envelope, and its liner,
/// on paper whose design has an up.
pub fn is_turned(piece: &Piece, upright: Upright) -> bool {
    let is_inverted = matches!(piece.part, Part::Envelope | Part::EnvelopeLiner);
    upright == Upright::Outside && is_inverted
}

/// Score lines as they are measured with the design of the face upright. In the blank of an envelope the bottom flap
/// comes first, and in its liner the bottom of the pocket, so that on paper with an up their fronts would stand on
/// their heads: there the lines are measured from the other end, which cuts the same rectangle.
pub fn scores_upright(piece: &Piece, upright: Upright) -> Vec<Score> {
    if !is_turned(piece, upright) {
        return piece.scores.clone();
    }
    let turned = |score: &Score| match score.across {
        Axis::Width => *score,
        Axis::Height => Score { at: piece.size.height - score.at, ..*score },
    };
    let mut scores: Vec<Score> = piece.scores.iter().map(turned).collect();
    scores.sort();
    scores
}

fn of<'a>(piece: &'a Piece, stock: &'a Stock) -> impl Iterator<Item = &'a Sheet> {
    stock.sheets.iter().filter(|sheet| piece.papers.contains(&sheet.paper))
}

fn has_an_up(back: Back) -> bool {
    matches!(back, Back::OneWay | Back::Tumbled)
}

/// Warns of a card whose inside is upside down when its outside is upright.
pub(super) fn check(piece: &Piece, stock: &Stock, problems: &mut Problems) {
    if piece.turn.is_some_and(|turn| turn != Turn::None) {
        return;
    }
    if piece.folds_both_ways() {
        problems.extend(check_both_ways(piece, stock));
    }
    if !piece.shows_both_faces() {
        return;
    }
    let Some(fold) = piece.grain_along else { return };
    // A fold along the height is that of a book.
    let (wanted, other) = match fold {
        Axis::Height => (Back::OneWay, "top"),
        Axis::Width => (Back::Tumbled, "side"),
    };
    let inverted = |sheet: &&Sheet| {
        sheet.print == Print::OneWay && has_an_up(sheet.back) && sheet.back != wanted
    };
    let Some(sheet) = of(piece, stock).find(inverted) else { return };
    let title = format!("the inside of `{}` will be upside down", piece.id);
    let label = format!("both faces of `{}` have an up that suits a fold at the {other}", sheet.id);
    problems.push(
        Problem::warning("piece-inside-inverted", title).at(piece.place.as_ref(), label).help(format!(
            "fold it at the {other}, choose another paper, or glue a liner in; if it does not matter, \
             write `half` in the column `turn`"
        )),
    );
}

/// Folded both ways, a card shows the same face inside and outside, and inside on its head.
fn check_both_ways(piece: &Piece, stock: &Stock) -> Option<Problem> {
    let sheet = of(piece, stock).find(|sheet| sheet.print == Print::OneWay)?;
    let title = format!("the inside of `{}` will be upside down", piece.id);
    let label =
        format!("a french fold shows the face of `{}` inside, too, and turns it over", sheet.id);
    let problem = Problem::warning("piece-inside-inverted", title).at(piece.place.as_ref(), label);
    Some(problem.help(
        "choose another fold or another paper; if it does not matter, write `half` in the column `turn`",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pieces::samples::{base, sheet};
    use crate::pieces::{Part, planned_turn};

    fn stock(print: Print, back: Back) -> Stock {
        Stock::of_sheets(vec![Sheet { print, back, ..sheet("12 x 12") }])
    }

    /// A card that opens along an axis.
    fn card(opens: Axis) -> Piece {
        let base = base("8 x 5");
        let at = crate::measure::Length::from_ticks(base.size.along(opens).ticks() / 2);
        let scores = vec![Score::new(opens, at)];
        Piece { grain_along: Some(opens.other()), scores, ..base }
    }

    fn warnings(piece: &Piece, stock: &Stock) -> usize {
        let mut problems = Problems::new();
        check(piece, stock, &mut problems);
        problems.iter().count()
    }

    #[test]
    fn the_stricter_of_two_faces_that_are_seen_decides() {
        let piece = card(Axis::Width);
        let turn = |print, back| planned_turn(&piece, &stock(print, back));
        assert_eq!(turn(Print::Free, Back::Free), Turn::Free);
        assert_eq!(turn(Print::Free, Back::TwoWay), Turn::Half);
        assert_eq!(turn(Print::TwoWay, Back::OneWay), Turn::None);
        assert_eq!(turn(Print::OneWay, Back::Free), Turn::None);
        let layer = |part, scores| Piece { part, scores, ..piece.clone() };
        let turn = |piece: &Piece| planned_turn(piece, &stock(Print::Free, Back::OneWay));
        assert_eq!(turn(&layer(Part::Mat, vec![])), Turn::Free, "glued down");
        assert_eq!(turn(&layer(Part::Liner, vec![])), Turn::Free, "glued in");
        assert_eq!(
            turn(&layer(Part::Liner, piece.scores.clone())),
            Turn::None,
            "opens as the card"
        );
    }

    #[test]
    fn a_book_wants_its_ups_at_one_edge_and_a_top_fold_at_two() {
        for (opens, right, wrong) in [
            (Axis::Width, Back::OneWay, Back::Tumbled),
            (Axis::Height, Back::Tumbled, Back::OneWay),
        ] {
            let mut piece = card(opens);
            assert_eq!(warnings(&piece, &stock(Print::OneWay, right)), 0);
            assert_eq!(warnings(&piece, &stock(Print::OneWay, wrong)), 1);
            assert_eq!(warnings(&piece, &stock(Print::TwoWay, wrong)), 0, "turned by half");
            piece.turn = Some(Turn::Half);
            assert_eq!(warnings(&piece, &stock(Print::OneWay, wrong)), 0, "it does not matter");
        }
    }

    #[test]
    fn what_has_an_up_is_said() {
        let piece = card(Axis::Width);
        let found = |print, back| upright(&piece, &stock(print, back));
        assert_eq!(found(Print::OneWay, Back::OneWay), Upright::Outside);
        assert_eq!(found(Print::TwoWay, Back::Tumbled), Upright::Inside);
        assert_eq!(found(Print::TwoWay, Back::TwoWay), Upright::Any);
        let said = |turn| {
            upright(
                &Piece { turn: Some(turn), ..piece.clone() },
                &stock(Print::OneWay, Back::OneWay),
            )
        };
        assert_eq!(said(Turn::None), Upright::Outside);
        assert_eq!(said(Turn::Half), Upright::Any, "its line lets it be turned");
    }

    #[test]
    fn an_envelope_is_scored_so_that_its_front_is_upright() {
        let piece = crate::pieces::samples::envelope("5 1/2 x 4 1/4");
        let down = |scores: &[Score]| -> Vec<i64> {
            let own = scores.iter().filter(|score| score.across == Axis::Height);
            own.map(|score| score.at.ticks() * 8 / crate::measure::Length::TICKS_PER_INCH).collect()
        };
        // 11 in high: bottom flap 4 1/4, pocket 4 3/8, top flap 2 3/8.
        assert_eq!(down(&scores_upright(&piece, Upright::Any)), [34, 69]);
        assert_eq!(down(&scores_upright(&piece, Upright::Outside)), [19, 54]);
    }
}
