//! Pieces moved from one run to another, where that leaves more or larger offcuts: from a sheet that is
//! nearly empty to one that has room.
//!
//! Only runs of equally many sheets of the same kind exchange pieces, so that no run is divided.

use super::kept::Kept;
use super::table::looking;
use super::{LayingTable, Steps};
use crate::assembly::surplus::Sheaf;
use crate::assembly::tidy::without_one;
use crate::cuts::{Bench, Content, Layout, Leaf, Tree};
use crate::measure::{Axis, Size};

/// Moves pieces, of so many shapes, as long as that keeps more.
pub(super) fn moved(
    mut sheaves: Vec<Sheaf>,
    shapes: usize,
    table: &mut LayingTable,
    steps: &Steps,
) -> Vec<Sheaf> {
    while let Some((pair, layouts)) = better_pair(&sheaves, shapes, table, steps) {
        for (run, layout) in pair.into_iter().zip(layouts) {
            sheaves[run].layout = layout;
        }
    }
    sheaves
}

/// Two runs with new layouts that keep more together: the first found.
fn better_pair(
    sheaves: &[Sheaf],
    shapes: usize,
    table: &mut LayingTable,
    steps: &Steps,
) -> Option<([usize; 2], [Layout; 2])> {
    for (from, giver) in sheaves.iter().enumerate() {
        for (to, taker) in sheaves.iter().enumerate() {
            if steps.get() == 0 {
                return None;
            }
            if from == to || (giver.sheet, giver.count) != (taker.sheet, taker.count) {
                continue;
            }
            // What both leave now is measured for each pair, and there are many pairs of many runs.
            steps.take_many(1 + looking(&giver.layout))?;
            let layouts = [&giver.layout, &taker.layout];
            let exchange = Gift { sheet: giver.sheet, layouts, shapes };
            if let Some(better) = exchange.better(table, steps) {
                return Some(([from, to], better));
            }
        }
    }
    None
}

/// Two layouts of one kind of sheet, the first of which gives.
struct Gift<'a> {
    sheet: usize,
    layouts: [&'a Layout; 2],
    shapes: usize,
}

impl Gift<'_> {
    fn better(&self, table: &mut LayingTable, steps: &Steps) -> Option<[Layout; 2]> {
        let [giver, taker] = self.layouts;
        let before = self.worth(self.layouts, table);
        let given = giver.counts(self.shapes);
        // A sheet of which nothing is cut would not be used at all, which is a matter of level 2.
        if given.iter().sum::<u64>() < 2 {
            return None;
        }
        for shape in (0..self.shapes).filter(|shape| given[*shape] > 0) {
            for (size, turned) in ways(giver, shape) {
                steps.take_many(1 + taker.remnants().count() as u64 * looking(taker))?;
                let piece = Layout::piece(size, shape, turned);
                for more in with_one(taker, &piece, table.bench()) {
                    // Plates without room for more are many on large sheets.
                    let Some(more) = table.anew(self.sheet, &more) else {
                        steps.take_many(1 + looking(taker))?;
                        continue;
                    };
                    for fewer in without_one(giver, shape) {
                        steps.take_many(1 + looking(&fewer))?;
                        let Some(fewer) = table.anew(self.sheet, &fewer) else { continue };
                        let after = self.worth([&fewer, &more], table);
                        if after > before {
                            return Some([fewer, more]);
                        }
                    }
                }
            }
        }
        None
    }

    /// The worth of what two layouts leave.
    fn worth(&self, layouts: [&Layout; 2], table: &mut LayingTable) -> Kept {
        let [one, other] = layouts.map(|layout| table.kept(self.sheet, layout));
        one + other
    }
}

/// The ways in which a shape lies in a layout: its size there, and whether it is turned.
fn ways(layout: &Layout, shape: usize) -> Vec<(Size, bool)> {
    let way = |plate: &Layout| match plate.content {
        Content::Leaf(Leaf::Piece(other, turned)) if other == shape => Some((plate.size, turned)),
        _ => None,
    };
    let mut found: Vec<(Size, bool)> = layout.plates().filter_map(way).collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// The layouts with one piece more, for each remnant that has room for it.
fn with_one<'a>(
    layout: &'a Layout,
    piece: &'a Layout,
    bench: Bench,
) -> impl Iterator<Item = Layout> + 'a {
    let has_room = |end: &Layout| end.is_remnant() && piece.size.fits_in(end.size);
    layout.with_one(has_room, move |remnant| put(remnant.size, piece, bench))
}

/// A plate with a piece at its corner.
fn put(plate: Size, piece: &Layout, bench: Bench) -> Layout {
    for axis in [Axis::Width, Axis::Height] {
        let at = piece.size.along(axis);
        if plate.along(axis) > at {
            let near = put(plate.with(axis, at), piece, bench);
            let far = Layout::remnant(bench.rest(plate, axis, at));
            return Layout::divided(plate, axis, [near, far]);
        }
    }
    piece.clone()
}
