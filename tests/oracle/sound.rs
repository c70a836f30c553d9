//! A judge of layouts that shares nothing with the search.

use cardwright::cuts::{Bench, Content, Cut, Layout, Leaf};
use cardwright::measure::{Axis, Length, Size};
use cardwright::patterns::Shape;

/// What a layout yields, or why it cannot be cut.
pub fn judge(layout: &Layout, shapes: &[Shape], bench: Bench) -> Result<Vec<u64>, String> {
    let mut counts = vec![0; shapes.len()];
    walk(layout, shapes, bench, &mut counts)?;
    Ok(counts)
}

fn walk(layout: &Layout, shapes: &[Shape], bench: Bench, counts: &mut [u64]) -> Result<(), String> {
    let size = layout.size;
    match &layout.content {
        Content::Leaf(Leaf::Remnant) => Ok(()),
        Content::Leaf(Leaf::Piece(shape, turned)) => {
            let kind = shapes[*shape];
            counts[*shape] += 1;
            let (allowed, lies) = match turned {
                false => (kind.upright, kind.size),
                true => (kind.turned, kind.size.turned()),
            };
            check(allowed && lies == size, || format!("piece {shape} does not lie as allowed"))
        }
        Content::Cut(Cut { axis, at, parts: both }) => {
            let (first, second) = (&both[0], &both[1]);
            let sides = |size: Size| match axis {
                Axis::Width => [size.width, size.height],
                Axis::Height => [size.height, size.width],
            };
            let [[whole, length], [near, near_length], [far, far_length]] =
                [size, first.size, second.size].map(sides);
            check(length <= bench.knife, || format!("{size:?} is too long for the knife"))?;
            check([near_length, far_length] == [length; 2], || {
                format!("parts of {size:?} are not as long as it")
            })?;
            parts(*at, [near, far], whole, second, bench)?;
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
    check(rest == Length::ZERO && second.content == Content::Leaf(Leaf::Remnant), || {
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
    let Content::Cut(cut) = &layout.content else { return 0 };
    1 + cut.parts.iter().map(depth).max().unwrap_or(0)
}

/// The sizes of all remnants that have an area.
pub fn remnants(layout: &Layout) -> Vec<Size> {
    match &layout.content {
        Content::Cut(cut) => cut.parts.iter().flat_map(remnants).collect(),
        Content::Leaf(Leaf::Remnant) if layout.size.is_positive() => vec![layout.size],
        _ => Vec::new(),
    }
}
