//! Which totals whole numbers of sheets or packs can have, to round a bound up.

/// A price or value, and how many may be taken of it; `None` is any number.
#[derive(Clone, Copy, Debug)]
pub(super) struct Denomination {
    pub value: i64,
    pub most: Option<i128>,
}

/// Longest table of sums that is made; beyond it only the common divisor of the values rounds.
const LONGEST: i128 = 4_000_000;

/// The least sum of coins that is at least `target`, or `limit` where there is none below it.
pub(super) fn least_sum(target: i128, limit: i128, coins: &[Denomination]) -> i128 {
    let takes = |coin: &Denomination| coin.value > 0 && coin.most != Some(0);
    let coins: Vec<Denomination> = coins.iter().copied().filter(takes).collect();
    if target <= 0 {
        return 0.min(limit);
    }
    let step = coins.iter().fold(0, |step, coin| common_divisor(step, i128::from(coin.value)));
    if step == 0 {
        return limit;
    }
    let steps = |amount: i128| (amount + step - 1) / step;
    let (first, end) = (steps(target), steps(limit));
    if first >= end {
        return limit.min(first * step);
    }
    if end > LONGEST {
        return far_sum(target, limit, &coins, step).unwrap_or(first * step);
    }
    let sums = reachable(end as usize, step, &coins);
    let is_sum = |sum: &usize| sums[sum / 64] >> (sum % 64) & 1 == 1;
    let least = (first as usize..end as usize).find(is_sum);
    least.map_or(limit, |sum| sum as i128 * step)
}

/// [`least_sum`] far out, where one coin of which there is plenty makes up the bulk of every sum: as many
/// of it as every such sum has are set aside. Coins in plenty count as any number, which can only lower
/// the result. `None` where no coin is in plenty or the rest is still too long.
fn far_sum(target: i128, limit: i128, coins: &[Denomination], step: i128) -> Option<i128> {
    let worth = |coin: &Denomination| coin.most.map(|most| most.saturating_mul(coin.value.into()));
    let plenty = |coin: &Denomination| worth(coin).is_none_or(|worth| worth > LONGEST * step);
    let bulk = i128::from(coins.iter().filter(|coin| plenty(coin)).map(|coin| coin.value).max()?);
    // As many of another plentiful coin as the bulk coin's value can be swapped for bulk coins, so that
    // fewer are enough.
    let others = coins.iter().map(|coin| match plenty(coin) {
        true => bulk.saturating_mul(coin.value.into()),
        false => worth(coin).unwrap_or(0),
    });
    let others = others.fold(0, i128::saturating_add);
    let aside = target.saturating_sub(others).max(0) / bulk * bulk;
    // No coin in plenty runs out within so short a rest.
    let short = (limit - aside) / step < LONGEST;
    short.then(|| least_sum(target - aside, limit - aside, coins) + aside)
}

/// Which multiples of `step` below `end` steps are sums: a bit each, the first the lowest of the first word.
fn reachable(end: usize, step: i128, coins: &[Denomination]) -> Vec<u64> {
    let mut sums = vec![0_u64; end.div_ceil(64)];
    sums[0] = 1;
    for coin in coins {
        let value = i128::from(coin.value) / step;
        let useful = end as i128 / value;
        let mut left = coin.most.map_or(useful, |most| most.min(useful));
        // Any number up to the most is a sum of 1, 2, 4 and so on, and of what is left over.
        let mut bundle = 1;
        while left > 0 {
            let taken = bundle.min(left);
            add_shifted(&mut sums, (value * taken) as usize);
            left -= taken;
            bundle *= 2;
        }
    }
    sums
}

/// Adds to the sums those that are so many steps above one.
fn add_shifted(sums: &mut [u64], steps: usize) {
    let (whole, bits) = (steps / 64, steps % 64);
    for at in (whole..sums.len()).rev() {
        let low = sums[at - whole] << bits;
        let from_below =
            if bits > 0 && at > whole { sums[at - whole - 1] >> (64 - bits) } else { 0 };
        sums[at] |= low | from_below;
    }
}

