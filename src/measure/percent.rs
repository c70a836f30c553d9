//! Percentages with up to three decimals, such as those of taxes.

use super::parse_thousandths;
use std::fmt;

/// A percentage, exact to a thousandth of a percent.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Percent(u32);

impl Percent {
    /// All of it.
    pub const WHOLE: Percent = Percent::whole(100);

    /// So many percent.
    pub const fn whole(percent: u32) -> Percent {
        Percent(percent * 1000)
    }

    /// `8`, `8.25`, `8.875`: up to 1000, and to a thousandth; `None` of anything else.
    pub fn parse(text: &str) -> Option<Percent> {
        if text == "0" {
            return Some(Percent::default());
        }
        let thousandths = parse_thousandths(text).filter(|it| *it <= 1_000_000)?;
        u32::try_from(thousandths).ok().map(Percent)
    }

    /// In thousandths of a percent.
    pub const fn thousandths(self) -> u32 {
        self.0
    }
}

/// `8`, `8.25`.
impl fmt::Display for Percent {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, parts) = (self.0 / 1000, self.0 % 1000);
        match parts {
            0 => write!(to, "{whole}"),
            _ => write!(to, "{whole}.{}", format!("{parts:03}").trim_end_matches('0')),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimals_are_kept() {
        for (text, thousandths) in
            [("8", 8000), ("8.25", 8250), ("0.5", 500), ("8.875", 8875), ("0", 0)]
        {
            assert_eq!(Percent::parse(text).unwrap().thousandths(), thousandths, "{text}");
        }
        let told = ["8", "8.25", "0.5", "8.875", "100"]
            .map(|text| Percent::parse(text).unwrap().to_string());
        assert_eq!(told, ["8", "8.25", "0.5", "8.875", "100"]);
    }

    #[test]
    fn anything_else_is_none() {
        for text in ["", "8.8755", "-1", "8 %", "1001", "99999999999", "8.2.5", "1e3"] {
            assert_eq!(Percent::parse(text), None, "{text}");
        }
    }
}
