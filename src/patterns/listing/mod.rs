//! Every pattern that keeps to limits and is worth at least so much.
//!
//! Each plate of the sheet gets the ways to cut it that no other way outdoes in every shape. They are few
//! where the worth asked for is near the best: a way is dropped as soon as it and the most that the rest
//! of the sheet can be worth fall short. That most, R, comes from the plates' own worth F by going down
//! from the sheet (a completion bound, as in route enumeration: Baldacci, Christofides & Mingozzi 2008,
//! Mathematical Programming 115:351-385):
//!
//! ```text
//! R(sheet) = 0      R(part) = max { R(plate) + F(other part) : a cut of a plate into the two }
//! ```
//!
//! F knows no limits; penalties λ on the shapes that it uses too often bring it closer to them.

mod completion;
mod ways;

use super::Shape;
use super::grid::{Detail, Grid, Rounding};
use super::labels::most_pieces;
use super::lay_out::lay_out;
use super::solved::Solved;
use super::space::Space;
use super::within::raise;
use crate::cuts::{Bench, Layout};
use crate::measure::Size;
use completion::Completion;
use std::sync::Arc;
use ways::{Listed, MOST_PIECES, PlateWay, Ways};

/// Cuts of all plates together, at most, for a sheet to be listed.
const MOST_CUTS: usize = 40_000_000;
/// How often the penalties are adjusted, at most.
const PENALTY_ROUNDS: usize = 12;

/// A pattern: how many pieces of each shape, and how it is cut.
#[derive(Clone, Debug)]
pub struct Pattern {
    /// Pieces by shape, within the limits.
    pub counts: Vec<u64>,
    /// The cut tree.
    pub layout: Layout,
}

/// All patterns of `space` with at most `limits[i]` pieces of shape i that are worth at least `least`, but
/// for those with no more of anything than another one. `None` where they are too many, or where the
/// space is not exact. `work` is how many pairs of ways may be looked at; those that were are taken off.
pub(super) fn list(
    space: &Space,
    values: &[i64],
    limits: &[u64],
    least: i64,
    work: &mut usize,
) -> Option<Vec<Pattern>> {
    if !space.is_exact() {
        return None;
    }
    // Shapes that are not wanted would be carried along in every way.
    let wanted: Vec<usize> = (0..limits.len()).filter(|&shape| limits[shape] > 0).collect();
    let shapes: Vec<Shape> = wanted.iter().map(|&shape| space.shapes[shape]).collect();
    let own_values: Vec<i64> = wanted.iter().map(|&shape| values[shape]).collect();
    let own_limits: Vec<u64> = wanted.iter().map(|&shape| limits[shape]).collect();
    let Space { plate: size, bench, points, .. } = *space;
    let plate = SheetQuestion { size, bench, shapes: &shapes, points };
    let mut patterns = list_wanted(&plate, &own_values, &own_limits, least, work)?;
    for pattern in &mut patterns {
        let mut counts = vec![0; limits.len()];
        wanted.iter().zip(&pattern.counts).for_each(|(&shape, &count)| counts[shape] = count);
        pattern.counts = counts;
        pattern.layout.rename(|shape| wanted[shape]);
    }
    Some(patterns)
}

/// A sheet with the shapes that are wanted from it.
struct SheetQuestion<'a> {
    size: Size,
    bench: Bench,
    shapes: &'a [Shape],
    points: usize,
}

