//! A judge of layouts that shares nothing with the search.

use cardwright::measure::{Length, Size};
use cardwright::patterns::{Bench, Content, Layout, Shape};

/// What a layout yields, or why it cannot be cut.
pub fn judge(layout: &Layout, shapes: &[Shape], bench: Bench) -> Result<Vec<u64>, String> {
    let mut counts = vec![0; shapes.len()];
    walk(layout, shapes, bench, &mut counts)?;
    Ok(counts)
}

fn walk(layout: &Layout, shapes: &[Shape], bench: Bench, counts: &mut [u64]) -> Result<(), String> {
    let size = layout.size;
    match &layout.content {
        Content::Remnant => Ok(()),
        Content::Piece(shape, turned) => {
            let kind = shapes[*shape];
            counts[*shape] += 1;
            let (allowed, lies) = match turned {
                false => (kind.upright, kind.size),
                true => (kind.turned, kind.size.turned()),
            };
            check(allowed && lies == size, || format!("piece {shape} does not lie as allowed"))
        }
        Content::CutX(at, first, second) => {
            check(size.height <= bench.knife, || format!("{size:?} is too high for the knife"))?;
            check(first.size.height == size.height && second.size.height == size.height, || {
                format!("parts of {size:?} are not of its height")
            })?;
            parts(*at, [first.size.width, second.size.width], size.width, second, bench)?;
            held(size, bench)?;
            walk(first, shapes, bench, counts)?;
            walk(second, shapes, bench, counts)
        }
        Content::CutY(at, first, second) => {
            check(size.width <= bench.knife, || format!("{size:?} is too wide for the knife"))?;
            check(first.size.width == size.width && second.size.width == size.width, || {
                format!("parts of {size:?} are not of its width")
            })?;
            parts(*at, [first.size.height, second.size.height], size.height, second, bench)?;
            held(size, bench)?;
            walk(first, shapes, bench, counts)?;
            walk(second, shapes, bench, counts)
        }
    }
}

/// The first part ends at the cut, the second begins a blade later and ends with the plate; only a
/// remnant may vanish under the blade.
fn parts(
    at: Length,
    lengths: [Length; 2],
    whole: Length,
    second: &Layout,
    bench: Bench,
) -> Result<(), String> {
    let [first, rest] = lengths;
    check(first == at && at.is_positive() && at < whole, || format!("cut at {at:?} of {whole:?}"))?;
    let left = whole - at - bench.blade;
    if left.is_positive() {
        return check(rest == left, || format!("rest {rest:?}, not {left:?}"));
    }
    check(rest == Length::ZERO && second.content == Content::Remnant, || {
        format!("rest {rest:?} under the blade")
    })
}

fn held(size: Size, bench: Bench) -> Result<(), String> {
    check(size.short() >= bench.hold, || format!("{size:?} is too narrow to be held"))
}

fn check(holds: bool, otherwise: impl Fn() -> String) -> Result<(), String> {
    if holds { Ok(()) } else { Err(otherwise()) }
}

/// The longest chain of cuts.
pub fn depth(layout: &Layout) -> usize {
    match &layout.content {
        Content::CutX(_, first, second) | Content::CutY(_, first, second) => {
            1 + depth(first).max(depth(second))
        }
        _ => 0,
    }
}

/// The sizes of all remnants that have an area.
pub fn remnants(layout: &Layout) -> Vec<Size> {
    match &layout.content {
        Content::CutX(_, first, second) | Content::CutY(_, first, second) => {
            [remnants(first), remnants(second)].concat()
        }
        Content::Remnant if layout.size.is_positive() => vec![layout.size],
        _ => Vec::new(),
    }
}
