//! F and R of every plate, and so whether a pattern that is worth enough may have it.

use super::super::grid::Grid;
use super::super::solved::Solved;

/// Where no pattern that is worth enough has the plate.
const UNREACHED: i64 = i64::MIN / 4;

/// What a sheet's plates, and the rest of the sheet around them, are worth at most.
pub(super) struct Completion<'a> {
    grid: &'a Grid,
    /// F, by cell.
    most: Vec<i64>,
    /// R, by cell.
    rest: Vec<i64>,
    /// What a pattern has to be worth.
    least: i64,
}

impl<'a> Completion<'a> {
    /// From the sheet down; a plate is looked at only if it is worth enough with its rest.
    pub fn new(grid: &'a Grid, solved: &Solved, least: i64) -> Completion<'a> {
        let [columns, rows] = [0, 1].map(|side: usize| grid.rasters[side].len());
        let all = (0..rows).flat_map(|row| (0..columns).map(move |column| [column, row]));
        let most = all.map(|cell| solved.cell(cell)).collect();
        let rest = vec![UNREACHED; columns * rows];
        let mut completion = Completion { grid, most, rest, least };
        completion.complete();
        completion
    }

    /// Place of a cell in lists of all cells.
    pub fn index(&self, [column, row]: [usize; 2]) -> usize {
        row * self.grid.rasters[0].len() + column
    }

    /// Whether a pattern that is worth enough may have the plate.
    pub fn reaches(&self, cell: usize) -> bool {
        self.most[cell].saturating_add(self.rest[cell]) >= self.least
    }

    /// What has to be cut from a plate for a pattern that is worth enough.
    pub fn needed(&self, cell: usize) -> i64 {
        self.least.saturating_sub(self.rest[cell])
    }

    /// The sides along which a plate may be cut or trimmed, with the distance of neighbouring cells.
    pub fn sides(&self, cell: [usize; 2]) -> impl Iterator<Item = (usize, usize)> + use<> {
        let held = cell[0] >= self.grid.held[0] && cell[1] >= self.grid.held[1];
        let narrow = cell[0] < self.grid.wide;
        let step = [1, self.grid.rasters[0].len()];
        [(0, step[0]), (1, step[1])]
            .into_iter()
            .filter(move |&(side, _)| held && (side == 0 || narrow))
    }

    /// R for all plates, from the sheet down.
    fn complete(&mut self) {
        let top = self.grid.top();
        let whole = self.index(top);
        self.rest[whole] = 0;
        for row in (1..=top[1]).rev() {
            for column in (1..=top[0]).rev() {
                let own = self.index([column, row]);
                if !self.reaches(own) {
                    continue;
                }
                for (side, step) in self.sides([column, row]) {
                    self.complete_parts([column, row], side, step, own);
                }
            }
        }
    }

    fn complete_parts(&mut self, cell: [usize; 2], side: usize, step: usize, own: usize) {
        let grid = self.grid;
        let begin = own - cell[side] * step;
        let rest = self.rest[own];
        let mut raise = |at: usize, to: i64| self.rest[at] = self.rest[at].max(to);
        raise(own - step, rest);
        for (first, &second) in grid.rasters[side].rests(cell[side]).iter().enumerate().skip(1) {
            let parts = [begin + first * step, begin + second as usize * step];
            raise(parts[0], rest + self.most[parts[1]]);
            raise(parts[1], rest + self.most[parts[0]]);
        }
    }
}
