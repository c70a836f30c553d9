//! Places that yield more than is wanted are left uncut where that keeps more for the drawer.

use super::improve::{Kept, LayingTable};
use super::tidy::{without_last, without_one};
use crate::cuts::Layout;
use crate::measure::Ratio;

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

/// A sheaf with what one of its sheets yields, by shape, and keeps.
pub(super) struct Counted {
    pub sheaf: Sheaf,
    pub yields: Vec<u64>,
    pub kept: Kept,
}

impl Counted {
    fn of(sheaf: Sheaf, shapes: usize, table: &mut LayingTable) -> Counted {
        let kept = table.kept(sheaf.sheet, &sheaf.layout);
        Counted { yields: sheaf.layout.counts(shapes), kept, sheaf }
    }

    /// The sheaves with what they yield of so many shapes, equal ones as one.
    pub fn all(sheaves: Vec<Sheaf>, shapes: usize, table: &mut LayingTable) -> Vec<Counted> {
        joined(sheaves).into_iter().map(|sheaf| Counted::of(sheaf, shapes, table)).collect()
    }

    /// How many more of each shape they yield than are wanted.
    pub fn surplus(counted: &[Counted], wanted: &[u64]) -> Vec<u64> {
        (0..wanted.len()).map(|shape| Counted::surplus_of(counted, shape, wanted)).collect()
    }

    fn surplus_of(counted: &[Counted], shape: usize, wanted: &[u64]) -> u64 {
        let yielded = counted.iter().map(|it| it.yields[shape] * it.sheaf.count);
        yielded.sum::<u64>().saturating_sub(wanted[shape])
    }
}

/// Leaves surplus places uncut, shape by shape; `wanted` by shape.
pub(super) fn leave_surplus(
    sheaves: Vec<Sheaf>,
    wanted: &[u64],
    table: &mut LayingTable,
) -> Vec<Sheaf> {
    let shapes = wanted.len();
    let counted = sheaves.into_iter().map(|sheaf| Counted::of(sheaf, shapes, table));
    let mut counted: Vec<Counted> = counted.collect();
    for shape in 0..shapes {
        while let Some((at, better)) = best_gain(&counted, shape, wanted, table) {
            counted[at].sheaf.count -= better.count;
            counted.push(Counted::of(better, shapes, table));
            counted.retain(|it| it.sheaf.count > 0);
        }
    }
    joined(counted.into_iter().map(|it| it.sheaf).collect())
}

/// What is kept more: money, and where paper is worth nothing, square ticks.
type Gain = (Ratio, i128);

/// The sheaf and what some of its sheets become that gain most by leaving places of a shape uncut: one place, or as
/// many as are not wanted on any of its sheets.
fn best_gain(
    counted: &[Counted],
    shape: usize,
    wanted: &[u64],
    table: &mut LayingTable,
) -> Option<(usize, Sheaf)> {
    let surplus = Counted::surplus_of(counted, shape, wanted);
    if surplus == 0 {
        return None;
    }
    let mut best: Option<(Gain, usize, Sheaf)> = None;
    for (at, Counted { sheaf, yields, kept }) in counted.iter().enumerate() {
        let some = sheaf.count.min(surplus);
        let one = without_one(&sheaf.layout, shape).map(|layout| (some, layout));
        let most = (surplus / sheaf.count).min(yields[shape]);
        let most =
            (2..=most).rev().find_map(|most| without_last(&sheaf.layout, yields, shape, most));
        let most = most.map(|layout| (sheaf.count, layout));
        for (count, fewer) in one.chain(most) {
            // A sheet of thousands of tiny pieces has as many places, each a layout of its own.
            table.look(&fewer)?;
            if !table.is_open() {
                return None;
            }
            let layout = table.laid(sheaf.sheet, fewer);
            let gain = table.kept(sheaf.sheet, &layout).less(*kept).times(count);
            if gain.area <= 0 {
                continue;
            }
            let gain = (table.worth(sheaf.sheet, gain), gain.area);
            if best.as_ref().is_none_or(|best| gain > best.0) {
                best = Some((gain, at, Sheaf { sheet: sheaf.sheet, layout, count }));
            }
        }
    }
    best.map(|(_, at, sheaf)| (at, sheaf))
}

/// Equal patterns of a sheet as one sheaf.
fn joined(sheaves: Vec<Sheaf>) -> Vec<Sheaf> {
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
