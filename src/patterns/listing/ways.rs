//! Ways to cut plates, and which of them outdo others.

use super::super::grid::Grid;
use super::super::part::Core;
use std::cmp::Reverse;
use std::rc::Rc;

/// Ways that are kept, at most.
const MOST_WAYS: usize = 300_000;
/// Pieces of one shape on a sheet, at most; above, sheets are not listed.
pub(super) const MOST_PIECES: u64 = 100;
/// Comparisons of ways that count as much as a pair.
const COMPARISONS: usize = 8;

/// Shapes that are counted side by side.
const LANES: usize = 16;
type Lanes = [u8; LANES];

/// A way to cut a plate.
#[derive(Clone, Copy, Debug)]
pub(super) enum PlateWay {
    /// The piece of a seat.
    Piece(u32),
    /// Side, and the ways of the two parts.
    Cut(u8, u32, u32),
}

/// A way of a plate, and whether the next shorter plate lacks it, by side.
#[derive(Clone, Copy, Debug)]
pub(super) struct Listed {
    pub way: u32,
    pub tight: [bool; 2],
}

/// All ways found so far.
pub(super) struct Ways<'a> {
    values: &'a [i64],
    limits: Vec<Lanes>,
    /// Each with its worth.
    ways: Vec<(PlateWay, i64)>,
    /// Pieces by shape of all ways.
    counts: Vec<Lanes>,
    /// Pieces by shape of the pair that was added up last.
    sum: Vec<Lanes>,
    /// Pairs that may still be looked at.
    pub pairs: usize,
}

impl<'a> Ways<'a> {
    /// None yet, of pieces with these values, within these limits.
    pub fn new(values: &'a [i64], limits: &[u64], pairs: usize) -> Ways<'a> {
        Ways {
            values,
            limits: limits.chunks(LANES).map(lanes).collect(),
            ways: Vec::new(),
            counts: Vec::new(),
            sum: vec![[0; LANES]; limits.len().div_ceil(LANES)],
            pairs,
        }
    }

    /// What a way is worth.
    pub fn worth(&self, way: u32) -> i64 {
        self.ways[way as usize].1
    }

    /// Keeps the way that is one piece.
    pub fn keep_piece(&mut self, seat: usize, shape: usize) -> Option<Listed> {
        self.sum.fill([0; LANES]);
        self.sum[shape / LANES][shape % LANES] = 1;
        self.keep(PlateWay::Piece(seat as u32), self.values[shape])
    }

    /// Puts the pieces of two ways into `sum`, no more than the limits allow, and says what they are worth.
    pub fn add_up(&mut self, pair: [u32; 2]) -> i64 {
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

    /// Whether some way has no fewer of anything than `sum`; `None` where the work is used up.
    pub fn is_outdone(&mut self, entries: &[Listed]) -> Option<bool> {
        self.pairs = self.pairs.checked_sub(entries.len() / COMPARISONS)?;
        Some(entries.iter().any(|entry| covers(self.counts_of(entry.way), &self.sum)))
    }

    fn counts_of(&self, way: u32) -> &[Lanes] {
        let words = self.limits.len();
        &self.counts[way as usize * words..][..words]
    }

    /// Keeps a way with the pieces of `sum`; `None` where there are too many ways.
    pub fn keep(&mut self, way: PlateWay, worth: i64) -> Option<Listed> {
        if self.ways.len() >= MOST_WAYS {
            return None;
        }
        self.ways.push((way, worth));
        self.counts.extend_from_slice(&self.sum);
        Some(Listed { way: self.ways.len() as u32 - 1, tight: [true; 2] })
    }

    /// Drops the ways that another outdoes, and sorts the others by worth.
    pub fn prune(&mut self, entries: &mut Vec<Listed>) -> Option<()> {
        entries.sort_by_key(|entry| {
            // One that outdoes another is worth no less and has more pieces.
            let counts = self.counts_of(entry.way).iter().flatten();
            let pieces: u64 = counts.map(|&count| u64::from(count)).sum();
            let inherited = entry.tight != [true; 2];
            (Reverse((self.ways[entry.way as usize].1, pieces)), !inherited)
        });
        let mut kept: Vec<Listed> = Vec::with_capacity(entries.len());
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

    /// Pieces by shape of a way.
    pub fn pieces(&self, way: u32) -> Vec<u64> {
        let counts = self.counts_of(way).iter().flatten();
        counts.take(self.values.len()).map(|&count| count.into()).collect()
    }

    /// A way without its surplus over the limits.
    pub fn within(&self, way: u32, grid: &Grid, known: &mut Vec<Option<Rc<Core>>>) -> Core {
        let mut left: Vec<u64> = self.limits.iter().flatten().map(|&limit| limit.into()).collect();
        known.resize(self.ways.len(), None);
        self.part(way, grid, known).within(grid, &mut left)
    }

    fn part(&self, way: u32, grid: &Grid, known: &mut Vec<Option<Rc<Core>>>) -> Rc<Core> {
        if let Some(part) = &known[way as usize] {
            return part.clone();
        }
        let part = Rc::new(match self.ways[way as usize].0 {
            PlateWay::Piece(seat) => Core::piece(grid, seat as usize),
            PlateWay::Cut(side, one, other) => Core::beside(
                side.into(),
                [self.part(one, grid, known), self.part(other, grid, known)],
            ),
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
