//! Envelope blanks cut by hand, their liners, and what makes them close well.
//!
//! No published standard for such a blank was found; the shapes are common practice, no source, and
//! the least overlap of the closed flap is the gum band of a published paper specification.

mod diagonal;
mod doubts;
mod liner;
#[cfg(test)]
mod tests;
mod wrap;

pub use diagonal::{SEAM_OVERLAP, square_side};
pub(super) use liner::liner;
pub(super) use wrap::usual_top;

use super::{Bulk, ENVELOPE_LAYERS, bought_paper};
use crate::diagnostics::{Place, Problems};
use crate::folds::Blank;
use crate::formats::{EnvelopeFormat, holders, holds};
use crate::measure::{Area, Axis, Length, Size, Thickness};
use crate::orders::{Envelope, OrderLine};
use crate::stock::{PaperFacts, ReadyEnvelope, Stock};
use crate::workshop::{BlankRule, EnvelopeKind, Workshop};
use diagonal::Diagonal;
use doubts::Doubts;
use wrap::Wrap;

/// Least overlap of the closed top flap: the gum band of 13 mm (1/2 in) in the US government paper
/// specification JCP V20.
pub const FLAP_OVERLAP: Length = Length::from_inch_parts(1, 2);

/// The outside of an envelope, and its top flap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pocket {
    /// What it is called where it is bought.
    pub name: Option<String>,
    /// The side that the address stands on: its long side across.
    pub face: Size,
    /// How far the top flap reaches down.
    pub flap: Length,
    /// The paper of one that is bought, as far as anybody knows.
    pub bought: Option<PaperFacts>,
    /// Whether it is bought by its name in the file of envelopes.
    pub is_stocked: bool,
    /// Whether an address in ink cannot be read on it.
    pub is_dark: bool,
}

impl Pocket {
    /// The envelope of a line for what lies in it: one that is cut, by the workshop's rules; one that is bought, the
    /// one that is named, or the closest fit of the file of envelopes, else of the workshop's system of sizes, else as if it
    /// were cut. `None` where it has none.
    pub fn of(
        line: &OrderLine,
        inside: Bulk,
        stock: &Stock,
        workshop: &Workshop,
    ) -> Option<Pocket> {
        let Bulk { size: card, thick } = inside;
        let usual = || {
            let fit = holders(workshop.formats.all_envelopes(), card, thick, workshop.unit);
            let face = fit.first().map_or(face(card, workshop), |it| it.size);
            let bought = Some(bought_paper());
            let name = fit.first().map(|it| it.name.clone());
            Pocket { name, bought, ..Pocket::cut(face, wrap::usual_top(face.height, workshop)) }
        };
        match &line.envelope {
            Envelope::None | Envelope::PostedWithout => None,
            Envelope::Cut(_) => Some(BlankShape::of(card, workshop).pocket()),
            Envelope::Ready(name) => Some(
                stock.envelope(&name.value).map_or_else(usual, |it| Pocket::ready(it, workshop)),
            ),
            Envelope::Bought => {
                let closest = Pocket::holding(inside, stock, workshop).into_iter().next();
                Some(closest.unwrap_or_else(usual))
            }
        }
    }

    /// The envelopes of the file that can be had and hold this, the smallest first.
    pub fn holding(inside: Bulk, stock: &Stock, workshop: &Workshop) -> Vec<Pocket> {
        let Bulk { size: card, thick } = inside;
        let fits = |it: &&ReadyEnvelope| it.supply.is_available() && holds(it.size, card, thick);
        let mut fitting: Vec<&ReadyEnvelope> = stock.envelopes.iter().filter(fits).collect();
        fitting.sort_by_key(|envelope| envelope.size.area().square_ticks());
        fitting.into_iter().map(|envelope| Pocket::ready(envelope, workshop)).collect()
    }

    /// Those of the workshop's system of sizes likewise.
    pub fn usual_holding(Bulk { size, thick }: Bulk, workshop: &Workshop) -> Vec<Pocket> {
        let fits = holders(workshop.formats.all_envelopes(), size, thick, workshop.unit);
        let usual = fits.into_iter().filter(|it| it.is_usual(workshop.unit));
        let bought = Some(bought_paper());
        let pocket = |it: &EnvelopeFormat| {
            let flap = wrap::usual_top(it.size.height, workshop);
            Pocket { name: Some(it.name.clone()), bought, ..Pocket::cut(it.size, flap) }
        };
        usual.map(pocket).collect()
    }

    /// One of the file.
    fn ready(envelope: &ReadyEnvelope, workshop: &Workshop) -> Pocket {
        let (face, usual) = (envelope.size, bought_paper());
        let paper = PaperFacts {
            weight: envelope.paper.weight.or(usual.weight),
            thickness: envelope.paper.thickness.or(usual.thickness),
            guessed: envelope.paper.guessed || envelope.paper.weight.is_none(),
        };
        Pocket {
            name: Some(envelope.supply.name.clone()),
            bought: Some(paper),
            is_stocked: true,
            is_dark: envelope.is_dark,
            ..Pocket::cut(face, wrap::usual_top(face.height, workshop))
        }
    }

    /// One that is cut.
    fn cut(face: Size, flap: Length) -> Pocket {
        Pocket { name: None, face, flap, bought: None, is_stocked: false, is_dark: false }
    }

    /// How thick a bought one is at the thickest place of its back; one that is cut is as thick as its pieces.
    pub fn bought_thickness(&self) -> Thickness {
        let paper = self.bought.and_then(|paper| paper.thickness);
        paper.unwrap_or_default() * ENVELOPE_LAYERS
    }

