//! Amounts of what is bought ready-made: so many, so much by the length, or by weight and the like.
//!
//! They are whole numbers of parts: one of them, a tick of length, or a thousandth of any other unit.

use super::Length;
use super::fraction::Fraction;
use super::glyphs::{in_plain_digits, is_run_together};
use thiserror::Error;

/// Words for lengths, with the ticks of one.
const LENGTHS: [(&str, i64); 12] = [
    ("mm", Length::TICKS_PER_MM),
    ("cm", 10 * Length::TICKS_PER_MM),
    ("m", 1000 * Length::TICKS_PER_MM),
    ("in", Length::TICKS_PER_INCH),
    ("inch", Length::TICKS_PER_INCH),
    ("inches", Length::TICKS_PER_INCH),
    ("\"", Length::TICKS_PER_INCH),
    ("ft", 12 * Length::TICKS_PER_INCH),
    ("foot", 12 * Length::TICKS_PER_INCH),
    ("feet", 12 * Length::TICKS_PER_INCH),
    ("yd", 36 * Length::TICKS_PER_INCH),
    ("yard", 36 * Length::TICKS_PER_INCH),
];

/// Words for one of them.
const SINGLE: [&str; 4] = ["", "each", "piece", "pieces"];

/// Parts of a unit that is neither one of them nor a length.
const THOUSANDTHS: u64 = 1000;

/// Most units of an amount, and most parts: far from overflow where every card of an order takes so much.
const MOST: i128 = 1_000_000;
const MOST_PARTS: i128 = 4_000_000_000_000;

/// What amounts are counted in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AmountUnit {
    word: String,
    parts: u64,
    is_length: bool,
}

impl Default for AmountUnit {
    /// One of them.
    fn default() -> AmountUnit {
        AmountUnit { word: String::new(), parts: 1, is_length: false }
    }
}

/// Why a text is no amount.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum AmountError {
    /// Not a number from 0 with a unit or without.
    #[error("not an amount")]
    NotANumber,
    /// Its comma may set off thousands or decimals, or its fraction hold the whole number before it.
    #[error("a number that can be read in two ways")]
    Doubtful,
    /// Finer than it is counted.
    #[error("finer than it is counted")]
    TooFine,
    /// Its unit is another, and no length or no such one.
    #[error("in another unit")]
    OtherUnit,
    /// Beyond all measure.
    #[error("too large")]
    TooLarge,
}

impl AmountUnit {
    /// The unit of this word; without a word, one of them.
    pub fn of(word: &str) -> AmountUnit {
        let word = word.trim().to_lowercase();
        match ticks(&word) {
            _ if SINGLE.contains(&word.as_str()) => AmountUnit::default(),
            Some(ticks) => AmountUnit { word, parts: ticks, is_length: true },
            None => AmountUnit { word, parts: THOUSANDTHS, is_length: false },
        }
    }

    /// Whether it is a length.
    pub fn is_length(&self) -> bool {
        self.is_length
    }

    /// Parts of one unit.
    pub fn parts(&self) -> u64 {
        self.parts
    }

    /// Reads an amount; a bare number is in this unit, and of lengths any may be written.
    ///
    /// # Errors
    /// It is none, or not in whole parts.
    pub fn parse(&self, text: &str) -> Result<u64, AmountError> {
        let text = text.trim();
        let is_of_number = |letter: char| {
            letter.is_numeric()
                || letter.is_whitespace()
                || "+-.,/\u{2044}\u{2212}".contains(letter)
        };
        let end = text.find(|letter| !is_of_number(letter)).unwrap_or(text.len());
        let (number, word) = (text[..end].trim(), text[end..].trim().to_lowercase());
        if number.is_empty() {
            return Err(AmountError::NotANumber);
        }
        let parts = match ticks(&word) {
            Some(ticks) if self.is_length => ticks,
            _ if word == self.word || SINGLE.contains(&word.as_str()) => self.parts,
            _ => return Err(AmountError::OtherUnit),
        };
        if Fraction::is_grouped(number) || is_run_together(number) {
            return Err(AmountError::Doubtful);
        }
        let fraction = Fraction::parse(&in_plain_digits(number)).ok_or(AmountError::NotANumber)?;
        if fraction.numerator < 0 {
            return Err(AmountError::NotANumber);
        }
        let whole = fraction.times(parts.into()).map_err(|_| AmountError::TooFine)?;
        let is_small = whole <= MOST * i128::from(self.parts) && whole <= MOST_PARTS;
        u64::try_from(whole).ok().filter(|_| is_small).ok_or(AmountError::TooLarge)
    }

