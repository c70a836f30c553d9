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
        let product = self.numerator * factor;
        let below = product.div_euclid(self.denominator);
        match product.rem_euclid(self.denominator) {
            0 => Ok(below),
            _ => Err((below, below + 1)),
        }
    }
}

/// `8 1/2`, `8-1/2` or `17/2`: `left` holds all before the slash.
fn mixed(left: &str, below: &str) -> Option<Fraction> {
    let denominator = whole(below.trim())?;
    let left = left.trim();
    let (units, above) = match left.rsplit_once([' ', '-', '\u{a0}']) {
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
