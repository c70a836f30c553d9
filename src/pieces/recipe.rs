//! From one order line to its pieces.

use super::card::{self, Card};
use super::envelope::Pocket;
use super::gift_box::FilledSet;
use super::given::Given;
use super::{Bulk, Enclosed, Part, Piece, Share, band, envelope, flaps, gift_box};
use crate::diagnostics::{Problems, Spanned};
use crate::folds::Blank;
use crate::folds::{self, FoldStyle};
use crate::measure::Length;
use crate::orders::{Envelope, OrderLine};
use crate::workshop::Spares;

/// The pieces of one line, as far as it asks for them; those are `enclosed` that go in its envelope.
pub(super) fn of_line(
    line: &OrderLine,
    enclosed: &Enclosed,
    ground: Given,
    problems: &mut Problems,
) -> Vec<Piece> {
    let maker = Maker { line, spares: &ground.workshop.spares };
    problems.extend(card::too_narrow(line, ground));
    let opened = folds::opened(line.card.value, line.fold, ground.folded_paper(line));
    let mut pieces = vec![maker.piece(Part::Card, &line.papers, opened)];
    layers(line, ground, &maker, &mut pieces, problems);
    if let Some(band) = &line.extras.band {
        let blank = band::blank(line, band, &pieces, ground);
        pieces.push(maker.piece(Part::Band, &one(&band.paper), blank));
    }
    let inside = enclosed.with(line, &pieces, ground);
    wrapping(FilledLine { line, inside }, ground, &maker, &mut pieces, problems);
    let with_it = enclosed.thickness(line);
    if let Some(gift_box) = &line.extras.gift_box
        && let Some(blank) = gift_box::blank(
            gift_box,
            FilledSet { line, pieces: &pieces, inside, with_it },
            ground,
            problems,
        )
    {
        pieces.push(maker.piece(Part::Box, &one(&gift_box.paper), blank));
    }
    pieces
}

/// What lies in and on the card: liner, insert, mats.
fn layers(
    line: &OrderLine,
    ground: Given,
    maker: &Maker,
    pieces: &mut Vec<Piece>,
    problems: &mut Problems,
) {
    let mut card = Card { line, ground, problems };
    if let Some(liner) = &line.liner {
        let blank = card.liner(liner);
        pieces.extend(blank.map(|blank| maker.piece(Part::Liner, &one(&liner.paper), blank)));
    }
    if let Some(insert) = &line.extras.insert {
        let blank = card.insert(insert);
        pieces.extend(blank.map(|blank| maker.piece(Part::Insert, &one(&insert.paper), blank)));
    }
    let mut inset = Length::ZERO;
    for (mat, number) in line.mats.iter().zip(1..) {
        inset += mat.inset;
        let blank = card.mat(&mat.paper, inset);
        let piece = blank.map(|blank| maker.piece(Part::Mat, &one(&mat.paper), blank));
        // The second and later mats have a number.
        pieces.extend(piece.map(|mut piece| {
            if number > 1 {
                piece.id = format!("{}-{number}", piece.id);
            }
            piece
        }));
    }
}

/// A line with what lies in its envelope.
#[derive(Clone, Copy)]
struct FilledLine<'a> {
    line: &'a OrderLine,
    inside: Bulk,
}

/// The envelope and its liner.
fn wrapping(
    FilledLine { line, inside }: FilledLine,
    ground: Given,
    maker: &Maker,
    pieces: &mut Vec<Piece>,
    problems: &mut Problems,
) {
    let workshop = ground.workshop;
    let mut shortened = None;
    if let Envelope::Cut(paper) = &line.envelope {
        envelope::check_room(inside, workshop, paper.place.as_ref(), problems);
        let blank = envelope::blank(inside.size, workshop, paper.place.as_ref(), problems);
        let mut piece = maker.piece(Part::Envelope, &one(paper), blank);
        shortened = flaps::shorten(&mut piece, ground.stock, workshop);
        pieces.push(piece);
    }
    if let Some(paper) = &line.extras.envelope_liner
        && let Some(mut pocket) = Pocket::of(line, inside, ground.stock, workshop)
    {
        pocket.flap = shortened.unwrap_or(pocket.flap);
        let blank = envelope::liner(&pocket, workshop, paper.place.as_ref(), problems);
        pieces.extend(blank.map(|blank| maker.piece(Part::EnvelopeLiner, &one(paper), blank)));
    }
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
        let mut sorted = papers.value.clone();
        sorted.sort();
        sorted.dedup();
        Piece {
            id: format!("{}.{}", self.line.name.value, part.name()),
            part,
            papers: sorted,
            size: blank.size,
            turn: self.line.turn.filter(|_| part.is_seen_upright()),
            grain_along: blank.grain_along,
            scores: blank.scores,
            shares: vec![self.share(part)],
            done: Default::default(),
            place: papers.place.clone(),
        }
    }

    fn share(&self, part: Part) -> Share {
        let need = need(self.line, part, self.line.count.value);
        Share { line: self.line.name.value.clone(), need, spares: spares(need, self.spares) }
    }
}

/// Pieces of a part that so many sets of a line need: a box holds several.
fn need(line: &OrderLine, part: Part, sets: u64) -> u64 {
    let holds = line.extras.gift_box.as_ref().filter(|_| part == Part::Box);
    sets.saturating_mul(in_a_set(line, part)).div_ceil(holds.map_or(1, |gift_box| gift_box.holds))
}

/// Pieces of a part in each set of a line: the mat of a gate is two halves.
pub fn in_a_set(line: &OrderLine, part: Part) -> u64 {
    match (line.fold.style, part) {
        (FoldStyle::Gate, Part::Mat) => 2,
        _ => 1,
    }
}

/// The same with the spares that a rule adds; where no set is made, nothing is.
pub fn wanted(line: &OrderLine, part: Part, sets: u64, rule: &Spares) -> u64 {
    let need = need(line, part, sets);
    if need == 0 { 0 } else { need + spares(need, rule) }
}

/// The larger of the percentage, rounded up, and the least number.
pub fn spares(count: u64, rule: &Spares) -> u64 {
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
