//! Money as whole minor units of one currency.

use super::fraction::Fraction;
use serde::{Deserialize, Serialize};
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};
use thiserror::Error;

/// An amount in minor units (cents where the currency has cents).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Money(i64);

impl Money {
    /// Nothing.
    pub const ZERO: Money = Money(0);
    /// Largest amount read: a thousand million minor units.
    pub const MAX: Money = Money(1_000_000_000);

    /// So many minor units.
    pub const fn from_minor(minor: i64) -> Money {
        Money(minor)
    }

    /// The number of minor units.
    pub const fn minor(self) -> i64 {
        self.0
    }

    /// This amount shared by `parts`, rounded to the nearest minor unit, halves up.
    pub fn shared_by(self, parts: u64) -> Money {
        let parts = i128::from(parts.max(1));
        Money(((2 * i128::from(self.0) + parts).div_euclid(2 * parts)) as i64)
    }
}

/// A currency: its ISO 4217 code and the digits behind the point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Currency {
    code: String,
    digits: u32,
}

impl Default for Currency {
    /// US dollars.
    fn default() -> Currency {
        Currency { code: "USD".to_owned(), digits: 2 }
    }
}

impl Currency {
    /// The currency of a three-letter code, in capitals. The digits are those of ISO 4217 (from
    /// memory): none for JPY and its like, three for KWD and its like, else two.
    pub fn new(code: &str) -> Option<Currency> {
        let shaped = code.len() == 3 && code.bytes().all(|byte| byte.is_ascii_uppercase());
        let digits = match code {
            "BIF" | "CLP" | "DJF" | "GNF" | "ISK" | "JPY" | "KMF" | "KRW" | "PYG" | "RWF"
            | "UGX" | "VND" | "VUV" | "XAF" | "XOF" | "XPF" => 0,
            "BHD" | "IQD" | "JOD" | "KWD" | "LYD" | "OMR" | "TND" => 3,
            _ => 2,
        };
        shaped.then(|| Currency { code: code.to_owned(), digits })
    }

    /// Its code, such as `USD`.
    pub fn code(&self) -> &str {
        &self.code
    }

    /// Reads an amount such as `1.10`.
    ///
    /// # Errors
    /// Not a number, one with a doubtful comma, finer than the minor unit, negative, or above [`Money::MAX`].
    pub fn parse(&self, text: &str) -> Result<Money, MoneyError> {
        if Fraction::is_grouped(text) {
            return Err(MoneyError::Grouped);
        }
        let fraction = Fraction::parse(text).ok_or(MoneyError::NotANumber)?;
        let minor = fraction.times(10_i128.pow(self.digits)).map_err(|_| MoneyError::TooFine)?;
        match minor {
            ..0 => Err(MoneyError::Negative),
            minor if minor > i128::from(Money::MAX.0) => Err(MoneyError::TooMuch),
            minor => Ok(Money(minor as i64)),
        }
    }

    /// The number alone: `1.10`.
    pub fn number(&self, money: Money) -> String {
        let width = self.digits as usize + 1;
        let digits = format!("{:0>width$}", money.0.unsigned_abs());
        let (units, minor) = digits.split_at(digits.len() - self.digits as usize);
        let sign = if money.0 < 0 { "-" } else { "" };
        match minor {
            "" => format!("{sign}{units}"),
            minor => format!("{sign}{units}.{minor}"),
        }
    }

    /// Number and code: `1.10 USD`.
    pub fn with_code(&self, money: Money) -> String {
        format!("{} {}", self.number(money), self.code)
    }
}

/// Why a text is no amount of money.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum MoneyError {
    /// Not a number.
    #[error("not an amount of money")]
    NotANumber,
    /// Its comma may set off thousands or decimals.
    #[error("a comma that may set off thousands or decimals")]
    Grouped,
    /// Has a part of a minor unit.
    #[error("finer than the smallest coin of the currency")]
    TooFine,
    /// Below zero.
    #[error("below zero")]
    Negative,
    /// Above [`Money::MAX`].
    #[error("too much")]
    TooMuch,
}

