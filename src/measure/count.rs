//! Whole numbers of things.

use thiserror::Error;

/// Why a text is no count; where a count was meant all the same, the error carries it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum CountError {
    /// Nothing that reads as a number.
    #[error("not a whole number")]
    NotANumber,
    /// A number in words.
    #[error("a number in words")]
    Words(u64),
    /// Digits in groups: `1,000`.
    #[error("digits in groups")]
    Grouped(u64),
    /// Between this whole number and the next, or written with decimals: `12.5`, `12.0`, `12 1/2`.
    #[error("not whole")]
    Broken {
        /// The whole number at or below it.
        below: u64,
        /// Whether it lies above that.
        above_it: bool,
    },
    /// Below zero.
    #[error("below zero")]
    Negative,
    /// More digits than any count of the trade.
    #[error("too large")]
    TooLarge,
}

/// Longest run of digits that is read.
const DIGITS: usize = 15;

/// Reads a count in plain digits, such as `12`.
///
/// # Errors
/// Anything else; see [`CountError`].
pub fn parse_count(text: &str) -> Result<u64, CountError> {
    let text = text.trim();
    if let Some(rest) = text.strip_prefix(['-', '\u{2212}']) {
        return Err(match rest.trim_start().starts_with(|first: char| first.is_ascii_digit()) {
            true => CountError::Negative,
            false => CountError::NotANumber,
        });
    }
    let digits = text.strip_prefix('+').unwrap_or(text);
    if !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return whole(digits).ok_or(CountError::TooLarge);
    }
    Err(grouped(digits)
        .or_else(|| broken(digits))
        .or_else(|| in_words(text).map(CountError::Words))
        .unwrap_or(CountError::NotANumber))
}

/// Reads a positive decimal such as `176` or `175.77` as thousandths. `None` where it is no number,
/// not above zero, finer than a thousandth or above a million.
pub fn parse_thousandths(text: &str) -> Option<u64> {
    let thousandths = super::fraction::Fraction::parse(text)?.times(1000).ok()?;
    (1..=1_000_000_000).contains(&thousandths).then_some(thousandths as u64)
}

fn whole(digits: &str) -> Option<u64> {
    let significant = digits.trim_start_matches('0');
    match significant {
        "" => Some(0),
        _ => (significant.len() <= DIGITS).then(|| significant.parse().ok()).flatten(),
    }
}

/// One to three digits, then groups of three behind the same separator.
fn grouped(text: &str) -> Option<CountError> {
    let separator = text.chars().find(|letter| !letter.is_ascii_digit())?;
    if ![',', '.', ' ', '\'', '\u{a0}', '\u{202f}'].contains(&separator) {
        return None;
    }
    let groups: Vec<&str> = text.split(separator).collect();
    let (first, rest) = groups.split_first()?;
    let digits = |group: &str| group.bytes().all(|byte| byte.is_ascii_digit());
    let shaped = (1..=3).contains(&first.len())
        && digits(first)
        && !rest.is_empty()
        && rest.iter().all(|group| group.len() == 3 && digits(group));
    match shaped {
        true => Some(whole(&groups.concat()).map_or(CountError::TooLarge, CountError::Grouped)),
        false => None,
    }
}

fn broken(text: &str) -> Option<CountError> {
    let fraction = super::fraction::Fraction::parse(text)?;
    let below = fraction.times(1).unwrap_or_else(|(below, _)| below);
    let above_it = fraction.times(1).is_err();
    Some(match u64::try_from(below) {
        Ok(below) => CountError::Broken { below, above_it },
        Err(_) => CountError::Negative,
    })
}

const SMALL: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 8] =
    ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/// `twelve`, `twenty-five`, `two dozen`, `one hundred and fifty`.
fn in_words(text: &str) -> Option<u64> {
    let text = text.to_lowercase();
    let (mut total, mut part, mut seen) = (0_u64, 0_u64, false);
    for word in text.split([' ', '-']).filter(|word| !word.is_empty() && *word != "and") {
        seen = true;
        let position = |words: &[&str]| words.iter().position(|known| *known == word);
        match word {
            "a" | "an" => part += 1,
            "dozen" => part = part.max(1).checked_mul(12)?,
            "hundred" => part = part.max(1).checked_mul(100)?,
            "thousand" => {
                total = total.checked_add(part.max(1).checked_mul(1000)?)?;
                part = 0;
            }
            _ => {
                let value = position(&SMALL).or_else(|| Some((position(&TENS)? + 2) * 10))?;
                part = part.checked_add(value as u64)?;
            }
        }
    }
    seen.then(|| total.checked_add(part)).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_digits_are_a_count() {
        assert_eq!(parse_count("12"), Ok(12));
        assert_eq!(parse_count(" 007 "), Ok(7));
        assert_eq!(parse_count("+3"), Ok(3));
        assert_eq!(parse_count("0"), Ok(0));
        assert_eq!(parse_count("999999999999999"), Ok(999_999_999_999_999));
    }

    #[test]
    fn what_was_meant_is_told() {
        let broken = |below, above_it| Err(CountError::Broken { below, above_it });
        let cases = [
            ("twelve", Err(CountError::Words(12))),
            ("Twenty-five", Err(CountError::Words(25))),
            ("two dozen", Err(CountError::Words(24))),
            ("a hundred and fifty", Err(CountError::Words(150))),
            ("a", Err(CountError::Words(1))),
            ("ninety", Err(CountError::Words(90))),
            ("two thousand three", Err(CountError::Words(2003))),
            ("1,000", Err(CountError::Grouped(1000))),
            ("1.000", Err(CountError::Grouped(1000))),
            ("12 000", Err(CountError::Grouped(12_000))),
            ("1'000'000", Err(CountError::Grouped(1_000_000))),
            ("12.5", broken(12, true)),
            ("12.0", broken(12, false)),
            ("12 1/2", broken(12, true)),
            ("-3", Err(CountError::Negative)),
            ("\u{2212}3", Err(CountError::Negative)),
            ("1000000000000000", Err(CountError::TooLarge)),
            ("", Err(CountError::NotANumber)),
            ("some", Err(CountError::NotANumber)),
            ("12 cards", Err(CountError::NotANumber)),
            ("1e3", Err(CountError::NotANumber)),
            ("-", Err(CountError::NotANumber)),
            ("and", Err(CountError::NotANumber)),
        ];
        for (text, expected) in cases {
            assert_eq!(parse_count(text), expected, "{text}");
        }
    }

    #[test]
    fn thousandths_are_exact() {
        assert_eq!(parse_thousandths("176"), Some(176_000));
        assert_eq!(parse_thousandths("175.77"), Some(175_770));
        assert_eq!(parse_thousandths("0.001"), Some(1));
        assert_eq!(parse_thousandths("1000000"), Some(1_000_000_000));
        for text in ["0", "-1", "0.0005", "1000000.001", "heavy", ""] {
            assert_eq!(parse_thousandths(text), None, "{text}");
        }
    }

    #[test]
    fn endless_words_do_not_overflow() {
        assert_eq!(parse_count(&"thousand ".repeat(40)), Err(CountError::Words(40_000)));
        assert_eq!(parse_count(&"dozen ".repeat(40)), Err(CountError::NotANumber));
    }
}
