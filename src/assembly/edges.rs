//! The trims that take the rough edges off a full sheet, as the top of its cut tree.

use crate::cuts::Cut;
use crate::measure::{Axis, Length};
use crate::plan::{Content, Leaf, Node};
use crate::workshop::Trimmer;

/// The plate `core` with the two rough edges that it had in this direction: the near one comes off first.
pub(super) fn with_edges(core: Node, axis: Axis, trimmer: &Trimmer) -> Node {
    let Trimmer { squaring, blade, .. } = *trimmer;
    let like = Node { x: core.x, y: core.y, size: core.size, content: WASTE };
    let start = match axis {
        Axis::Width => core.x,
        Axis::Height => core.y,
    };
    let length = core.size.along(axis);
    let edge = |at: Length| plate(&like, axis, at, squaring - blade, WASTE);
    let (near, far) = (edge(start - squaring), edge(start + length + blade));
    let rest = cut(axis, start + length, [core, far]);
    let rest = plate(&like, axis, start, length + squaring, rest);
    let whole = cut(axis, start - blade, [near, rest]);
    plate(&like, axis, start - squaring, length + squaring * 2, whole)
}

const WASTE: Content = Content::Leaf(Leaf::Waste);

/// A plate like another one, but from `start` on and so long in this direction.
fn plate(like: &Node, axis: Axis, start: Length, length: Length, content: Content) -> Node {
    let size = like.size.with(axis, length);
    match axis {
        Axis::Width => Node { x: start, y: like.y, size, content },
        Axis::Height => Node { x: like.x, y: start, size, content },
    }
}

fn cut(axis: Axis, at: Length, parts: [Node; 2]) -> Content {
    Content::Cut(Cut::new(axis, at, parts))
}
