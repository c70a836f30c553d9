//! Lengths as whole ticks of 25 nm.

use super::fraction::Fraction;
use super::glyphs::{in_plain_digits, is_run_together};
use serde::{Deserialize, Serialize};
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};
use thiserror::Error;

/// A length in ticks: 1 mm = 40 000 ticks, 1 in = 1 016 000 ticks, so that 1/64 in, 0.001 in and
/// 0.001 mm are all whole.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Length = Length(0);
    /// Ticks in a millimetre.
    pub const TICKS_PER_MM: i64 = 40_000;
    /// Ticks in an inch, exact because 1 in = 25.4 mm (international yard and pound agreement, 1959).
    pub const TICKS_PER_INCH: i64 = 1_016_000;
    /// Longest length that is read: 100 m. It keeps every sum and area far from overflow.
    pub const MAX: Length = Length(100_000 * Self::TICKS_PER_MM);

    /// No piece has a shorter side: a trimmer makes no true strip narrower than 1 mm (common practice, no source).
    pub const LEAST_SIDE: Length = Length(Self::TICKS_PER_MM);

    /// A length of so many ticks.
    pub const fn from_ticks(ticks: i64) -> Length {
        Length(ticks)
    }

    /// A whole number of millimetres.
    pub const fn from_mm(mm: i64) -> Length {
        Length(mm * Self::TICKS_PER_MM)
    }

    /// `numerator/denominator` inches; the denominator divides 64 or 1000, so that it is exact.
    pub const fn from_inch_parts(numerator: i64, denominator: i64) -> Length {
        Length(numerator * Self::TICKS_PER_INCH / denominator)
    }

    /// The number of ticks.
    pub const fn ticks(self) -> i64 {
        self.0
    }

    /// Whether it is longer than nothing.
    pub const fn is_positive(self) -> bool {
        self.0 > 0
    }

    /// Whether it is a whole multiple of `step`.
    pub const fn is_multiple_of(self, step: Length) -> bool {
        step.0 != 0 && self.0 % step.0 == 0
    }

    /// The largest multiple of `step` that is not above it; itself where the step is no length.
    #[must_use]
    pub const fn rounded_down(self, step: Length) -> Length {
        match step.0 {
            ..=0 => self,
            step => Length(self.0.div_euclid(step) * step),
        }
    }

    /// The least multiple of `step` that is not below it; itself where the step is no length.
    #[must_use]
    pub const fn rounded_up(self, step: Length) -> Length {
        match step.0 {
            ..=0 => self,
            step => Length((self.0 + step - 1).div_euclid(step) * step),
        }
    }

    /// The multiple of `step` that is nearest to it, the larger of two; itself where the step is no length.
    #[must_use]
    pub const fn rounded(self, step: Length) -> Length {
        match step.0 {
            ..=0 => self,
            step => Length((2 * self.0 + step).div_euclid(2 * step) * step),
        }
    }

    /// Reads a length; a bare number is in `unit`.
    ///
    /// # Errors
    /// Not a number, or one with a doubtful comma or fraction, or not a whole number of ticks (the error
    /// carries its neighbours), or longer than [`Length::MAX`].
    pub fn parse(text: &str, unit: Unit) -> Result<Length, LengthError> {
        let Number { fraction, unit } = number(text, unit)?;
        let ticks = fraction.times(i128::from(unit.ticks())).map_err(|(below, above)| {
            LengthError::NotExact { below: clamp(below), above: clamp(above), unit }
        })?;
        match i64::try_from(ticks).map(Length) {
            Ok(length) if length <= Length::MAX && length >= -Length::MAX => Ok(length),
            _ => Err(LengthError::TooLong),
        }
    }
}

/// A number with its unit, as a person wrote it.
pub(super) struct Number {
    pub fraction: Fraction,
    pub unit: Unit,
}

/// Reads a number; a bare one is in `unit`.
pub(super) fn number(text: &str, unit: Unit) -> Result<Number, LengthError> {
    let (number, own_unit) = split_unit(text);
    if Fraction::is_grouped(number) {
        return Err(LengthError::Grouped);
    }
    if is_run_together(number) {
        return Err(LengthError::RunTogether);
    }
    let fraction = Fraction::parse(&in_plain_digits(number)).ok_or_else(|| misread(number))?;
    Ok(Number { fraction, unit: own_unit.unwrap_or(unit) })
}

