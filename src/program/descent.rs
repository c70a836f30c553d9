//! Plans sheet by sheet, each time by a linear program over patterns that have no more of anything than
//! is still wanted.
//!
//! The free patterns of the relaxation are too coarse for the last sheets of an order: they would cut
//! what nobody wants. Here columns are counted without it, new ones are made within what is wanted
//! (residual problems with bounded patterns: Wäscher & Gau 1996, OR Spektrum 18:131-144), and one sheet,
//! drawn by its part in the solution, is taken at a time.

use super::candidate::Candidate;
use super::certificate::Duals;
use super::level::{Branch, Level};
use super::master::{Master, master};
use super::pool::{Column, Pool};
use super::rounding::{base, piece_values, residual};
use super::task::Task;
use super::words::{Chance, Stop};
use std::sync::Arc;

/// Rounds of making patterns for one sheet, at most.
const MOST_ROUNDS: usize = 30;
/// The most that a piece may be worth, as a multiple of the largest cost.
const MOST_WORTH: f64 = 16.0;
/// How much a pattern must be worth beyond its sheet, as a part of the largest cost.
const TOLERANCE: f64 = 1e-6;

/// How a plan is made sheet by sheet.
pub(super) struct Descent<'a> {
    /// Sheets of each pattern that the beginning lacks.
    pub slack: u64,
    pub chance: &'a mut Chance,
    pub stop: Stop<'a>,
}

/// A plan, begun with the whole part of the relaxed solution less some sheets of each pattern; only a part of one
/// where the stock does not suffice this way or time is up.
pub(super) fn descend(task: &Task, level: Level, pool: &Pool, mut way: Descent) -> Candidate {
    let root = Branch::root(task);
    task.meter.count_program(task.items.len(), pool.columns().len());
    let parts = master(task, level.on(&root), pool).solve();
    let mut done = parts.map_or_else(Candidate::default, |parts| base(pool, &parts, way.slack));
    let mut columns = pool.columns().to_vec();
    while !done.is_complete(task) {
        match next(task, level, &done, columns, &mut way) {
            Some((sheets, sources)) => {
                sheets.runs.iter().for_each(|(column, times)| done.add(column, *times));
                columns = sources;
            }
            None => break,
        }
    }
    done.without_idle_sheets(task)
}

/// The next sheets after those that are done, and the columns that are still of use; `None` where there are
/// none.
fn next(
    task: &Task,
    level: Level,
    done: &Candidate,
    columns: Vec<Column>,
    way: &mut Descent,
) -> Option<(Candidate, Vec<Column>)> {
    let rest = task.after(done)?;
    let level = residual(level, task, done)?;
    let mut wanted = Useful::new(&rest, columns);
    wanted.complete(level, way.stop)?;
    let parts = master(&rest, level.on(&Branch::root(&rest)), &wanted.pool).solve()?;
    task.meter.count_program(rest.items.len(), wanted.pool.columns().len());
    let mut sheets = Candidate::default();
    let whole = parts.iter().take(wanted.sources.len()).map(|part| (part + 1e-6) as u64);
    for (column, times) in wanted.sources.iter().zip(whole) {
        sheets.add(column, times);
    }
    if sheets.runs.is_empty() {
        let at = draw(&parts[..wanted.sources.len()], way.chance)?;
        sheets.add(&wanted.sources[at], 1);
    }
    Some((sheets, wanted.sources))
}

/// One of the columns, by the square of its part.
fn draw(parts: &[f64], chance: &mut Chance) -> Option<usize> {
    let weight = |part: &f64| (part.max(0.0) * part.max(0.0) * 1e6) as i64;
    let all: i64 = parts.iter().map(weight).sum();
    let mut left = chance.between(1, all.max(1));
    parts.iter().position(|part| {
        left -= weight(part);
        left <= 0
    })
}

/// Patterns, counted without what is not wanted.
struct Useful<'a> {
    task: &'a Task,
    /// The patterns so counted.
    pool: Pool,
    /// The same patterns with all their pieces.
    sources: Vec<Column>,
}

impl<'a> Useful<'a> {
    fn new(task: &'a Task, columns: Vec<Column>) -> Useful<'a> {
        let mut wanted = Useful { task, pool: Pool::default(), sources: Vec::new() };
        columns.into_iter().for_each(|column| {
            wanted.add(column);
        });
        wanted
    }

    /// Adds a pattern; false where it yields nothing new.
    fn add(&mut self, column: Column) -> bool {
        let counts = column.counts.iter().zip(&self.task.items);
        let counts: Arc<[u64]> = counts.map(|(&count, item)| count.min(item.demand)).collect();
        let useful = counts.iter().any(|count| *count > 0);
        let new = useful && self.pool.add(Column { counts, ..column.clone() });
        if new {
            self.sources.push(column);
        }
        new
    }

    /// Adds patterns that are worth more than their sheet, as long as some are found; `None` where the
    /// engine fails or time is up.
    fn complete(&mut self, level: Level, stop: Stop) -> Option<()> {
        let task = self.task;
        let root = Branch::root(task);
        let mut master = Master::new(task, level.on(&root), &self.pool, MOST_WORTH);
        for round in 0..MOST_ROUNDS {
            if stop() {
                return None;
            }
            let duals = master.solve()?;
            let variables = task.items.len() + task.supplies.len();
            task.meter.count_round(round, self.pool.columns().len(), variables);
            let mut added = false;
            let sheets = task.supplies.iter().enumerate();
            // Sheets that are used up need no look.
            let had = sheets.filter(|(_, supply)| supply.on_hand > 0 || supply.price.is_some());
            for (supply, _) in had {
                let Some(column) = self.price(&master, supply, &duals) else { continue };
                if self.add(column.clone()) {
                    master.add(self.pool.columns().len() - 1, &column);
                    added = true;
                }
            }
            if !added {
                break;
            }
        }
        Some(())
    }

    /// A pattern of a supply within what is wanted that is worth more than its sheet.
    fn price(&self, master: &Master, supply: usize, duals: &Duals) -> Option<Column> {
        let task = self.task;
        let space = &task.pricing_spaces()[task.supplies[supply].space];
        let limits: Vec<u64> = task.items.iter().map(|item| item.demand).collect();
        let values = piece_values(&duals.pieces);
        let free = space.best(&values);
        let best = space.within(&free, &values, &limits);
        task.meter.count_table(space);
        if best.value() < free.value() {
            task.meter.count_bounded_table(space);
        }
        let counts: Arc<[u64]> = best.counts().into();
        let slack = TOLERANCE * master.level.largest_cost(task) as f64;
        (duals.worth(&counts) > master.sheet_limit(duals, supply) + slack).then(|| Column {
            supply,
            counts,
            layout: best.layout(),
        })
    }
}
