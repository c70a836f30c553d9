//! Who makes which pieces, once the packs are chosen.
//!
//! The relaxed plan within these packs that makes most more of every piece leaves room for whole sheets in all
//! papers at once: `maximise t` subject to `Σ a_ip x_p >= n_i + w_i t`. Which of many such plans comes out
//! hangs on the weights `w`.

use super::super::engine::{Minimum, Terms};
use super::super::level::{Branch, Level};
use super::super::master::master;
use super::super::part::OnePaper;
use super::super::pool::Pool;
use super::super::task::Task;

/// How many pieces of an item a paper may make at most.
pub(super) struct Limit {
    /// Index of the paper in the task.
    pub paper: usize,
    pub item: usize,
    pub most: u64,
}

/// Pieces by part and item, as the relaxed plan with most room shares them out; `None` where no plan keeps the
/// limits. `weights` are those of the items.
pub(super) fn shares(
    task: &Task,
    parts: &[OnePaper],
    pool: &Pool,
    limits: &[Limit],
    weights: &[i64],
) -> Option<Vec<Vec<u64>>> {
    let level = Level::Stock { budget: 0 };
    let mut program = master(task, level.on(&Branch::root(task)), pool);
    make_room(&mut program, weights);
    let supplies = &task.supplies;
    for limit in limits {
        let columns = pool.columns().iter().enumerate();
        let own = columns.filter(|(_, column)| supplies[column.supply].paper == limit.paper);
        let made: Terms =
            own.map(|(at, column)| (at, -(column.counts[limit.item] as f64))).collect();
        program.rows.push((made, -(limit.most as f64)));
    }
    task.meter.count_program(program.rows.len(), program.cost.len());
    let amounts = program.solve()?;
    let mut made = vec![vec![0.0; task.items.len()]; task.papers.len()];
    for (column, amount) in pool.columns().iter().zip(amounts) {
        let made = made[supplies[column.supply].paper].iter_mut();
        made.zip(column.counts.iter()).for_each(|(made, &count)| *made += count as f64 * amount);
    }
    Some(whole(task, parts, &made))
}

/// Makes a program for plans one for the plan that makes most more of the items, whose rows come first.
fn make_room(program: &mut Minimum, weights: &[i64]) {
    let room = program.cost.len();
    program.cost.fill(0.0);
    program.cost.push(-1.0);
    program.lower.push(0.0);
    program.upper.push(f64::INFINITY);
    for ((terms, _), &weight) in program.rows.iter_mut().zip(weights) {
        terms.push((room, -(weight as f64)));
    }
}

/// What papers make in parts, as whole pieces that add up to what is wanted.
fn whole(task: &Task, parts: &[OnePaper], made: &[Vec<f64>]) -> Vec<Vec<u64>> {
    let mut shares: Vec<Vec<u64>> = parts.iter().map(|_| vec![0; task.items.len()]).collect();
    for (item, wanted) in task.items.iter().enumerate() {
        let holding: Vec<usize> = (0..parts.len()).filter(|&at| parts[at].holds[item]).collect();
        let own: Vec<f64> = holding.iter().map(|&at| made[parts[at].paper][item]).collect();
        for (at, share) in holding.into_iter().zip(divided(wanted.demand, &own)) {
            shares[at][item] = share;
        }
    }
    shares
}

/// A number divided in proportion to these parts; what is left goes where most was cut off.
fn divided(number: u64, parts: &[f64]) -> Vec<u64> {
    let all: f64 = parts.iter().sum();
    let exact = |part: &f64| if all > 0.0 { part / all * number as f64 } else { 0.0 };
    let mut left = number;
    let mut shares: Vec<u64> = Vec::with_capacity(parts.len());
    for part in parts {
        let share = ((exact(part) + 1e-6) as u64).min(left);
        left -= share;
        shares.push(share);
    }
    let lost = |at: usize| exact(&parts[at]) - shares[at] as f64;
    if let Some(most) = (0..parts.len()).max_by(|&a, &b| lost(a).total_cmp(&lost(b))) {
        shares[most] += left;
    }
    shares
}

#[cfg(test)]
mod tests {
    use super::super::super::part::parts;
    use super::super::super::samples::{both_ways, two_papers};
    use super::super::bought;
    use super::*;

    #[test]
    fn a_number_is_divided_without_loss() {
        assert_eq!(divided(10, &[1.0, 1.0, 2.0]), [2, 3, 5]);
        assert_eq!(divided(7, &[0.0, 3.5]), [0, 7]);
        assert_eq!(divided(3, &[0.0, 0.0]), [0, 3]);
        assert!(divided(5, &[]).is_empty());
    }

    /// Three of the first paper, three of the second and twenty of either, from these packs.
    fn shared(packs: [u64; 2], limits: &[Limit]) -> Option<Vec<Vec<u64>>> {
        let task = two_papers([3, 3, 20]);
        let pool = both_ways(&task);
        let parts = parts(&task, &pool);
        shares(&bought(&task, &packs), &parts, &pool, limits, &[1, 1, 1])
    }

    #[test]
    fn what_is_shared_goes_where_there_is_room() {
        // Two sheets of the first paper: one place beside its own three pieces.
        let shares = shared([2, 11], &[]).unwrap();
        assert_eq!((shares[0][0], shares[1][1]), (3, 3));
        assert_eq!(shares[0][2] + shares[1][2], 20);
        assert!(shares[0][2] <= 1, "{shares:?}");
    }

    #[test]
    fn limits_are_kept_or_there_is_no_way() {
        let limit = |most| Limit { paper: 1, item: 2, most };
        assert!(shared([8, 8], &[limit(9)]).unwrap()[1][2] <= 9);
        assert!(shared([2, 11], &[limit(9)]).is_none());
        assert!(shared([2, 9], &[]).is_none());
    }
}
