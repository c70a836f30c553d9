//! From one order line to its pieces.

use super::{Part, Piece, Score, Share, envelope};
use crate::diagnostics::{Problem, Problems, Spanned};
use crate::measure::{Axis, Length, Size};
use crate::orders::{Envelope, Fold, OrderLine, Turn};
use crate::workshop::{Spares, Workshop};

/// A rectangle with its creases, before it has a name and a count.
pub(super) struct Blank {
    pub size: Size,
    pub scores: Vec<Score>,
    pub fold_along: Option<Axis>,
}

impl Blank {
    fn plain(size: Size) -> Blank {
        Blank { size, scores: Vec::new(), fold_along: None }
    }
}

/// The pieces of one line: base, liner, mat, envelope, as far as it asks for them.
pub(super) fn of_line(
    line: &OrderLine,
    workshop: &Workshop,
    problems: &mut Problems,
) -> Vec<Piece> {
    let maker = Maker { line, spares: &workshop.spares };
    let mut pieces = vec![maker.piece(Part::Base, &line.papers, base(line))];
    if let Some(paper) = &line.liner {
        let inset = workshop.envelope.liner_inset;
        let advice = "make `liner_inset` under [envelope] in the workshop file smaller, or leave the \
                      liner out";
        let inner = inner(line, inset, ("liner", advice, paper), workshop, problems);
        pieces.extend(inner.map(|blank| maker.piece(Part::Liner, &one(paper), blank)));
    }
    let mut inset = Length::ZERO;
    for (mat, number) in line.mats.iter().zip(1..) {
        let advice = "make `mat inset` smaller, or leave the mat out";
        inset += mat.inset;
        let inner = inner(line, inset, ("mat", advice, &mat.paper), workshop, problems);
        let piece = inner.map(|blank| maker.piece(Part::Mat, &one(&mat.paper), blank));
        // The second and later mats have a number.
        pieces.extend(piece.map(|mut piece| {
            if number > 1 {
                piece.id = format!("{}-{number}", piece.id);
            }
            piece
        }));
    }
    if let Envelope::Cut(paper) = &line.envelope {
        let blank = envelope::blank(line.card.value, workshop, paper.place.as_ref(), problems);
        pieces.push(maker.piece(Part::Envelope, &one(paper), blank));
    }
    pieces
}

/// The card opened out, with its fold. One path for both folds: the blank doubles along one axis, is
/// creased in the middle of it, and the fold line runs along the other.
fn base(line: &OrderLine) -> Blank {
    let card = line.card.value;
    let opens = match line.fold {
        Fold::Flat => return Blank::plain(card),
        Fold::Side => Axis::Width,
        Fold::Top => Axis::Height,
    };
    let side = card.along(opens);
    Blank {
        size: card.with(opens, side * 2),
        scores: vec![Score { across: opens, at: side }],
        fold_along: Some(opens.other()),
    }
}

/// The card's face less `inset` on each side, or a problem where nothing is left.
fn inner(
    line: &OrderLine,
    inset: Length,
    (name, advice, paper): (&str, &str, &Spanned<String>),
    workshop: &Workshop,
    problems: &mut Problems,
) -> Option<Blank> {
    let card = line.card.value;
    let size = Size::new(card.width - inset * 2, card.height - inset * 2);
    if size.is_positive() {
        return Some(Blank::plain(size));
    }
    let style = workshop.style();
    let title = format!("the {name} of line `{}` would vanish", line.name.value);
    let label = format!(
        "an inset of {} on each side leaves nothing of a card of {}",
        style.with_unit(inset),
        style.size(card)
    );
    problems.push(Problem::error("piece-vanishes", title).at(paper.place.as_ref(), label).help(
        format!("{advice}; here it has to be less than {}", style.with_unit(half(card.short()))),
    ));
    None
}

fn half(length: Length) -> Length {
    Length::from_ticks(length.ticks() / 2)
}

fn one(paper: &Spanned<String>) -> Spanned<Vec<String>> {
    Spanned { value: vec![paper.value.clone()], place: paper.place.clone() }
}

/// Gives blanks of one line their name and count.
struct Maker<'a> {
    line: &'a OrderLine,
    spares: &'a Spares,
}

impl Maker<'_> {
    fn piece(&self, part: Part, papers: &Spanned<Vec<String>>, blank: Blank) -> Piece {
        let name = &self.line.name.value;
        let need = self.line.count.value;
        let spares = spares(need, self.spares);
        let mut sorted = papers.value.clone();
        sorted.sort();
        sorted.dedup();
        Piece {
            id: format!("{name}.{}", suffix(part)),
            part,
            papers: sorted,
            size: blank.size,
            turn: turn_of(part, self.line.turn),
            fold_along: blank.fold_along,
            scores: blank.scores,
            shares: vec![Share { line: name.clone(), need, spares }],
            place: papers.place.clone(),
        }
    }
}

/// The order line's `turn` is about faces seen upright: the base and the mat. A liner lies inside and
/// an envelope is looked at from the back as much as the front, so both follow the paper's print.
fn turn_of(part: Part, turn: Option<Turn>) -> Option<Turn> {
    match part {
        Part::Base | Part::Mat => turn,
        Part::Liner | Part::Envelope => None,
    }
}

fn suffix(part: Part) -> &'static str {
    match part {
        Part::Base => "base",
        Part::Liner => "liner",
        Part::Mat => "mat",
        Part::Envelope => "envelope",
    }
}

/// The larger of the percentage, rounded up, and the least number.
fn spares(count: u64, rule: &Spares) -> u64 {
    count.saturating_mul(u64::from(rule.percent)).div_ceil(100).max(rule.at_least)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spares_round_up_and_keep_their_minimum() {
        let rule = Spares { percent: 5, at_least: 1 };
        for (count, expected) in [(1, 1), (19, 1), (20, 1), (21, 2), (40, 2), (41, 3), (100, 5)] {
            assert_eq!(spares(count, &rule), expected, "for {count}");
        }
        assert_eq!(spares(1_000_000, &Spares { percent: 0, at_least: 0 }), 0);
        assert_eq!(spares(10, &Spares { percent: 250, at_least: 3 }), 25);
    }
}
