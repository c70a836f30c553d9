//! One finished set: what it weighs, how thick it is, what the post says.
//!
//! Its weight is its area times the paper's weight, exactly, in picograms; its thickness is the sum of its layers
//! (`pieces/thickness.rs`).

use super::Needs;
use crate::folds::Fold;
use crate::formats::{self, Letter, MailContents, MailForm, PostRoom, PostRules, PostVerdict};
use crate::job::Job;
use crate::made::Made;
use crate::measure::{Area, Axis, Length, Money, Size, Thickness, Weight};
use crate::orders::{Envelope, OrderLine};
use crate::pieces::{
    Bulk, CardSundry, ENVELOPE_LAYERS, Enclosed, Part, Piece, Pocket, in_a_set, sundries,
};
use crate::stock::{KnownPapers, PaperFacts, Stock, rounded};
use crate::workshop::{EnvelopeKind, Workshop};
use std::collections::BTreeMap;

/// One finished set of a line: a card with its layers, in its envelope where it has one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FinishedSet {
    /// What it weighs, without glue and stamp; `None` where the weight of a paper is not known.
    pub weight: Option<Weight>,
    /// How thick it is; `None` where nothing is known of a paper.
    pub thickness: Option<Thickness>,
    /// Whether a paper's thickness was guessed from its weight, or a bought envelope's paper assumed.
    pub guessed: bool,
    /// What in it is stiff or uneven.
    pub contents: MailContents,
    /// The name of its envelope, where that is bought.
    pub envelope: Option<String>,
    /// Whether an address in ink cannot be read on that.
    pub is_dark: bool,
    /// The lines whose sets lie in its envelope.
    pub holds: Vec<String>,
    /// Whether it lies in the envelope of another.
    pub is_enclosed: bool,
    /// What goes through the post, outside; `None` for a card that is not posted, as far as the order says.
    pub outside: Option<Size>,
    /// What the post says to it.
    pub post: Option<PostAnswer>,
    /// Of the roomier envelopes that could be bought instead and that the post takes better, the closest of those that it
    /// takes best.
    pub roomier: Option<RoomierEnvelope>,
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
    /// How much it could grow within that; `None` where it is no letter.
    pub room: Option<PostRoom>,
    /// What it costs, where the workshop says so.
    pub price: Option<Money>,
}

/// A roomier envelope for a set, and what the post says then.
#[derive(Clone, Debug, PartialEq)]
pub struct RoomierEnvelope {
    /// Its name.
    pub name: String,
    /// What the post says to the set in it.
    pub post: PostAnswer,
    /// What each stamp costs less, where the workshop says what both cost.
    pub saves: Option<Money>,
}

/// The finished sets of all lines, with what lies in them.
pub(super) fn of_lines<'a>(made: &'a Made, needs: &Needs) -> BTreeMap<&'a str, FinishedSet> {
    let Job { order, stock, workshop, bill, .. } = &made.job;
    let papers = KnownPapers::of(stock);
    let enclosed = Enclosed::of(order, bill, stock, workshop);
    let lines = order.lines.iter().map(|line| line.name.value.as_str());
    let needs: BTreeMap<&str, &Vec<(&Piece, u64)>> = lines.zip(needs).collect();
    let mut sets: BTreeMap<&str, FinishedSet> = BTreeMap::new();
    let nesting = enclosed.nesting();
    for line in nesting.inside_out() {
        let name = line.name.value.as_str();
        // A box holds sets, so it is no part of one.
        let own = needs.get(name).into_iter().flat_map(|needs| needs.iter());
        let parts = own.map(|(piece, _)| *piece).filter(|piece| piece.part != Part::Box).collect();
        let guests = nesting.inside(name).iter().map(|inner| inner.name.value.as_str());
        let guests = guests.filter_map(|inner| sets.get(inner)).collect();
        let holds = nesting.names_inside(name);
        let inside = enclosed.inside(line);
        let better = match line.envelope {
            Envelope::Bought => roomier(inside, stock, workshop),
            _ => Vec::new(),
        };
        let pocket = enclosed.pocket(line);
        let sundries = sundries(line, stock);
        let parts = SetParts { line, parts, guests, holds, sundries, pocket, better };
        let set = of_line(&parts, &papers, made);
        sets.insert(name, set);
    }
    sets
}

/// What a finished set is made of.
struct SetParts<'a> {
    line: &'a OrderLine,
    parts: Vec<&'a Piece>,
    /// Sets of other lines that lie in its envelope.
    guests: Vec<&'a FinishedSet>,
    /// Their lines.
    holds: Vec<String>,
    /// Sundries of each card.
    sundries: Vec<CardSundry<'a>>,
    /// Its envelope.
    pocket: Option<&'a Pocket>,
    /// Roomier envelopes that could be bought instead, the closest first.
    better: Vec<Pocket>,
}

/// The roomier envelopes that hold what lies in one: those of the file, or where there is none, of the workshop's system
/// of sizes.
fn roomier(inside: Bulk, stock: &Stock, workshop: &Workshop) -> Vec<Pocket> {
    let all = match stock.envelopes.is_empty() {
        true => Pocket::usual_holding(inside, workshop),
        false => Pocket::holding(inside, stock, workshop),
    };
    all.into_iter().skip(1).collect()
}

