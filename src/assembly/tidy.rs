//! The same pieces from the same sheet with fewer and larger remnants.

use crate::cuts::{Bench, Layout, Leaf, Tree};
use crate::measure::{Axis, Length};

/// Gathers the remnants of every division at its far end, joins them, and drops cuts between remnants.
/// Where the bench could not cut what that leaves, all stays as it is.
pub(super) fn tidy(layout: Layout, bench: Bench) -> Layout {
    let gathered = gather(&layout, bench.blade);
    if bench.can_make(&gathered) { gathered } else { layout }
}

fn gather(layout: &Layout, blade: Length) -> Layout {
    let (size, Some(cut)) = (layout.size, layout.cut()) else { return layout.clone() };
    let mut strips = Vec::new();
    divide(layout, cut.axis, &mut strips);
    let strips = strips.into_iter().map(|strip| gather(strip, blade));
    let (remnants, mut kept): (Vec<Layout>, Vec<Layout>) = strips.partition(Layout::is_remnant);
    if kept.is_empty() {
        return Layout::remnant(size);
    }
    if !remnants.is_empty() {
        let taken: Length = kept.iter().map(|strip| strip.size.along(cut.axis) + blade).sum();
        let left = (size.along(cut.axis) - taken).max(Length::ZERO);
        kept.push(Layout::remnant(size.with(cut.axis, left)));
    }
    Layout::in_strips(size, cut.axis, &kept, blade)
}

/// The strips of consecutive cuts along one axis, near to far.
fn divide<'a>(layout: &'a Layout, axis: Axis, strips: &mut Vec<&'a Layout>) {
    match layout.cut().filter(|cut| cut.axis == axis) {
        Some(cut) => cut.parts.iter().for_each(|part| divide(part, axis, strips)),
        None => strips.push(layout),
    }
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
    fewer.leave_out(&mut left);
    Some(fewer)
}

/// The layouts that come from leaving one place of shape `shape` uncut, one at a time: a sheet of many small
/// pieces has too many of them to be held at once.
pub(super) fn without_one(layout: &Layout, shape: usize) -> impl Iterator<Item = Layout> + '_ {
    let is_it =
        move |end: &Layout| matches!(end.leaf(), Some(&Leaf::Piece(one, _)) if one == shape);
    layout.with_one(is_it, |piece| Layout::remnant(piece.size))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Size;

    const KNIFE: Bench = Bench {
        blade: Length::ZERO,
        knife: Length::from_mm(1000),
        hold: Length::ZERO,
        stages: None,
    };

    fn mm(width: i64, height: i64) -> Size {
        Size::new(Length::from_mm(width), Length::from_mm(height))
    }

    fn piece(width: i64, height: i64, shape: usize) -> Layout {
        Layout::piece(mm(width, height), shape, false)
    }

    fn remnant(width: i64, height: i64) -> Layout {
        Layout::remnant(mm(width, height))
    }

    fn beside(parts: [Layout; 2]) -> Layout {
        let width = parts[0].size.width + parts[1].size.width;
        Layout::divided(parts[0].size.with(Axis::Width, width), Axis::Width, parts)
    }

    #[test]
    fn remnants_between_strips_become_one_at_the_far_end() {
        let inner = beside([piece(40, 10, 0), remnant(20, 10)]);
        let tidied = tidy(beside([remnant(40, 10), inner]), KNIFE);
        assert_eq!(tidied.remnants().collect::<Vec<_>>(), [mm(60, 10)]);
    }

    #[test]
    fn a_thousand_strips_make_a_shallow_tree() {
        let strips = vec![piece(1, 10, 0); 1000];
        let layout = Layout::in_strips(mm(1000, 10), Axis::Width, &strips, Length::ZERO);
        assert_eq!(layout.depth(), 10);
    }

    #[test]
    fn a_place_left_uncut_joins_its_neighbour() {
        let layout = beside([piece(40, 10, 3), remnant(60, 10)]);
        let fewer: Vec<Layout> = without_one(&layout, 3).collect();
        assert_eq!(fewer.len(), 1);
        let tidied = tidy(fewer[0].clone(), KNIFE);
        assert_eq!(tidied.remnants().collect::<Vec<_>>(), [mm(100, 10)]);
    }

    #[test]
    fn every_place_is_left_uncut_once() {
        let strips = [1, 0, 1, 2, 1].map(|shape| piece(10, 10, shape));
        let layout = Layout::in_strips(mm(50, 10), Axis::Width, &strips, Length::ZERO);
        let shape = |leaf: &Leaf| match leaf {
            Leaf::Piece(shape, _) => Some(*shape),
            Leaf::Remnant => None,
        };
        let shapes = |layout: &Layout| layout.leaves().map(shape).collect::<Vec<_>>();
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
