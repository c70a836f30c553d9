//! More pieces for the remnants of a layout.

use super::space::Space;
use super::{Bench, Content, Layout};
use crate::measure::{Area, Axis, Length, Size};

/// Puts pieces into the layout's remnants while some fit and are left: the most valuable first, into the
/// smallest remnant that takes it.
pub(super) fn fill(layout: &mut Layout, space: &Space, values: &[i64], left: &mut [u64]) {
    let mut shapes: Vec<usize> = (0..values.len()).filter(|&shape| values[shape] > 0).collect();
    shapes.sort_by_key(|&shape| std::cmp::Reverse(values[shape]));
    for shape in shapes {
        while left[shape] > 0 && put(layout, space, shape) {
            left[shape] -= 1;
        }
    }
}

fn put(layout: &mut Layout, space: &Space, shape: usize) -> bool {
    let kind = space.shapes[shape];
    let ways = [(kind.upright, false, kind.size), (kind.turned, true, kind.size.turned())];
    let ways = ways.into_iter().filter(|way| way.0);
    let mut fitting: Option<(&mut Layout, Layout)> = None;
    let mut remnants = Vec::new();
    collect(layout, &mut remnants);
    remnants.sort_by_key(|remnant| remnant.size.area());
    for remnant in remnants {
        let carved = ways.clone().find_map(|(_, turned, size)| {
            let piece = Layout { size, content: Content::Piece(shape, turned) };
            carve(remnant.size, piece, space.bench)
        });
        if let Some(carved) = carved {
            fitting = Some((remnant, carved));
            break;
        }
    }
    let Some((remnant, carved)) = fitting else { return false };
    *remnant = carved;
    true
}

fn collect<'a>(layout: &'a mut Layout, remnants: &mut Vec<&'a mut Layout>) {
    if layout.content == Content::Remnant {
        remnants.push(layout);
        return;
    }
    if let Content::CutX(_, first, second) | Content::CutY(_, first, second) = &mut layout.content {
        collect(first, remnants);
        collect(second, remnants);
    }
}

/// A plate of this size with the piece in its corner, cut so that the larger remnant is left; `None`
/// where it does not fit or the bench cannot cut it.
fn carve(plate: Size, piece: Layout, bench: Bench) -> Option<Layout> {
    if !piece.size.fits_in(plate) {
        return None;
    }
    let ways = [Axis::Width, Axis::Height].map(|first| {
        let inner =
            trim(plate.with(first, piece.size.along(first)), piece.clone(), first.other(), bench)?;
        trim(plate, inner, first, bench)
    });
    ways.into_iter().flatten().rev().max_by_key(largest_remnant)
}

/// The plate cut once so that `kept` is left, which differs along the axis at most.
fn trim(plate: Size, kept: Layout, axis: Axis, bench: Bench) -> Option<Layout> {
    if kept.size == plate {
        return Some(kept);
    }
    if plate.along(axis.other()) > bench.knife || plate.short() < bench.hold {
        return None;
    }
    let at = kept.size.along(axis);
    let rest = (plate.along(axis) - at - bench.blade).max(Length::ZERO);
    let rest = Box::new(Layout { size: plate.with(axis, rest), content: Content::Remnant });
    let content = match axis {
        Axis::Width => Content::CutX(at, Box::new(kept), rest),
        Axis::Height => Content::CutY(at, Box::new(kept), rest),
    };
    Some(Layout { size: plate, content })
}

fn largest_remnant(layout: &Layout) -> Area {
    match &layout.content {
        Content::CutX(_, first, second) | Content::CutY(_, first, second) => {
            largest_remnant(first).max(largest_remnant(second))
        }
        Content::Remnant => layout.size.area(),
        Content::Piece(..) => Area::ZERO,
    }
}
