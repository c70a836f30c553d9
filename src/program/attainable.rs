//! Rounding a bound up to the next cost that whole sheets or packs can have at all.

use super::level::Level;
use super::task::{Supply, Task};
use crate::measure::greatest_common_divisor;

/// Largest range of costs, in steps of their greatest common divisor, that is looked at one by one.
const MOST_STEPS: i64 = 4_000_000;

/// Something that costs money: its price, and how many there can be.
#[derive(Clone, Copy, Debug)]
struct Coin {
    value: i64,
    most: Option<u64>,
}

/// The costs that sums of coins can have, up to a limit.
pub(super) struct Attainable {
    step: i64,
    /// Bit `i` tells whether `start + i × step` is such a sum; empty where the range was too large.
    sums: Vec<u64>,
    /// Sums below it are not looked at one by one.
    start: i64,
}

impl Attainable {
    /// The costs that a plan of the task can have at a level, from `least` up to `limit`.
    pub fn of(task: &Task, level: Level, least: i64, limit: i64) -> Attainable {
        let supplies = task.supplies.iter();
        let coins: Vec<Coin> = match level {
            Level::Spend => supplies
                .filter_map(|supply| Some(Coin { value: supply.price?, most: None }))
                .collect(),
            Level::Stock { budget } => {
                let values = task.supplies.iter().map(|supply| supply.value);
                // Far out, what can be bought makes up the bulk, so it counts as any number.
                let is_far = limit / greatest_common_divisor(values).max(1) >= MOST_STEPS;
                let most = |supply: &Supply| match is_far && supply.price.is_some() {
                    true => None,
                    false => supply.most_within(budget),
                };
                supplies.map(|supply| Coin { value: supply.value, most: most(supply) }).collect()
            }
        };
        Attainable::new(&coins, least, limit)
    }

    /// All sums of `coins` from `least` up to `limit`.
    ///
    /// In a long range the dearest coin without limit makes up the bulk of every sum: as many of it as
    /// each of them has are left out of the table. Of another coin without limit fewer than the bulk
    /// coin's value are enough, since so many can be swapped for bulk coins.
    fn new(coins: &[Coin], least: i64, limit: i64) -> Attainable {
        let step = greatest_common_divisor(coins.iter().map(|coin| coin.value)).max(1);
        let bulk = coins.iter().filter(|coin| coin.most.is_none()).map(|coin| coin.value).max();
        let start = match bulk.filter(|_| limit / step >= MOST_STEPS) {
            Some(bulk) if bulk > 0 => bulk * (least - others(coins, bulk)).div_euclid(bulk).max(0),
            _ => 0,
        };
        let steps = (limit - start) / step + 1;
        if steps > MOST_STEPS {
            return Attainable { step, sums: Vec::new(), start: 0 };
        }
        let mut sums = vec![0; (steps as usize + 1).div_ceil(64)];
        sums[0] = 1;
        for coin in coins.iter().filter(|coin| coin.value > 0) {
            add_coin(&mut sums, (coin.value / step) as usize, coin.most);
        }
        Attainable { step, sums, start }
    }

    /// The least attainable cost that is no less than `numerator / denominator`.
    pub fn round_up(&self, numerator: i128, denominator: i128) -> i64 {
        let grid = denominator * i128::from(self.step);
        let above = (numerator - i128::from(self.start) * denominator).max(0);
        let steps = above.div_euclid(grid) + i128::from(above.rem_euclid(grid) != 0);
        let found = (steps..self.sums.len() as i128 * 64)
            .find(|&at| self.sums[at as usize / 64] >> (at as usize % 64) & 1 == 1);
        self.start + (found.unwrap_or(steps) * i128::from(self.step)) as i64
    }

    /// The largest attainable cost below `value`; 0 where there is none.
    pub fn below(&self, value: i64) -> i64 {
        let steps = (value - 1 - self.start).max(0) / self.step;
        let is_sum = |at: &i64| {
            let word = self.sums.get(*at as usize / 64);
            word.is_none_or(|word| word >> (*at as usize % 64) & 1 == 1)
        };
        let found = (0..=steps).rev().find(is_sum);
        found.map_or((value - 1).min(self.start), |at| self.start + at * self.step).max(0)
    }
}

