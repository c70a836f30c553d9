//! Envelopes and the sheets they are cut from: shortens automatic top flaps that fit no sheet otherwise.

use super::envelope::{fills, usual_top};
use super::fit::{Obstacle, fits_somewhere, is_available, obstacle, orientations};
use super::{Bill, FLAP_OVERLAP, Part, Piece};
use crate::diagnostics::{Problem, listed};
use crate::measure::{Axis, Length, Size};
use crate::stock::Stock;
use crate::workshop::{BlankRule, EnvelopeKind, Workshop};
use std::collections::BTreeSet;

/// Shortens the top flap of a wrap envelope that can be cut from no sheet of its paper, down to the least
/// overlap, and says how long it is then. A flap that the workshop sets itself is left as it is.
pub(super) fn shorten(piece: &mut Piece, stock: &Stock, workshop: &Workshop) -> Option<Length> {
    if !is_automatic(workshop) || fits_somewhere(piece, stock, workshop) {
        return None;
    }
    let top = longest_flap(piece, stock, workshop)?;
    piece.size.height = pocket_top(piece) + top;
    Some(top)
}

/// Whether nobody but the usual rule says how long the top flap is.
fn is_automatic(workshop: &Workshop) -> bool {
    let rules = &workshop.envelope;
    rules.kind == EnvelopeKind::Wrap && rules.top_flap.is_none() && rules.blank == BlankRule::Usual
}

/// A warning where the top flap of an envelope was shortened.
pub(super) fn check(piece: &Piece, workshop: &Workshop) -> Option<Problem> {
    if piece.part != Part::Envelope || !is_automatic(workshop) {
        return None;
    }
    let bottom = creases(piece).min()?;
    let usual = usual_top(pocket_top(piece) - bottom, workshop);
    let top = piece.size.height - pocket_top(piece);
    (top < usual).then(|| warning(piece, top, usual, workshop))
}

fn warning(piece: &Piece, top: Length, usual: Length, workshop: &Workshop) -> Problem {
    let style = workshop.style();
    let title = format!("the top flap of `{}` is shortened to fit a sheet", piece.id);
    let label = format!("{} instead of {}", style.with_unit(top), style.with_unit(usual));
    Problem::warning("piece-flap-shortened", title).at(piece.place.as_ref(), label).help(format!(
        "it still covers the bottom flap by {}; a larger sheet would give it its full length",
        style.with_unit(top - workshop.envelope.clear_short)
    ))
}

/// Warns of each paper that envelopes are cut from such that they fill a sheet, where it does not come in such sheets.
pub(super) fn check_sheets(bill: &Bill, stock: &Stock, workshop: &Workshop) -> Vec<Problem> {
    let BlankRule::Fill(size) = workshop.envelope.blank else { return Vec::new() };
    let style = workshop.style();
    let fills = |piece: &&Piece| piece.part == Part::Envelope && fills(piece.size, size, workshop);
    // Of a paper that is not there at all, the order is told.
    let comes_otherwise = |papers: &[String]| {
        let sheets = stock.sheets.iter().filter(|sheet| papers.contains(&sheet.paper));
        let sizes: Vec<Size> = sheets.map(|sheet| sheet.size).collect();
        !sizes.is_empty() && !sizes.contains(&size) && !sizes.contains(&size.turned())
    };
    let mut seen = BTreeSet::new();
    let envelopes = bill.pieces.iter().filter(fills);
    let strange = envelopes.filter(|it| comes_otherwise(&it.papers) && seen.insert(&it.papers));
    strange
        .map(|piece| {
            let (paper, size) = (listed(&piece.papers), style.size(size));
            let title = format!("no sheet of {paper} is {size}");
            let label = format!("`{}` is sized to fill one", piece.id);
            Problem::warning("piece-envelope-sheet", title).at(piece.place.as_ref(), label).help(format!(
                "set `blank` under [envelope] in workshop.toml to a size of {paper} that you have, or to \
                 \"usual\"; or add that sheet to sheets.csv"
            ))
        })
        .collect()
}