/// The greatest whole number that divides both; the other where one is nothing.
pub(super) fn common_divisor(one: i128, other: i128) -> i128 {
    if other == 0 { one } else { common_divisor(other, one % other) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn coins(coins: &[(i64, Option<i128>)]) -> Vec<Denomination> {
        coins.iter().map(|&(value, most)| Denomination { value, most }).collect()
    }

    /// The largest sum that no coins of 6, 9 and 20 make is 43 (the textbook case of the Frobenius
    /// problem).
    #[test]
    fn sums_of_six_nine_and_twenty() {
        let coins = coins(&[(6, None), (9, None), (20, None)]);
        assert_eq!(least_sum(43, 1000, &coins), 44);
        assert_eq!(least_sum(44, 1000, &coins), 44);
        assert_eq!(least_sum(13, 1000, &coins), 15);
        assert_eq!(least_sum(43, 43, &coins), 43, "no further than the limit");
    }

    #[test]
    fn scarce_coins_run_out() {
        let coins = coins(&[(5, Some(2)), (8, Some(1))]);
        let least = |target| least_sum(target, 100, &coins);
        assert_eq!([0, 1, 6, 9, 11, 14, 18].map(least), [0, 5, 8, 10, 13, 18, 18]);
        assert_eq!(least(19), 100);
    }

    #[test]
    fn without_coins_only_nothing_is_a_sum() {
        assert_eq!(least_sum(0, 50, &[]), 0);
        assert_eq!(least_sum(1, 50, &[]), 50);
        assert_eq!(least_sum(1, 50, &coins(&[(0, None), (7, Some(0))])), 50);
    }

    /// The least sum by trying all counts of three coins.
    fn slow(target: i128, limit: i128, coins: &[Denomination]) -> i128 {
        let mut sums = vec![0_i128];
        for coin in coins {
            let most = coin.most.unwrap_or(60);
            let add = |sum: &i128| -> Vec<i128> {
                (0..=most).map(|count| sum + count * i128::from(coin.value)).collect()
            };
            sums = sums.iter().flat_map(add).collect();
        }
        sums.into_iter().filter(|&sum| sum >= target).fold(limit, i128::min)
    }

    proptest::proptest! {
        #[test]
        fn the_least_sum_is_the_least(
            list in proptest::collection::vec((1_i64..12, proptest::option::of(0_i128..4)), 0..3),
            target in 0_i128..50,
        ) {
            let coins = coins(&list);
            proptest::prop_assert_eq!(least_sum(target, 50, &coins), slow(target, 50, &coins));
        }
    }

    #[test]
    fn long_tables_fall_back_to_the_common_divisor() {
        let coins = coins(&[(6, None), (10, None)]);
        let far = 100_000_000;
        assert_eq!(least_sum(1, far, &coins), 2);
        assert_eq!(least_sum(1, 1000, &coins), 6);
        assert_eq!(least_sum(1, 8_000_000, &coins), 6, "as long as a table may be");
        assert_eq!(least_sum(1, 8_000_001, &coins), 2);
    }

    #[test]
    fn coins_of_no_value_or_number_make_no_sum_far_out_either() {
        let far = 100_000_001;
        let limit = 2 * far;
        assert_eq!(least_sum(far, limit, &coins(&[(6, Some(0)), (10, Some(3))])), far + 9);
        assert_eq!(least_sum(far, limit, &coins(&[(0, None), (10, Some(3))])), far + 9);
        assert_eq!(least_sum(far, limit, &coins(&[(0, None), (0, Some(3))])), limit);
    }

    /// A plan may say anything: what leaves 128 bits only makes the claim weaker.
    #[test]
    fn coins_of_any_value_and_number_are_added_up() {
        let most = i64::MAX / 4;
        let huge = coins(&(0..64).map(|less| (most - less, None)).collect::<Vec<_>>());
        let far = i128::MAX / 2;
        assert_eq!(least_sum(far, far + 1, &huge), far);
        let scarce = coins(&[(most, Some(i128::MAX)), (most - 1, Some(i128::MAX)), (7, None)]);
        assert_eq!(least_sum(far, far + 1, &scarce), far);
        assert_eq!(least_sum(1, far, &huge), 1, "nothing is set aside");
    }

    /// 120 k + {0, 7, 14} with k as large as one likes.
    #[test]
    fn far_out_one_coin_makes_up_the_bulk() {
        let coins = coins(&[(120, Some(1_000_000_000)), (7, Some(2))]);
        let far = 12_000_000_000;
        let least = |target| least_sum(far + target, far + 1000, &coins) - far;
        assert_eq!([0, 1, 7, 8, 15, 121].map(least), [0, 7, 7, 14, 120, 127]);
    }

    /// As before, up to the longest rest for which a table is made: 14 414 may be made up by others than the bulk.
    #[test]
    fn far_out_the_rest_is_no_longer_than_a_table() {
        let coins = coins(&[(120, Some(1_000_000_000)), (7, Some(2))]);
        let target = 12_000_000_001;
        let aside = (target - 14_414) / 120 * 120;
        assert_eq!(least_sum(target, aside + LONGEST - 1, &coins), target + 6);
        assert_eq!(least_sum(target, aside + LONGEST, &coins), target);
    }

    /// 6000 k + 5990 j is a multiple of 6000 less 10 j, with j up to 500.
    #[test]
    fn far_out_scarce_coins_run_out_as_well() {
        let coins = coins(&[(6000, Some(1_000_000_000)), (5990, Some(500))]);
        let far = 6_000_000_000;
        let least = |target| least_sum(far + target, far + 6000, &coins) - far;
        assert_eq!([0, 1, 1000, 1001].map(least), [0, 1000, 1000, 1010]);
    }
}