/// The finished set of a line.
fn of_line(set: &SetParts, papers: &KnownPapers, made: &Made) -> FinishedSet {
    let workshop = &made.job.workshop;
    let SetParts { line, parts, guests, holds, sundries, pocket, better } = set;
    let mut set = FinishedSet {
        weight: Some(Weight::ZERO),
        thickness: Some(Thickness::ZERO),
        holds: holds.clone(),
        is_enclosed: line.goes_in.is_some(),
        ..FinishedSet::default()
    };
    for piece in parts {
        let area = area(piece, workshop.envelope.kind) * in_a_set(line, piece.part);
        set.add(area, piece.layers(), papers.heaviest(&piece.papers));
    }
    sundries.iter().for_each(|it| set.add_sundry(it));
    guests.iter().for_each(|guest| set.add_guest(guest));
    match (&line.envelope, pocket) {
        (Envelope::PostedWithout, _) => {
            set.posted(line.card.value, form(line.fold, parts.len()), workshop)
        }
        (_, Some(pocket)) => set.enclosed(pocket, workshop).or_roomier(&set, better, made),
        (_, None) => set,
    }
}

/// What a card without an envelope looks like that is made of so many parts.
fn form(fold: Fold, parts: usize) -> MailForm {
    match (fold, parts) {
        (Fold::FLAT, 1) => MailForm::Card,
        (Fold::FLAT, _) => MailForm::Layered,
        _ => MailForm::Folded,
    }
}

impl PostAnswer {
    /// The envelope of this name as an offer, if this is the answer to it and better than the `usual` one: a better
    /// class, whose stamp costs less where both prices are known, even if the envelope itself is `dearer`.
    fn instead_of(self, usual: &PostAnswer, name: &str, dearer: Money) -> Option<RoomierEnvelope> {
        let saves = usual.price.zip(self.price).map(|(usual, own)| usual - own - dearer);
        let is_better = self.verdict.class.is_some()
            && self.verdict.rank() < usual.verdict.rank()
            && saves.is_none_or(|saves| saves > Money::ZERO);
        is_better.then(|| RoomierEnvelope { name: name.to_owned(), post: self, saves })
    }
}

impl FinishedSet {
    /// With the roomier envelope that the post takes better than its own, where `bare` goes in one.
    fn or_roomier(self, bare: &FinishedSet, better: &[Pocket], made: &Made) -> FinishedSet {
        let Job { stock, workshop, .. } = &made.job;
        let worth = |pocket: &str| stock.envelope(pocket).map(|it| it.supply.worth(1));
        let own = self.envelope.as_deref().and_then(worth);
        let better = better.iter().filter_map(|other| {
            let name = other.name.as_deref()?;
            let post = bare.enclosed(other, workshop).post?;
            let dearer = worth(name).zip(own.clone()).map(|(other, own)| rounded(&(other - own)));
            post.instead_of(self.post.as_ref()?, name, dearer.unwrap_or_default())
        });
        // Of equally good ones the first, which is the closest.
        let roomier = better.min_by_key(|it| it.post.verdict.rank());
        FinishedSet { roomier, ..self }
    }

    /// The same in an envelope, as the post takes it; one that is cut has its paper among the pieces.
    fn enclosed(&self, pocket: &Pocket, workshop: &Workshop) -> FinishedSet {
        let mut set = self.clone();
        if let Some(paper) = pocket.bought {
            set.add(pocket.bought_area(), ENVELOPE_LAYERS, paper);
        }
        set.is_dark = pocket.is_dark;
        set.envelope.clone_from(&pocket.name);
        set.posted(pocket.face, MailForm::Enveloped, workshop)
    }

    /// The same as the post takes it: outside it has this size and form.
    fn posted(mut self, outside: Size, form: MailForm, workshop: &Workshop) -> FinishedSet {
        let Letter { length, height, .. } = Letter::enveloped(outside);
        let Self { thickness, weight, .. } = self;
        let (thickness, contents) = (thickness.map(Thickness::length), self.contents);
        let letter = Letter { length, height, thickness, weight, form, contents };
        self.outside = Some(outside);
        self.post = asked(&letter, workshop);
        self
    }

    /// With the set of another line in its envelope.
    fn add_guest(&mut self, guest: &FinishedSet) {
        self.weight = self.weight.zip(guest.weight).map(|(own, other)| own + other);
        self.thickness = self.thickness.zip(guest.thickness).map(|(own, other)| own + other);
        self.guessed |= guest.guessed;
        self.contents = self.contents.and(guest.contents);
    }

    fn add_sundry(&mut self, CardSundry { sundry, amount }: &CardSundry) {
        let weight = self.weight.zip(sundry.weight_of(*amount));
        self.weight = weight.map(|(own, other)| own + other);
        let thickness = self.thickness.zip(sundry.thickness);
        self.thickness = thickness.map(|(own, other)| own + other);
        self.contents = self.contents.and(sundry.post);
    }

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

/// What the workshop's post says.
fn asked(letter: &Letter, workshop: &Workshop) -> Option<PostAnswer> {
    let rules = formats::rules_of(&workshop.post.rules)?;
    let verdict = rules.judge(letter);
    let up_to = verdict.class.and_then(|class| class.step(letter));
    let room = verdict.class.map(|class| class.room(letter));
    let price = verdict.class.zip(letter.weight).and_then(|(class, weight)| {
        let mut own = workshop.post.prices.iter().filter(|price| price.class == class.name);
        own.find(|price| weight <= price.up_to).map(|price| price.price)
    });
    Some(PostAnswer { rules, verdict, up_to, room, price })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::folds::Score;

    fn blank(part: Part, width: i64, height: i64, scores: &[(Axis, i64)]) -> Piece {
        let mm = Length::from_mm;
        let scores = scores.iter().map(|&(across, at)| Score::new(across, mm(at))).collect();
        Piece {
            id: "p".to_owned(),
            part,
            papers: Vec::new(),
            size: Size::new(mm(width), mm(height)),
            turn: None,
            grain_along: None,
            scores,
            shares: Vec::new(),
            done: Default::default(),
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
