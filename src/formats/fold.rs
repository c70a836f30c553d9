//! How a card folds, as it is written in a cell or a key.

use crate::diagnostics::{Misread, Problem, nearest};
use crate::folds::{FEWEST_PANELS, Fold, FoldError, MOST_PANELS};

/// Reads `side`, `letter top` or `accordion 4`.
///
/// # Errors
/// It is no way to fold.
pub fn fold(text: &str, misread: &Misread) -> Result<Fold, Box<Problem>> {
    Fold::parse(text).map_err(|error| {
        let text = text.trim().to_lowercase();
        Box::new(match error {
            FoldError::Unknown => unknown(&text, misread),
            FoldError::Panels => panels(&text, misread),
        })
    })
}

fn panels(text: &str, misread: &Misread) -> Problem {
    let expected = format!("expected {FEWEST_PANELS} to {MOST_PANELS} panels, such as accordion 4");
    let problem = misread.problem("has no such number of panels", expected);
    match text.split_whitespace().nth(1) {
        Some("1" | "2") => problem.help("a card of two panels is a side or a top fold"),
        _ => problem,
    }
}

fn unknown(text: &str, misread: &Misread) -> Problem {
    let words = ["side", "top", "flat", "gate", "letter", "french", "accordion"];
    let expected = match nearest(text.split(' ').next().unwrap_or_default(), words) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "expected side, top, flat, gate, letter, french or accordion 4".to_owned(),
    };
    Problem::error(misread.code, format!("unknown {} `{text}`", misread.name))
        .at(misread.place.as_ref(), expected)
        .help("side: like a book, spine on the left; top: spine on top; flat: no fold")
        .help(
            "gate: two halves meet in front; letter: one panel is folded in; french: in half both ways; \
             accordion: to and fro; ` top` behind gate, letter or accordion lays the panels below each other",
        )
}
