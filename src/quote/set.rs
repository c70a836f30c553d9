//! One finished set: what it weighs, how thick it is, what the post says.

use super::Ground;
use crate::formats::{self, Letter, PostRules, Verdict};
use crate::measure::{Area, Axis, Length, Money, Size, Weight};
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
    pub thickness: Option<Length>,
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
    pub verdict: Verdict<'static>,
    /// The step of weight that it falls in.
    pub up_to: Option<Weight>,
    /// What it costs, where the workshop says so.
    pub price: Option<Money>,
}

/// The finished set of a line.
pub(super) fn of_line(
    ground: &Ground,
    papers: &KnownPapers,
    (line, needs): (&OrderLine, &[(&Piece, u64)]),
) -> FinishedSet {
    let mut set = FinishedSet {
        weight: Some(Weight::ZERO),
        thickness: Some(Length::ZERO),
        ..FinishedSet::default()
    };
    // A box holds sets, so it is no part of one.
    for (piece, _) in needs.iter().filter(|(piece, _)| piece.part != Part::Box) {
        set.add((area(piece, ground), piece.layers()), papers.heaviest(&piece.papers));
    }
    let inside = contents(needs.iter().map(|(piece, _)| *piece), papers);
    let pocket = Pocket::of(line, inside, ground.workshop);
    set.outside = pocket.map(|pocket| pocket.face);
    if line.envelope == Envelope::Bought
        && let Some(outside) = set.outside
    {
        // Front and back, and a tenth for the seams.
        let area = outside.area() + outside.area();
        let tenth = Area::from_square_ticks(area.square_ticks() / 10);
        set.add((area + tenth, ENVELOPE_LAYERS), bought_paper());
    }
    set.post = set.outside.and_then(|outside| asked(ground, &set, outside));
    set
}

impl FinishedSet {
    fn add(&mut self, (area, layers): (Area, i64), paper: PaperFacts) {
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

/// The paper that a piece really has: of an envelope, without the corners that are cut out.
fn area(piece: &Piece, ground: &Ground) -> Area {
    let whole = piece.size.area();
    if piece.part != Part::Envelope || ground.workshop.envelope.kind != EnvelopeKind::Wrap {
        return whole;
    }
    let at = |axis: Axis| piece.scores.iter().filter(move |score| score.across == axis);
    let side = at(Axis::Width).map(|score| score.at).next().unwrap_or_default();
    let bottom = at(Axis::Height).map(|score| score.at).next().unwrap_or_default();
    let folds_up = at(Axis::Height).map(|score| score.at).next_back().unwrap_or_default();
    let top = piece.size.height - folds_up;
    whole - Size::new(side, bottom + top).area() * 2
}

/// What the post says, the address along the long side.
fn asked(ground: &Ground, set: &FinishedSet, outside: Size) -> Option<PostAnswer> {
    let rules = formats::rules_of(&ground.workshop.post.rules)?;
    let letter = Letter {
        length: outside.long(),
        height: outside.short(),
        thickness: set.thickness,
        weight: set.weight,
    };
    let verdict = rules.judge(&letter);
    let up_to = verdict.class.and_then(|class| class.step(&letter));
    let prices = &ground.workshop.post.prices;
    let price = verdict.class.zip(set.weight).and_then(|(class, weight)| {
        let mut own = prices.iter().filter(|price| price.class == class.name);
        own.find(|price| weight <= price.up_to).map(|price| price.price)
    });
    Some(PostAnswer { rules, verdict, up_to, price })
}
