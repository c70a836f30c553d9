//! What was gained for drawer and bench among plans that cost the same, in plain words.

use crate::diagnostics::listed;
use crate::made::Gains;
use crate::measure::Currency;

/// What got better, in short: `offcuts worth 4.20 USD, not 3.90`. `None` where nothing did. Money is only told
/// where all paper has a price.
pub fn short(gains: &Gains, currency: &Currency, priced: bool) -> Option<String> {
    let Gains { kept, settings, runs } = gains;
    let kept = (priced && kept.0 != kept.1).then(|| {
        format!("offcuts worth {}, not {}", currency.with_code(kept.1), currency.number(kept.0))
    });
    let settings = (settings.0 != settings.1)
        .then(|| format!("the gauge set {} times, not {}", settings.1, settings.0));
    let runs = (runs.0 != runs.1).then(|| format!("{} runs, not {}", runs.1, runs.0));
    let told: Vec<String> = [kept, settings, runs].into_iter().flatten().collect();
    (!told.is_empty()).then(|| told.join("; "))
}

/// All figures before and after, as a sentence without a full stop; money only where all paper has a price.
pub fn long(gains: &Gains, currency: &Currency, priced: bool) -> String {
    let Gains { kept, settings, runs } = gains;
    let worth = [kept.0, kept.1].map(|money| currency.with_code(money));
    let worth = priced.then(|| figure("the offcuts are worth", worth));
    let settings =
        figure("gauge settings are", [settings.0, settings.1].map(|count| count.to_string()));
    let runs = figure("runs are", [runs.0, runs.1].map(|count| count.to_string()));
    listed(&worth.into_iter().chain([settings, runs]).collect::<Vec<_>>())
}

fn figure(name: &str, [before, after]: [String; 2]) -> String {
    match before == after {
        true => format!("{name} {after} (as at first)"),
        false => format!("{name} {after} (at first {before})"),
    }
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
                "offcuts worth 4.20 USD, not 3.90; the gauge set 51 times, not 59; 20 runs, not 22"
            )
        );
        let fewer = gains((390, 390), (59, 51), (22, 22));
        assert_eq!(
            short(&fewer, &dollar(), true).as_deref(),
            Some("the gauge set 51 times, not 59")
        );
        assert_eq!(short(&gains((1, 1), (2, 2), (3, 3)), &dollar(), true), None);
        assert_eq!(short(&gains((1, 2), (2, 2), (3, 3)), &dollar(), false), None);
    }

    #[test]
    fn the_page_tells_every_figure() {
        assert_eq!(
            long(&gains((390, 420), (59, 51), (22, 22)), &dollar(), true),
            "the offcuts are worth 4.20 USD (at first 3.90 USD), gauge settings are 51 (at first 59) \
             and runs are 22 (as at first)"
        );
        assert_eq!(
            long(&gains((390, 420), (59, 51), (22, 22)), &dollar(), false),
            "gauge settings are 51 (at first 59) and runs are 22 (as at first)"
        );
    }
}
