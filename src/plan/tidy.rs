//! The same pieces from the same sheet with fewer and larger remnants.

use crate::measure::{Axis, Length, Size};
use crate::patterns::{Content, Layout, counts, leave_out};

/// What tidying has to respect.
#[derive(Clone, Copy)]
pub(super) struct Trimming {
    /// Width lost per cut.
    pub blade: Length,
    /// Narrowest plate that can be held while it is cut.
    pub hold: Length,
}

/// Gathers the remnants of every division at its far end, joins them, and drops cuts between remnants.
/// Where that leaves a plate too narrow to be held, all stays as it is.
pub(super) fn tidy(layout: Layout, trimming: Trimming) -> Layout {
    let gathered = gather(layout.clone(), trimming.blade);
    if can_be_held(&gathered, trimming.hold) { gathered } else { layout }
}

fn gather(layout: Layout, blade: Length) -> Layout {
    let size = layout.size;
    let axis = match layout.content {
        Content::CutX(..) => Axis::Width,
        Content::CutY(..) => Axis::Height,
        Content::Piece(..) | Content::Remnant => return layout,
    };
    let mut strips = Vec::new();
    divide(layout, axis, &mut strips);
    let strips = strips.into_iter().map(|strip| gather(strip, blade));
    let (remnants, mut kept): (Vec<Layout>, Vec<Layout>) =
        strips.partition(|strip| strip.content == Content::Remnant);
    if kept.is_empty() {
        return Layout { size, content: Content::Remnant };
    }
    if !remnants.is_empty() {
        let taken: Length = kept.iter().map(|strip| strip.size.along(axis) + blade).sum();
        let left = (size.along(axis) - taken).max(Length::ZERO);
        kept.push(Layout { size: size.with(axis, left), content: Content::Remnant });
    }
    join(kept, size, axis, blade)
}

/// The strips of consecutive cuts along one axis, near to far.
fn divide(layout: Layout, axis: Axis, strips: &mut Vec<Layout>) {
    match (layout.content, axis) {
        (Content::CutX(_, near, far), Axis::Width)
        | (Content::CutY(_, near, far), Axis::Height) => {
            divide(*near, axis, strips);
            divide(*far, axis, strips);
        }
        (content, _) => strips.push(Layout { size: layout.size, content }),
    }
}

/// A cut tree of these strips; halved, so that many strips make no deep tree.
fn join(mut strips: Vec<Layout>, size: Size, axis: Axis, blade: Length) -> Layout {
    if strips.len() == 1 {
        return strips.swap_remove(0);
    }
    let far = strips.split_off(strips.len() / 2);
    let length = |strips: &[Layout]| -> Length {
        let sum: Length = strips.iter().map(|strip| strip.size.along(axis)).sum();
        sum + blade * (strips.len() as i64 - 1)
    };
    let at = length(&strips);
    let rest = (size.along(axis) - at - blade).max(Length::ZERO);
    let near = Box::new(join(strips, size.with(axis, at), axis, blade));
    let far = Box::new(join(far, size.with(axis, rest), axis, blade));
    let content = match axis {
        Axis::Width => Content::CutX(at, near, far),
        Axis::Height => Content::CutY(at, near, far),
    };
    Layout { size, content }
}

/// The layout, which `yields` so many of each shape, without the last `count` places of one shape; `None` where it has
/// no more of them, or no piece besides: a sheet from which nothing is cut would not be used at all, which is
/// a matter of level 2.
pub(super) fn without_last(
    layout: &Layout,
    yields: &[u64],
    shape: usize,
    count: u64,
) -> Option<Layout> {
    let mut left = yields.to_vec();
    left[shape] = left[shape].checked_sub(count)?;
    if left.iter().all(|left| *left == 0) {
        return None;
    }
    let mut fewer = layout.clone();
    leave_out(&mut fewer, &mut left);
    Some(fewer)
}

/// The layouts that come from leaving one place of shape `shape` uncut, one at a time: a sheet of many small
/// pieces has too many of them to be held at once.
pub(super) fn without_one(layout: &Layout, shape: usize) -> impl Iterator<Item = Layout> + '_ {
    let places = counts(layout, shape + 1)[shape];
    (0..places).map(move |place| without(layout, shape, &mut Some(place)))
}