fn list_wanted(
    plate: &SheetQuestion,
    values: &[i64],
    limits: &[u64],
    least: i64,
    work: &mut usize,
) -> Option<Vec<Pattern>> {
    let grid = Arc::new(limited_grid(plate, limits)?);
    let most = |shape: usize| most_pieces(&grid, shape).min(limits[shape]);
    if grid.seats.iter().any(|seat| most(seat.shape) > MOST_PIECES) {
        return None;
    }
    let (penalties, solved) = penalties(&grid, values, limits, least);
    let charged = values.iter().zip(&penalties).map(|(value, penalty)| (value - penalty).max(0));
    let charged: Vec<i64> = charged.collect();
    let allowed = worth(limits, &penalties);
    let least_charged = i64::try_from(i128::from(least) - allowed).unwrap_or(i64::MIN / 4);
    let mut listing = Listing {
        grid: &grid,
        completion: Completion::new(&grid, &solved, least_charged),
        ways: Ways::new(&charged, limits, *work),
        cells: vec![Vec::new(); grid.rasters[0].len() * grid.rasters[1].len()],
    };
    let filled = listing.fill();
    *work = listing.ways.pairs;
    filled?;
    Some(listing.patterns(|counts| worth(counts, values) >= i128::from(least)))
}

/// What so many pieces of each shape come to.
fn worth(counts: &[u64], values: &[i64]) -> i128 {
    counts.iter().zip(values).map(|(&count, &value)| i128::from(count) * i128::from(value)).sum()
}

/// The sheet on the sums that the limits allow, or on the reduced points of all sums if those are fewer.
fn limited_grid(plate: &SheetQuestion, limits: &[u64]) -> Option<Grid> {
    let detail = Detail { rounding: Rounding::Up, points: plate.points };
    let grid = |limits| Grid::new(plate.size, plate.shapes, plate.bench, limits, detail);
    let (limited, reduced) = (grid(Some(limits)), grid(None));
    let exact = [limited, reduced].into_iter().filter(|grid| !grid.rounded && !grid.strict);
    exact.min_by_key(Grid::pairs).filter(|grid| grid.pairs() <= MOST_CUTS)
}

/// Penalties λ under which the limits cost least, and the sheet solved with them.
fn penalties(grid: &Arc<Grid>, values: &[i64], limits: &[u64], least: i64) -> (Vec<i64>, Solved) {
    let mut penalties = vec![0; values.len()];
    let mut solved = Solved::new(grid.clone(), values);
    let mut best = (i128::from(solved.value()), penalties.clone(), solved.clone());
    for _ in 0..PENALTY_ROUNDS {
        let relaxed = solved.part();
        let gap = best.0 - i128::from(least) + 1;
        if gap <= 0 || !raise(&relaxed.counts(grid), values, limits, &mut penalties, gap) {
            break;
        }
        let charged: Vec<i64> = values.iter().zip(&penalties).map(|(v, p)| v - p).collect();
        solved = Solved::new(grid.clone(), &charged);
        let bound = i128::from(solved.value()) + worth(limits, &penalties);
        if bound < best.0 {
            best = (bound, penalties.clone(), solved.clone());
        }
    }
    (best.1, best.2)
}

struct Listing<'a> {
    grid: &'a Grid,
    completion: Completion<'a>,
    ways: Ways<'a>,
    /// The ways of every plate, the one worth most first.
    cells: Vec<Vec<Listed>>,
}