fn clamp(ticks: i128) -> Length {
    let most = i128::from(Length::MAX.0);
    Length(ticks.clamp(-most, most) as i64)
}

/// What may stand behind a number, longer endings before those they end in.
const ENDINGS: [(&str, Unit); 14] = [
    ("mm", Unit::Millimetre),
    ("cm", Unit::Centimetre),
    ("inches", Unit::Inch),
    ("inch", Unit::Inch),
    ("in.", Unit::Inch),
    ("in", Unit::Inch),
    ("\"", Unit::Inch),
    ("\u{2033}", Unit::Inch),
    ("\u{201d}", Unit::Inch),
    // An opening mark that a typing program made of `"`, the letter double prime, and two marks for one.
    ("\u{201c}", Unit::Inch),
    ("\u{2ba}", Unit::Inch),
    ("''", Unit::Inch),
    ("\u{2032}\u{2032}", Unit::Inch),
    ("\u{2019}\u{2019}", Unit::Inch),
];

/// The text before its unit, and the unit where one stands there.
pub(super) fn split_unit(text: &str) -> (&str, Option<Unit>) {
    let text = text.trim();
    for (ending, unit) in ENDINGS {
        let Some(split) = text.len().checked_sub(ending.len()) else { continue };
        if text.is_char_boundary(split) && text[split..].eq_ignore_ascii_case(ending) {
            return (text[..split].trim_end(), Some(unit));
        }
    }
    (text, None)
}

/// Why a text is no length.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum LengthError {
    /// Not one of the accepted forms.
    #[error("not a length")]
    NotANumber,
    /// Its comma may set off thousands or decimals.
    #[error("a comma that may set off thousands or decimals")]
    Grouped,
    /// Its fraction may hold the whole number before it or not: `41⁄4`.
    #[error("a fraction that may hold the number before it")]
    RunTogether,
    /// Between two ticks.
    #[error("not a whole number of ticks")]
    NotExact {
        /// The nearest length below.
        below: Length,
        /// The nearest length above.
        above: Length,
        /// The unit that it was written in.
        unit: Unit,
    },
    /// Longer than [`Length::MAX`].
    #[error("longer than 100 m")]
    TooLong,
}

/// Why a text is no fraction: digits alone are one, but for their number.
fn misread(number: &str) -> LengthError {
    let number = number.trim();
    match !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit()) {
        true => LengthError::TooLong,
        false => LengthError::NotANumber,
    }
}

/// A unit in which lengths are read and written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Inch, 25.4 mm.
    Inch,
    /// Millimetre.
    Millimetre,
    /// Centimetre; read, never written.
    Centimetre,
}

impl Unit {
    /// Ticks in one of it.
    pub const fn ticks(self) -> i64 {
        match self {
            Unit::Inch => Length::TICKS_PER_INCH,
            Unit::Millimetre => Length::TICKS_PER_MM,
            Unit::Centimetre => 10 * Length::TICKS_PER_MM,
        }
    }

    /// Its symbol: `in`, `mm` or `cm`.
    pub const fn symbol(self) -> &'static str {
        match self {
            Unit::Inch => "in",
            Unit::Millimetre => "mm",
            Unit::Centimetre => "cm",
        }
    }
}

/// A length by custom: benches that measure in inches have one, metric ones another, each on the marks of its gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Usual {
    inches: Length,
    metric: Length,
}

impl Usual {
    /// `numerator/denominator` inches, as in [`Length::from_inch_parts`], or so many millimetres.
    pub const fn new(numerator: i64, denominator: i64, mm: i64) -> Usual {
        let inches = Length::from_inch_parts(numerator, denominator);
        Usual { inches, metric: Length::from_mm(mm) }
    }

    /// The length where this is the unit of the bench.
    pub const fn of(self, unit: Unit) -> Length {
        match unit {
            Unit::Inch => self.inches,
            Unit::Millimetre | Unit::Centimetre => self.metric,
        }
    }
}

/// How a workshop reads lengths: its unit, and the finest step of its trimmer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LengthStyle {
    /// Unit of bare numbers.
    pub unit: Unit,
    /// Finest step of the gauge; inch fractions are written down to it.
    pub graduation: Length,
}

