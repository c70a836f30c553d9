//! Places that yield more than is wanted are left uncut where that keeps more for the drawer.

use super::improve::Table;
use super::tidy::without_one;
use crate::measure::Money;
use crate::patterns::{Layout, counts};

/// A pattern and how many sheets are cut by it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Sheaf {
    /// Index of the sheet in the stock.
    pub sheet: usize,
    /// The pattern.
    pub layout: Layout,
    /// Sheets.
    pub count: u64,
}

/// Leaves surplus places uncut, shape by shape; `wanted` by shape.
pub(super) fn leave_surplus(
    mut sheaves: Vec<Sheaf>,
    wanted: &[u64],
    table: &mut Table,
) -> Vec<Sheaf> {
    for (shape, &wanted) in wanted.iter().enumerate() {
        loop {
            let yielded: u64 = sheaves.iter().map(|sheaf| yields(sheaf, shape)).sum();
            let surplus = yielded.saturating_sub(wanted);
            let Some((at, better)) = best_gain(&sheaves, (shape, surplus), table) else {
                break;
            };
            let count = sheaves[at].count.min(surplus);
            sheaves[at].count -= count;
            sheaves.push(Sheaf { count, layout: better, sheet: sheaves[at].sheet });
            sheaves.retain(|sheaf| sheaf.count > 0);
        }
    }
    joined(sheaves)
}

fn yields(sheaf: &Sheaf, shape: usize) -> u64 {
    counts(&sheaf.layout, shape + 1)[shape] * sheaf.count
}

/// The sheaf and its new layout that gain most by leaving one place uncut.
fn best_gain(
    sheaves: &[Sheaf],
    (shape, surplus): (usize, u64),
    table: &mut Table,
) -> Option<(usize, Layout)> {
    if surplus == 0 {
        return None;
    }
    let mut best: Option<(Money, usize, Layout)> = None;
    for (at, sheaf) in sheaves.iter().enumerate() {
        let before = table.money(sheaf.sheet, &sheaf.layout);
        for fewer in without_one(&sheaf.layout, shape) {
            let fewer = table.laid(sheaf.sheet, fewer);
            let more = table.money(sheaf.sheet, &fewer) - before;
            let gain = more * sheaf.count.min(surplus);
            if gain > best.as_ref().map_or(Money::ZERO, |best| best.0) {
                best = Some((gain, at, fewer));
            }
        }
    }
    best.map(|(_, at, layout)| (at, layout))
}

/// Equal patterns of a sheet as one sheaf.
pub(super) fn joined(sheaves: Vec<Sheaf>) -> Vec<Sheaf> {
    let mut joined: Vec<Sheaf> = Vec::new();
    for sheaf in sheaves {
        let same = |other: &&mut Sheaf| other.sheet == sheaf.sheet && other.layout == sheaf.layout;
        match joined.iter_mut().find(same) {
            Some(other) => other.count += sheaf.count,
            None => joined.push(sheaf),
        }
    }
    joined
}