impl Add for Money {
    type Output = Money;
    fn add(self, other: Money) -> Money {
        Money(self.0 + other.0)
    }
}
impl AddAssign for Money {
    fn add_assign(&mut self, other: Money) {
        self.0 += other.0;
    }
}
impl Sub for Money {
    type Output = Money;
    fn sub(self, other: Money) -> Money {
        Money(self.0 - other.0)
    }
}
impl Mul<u64> for Money {
    type Output = Money;
    fn mul(self, times: u64) -> Money {
        Money(
            (i128::from(self.0) * i128::from(times)).clamp(i64::MIN.into(), i64::MAX.into()) as i64
        )
    }
}
impl Sum for Money {
    fn sum<I: Iterator<Item = Money>>(amounts: I) -> Money {
        amounts.fold(Money::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn dollars(text: &str) -> Result<i64, MoneyError> {
        Currency::default().parse(text).map(Money::minor)
    }

    #[test]
    fn amounts_are_whole_minor_units() {
        assert_eq!(dollars("1.10"), Ok(110));
        assert_eq!(dollars("1.1"), Ok(110));
        assert_eq!(dollars("1,10"), Ok(110));
        assert_eq!(dollars("0"), Ok(0));
        assert_eq!(dollars("12"), Ok(1200));
        assert_eq!(dollars("1.100"), Ok(110));
        assert_eq!(dollars("1.105"), Err(MoneyError::TooFine));
        assert_eq!(dollars("-0.01"), Err(MoneyError::Negative));
        assert_eq!(dollars("1,100"), Err(MoneyError::Grouped));
        assert_eq!(dollars("$1"), Err(MoneyError::NotANumber));
        assert_eq!(dollars("10000000"), Ok(Money::MAX.minor()));
        assert_eq!(dollars("10000000.01"), Err(MoneyError::TooMuch));
    }

    #[test]
    fn currencies_have_their_own_digits() {
        // ISO 4217 (from memory): the yen has no minor unit, the Kuwaiti dinar a thousandth.
        let yen = Currency::new("JPY").unwrap();
        assert_eq!(yen.parse("110"), Ok(Money::from_minor(110)));
        assert_eq!(yen.parse("1.5"), Err(MoneyError::TooFine));
        assert_eq!(yen.with_code(Money::from_minor(110)), "110 JPY");
        let dinar = Currency::new("KWD").unwrap();
        assert_eq!(dinar.parse("1.105"), Ok(Money::from_minor(1105)));
        assert_eq!(dinar.number(Money::from_minor(5)), "0.005");
        for code in ["usd", "US", "USDX", "U$D", "\u{20ac}", ""] {
            assert_eq!(Currency::new(code), None, "{code}");
        }
    }

    #[test]
    fn amounts_are_added_up_taken_away_and_taken_times() {
        let [small, large] = [6, 15].map(Money::from_minor);
        assert_eq!((small + large).minor(), 21);
        assert_eq!((large - small).minor(), 9);
        assert_eq!((large * 4).minor(), 60);
        assert_eq!((large * u64::MAX).minor(), i64::MAX);
        assert_eq!([small, large, small].into_iter().sum::<Money>().minor(), 27);
        let mut sum = small;
        sum += large;
        assert_eq!(sum.minor(), 21);
        assert_eq!(Currency::default().code(), "USD");
    }

    #[test]
    fn negative_amounts_are_written_with_their_sign() {
        assert_eq!(Currency::default().number(Money::from_minor(-5)), "-0.05");
        assert_eq!(Currency::default().number(Money::ZERO), "0.00");
    }

    #[test]
    fn shares_are_rounded_to_nearest_halves_up() {
        let shared = |minor, parts| Money::from_minor(minor).shared_by(parts).minor();
        assert_eq!(shared(100, 3), 33);
        assert_eq!(shared(200, 3), 67);
        assert_eq!(shared(1, 2), 1);
        assert_eq!(shared(-1, 2), 0);
        assert_eq!(shared(5, 0), 5);
    }

    proptest! {
        #[test]
        fn what_is_written_is_read(
            minor in 0..=Money::MAX.minor(),
            code in prop::sample::select(vec!["USD", "EUR", "JPY", "KWD"]),
        ) {
            let currency = Currency::new(code).unwrap();
            let money = Money::from_minor(minor);
            prop_assert_eq!(currency.parse(&currency.number(money)), Ok(money));
        }

        #[test]
        fn any_text_is_read_without_panic(text in ".{0,20}|[0-9.,/ -]{0,30}") {
            let _ = dollars(&text);
        }
    }
}
