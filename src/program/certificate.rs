//! Bounds in whole numbers.
//!
//! The values of the linear program are nearly right, but not exact. Any values give a bound: where the best pattern of
//! a sheet is worth more than it may be, the values are scaled down until it is not (Farley 1990). So they are rounded
//! down to whole numbers over a scale; what the patterns are worth at these is then measured exactly by `patterns/`;
//! and scaling or correcting by what that finds makes a certificate that holds exactly, whatever the rounding did.
//!
//! Where lengths had to be rounded, no certificate claims anything but by area, since a judge that rounds otherwise
//! could not follow it. A search still may, with pieces a little too small, so that no less fits.

use super::level::{Level, Range, Subproblem};
use super::task::{Supply, Task};

/// The dual values of a relaxation: per piece (π), per sheet (σ) and those of a branch's limits.
#[derive(Clone, Debug, Default)]
pub(super) struct Duals {
    /// π, by item.
    pub pieces: Vec<f64>,
    /// σ, by supply: one more sheet at hand.
    pub sheets: Vec<f64>,
    /// By supply: the least of sheets to cut.
    pub least_used: Vec<f64>,
    /// By supply: the most of sheets to cut.
    pub most_used: Vec<f64>,
    /// By supply: the least of packs to buy.
    pub least_packs: Vec<f64>,
    /// ρ, the budget.
    pub budget: f64,
}

/// Duals that are rounded to whole numbers over a scale.
#[derive(Clone, Copy)]
pub(super) struct Scaled<'a> {
    pub scale: i64,
    pub duals: &'a Duals,
}

impl Duals {
    /// What a pattern with these pieces is worth.
    pub fn worth(&self, counts: &[u64]) -> f64 {
        counts.iter().zip(&self.pieces).map(|(&count, value)| count as f64 * value).sum()
    }
}

/// Integer values over `scale` that prove a bound at the root.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Certificate {
    /// What all values are divided by.
    pub scale: i64,
    /// π, by item.
    pub pieces: Vec<i64>,
    /// σ, by supply.
    pub sheets: Vec<i64>,
    /// ρ; 0 at level 1.
    pub budget: i64,
    /// `scale` times the bound.
    pub bound: i128,
}

impl Certificate {
    /// π.
    pub(super) fn piece_values(&self) -> Vec<f64> {
        self.pieces.iter().map(|&value| value as f64 / self.scale as f64).collect()
    }

    /// Its bound as a ratio: numerator, denominator.
    pub(super) fn ratio(&self) -> (i128, i128) {
        (self.bound, self.scale.into())
    }

    /// The one of both that proves more.
    pub(super) fn or_better(self, other: Option<Certificate>) -> Certificate {
        let bound = |one: &Certificate, scale: i64| one.bound * i128::from(scale);
        other.filter(|other| bound(other, self.scale) > bound(&self, other.scale)).unwrap_or(self)
    }
}

/// π over `scale`, rounded down.
pub(super) fn scaled(values: &[f64], scale: i64) -> Vec<i64> {
    values.iter().map(|value| (value.max(0.0) * scale as f64).floor() as i64).collect()
}

/// The best completion of the piece values to a certificate at the root; `worth` are the values of the
/// best patterns, by supply, under `pieces`. At level 1 the values must not outgrow the pack prices:
/// see [`shrinking`].
pub(super) fn complete(
    task: &Task,
    level: Level,
    scale: i64,
    pieces: Vec<i64>,
    worth: &[i64],
) -> Certificate {
    let supplies = task.supplies.iter().zip(worth);
    let sheets: Vec<i64> =
        supplies.map(|(supply, worth)| (worth - level.sheet_cost(supply) * scale).max(0)).collect();
    let budget = match level {
        Level::Spend => 0,
        Level::Stock { .. } => least_budget_value(task, &sheets),
    };
    let wanted = worth_of_wanted(task, &pieces);
    let at_hand = task.supplies.iter().zip(&sheets);
    let at_hand: i128 =
        at_hand.map(|(supply, &value)| i128::from(supply.on_hand) * i128::from(value)).sum();
    let spent = i128::from(budget) * i128::from(level.budget().unwrap_or(0));
    Certificate { scale, pieces, sheets, budget, bound: wanted - at_hand - spent }
}

/// `Σ n_i π_i`.
pub(super) fn worth_of_wanted(task: &Task, pieces: &[i64]) -> i128 {
    let wanted = task.items.iter().zip(pieces);
    wanted.map(|(item, &value)| i128::from(item.demand) * i128::from(value)).sum()
}

