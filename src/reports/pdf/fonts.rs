//! The fonts that the pages carry with them: how wide text is, and where it is broken.

use super::Style;
use crate::reports::ReportError;
use crate::reports::breaks;
use crate::reports::visible::shown;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use std::ops::RangeInclusive;
use ttf_parser::Face;

const REGULAR: &[u8] = include_bytes!("fonts/DejaVuSansCondensed.ttf");
const BOLD: &[u8] = include_bytes!("fonts/DejaVuSansCondensed-Bold.ttf");

/// A text font and a bold one.
pub(super) struct Fonts {
    regular: Letters,
    bold: Letters,
}

/// A font, and what is asked of it for every letter.
struct Letters {
    font: Font,
    face: Face<'static>,
    /// The glyphs of the first letters, which are nearly all that is written.
    first: Vec<(GlyphId, u16)>,
}

impl Letters {
    fn of(bytes: &'static [u8]) -> Option<Letters> {
        let font = Font::new(bytes.into(), 0)?;
        let face = Face::parse(bytes, 0).ok()?;
        let first = ('\0'..FIRST_SHAPED).map(|letter| looked_up(&face, letter)).collect();
        Some(Letters { font, face, first })
    }

    /// A letter's glyph and how far it goes on, in units of the font.
    fn glyph(&self, letter: char) -> (GlyphId, u16) {
        let known = self.first.get(letter as usize).copied();
        known.unwrap_or_else(|| looked_up(&self.face, letter))
    }
}

fn looked_up(face: &Face, letter: char) -> (GlyphId, u16) {
    let id = face.glyph_index(letter).unwrap_or_default();
    let advance = face.glyph_hor_advance(id).unwrap_or(face.units_per_em());
    (GlyphId::new(id.0.into()), advance)
}

impl Fonts {
    /// # Errors
    /// A font is damaged.
    pub fn new() -> Result<Fonts, ReportError> {
        let both = Letters::of(REGULAR).zip(Letters::of(BOLD));
        let (regular, bold) = both.ok_or(ReportError::Print("a font cannot be read"))?;
        Ok(Fonts { regular, bold })
    }

    /// The font of a style.
    pub fn font(&self, style: &Style) -> Font {
        self.letters(style).font.clone()
    }

    fn letters(&self, style: &Style) -> &Letters {
        if style.bold { &self.bold } else { &self.regular }
    }

    /// Width of a line of text.
    pub fn width(&self, text: &str, style: &Style) -> f64 {
        let letters = self.letters(style);
        let units: f64 = text.chars().map(|letter| f64::from(letters.glyph(letter).1)).sum();
        units * style.size / f64::from(letters.face.units_per_em())
    }

    /// The glyphs of a line, one for each letter; `None` for scripts whose letters change beside each
    /// other.
    pub fn glyphs(&self, text: &str, style: &Style) -> Option<Vec<KrillaGlyph>> {
        let letters = self.letters(style);
        let units = f32::from(letters.face.units_per_em());
        let placed = |(at, letter): (usize, char)| {
            let (glyph_id, advance) = letters.glyph(letter);
            KrillaGlyph {
                glyph_id,
                text_range: at..at + letter.len_utf8(),
                x_advance: f32::from(advance) / units,
                x_offset: 0.0,
                y_offset: 0.0,
                y_advance: 0.0,
                location: None,
            }
        };
        let plain = text.chars().all(|letter| letter < FIRST_SHAPED || SIGNS.contains(&letter));
        plain.then(|| text.char_indices().map(placed).collect())
    }

    /// The text in lines no wider than `width`, broken between words, or within one that is too long; what
    /// acts unseen is shown.
    pub fn lines(&self, text: &str, style: &Style, width: f64) -> Vec<String> {
        let fits = |line: &str| self.width(line, style) <= width;
        let mut lines = vec![String::new()];
        for held in breaks::held(&shown(text)) {
            add(&held, " ", &BREAKS, &mut lines, &fits);
        }
        lines
    }
}

/// Parts of a text that may stand on different lines.
type TextParts = fn(&str) -> Vec<&str>;

/// What a part too wide for a line is broken into, and what stands between: words, then what the joints of a name
/// divide, then letters.
const BREAKS: [(TextParts, &str); 3] = [
    (|held| held.split(' ').collect(), " "),
    (|word| breaks::joints(word).collect(), ""),
    (|part| part.split_inclusive(|_| true).collect(), ""),
];

/// Adds a part to the last line, or to a new one, broken where it is wider than that.
fn add(
    part: &str,
    gap: &str,
    breaks: &[(TextParts, &str)],
    lines: &mut Vec<String>,
    fits: &dyn Fn(&str) -> bool,
) {
    let Some(line) = lines.last_mut() else { return };
    let gap = if line.is_empty() { "" } else { gap };
    let joined = format!("{line}{gap}{part}");
    if fits(&joined) {
        *line = joined;
        return;
    }
    if !line.is_empty() {
        lines.push(String::new());
        return add(part, "", breaks, lines, fits);
    }
    match breaks {
        [] => *line = joined,
        [(parts, gap), finer @ ..] => {
            parts(part).into_iter().for_each(|part| add(part, gap, finer, lines, fits));
        }
    }
}

/// Before it come Latin, Greek, Cyrillic and Armenian, whose letters stand by themselves …
const FIRST_SHAPED: char = '\u{590}';
/// … as punctuation and signs do.
const SIGNS: RangeInclusive<char> = '\u{2010}'..='\u{27bf}';

#[cfg(test)]
mod tests {
    use super::super::TEXT;
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_wide_letter_is_wider_than_a_narrow_one() {
        let fonts = Fonts::new().unwrap();
        assert!(fonts.width("m", &TEXT) > fonts.width("i", &TEXT));
        assert!(fonts.width("m", &Style { bold: true, ..TEXT }) > fonts.width("m", &TEXT));
        assert_eq!(fonts.width("", &TEXT), 0.0);
    }

    #[test]
    fn sizes_stay_whole_and_names_break_behind_their_joints() {
        let fonts = Fonts::new().unwrap();
        let lines =
            |text: &str, width: &str| fonts.lines(text, &TEXT, fonts.width(width, &TEXT) + 0.01);
        assert_eq!(lines("ivory 305 x 33 mm", "ivory 305 x"), ["ivory", "305 x 33", "mm"]);
        assert_eq!(lines("ivory 305 x 33 mm", "ivory 305 x 33"), ["ivory", "305 x 33 mm"]);
        assert_eq!(lines("a mint-harvest-01", "a mint-har"), ["a", "mint-", "harvest-", "01"]);
        assert_eq!(lines("harvest", "harv"), ["harv", "est"]);
        assert_eq!(lines("", "a"), [""]);
    }

    proptest! {
        #[test]
        fn lines_fit_and_lose_nothing(text in "[a-zäß ]{0,60}", width in 5.0_f64..60.0) {
            let fonts = Fonts::new().unwrap();
            let lines = fonts.lines(&text, &TEXT, width);
            for line in &lines {
                prop_assert!(fonts.width(line, &TEXT) <= width, "{line}");
            }
            let letters = |text: &str| text.chars().filter(|letter| *letter != ' ').collect::<String>();
            prop_assert_eq!(letters(&lines.concat()), letters(&text));
        }
    }
}
