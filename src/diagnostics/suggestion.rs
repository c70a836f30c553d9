//! "Did you mean": the nearest of some known names.

/// Longest text for which a name is sought; more letters are no slip of the fingers.
const LONGEST: usize = 100;

/// The candidate nearest to `text`, case aside, where it is near enough to be a slip of the fingers;
/// the first of several that are equally near.
pub fn nearest<'a>(text: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let typed = text.to_lowercase();
    let letters = typed.chars().count();
    if letters > LONGEST {
        return None;
    }
    // A slip leaves at least one letter right.
    let allowed = (1 + letters / 4).min(letters.saturating_sub(1));
    candidates
        .into_iter()
        .map(|candidate| (distance(&typed, &candidate.to_lowercase()), candidate))
        .filter(|(distance, _)| *distance <= allowed)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

/// Letters to insert, delete or replace to get from one text to the other.
fn distance(from: &str, to: &str) -> usize {
    let to: Vec<char> = to.chars().collect();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (i, letter) in from.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, other) in to.iter().enumerate() {
            let replaced = diagonal + usize::from(letter != *other);
            diagonal = row[j + 1];
            row[j + 1] = replaced.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[to.len()]
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
    fn the_first_of_equals_is_named() {
        assert_eq!(nearest("bent", ["tent", "bend", "best"]), Some("tent"));
    }

    #[test]
    fn distances_as_in_the_textbook() {
        // Worked example of the edit distance in many textbooks (from memory).
        assert_eq!(distance("kitten", "sitting"), 3);
        assert_eq!(distance("saturday", "sunday"), 3);
        assert_eq!(distance("", "abc"), 3);
    }

    proptest::proptest! {
        #[test]
        fn distance_is_a_metric(a in "[ab\u{e9}]{0,6}", b in "[ab\u{e9}]{0,6}", c in "[ab\u{e9}]{0,6}") {
            proptest::prop_assert_eq!(distance(&a, &b), distance(&b, &a));
            proptest::prop_assert_eq!(distance(&a, &b) == 0, a == b);
            proptest::prop_assert!(distance(&a, &c) <= distance(&a, &b) + distance(&b, &c));
        }
    }
}
