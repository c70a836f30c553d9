//! Patterns that keep to limits: good ones, found quickly.
//!
//! With limits on the number of pieces the plates of a sheet are no longer alike, and no dynamic program
//! over plates alone is exact. Three cheap ways are tried, and the best result is kept:
//!
//! 1. the free optimum over the raster of the limited sums, exact where it happens to keep the limits;
//! 2. one label a plate: the best way found so far with its counts ([`super::labels`]; in the manner of
//!    the state-space relaxations of Christofides & Hadjiconstantinou 1995 and Velasco & Uchoa 2019);
//! 3. penalties λ on the shapes that are used too often (Beasley 1985 with a subgradient):
//!    `Σ λ_i l_i + max Σ (v_i − λ_i) a_i` bounds every pattern a with a_i ≤ l_i from above, and each of
//!    its patterns, less its surplus pieces, keeps to the limits.
//!
//! Each result is completed with pieces that still fit in its remnants.

use super::grid::{Detail, Grid, Rounding};
use super::labels;
use super::lay_out::{gather, lay_out, worth};
use super::part::Core;
use super::solved::Solved;
use super::space::{Best, Space};
use super::{Shape, fill};
use crate::cuts::Layout;
use std::sync::Arc;

/// How often the penalties are adjusted, at most.
const MOST_ROUNDS: usize = 8;

/// Pairs of parts that all rounds may look at.
const MOST_PAIRS: usize = 100_000_000;

/// A pattern of the space with at most `limits[i]` pieces of shape i; `free` is the best without limits.
pub(super) fn search(space: &Space, free: &Best, values: &[i64], limits: &[u64]) -> Best {
    if keeps(&free.counts(), limits) {
        return free.clone();
    }
    let wanted = wanted(space, values, limits);
    let grid = Arc::new(grid(space, &wanted, limits));
    let loose = Solved::new(grid.clone(), values);
    if !grid.strict && keeps(&loose.counts(), limits) {
        return Best::solved(loose);
    }
    let question = Question { space, values, limits, grid };
    question.answer(&loose)
}

/// The sheet on the sums that the limits allow, which suit the labels; where these are too many, on
/// the reduced points of all sums if those are fewer.
fn grid(space: &Space, wanted: &[Shape], limits: &[u64]) -> Grid {
    let detail = Detail { rounding: Rounding::Up, points: space.points };
    let grid = |limits| Grid::new(space.plate, wanted, space.bench, limits, detail);
    let limited = grid(Some(limits));
    if limited.pairs() <= labels::MOST_PAIRS {
        return limited;
    }
    let reduced = grid(None);
    if reduced.pairs() < limited.pairs() { reduced } else { limited }
}

/// The shapes, less the ways to lie of those that are not wanted.
fn wanted(space: &Space, values: &[i64], limits: &[u64]) -> Vec<Shape> {
    let shapes = space.shapes.iter().zip(values.iter().zip(limits));
    shapes
        .map(|(shape, (&value, &limit))| {
            let wanted = value > 0 && limit > 0;
            Shape { upright: shape.upright && wanted, turned: shape.turned && wanted, ..*shape }
        })
        .collect()
}

fn keeps(counts: &[u64], limits: &[u64]) -> bool {
    counts.iter().zip(limits).all(|(count, limit)| count <= limit)
}

/// A layout, its value, and how few and large its remnants are.
struct Scored {
    merit: (i64, u128),
    layout: Layout,
}

/// Sum of the squares of the remnants' areas.
fn squares(layout: &Layout) -> u128 {
    layout.remnants().map(|size| size.area().square_ticks().unsigned_abs().pow(2)).sum()
}

struct Question<'a> {
    space: &'a Space,
    values: &'a [i64],
    limits: &'a [u64],
    grid: Arc<Grid>,
}

impl Question<'_> {
    /// The best pattern of all ways; `loose` is the best that need not keep the limits.
    fn answer(&self, loose: &Solved) -> Best {
        let mut best = self.complete(&labels::search(&self.grid, self.values, self.limits, loose));
        let mut penalties = vec![0; self.values.len()];
        let mut relaxed = loose.part();
        let mut bound = i128::from(loose.value());
        for _ in 0..self.rounds() {
            let found = self.complete(&relaxed);
            if found.merit > best.merit {
                best = found;
            }
            let gap = bound.min(self.all()) - i128::from(best.merit.0);
            let counts = relaxed.counts(&self.grid);
            if gap <= 0 || !raise(&counts, self.values, self.limits, &mut penalties, gap) {
                break;
            }
            let values = self.values.iter().zip(&penalties);
            let values: Vec<i64> = values.map(|(value, penalty)| value - penalty).collect();
            let solved = Solved::new(self.grid.clone(), &values);
            relaxed = solved.part();
            bound = i128::from(solved.value()) + self.total(&penalties);
        }
        Best::made(best.layout, self.values)
    }

    /// How often the penalties are adjusted: less often on a sheet with many cuts.
    fn rounds(&self) -> usize {
        (MOST_PAIRS / self.grid.pairs().max(1)).clamp(1, MOST_ROUNDS)
    }

    /// The part without its surplus, completed with pieces that still fit.
    fn complete(&self, part: &Core) -> Scored {
        let mut left = self.limits.to_vec();
        let part = part.within(&self.grid, &mut left);
        let mut layout = lay_out(&self.grid, &part);
        fill::fill(&mut layout, self.space, self.values, &mut left);
        if !self.grid.strict {
            // Pieces filled in keep their place in the tree, but the plates around them are trimmed anew.
            layout = lay_out(&self.grid, &gather(&self.grid, &layout));
        }
        layout.prune();
        Scored { merit: (worth(&layout, self.values), squares(&layout)), layout }
    }

    /// What all pieces that the limits allow would be worth.
    fn all(&self) -> i128 {
        let values: Vec<i64> = self.values.iter().map(|&value| value.max(0)).collect();
        self.total(&values)
    }

    /// Sum of a value a shape times its limit.
    fn total(&self, values: &[i64]) -> i128 {
        let pairs = values.iter().zip(self.limits).filter(|&(&value, _)| value > 0);
        pairs.map(|(&value, &limit)| i128::from(value) * i128::from(limit)).sum()
    }
}

/// One step of the subgradient on the penalties; `false` where there is no direction to go.
pub(super) fn raise(
    counts: &[u64],
    values: &[i64],
    limits: &[u64],
    penalties: &mut [i64],
    gap: i128,
) -> bool {
    let over = counts.iter().zip(limits).zip(penalties.iter());
    let over: Vec<i128> = over
        .map(|((&count, &limit), &penalty)| {
            let over = i128::from(count) - i128::from(limit);
            if over < 0 && penalty == 0 { 0 } else { over }
        })
        .collect();
    let squares: i128 = over.iter().map(|over| over.saturating_mul(*over)).sum();
    if squares == 0 {
        return false;
    }
    for ((penalty, over), &value) in penalties.iter_mut().zip(&over).zip(values) {
        let step = i128::from(*penalty) + gap.saturating_mul(*over) / squares;
        *penalty = step.clamp(0, i128::from(value.max(0))) as i64;
    }
    true
}
