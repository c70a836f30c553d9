//! The master program over the patterns found, and its dual.
//!
//! Patterns that lacked something in the last program wait outside the next one until its solution breaks their row,
//! which halves its time.

use super::certificate::Duals;
use super::engine::{Maximum, Minimum, Terms};
use super::level::{Branch, Level, Range, Subproblem};
use super::pool::{Column, Pool};
use super::task::Task;
use std::collections::BTreeMap;

/// The dual of the master program.
pub(super) struct Master<'a> {
    pub task: &'a Task,
    pub level: Level,
    branch: &'a Branch,
    program: Maximum,
    at: Places,
    /// Dual values of a program over much the same patterns.
    known: Option<Duals>,
}

/// Where the variables stand; `usize::MAX` for one that is not there.
struct Places {
    sheets: usize,
    least_used: Vec<usize>,
    most_used: Vec<usize>,
    least_packs: Vec<usize>,
    most_packs: Vec<usize>,
    budget: usize,
    /// By pattern: its least, its most.
    columns: BTreeMap<usize, [usize; 2]>,
}

/// How much a pattern lacks that is not likely to matter, in parts of the largest cost.
const CLEARLY: f64 = 0.001;

const ABSENT: usize = usize::MAX;

impl<'a> Master<'a> {
    /// A program without patterns, in which no piece is worth more than `most_worth` times the largest
    /// cost. The patterns that lacked nothing at the dual values of the pool are likely to matter.
    pub fn new(
        task: &'a Task,
        Subproblem { level, branch }: Subproblem<'a>,
        pool: &Pool,
        most_worth: f64,
    ) -> Master<'a> {
        let mut objective: Vec<f64> = task.items.iter().map(|item| item.demand as f64).collect();
        let cap = most_worth * level.largest_cost(task) as f64;
        let mut upper = vec![cap; objective.len()];
        let sheets = objective.len();
        for supply in &task.supplies {
            objective.push(-(supply.on_hand as f64));
            upper.push(f64::INFINITY);
        }
        let mut add = |factor: f64| {
            objective.push(factor);
            upper.push(f64::INFINITY);
            objective.len() - 1
        };
        let mut limit = |range: &Range, least: bool| match (least, range.least, range.most) {
            (true, 0, _) | (false, _, None) => ABSENT,
            (true, least, _) => add(least as f64),
            (false, _, Some(most)) => add(-(most as f64)),
        };
        let mut limits = |ranges: &[Range], least: bool| -> Vec<usize> {
            ranges.iter().map(|range| limit(range, least)).collect()
        };
        let (least_used, most_used) = (limits(&branch.used, true), limits(&branch.used, false));
        let (least_packs, most_packs) = (limits(&branch.packs, true), limits(&branch.packs, false));
        let columns = branch.columns.iter();
        let columns = columns
            .map(|(&column, range)| (column, [limit(range, true), limit(range, false)]))
            .collect();
        let budget = level.budget().map_or(ABSENT, |budget| add(-(budget as f64)));
        let at = Places { sheets, least_used, most_used, least_packs, most_packs, budget, columns };
        let program = Maximum::new(task.engine, objective, upper);
        let mut master = Master { task, level, branch, program, at, known: pool.duals.clone() };
        master.add_purchases();
        for (place, column) in pool.columns().iter().enumerate() {
            master.add(place, column);
        }
        // What is found from now on is worth more than its sheet.
        master.known = None;
        master
    }

    /// `k_s σ_s + μ_s − ν_s − ρ c_s <= cost of a pack`.
    fn add_purchases(&mut self) {
        for (index, supply) in self.task.supplies.iter().enumerate() {
            let Some(price) = supply.price else { continue };
            let mut terms = vec![(self.at.sheets + index, supply.pack as f64)];
            push(&mut terms, self.at.least_packs[index], 1.0);
            push(&mut terms, self.at.most_packs[index], -1.0);
            push(&mut terms, self.at.budget, -(price as f64));
            self.program.add_row(terms, self.level.pack_cost(price) as f64);
        }
    }

    /// `Σ a_ip π_i − σ_s − τ_s + λ_s <= cost of a sheet`, for the pattern at a place of the pool.
    pub fn add(&mut self, place: usize, column: &Column) {
        let index = column.supply;
        let yields = column.counts.iter().enumerate().filter(|(_, count)| **count > 0);
        let mut terms: Terms = yields.map(|(item, &count)| (item, count as f64)).collect();
        terms.push((self.at.sheets + index, -1.0));
        push(&mut terms, self.at.most_used[index], -1.0);
        push(&mut terms, self.at.least_used[index], 1.0);
        if let Some(&[least, most]) = self.at.columns.get(&place) {
            push(&mut terms, least, 1.0);
            push(&mut terms, most, -1.0);
        }
        let limit = self.level.sheet_cost(&self.task.supplies[index]) as f64;
        match self.lacks(index, column) {
            true => self.program.add_waiting_row(terms, limit),
            false => self.program.add_row(terms, limit),
        }
    }

    /// Whether a pattern was worth clearly less than its sheet at the known dual values.
    fn lacks(&self, supply: usize, column: &Column) -> bool {
        let Some(known) = &self.known else { return false };
        let lacking = self.sheet_limit(known, supply) - known.worth(&column.counts);
        lacking > CLEARLY * self.level.largest_cost(self.task) as f64
    }

    /// The best dual values; `None` where the engine finds none.
    pub fn solve(&mut self) -> Option<Duals> {
        let values = self.program.solve()?;
        let supplies = self.task.supplies.len();
        let at = |place: usize| if place == ABSENT { 0.0 } else { values[place] };
        let all = |places: &[usize]| places.iter().map(|&place| at(place)).collect();
        Some(Duals {
            pieces: values[..self.at.sheets].to_vec(),
            sheets: values[self.at.sheets..self.at.sheets + supplies].to_vec(),
            least_used: all(&self.at.least_used),
            most_used: all(&self.at.most_used),
            least_packs: all(&self.at.least_packs),
            budget: at(self.at.budget),
        })
    }

    /// What a pattern of a supply may be worth.
    pub fn sheet_limit(&self, duals: &Duals, index: usize) -> f64 {
        debug_assert_eq!(self.branch.used.len(), self.task.supplies.len());
        self.level.sheet_cost(&self.task.supplies[index]) as f64
            + duals.sheets[index]
            + duals.most_used[index]
            - duals.least_used[index]
    }
}

