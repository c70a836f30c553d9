//! What every plan has to buy at least.
//!
//! Whatever pieces are taken to be worth, those of a plan are worth no more than the best patterns of all
//! its sheets. With values π, and `F_s` the most that a pattern of `s` is worth:
//!
//! ```text
//! Σ n_i π_i  <=  Σ_s F_s (h_s + k_s y_s),    that is    Σ_s k_s F_s y_s  >=  Σ n_i π_i − Σ_s h_s F_s
//! ```
//!
//! a row in the packs alone (Benders 1962, Numerische Mathematik 4:238-252). All of it is in whole numbers,
//! so that nothing hangs on how the values were found.

use super::super::certificate::worth_of_wanted;
use super::super::task::{Supply, Task};

/// A part of the largest factor that is more than the linear program's tolerance.
const UNSEEN: i128 = 1 << 20;

/// A row `Σ factors·packs >= least`, by the goods that can be bought.
pub(super) struct Need {
    factors: Vec<i128>,
    least: i128,
    /// What a piece is worth, by item.
    pieces: Vec<i64>,
}

impl Need {
    /// The need by these values of the pieces, `worth` being what the best patterns are worth, by supply.
    /// `None` where it says nothing.
    pub fn new(task: &Task, goods: &[usize], pieces: &[i64], worth: &[i64]) -> Option<Need> {
        let factor = |&at: &usize| match task.supplies[at] {
            Supply { price: Some(_), pack, .. } => i128::from(pack) * i128::from(worth[at]),
            _ => 0,
        };
        let factors: Vec<i128> = goods.iter().map(factor).collect();
        let mut least = worth_of_wanted(task, pieces);
        for (supply, &worth) in task.supplies.iter().zip(worth) {
            least -= i128::from(supply.on_hand) * i128::from(worth);
        }
        factors.iter().any(|&factor| factor > 0).then(|| Need {
            factors,
            least,
            pieces: pieces.to_vec(),
        })
    }

    /// What has to be met where so many pieces more are wanted, by item.
    fn least(&self, margin: &[u64]) -> i128 {
        let more = margin.iter().zip(&self.pieces);
        self.least + more.map(|(&more, &value)| i128::from(more) * i128::from(value)).sum::<i128>()
    }

    /// The rows it makes where so many pieces more are wanted: itself, and rounded by each of its factors.
    pub fn rows(&self, margin: &[u64]) -> Vec<NeedRow> {
        let least = self.least(margin);
        let mut rows = vec![NeedRow::new(self.factors.clone(), least)];
        let mut divisors: Vec<i128> = self.factors.iter().copied().filter(|&of| of > 0).collect();
        divisors.sort_unstable();
        divisors.dedup();
        rows.extend(divisors.into_iter().filter_map(|divisor| self.rounded(divisor, least)));
        rows
    }

    /// Mixed-integer rounding (Nemhauser & Wolsey 1990, Mathematical Programming 46:379-390): packs are
    /// whole, so of what is needed, a rest of the divisor needs as much as any.
    fn rounded(&self, divisor: i128, least: i128) -> Option<NeedRow> {
        let rest = least.rem_euclid(divisor);
        if least <= 0 || rest == 0 {
            return None;
        }
        let part = |factor: &i128| factor / divisor * rest + (factor % divisor).min(rest);
        Some(NeedRow::new(self.factors.iter().map(part).collect(), (least / divisor + 1) * rest))
    }

    /// Whether it is met by these packs, or lacks so little that the linear program would not see it.
    pub fn is_met(&self, packs: &[u64], margin: &[u64]) -> bool {
        let bought = self.factors.iter().zip(packs);
        let bought: i128 = bought.map(|(&factor, &packs)| factor * i128::from(packs)).sum();
        let largest = self.factors.iter().copied().max().unwrap_or(0);
        bought + largest / UNSEEN >= self.least(margin)
    }
}

/// A need as a row of the linear program, its largest factor being 1 there.
pub(super) struct NeedRow {
    factors: Vec<i128>,
    least: i128,
    largest: f64,
    /// The factors as parts of the largest one.
    pub parts: Vec<f64>,
    /// `least` in the same unit.
    pub limit: f64,
}

/// Units of a multiplier in exact bounds.
const SCALE: i128 = 1 << 48;

impl NeedRow {
    fn new(factors: Vec<i128>, least: i128) -> NeedRow {
        let largest = factors.iter().copied().max().unwrap_or(1).max(1) as f64;
        let parts = factors.iter().map(|&factor| factor as f64 / largest).collect();
        NeedRow { limit: least as f64 / largest, factors, least, largest, parts }
    }
}

