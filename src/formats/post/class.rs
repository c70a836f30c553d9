//! A class of letters, and which of its limits a letter breaks.

use super::reason::SIDES;
use super::{Letter, MailContents, MailForm, Reason, Side};
use crate::measure::{Length, Weight};

/// A class of letters.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PostClass {
    /// Its name, as the post calls it.
    pub name: String,
    pub(super) limits: Limits,
    /// The weights up to which its steps of price go, the lightest first; none where all have one price.
    pub steps: Vec<Weight>,
    /// Where the limits are published.
    pub source: String,
    /// Where the smallest size is from, if nobody publishes it now: what is smaller may not be taken.
    pub doubt: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Limits {
    pub takes: TakenForms,
    /// What must not be in it.
    pub refuses: MailContents,
    pub least: [Option<Length>; 3],
    pub most: [Option<Length>; 3],
    pub weight: [Option<Weight>; 2],
    /// Of the paper, in grams per square metre.
    pub paper: [Option<u64>; 2],
    /// Length to height, in thousandths.
    pub ratio: [Option<u64>; 2],
    pub sum: Option<Length>,
    pub large: Option<LargeLetter>,
    /// One of these has to be exceeded.
    pub over: Option<Over>,
}

/// Which forms of letters a class is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum TakenForms {
    /// All.
    All,
    /// Single cards without an envelope.
    SingleCards,
    /// All but what is folded and has no envelope.
    NoOpenFolds,
}

/// What a letter needs that is beyond one of these sides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct LargeLetter {
    pub beyond: [Option<Length>; 3],
    pub thickness: Option<Length>,
    pub weight: Option<Weight>,
}

/// Length, height and thickness, and a weight.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Over {
    pub sides: [Length; 3],
    pub weight: Weight,
}

impl PostClass {
    /// The step of weight that a letter falls in: the heaviest that it may have; `None` where its weight
    /// is not known.
    pub fn step(&self, letter: &Letter) -> Option<Weight> {
        let weight = letter.weight?;
        self.steps.iter().copied().find(|step| weight <= *step)
    }

    /// The largest letter that it takes: length, height, thickness, as far as it limits them.
    pub fn most(&self) -> [Option<Length>; 3] {
        self.limits.most
    }

    /// The smallest one.
    pub fn least(&self) -> [Option<Length>; 3] {
        self.limits.least
    }

    /// The heaviest one.
    pub fn heaviest(&self) -> Option<Weight> {
        self.limits.weight[1]
    }

    /// Whether it is for single cards without an envelope alone.
    pub fn is_for_cards(&self) -> bool {
        self.limits.takes == TakenForms::SingleCards
    }

    /// Whether a letter of this form may ask for it at all.
    pub(super) fn is_for(&self, form: MailForm) -> bool {
        form != MailForm::Enveloped || !self.is_for_cards()
    }

    /// The source of its smallest size, where a letter breaks no other limit and that source is in doubt.
    pub(super) fn doubt_of(&self, reasons: &[Reason]) -> Option<&str> {
        let is_small = reasons.iter().all(|reason| matches!(reason, Reason::Below(..)));
        self.doubt.as_deref().filter(|_| is_small)
    }

    /// All limits that a letter breaks. What is not known of it breaks none.
    pub(super) fn reasons(&self, letter: &Letter) -> Vec<Reason> {
        let limits = &self.limits;
        let mut reasons: Vec<Reason> = limits.takes.broken(letter.form).into_iter().collect();
        reasons.extend(limits.of_contents(letter).into_iter().flatten());
        reasons.extend(SIDES.into_iter().flat_map(|side| limits.of_side(letter, side)).flatten());
        reasons.extend(limits.of_weight(letter).into_iter().flatten());
        reasons.extend(limits.of_shape(letter).into_iter().flatten());
        let large = limits.large.as_ref().filter(|large| letter.is_beyond(large));
        reasons.extend(large.map(|large| large.broken(letter)).into_iter().flatten().flatten());
        let over = limits.over.as_ref().filter(|over| !letter.is_over(over));
        reasons.extend(over.map(|_| Reason::Small));
        reasons
    }
}