fn push(terms: &mut Terms, place: usize, factor: f64) {
    if place != ABSENT {
        terms.push((place, factor));
    }
}

/// The master program itself over the patterns found: sheets cut by each column, then packs of each
/// supply. Whole numbers, or not.
pub(super) fn master(task: &Task, subproblem: Subproblem, pool: &Pool) -> Minimum {
    let (columns, Subproblem { level, branch }) = (pool.columns(), subproblem);
    let mut program = counts(task, subproblem, columns);
    for (item, wanted) in task.items.iter().enumerate() {
        let yields = columns.iter().enumerate().filter(|(_, column)| column.counts[item] > 0);
        let terms = yields.map(|(at, column)| (at, column.counts[item] as f64)).collect();
        program.rows.push((terms, wanted.demand as f64));
    }
    for supply in 0..task.supplies.len() {
        program.rows.extend(sheets(task, branch, columns, supply));
    }
    if let Some(budget) = level.budget() {
        let prices = task.supplies.iter().zip(columns.len()..);
        let terms = prices.filter_map(|(supply, at)| Some((at, -(supply.price? as f64)))).collect();
        program.rows.push((terms, -(budget as f64)));
    }
    program
}

/// What is counted, what one of each costs and in which range it is, without any row.
fn counts(task: &Task, subproblem: Subproblem, columns: &[Column]) -> Minimum {
    let Subproblem { level, branch } = subproblem;
    let mut program = Minimum {
        engine: task.engine,
        cost: Vec::new(),
        lower: Vec::new(),
        upper: Vec::new(),
        rows: Vec::new(),
    };
    let mut add = |cost: i64, range: Range| {
        program.cost.push(cost as f64);
        program.lower.push(range.least as f64);
        program.upper.push(range.most.map_or(f64::INFINITY, |most| most as f64));
    };
    for (place, column) in columns.iter().enumerate() {
        let range = branch.columns.get(&place).copied().unwrap_or(Range::ANY);
        add(level.sheet_cost(&task.supplies[column.supply]), range);
    }
    for (supply, &range) in task.supplies.iter().zip(&branch.packs) {
        match supply.price {
            Some(price) => add(level.pack_cost(price), range),
            None => add(0, Range { most: Some(0), ..range }),
        }
    }
    program
}

/// No more sheets of a supply are cut than are at hand or bought, and as many as the branch says.
fn sheets(task: &Task, branch: &Branch, columns: &[Column], index: usize) -> Vec<(Terms, f64)> {
    let supply = &task.supplies[index];
    let own = columns.iter().enumerate().filter(|(_, column)| column.supply == index);
    let own: Terms = own.map(|(at, _)| (at, -1.0)).collect();
    let mut with_packs = own.clone();
    with_packs.push((columns.len() + index, supply.pack as f64));
    let mut rows = vec![(with_packs, -(supply.on_hand as f64))];
    let range = branch.used[index];
    if let Some(most) = range.most {
        rows.push((own.clone(), -(most as f64)));
    }
    if range.least > 0 {
        rows.push((own.iter().map(|&(at, _)| (at, 1.0)).collect(), range.least as f64));
    }
    rows
}
