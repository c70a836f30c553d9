//! Text that a spreadsheet would take for a formula.
//!
//! A spreadsheet runs a cell that begins with one of these signs, whoever wrote it; an apostrophe before
//! it keeps it text. Our tables are read again as input, so the apostrophe goes on and comes off here.
//! Some spreadsheets leave out blanks before a sign, and some read the full-width forms of East Asian
//! keyboards (Unicode block Halfwidth and Fullwidth Forms) as the plain ones, so these count as well.

/// What a formula begins with.
const SIGNS: [char; 8] = ['=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'];

/// What moves a cell's text into the next cell or line of a program that reads it less strictly.
const BREAKS: [char; 2] = ['\t', '\r'];

/// Whether it is a formula but for the apostrophes before it.
fn is_formula(text: &str) -> bool {
    let text = text.trim_start_matches('\'');
    text.starts_with(BREAKS) || text.trim_start_matches(is_blank).starts_with(SIGNS)
}

/// Whether a character takes no room of its own, or only room.
fn is_blank(letter: char) -> bool {
    letter.is_whitespace()
        || letter.is_control()
        || matches!(letter, '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}')
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
        for start in SIGNS.into_iter().chain(BREAKS) {
            assert_eq!(guarded(&format!("{start}1")), format!("'{start}1"));
        }
        assert_eq!(guarded("'=1"), "''=1");
        let plain = ["a=1", "'twas", "1-2", "", " a", "\u{a0}1 + 2", "a\u{ff1d}1", "\u{ff11}"];
        assert_eq!(plain.map(guarded), plain);
        assert_eq!(unguarded("'twas"), "'twas");
        assert_eq!(unguarded("'=1"), "=1");
    }

    /// What a spreadsheet may leave out before it looks for a sign.
    #[test]
    fn blanks_hide_no_formula() {
        for blank in
            [" ", "   ", "\t", "\r", "\n", " \t ", "\u{a0}", "\u{3000}", "\u{200b}", "\u{feff}"]
        {
            for sign in SIGNS {
                let text = format!("{blank}{sign}1+2");
                assert_eq!(guarded(&text), format!("'{text}"), "{text:?}");
                assert_eq!(unguarded(&guarded(&text)), text);
            }
        }
    }

    proptest! {
        #[test]
        fn what_is_guarded_is_read_again(text in "['=+@a \t\r\u{a0}\u{ff1d}\u{ff0b}\u{ff0d}\u{ff20}-]{0,5}.*") {
            let guarded = guarded(&text);
            prop_assert_eq!(unguarded(&guarded), text);
            prop_assert!(!guarded.starts_with(BREAKS));
            prop_assert!(!guarded.trim_start_matches(is_blank).starts_with(SIGNS));
        }
    }
}
