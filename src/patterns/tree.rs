//! From the filled table back to the cuts that attain it.

use super::grid::{Grid, Seat};
use super::table::{Table, Value};

/// What is to be cut from a plate, and the sides it needs for that, inflated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Part {
    pub sides: [i64; 2],
    pub kind: Kind,
}

/// What is to be cut from a plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// Nothing.
    Nothing,
    /// The piece of this seat.
    Piece(usize),
    /// A cut across (side 0) or down (side 1): the first part, exactly as long as it needs, and the
    /// second part.
    Cut(usize, Box<[Part; 2]>),
}

impl Part {
    /// Nothing, needing nothing.
    pub const NOTHING: Part = Part::nothing([0, 0]);

    /// A plate with these sides from which nothing is cut.
    pub const fn nothing(sides: [i64; 2]) -> Part {
        Part { sides, kind: Kind::Nothing }
    }

    /// Two parts beside each other, needing no more than they do.
    fn beside(side: usize, parts: [Part; 2]) -> Part {
        let mut sides = [0, 1].map(|side: usize| parts[0].sides[side].max(parts[1].sides[side]));
        sides[side] = parts[0].sides[side] + parts[1].sides[side];
        Part { sides, kind: Kind::Cut(side, Box::new(parts)) }
    }

    /// How many pieces of each shape it has.
    pub fn counts(&self, seats: &[Seat], shapes: usize) -> Vec<u64> {
        let mut counts = vec![0; shapes];
        self.count(seats, &mut counts);
        counts
    }

    /// The same without the pieces that there are none left of; takes the others from `left`.
    pub fn within(self, grid: &Grid, left: &mut [u64]) -> Part {
        match self.kind {
            Kind::Nothing => self,
            Kind::Piece(seat) => match &mut left[grid.seats[seat].shape] {
                0 => Part::nothing(self.sides),
                left => {
                    *left -= 1;
                    self
                }
            },
            Kind::Cut(side, parts) => {
                let parts = parts.map(|part| part.within(grid, left));
                Part::join(grid, self.sides, side, parts)
            }
        }
    }

    /// Two parts of a plate with these sides, of which either may be nothing.
    fn join(grid: &Grid, sides: [i64; 2], side: usize, parts: [Part; 2]) -> Part {
        let [first, second] = &parts;
        match [&first.kind, &second.kind] {
            [Kind::Nothing, Kind::Nothing] => Part::nothing(sides),
            _ if grid.strict => Part { sides, kind: Kind::Cut(side, Box::new(parts)) },
            [Kind::Nothing, _] => second.clone(),
            [_, Kind::Nothing] => first.clone(),
            _ => Part::beside(side, parts),
        }
    }

    fn count(&self, seats: &[Seat], counts: &mut [u64]) {
        match &self.kind {
            Kind::Nothing => {}
            Kind::Piece(seat) => counts[seats[*seat].shape] += 1,
            Kind::Cut(_, parts) => parts.iter().for_each(|part| part.count(seats, counts)),
        }
    }
}

/// Finds the cuts that attain the table's values.
pub(super) struct Finder<'a, V> {
    grid: &'a Grid,
    table: &'a Table<V>,
    worth: &'a [V],
}

