//! The card and its layers: base, liner, insert, mat.

use super::given::Given;
use crate::diagnostics::{Problem, Problems, Spanned};
use crate::folds::Blank;
use crate::folds::{self, Score};
use crate::measure::{Axis, Length, Size};
use crate::orders::{Insert, Liner, LinerKind, OrderLine};

/// A rectangle creased in its middle.
fn folded(size: Size, opens: Axis) -> Blank {
    let middle = Length::from_ticks(size.along(opens).ticks() / 2);
    Blank { size, scores: vec![Score::new(opens, middle)], grain_along: Some(opens.other()) }
}

/// Tells of a card that is too narrow for its panels.
pub(super) fn too_narrow(line: &OrderLine, ground: Given) -> Option<Problem> {
    let style = ground.workshop.style();
    let opens = line.fold.opens()?;
    let least = folds::least_side(line.fold.style, ground.folded_paper(line));
    let side = line.card.value.along(opens);
    let title = format!("line `{}` is too narrow for a {}", line.name.value, line.fold.told());
    let way = if opens == Axis::Width { "wide" } else { "high" };
    let [side_told, least_told] = [side, least].map(|length| style.with_unit(length));
    let label = format!("{side_told} {way} once it is folded, expected at least {least_told}");
    (side < least).then(|| {
        Problem::error("piece-vanishes", title)
            .at(line.card.place.as_ref(), label)
            .help("make the card larger, its paper thinner, or fold it another way")
    })
}

/// What lies on a card or in it, with what helps where nothing is left of it.
struct Layer<'a> {
    name: &'a str,
    advice: &'a str,
    paper: &'a Spanned<String>,
}

/// The layers of one line's card.
pub(super) struct Card<'a, 'b> {
    pub line: &'a OrderLine,
    pub ground: Given<'a>,
    pub problems: &'b mut Problems,
}

impl Card<'_, '_> {
    /// A panel is the card less the inset on each side; a folded liner is the open card less half of it on
    /// each side (common practice, no source), and less its creep.
    pub fn liner(&mut self, liner: &Liner) -> Option<Blank> {
        let inset = self.ground.workshop.envelope.liner_inset;
        let advice = "make `liner_inset` under [envelope] in workshop.toml smaller, or leave the \
                      liner out";
        let Some(opens) = self.line.fold.opens().filter(|_| liner.kind == LinerKind::Folded) else {
            let panel = self.inner(inset, Layer { name: "liner", advice, paper: &liner.paper });
            return panel.map(|panel| self.glued(panel));
        };
        let paper = self.ground.folded_paper(self.line);
        let open = folds::opened(self.line.card.value, self.line.fold, paper).size;
        let creep = self.creep(&liner.paper.value);
        let size = Size::new(open.width - inset, open.height - inset);
        let size = size.with(opens, even(size.along(opens) - creep));
        match size.short() >= Length::LEAST_SIDE {
            true => Some(folded(size, opens)),
            false => {
                self.vanishes(inset, size, Layer { name: "liner", advice, paper: &liner.paper })
            }
        }
    }

    /// How much shorter a folded liner is across the fold than the card is, so that its free edges lie as far
    /// from the card's as at the other sides. A fold uses up `pi/2 x (all that is folded inside + own
    /// thickness)` of a sheet (plane geometry, a round spine): the card's fold has two leaves of liner
    /// inside, the liner's none, so the card loses `pi/2 x (card + liner)` more. To the nearest step of
    /// the gauge: most creep is too fine to be cut. Nothing where a thickness is not known.
    fn creep(&self, liner: &str) -> Length {
        let Given { papers, workshop, .. } = self.ground;
        let thickness = |names: &[String]| papers.heaviest(names).thickness;
        let liner = thickness(&[liner.to_owned()]);
        let both = thickness(&self.line.papers.value).zip(liner);
        let (card, liner) = both.unwrap_or_default();
        // 355/113 is pi to six digits (Zu Chongzhi, 5th century).
        let around = Length::from_ticks((card + liner).length().ticks() * 355 / 226);
        around.rounded(workshop.trimmer.graduation)
    }

    /// A loose sheet: of its own size, or the card less a liner's inset on each side.
    pub fn insert(&mut self, insert: &Insert) -> Option<Blank> {
        let inset = self.ground.workshop.envelope.liner_inset;
        let advice = "give it a size in the column `insert size`, or make `liner_inset` under [envelope] in workshop.toml smaller";
        match insert.size {
            Some(size) => Some(Blank::plain(size)),
            None => self.inner(inset, Layer { name: "insert", advice, paper: &insert.paper }),
        }
    }

    /// A front layer that leaves `inset` of the card on each side; on a gate, of each half of its front.
    pub fn mat(&mut self, paper: &Spanned<String>, inset: Length) -> Option<Blank> {
        let advice = "make `mat inset` smaller, or leave the mat out";
        let style = self.ground.workshop.style();
        let face = folds::mat_face(self.line.card.value, self.line.fold, style);
        let mat = self.within(face, inset, Layer { name: "mat", advice, paper });
        mat.map(|mat| self.glued(mat))
    }

    /// What is glued to a folded card has its grain along the fold, so that both move alike in damp air (common practice, no
    /// source); on a flat card it may lie as it will.
    fn glued(&self, layer: Blank) -> Blank {
        Blank { grain_along: self.line.fold.opens().map(Axis::other), ..layer }
    }

    /// The card's face less `inset` on each side, or a problem where nothing is left that can be cut.
    fn inner(&mut self, inset: Length, layer: Layer) -> Option<Blank> {
        self.within(self.line.card.value, inset, layer)
    }

    /// The same of a part of the face.
    fn within(&mut self, face: Size, inset: Length, layer: Layer) -> Option<Blank> {
        let size = Size::new(face.width - inset * 2, face.height - inset * 2);
        match size.short() >= Length::LEAST_SIDE {
            true => Some(Blank::plain(size)),
            false => self.vanishes(inset, size, layer),
        }
    }

    fn vanishes(
        &mut self,
        inset: Length,
        left: Size,
        Layer { name, advice, paper }: Layer,
    ) -> Option<Blank> {
        let (card, style) = (self.line.card.value, self.ground.workshop.style());
        let title = format!("no room for the {name} of line `{}`", self.line.name.value);
        let leaves = match left.is_positive() {
            true => format!("less than {}", style.with_unit(Length::LEAST_SIDE)),
            false => "nothing".to_owned(),
        };
        let label = format!(
            "an inset of {} on each side leaves {leaves} of a {} card",
            style.with_unit(inset),
            style.size(card)
        );
        let less = Length::from_ticks(card.short().ticks() / 2);
        self.problems.push(
            Problem::error("piece-vanishes", title)
                .at(paper.place.as_ref(), label)
                .help(format!("{advice}; here it must be less than {}", style.with_unit(less))),
        );
        None
    }
}

/// The nearest length below that has a middle.
fn even(length: Length) -> Length {
    Length::from_ticks(length.ticks() / 2 * 2)
}
