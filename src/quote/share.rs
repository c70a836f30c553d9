//! An amount shared so that the parts add up.

use crate::measure::{Money, Ratio};
use crate::stock::rounded;

/// Shares `total` by `weights`, in whole minor units: each part is rounded down, and what is missing then goes, a
/// unit each, to the parts that lost most (largest remainder), the first of equals. Without any weight, all
/// weigh the same.
pub fn shared(total: Money, weights: &[i128]) -> Vec<Money> {
    let ones = vec![1; weights.len()];
    let weights = if weights.iter().all(|weight| *weight <= 0) { &ones } else { weights };
    let whole: i128 = weights.iter().sum();
    let total = i128::from(total.minor());
    let exact = weights.iter().map(|weight| total * weight);
    let mut parts: Vec<(i128, i128)> =
        exact.map(|exact| (exact.div_euclid(whole), exact.rem_euclid(whole))).collect();
    let missing = total - parts.iter().map(|(part, _)| part).sum::<i128>();
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_by_key(|&at| std::cmp::Reverse(parts[at].1));
    for &at in order.iter().take(usize::try_from(missing).unwrap_or_default()) {
        parts[at].0 += 1;
    }
    parts.into_iter().map(|(part, _)| Money::from_minor(part as i64)).collect()
}

/// The same of exact amounts: their sum is rounded once, to the nearest minor unit, and no part is a whole one off.
pub fn rounded_together(amounts: &[Ratio]) -> Vec<Money> {
    let total = rounded(&amounts.iter().cloned().sum());
    let mut parts: Vec<i64> =
        amounts.iter().map(|amount| amount.floor().clamp(0, MOST) as i64).collect();
    let missing = total.minor() - parts.iter().sum::<i64>();
    let rest = |at: usize| amounts[at].clone() - Ratio::whole(amounts[at].floor());
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_by_cached_key(|&at| std::cmp::Reverse(rest(at)));
    for &at in order.iter().take(usize::try_from(missing).unwrap_or_default()) {
        parts[at] += 1;
    }
    parts.into_iter().map(Money::from_minor).collect()
}

/// Beyond all measure, amounts stay where they can be added.
const MOST: i128 = 1_000_000_000_000_000;

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn minor(total: i64, weights: &[i128]) -> Vec<i64> {
        shared(Money::from_minor(total), weights).into_iter().map(Money::minor).collect()
    }

    #[test]
    fn the_largest_remainders_get_what_is_left() {
        assert_eq!(minor(100, &[1, 1, 1]), [34, 33, 33]);
        assert_eq!(minor(10, &[5, 3, 1]), [6, 3, 1]);
        assert_eq!(minor(1, &[1, 2]), [0, 1]);
        assert_eq!(minor(7, &[0, 0]), [4, 3]);
        assert_eq!(minor(0, &[2, 1]), [0, 0]);
        assert_eq!(minor(5, &[]), [0; 0]);
    }

    #[test]
    fn exact_amounts_are_rounded_together() {
        let minor = |amounts: &[Ratio]| -> Vec<i64> {
            rounded_together(amounts).into_iter().map(Money::minor).collect()
        };
        let [third, half] = [Ratio::new(1, 3), Ratio::new(1, 2)];
        assert_eq!(minor(&[third.clone(), third.clone(), third.clone()]), [1, 0, 0]);
        assert_eq!(minor(&[third, half.clone()]), [0, 1]);
        assert_eq!(minor(&[half.clone(), half.clone(), half]), [1, 1, 0]);
        assert_eq!(minor(&[Ratio::whole(7), Ratio::default()]), [7, 0]);
        assert_eq!(minor(&[]), [0; 0]);
    }

    proptest! {
        #[test]
        fn parts_add_up_and_are_near_their_share(
            total in 0_i64..1_000_000_000,
            weights in prop::collection::vec(0_i128..1_000_000_000_000, 1..12),
        ) {
            let parts = minor(total, &weights);
            prop_assert_eq!(parts.iter().sum::<i64>(), total);
            let whole: i128 = weights.iter().sum();
            for (part, weight) in parts.iter().zip(&weights).filter(|_| whole > 0) {
                let off = i128::from(*part) * whole - i128::from(total) * weight;
                prop_assert!(off.abs() < whole, "{part} of {total}");
            }
        }
    }
}
