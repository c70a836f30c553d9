//! More pieces for the remnants of a layout.

use super::space::Space;
use crate::cuts::{Bench, Layout};
use crate::measure::{Area, Axis, Size};
use std::cmp::Reverse;

/// Puts pieces into the layout's remnants while some fit and are left: the most valuable first, into the
/// smallest remnant that takes it, as many as fit there in one block.
pub(super) fn fill(layout: &mut Layout, space: &Space, values: &[i64], left: &mut [u64]) {
    let mut shapes: Vec<usize> = (0..values.len()).filter(|&shape| values[shape] > 0).collect();
    shapes.sort_by_key(|&shape| std::cmp::Reverse(values[shape]));
    for shape in shapes {
        while left[shape] > 0 {
            match put(layout, space, shape, left[shape]) {
                0 => break,
                many => left[shape] -= many,
            }
        }
    }
}

/// How many pieces found a place.
fn put(layout: &mut Layout, space: &Space, shape: usize, left: u64) -> u64 {
    if let Some(most) = space.bench.stages {
        return put_in_stages(layout, space, shape, left, most);
    }
    for (at, plate) in smallest_first(layout) {
        if let Some((many, filled)) = blocks(plate, space, shape, left) {
            layout.replace(at, Layout::is_remnant, |_| filled);
            return many;
        }
    }
    0
}

/// The same where the stages are limited: the first place and block with which the layout has no more of them.
fn put_in_stages(layout: &mut Layout, space: &Space, shape: usize, left: u64, most: u32) -> u64 {
    for (at, plate) in smallest_first(layout) {
        let mut ways = ways(plate, space, shape, left);
        ways.sort_by_key(|(many, laid)| Reverse((*many, largest_remnant(laid))));
        for (many, laid) in ways {
            let mut tried = layout.clone();
            tried.replace(at, Layout::is_remnant, |_| laid);
            if tried.stages() <= most {
                *layout = tried;
                return many;
            }
        }
    }
    0
}

/// The remnants, each with its number from near to far.
fn smallest_first(layout: &Layout) -> Vec<(usize, Size)> {
    let mut remnants: Vec<(usize, Size)> = layout.remnants().enumerate().collect();
    remnants.sort_by_key(|(_, size)| size.area());
    remnants
}

/// The block of most pieces in the plate's corner: how many, and the plate cut so.
fn blocks(plate: Size, space: &Space, shape: usize, left: u64) -> Option<(u64, Layout)> {
    let merit = |way: &(u64, Layout)| (way.0, largest_remnant(&way.1));
    // The first of equals.
    let better = |best, way| if merit(&way) > merit(&best) { way } else { best };
    ways(plate, space, shape, left).into_iter().reduce(better)
}

/// Blocks of a shape in the plate's corner: how many pieces, and the plate cut so.
fn ways(plate: Size, space: &Space, shape: usize, left: u64) -> Vec<(u64, Layout)> {
    let kind = space.shapes[shape];
    let bench = space.bench;
    let mut found = Vec::new();
    for (turned, size) in [(false, kind.size), (true, kind.size.turned())] {
        let allowed = if turned { kind.turned } else { kind.upright };
        if !allowed || !size.fits_in(plate) {
            continue;
        }
        let block = Block { piece: Layout::piece(size, shape, turned), bench };
        let [wide, high] = [Axis::Width, Axis::Height].map(|axis| block.most(plate, left, axis));
        // A single line needs fewer stages than a block.
        let lines = [[wide[0], 1], [1, high[1]]];
        let lines = if bench.stages.is_some() { &lines[..] } else { &[] };
        for &many in [wide, high, [1, 1]].iter().chain(lines) {
            let laid = block.lay(many).and_then(|laid| carve(plate, laid, bench));
            found.extend(laid.map(|laid| (many[0] * many[1], laid)));
        }
    }
    found
}

/// Equal pieces in rows and columns.
struct Block {
    piece: Layout,
    bench: Bench,
}

impl Block {
    /// The columns and rows that fit, with whole lines along `first` before a second line begins.
    fn most(&self, plate: Size, left: u64, first: Axis) -> [u64; 2] {
        let fits = |axis: Axis| {
            let blade = self.bench.blade;
            let number =
                (plate.along(axis) + blade).ticks() / (self.piece.size.along(axis) + blade).ticks();
            number.unsigned_abs()
        };
        let line = fits(first).min(left);
        let lines = fits(first.other()).min(left / line.max(1));
        match first {
            Axis::Width => [line, lines],
            Axis::Height => [lines, line],
        }
    }

    /// The block halved again and again; `None` where the bench cannot cut it.
    fn lay(&self, many: [u64; 2]) -> Option<Layout> {
        let size = self.size(many);
        if many == [1, 1] {
            return Some(self.piece.clone());
        }
        let mut axes = [Axis::Width, Axis::Height];
        if many[1] > many[0] {
            axes.reverse();
        }
        axes.into_iter().find_map(|axis| self.halve(many, size, axis))
    }

    fn halve(&self, many: [u64; 2], size: Size, axis: Axis) -> Option<Layout> {
        let side = usize::from(axis == Axis::Height);
        if many[side] < 2 || !self.bench.can_cut(size, axis) {
            return None;
        }
        let mut parts = [many, many];
        parts[0][side] = many[side].div_ceil(2);
        parts[1][side] = many[side] / 2;
        let [first, second] = parts.map(|part| self.lay(part));
        Some(Layout::divided(size, axis, [first?, second?]))
    }

    fn size(&self, many: [u64; 2]) -> Size {
        let blade = self.bench.blade;
        let long =
            |axis: Axis, many: u64| (self.piece.size.along(axis) + blade) * many as i64 - blade;
        Size::new(long(Axis::Width, many[0]), long(Axis::Height, many[1]))
    }
}

/// A plate of this size with the layout in its corner, cut so that the larger remnant is left; `None`
/// where the bench cannot cut it.
fn carve(plate: Size, inner: Layout, bench: Bench) -> Option<Layout> {
    let ways = [Axis::Height, Axis::Width].map(|first| {
        let half = plate.with(first, inner.size.along(first));
        let half = trim(half, inner.clone(), first.other(), bench)?;
        trim(plate, half, first, bench)
    });
    ways.into_iter().flatten().max_by_key(largest_remnant)
}

/// The plate cut once so that `kept` is left, which differs along the axis at most.
fn trim(plate: Size, kept: Layout, axis: Axis, bench: Bench) -> Option<Layout> {
    if kept.size == plate {
        return Some(kept);
    }
    if !bench.can_cut(plate, axis) {
        return None;
    }
    let rest = Layout::remnant(bench.rest(plate, axis, kept.size.along(axis)));
    Some(Layout::divided(plate, axis, [kept, rest]))
}

fn largest_remnant(layout: &Layout) -> Area {
    layout.remnants().map(Size::area).max().unwrap_or_default()
}
