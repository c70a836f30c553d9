//! From a relaxed solution to whole plans: dive, and the integer program over the patterns found.

use super::candidate::Candidate;
use super::fill::fill;
use super::level::{Branch, Level, Subproblem};
use super::master::master;
use super::pool::Pool;
use super::relaxation::relax;
use super::task::Task;
use super::words::{Settings, Stop};

/// Sheets by column, whole part taken, then the residual order relaxed again, until nothing is missing.
///
/// Where a relaxed solution has no whole part at all, its largest part is rounded up.
pub(super) fn dive(
    task: &Task,
    Subproblem { level, branch }: Subproblem,
    pool: &mut Pool,
    stop: Stop,
    urgent: Stop,
) -> Option<Candidate> {
    let mut done = Candidate::default();
    let mut values = vec![1; task.items.len()];
    for depth in 0.. {
        let rest = task.after(&done)?;
        if rest.items.iter().all(|item| item.demand == 0) {
            return Some(done.without_idle_sheets(task));
        }
        // Below the root the limits of the branch no longer fit what is left.
        let whole = Branch::root(&rest);
        let limits = if depth == 0 { branch } else { &whole };
        let level = residual(level, task, &done)?;
        let relaxed = relax(&rest, level.on(limits), pool, &|_| stop());
        values = piece_values(&relaxed.pieces);
        if stop() {
            break;
        }
        task.meter.count_program(rest.items.len(), pool.columns().len());
        let Some(parts) = master(&rest, level.on(limits), pool).solve() else { break };
        if !take(&mut done, pool, &parts, &rest) {
            break;
        }
    }
    fill(task, done, &values, urgent)
}

/// The level of what is left: the budget less what `done` spends.
pub(super) fn residual(level: Level, task: &Task, done: &Candidate) -> Option<Level> {
    Some(match level {
        Level::Spend => Level::Spend,
        Level::Stock { budget } => {
            Level::Stock { budget: (budget - done.cost(task)?.spend).max(0) }
        }
    })
}

/// Duals as whole piece values for the patterns, the largest being 2^24; at least 1, since a piece
/// without a dual is still wanted.
pub(super) fn piece_values(duals: &[f64]) -> Vec<i64> {
    let largest = duals.iter().copied().fold(0.0, f64::max).max(f64::MIN_POSITIVE);
    let whole = |dual: &f64| ((dual.max(0.0) / largest) * f64::from(1 << 24)) as i64;
    duals.iter().map(|dual| whole(dual).max(1)).collect()
}

/// The whole part of a relaxed solution less `slack` sheets a pattern: what is worth keeping of it.
pub(super) fn base(pool: &Pool, parts: &[f64], slack: u64) -> Candidate {
    let mut base = Candidate::default();
    for (column, part) in pool.columns().iter().zip(parts) {
        let whole = (part + 1e-6).floor().max(0.0) as u64;
        base.add(column, whole.saturating_sub(slack));
    }
    base
}

/// Adds the whole part of every column to `done`; false where there was nothing to take.
fn take(done: &mut Candidate, pool: &Pool, parts: &[f64], rest: &Task) -> bool {
    let columns = pool.columns();
    let mut taken = false;
    for (column, part) in columns.iter().zip(parts) {
        let whole = (part + 1e-6).floor().max(0.0) as u64;
        if whole > 0 {
            done.add(column, whole);
            taken = true;
        }
    }
    if taken {
        return true;
    }
    let useful = columns.iter().zip(parts).filter(|(_, part)| **part > 1e-6);
    let largest = useful.max_by(|(a, x), (b, y)| {
        let key = |column: &super::pool::Column| std::cmp::Reverse(overshoot(column, rest));
        x.total_cmp(y).then_with(|| key(a).cmp(&key(b)))
    });
    if let Some((column, _)) = largest {
        done.add(column, 1);
    }
    largest.is_some()
}

/// Pieces that one sheet more would cut beyond what is wanted.
fn overshoot(column: &super::pool::Column, rest: &Task) -> u64 {
    let yields = column.counts.iter().zip(&rest.items);
    yields.map(|(count, item)| count.saturating_sub(item.demand)).sum()
}

/// The integer program over the patterns found, within as many nodes as are set. An engine's answer is only an
/// offer: what it misses is filled up, and its cost is counted anew by the caller.
pub(super) fn over_pool(
    task: &Task,
    subproblem: Subproblem,
    pool: &Pool,
    values: &[i64],
    settings: &Settings,
) -> Option<Candidate> {
    let program = master(task, subproblem, pool);
    task.meter.count_program(program.rows.len(), program.cost.len());
    let (counts, nodes) = program.solve_whole(settings.pool_nodes);
    task.meter.count_nodes(nodes, program.rows.len(), program.cost.len());
    let mut candidate = Candidate::default();
    for (column, times) in pool.columns().iter().zip(counts?) {
        candidate.add(column, times);
    }
    candidate.cost(task)?;
    fill(task, candidate, values, settings.urgent)
}
