//! How thick a finished set is, from its parts.

use super::{Part, Piece};
use crate::folds;
use crate::formats::guessed_thickness;
use crate::measure::{Length, Thickness};
use crate::stock::{KnownPapers, PaperFacts};

/// Layers of an envelope, one over the other at the thickest place of its back: the front, a side flap, and
/// the bottom flap stuck to it.
pub const ENVELOPE_LAYERS: i64 = 3;

/// Paper of bought envelopes in milligrams per square metre: 24 lb bond, 90 g/m2 (common practice, no source).
const BOUGHT_PAPER: u64 = 90_234;

/// The paper of an envelope that is bought, as far as anybody knows.
pub fn bought_paper() -> PaperFacts {
    let thickness = Some(guessed_thickness(BOUGHT_PAPER));
    PaperFacts { weight: Some(BOUGHT_PAPER), thickness, guessed: true }
}

impl Piece {
    /// How often its paper lies over itself in a finished set, at the thickest place; a box holds sets, so it
    /// is no part of one.
    pub fn layers(&self) -> i64 {
        match self.part {
            Part::Card | Part::Liner => folds::layers(self.size, &self.scores),
            Part::Mat | Part::Insert => 1,
            Part::Envelope => ENVELOPE_LAYERS,
            // Inside the front and under the flap.
            Part::EnvelopeLiner => 2,
            // In front, and at the back where its ends overlap.
            Part::Band => 3,
            Part::Box => 0,
        }
    }
}

/// Of the pieces of a line, how thick those are that lie in its envelope: the card with all its layers; nothing where
/// that is not known.
pub fn contents<'a>(pieces: impl IntoIterator<Item = &'a Piece>, papers: &KnownPapers) -> Length {
    let wraps =
        |piece: &&Piece| matches!(piece.part, Part::Envelope | Part::EnvelopeLiner | Part::Box);
    let inside = pieces.into_iter().filter(|piece| !wraps(piece));
    together(inside, papers).unwrap_or_default().length()
}

/// How thick pieces are that lie on each other, or why that is not known: the first paper of which nothing is
/// known.
pub(super) fn together<'a>(
    pieces: impl IntoIterator<Item = &'a Piece>,
    papers: &KnownPapers,
) -> Result<Thickness, &'a str> {
    let mut all = Thickness::ZERO;
    for piece in pieces {
        let unknown = || piece.papers.first().map(String::as_str).unwrap_or_default();
        let sheet = papers.heaviest(&piece.papers).thickness.ok_or_else(unknown)?;
        all += sheet * piece.layers();
    }
    Ok(all)
}
