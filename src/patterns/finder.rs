//! From the worth of all plates back to the cuts that attain it.
//!
//! No decision is stored while a table is filled: a plate's cuts are found again by trying which of
//! them attain its worth. Where several do, the one with few and large remnants is taken, then the one
//! nearest the middle, so that no chain of cuts gets long.

use super::grid::{Grid, Seat};
use super::part::{Core, PartKind};
use super::table::{Value, ValueTable};
use std::collections::BTreeMap;
use std::rc::Rc;

/// A cell: column and row.
pub(super) type GridCell = [usize; 2];

/// A cut: its side, and the points of the first and second part.
pub(super) type CellCut = (usize, [usize; 2]);

/// Plates that are looked at in more than one way, at most.
const MOST_COMPARED: usize = 1000;

/// Cuts below which plates are looked at in one way only.
const MOST_LEVELS: u32 = 24;

/// Chains of cuts that are not made longer for the sake of remnants.
const DEEP: u32 = 40;

/// What is known of each plate.
pub(super) trait PlateWorth {
    /// Whether nothing is to be cut from it.
    fn is_nothing(&self, cell: GridCell) -> bool;
    /// Whether two plates are worth the same.
    fn equal(&self, one: GridCell, other: GridCell) -> bool;
    /// Whether one plate is worth less than the other.
    fn is_less(&self, one: GridCell, other: GridCell) -> bool;
    /// Whether a plate is worth what its two parts are.
    fn attains(&self, cell: GridCell, parts: [GridCell; 2]) -> bool;
    /// The seat of the piece that it is, if it is one.
    fn piece(&self, cell: GridCell) -> Option<usize>;
    /// How to cut it where no cut attains its worth.
    fn otherwise(&self, cell: GridCell) -> Option<CellCut>;
}

/// Finds the cuts.
pub(super) struct Finder<'a, W> {
    grid: &'a Grid,
    worth: &'a W,
    known: BTreeMap<GridCell, Rc<Core>>,
}

impl<'a, W: PlateWorth> Finder<'a, W> {
    /// What to cut from the whole sheet.
    pub fn find(grid: &'a Grid, worth: &'a W) -> Core {
        let mut finder = Finder { grid, worth, known: BTreeMap::new() };
        finder.part(grid.top(), 0).as_ref().clone()
    }

    fn part(&mut self, cell: GridCell, level: u32) -> Rc<Core> {
        if self.worth.is_nothing(cell) {
            return Rc::new(Core::nothing(self.lengths(cell)));
        }
        let cell = if self.grid.strict { cell } else { self.shrink(cell) };
        if let Some(part) = self.known.get(&cell) {
            return part.clone();
        }
        let part = Rc::new(if self.grid.strict {
            self.exact(cell, level)
        } else {
            self.tight(cell, level)
        });
        self.known.insert(cell, part.clone());
        part
    }

    /// What to cut from a plate that has to have exactly the cell's size.
    fn exact(&mut self, cell: GridCell, level: u32) -> Core {
        let sides = self.lengths(cell);
        let part = match self.trim(cell) {
            Some((side, smaller)) => {
                let kept = self.part(smaller, level + 1);
                let depth = kept.depth + 1;
                let parts = [kept, Rc::new(Core::nothing([0, 0]))];
                Core { depth, ..Core { kind: PartKind::Cut(side, parts), ..Core::nothing(sides) } }
            }
            None => self.tight(cell, level),
        };
        Core { sides, ..part }
    }

    /// What to cut from a cell that no smaller one equals.
    fn tight(&mut self, cell: GridCell, level: u32) -> Core {
        if let Some(seat) = self.worth.piece(cell) {
            return Core::piece(self.grid, seat);
        }
        let mut cuts = self.cuts(cell);
        if level > MOST_LEVELS || self.known.len() > MOST_COMPARED {
            cuts.truncate(1);
        }
        let plate = self.lengths(cell);
        let mut best: Option<(_, Core)> = None;
        for (side, points) in cuts {
            let parts = points.map(|point| self.part(with(cell, side, point), level + 1));
            let part = Core::beside(side, parts);
            let merit = (std::cmp::Reverse(part.depth.max(DEEP)), part.remnants_in(plate));
            if best.as_ref().is_none_or(|(most, _)| merit > *most) {
                best = Some((merit, part));
            }
        }
        best.map_or(Core::nothing(plate), |(_, part)| part)
    }