/// The layout without the place that is `left` places of its shape away; `None` where it was passed.
fn without(layout: &Layout, shape: usize, left: &mut Option<u64>) -> Layout {
    let mut part = |part: &Layout| Box::new(without(part, shape, left));
    let content = match &layout.content {
        Content::CutX(at, near, far) => Content::CutX(*at, part(near), part(far)),
        Content::CutY(at, near, far) => Content::CutY(*at, part(near), part(far)),
        Content::Piece(found, turned) => {
            let is_it = *found == shape && *left == Some(0);
            if *found == shape {
                *left = left.and_then(|left| left.checked_sub(1));
            }
            if is_it { Content::Remnant } else { Content::Piece(*found, *turned) }
        }
        Content::Remnant => Content::Remnant,
    };
    Layout { size: layout.size, content }
}

/// Whether every plate that is cut can be held: both its sides reach `hold`.
fn can_be_held(layout: &Layout, hold: Length) -> bool {
    match &layout.content {
        Content::Piece(..) | Content::Remnant => true,
        Content::CutX(_, near, far) | Content::CutY(_, near, far) => {
            layout.size.short() >= hold && can_be_held(near, hold) && can_be_held(far, hold)
        }
    }
}

/// The sizes of all remnants.
pub(super) fn remnants(layout: &Layout) -> Vec<Size> {
    match &layout.content {
        Content::Remnant => vec![layout.size],
        Content::Piece(..) => Vec::new(),
        Content::CutX(_, near, far) | Content::CutY(_, near, far) => {
            let mut sizes = remnants(near);
            sizes.extend(remnants(far));
            sizes
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KNIFE: Trimming = Trimming { blade: Length::ZERO, hold: Length::ZERO };

    fn mm(width: i64, height: i64) -> Size {
        Size::new(Length::from_mm(width), Length::from_mm(height))
    }

    fn leaf(width: i64, height: i64, content: Content) -> Box<Layout> {
        Box::new(Layout { size: mm(width, height), content })
    }

    #[test]
    fn remnants_between_strips_become_one_at_the_far_end() {
        let inner = leaf(
            60,
            10,
            Content::CutX(
                Length::from_mm(40),
                leaf(40, 10, Content::Piece(0, false)),
                leaf(20, 10, Content::Remnant),
            ),
        );
        let layout = Layout {
            size: mm(100, 10),
            content: Content::CutX(Length::from_mm(40), leaf(40, 10, Content::Remnant), inner),
        };
        assert_eq!(remnants(&tidy(layout, KNIFE)), vec![mm(60, 10)]);
    }

    #[test]
    fn a_thousand_strips_make_a_shallow_tree() {
        let strips: Vec<Layout> =
            (0..1000).map(|_| *leaf(1, 10, Content::Piece(0, false))).collect();
        fn depth(layout: &Layout) -> usize {
            match &layout.content {
                Content::CutX(_, a, b) | Content::CutY(_, a, b) => 1 + depth(a).max(depth(b)),
                _ => 0,
            }
        }
        assert_eq!(depth(&join(strips, mm(1000, 10), Axis::Width, Length::ZERO)), 10);
    }

    #[test]
    fn a_place_left_uncut_joins_its_neighbour() {
        let layout = Layout {
            size: mm(100, 10),
            content: Content::CutX(
                Length::from_mm(40),
                leaf(40, 10, Content::Piece(3, false)),
                leaf(60, 10, Content::Remnant),
            ),
        };
        let fewer: Vec<Layout> = without_one(&layout, 3).collect();
        assert_eq!(fewer.len(), 1);
        assert_eq!(remnants(&tidy(fewer[0].clone(), KNIFE)), vec![mm(100, 10)]);
    }

    #[test]
    fn every_place_is_left_uncut_once() {
        let strips = [1, 0, 1, 2, 1].map(|shape| *leaf(10, 10, Content::Piece(shape, false)));
        let layout = join(strips.to_vec(), mm(50, 10), Axis::Width, Length::ZERO);
        fn shapes(layout: &Layout) -> Vec<Option<usize>> {
            match &layout.content {
                Content::CutX(_, a, b) | Content::CutY(_, a, b) => [shapes(a), shapes(b)].concat(),
                Content::Piece(shape, _) => vec![Some(*shape)],
                Content::Remnant => vec![None],
            }
        }
        let fewer: Vec<_> = without_one(&layout, 1).map(|fewer| shapes(&fewer)).collect();
        let full = [Some(1), Some(0), Some(1), Some(2), Some(1)];
        let expected = [0, 2, 4].map(|place| {
            let mut fewer = full;
            fewer[place] = None;
            fewer.to_vec()
        });
        assert_eq!(fewer, expected);
        assert_eq!(without_one(&layout, 7).count(), 0);
    }
}