impl<'a, V: Value> Finder<'a, V> {
    /// For a table filled with these values of the grid's seats.
    pub fn new(grid: &'a Grid, table: &'a Table<V>, worth: &'a [V]) -> Finder<'a, V> {
        Finder { grid, table, worth }
    }

    /// What to cut from a plate of this cell's size.
    pub fn part(&self, cell: [usize; 2]) -> Part {
        if self.table.at(cell) == V::default() {
            return Part::NOTHING;
        }
        if !self.grid.strict {
            return self.tight(self.shrink(cell));
        }
        let kind = match self.trim(cell) {
            Some((side, smaller)) => Kind::Cut(side, Box::new([self.part(smaller), Part::NOTHING])),
            None => self.tight(cell).kind,
        };
        Part { sides: self.lengths(cell), kind }
    }

    /// What to cut from a cell that no smaller one equals.
    fn tight(&self, cell: [usize; 2]) -> Part {
        if let Some(seat) = self.piece(cell) {
            return Part { sides: self.grid.seats[seat].sides, kind: Kind::Piece(seat) };
        }
        let cuts = [0, 1].map(|side| self.middle_cut(cell, side));
        let chosen = match cuts {
            [Some(across), Some(down)] => match self.is_nearer_middle(cell, [across[0], down[0]]) {
                true => Some((0, across)),
                false => Some((1, down)),
            },
            [across, down] => across.map(|cut| (0, cut)).or(down.map(|cut| (1, cut))),
        };
        let Some((side, parts)) = chosen else { return Part::NOTHING };
        Part::beside(
            side,
            parts.map(|point| {
                let mut part = cell;
                part[side] = point;
                self.part(part)
            }),
        )
    }

    /// The largest piece that is worth as much as the cell.
    fn piece(&self, cell: [usize; 2]) -> Option<usize> {
        let value = self.table.at(cell);
        let fits = |seat: &Seat| match self.grid.strict {
            true => seat.cell == cell,
            false => seat.cell[0] <= cell[0] && seat.cell[1] <= cell[1],
        };
        let area = |seat: usize| {
            let sides = self.grid.seats[seat].sides;
            i128::from(sides[0]) * i128::from(sides[1])
        };
        (0..self.worth.len())
            .filter(|&seat| self.worth[seat] == value && fits(&self.grid.seats[seat]))
            .max_by_key(|&seat| (area(seat), std::cmp::Reverse(seat)))
    }

    /// The cut nearest the middle that attains the cell's value: its first and second part.
    fn middle_cut(&self, cell: [usize; 2], side: usize) -> Option<[usize; 2]> {
        if cell[0].min(cell[1]) == 0 || (side == 1 && cell[0] >= self.grid.wide) {
            return None;
        }
        let at = |point: usize| {
            let mut part = cell;
            part[side] = point;
            self.table.at(part)
        };
        let rests = self.grid.rasters[side].rests(cell[side]);
        let value = self.table.at(cell);
        let attains = |first: &usize| at(*first) + at(rests[*first] as usize) == value;
        (1..rests.len()).rev().find(attains).map(|first| [first, rests[first] as usize])
    }

    /// Whether the cut across is at least as near its middle as the cut down.
    fn is_nearer_middle(&self, cell: [usize; 2], firsts: [usize; 2]) -> bool {
        let point = |side: usize, index: usize| i128::from(self.grid.rasters[side].points()[index]);
        point(0, firsts[0]) * point(1, cell[1]) >= point(1, firsts[1]) * point(0, cell[0])
    }

    /// The smallest cell that is worth as much, reached by the trim that leaves the larger strip.
    fn shrink(&self, cell: [usize; 2]) -> [usize; 2] {
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
    fn trim(&self, cell: [usize; 2]) -> Option<(usize, [usize; 2])> {
        if cell[0] < self.grid.held[0] || cell[1] < self.grid.held[1] {
            return None;
        }
        [0, 1]
            .map(|side| (side, self.smallest(cell, side)))
            .into_iter()
            .filter(|&(_, smaller)| smaller != cell)
            .max_by_key(|&(side, smaller)| (self.strip(cell, smaller), 1 - side))
    }

    /// The cell, as short along one side as it can be without losing value.
    fn smallest(&self, cell: [usize; 2], side: usize) -> [usize; 2] {
        let value = self.table.at(cell);
        let with = |point: usize| {
            let mut smaller = cell;
            smaller[side] = point;
            smaller
        };
        if side == 1 && cell[0] >= self.grid.wide {
            return cell;
        }
        (1..=cell[side]).map(with).find(|&smaller| self.table.at(smaller) == value).unwrap_or(cell)
    }

    /// Area of the strip between a cell and a smaller one of the same height or width.
    fn strip(&self, cell: [usize; 2], smaller: [usize; 2]) -> i128 {
        let area = |cell| self.lengths(cell).into_iter().map(i128::from).product::<i128>();
        area(cell) - area(smaller)
    }

    fn lengths(&self, cell: [usize; 2]) -> [i64; 2] {
        [0, 1].map(|side: usize| self.grid.rasters[side].points()[cell[side]])
    }
}