/// Purchases from `lower` to `upper` of each pack.
#[derive(Clone)]
pub(super) struct Purchasable {
    pub lower: Vec<u64>,
    pub upper: Vec<u64>,
}

/// A valid bound of `Σ cost·packs` over packs of a range, as numerator and denominator: the rows
/// times whole multipliers near these, each pack at the end of its range that is cheaper.
pub(super) fn bound(
    cost: &[i64],
    range: &Purchasable,
    rows: &[NeedRow],
    multipliers: &[(usize, f64)],
) -> (i128, i128) {
    let mut left: Vec<i128> = cost.iter().map(|&cost| i128::from(cost) * SCALE).collect();
    let mut bound = 0;
    for &(row, multiplier) in multipliers {
        let row = &rows[row];
        let multiplier = (multiplier / row.largest * SCALE as f64) as i128;
        bound += multiplier * row.least;
        for (left, factor) in left.iter_mut().zip(&row.factors) {
            *left -= multiplier * factor;
        }
    }
    for ((left, &lower), &upper) in left.into_iter().zip(&range.lower).zip(&range.upper) {
        bound += left * i128::from(if left < 0 { upper } else { lower });
    }
    (bound, SCALE)
}

#[cfg(test)]
mod tests {
    use super::super::super::samples::two_papers;
    use super::super::super::words::Chance;
    use super::*;

    impl Need {
        /// A need of such a row, of no pieces.
        pub fn plain(factors: Vec<i128>, least: i128) -> Need {
            Need { factors, least, pieces: Vec::new() }
        }
    }

    /// Whether whole packs meet a row.
    fn meets(row: &NeedRow, packs: &[u64]) -> bool {
        let met = row.factors.iter().zip(packs);
        met.map(|(&factor, &packs)| factor * i128::from(packs)).sum::<i128>() >= row.least
    }

    #[test]
    fn pieces_need_the_sheets_that_yield_them() {
        // Two pieces a sheet, one of them at hand; the first paper holds what is worth 5, the second what is
        // worth 3, and either what is worth 4.
        let mut task = two_papers([7, 2, 4]);
        task.supplies[0].on_hand = 1;
        task.supplies[1].pack = 10;
        let need = Need::new(&task, &[0, 1], &[5, 3, 4], &[10, 8]).unwrap();
        assert_eq!((&need.factors[..], need.least), (&[10, 80][..], 7 * 5 + 2 * 3 + 4 * 4 - 10));
        assert_eq!(need.least(&[1, 0, 2]), need.least + 5 + 2 * 4);
        assert!(need.is_met(&[0, 1], &[0; 3]) && !need.is_met(&[4, 0], &[0; 3]));
        task.supplies[1].price = None;
        let need = Need::new(&task, &[0, 1], &[5, 3, 4], &[10, 8]).unwrap();
        assert_eq!(need.factors, [10, 0]);
        assert!(Need::new(&task, &[1], &[5, 3, 4], &[10, 8]).is_none());
    }

    #[test]
    fn whole_packs_meet_a_need_if_they_meet_its_rows() {
        let mut chance = Chance::new(1);
        let mut sharper = 0;
        for _ in 0..300 {
            let factors: Vec<i128> = (0..3).map(|_| chance.between(0, 12).into()).collect();
            let need = Need::plain(factors, chance.between(1, 60).into());
            let rows = need.rows(&[]);
            for a in 0..8 {
                let others = (0..8).flat_map(|b| (0..8).map(move |c| [a, b, c]));
                for packs in others.filter(|packs| need.is_met(packs, &[])) {
                    assert!(rows.iter().all(|row| meets(row, &packs)), "{packs:?}");
                }
            }
            sharper += rows.len() - 1;
        }
        assert!(sharper > 300, "{sharper}");
    }

    #[test]
    fn rounding_sees_that_packs_are_whole() {
        // 30 of something that packs hold 25 of: two packs, not 1.2.
        let rows = Need::plain(vec![25], 30).rows(&[]);
        assert_eq!((rows[1].parts[0], rows[1].limit), (1.0, 2.0));
    }

    #[test]
    fn a_bound_holds_whatever_the_multipliers_are() {
        let rows = Need::plain(vec![2, 3], 12).rows(&[]);
        let exact = |multiplier| {
            let range = Purchasable { lower: vec![0; 2], upper: vec![9; 2] };
            let (above, below) = bound(&[10, 14], &range, &rows[..1], &[(0, multiplier)]);
            above as f64 / below as f64
        };
        // Four of the second pack cost 56.
        assert!((exact(14.0) - 56.0).abs() < 1e-6, "{}", exact(14.0));
        assert!(exact(10.0) < 56.0 && exact(20.0) < 56.0);
    }
}