    /// Cuts that attain the cell's worth, the one nearest the middle first: in each direction that one,
    /// and the one that takes the smallest part off.
    fn cuts(&self, cell: GridCell) -> Vec<CellCut> {
        let mut cuts = Vec::new();
        for side in [0, 1] {
            if side == 1 && cell[0] >= self.grid.wide {
                continue;
            }
            let rests = self.grid.rasters[side].rests(cell[side]);
            let cut = |first: usize| (side, [first, rests[first] as usize]);
            let attains = |first: &usize| {
                let parts = cut(*first).1.map(|point| with(cell, side, point));
                self.worth.attains(cell, parts)
            };
            if let Some(middle) = (1..rests.len()).rev().find(attains) {
                cuts.push(cut(middle));
                cuts.extend((1..middle).find(attains).map(cut));
            }
        }
        let share = |&(side, [first, _]): &CellCut| {
            // In millionths of the side, so that both directions compare.
            let points = self.grid.rasters[side].points();
            i128::from(points[first]) * 1_000_000 / i128::from(points[cell[side]].max(1))
        };
        cuts.sort_by_key(|cut| std::cmp::Reverse(share(cut)));
        if cuts.is_empty() {
            cuts.extend(self.worth.otherwise(cell));
        }
        cuts
    }

    /// The smallest cell that is worth as much, reached by the trim that leaves the larger strip.
    fn shrink(&self, cell: GridCell) -> GridCell {
        let order = |first: usize| {
            let half = self.smallest(cell, first);
            let whole = self.smallest(half, 1 - first);
            // A plate wider than the knife may be trimmed in height only after its width.
            let whole = self.smallest(whole, first);
            (self.strip(cell, half).max(self.strip(half, whole)), whole)
        };
        let (across, down) = (order(0), order(1));
        if across.0 >= down.0 { across.1 } else { down.1 }
    }

    /// The first trim of a cell where holding matters: side, and the smaller cell.
    fn trim(&self, cell: GridCell) -> Option<(usize, GridCell)> {
        if cell[0] < self.grid.held[0] || cell[1] < self.grid.held[1] {
            return None;
        }
        [0, 1]
            .map(|side| (side, self.smallest(cell, side)))
            .into_iter()
            .filter(|&(_, smaller)| smaller != cell)
            .max_by_key(|&(side, smaller)| (self.strip(cell, smaller), 1 - side))
    }

    /// The cell, as short along one side as it can be without losing worth.
    fn smallest(&self, cell: GridCell, side: usize) -> GridCell {
        if side == 1 && cell[0] >= self.grid.wide {
            return cell;
        }
        let least = if self.grid.strict { 1 } else { self.first_worth(cell, side) };
        let mut shorter = (least..cell[side]).map(|point| with(cell, side, point));
        shorter.find(|&smaller| self.worth.equal(smaller, cell)).unwrap_or(cell)
    }

    /// The first point along the side from which on cells are worth no less: where no strip is too narrow
    /// to be held, a longer plate is never worth less.
    fn first_worth(&self, cell: GridCell, side: usize) -> usize {
        let (mut low, mut high) = (1, cell[side]);
        while low < high {
            let middle = usize::midpoint(low, high);
            match self.worth.is_less(with(cell, side, middle), cell) {
                true => low = middle + 1,
                false => high = middle,
            }
        }
        low
    }

    /// Area of the strip between a cell and a smaller one of the same height or width.
    fn strip(&self, cell: GridCell, smaller: GridCell) -> i128 {
        let area = |cell| self.lengths(cell).into_iter().map(i128::from).product::<i128>();
        area(cell) - area(smaller)
    }

    fn lengths(&self, cell: GridCell) -> [i64; 2] {
        [0, 1].map(|side: usize| self.grid.rasters[side].points()[cell[side]])
    }
}

/// The cell with another point along the side.
pub(super) fn with(mut cell: GridCell, side: usize, point: usize) -> GridCell {
    cell[side] = point;
    cell
}

/// A filled table with the values of the grid's seats.
pub(super) struct Priced<'a, V> {
    pub grid: &'a Grid,
    pub table: &'a ValueTable<V>,
    pub values: &'a [V],
}

impl<V: Value> PlateWorth for Priced<'_, V> {
    fn is_nothing(&self, cell: GridCell) -> bool {
        self.table.at(cell) == V::default()
    }

    fn equal(&self, one: GridCell, other: GridCell) -> bool {
        self.table.at(one) == self.table.at(other)
    }

    fn is_less(&self, one: GridCell, other: GridCell) -> bool {
        self.table.at(one) < self.table.at(other)
    }

    fn attains(&self, cell: GridCell, parts: [GridCell; 2]) -> bool {
        self.table.at(parts[0]) + self.table.at(parts[1]) == self.table.at(cell)
    }

    /// The largest piece that is worth as much as the cell.
    fn piece(&self, cell: GridCell) -> Option<usize> {
        let value = self.table.at(cell);
        let fits = |seat: &Seat| match self.grid.strict {
            true => seat.cell == cell,
            false => seat.cell[0] <= cell[0] && seat.cell[1] <= cell[1],
        };
        let area = |seat: usize| {
            let sides = self.grid.seats[seat].sides;
            i128::from(sides[0]) * i128::from(sides[1])
        };
        (0..self.values.len())
            .filter(|&seat| self.values[seat] == value && fits(&self.grid.seats[seat]))
            .max_by_key(|&seat| (area(seat), std::cmp::Reverse(seat)))
    }

    fn otherwise(&self, _: GridCell) -> Option<CellCut> {
        None
    }
}