impl TakenForms {
    fn broken(self, form: MailForm) -> Option<Reason> {
        let takes = match self {
            TakenForms::All => true,
            TakenForms::SingleCards => form == MailForm::Card,
            TakenForms::NoOpenFolds => form != MailForm::Folded,
        };
        (!takes).then_some(Reason::Form(form))
    }
}

impl Limits {
    fn of_contents(&self, letter: &Letter) -> [Option<Reason>; 2] {
        let (refused, found) = (self.refuses, letter.contents);
        [
            (refused.is_rigid && found.is_rigid).then_some(Reason::Rigid),
            (refused.is_uneven && found.is_uneven).then_some(Reason::Uneven),
        ]
    }

    fn of_side(&self, letter: &Letter, side: Side) -> [Option<Reason>; 2] {
        let Some(is) = letter.along(side) else { return [None, None] };
        let least = self.least[side as usize].filter(|least| is < *least);
        let most = self.most[side as usize].filter(|most| is > *most);
        [least.map(|it| Reason::Below(side, is, it)), most.map(|it| Reason::Beyond(side, is, it))]
    }

    fn of_weight(&self, letter: &Letter) -> [Option<Reason>; 4] {
        let Some(is) = letter.weight else { return [None; 4] };
        let [light, heavy] = self.weight;
        // A card is one sheet, so its paper weighs what it weighs.
        let paper = |limit: Option<u64>| {
            let limit = limit?;
            Some((limit, Weight::of_paper(letter.face().area(), limit * 1000)))
        };
        let (thin, stout) = (paper(self.paper[0]), paper(self.paper[1]));
        let told = || is.grams_per_square_metre(letter.face().area());
        [
            light.filter(|least| is < *least).map(|it| Reason::Light(is, it)),
            heavy.filter(|most| is > *most).map(|it| Reason::Heavy(is, it)),
            thin.filter(|(_, least)| is < *least).map(|(it, _)| Reason::LightPaper(told(), it)),
            stout.filter(|(_, most)| is > *most).map(|(it, _)| Reason::HeavyPaper(told(), it)),
        ]
    }

    fn of_shape(&self, letter: &Letter) -> [Option<Reason>; 3] {
        let is = letter.ratio();
        let [square, narrow] = self.ratio;
        let all = letter.length + letter.height + letter.thickness.unwrap_or_default();
        [
            square.filter(|it| letter.is_below(*it)).map(|it| Reason::Square(is, it)),
            narrow.filter(|it| letter.is_above(*it)).map(|it| Reason::Narrow(is, it)),
            self.sum.filter(|most| all > *most).map(|it| Reason::Sum(all, it)),
        ]
    }
}

impl LargeLetter {
    fn broken(&self, letter: &Letter) -> [Option<Reason>; 2] {
        let thin = letter.thickness.zip(self.thickness).filter(|(is, needed)| is < needed);
        let light = letter.weight.zip(self.weight).filter(|(is, needed)| is < needed);
        [
            thin.map(|(is, needed)| Reason::Thin(is, needed)),
            light.map(|(is, needed)| Reason::LightForSize(is, needed)),
        ]
    }
}

impl Letter {
    /// One of its sides, where it is known.
    pub(super) fn along(&self, side: Side) -> Option<Length> {
        match side {
            Side::Length => Some(self.length),
            Side::Height => Some(self.height),
            Side::Thickness => self.thickness,
        }
    }

    fn is_beyond(&self, large: &LargeLetter) -> bool {
        let beyond = |side: Side| {
            self.along(side).zip(large.beyond[side as usize]).is_some_and(|(is, end)| is > end)
        };
        SIDES.into_iter().any(beyond)
    }

    fn is_over(&self, Over { sides, weight }: &Over) -> bool {
        let over = |side: Side| self.along(side).is_some_and(|is| is > sides[side as usize]);
        SIDES.into_iter().any(over) || self.weight.is_some_and(|is| is > *weight)
    }
}