/// The longest top flap with which the envelope can be cut from some sheet; `None` where even the
/// shortest that closes is too long.
pub(super) fn longest_flap(piece: &Piece, stock: &Stock, workshop: &Workshop) -> Option<Length> {
    let least = workshop.envelope.clear_short + FLAP_OVERLAP;
    let sheets = stock.sheets.iter().filter(|sheet| is_available(sheet));
    let mut best: Option<Length> = None;
    for sheet in sheets {
        let ways = orientations(piece, sheet, workshop);
        for (allowed, down) in [(ways.upright, Axis::Height), (ways.turned, Axis::Width)] {
            let lying = |size: Size| if down == Axis::Height { size } else { size.turned() };
            let excess = match obstacle(lying(piece.size), sheet, &workshop.trimmer) {
                Some(Obstacle::Excess(excess)) if allowed => excess,
                _ => continue,
            };
            let height = piece.size.height - excess.along(down);
            let top = (height - pocket_top(piece)).rounded_down(workshop.trimmer.graduation);
            let shortened = Size::new(piece.size.width, pocket_top(piece) + top);
            let fits = obstacle(lying(shortened), sheet, &workshop.trimmer).is_none();
            if fits && top >= least {
                best = best.max(Some(top));
            }
        }
    }
    best
}

/// Where the top flap begins: the last crease along the height.
fn pocket_top(piece: &Piece) -> Length {
    creases(piece).max().unwrap_or(Length::ZERO)
}

/// Where the flaps above and below the pocket are creased.
fn creases(piece: &Piece) -> impl Iterator<Item = Length> {
    piece.scores.iter().filter(|score| score.across == Axis::Height).map(|score| score.at)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pieces::samples::{envelope, inches, sheet, size, workshop};
    use crate::stock::{Print, Sheet};

    fn shortened(sheets: &[&str], change: impl Fn(&mut Workshop)) -> (Size, usize) {
        let mut workshop = workshop();
        change(&mut workshop);
        let mut piece = envelope("7 x 5");
        let stock = Stock::of_sheets(sheets.iter().map(|text| sheet(text)).collect());
        let top = shorten(&mut piece, &stock, &workshop);
        let warned = check(&piece, &workshop);
        assert_eq!(top.is_some(), warned.is_some());
        (piece.size, warned.into_iter().count())
    }

    #[test]
    fn a_flap_is_cut_back_to_the_largest_sheet() {
        // Pocket 7 1/4 x 5 1/8, side flaps 1, bottom flap 5: 10 1/8 below the top flap of 2 11/16.
        assert_eq!(shortened(&["12 x 12", "9 1/4 x 11"], |_| ()), (size("9 1/4 x 12"), 1));
        assert_eq!(shortened(&["13 x 13"], |_| ()), (size("9 1/4 x 12 13/16"), 0));
    }

    #[test]
    fn a_flap_keeps_its_least_overlap() {
        assert_eq!(shortened(&["9 1/4 x 10 3/4"], |_| ()), (size("9 1/4 x 10 3/4"), 1));
        assert_eq!(shortened(&["9 1/4 x 10 11/16"], |_| ()), (size("9 1/4 x 12 13/16"), 0));
    }

    #[test]
    fn a_flap_is_shortened_only_as_the_envelope_may_lie() {
        let workshop = workshop();
        let shortened = |print| {
            let mut piece = envelope("7 x 5");
            let stock = Stock::of_sheets(vec![Sheet { print, ..sheet("12 x 9 1/4") }]);
            shorten(&mut piece, &stock, &workshop);
            piece.size
        };
        assert_eq!(shortened(Print::Free), size("9 1/4 x 12"), "after a quarter turn");
        assert_eq!(shortened(Print::TwoWay), size("9 1/4 x 12 13/16"));
    }

    #[test]
    fn a_flap_is_not_shortened_for_a_cut_beyond_the_knife() {
        let knife = |text: &'static str| {
            move |workshop: &mut Workshop| workshop.trimmer.knife = inches(text)
        };
        assert_eq!(shortened(&["10 x 12"], knife("12")), (size("9 1/4 x 12"), 1));
        assert_eq!(shortened(&["10 x 12"], knife("10")), (size("9 1/4 x 12 13/16"), 0));
    }

    #[test]
    fn a_flap_of_the_workshop_is_left_alone() {
        let set = |workshop: &mut Workshop| workshop.envelope.top_flap = Some(inches("2 11/16"));
        assert_eq!(shortened(&["12 x 12"], set), (size("9 1/4 x 12 13/16"), 0));
    }
}
