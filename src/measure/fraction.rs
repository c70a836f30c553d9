//! Decimal and fraction text as an exact ratio of integers.

/// A ratio of two integers, `denominator > 0`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Fraction {
    pub numerator: i128,
    pub denominator: i128,
}

/// Longest run of digits read; more could not be a length or a price of this trade.
const DIGITS: usize = 15;

impl Fraction {
    /// Reads `8`, `8.5`, `8,5`, `.5`, `17/2`, `8 1/2` and `8-1/2`, with an optional leading minus.
    pub fn parse(text: &str) -> Option<Fraction> {
        let text = text.trim();
        let (negative, body) = match text.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (true, rest.trim_start()),
            None => (false, text.strip_prefix('+').unwrap_or(text)),
        };
        let mut value = match body.split_once('/') {
            Some((left, below)) => mixed(left, below)?,
            None => decimal(body)?,
        };
        if negative {
            value.numerator = -value.numerator;
        }
        Some(value)
    }

    /// Whether a text could be grouped thousands as well as decimals: `1,000` or `1.250,5`. A zero in
    /// front (`0,125`) or a point (`1.250`) leaves no doubt.
    pub fn is_grouped(text: &str) -> bool {
        let number = text.trim().trim_start_matches(['-', '+', '\u{2212}']);
        let mut groups = number.split(',');
        let first = groups.next().unwrap_or_default();
        let rest: Vec<&str> = groups.collect();
        let digits = |group: &str| group.bytes().all(|byte| byte.is_ascii_digit());
        let leads = (1..=3).contains(&first.len()) && digits(first) && !first.starts_with('0');
        match rest.as_slice() {
            [] => false,
            [only] => leads && only.len() == 3 && digits(only),
            [..] => true,
        }
    }

    /// `self × factor` as a whole number, or the whole numbers below and above.
    pub fn times(self, factor: i128) -> Result<i128, (i128, i128)> {
        let Fraction { numerator, denominator } = self;
        // Whole and rest by themselves: their product could be beyond 128 bits.
        let part = numerator.rem_euclid(denominator) * factor;
        let below = numerator.div_euclid(denominator) * factor + part.div_euclid(denominator);
        match part.rem_euclid(denominator) {
            0 => Ok(below),
            _ => Err((below, below + 1)),
        }
    }
}

/// `8 1/2`, `8-1/2` or `17/2`: `left` holds all before the slash.
fn mixed(left: &str, below: &str) -> Option<Fraction> {
    let denominator = whole(below.trim())?;
    let left = left.trim();
    let joins = |letter: char| letter.is_whitespace() || letter == '-';
    let (units, above) = match left.rsplit_once(joins) {
        Some((units, above)) => (whole(units.trim())?, whole(above.trim())?),
        None => (0, whole(left)?),
    };
    (denominator > 0).then_some(Fraction { numerator: units * denominator + above, denominator })
}

fn decimal(text: &str) -> Option<Fraction> {
    match text.split_once(['.', ',']) {
        None => Some(Fraction { numerator: whole(text)?, denominator: 1 }),
        Some((units, decimals)) => {
            if units.is_empty() && decimals.is_empty() {
                return None;
            }
            let units = if units.is_empty() { 0 } else { whole(units)? };
            let parts = if decimals.is_empty() { 0 } else { whole(decimals)? };
            let denominator = 10_i128.pow(decimals.len() as u32);
            Some(Fraction { numerator: units * denominator + parts, denominator })
        }
    }
}

