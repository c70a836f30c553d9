//! What a customer is asked for: the price of all lines, the least that an order comes to, tax and deposit.

use super::costs;
use crate::measure::{Money, Percent};
use crate::workshop::Rates;

/// What a customer is asked for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct CustomerTotals {
    /// What is added so that the order comes to the least that the workshop takes.
    pub least: Money,
    /// All lines and that.
    pub net: Money,
    /// The tax on it.
    pub tax: Money,
    /// What is paid before the work begins.
    pub deposit: Money,
}

impl CustomerTotals {
    /// For lines of this price, by the rates of the workshop.
    pub(super) fn of(price: Money, rates: &Rates) -> CustomerTotals {
        let net = price.max(rates.order_minimum);
        let tax = share(net, rates.tax_percent);
        let deposit = share(net + tax, Percent::whole(rates.deposit_percent));
        CustomerTotals { least: net - price, net, tax, deposit }
    }

    /// All that is to be paid.
    pub fn total(&self) -> Money {
        self.net + self.tax
    }
}

/// So many percent of an amount, to the nearest minor unit, halves up.
pub(super) fn share(amount: Money, percent: Percent) -> Money {
    costs::part_of(amount.minor().into(), percent.thousandths(), Percent::WHOLE.thousandths())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(price: i64, change: impl Fn(&mut Rates)) -> [i64; 5] {
        let mut rates = Rates::default();
        change(&mut rates);
        let asked = CustomerTotals::of(Money::from_minor(price), &rates);
        [asked.least, asked.net, asked.tax, asked.total(), asked.deposit].map(Money::minor)
    }

    /// By arithmetic.
    #[test]
    fn least_order_tax_and_deposit_follow_each_other() {
        assert_eq!(asked(10_000, |_| ()), [0, 10_000, 0, 10_000, 0]);
        let all = |rates: &mut Rates| {
            rates.order_minimum = Money::from_minor(4_000);
            rates.tax_percent = Percent::parse("8.25").unwrap();
            rates.deposit_percent = 50;
        };
        // 8.25 % of 100.00 and of 40.00.
        assert_eq!(asked(10_000, all), [0, 10_000, 825, 10_825, 5_413]);
        assert_eq!(asked(3_000, all), [1_000, 4_000, 330, 4_330, 2_165]);
    }
}
