//! One finished set: what it weighs, how thick it is, what the post says.

use super::Ground;
use crate::formats::{self, Letter, PostClass, PostRules, Reason, guessed_thickness, holders};
use crate::measure::{Area, Axis, Length, Money, Size, Weight};
use crate::orders::{Envelope, OrderLine};
use crate::pieces::{Part, Piece};
use crate::stock::{Sheet, Stock};
use crate::workshop::EnvelopeKind;
use std::collections::BTreeMap;

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
    /// The class that takes it; `None` where none does.
    pub class: Option<&'static PostClass>,
    /// Why it is not taken as something better, or at all.
    pub refused: Vec<(&'static PostClass, Vec<Reason>)>,
    /// The step of weight that it falls in.
    pub up_to: Option<Weight>,
    /// What it costs, where the workshop says so.
    pub price: Option<Money>,
}

/// Paper of bought envelopes: 24 lb bond, 90 g/m2 (common practice, no source).
const BOUGHT_PAPER: u64 = 90_234;

/// Layers of an envelope, one over the other at the thickest place of its back: the front, a side flap, and the
/// bottom flap stuck to it.
const ENVELOPE_LAYERS: i64 = 3;

/// A part's paper.
struct Paper {
    weight: Option<u64>,
    thickness: Option<Length>,
    guessed: bool,
}

/// The finished set of a line.
pub(super) fn of_line(
    ground: &Ground,
    papers: &Papers,
    (line, needs): (&OrderLine, &[(&Piece, u64)]),
) -> FinishedSet {
    let mut set = FinishedSet {
        weight: Some(Weight::ZERO),
        thickness: Some(Length::ZERO),
        ..FinishedSet::default()
    };
    for (piece, _) in needs {
        let paper = papers.heaviest(piece);
        let layers = match piece.part {
            Part::Base => 1 + piece.scores.len() as i64,
            Part::Liner | Part::Mat => 1,
            Part::Envelope => ENVELOPE_LAYERS,
        };
        set.add((area(piece, ground), layers), &paper);
    }
    set.outside = outside(ground, line, set.thickness.unwrap_or_default());
    if line.envelope == Envelope::Bought
        && let Some(outside) = set.outside
    {
        // Front and back, and a tenth for the seams.
        let area = outside.area() + outside.area();
        let tenth = Area::from_square_ticks(area.square_ticks() / 10);
        let paper = Paper {
            weight: Some(BOUGHT_PAPER),
            thickness: Some(guessed_thickness(BOUGHT_PAPER)),
            guessed: true,
        };
        set.add((area + tenth, ENVELOPE_LAYERS), &paper);
    }
    set.post = set.outside.and_then(|outside| asked(ground, &set, outside));
    set
}

impl FinishedSet {
    fn add(&mut self, (area, layers): (Area, i64), paper: &Paper) {
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

/// What is known of the papers of a stock.
pub(super) struct Papers<'a>(BTreeMap<&'a str, &'a Sheet>);

impl<'a> Papers<'a> {
    /// Of each paper, the first sheet of which weight or thickness is known.
    pub fn of(stock: &'a Stock) -> Papers<'a> {
        let known = stock.sheets.iter().rev().filter(|sheet| {
            sheet.milligrams_per_square_metre.is_some() || sheet.thickness.is_some()
        });
        Papers(known.map(|sheet| (sheet.paper.as_str(), sheet)).collect())
    }

    /// The heaviest and the thickest of the papers that a piece may be cut from.
    fn heaviest(&self, piece: &Piece) -> Paper {
        let papers: Vec<Option<&&Sheet>> =
            piece.papers.iter().map(|name| self.0.get(name.as_str())).collect();
        let all = |what: fn(&Sheet) -> Option<u64>| -> Option<Vec<u64>> {
            papers.iter().map(|sheet| sheet.and_then(|sheet| what(sheet))).collect()
        };
        let most = |all: Option<Vec<u64>>| all.and_then(|all| all.into_iter().max());
        let weight = most(all(|sheet| sheet.milligrams_per_square_metre));
        let thickness = |sheet: &Sheet| sheet.thickness.map(|it| it.ticks().unsigned_abs());
        let measured = most(all(thickness)).map(|ticks| Length::from_ticks(ticks as i64));
        let guess = weight.map(guessed_thickness);
        let guessed = measured.is_none() && guess.is_some();
        Paper { weight, thickness: measured.or(guess), guessed }
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

/// The outside of the envelope: of one that is cut its pocket, of one that is bought the smallest that holds the
/// card, or the room of a cut one where none of the list does.
fn outside(ground: &Ground, line: &OrderLine, thickness: Length) -> Option<Size> {
    let card = line.card.value;
    let rules = &ground.workshop.envelope;
    let pocket = Size::new(card.long() + rules.clear_long, card.short() + rules.clear_short);
    match line.envelope {
        Envelope::None => None,
        Envelope::Cut(_) => Some(pocket),
        Envelope::Bought => {
            let all = ground.workshop.formats.all_envelopes();
            Some(holders(all, card, thickness).first().map_or(pocket, |it| it.size))
        }
    }
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
    Some(PostAnswer { rules, class: verdict.class, refused: verdict.refused, up_to, price })
}