fn whole(text: &str) -> Option<i128> {
    let digits = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    (digits && text.len() <= DIGITS).then(|| text.parse().ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// `text` as a ratio in lowest terms, to compare forms.
    fn lowest(text: &str) -> Option<(i128, i128)> {
        let fraction = Fraction::parse(text)?;
        let (mut divisor, mut rest) = (fraction.numerator.abs(), fraction.denominator);
        while rest != 0 {
            (divisor, rest) = (rest, divisor % rest);
        }
        Some((fraction.numerator / divisor.max(1), fraction.denominator / divisor.max(1)))
    }

    #[test]
    fn every_form_of_eight_and_a_half_is_the_same() {
        for text in [
            "8.5",
            "8,5",
            "8.50",
            " 8.5 ",
            "+8.5",
            "8 1/2",
            "8-1/2",
            "8  2/4",
            "17/2",
            "34 / 4",
            "8\u{a0}1/2",
            "8\u{202f}1/2",
            "8\t1/2",
            "008.5",
        ] {
            assert_eq!(lowest(text), Some((17, 2)), "{text}");
        }
        for text in ["-8.5", "\u{2212}8 1/2", "- 17/2"] {
            assert_eq!(lowest(text), Some((-17, 2)), "{text}");
        }
        assert_eq!(lowest(".5"), Some((1, 2)));
        assert_eq!(lowest("5."), Some((5, 1)));
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for text in [
            "",
            " ",
            ".",
            ",",
            "/",
            "-",
            "1/",
            "/2",
            "1/0",
            "8 1/2 1/4",
            "1/2/3",
            "8 - 1/2",
            "--1",
            "1e3",
            "0x10",
            "1.2.3",
            "1,2,3",
            "one",
            "NaN",
            "inf",
            "\u{bd}",
            "8 .5/2",
            "1234567890123456",
            "0.1234567890123456",
        ] {
            assert_eq!(lowest(text), None, "{text}");
        }
    }

    #[test]
    fn fifteen_digits_are_read_and_sixteen_are_not() {
        assert_eq!(lowest("123456789012345"), Some((123_456_789_012_345, 1)));
        assert!(Fraction::parse("0.123456789012345").is_some());
        assert!(Fraction::parse("999999999999999 999999999999999/999999999999999").is_some());
    }

    #[test]
    fn only_doubtful_commas_count_as_groups() {
        for text in ["1,000", "12,345", "123,456", "1,000,000", "1,5,5", "-1,000"] {
            assert!(Fraction::is_grouped(text), "{text}");
        }
        for text in ["1.000", "0,125", ",125", "1,00", "1,0000", "1234,567", "12", "8,5", "a,bcd"] {
            assert!(!Fraction::is_grouped(text), "{text}");
        }
    }

    #[test]
    fn a_product_between_whole_numbers_names_both() {
        let third = Fraction::parse("1/3").unwrap();
        assert_eq!(third.times(3), Ok(1));
        assert_eq!(third.times(4), Err((1, 2)));
        assert_eq!(Fraction::parse("-1/3").unwrap().times(4), Err((-2, -1)));
    }

    #[test]
    fn the_largest_numbers_have_products_too() {
        let most = "999999999999999 999999999999998/999999999999999";
        for (text, below) in [(most, 10_i128.pow(29) - 1), (&format!("-{most}"), -10_i128.pow(29))]
        {
            assert_eq!(
                Fraction::parse(text).unwrap().times(10_i128.pow(14)),
                Err((below, below + 1))
            );
        }
    }

    proptest! {
        #[test]
        fn forms_agree(units in 0_i128..10_000, above in 0_i128..64, power in 0_u32..7) {
            let below = 2_i128.pow(power);
            let above = above % below;
            let improper = lowest(&format!("{}/{below}", units * below + above));
            prop_assert_eq!(lowest(&format!("{units} {above}/{below}")), improper);
            prop_assert_eq!(lowest(&format!("{units}-{above}/{below}")), improper);
            // 1/64 has six decimals.
            let decimals = above * 1_000_000 / below;
            prop_assert_eq!(lowest(&format!("{units}.{decimals:06}")), improper);
        }

        #[test]
        fn any_text_is_read_without_panic(text in "[-+0-9 ./,\u{a0}]{0,40}|.{0,20}") {
            if let Some(fraction) = Fraction::parse(&text) {
                prop_assert!(fraction.denominator > 0);
                let _ = fraction.times(10_i128.pow(14));
            }
        }
    }
}
