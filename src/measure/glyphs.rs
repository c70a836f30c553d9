//! Fractions as typesetting has them: `4¼`, `5³⁄₁₆`.

use std::borrow::Cow;

/// Fractions of one character, above and below: the numeric values of the Unicode Character Database.
pub(super) const FRACTIONS: [(char, u8, u8); 18] = [
    ('\u{bc}', 1, 4),
    ('\u{bd}', 1, 2),
    ('\u{be}', 3, 4),
    ('\u{2150}', 1, 7),
    ('\u{2151}', 1, 9),
    ('\u{2152}', 1, 10),
    ('\u{2153}', 1, 3),
    ('\u{2154}', 2, 3),
    ('\u{2155}', 1, 5),
    ('\u{2156}', 2, 5),
    ('\u{2157}', 3, 5),
    ('\u{2158}', 4, 5),
    ('\u{2159}', 1, 6),
    ('\u{215a}', 5, 6),
    ('\u{215b}', 1, 8),
    ('\u{215c}', 3, 8),
    ('\u{215d}', 5, 8),
    ('\u{215e}', 7, 8),
];

/// `1/`, before the digits that go below.
const ONE_OVER: char = '\u{215f}';
/// Fraction slash and division slash.
const SLASHES: [char; 2] = ['\u{2044}', '\u{2215}'];
/// Hyphens and the dash that typing programs make of one.
const HYPHENS: [char; 3] = ['\u{2010}', '\u{2011}', '\u{2013}'];
/// Raised digits, by their value.
const RAISED: [char; 10] = [
    '\u{2070}', '\u{b9}', '\u{b2}', '\u{b3}', '\u{2074}', '\u{2075}', '\u{2076}', '\u{2077}',
    '\u{2078}', '\u{2079}',
];
/// The first lowered digit; the others follow it.
const LOWERED: u32 = 0x2080;

/// What the last character belonged to: between two of these a new number begins.
#[derive(Clone, Copy, PartialEq)]
enum GlyphKind {
    Digits,
    Raised,
    Lowered,
    Fraction,
    Slash,
    Other,
}

/// The text with plain digits, slashes and hyphens, and a blank wherever a number ends without one: `4¼` becomes
/// `4 1/4`. Digits that are raised or lowered without a slash stay as they are, and so are no number.
pub(super) fn in_plain_digits(text: &str) -> Cow<'_, str> {
    if text.is_ascii() {
        return Cow::Borrowed(text);
    }
    let (mut plain, mut last) = (String::new(), GlyphKind::Other);
    for (at, letter) in text.char_indices() {
        let (run, written) = read(letter, &text[at..], last);
        let is_number = |run| !matches!(run, GlyphKind::Slash | GlyphKind::Other);
        if is_number(last) && is_number(run) && (last != run || run == GlyphKind::Fraction) {
            plain.push(' ');
        }
        plain.push_str(&written);
        last = if letter == ONE_OVER { GlyphKind::Slash } else { run };
    }
    Cow::Owned(plain)
}

/// What a character is, and how it is written plainly; `rest` is the text from it on.
fn read(letter: char, rest: &str, last: GlyphKind) -> (GlyphKind, String) {
    if let Some((_, above, below)) = FRACTIONS.iter().find(|(glyph, ..)| *glyph == letter) {
        return (GlyphKind::Fraction, format!("{above}/{below}"));
    }
    let is_raised = |letter: char| RAISED.contains(&letter);
    let is_slash = |letter: char| letter == '/' || SLASHES.contains(&letter);
    let lowered = (letter as u32).wrapping_sub(LOWERED);
    match letter {
        ONE_OVER => (GlyphKind::Fraction, "1/".to_owned()),
        '0'..='9' => (GlyphKind::Digits, letter.to_string()),
        _ if is_slash(letter) => (GlyphKind::Slash, "/".to_owned()),
        _ if HYPHENS.contains(&letter) => (GlyphKind::Other, "-".to_owned()),
        _ if is_raised(letter) && rest.trim_start_matches(is_raised).starts_with(is_slash) => {
            let digit = RAISED.iter().position(|raised| *raised == letter);
            (GlyphKind::Raised, digit.unwrap_or_default().to_string())
        }
        _ if lowered < 10 && [GlyphKind::Slash, GlyphKind::Lowered].contains(&last) => {
            (GlyphKind::Lowered, lowered.to_string())
        }
        _ => (GlyphKind::Other, letter.to_string()),
    }
}

/// Whether a fraction with a fraction slash can be read two ways: `41⁄4` is 41/4 where all digits belong to it, as
/// the Unicode Standard has it (6.2, fraction slash), but it is also what some programs make of `4¼`. A proper
/// fraction, such as `11⁄16`, leaves no doubt.
pub(super) fn is_run_together(text: &str) -> bool {
    let text = text.trim().trim_start_matches(['-', '+', '\u{2212}']);
    let Some((above, below)) = text.split_once(SLASHES) else { return false };
    let number = |digits: &str| match digits.starts_with(|first: char| first.is_ascii_digit()) {
        true => digits.parse::<u64>().ok(),
        false => None,
    };
    let (Some(whole), Some(below)) = (number(above), number(below)) else { return false };
    let is_mixed = |at: usize| {
        let (units, above) = above.split_at(at);
        let leads = |digits: &str| !digits.starts_with('0');
        leads(units) && leads(above) && number(above).is_some_and(|above| above < below)
    };
    whole >= below && (1..above.len()).any(is_mixed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn glyphs_become_digits() {
        for (text, plain) in [
            ("4\u{bc}", "4 1/4"),
            ("\u{bd}", "1/2"),
            ("5 \u{bd}", "5 1/2"),
            ("5-\u{bd}", "5-1/2"),
            ("1\u{2044}4", "1/4"),
            ("4\u{2013}1\u{2215}4", "4-1/4"),
            ("5\u{b3}\u{2044}\u{2081}\u{2086}", "5 3/16"),
            ("5\u{b9}\u{2075}/16", "5 15/16"),
            ("\u{215f}16", "1/16"),
            ("2\u{215f}16", "2 1/16"),
            ("4 1/4", "4 1/4"),
        ] {
            assert_eq!(in_plain_digits(text), plain, "{text}");
        }
    }

    /// What follows a fraction never becomes a part of it, and a raised digit alone is none.
    #[test]
    fn no_number_is_made_of_two() {
        for (text, plain) in [
            ("\u{bc}5", "1/4 5"),
            ("\u{bc}\u{bd}", "1/4 1/2"),
            ("8\u{b2}", "8\u{b2}"),
            ("8\u{2082}", "8\u{2082}"),
            ("1/\u{bc}", "1/1/4"),
        ] {
            assert_eq!(in_plain_digits(text), plain, "{text}");
        }
    }

    #[test]
    fn only_an_improper_fraction_can_be_run_together() {
        for text in ["41\u{2044}4", "11\u{2044}2", "-111\u{2044}16", "41\u{2215}4"] {
            assert!(is_run_together(text), "{text}");
        }
        for text in [
            "41/4",
            "1\u{2044}4",
            "11\u{2044}16",
            "17\u{2044}2",
            "40\u{2044}4",
            "01\u{2044}1",
            "4 1\u{2044}4",
            "4\u{bc}",
            "\u{2044}",
            "",
        ] {
            assert!(!is_run_together(text), "{text}");
        }
    }
}
