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

use super::grid::{Grid, Rounding};
use super::labels::most_pieces;
use super::layout::lay_out;
use super::part::Part;
use super::solved::Solved;
use super::space::Space;
use super::within::raise;
use super::{Layout, Shape};
use std::cmp::Reverse;
use std::rc::Rc;
use std::sync::Arc;

/// Cuts of all plates together, at most, for a sheet to be listed.
const MOST_CUTS: usize = 40_000_000;
/// Ways that are kept, at most.
const MOST_WAYS: usize = 300_000;
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
/// space is not exact. `work` is how many pairs of ways
/// may be looked at; those that were are taken off.
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
    let grid = Arc::new(limited_grid(space, limits)?);
    let most = |shape: usize| most_pieces(&grid, shape).min(limits[shape]);
    if grid.seats.iter().any(|seat| most(seat.shape) > MOST_PIECES) {
        return None;
    }
    let (penalties, solved) = penalties(&grid, values, limits, least);
    let charged = values.iter().zip(&penalties).map(|(value, penalty)| (value - penalty).max(0));
    let charged: Vec<i64> = charged.collect();
    let allowed = penalties.iter().zip(limits);
    let allowed: i128 =
        allowed.map(|(&penalty, &limit)| i128::from(penalty) * i128::from(limit)).sum();
    let least_charged = i64::try_from(i128::from(least) - allowed).unwrap_or(i64::MIN / 4);
    let mut listing = Listing::new(&grid, &solved, (&charged, limits), least_charged);
    listing.pairs = *work;
    let filled = listing.fill();
    *work = listing.pairs;
    filled?;
    Some(listing.patterns(|counts| worth(counts, values) >= i128::from(least)))
}

fn worth(counts: &[u64], values: &[i64]) -> i128 {
    counts.iter().zip(values).map(|(&count, &value)| i128::from(count) * i128::from(value)).sum()
}

/// The sheet on the sums that the limits allow, or on the reduced points of all sums if those are fewer.
fn limited_grid(space: &Space, limits: &[u64]) -> Option<Grid> {
    let shapes = space.shapes.iter().zip(limits);
    let shapes: Vec<Shape> = shapes
        .map(|(shape, &limit)| Shape {
            upright: shape.upright && limit > 0,
            turned: shape.turned && limit > 0,
            ..*shape
        })
        .collect();
    let grid = |limits| Grid::new(space.plate, &shapes, space.bench, limits, Rounding::Up);
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
        if gap <= 0 || !raise(grid, (values, limits), &mut penalties, &relaxed, gap) {
            break;
        }
        let charged: Vec<i64> = values.iter().zip(&penalties).map(|(v, p)| v - p).collect();
        solved = Solved::new(grid.clone(), &charged);
        let allowed = penalties.iter().zip(limits);
        let allowed: i128 =
            allowed.map(|(&penalty, &limit)| i128::from(penalty) * i128::from(limit)).sum();
        let bound = i128::from(solved.value()) + allowed;
        if bound < best.0 {
            best = (bound, penalties.clone(), solved.clone());
        }
    }
    (best.1, best.2)
}

/// Shapes that are counted side by side.
const LANES: usize = 16;
type Lanes = [u8; LANES];

/// Pieces of one shape on a sheet, at most; above, sheets are not listed.
const MOST_PIECES: u64 = 100;

/// Comparisons of ways that count as much as a pair.
const COMPARISONS: usize = 8;

/// A way to cut a plate.
#[derive(Clone, Copy, Debug)]
enum Way {
    Piece(u32),
    /// Side, and the ways of the two parts.
    Cut(u8, u32, u32),
}

/// A way of a plate, and whether the next shorter plate lacks it, by side.
#[derive(Clone, Copy, Debug)]
struct Entry {
    way: u32,
    tight: [bool; 2],
}

struct Listing<'a> {
    grid: &'a Grid,
    values: &'a [i64],
    limits: Vec<Lanes>,
    /// F and R by cell.
    most: Vec<i64>,
    rest: Vec<i64>,
    least: i64,
    ways: Vec<(Way, i64)>,
    /// Pieces by shape of all ways.
    counts: Vec<Lanes>,
    cells: Vec<Vec<Entry>>,
    /// Pairs that may still be looked at.
    pairs: usize,
    sum: Vec<Lanes>,
}

/// Where no pattern that is worth enough has the plate.
const UNREACHED: i64 = i64::MIN / 4;

impl<'a> Listing<'a> {
    fn new(
        grid: &'a Grid,
        solved: &Solved,
        (values, limits): (&'a [i64], &[u64]),
        least: i64,
    ) -> Listing<'a> {
        let [columns, rows] = [0, 1].map(|side: usize| grid.rasters[side].len());
        let all = (0..rows).flat_map(|row| (0..columns).map(move |column| [column, row]));
        let mut listing = Listing {
            grid,
            values,
            limits: limits.chunks(LANES).map(lanes).collect(),
            most: all.map(|cell| solved.cell(cell)).collect(),
            rest: vec![UNREACHED; columns * rows],
            least,
            ways: Vec::new(),
            counts: Vec::new(),
            cells: vec![Vec::new(); columns * rows],
            pairs: 0,
            sum: vec![[0; LANES]; limits.len().div_ceil(LANES)],
        };
        listing.complete();
        listing
    }

