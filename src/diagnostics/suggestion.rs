//! "Did you mean": the nearest of some known names.

use strsim::{levenshtein, osa_distance};

/// Longest text for which a name is sought; more letters are no slip of the fingers.
const LONGEST: usize = 100;

/// The candidate nearest to `text`, case aside, where it is near enough to be a slip of the fingers;
/// the first of several that are equally near.
pub fn nearest<'a>(text: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    candidates
        .into_iter()
        .filter_map(|candidate| Some((slips(text, candidate)?, candidate)))
        .min_by_key(|(count, _)| *count)
        .map(|(_, candidate)| candidate)
}

/// How many slips of the fingers make `text` of `candidate`, case aside; `None` where they are too many for slips.
pub fn slips(text: &str, candidate: &str) -> Option<usize> {
    let letters = text.chars().count();
    if letters > LONGEST {
        return None;
    }
    let count = levenshtein(&text.to_lowercase(), &candidate.to_lowercase());
    // A slip leaves at least one letter right.
    (count <= (1 + letters / 4).min(letters.saturating_sub(1))).then_some(count)
}

/// The candidate of which `text` is one slip away, or two where it is long: a letter wrong, missing, too many, or two
/// that have changed places. Other words are no slip: a column `name` is not meant for `note`.
pub fn misspelt<'a>(text: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let typed = text.to_lowercase();
    let letters = typed.chars().count();
    if !(3..=LONGEST).contains(&letters) {
        return None;
    }
    let allowed = 1 + letters / 8;
    candidates
        .into_iter()
        .map(|candidate| (osa_distance(&typed, &candidate.to_lowercase()), candidate))
        .filter(|(distance, _)| *distance <= allowed)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_fingers_is_found() {
        let papers = ["fern", "moss", "river stone"];
        assert_eq!(nearest("fren", papers), Some("fern"));
        assert_eq!(nearest("Moss", papers), Some("moss"));
        assert_eq!(nearest("river ston", papers), Some("river stone"));
        assert_eq!(nearest("rivr ston", papers), Some("river stone"));
    }

    #[test]
    fn another_word_is_not() {
        assert_eq!(nearest("brick", ["fern", "moss"]), None);
        assert_eq!(nearest("b", ["a"]), None);
        assert_eq!(nearest("", ["a"]), None);
        assert_eq!(nearest("fern", []), None);
        assert_eq!(nearest(&"x".repeat(5000), ["fern"]), None);
    }

    #[test]
    fn a_slip_is_nearer_than_a_likeness() {
        let columns = ["count", "paper", "note", "envelope", "due", "per box"];
        for (typed, meant) in [
            ("cuont", Some("count")),
            ("papper", Some("paper")),
            ("notes", Some("note")),
            ("envelop", Some("envelope")),
            ("enevlopes", Some("envelope")),
            ("perbox", Some("per box")),
            ("name", None),
            ("date", None),
            ("customer", None),
            ("du", None),
            ("", None),
        ] {
            assert_eq!(misspelt(typed, columns), meant, "{typed}");
        }
    }

    #[test]
    fn the_first_of_equals_is_named() {
        assert_eq!(nearest("bent", ["tent", "bend", "best"]), Some("tent"));
    }
}
