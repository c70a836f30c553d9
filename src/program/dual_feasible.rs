//! Bounds by dual feasible functions: they cost nothing, and are often higher than the area's.
//!
//! Such a function f makes of lengths other lengths, so that whatever lies beside each other on a side of the sheet
//! still does so afterwards: `Σ w <= W` leads to `Σ f(w) <= f(W)`. With one for the widths and one for the heights, no
//! pattern counts more than its sheet (Fekete and Schepers 2001, Mathematical Programming 91:11-31; Clautiaux, Alves
//! and Valerio de Carvalho 2010, Annals of Operations Research 179:317-342). Two strips a hair above half a sheet then
//! count as two sheets.
//!
//! They are tried where a relaxation was cut off: all pairs of a few functions, which takes next to no time. The judge,
//! who knows nothing of this, follows the piece values in its table.

use super::by_area::{Measured, best_by};
use super::certificate::Certificate;
use super::level::Level;
use super::task::Task;
use crate::measure::{Axis, Size};
use crate::patterns::{Shape, Space};

/// A function of lengths from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Function {
    /// A length as it is.
    Same,
    /// Lengths below a threshold count nothing, those above the rest of it count all (`U` of Fekete and Schepers).
    Threshold(i64),
    /// Lengths rounded down to whole k-ths, but for those that are whole (k + 1)-ths (`u` of the same).
    Parts(i64),
}

/// The numbers of parts that are tried.
const PARTS: [i64; 4] = [1, 2, 3, 4];
/// Thresholds that are tried along a side, at most.
const THRESHOLDS: usize = 6;

/// Kinds of sheets beyond which trying all of it takes longer than it is worth.
const MOST_SHEETS: usize = 200;

impl Function {
    /// `f(length / whole)` times `whole` times the number of parts; the length is no longer than the whole.
    fn of(self, length: i64, whole: i64) -> i128 {
        let (length, whole) = (i128::from(length), i128::from(whole));
        match self {
            Function::Same => length,
            Function::Threshold(least) if length < least.into() => 0,
            Function::Threshold(least) if length > whole - i128::from(least) => whole,
            Function::Threshold(_) => length,
            Function::Parts(parts) => {
                let more = length * (i128::from(parts) + 1);
                match more % whole {
                    0 => length * i128::from(parts),
                    _ => more / whole * whole,
                }
            }
        }
    }
}

/// The best certificate of all pairs of functions; `None` where the judge has no table to follow it, or where it would
/// take long.
pub(super) fn by_functions(task: &Task, level: Level) -> Option<Certificate> {
    let is_long = task.supplies.len() > MOST_SHEETS;
    if is_long || !task.bounding_spaces().iter().all(Space::is_exact) {
        return None;
    }
    let [across, down] = [Axis::Width, Axis::Height].map(|axis| functions(task, axis));
    let pairs = across.iter().flat_map(|across| down.iter().map(|down| [*across, *down]));
    let found = pairs.filter_map(|pair| Some(best_by(task, level, &measured(task, pair)?)));
    found.reduce(|best, other| best.or_better(Some(other)))
}

/// The longest side of a sheet along an axis, inflated by the blade.
fn whole(task: &Task, axis: Axis) -> i64 {
    let sides = task.supplies.iter().map(|supply| inflated(task, supply.size, axis));
    sides.max().unwrap_or(1).max(1)
}

fn inflated(task: &Task, size: Size, axis: Axis) -> i64 {
    (size.along(axis) + task.blade()).ticks()
}

/// What is tried along an axis: thresholds just above lengths that occur, evenly spread where they are many.
fn functions(task: &Task, axis: Axis) -> Vec<Function> {
    let whole = whole(task, axis);
    let sides = task.items.iter().flat_map(|item| [item.size, item.size.turned()]);
    let mut lengths: Vec<i64> = sides.map(|size| inflated(task, size, axis) + 1).collect();
    lengths.retain(|length| 2 * length <= whole);
    lengths.sort_unstable();
    lengths.dedup();
    let step = lengths.len().div_ceil(THRESHOLDS).max(1);
    let thresholds = lengths.into_iter().rev().step_by(step).map(Function::Threshold);
    let parts = PARTS.map(Function::Parts);
    [Function::Same].into_iter().chain(parts).chain(thresholds).collect()
}

/// How large everything counts under a pair of functions; `None` where the numbers would be too large.
fn measured(task: &Task, [across, down]: [Function; 2]) -> Option<Measured> {
    let wholes = [Axis::Width, Axis::Height].map(|axis| whole(task, axis));
    let area = |size: Size| {
        let width = across.of(inflated(task, size, Axis::Width), wholes[0]);
        width.checked_mul(down.of(inflated(task, size, Axis::Height), wholes[1]))
    };
    let piece = |item: usize| {
        // However it may lie on any sheet: what it surely counts.
        let shapes = task.bounding_spaces().iter().map(|space| space.shape(item));
        let ways = |Shape { size, upright, turned }: Shape| {
            [upright.then_some(size), turned.then(|| size.turned())].into_iter().flatten()
        };
        let fits = |size: &Size| {
            inflated(task, *size, Axis::Width) <= wholes[0]
                && inflated(task, *size, Axis::Height) <= wholes[1]
        };
        let mut least: Option<i128> = None;
        for size in shapes.flat_map(ways).filter(fits) {
            let own = area(size)?;
            least = Some(least.map_or(own, |least| least.min(own)));
        }
        Some(least.unwrap_or(0))
    };
    let pieces: Option<Vec<i128>> = (0..task.items.len()).map(piece).collect();
    let sheets: Option<Vec<i128>> = task.supplies.iter().map(|supply| area(supply.size)).collect();
    Some(Measured { pieces: pieces?, sheets: sheets? })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn function() -> impl Strategy<Value = Function> {
        let threshold = (0_i64..=60).prop_map(Function::Threshold);
        prop_oneof![Just(Function::Same), threshold, (1_i64..9).prop_map(Function::Parts)]
    }

    proptest! {
        /// What fits beside each other still does, on the whole sheet and on any shorter one.
        #[test]
        fn what_fits_on_a_side_still_does(
            function in function(),
            lengths in prop::collection::vec(1_i64..=120, 1..9),
            more in 0_i64..40,
        ) {
            let mut side = 0;
            let fits = |length: &i64| {
                let fits = side + length <= 120;
                side += if fits { *length } else { 0 };
                fits
            };
            let lengths: Vec<i64> = lengths.into_iter().filter(fits).collect();
            let sum: i128 = lengths.iter().map(|length| function.of(*length, 120)).sum();
            let held = function.of((side + more).min(120), 120);
            prop_assert!(sum <= held, "{function:?}: {sum} on {held}");
        }
    }

    /// Two strips a hair above half a sheet do not lie beside each other, whatever their area.
    #[test]
    fn more_than_half_counts_as_all() {
        let [parts, threshold] = [Function::Parts(1), Function::Threshold(50)];
        assert_eq!([parts.of(51, 100), parts.of(50, 100), parts.of(49, 100)], [100, 50, 0]);
        assert_eq!(
            [threshold.of(51, 100), threshold.of(50, 100), threshold.of(49, 100)],
            [100, 50, 0]
        );
        // Whole thirds keep their length, counted in halves.
        let thirds = [30, 31, 60, 61, 90].map(|length| Function::Parts(2).of(length, 90));
        assert_eq!(thirds, [60, 90, 120, 180, 180]);
    }
}