    fn index(&self, [column, row]: [usize; 2]) -> usize {
        row * self.grid.rasters[0].len() + column
    }

    /// Whether a pattern that is worth enough may have the plate.
    fn counts_for(&self, cell: usize) -> bool {
        self.most[cell].saturating_add(self.rest[cell]) >= self.least
    }

    /// The sides along which a plate may be cut or trimmed, with the distance of neighbouring cells.
    fn sides(&self, cell: [usize; 2]) -> impl Iterator<Item = (usize, usize)> + use<> {
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
                if !self.counts_for(own) {
                    continue;
                }
                for (side, step) in self.sides([column, row]) {
                    self.complete_parts([column, row], (side, step), own);
                }
            }
        }
    }

    fn complete_parts(&mut self, cell: [usize; 2], (side, step): (usize, usize), own: usize) {
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

    /// The ways of all plates, from the smallest up. `None` where they are too many.
    fn fill(&mut self) -> Option<()> {
        let top = self.grid.top();
        for row in 1..=top[1] {
            for column in 1..=top[0] {
                let own = self.index([column, row]);
                if self.counts_for(own) {
                    let entries = self.entries([column, row], own)?;
                    self.cells[own] = entries;
                }
            }
        }
        Some(())
    }

    fn entries(&mut self, cell: [usize; 2], own: usize) -> Option<Vec<Entry>> {
        let mut entries = self.inherited(cell, own);
        for seat in 0..self.grid.seats.len() {
            let Seated { shape, fits } = self.seated(seat, cell);
            if fits && self.values[shape] + self.rest[own] >= self.least {
                self.sum.fill([0; LANES]);
                self.sum[shape / LANES][shape % LANES] = 1;
                entries.push(self.keep(Way::Piece(seat as u32), self.values[shape])?);
            }
        }
        let sides: Vec<(usize, usize)> = self.sides(cell).collect();
        for (side, step) in sides {
            let begin = own - cell[side] * step;
            let grid = self.grid;
            for (first, &second) in grid.rasters[side].rests(cell[side]).iter().enumerate().skip(1)
            {
                let parts = [begin + first * step, begin + second as usize * step];
                self.join((own, side), parts, &mut entries)?;
            }
            self.prune(&mut entries)?;
        }
        self.prune(&mut entries)?;
        Some(entries)
    }

    /// The ways of the next shorter plates that still are worth enough.
    fn inherited(&self, cell: [usize; 2], own: usize) -> Vec<Entry> {
        let mut entries: Vec<Entry> = Vec::new();
        for (side, step) in self.sides(cell) {
            for entry in &self.cells[own - step] {
                if self.ways[entry.way as usize].1 + self.rest[own] < self.least {
                    continue;
                }
                match entries.iter_mut().find(|known| known.way == entry.way) {
                    Some(known) => known.tight[side] = false,
                    None => {
                        let mut tight = [true; 2];
                        tight[side] = false;
                        entries.push(Entry { way: entry.way, tight });
                    }
                }
            }
        }
        entries
    }

    fn seated(&self, seat: usize, cell: [usize; 2]) -> Seated {
        let seat = &self.grid.seats[seat];
        Seated { shape: seat.shape, fits: seat.cell == cell }
    }

    /// All pairs of ways of two parts of a plate.
    fn join(
        &mut self,
        (own, side): (usize, usize),
        parts: [usize; 2],
        entries: &mut Vec<Entry>,
    ) -> Option<()> {
        let rest = self.rest[own];
        let needed = self.least.saturating_sub(rest);
        let [first, second] = parts.map(|part| self.cells[part].len());
        for one in 0..first {
            let entry = self.cells[parts[0]][one];
            // On a shorter first part the same way leaves more for the second.
            if !entry.tight[side] {
                continue;
            }
            for other in 0..second {
                let pair = [entry.way, self.cells[parts[1]][other].way];
                self.pairs = self.pairs.checked_sub(1)?;
                if pair.map(|way| self.ways[way as usize].1).iter().sum::<i64>() < needed {
                    // Ways are sorted, the one worth most first.
                    break;
                }
                let worth = self.add_up(pair);
                if worth >= needed && !self.is_outdone(entries)? {
                    let way = self.keep(Way::Cut(side as u8, pair[0], pair[1]), worth)?;
                    entries.push(way);
                }
            }
        }
        Some(())
    }

    /// Puts the pieces of two ways into `sum`, no more than the limits allow, and says what they are worth.
    fn add_up(&mut self, pair: [u32; 2]) -> i64 {
        let words = self.limits.len();
        let [one, other] = pair.map(|way| way as usize * words);
        let mut worth = pair.map(|way| self.ways[way as usize].1).iter().sum::<i64>();
        for word in 0..words {
            let (a, b) = (&self.counts[one + word], &self.counts[other + word]);
            let both: Lanes = std::array::from_fn(|lane| a[lane] + b[lane]);
            let limit = &self.limits[word];
            self.sum[word] = std::array::from_fn(|lane| both[lane].min(limit[lane]));
            if self.sum[word] != both {
                for (lane, (&both, &sum)) in both.iter().zip(&self.sum[word]).enumerate() {
                    let value = self.values.get(word * LANES + lane).copied().unwrap_or(0);
                    worth -= i64::from(both - sum) * value;
                }
            }
        }
        worth
    }

    /// Whether some way has no fewer of anything than `sum`.
    fn is_outdone(&mut self, entries: &[Entry]) -> Option<bool> {
        self.pairs = self.pairs.checked_sub(entries.len() / COMPARISONS)?;
        Some(entries.iter().any(|entry| covers(self.counts_of(entry.way), &self.sum)))
    }

    fn counts_of(&self, way: u32) -> &[Lanes] {
        let words = self.limits.len();
        &self.counts[way as usize * words..][..words]
    }

    fn keep(&mut self, way: Way, worth: i64) -> Option<Entry> {
        if self.ways.len() >= MOST_WAYS {
            return None;
        }
        self.ways.push((way, worth));
        self.counts.extend_from_slice(&self.sum);
        Some(Entry { way: self.ways.len() as u32 - 1, tight: [true; 2] })
    }

    /// Drops the ways that another outdoes, and sorts the others by worth.
    fn prune(&mut self, entries: &mut Vec<Entry>) -> Option<()> {
        entries.sort_by_key(|entry| {
            // One that outdoes another is worth no less and has more pieces.
            let counts = self.counts_of(entry.way).iter().flatten();
            let pieces: u64 = counts.map(|&count| u64::from(count)).sum();
            let inherited = entry.tight != [true; 2];
            (Reverse((self.ways[entry.way as usize].1, pieces)), !inherited)
        });
        let mut kept: Vec<Entry> = Vec::with_capacity(entries.len());
        for &entry in entries.iter() {
            self.pairs = self.pairs.checked_sub(kept.len() / COMPARISONS)?;
            let own = self.counts_of(entry.way);
            if !kept.iter().any(|other| covers(self.counts_of(other.way), own)) {
                kept.push(entry);
            }
        }
        *entries = kept;
        Some(())
    }

    /// The patterns of the whole sheet.
    fn patterns(&self, is_wanted: impl Fn(&[u64]) -> bool) -> Vec<Pattern> {
        let mut parts = vec![None; self.ways.len()];
        let whole = &self.cells[self.index(self.grid.top())];
        let counts = |entry: &Entry| -> Vec<u64> {
            let counts = self.counts_of(entry.way).iter().flatten();
            counts.take(self.values.len()).map(|&count| count.into()).collect()
        };
        whole
            .iter()
            .map(|entry| (counts(entry), entry.way))
            .filter(|(counts, _)| is_wanted(counts))
            .map(|(counts, way)| {
                let part = self.part(way, &mut parts);
                Pattern { counts, layout: self.laid_out(&part) }
            })
            .collect()
    }

    /// The surplus of a way over the limits is left out.
    fn laid_out(&self, part: &Part) -> Layout {
        let limits = self.limits.iter().flatten();
        let mut left: Vec<u64> = limits.map(|&limit| limit.into()).collect();
        lay_out(self.grid, &part.within(self.grid, &mut left))
    }

    fn part(&self, way: u32, known: &mut Vec<Option<Rc<Part>>>) -> Rc<Part> {
        if let Some(part) = &known[way as usize] {
            return part.clone();
        }
        let part = Rc::new(match self.ways[way as usize].0 {
            Way::Piece(seat) => Part::piece(self.grid, seat as usize),
            Way::Cut(side, one, other) => {
                Part::beside(side.into(), [self.part(one, known), self.part(other, known)])
            }
        });
        known[way as usize] = Some(part.clone());
        part
    }
}

fn lanes(limits: &[u64]) -> Lanes {
    let limit = |lane: usize| limits.get(lane).map_or(0, |&limit| limit.min(MOST_PIECES) as u8);
    std::array::from_fn(limit)
}

/// Whether one has no fewer of anything than the other.
fn covers(one: &[Lanes], other: &[Lanes]) -> bool {
    one.iter().zip(other).all(|(one, other)| {
        (0..LANES).fold(true, |covers, lane| covers & (one[lane] >= other[lane]))
    })
}

/// A seat on a plate.
struct Seated {
    shape: usize,
    fits: bool,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Length, Size};
    use crate::patterns::{Bench, counts};

    fn space(plate: (i64, i64), shapes: &[(i64, i64)]) -> Space {
        let size = |(w, h)| Size::new(Length::from_ticks(w), Length::from_ticks(h));
        let shape = |&sides| Shape { size: size(sides), upright: true, turned: false };
        let shapes: Vec<Shape> = shapes.iter().map(shape).collect();
        let length = |ticks| Length::from_ticks(ticks);
        let bench = Bench { blade: length(0), knife: length(1000), hold: length(0) };
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
            assert_eq!(counts(&pattern.layout, 3), pattern.counts);
        }
    }
}