    /// An amount as a number in this unit, exactly: `12`, `0.5`, `8 1/3`.
    pub fn number(&self, amount: u64) -> String {
        let (whole, rest) = (amount / self.parts, amount % self.parts);
        let common = divisor(rest, self.parts);
        let (above, below) = (rest / common, self.parts / common);
        let decimals = (1..=6).find(|digits| 10_u64.pow(*digits).is_multiple_of(below));
        match (rest, decimals, whole) {
            (0, ..) => whole.to_string(),
            (_, Some(digits), _) => {
                let behind = above * (10_u64.pow(digits) / below);
                format!("{whole}.{behind:0width$}", width = digits as usize)
            }
            (_, None, 0) => format!("{above}/{below}"),
            (_, None, _) => format!("{whole} {above}/{below}"),
        }
    }

    /// The same with its unit: `12 in`; a bare number of single ones.
    pub fn told(&self, amount: u64) -> String {
        match self.word.as_str() {
            "" => self.number(amount),
            word => format!("{} {word}", self.number(amount)),
        }
    }

    /// Its word; empty of single ones.
    pub fn word(&self) -> &str {
        &self.word
    }
}

fn ticks(word: &str) -> Option<u64> {
    let known = LENGTHS.iter().find(|(known, _)| *known == word);
    known.map(|(_, ticks)| ticks.unsigned_abs())
}

fn divisor(one: u64, other: u64) -> u64 {
    if one == 0 { other.max(1) } else { divisor(other % one, one) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn lengths_are_read_in_any_unit_of_length() {
        let yards = AmountUnit::of("yd");
        for text in ["12 in", "1 ft", "1/3", "1/3 yd", "12\"", "304.8 mm", "0.3048 m"] {
            assert_eq!(yards.parse(text), Ok(12 * 1_016_000), "{text}");
        }
        assert_eq!(yards.told(12 * 1_016_000), "1/3 yd");
        assert_eq!(yards.told(300 * 1_016_000), "8 1/3 yd");
        assert_eq!(AmountUnit::of("in").told(1_016_000 * 25 / 2), "12.5 in");
        assert_eq!(yards.parse("3 g"), Err(AmountError::OtherUnit));
        assert_eq!(yards.parse("1/7 mm"), Err(AmountError::TooFine));
    }

    #[test]
    fn single_ones_are_whole() {
        let seals = AmountUnit::of("");
        assert_eq!((seals.parse("4"), seals.told(4)), (Ok(4), "4".to_owned()));
        assert_eq!(seals.parse("2 pieces"), Ok(2));
        assert_eq!(seals.parse("1/2"), Err(AmountError::TooFine));
        assert_eq!(seals.parse("-1"), Err(AmountError::NotANumber));
        assert_eq!(seals.parse("many"), Err(AmountError::NotANumber));
        assert_eq!(seals.parse("1,000"), Err(AmountError::Doubtful));
        assert_eq!(seals.parse("1000001"), Err(AmountError::TooLarge));
    }

    #[test]
    fn others_are_counted_in_thousandths() {
        let grams = AmountUnit::of("g");
        assert_eq!((grams.parse("0.25"), grams.told(250)), (Ok(250), "0.25 g".to_owned()));
        assert_eq!(grams.parse("1 1/2 g"), Ok(1500));
        assert_eq!(grams.parse("0.0001"), Err(AmountError::TooFine));
    }

    proptest! {
        /// What is written of any amount is read again.
        #[test]
        fn numbers_are_exact(amount in 0_u64..4_000_000_000, at in 0_usize..5) {
            let unit = AmountUnit::of(["", "g", "in", "m", "yd"][at]);
            let amount = amount % (1_000_000 * unit.parts());
            prop_assert_eq!(unit.parse(&unit.told(amount)), Ok(amount));
            prop_assert_eq!(unit.parse(&unit.number(amount)), Ok(amount));
        }
    }
}
