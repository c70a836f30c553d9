//! One finished set: what it weighs, how thick it is, what the post says.
//!
//! Its weight is its area times the paper's weight, exactly, in picograms; its thickness is the sum of its layers
//! (`pieces/thickness.rs`).

use crate::formats::{self, Letter, PostRules, PostVerdict};
use crate::made::Made;
use crate::measure::{Area, Axis, Length, Money, Size, Thickness, Weight};
use crate::orders::{Envelope, OrderLine};
use crate::pieces::{ENVELOPE_LAYERS, Part, Piece, Pocket, bought_paper, contents};
use crate::stock::{KnownPapers, PaperFacts};
use crate::workshop::EnvelopeKind;

/// One finished set of a line: a card with its layers, in its envelope where it has one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FinishedSet {
    /// What it weighs, without glue and stamp; `None` where the weight of a paper is not known.
    pub weight: Option<Weight>,
    /// How thick it is; `None` where nothing is known of a paper.
    pub thickness: Option<Thickness>,
    /// Whether a paper's thickness was guessed from its weight, or a bought envelope's paper assumed.
    pub guessed: bool,
    /// What goes through the post, outside; `None` for a card without an envelope.
    pub outside: Option<Size>,
    /// What the post says to it.
    pub post: Option<PostAnswer>,
}

/// What the post says to a set.
#[derive(Clone, Debug, PartialEq)]
pub struct PostAnswer {
    /// Whose rules.
    pub rules: &'static PostRules,
    /// What they say.
    pub verdict: PostVerdict<'static>,
    /// The step of weight that it falls in.
    pub up_to: Option<Weight>,
    /// What it costs, where the workshop says so.
    pub price: Option<Money>,
}

/// The finished set of a line.
pub(super) fn of_line(
    made: &Made,
    papers: &KnownPapers,
    line: &OrderLine,
    needs: &[(&Piece, u64)],
) -> FinishedSet {
    let mut set = FinishedSet {
        weight: Some(Weight::ZERO),
        thickness: Some(Thickness::ZERO),
        ..FinishedSet::default()
    };
    // A box holds sets, so it is no part of one.
    for (piece, _) in needs.iter().filter(|(piece, _)| piece.part != Part::Box) {
        set.add(
            area(piece, made.job.workshop.envelope.kind),
            piece.layers(),
            papers.heaviest(&piece.papers),
        );
    }
    let inside = contents(needs.iter().map(|(piece, _)| *piece), papers);
    let pocket = Pocket::of(line, inside, &made.job.workshop);
    set.outside = pocket.map(|pocket| pocket.face);
    if line.envelope == Envelope::Bought
        && let Some(outside) = set.outside
    {
        // Front and back, and a tenth for the seams.
        let area = outside.area() + outside.area();
        let tenth = Area::from_square_ticks(area.square_ticks() / 10);
        set.add(area + tenth, ENVELOPE_LAYERS, bought_paper());
    }
    set.post = set.outside.and_then(|outside| asked(made, &set, outside));
    set
}

impl FinishedSet {
    fn add(&mut self, area: Area, layers: i64, paper: PaperFacts) {
        self.weight = match (self.weight, paper.weight) {
            (Some(weight), Some(paper)) => Some(weight + Weight::of_paper(area, paper)),
            _ => None,
        };
        self.thickness = match (self.thickness, paper.thickness) {
            (Some(thickness), Some(paper)) => Some(thickness + paper * layers),
            _ => None,
        };
        self.guessed |= paper.guessed;
    }
}

/// The paper that a piece really has: without the corners that are cut out of an envelope, and without what is cut off
/// its liner beside the point of a flap.
fn area(piece: &Piece, kind: EnvelopeKind) -> Area {
    let off = match (piece.part, kind) {
        (Part::Envelope, EnvelopeKind::Wrap) => corners(piece),
        (Part::EnvelopeLiner, EnvelopeKind::Diagonal) => beside_the_point(piece),
        _ => return piece.size.area(),
    };
    piece.size.area() - off
}

fn folds(piece: &Piece, axis: Axis) -> impl DoubleEndedIterator<Item = Length> {
    piece.scores.iter().filter(move |score| score.across == axis).map(|score| score.at)
}

fn corners(piece: &Piece) -> Area {
    let side = folds(piece, Axis::Width).next().unwrap_or_default();
    let bottom = folds(piece, Axis::Height).next().unwrap_or_default();
    let folds_up = folds(piece, Axis::Height).next_back().unwrap_or_default();
    let top = piece.size.height - folds_up;
    Size::new(side, bottom + top).area() * 2
}

/// Above its fold a liner is a triangle whose edges run at 45 degrees from the point.
fn beside_the_point(piece: &Piece) -> Area {
    let Size { width, height } = piece.size;
    let flap = height - folds(piece, Axis::Height).next().unwrap_or(height);
    let half = flap.min(Length::from_ticks(width.ticks() / 2));
    Size::new(width - half, flap).area()
}

/// What the post says, the address along the long side.
fn asked(made: &Made, set: &FinishedSet, outside: Size) -> Option<PostAnswer> {
    let rules = formats::rules_of(&made.job.workshop.post.rules)?;
    let letter = Letter {
        length: outside.long(),
        height: outside.short(),
        thickness: set.thickness.map(Thickness::length),
        weight: set.weight,
    };
    let verdict = rules.judge(&letter);
    let up_to = verdict.class.and_then(|class| class.step(&letter));
    let prices = &made.job.workshop.post.prices;
    let price = verdict.class.zip(set.weight).and_then(|(class, weight)| {
        let mut own = prices.iter().filter(|price| price.class == class.name);
        own.find(|price| weight <= price.up_to).map(|price| price.price)
    });
    Some(PostAnswer { rules, verdict, up_to, price })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pieces::Score;

    fn blank(part: Part, width: i64, height: i64, scores: &[(Axis, i64)]) -> Piece {
        let mm = Length::from_mm;
        let scores = scores.iter().map(|&(across, at)| Score { across, at: mm(at) }).collect();
        Piece {
            id: "p".to_owned(),
            part,
            papers: Vec::new(),
            size: Size::new(mm(width), mm(height)),
            turn: None,
            grain_along: None,
            scores,
            shares: Vec::new(),
            place: None,
        }
    }

    /// Areas by plane geometry, in square millimetres.
    #[test]
    fn what_is_cut_off_weighs_nothing() {
        let square = |mm2: i64| Size::new(Length::from_mm(mm2), Length::from_mm(1)).area();
        let (wrap, diagonal) = (EnvelopeKind::Wrap, EnvelopeKind::Diagonal);
        let folds = [(Axis::Width, 10), (Axis::Width, 90), (Axis::Height, 30), (Axis::Height, 80)];
        let envelope = blank(Part::Envelope, 100, 100, &folds);
        // Two corners of 10 x 30 mm and two of 10 x 20 mm.
        assert_eq!(area(&envelope, wrap), square(10_000 - 1_000));
        assert_eq!(area(&envelope, diagonal), square(10_000));
        // Of 80 x 20 mm above the fold a triangle of 20 mm is left, 40 mm wide below.
        let liner = blank(Part::EnvelopeLiner, 80, 100, &[(Axis::Height, 80)]);
        assert_eq!(area(&liner, diagonal), square(80 * 80 + 20 * 20));
        assert_eq!(area(&liner, wrap), square(80 * 100));
        let short = blank(Part::EnvelopeLiner, 80, 70, &[]);
        assert_eq!(area(&short, diagonal), square(80 * 70), "no flap");
    }
}
