//! The trims that square a rough sheet before anything is measured.
//!
//! A mill edge is neither straight nor square, so work starts from cut edges (N. Gray, Paper-Cutting
//! Machines, 1918: work from the same two edges throughout). Two trims make a true corner: the first lies with an outer edge
//! against the fence, the second with the fresh edge against the side lay. Whatever follows lies with a fresh edge against
//! the fence and another one against the side lay. The gauge is what stays.

use super::{CutLine, Edge};
use crate::cuts::{Cut, Tree};
use crate::measure::{Axis, Length, Size};
use crate::plan::{Leaf, Node};

/// One edge taken off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Trim {
    /// The direction in which the gauge measures.
    pub axis: Axis,
    /// What stays, and so the gauge.
    pub gauge: Length,
    /// The edge against the fence, across from the one that falls off.
    pub fence: Edge,
    /// The fresh edge against the side lay, once there is one.
    pub side_lay: Option<Edge>,
    /// The sheet before it.
    pub from: Size,
    /// The sheet after it.
    pub rest: Size,
    /// What falls off.
    pub waste: Size,
    /// Where the waste begins on the sheet.
    pub corner: (Length, Length),
    /// Where it lies on the sheet.
    pub line: CutLine,
}

/// The trims at the top of a tree, in the order of work, and the sheet that they leave.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Squared<'plan> {
    pub trims: Vec<Trim>,
    pub inner: &'plan Node,
}

/// Takes the trims off the tree: cuts that throw away an edge of the sheet which, with the blade, is
/// `squaring` wide; a blade wider than that leaves nothing of the edge. Nothing is taken where
/// `squaring` is zero.
pub(super) fn square(sheet: &Node, squaring: Length, blade: Length) -> Squared<'_> {
    let trim = (squaring - blade).max(Length::ZERO);
    let mut inner = sheet;
    let mut edges = Vec::new();
    while squaring.is_positive() {
        let Some((edge, rest)) = peel(inner, sheet.size, trim) else { break };
        edges.push(edge);
        inner = rest;
    }
    Squared { trims: trims(&edges, sheet.size, squaring, trim), inner }
}

fn peel(node: &Node, sheet: Size, trim: Length) -> Option<(Edge, &Node)> {
    let Cut { axis, parts, .. } = node.cut()?;
    let (axis, [near, far]) = (*axis, parts.as_ref());
    let is_trim = |part: &Node| part.leaf() == Some(&Leaf::Waste) && part.size.along(axis) == trim;
    if is_trim(near) && near.start(axis) == Length::ZERO {
        return Some((Edge::start(axis), far));
    }
    let reaches_end = far.start(axis) + far.size.along(axis) == sheet.along(axis);
    (is_trim(far) && reaches_end).then_some((Edge::end(axis), near))
}

fn trims(edges: &[Edge], sheet: Size, squaring: Length, trim: Length) -> Vec<Trim> {
    let (mut x, mut y, mut size) = (Length::ZERO, Length::ZERO, sheet);
    let mut trims: Vec<Trim> = Vec::new();
    for (number, edge) in edges.iter().enumerate() {
        let axis = edge.axis();
        let gauge = size.along(axis) - squaring;
        let offset = if edge.is_start() { trim } else { gauge };
        let line = match axis {
            Axis::Width => CutLine { x1: x + offset, y1: y, x2: x + offset, y2: y + size.height },
            Axis::Height => CutLine { x1: x, y1: y + offset, x2: x + size.width, y2: y + offset },
        };
        let (from, rest) = (size, size.with(axis, gauge));
        let begin = if edge.is_start() { Length::ZERO } else { from.along(axis) - trim };
        let corner = match axis {
            Axis::Width => (x + begin, y),
            Axis::Height => (x, y + begin),
        };
        let waste = size.with(axis, trim);
        let fence = edge.opposite();
        let side_lay = edges[..number].iter().find(|fresh| fresh.axis() != axis).copied();
        trims.push(Trim { axis, gauge, fence, side_lay, from, rest, waste, corner, line });
        size = rest;
        match (edge.is_start(), axis) {
            (true, Axis::Width) => x += squaring,
            (true, Axis::Height) => y += squaring,
            (false, _) => {}
        }
    }
    trims
}

#[cfg(test)]
mod tests {
    use super::super::tests::trees::{piece, squared};
    use super::*;

    fn mm(length: i64) -> Length {
        Length::from_mm(length)
    }

    #[test]
    fn a_square_sheet_is_squared_at_two_settings() {
        let tree = squared(piece(94, 94), 3, 0).at(0, 0);
        let found = square(&tree, mm(3), Length::ZERO);
        assert_eq!(found.inner.leaf(), Some(&Leaf::Piece("p".to_owned(), false)));
        let gauges: Vec<_> = found.trims.iter().map(|trim| (trim.axis, trim.gauge)).collect();
        assert_eq!(
            gauges,
            [
                (Axis::Width, mm(97)),
                (Axis::Height, mm(97)),
                (Axis::Width, mm(94)),
                (Axis::Height, mm(94)),
            ]
        );
    }

    #[test]
    fn a_corner_is_made_true_before_anything_else() {
        let tree = squared(piece(94, 44), 3, 1).at(0, 0);
        let found = square(&tree, mm(3), mm(1));
        let gauges: Vec<_> = found.trims.iter().map(|trim| (trim.axis, trim.gauge)).collect();
        assert_eq!(
            gauges,
            [
                (Axis::Width, mm(97)),
                (Axis::Height, mm(47)),
                (Axis::Width, mm(94)),
                (Axis::Height, mm(44)),
            ]
        );
        let fences: Vec<_> = found.trims.iter().map(|trim| trim.fence).collect();
        assert_eq!(fences, [Edge::Right, Edge::Bottom, Edge::Left, Edge::Top]);
        let side_lays: Vec<_> = found.trims.iter().map(|trim| trim.side_lay).collect();
        assert_eq!(side_lays, [None, Some(Edge::Left), Some(Edge::Top), Some(Edge::Left)]);
        assert_eq!(found.trims[0].waste, Size::new(mm(2), mm(50)));
        assert_eq!(found.trims[0].line, CutLine { x1: mm(2), y1: mm(0), x2: mm(2), y2: mm(50) });
        assert_eq!(found.trims[3].line, CutLine { x1: mm(3), y1: mm(47), x2: mm(97), y2: mm(47) });
    }

    #[test]
    fn without_squaring_an_edge_of_waste_is_waste() {
        let tree = squared(piece(94, 44), 3, 0).at(0, 0);
        assert!(square(&tree, Length::ZERO, Length::ZERO).trims.is_empty());
        assert!(square(&tree, mm(2), Length::ZERO).trims.is_empty());
    }
}