/// The least ρ with `k_s σ_s <= ρ c_s` for every sheet that can be bought.
fn least_budget_value(task: &Task, sheets: &[i64]) -> i64 {
    let supplies = task.supplies.iter().zip(sheets);
    let least = supplies.filter_map(|(supply, &value)| {
        let price = i128::from(supply.price?).max(1);
        Some((i128::from(supply.pack) * i128::from(value) + price - 1) / price)
    });
    least.max().unwrap_or(0).min(i64::MAX.into()) as i64
}

/// At level 1 a pack may not be worth more than its price: the ratio by which the piece values have to
/// shrink, at most 1. At level 2 the sheet values take up the excess, but not those of a sheet that is
/// had for nothing. `None` where the branch's own limits leave no room.
pub(super) fn shrinking(
    task: &Task,
    Subproblem { level, branch }: Subproblem,
    Scaled { scale, duals }: Scaled,
    worth: &[i64],
) -> Option<(i128, i128)> {
    let mut ratio = (1_i128, 1_i128);
    for (index, supply) in task.supplies.iter().enumerate() {
        let limited = branch.used[index].most.is_some() || branch.packs[index].most.is_some();
        let Some(price) = supply.price.filter(|_| !limited) else { continue };
        if level != Level::Spend && price > 0 {
            continue;
        }
        let pack = i128::from(supply.pack);
        let cost = level.pack_cost(price).max(pack_value(level, supply));
        let least_packs = whole(least(&duals.least_packs, branch.packs[index], index), scale);
        let least_used = whole(least(&duals.least_used, branch.used[index], index), scale);
        // In whole numbers a sheet, so that what is rounded up after shrinking is still allowed.
        let of_pack = i128::from(cost) * i128::from(scale) - i128::from(least_packs);
        let allowed = of_pack.div_euclid(pack) - i128::from(least_used);
        let claimed = i128::from(worth[index]);
        if allowed < 0 {
            return None;
        }
        if allowed * ratio.1 < ratio.0 * claimed {
            ratio = (allowed, claimed);
        }
    }
    Some(ratio)
}

/// What the sheets of a pack cost at this level.
fn pack_value(level: Level, supply: &Supply) -> i64 {
    level.sheet_cost(supply).saturating_mul(supply.pack as i64)
}

/// Piece values shrunk by a ratio, rounded down.
pub(super) fn shrink(pieces: &[i64], above: i128, below: i128) -> Vec<i64> {
    pieces.iter().map(|&value| (i128::from(value) * above / below) as i64).collect()
}

/// The dual of a lower limit; nothing where there is no such limit.
pub(super) fn least(duals: &[f64], range: Range, index: usize) -> f64 {
    if range.least > 0 { duals[index] } else { 0.0 }
}

/// A dual value over `scale`, rounded down.
pub(super) fn whole(value: f64, scale: i64) -> i64 {
    (value.max(0.0) * scale as f64) as i64
}

/// `scale` times a valid bound of `branch`: the duals' limits are rounded, and whatever the exact
/// worth of the patterns exceeds is charged to the sheets.
pub(super) fn branch_bound(
    task: &Task,
    Subproblem { level, branch }: Subproblem,
    Scaled { scale, duals }: Scaled,
    pieces: &[i64],
    worth: &[i64],
) -> i128 {
    let mut bound = worth_of_wanted(task, pieces);
    let mut budget = whole(duals.budget, scale);
    let mut packs_charge: i128 = 0;
    for (index, supply) in task.supplies.iter().enumerate() {
        let (used, packs) = (branch.used[index], branch.packs[index]);
        let least_used = whole(least(&duals.least_used, used, index), scale);
        let excess = (worth[index] - level.sheet_cost(supply) * scale + least_used).max(0);
        let sheet = match used.most {
            Some(_) => excess.min(whole(duals.sheets[index], scale)),
            None => excess,
        };
        let most = excess - sheet;
        bound += i128::from(least_used) * i128::from(used.least);
        bound -= i128::from(sheet) * i128::from(supply.on_hand);
        bound -= i128::from(most) * i128::from(used.most.unwrap_or(0));
        let Some(price) = supply.price else { continue };
        let least_packs = whole(least(&duals.least_packs, packs, index), scale);
        bound += i128::from(least_packs) * i128::from(packs.least);
        let claimed = i128::from(supply.pack) * i128::from(sheet) + i128::from(least_packs);
        let allowed = i128::from(level.pack_cost(price)) * i128::from(scale)
            + i128::from(budget) * i128::from(price);
        if claimed > allowed {
            match (packs.most, level) {
                (Some(most), _) => packs_charge += (claimed - allowed) * i128::from(most),
                (None, Level::Stock { .. }) => {
                    let price = i128::from(price.max(1));
                    budget += ((claimed - allowed + price - 1) / price) as i64;
                }
                (None, Level::Spend) => return i128::MIN,
            }
        }
    }
    bound - packs_charge - i128::from(budget) * i128::from(level.budget().unwrap_or(0))
}
