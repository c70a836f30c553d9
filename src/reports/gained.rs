//! What was gained for drawer and bench among plans that cost the same, in plain words.

use crate::diagnostics::counted;
use crate::made::Gains;
use crate::measure::Currency;
use std::cmp::Ordering;

/// What got better, in short: `offcuts worth 4.20 USD, up from 3.90`. `None` where nothing did. Money is only told where
/// all paper has a price.
pub fn short(gains: &Gains, currency: &Currency, priced: bool) -> Option<String> {
    let figures = figures(gains, currency, priced).into_iter();
    let told: Vec<String> =
        figures.filter(|it| it.way != Ordering::Equal).map(|it| it.told()).collect();
    (!told.is_empty()).then(|| told.join("; "))
}

/// All figures before and after, without a full stop; money only where all paper has a price.
pub fn long(gains: &Gains, currency: &Currency, priced: bool) -> String {
    let figures = figures(gains, currency, priced);
    figures.iter().map(GainRow::told).collect::<Vec<_>>().join("; ")
}

/// A figure of this plan beside that of the runs as they were at first.
struct GainRow {
    now: String,
    before: String,
    /// Which way it went.
    way: Ordering,
}

impl GainRow {
    fn told(&self) -> String {
        let GainRow { now, before, way } = self;
        match way {
            Ordering::Less => format!("{now}, down from {before}"),
            Ordering::Equal => format!("{now}, as at first"),
            Ordering::Greater => format!("{now}, up from {before}"),
        }
    }
}

fn figures(gains: &Gains, currency: &Currency, priced: bool) -> Vec<GainRow> {
    let Gains { kept, settings, runs } = gains;
    let worth = GainRow {
        now: format!("offcuts worth {}", currency.with_code(kept.1)),
        before: currency.number(kept.0),
        way: kept.1.cmp(&kept.0),
    };
    let count = |(before, now): (u64, u64), noun| GainRow {
        now: counted(now, noun),
        before: before.to_string(),
        way: now.cmp(&before),
    };
    let counts = [count(*settings, "gauge setting"), count(*runs, "run")];
    priced.then_some(worth).into_iter().chain(counts).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Money;

    fn gains(kept: (i64, i64), settings: (u64, u64), runs: (u64, u64)) -> Gains {
        Gains { kept: (Money::from_minor(kept.0), Money::from_minor(kept.1)), settings, runs }
    }

    fn dollar() -> Currency {
        Currency::new("USD").unwrap()
    }

    #[test]
    fn only_what_got_better_is_told_in_short() {
        let better = gains((390, 420), (59, 51), (22, 20));
        assert_eq!(
            short(&better, &dollar(), true).as_deref(),
            Some(
                "offcuts worth 4.20 USD, up from 3.90; 51 gauge settings, down from 59; 20 runs, \
                 down from 22"
            )
        );
        let fewer = gains((390, 390), (59, 51), (22, 22));
        assert_eq!(
            short(&fewer, &dollar(), true).as_deref(),
            Some("51 gauge settings, down from 59")
        );
        assert_eq!(short(&gains((1, 1), (2, 2), (3, 3)), &dollar(), true), None);
        assert_eq!(short(&gains((1, 2), (2, 2), (3, 3)), &dollar(), false), None);
    }

    #[test]
    fn the_page_tells_every_figure() {
        assert_eq!(
            long(&gains((390, 420), (59, 51), (22, 22)), &dollar(), true),
            "offcuts worth 4.20 USD, up from 3.90; 51 gauge settings, down from 59; 22 runs, as at first"
        );
        assert_eq!(
            long(&gains((390, 420), (59, 51), (22, 22)), &dollar(), false),
            "51 gauge settings, down from 59; 22 runs, as at first"
        );
    }
}
