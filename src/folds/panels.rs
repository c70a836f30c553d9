//! The panels of an open card, and how they lie on each other once it is folded.
//!
//! ```text
//! side       back | front            letter     flap | back | front, the flap shorter by its creep
//! gate       half | back | half      accordion  back | ... | front
//! ```
//!
//! The card lies outer side up. Its folds close away from that side, but for every other one of an accordion.

use super::{Blank, Fold, FoldStyle, Score, ScoreSide};
use crate::measure::{Axis, Length, LengthStyle, Size, Usual};

/// Between the two halves of a gate in front: 1/16 in from the middle to each (a trade bindery's folding guide: 1/8 in in
/// all), 3 mm on a metric bench, and what the halves miss to a mark of the gauge.
const GATE_GAP: Usual = Usual::new(1, 8, 3);
/// What a panel that is folded in is shorter: 3/32 in of text paper (likewise), which is 1/16 in beside what the folds of
/// thin paper use up.
const FOLDED_IN: Length = Length::from_inch_parts(3, 32);
const SHOWS: Length = Length::from_inch_parts(1, 16);

/// The panels along one direction, from the left or the top, outer side up, and on which side each score is pressed.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Panels {
    lengths: Vec<Length>,
    sides: Vec<ScoreSide>,
}

impl Panels {
    fn even(lengths: Vec<Length>) -> Panels {
        let sides = vec![ScoreSide::Outer; lengths.len().saturating_sub(1)];
        Panels { lengths, sides }
    }

    fn open(&self) -> Length {
        self.lengths.iter().copied().sum()
    }

    fn scores(&self, across: Axis) -> impl Iterator<Item = Score> {
        let mut at = Length::ZERO;
        self.lengths.iter().zip(&self.sides).map(move |(length, side)| {
            at += *length;
            Score { across, at, side: *side }
        })
    }
}

/// The paper of a card that is folded, and the gauge that it is cut by.
#[derive(Clone, Copy, Debug)]
pub struct FoldedPaper {
    /// How thick a sheet of it is; zero where that is not known.
    pub thickness: Length,
    /// The steps of the gauge.
    pub style: LengthStyle,
}

impl FoldedPaper {
    /// One so thin that folds use up none of it.
    pub const fn thin(style: LengthStyle) -> FoldedPaper {
        FoldedPaper { thickness: Length::ZERO, style }
    }
}

/// A card of this finished size, opened out. Its grain should run along its folds; where it is folded both ways, along the last.
pub fn opened(card: Size, fold: Fold, paper: FoldedPaper) -> Blank {
    let Some(opens) = fold.opens() else {
        return Blank::plain(card);
    };
    let panels = along(card.along(opens), fold.style, paper);
    let mut size = card.with(opens, panels.open());
    let mut scores: Vec<Score> = panels.scores(opens).collect();
    if fold.style == FoldStyle::French {
        let other = opens.other();
        let halves = Panels::even(vec![card.along(other); 2]);
        size = size.with(other, halves.open());
        scores.extend(halves.scores(other));
        scores.sort();
    }
    Blank { size, scores, grain_along: Some(opens.other()) }
}

/// The panels of a card whose closed side in the direction in which it opens is `side`.
fn along(side: Length, style: FoldStyle, paper: FoldedPaper) -> Panels {
    match style {
        FoldStyle::Flat => Panels::even(vec![side]),
        FoldStyle::Half | FoldStyle::French => Panels::even(vec![side; 2]),
        FoldStyle::Gate => {
            let half = gate_half(side, paper.style);
            Panels::even(vec![half, side, half])
        }
        FoldStyle::Letter => {
            // Recipes refuse a card that leaves it less.
            let inner = (side - folded_in(paper)).max(Length::LEAST_SIDE);
            Panels::even(vec![inner, side, side])
        }
        FoldStyle::Accordion(panels) => {
            let folds = usize::from(panels) - 1;
            let side_of = |fold: usize| match (folds - fold) % 2 {
                1 => ScoreSide::Outer,
                _ => ScoreSide::Inner,
            };
            Panels {
                lengths: vec![side; usize::from(panels)],
                sides: (0..folds).map(side_of).collect(),
            }
        }
    }
}