impl Listing<'_> {
    /// The ways of all plates, from the smallest up. `None` where they are too many.
    fn fill(&mut self) -> Option<()> {
        let top = self.grid.top();
        for row in 1..=top[1] {
            for column in 1..=top[0] {
                let own = self.completion.index([column, row]);
                if self.completion.reaches(own) {
                    self.cells[own] = self.entries([column, row], own)?;
                }
            }
        }
        Some(())
    }

    fn entries(&mut self, cell: [usize; 2], own: usize) -> Option<Vec<Listed>> {
        let mut entries = self.inherited(cell, own);
        let needed = self.completion.needed(own);
        for (seat, seated) in self.grid.seats.iter().enumerate() {
            if seated.cell == cell {
                let entry = self.ways.keep_piece(seat, seated.shape)?;
                entries.extend((self.ways.worth(entry.way) >= needed).then_some(entry));
            }
        }
        for (side, step) in self.completion.sides(cell) {
            let begin = own - cell[side] * step;
            let rests = self.grid.rasters[side].rests(cell[side]);
            for (first, &second) in rests.iter().enumerate().skip(1) {
                let parts = [begin + first * step, begin + second as usize * step];
                self.join(needed, side, parts, &mut entries)?;
            }
            self.ways.prune(&mut entries)?;
        }
        self.ways.prune(&mut entries)?;
        Some(entries)
    }

    /// The ways of the next shorter plates that still are worth enough.
    fn inherited(&self, cell: [usize; 2], own: usize) -> Vec<Listed> {
        let needed = self.completion.needed(own);
        let mut entries: Vec<Listed> = Vec::new();
        for (side, step) in self.completion.sides(cell) {
            for entry in &self.cells[own - step] {
                if self.ways.worth(entry.way) < needed {
                    continue;
                }
                match entries.iter_mut().find(|known| known.way == entry.way) {
                    Some(known) => known.tight[side] = false,
                    None => {
                        let mut tight = [true; 2];
                        tight[side] = false;
                        entries.push(Listed { way: entry.way, tight });
                    }
                }
            }
        }
        entries
    }

    /// All pairs of ways of two parts of a plate that are worth what is needed.
    fn join(
        &mut self,
        needed: i64,
        side: usize,
        parts: [usize; 2],
        entries: &mut Vec<Listed>,
    ) -> Option<()> {
        let [first, second] = parts.map(|part| &self.cells[part]);
        // On a shorter first part the same way leaves more for the second.
        for entry in first.iter().filter(|entry| entry.tight[side]) {
            for other in second {
                let pair = [entry.way, other.way];
                self.ways.pairs = self.ways.pairs.checked_sub(1)?;
                if pair.map(|way| self.ways.worth(way)).iter().sum::<i64>() < needed {
                    // Those that follow are worth less.
                    break;
                }
                let worth = self.ways.add_up(pair);
                if worth >= needed && !self.ways.is_outdone(entries)? {
                    let way = PlateWay::Cut(side as u8, pair[0], pair[1]);
                    entries.push(self.ways.keep(way, worth)?);
                }
            }
        }
        Some(())
    }

    /// The patterns of the whole sheet.
    fn patterns(&self, is_wanted: impl Fn(&[u64]) -> bool) -> Vec<Pattern> {
        let mut parts = Vec::new();
        let whole = &self.cells[self.completion.index(self.grid.top())];
        whole
            .iter()
            .map(|entry| (self.ways.pieces(entry.way), entry.way))
            .filter(|(counts, _)| is_wanted(counts))
            .map(|(counts, way)| {
                let part = self.ways.within(way, self.grid, &mut parts);
                Pattern { counts, layout: lay_out(self.grid, &part) }
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Length;

    fn space(plate: (i64, i64), shapes: &[(i64, i64)]) -> Space {
        let size = |(w, h)| Size::new(Length::from_ticks(w), Length::from_ticks(h));
        let shape = |&sides| Shape { size: size(sides), upright: true, turned: false };
        let shapes: Vec<Shape> = shapes.iter().map(shape).collect();
        let length = |ticks| Length::from_ticks(ticks);
        let bench = Bench { blade: length(0), knife: length(1000), hold: length(0), stages: None };
        Space::new(size(plate), &shapes, bench)
    }

    #[test]
    fn all_patterns_worth_enough_are_listed() {
        let space = space((5, 3), &[(2, 2), (3, 1), (1, 3)]);
        let listed = list(&space, &[4, 3, 3], &[2, 2, 2], 9, &mut 1000).unwrap();
        let mut found: Vec<Vec<u64>> = listed.iter().map(|one| one.counts.clone()).collect();
        found.sort();
        assert_eq!(found, [[0, 2, 2], [1, 1, 2], [1, 2, 0], [2, 1, 1]]);
        for pattern in &listed {
            assert_eq!(pattern.layout.counts(3), pattern.counts);
        }
    }
}
