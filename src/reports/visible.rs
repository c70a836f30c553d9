//! Text that cannot disturb what stands around it.
//!
//! Names come from files that anybody may have written: control characters could move a terminal's
//! cursor, direction characters could turn a line round (Unicode Standard Annex 9). Both are shown.

use askama::filters::Escaper;
use std::fmt::{self, Write};

/// Whether a character acts on its surroundings instead of being seen. Joiners (U+200C, U+200D) do not count:
/// words of some scripts, and many signs, are written with them.
fn acts(letter: char) -> bool {
    letter.is_control()
        || matches!(letter,
            '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}' | '\u{200e}' | '\u{200f}'
            | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}'
            | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// The text with every control and direction character written as `\u{..}`.
pub fn shown(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for letter in text.chars() {
        match acts(letter) {
            true => shown.extend(letter.escape_unicode()),
            false => shown.push(letter),
        }
    }
    shown
}

/// Escapes for HTML and SVG, and shows what would act unseen.
#[derive(Clone, Copy, Debug, Default)]
pub struct Visible;

impl Escaper for Visible {
    fn write_escaped_str<W: Write>(&self, mut to: W, text: &str) -> fmt::Result {
        for letter in text.chars() {
            match letter {
                '&' => to.write_str("&amp;")?,
                '<' => to.write_str("&lt;")?,
                '>' => to.write_str("&gt;")?,
                '"' => to.write_str("&quot;")?,
                '\'' => to.write_str("&#39;")?,
                letter if acts(letter) => write!(to, "{}", letter.escape_unicode())?,
                letter => to.write_char(letter)?,
            }
        }
        Ok(())
    }
}

/// The text as it may stand in HTML or SVG.
pub fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    // Writing to a String cannot fail.
    let _ = Visible.write_escaped_str(&mut escaped, text);
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn nothing_acts_and_nothing_marks_up(text in "\\PC*|.*|[<>&\"'\u{202e}\u{7}a ]*") {
            prop_assert!(!shown(&text).chars().any(acts));
            let escaped = escaped(&text);
            prop_assert!(!escaped.chars().any(|letter| acts(letter) || "<>\"'".contains(letter)));
        }
    }

    #[test]
    fn control_and_direction_characters_are_shown() {
        assert_eq!(shown("a\u{202e}b\u{1b}[2J"), r"a\u{202e}b\u{1b}[2J");
        assert_eq!(shown("line\nbreak"), r"line\u{a}break");
        assert_eq!(shown("Grüße, 紙, كارت"), "Grüße, 紙, كارت");
    }

    #[test]
    fn markup_is_escaped() {
        assert_eq!(escaped("<b a='1'>&\"\u{2067}"), "&lt;b a=&#39;1&#39;&gt;&amp;&quot;\\u{2067}");
    }
}