impl LengthStyle {
    /// The number alone (`8 1/2`, `215.9`); carries its unit only where the style's own unit has no
    /// finite form (a whole number of millimetres is rarely a finite number of inches).
    pub fn number(&self, length: Length) -> String {
        let (number, unit) = self.in_unit(length);
        match unit == self.unit {
            true => number,
            false => format!("{number} {}", unit.symbol()),
        }
    }

    /// Number and unit: `8 1/2 in`, `215.9 mm`.
    pub fn with_unit(&self, length: Length) -> String {
        let (number, unit) = self.in_unit(length);
        format!("{number} {}", unit.symbol())
    }

    /// A thickness as a gauge for paper shows it, to a thousandth of an inch or a hundredth of a millimetre:
    /// `0.052 in`, `1.31 mm`.
    pub fn thickness(&self, length: Length) -> String {
        let step = match self.unit {
            Unit::Inch => Length::from_inch_parts(1, 1000),
            Unit::Millimetre | Unit::Centimetre => Length(Length::TICKS_PER_MM / 100),
        };
        LengthStyle { graduation: Length(1), ..*self }.with_unit(length.rounded(step))
    }

    pub(super) fn in_unit(&self, length: Length) -> (String, Unit) {
        if self.unit == Unit::Inch {
            if let Some(text) = inch_fraction(length, self.finest_denominator()) {
                return (text, Unit::Inch);
            }
            if let Some(text) = finite_decimal(length, Unit::Inch) {
                return (text, Unit::Inch);
            }
        }
        if self.unit == Unit::Centimetre {
            return (
                finite_decimal(length, Unit::Centimetre).unwrap_or_default(),
                Unit::Centimetre,
            );
        }
        // A tick is 0.000025 mm: millimetres are always finite.
        (finite_decimal(length, Unit::Millimetre).unwrap_or_default(), Unit::Millimetre)
    }

    /// The power of two that the graduation is a fraction of; 16 where it is no such fraction.
    fn finest_denominator(&self) -> i64 {
        let inch = Length::TICKS_PER_INCH;
        let step = self.graduation.ticks();
        let parts = if step > 0 && inch % step == 0 { inch / step } else { 16 };
        if (parts as u64).is_power_of_two() { parts } else { 16 }
    }
}

fn inch_fraction(length: Length, finest: i64) -> Option<String> {
    let inch = i128::from(Length::TICKS_PER_INCH);
    let parts = i128::from(length.0).abs() * i128::from(finest);
    if parts % inch != 0 {
        return None;
    }
    let (mut above, mut below) = (parts / inch, i128::from(finest));
    while above % 2 == 0 && below > 1 {
        above /= 2;
        below /= 2;
    }
    let sign = if length.0 < 0 { "-" } else { "" };
    Some(match (above / below, above % below) {
        (units, 0) => format!("{sign}{units}"),
        (0, rest) => format!("{sign}{rest}/{below}"),
        (units, rest) => format!("{sign}{units} {rest}/{below}"),
    })
}

fn finite_decimal(length: Length, unit: Unit) -> Option<String> {
    const PLACES: usize = 9;
    let scaled = i128::from(length.0).abs() * 10_i128.pow(PLACES as u32);
    let per_unit = i128::from(unit.ticks());
    if scaled % per_unit != 0 {
        return None;
    }
    let digits = format!("{:0>width$}", scaled / per_unit, width = PLACES + 1);
    let (units, decimals) = digits.split_at(digits.len() - PLACES);
    let sign = if length.0 < 0 { "-" } else { "" };
    Some(match decimals.trim_end_matches('0') {
        "" => format!("{sign}{units}"),
        decimals => format!("{sign}{units}.{decimals}"),
    })
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0 + other.0)
    }
}
impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0 - other.0)
    }
}
impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        self.0 += other.0;
    }
}
impl SubAssign for Length {
    fn sub_assign(&mut self, other: Length) {
        self.0 -= other.0;
    }
}
impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(-self.0)
    }
}
impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, times: i64) -> Length {
        Length(self.0 * times)
    }
}
impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(lengths: I) -> Length {
        lengths.fold(Length::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests;