    /// Its paper's area, where it is bought: front and back, and a tenth for the seams.
    pub fn bought_area(&self) -> Area {
        let faces = self.face.area() + self.face.area();
        faces + Area::from_square_ticks(faces.square_ticks() / 10)
    }
}

/// The face of a cut envelope: the card and its room, to the next step of the gauge, the long side across.
fn face(card: Size, workshop: &Workshop) -> Size {
    let (rules, step) = (&workshop.envelope, workshop.trimmer.graduation);
    let side = |card: Length, room: Length| (card + room).rounded_up(step);
    Size::new(side(card.long(), rules.clear_long), side(card.short(), rules.clear_short))
}

/// A blank of either kind.
enum BlankShape {
    Wrap(Wrap),
    Diagonal(Diagonal),
}

impl BlankShape {
    /// By the workshop's rules; where no blank fills the sheet that they name, the usual one.
    fn of(card: Size, workshop: &Workshop) -> BlankShape {
        BlankShape::wanted(card, workshop).unwrap_or_else(|| BlankShape::usual(card, workshop))
    }

    fn usual(card: Size, workshop: &Workshop) -> BlankShape {
        match workshop.envelope.kind {
            EnvelopeKind::Wrap => BlankShape::Wrap(Wrap::usual(card, workshop)),
            EnvelopeKind::Diagonal => BlankShape::Diagonal(Diagonal::usual(card, workshop)),
        }
    }

    /// `None` where the workshop names a sheet that no number of blanks fills.
    fn wanted(card: Size, workshop: &Workshop) -> Option<BlankShape> {
        match (workshop.envelope.blank, workshop.envelope.kind) {
            (BlankRule::Usual, _) => Some(BlankShape::usual(card, workshop)),
            (BlankRule::Least, EnvelopeKind::Wrap) => {
                Some(BlankShape::Wrap(Wrap::least(card, workshop)))
            }
            (BlankRule::Least, EnvelopeKind::Diagonal) => {
                Some(BlankShape::Diagonal(Diagonal::least(card, workshop)))
            }
            (BlankRule::Fill(sheet), EnvelopeKind::Wrap) => parts(sheet, workshop)
                .into_iter()
                .find_map(|part| Wrap::filling(part, card, workshop))
                .map(BlankShape::Wrap),
            (BlankRule::Fill(sheet), EnvelopeKind::Diagonal) => parts(sheet, workshop)
                .into_iter()
                .find_map(|part| Diagonal::filling(part, card, workshop))
                .map(BlankShape::Diagonal),
        }
    }

    fn pocket(&self) -> Pocket {
        match self {
            BlankShape::Wrap(wrap) => Pocket::cut(wrap.pocket, wrap.top),
            BlankShape::Diagonal(diagonal) => Pocket::cut(diagonal.face, diagonal.flap()),
        }
    }
}

/// Warns where what lies in an envelope is so thick that it uses up more than half of the room beyond the card:
/// each face gives up about the thickness of what is in it (from memory).
pub(super) fn check_room(
    inside: Bulk,
    workshop: &Workshop,
    place: Option<&Place>,
    problems: &mut Problems,
) {
    let Bulk { size: card, thick } = inside;
    let face = face(card, workshop);
    let room = (face.width - card.long()).min(face.height - card.short());
    if thick * 2 > room {
        Doubts { workshop, place, problems }.about_room(thick, room);
    }
}

/// The blank for a card, by the workshop's rules.
pub(super) fn blank(
    card: Size,
    workshop: &Workshop,
    place: Option<&Place>,
    problems: &mut Problems,
) -> Blank {
    let mut doubts = Doubts { workshop, place, problems };
    let shape = BlankShape::wanted(card, workshop).unwrap_or_else(|| {
        doubts.about_filling();
        BlankShape::usual(card, workshop)
    });
    match shape {
        BlankShape::Wrap(wrap) => {
            doubts.about_wrap(&wrap);
            wrap.blank()
        }
        BlankShape::Diagonal(diagonal) => {
            doubts.about_diagonal(&diagonal);
            Blank::plain(Size::new(diagonal.side, diagonal.side))
        }
    }
}

/// Whether a blank of this size is an equal part of a sheet.
pub(super) fn fills(blank: Size, sheet: Size, workshop: &Workshop) -> bool {
    parts(sheet, workshop).contains(&blank)
}

/// The equal parts that a sheet, squared first where the trade sells it untrimmed, can be cut into without waste, either way round; the smallest
/// first, so that the first that will do is the most from a sheet.
fn parts(sheet: Size, workshop: &Workshop) -> Vec<Size> {
    /// More from one sheet would be no envelopes.
    const MOST: i64 = 12;
    let trimmer = &workshop.trimmer;
    let is_rough = workshop.formats.is_untrimmed(sheet);
    let room = if is_rough { trimmer.squared(sheet) } else { sheet };
    let part = |axis: Axis, count: i64| {
        let left = (room.along(axis) - trimmer.blade * (count - 1)).ticks();
        (left > 0 && left % count == 0).then(|| Length::from_ticks(left / count))
    };
    let counts = (1..=MOST).flat_map(|across| (1..=MOST).map(move |down| (across, down)));
    let mut parts: Vec<Size> = counts
        .filter_map(|(across, down)| {
            Some(Size::new(part(Axis::Width, across)?, part(Axis::Height, down)?))
        })
        .flat_map(|part| [part, part.turned()])
        .collect();
    parts.sort_by_key(|part| (part.area(), part.width));
    parts
}