/// The least side of a card in the direction in which it opens: less leaves too little of a panel.
pub fn least_side(style: FoldStyle, paper: FoldedPaper) -> Length {
    let gauge = paper.style;
    match style {
        // A panel of less than half is none that anybody would fold in.
        FoldStyle::Letter => folded_in(paper) * 2,
        FoldStyle::Gate => {
            (GATE_GAP.of(gauge.unit) + Length::LEAST_SIDE * 2).rounded_up(gauge.graduation)
        }
        _ => Length::ZERO,
    }
}

/// What a mat lies on: the front of a card, or one half of a gate's.
pub fn mat_face(card: Size, fold: Fold, style: LengthStyle) -> Size {
    match (fold.style, fold.opens()) {
        (FoldStyle::Gate, Some(opens)) => card.with(opens, gate_half(card.along(opens), style)),
        _ => card,
    }
}

/// Half of the front of a gate, to a mark of the gauge.
fn gate_half(side: Length, style: LengthStyle) -> Length {
    let half = Length::from_ticks((side - GATE_GAP.of(style.unit)).ticks() / 2);
    half.rounded_down(style.graduation).max(Length::LEAST_SIDE)
}

/// How much shorter the panel of a letter fold is that is folded in: what its fold and the one round it use up of the
/// paper, `pi/2 x thickness` each (plane geometry, a round spine), and a little that shows; to the next step of the gauge.
fn folded_in(FoldedPaper { thickness, style }: FoldedPaper) -> Length {
    // 355/113 is pi to six digits (Zu Chongzhi, 5th century).
    let creep = Length::from_ticks(thickness.ticks() * 355 / 113);
    FOLDED_IN.max(SHOWS + creep).rounded_up(style.graduation)
}

/// Where a panel begins and ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PanelSpan {
    /// From the left or upper edge.
    pub from: Length,
    /// Likewise.
    pub to: Length,
}

/// The panels across which a blank opens, as it is read once it is opened: the first is the inside of the front.
pub fn inner_panels(blank: &Blank, across: Axis) -> Vec<PanelSpan> {
    let whole = blank.size.along(across);
    let mut ends: Vec<Length> =
        blank.scores.iter().filter(|it| it.across == across).map(|it| whole - it.at).collect();
    ends.push(whole);
    ends.sort();
    let starts = std::iter::once(Length::ZERO).chain(ends.iter().copied());
    starts.zip(&ends).map(|(from, to)| PanelSpan { from, to: *to }).collect()
}

/// Layers that lie on each other at the thickest place of a rectangle folded at its scores; a count.
pub fn layers(size: Size, scores: &[Score]) -> i64 {
    let most = |axis| most_overlap(&intervals(size, scores, axis));
    most(Axis::Width) * most(Axis::Height)
}

/// Where the panels along one direction lie once they are folded, as they follow each other.
fn intervals(size: Size, scores: &[Score], axis: Axis) -> Vec<[Length; 2]> {
    let mut at: Vec<Length> =
        scores.iter().filter(|it| it.across == axis).map(|it| it.at).collect();
    at.push(size.along(axis));
    at.sort();
    let (mut from, mut place, mut forward) = (Length::ZERO, Length::ZERO, true);
    let mut all = Vec::new();
    for end in at {
        let length = end - from;
        let next = if forward { place + length } else { place - length };
        all.push([place.min(next), place.max(next)]);
        (from, place, forward) = (end, next, !forward);
    }
    all
}

/// How large a rectangle is once it is folded at its scores.
pub fn folded(size: Size, scores: &[Score]) -> Size {
    let side = |axis: Axis| {
        let all = intervals(size, scores, axis);
        let least = all.iter().map(|it| it[0]).min().unwrap_or_default();
        all.iter().map(|it| it[1]).max().unwrap_or_default() - least
    };
    Size::new(side(Axis::Width), side(Axis::Height))
}

fn most_overlap(intervals: &[[Length; 2]]) -> i64 {
    let at = |place: Length| intervals.iter().filter(|it| it[0] <= place && place < it[1]).count();
    intervals.iter().map(|it| at(it[0])).max().unwrap_or(1) as i64
}
