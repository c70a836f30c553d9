//! Packs first, patterns then.
//!
//! The relaxed plan buys parts of packs and cuts parts of sheets, and leaves no room for rounding either.
//! Here whole packs are chosen first, for less than the best plan spends, such that the relaxed plan could
//! make as much more as possible of every piece: the mixed program
//!
//! ```text
//! maximise t   subject to   Σ a_ip x_p >= n_i + w_i t,   Σ x_p <= h_s + k_s y_s,   Σ c_s y_s <= budget
//! ```
//!
//! over the patterns found, `y` whole and `x` not. The whole part of `x` is kept, and the room that is left
//! is what filling up the rest needs. Which packs come out hangs on the weights `w`, which are drawn anew
//! every time.

use super::candidate::Candidate;
use super::fill::{Chance, fill};
use super::level::{Branch, Level};
use super::master::master;
use super::pool::Pool;
use super::rounding::base;
use super::task::Task;

/// Nodes of the mixed program.
const NODES: u64 = 200;
/// How far the weights of pieces lie apart.
const MOST_WEIGHT: i64 = 4;

/// A plan whose packs were chosen within a budget; filling it up may have bought more. `None` where no
/// packs were found, or where the stock does not suffice.
pub(super) fn purchase(
    task: &Task,
    budget: i64,
    (pool, values): (&Pool, &[i64]),
    chance: &mut Chance,
) -> Option<Candidate> {
    // Of level 2, the budget alone is kept.
    let mut program = master(task, (Level::Stock { budget }, &Branch::root(task)), pool);
    let (columns, room) = (pool.columns().len(), program.cost.len());
    program.cost.fill(0.0);
    program.cost.push(-1.0);
    program.lower.push(0.0);
    program.upper.push(f64::INFINITY);
    for (terms, _) in &mut program.rows[..task.items.len()] {
        terms.push((room, -(chance.between(1, MOST_WEIGHT) as f64)));
    }
    task.meter.count_program(program.rows.len(), program.cost.len());
    let (amounts, nodes) = program.solve_mixed(columns..room, NODES);
    task.meter.count_nodes(nodes, program.rows.len(), program.cost.len());
    let amounts = amounts?;
    let (sheets, packs) = amounts[..room].split_at(columns);
    fill(&stocked(task, packs), base(pool, sheets, 0), values)
}

/// The task once these packs are at hand; more can be bought.
fn stocked(task: &Task, packs: &[f64]) -> Task {
    let mut stocked = task.clone();
    for (supply, packs) in stocked.supplies.iter_mut().zip(packs) {
        let bought = (packs.round() as u64).saturating_mul(supply.pack);
        supply.on_hand = supply.on_hand.saturating_add(bought);
    }
    stocked
}

#[cfg(test)]
mod tests {
    use super::super::fill::area_values;
    use super::super::samples::two_papers;
    use super::*;

    /// A purchase within a budget, over the patterns of a plan made sheet by sheet.
    fn bought(budget: i64) -> (Task, Option<Candidate>) {
        let task = two_papers([3, 3, 20]);
        let values = area_values(&task);
        let mut pool = Pool::default();
        fill(&task, Candidate::default(), &values).unwrap().add_to(&mut pool);
        let plan = purchase(&task, budget, (&pool, &values), &mut Chance::new(1));
        (task, plan)
    }

    #[test]
    fn all_is_cut_from_what_a_budget_buys() {
        // 2 sheets for 100 and 11 for 70 are the cheapest; the budget leaves room for two more.
        let (task, plan) = bought(1140);
        let plan = plan.unwrap();
        assert!(plan.is_complete(&task));
        let spend = plan.cost(&task).unwrap().spend;
        assert!((970..=1140).contains(&spend), "{spend}");
    }

    #[test]
    fn too_little_money_buys_no_plan() {
        assert!(bought(900).1.is_none());
    }
}