/// The most that all coins but those of the bulk bring to a sum.
fn others(coins: &[Coin], bulk: i64) -> i64 {
    let most = |coin: &Coin| match coin.most {
        Some(most) => coin.value.saturating_mul(most.min(i64::MAX as u64) as i64),
        None => coin.value.saturating_mul(bulk),
    };
    coins.iter().map(most).fold(0, i64::saturating_add)
}

/// Ors in every multiple of `value` up to `most` times: powers of two first, then the rest.
fn add_coin(sums: &mut [u64], value: usize, most: Option<u64>) {
    let bits = sums.len() * 64;
    let mut left = most.unwrap_or(u64::MAX).min((bits / value) as u64 + 1);
    let mut times = 1;
    while left > 0 {
        let now = times.min(left);
        or_shifted(sums, value * now as usize);
        left -= now;
        times *= 2;
    }
}

fn or_shifted(sums: &mut [u64], shift: usize) {
    let (words, bits) = (shift / 64, shift % 64);
    for to in (words..sums.len()).rev() {
        let from = to - words;
        let mut word = sums[from] << bits;
        if bits > 0 && from > 0 {
            word |= sums[from - 1] >> (64 - bits);
        }
        sums[to] |= word;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    impl Attainable {
        /// Every whole cost can be had.
        pub fn all() -> Attainable {
            Attainable::new(&coins(&[(1, None)]), 0, 10_000)
        }
    }

    fn coins(values: &[(i64, Option<u64>)]) -> Vec<Coin> {
        values.iter().map(|&(value, most)| Coin { value, most }).collect()
    }

    #[test]
    fn rounds_to_sums_of_coins() {
        let sums = Attainable::new(&coins(&[(110, None), (30, Some(1)), (12, Some(1))]), 0, 2000);
        assert_eq!(sums.round_up(5002, 10), 550);
        assert_eq!(sums.round_up(482, 1), 482);
        assert_eq!(sums.round_up(0, 1), 0);
        assert_eq!(sums.round_up(1, 1), 12);
        assert_eq!([13, 12, 1].map(|value| sums.below(value)), [12, 0, 0]);
        assert_eq!(sums.below(550), 482);
    }

    /// Sheets of 100 and of 70: a budget of 100 is enough for one of either, and for no second one.
    #[test]
    fn sheets_beyond_the_budget_make_no_sum() {
        let task = super::super::samples::two_papers([1, 1, 1]);
        let sums = Attainable::of(&task, Level::Stock { budget: 100 }, 0, 1000);
        assert_eq!([1, 71, 101].map(|bound| sums.round_up(bound, 1)), [70, 100, 170]);
    }

    #[test]
    fn agrees_with_enumeration() {
        let list = coins(&[(7, Some(3)), (5, Some(2)), (31, None)]);
        let sums = Attainable::new(&list, 0, 400);
        for bound in 0..300 {
            let least = (0..=3_i64)
                .flat_map(|a| (0..=2_i64).map(move |b| 7 * a + 5 * b))
                .flat_map(|rest| (0..20_i64).map(move |c| rest + 31 * c))
                .filter(|sum| *sum >= bound)
                .min();
            assert_eq!(Some(sums.round_up(bound.into(), 1)), least, "bound {bound}");
        }
    }

    #[test]
    fn far_out_one_coin_makes_up_the_bulk() {
        let list = coins(&[(120, None), (7, Some(2))]);
        let far = 12_000_000_000;
        let sums = Attainable::new(&list, far - 500, far + 1000);
        let least = |bound: i64| sums.round_up((far + bound).into(), 1) - far;
        assert_eq!([0, 1, 7, 8, 15, 121].map(least), [0, 7, 7, 14, 120, 127]);
    }

    #[test]
    fn falls_back_to_the_common_divisor_of_a_huge_range() {
        let sums = Attainable::new(&coins(&[(4, None), (6, None)]), 0, 100_000_000);
        assert_eq!(sums.round_up(3, 1), 4);
        assert_eq!(sums.round_up(17, 2), 10);
    }
}
