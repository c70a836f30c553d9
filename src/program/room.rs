//! How finely the sheets of a batch are looked at, so that all their tables together have room.
//!
//! Sides of many different lengths have so many sums that one sheet has millions of cells, and a batch may have
//! hundreds of kinds of sheets. So the tables of a whole batch are measured together, before any is filled: where they
//! are too many, all are made coarser alike. Lengths are then rounded up in patterns and down for bounds, a piece that
//! would count as nothing is bounded by its area, and no certificate claims anything but by area.

use crate::cuts::Bench;
use crate::measure::Size;
use crate::patterns::{MOST_POINTS, Shape, Space};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// What the tables of a batch may take together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Room {
    /// Cells of all tables: memory. A cell takes four or eight bytes, and a table is held twice at most.
    pub cells: usize,
    /// Nanoseconds that one look at all sheets takes: time.
    pub work: u64,
}

/// Points along a side below which sheets are looked at no more coarsely.
const LEAST_POINTS: usize = 24;

/// A sheet and what may be cut from it.
type SheetSpace = (Size, Vec<Shape>);

impl Room {
    /// The share of a part of `all` sheets.
    pub(super) fn share(self, own: usize, all: usize) -> Room {
        let share = |room: usize| (room as u128 * own as u128 / all.max(1) as u128) as usize;
        Room { cells: share(self.cells), work: share(self.work as usize) as u64 }
    }

    /// The sheets as finely as there is room for; and where that is not exact, the same for bounds.
    pub(super) fn spaces(
        self,
        plates: &[SheetSpace],
        bench: Bench,
    ) -> (Vec<Space>, Option<Vec<Space>>) {
        let mut points = MOST_POINTS;
        loop {
            let fine = |(size, shapes): &SheetSpace| Space::of_points(*size, shapes, bench, points);
            let loose = |(size, shapes): &SheetSpace| {
                Space::relaxed_of_points(*size, shapes, bench, points)
            };
            let is_last = points <= LEAST_POINTS;
            if let Some(spaces) = self.fitting(plates, &fine, is_last) {
                if spaces.iter().all(Space::is_exact) {
                    return (spaces, None);
                }
                if let Some(loose) = self.fitting(plates, &loose, is_last) {
                    return (spaces, Some(loose));
                }
            }
            points = (points * 2 / 3).max(LEAST_POINTS);
        }
    }

    /// All spaces, the largest made first, so that it soon shows where there is no room: `None` then, unless these are
    /// the last that are tried.
    fn fitting(
        self,
        plates: &[SheetSpace],
        space: &dyn Fn(&SheetSpace) -> Space,
        is_last: bool,
    ) -> Option<Vec<Space>> {
        let mut order: Vec<usize> = (0..plates.len()).collect();
        order.sort_by_key(|&at| Reverse(plates[at].0.area()));
        let (mut cells, mut work) = (0, 0);
        let fits = |at: usize| {
            let space = space(&plates[at]);
            cells += space.cells();
            work += space.work();
            (is_last || (cells <= self.cells && work <= self.work)).then_some((at, space))
        };
        let spaces: Option<BTreeMap<usize, Space>> = order.into_iter().map(fits).collect();
        Some(spaces?.into_values().collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Length;

    /// So many sheets of 700 x 1000 mm with forty sizes, all different.
    fn plates(count: i64) -> Vec<SheetSpace> {
        let size = |(width, height): (i64, i64)| {
            Size::new(Length::from_ticks(width), Length::from_ticks(height))
        };
        let shape = |at: i64| Shape {
            size: size((2_000_000 + at * 97_001, 3_000_000 - at * 49_003)),
            upright: true,
            turned: true,
        };
        let shapes: Vec<Shape> = (0..40).map(shape).collect();
        let plate = |at: i64| (size((28_000_000 - at, 40_000_000 - at)), shapes.clone());
        (0..count).map(plate).collect()
    }

    const BENCH: Bench = Bench {
        blade: Length::ZERO,
        knife: Length::from_ticks(48_000_000),
        hold: Length::ZERO,
        stages: None,
    };

    /// Cells and work of the tables, those for bounds apart.
    fn taken(spaces: &[Space]) -> (usize, u64) {
        (spaces.iter().map(Space::cells).sum(), spaces.iter().map(Space::work).sum())
    }

    #[test]
    fn all_tables_together_keep_to_the_room() {
        let room = Room { cells: 400_000, work: 4_000_000 };
        for count in [1, 10, 40] {
            let (spaces, loose) = room.spaces(&plates(count), BENCH);
            for spaces in [&spaces, &loose.unwrap()] {
                let (cells, work) = taken(spaces);
                assert!(cells <= room.cells && work <= room.work, "{count}: {cells} {work}");
                assert_eq!(spaces.len() as i64, count);
            }
        }
    }

    #[test]
    fn sheets_are_as_fine_as_there_is_room_for() {
        let few = &plates(1)[..];
        let plates = [(few[0].0, few[0].1[..2].to_vec())];
        let all = Room { cells: usize::MAX, work: u64::MAX };
        let (exact, loose) = all.spaces(&plates, BENCH);
        assert!(loose.is_none() && exact[0].is_exact());
        let (cells, work) = taken(&exact);
        for more in [0, 1] {
            let (same, loose) = Room { cells: cells + more, work }.spaces(&plates, BENCH);
            assert!(loose.is_none() && taken(&same) == (cells, work), "{more}");
        }
        let (coarser, loose) = Room { cells: cells - 1, work }.spaces(&plates, BENCH);
        assert!(loose.is_some() && taken(&coarser).0 < cells);
    }
}
