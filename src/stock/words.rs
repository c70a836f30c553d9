//! The words for grain and print, as they are read and written.

use super::{Back, Print, RoughEdges};
use crate::measure::Axis;

pub(super) const GRAINS: [(&str, Axis); 2] = [("width", Axis::Width), ("height", Axis::Height)];

pub(super) const EDGES: [(&str, RoughEdges); 3] =
    [("0", RoughEdges::None), ("2", RoughEdges::Two), ("4", RoughEdges::Four)];

pub(super) const FACES: [(&str, Print); 3] =
    [("free", Print::Free), ("two-way", Print::TwoWay), ("one-way", Print::OneWay)];

pub(super) const BACKS: [(&str, Back); 4] = [
    ("free", Back::Free),
    ("two-way", Back::TwoWay),
    ("one-way", Back::OneWay),
    ("tumbled", Back::Tumbled),
];

/// The word for a meaning.
pub(super) fn word<T: PartialEq>(words: &[(&'static str, T)], meaning: &T) -> &'static str {
    words.iter().find(|(_, known)| known == meaning).map_or("", |(word, _)| *word)
}

/// The design of the face, and behind a `/` that of the back, where that has one.
pub(super) fn print(face: Print, back: Back) -> String {
    let face = word(&FACES, &face);
    match back {
        Back::Free => face.to_owned(),
        back => format!("{face}/{}", word(&BACKS, &back)),
    }
}
