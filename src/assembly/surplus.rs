//! Places that yield more than is wanted are left uncut where that keeps more for the drawer.

use super::improve::LayingTable;
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

/// Leaves surplus places uncut, shape by shape; `wanted` by shape.
pub(super) fn leave_surplus(
    sheaves: Vec<Sheaf>,
    wanted: &[u64],
    table: &mut LayingTable,
) -> Vec<Sheaf> {
    let mut yielding: Vec<Yielding> =
        sheaves.into_iter().map(|sheaf| Yielding::of(sheaf, wanted.len())).collect();
    for shape in 0..wanted.len() {
        let mut gain = best_gain(&yielding, shape, wanted, table);
        while let Some((at, better)) = gain {
            yielding[at].sheaf.count -= better.count;
            yielding.push(Yielding::of(better, wanted.len()));
            yielding.retain(|it| it.sheaf.count > 0);
            gain = best_gain(&yielding, shape, wanted, table);
        }
    }
    joined(yielding.into_iter().map(|it| it.sheaf).collect())
}

/// A sheaf with what each of its sheets yields, by shape.
struct Yielding {
    sheaf: Sheaf,
    yields: Vec<u64>,
}

impl Yielding {
    fn of(sheaf: Sheaf, shapes: usize) -> Yielding {
        Yielding { yields: sheaf.layout.counts(shapes), sheaf }
    }
}

/// What is kept more: money, and where paper is worth nothing, square ticks.
type Gain = (Ratio, i128);

/// The sheaf and what some of its sheets become that gain most by leaving places of a shape uncut: one place, or as
/// many as are not wanted on any of its sheets.
fn best_gain(
    sheaves: &[Yielding],
    shape: usize,
    wanted: &[u64],
    table: &mut LayingTable,
) -> Option<(usize, Sheaf)> {
    let yielded = sheaves.iter().map(|it| it.yields[shape] * it.sheaf.count);
    let surplus = yielded.sum::<u64>().saturating_sub(wanted[shape]);
    if surplus == 0 {
        return None;
    }
    let mut best: Option<(Gain, usize, Sheaf)> = None;
    for (at, Yielding { sheaf, yields }) in sheaves.iter().enumerate() {
        let before = table.kept(sheaf.sheet, &sheaf.layout);
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
            let gain = table.kept(sheaf.sheet, &layout).less(before).times(count);
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
