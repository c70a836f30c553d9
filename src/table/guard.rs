//! Text that a spreadsheet would take for a formula.
//!
//! A spreadsheet runs a cell that begins with one of these signs, whoever wrote it; an apostrophe before
//! it keeps it text. Our tables are read again as input, so the apostrophe goes on and comes off here.

/// What a formula begins with, or what may stand before it.
const SIGNS: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// Whether it is a formula but for the apostrophes before it.
fn is_formula(text: &str) -> bool {
    text.trim_start_matches('\'').starts_with(SIGNS)
}

/// The text as it may stand in a table that a spreadsheet opens.
pub fn guarded(text: &str) -> String {
    match is_formula(text) {
        true => format!("'{text}"),
        false => text.to_owned(),
    }
}

/// The text without its guard.
pub(super) fn unguarded(text: &str) -> &str {
    match text.strip_prefix('\'') {
        Some(rest) if is_formula(rest) => rest,
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn formulas_are_guarded_and_nothing_else() {
        for start in SIGNS {
            assert_eq!(guarded(&format!("{start}1")), format!("'{start}1"));
        }
        assert_eq!(guarded("'=1"), "''=1");
        assert_eq!(["a=1", "'twas", "1-2", ""].map(guarded), ["a=1", "'twas", "1-2", ""]);
        assert_eq!(unguarded("'twas"), "'twas");
        assert_eq!(unguarded("'=1"), "=1");
    }

    proptest! {
        #[test]
        fn what_is_guarded_is_read_again(text in "['=+@a-]{0,4}.*") {
            let guarded = guarded(&text);
            prop_assert_eq!(unguarded(&guarded), text);
            prop_assert!(!guarded.starts_with(SIGNS));
        }
    }
}
