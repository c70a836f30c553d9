//! The rough edges of a sheet, in its cut tree.
//!
//! Two edges that meet come off first: they make the true corner from which all else is measured. The far two come off by
//! cuts of their own. With [`RoughEdges::Two`], such a cut is spared where nothing but waste lies along the edge: the cuts
//! that part it from the pieces take the edge off, too.

use crate::cuts::{self, Cut, Layout, Tree};
use crate::measure::{Axis, Length, Size};
use crate::plan::{Content, Leaf, Node};
use crate::stock::{RoughEdges, Sheet};
use crate::workshop::{Trimmer, Workshop};

/// The edges of one rough sheet.
pub(super) struct Edges<'a> {
    workshop: &'a Workshop,
    /// In this order they come off.
    axes: [Axis; 2],
    which: RoughEdges,
}

/// A layout that reaches to the far edges where it can, and the axes along which a cut takes the edge off.
pub(super) struct Opened {
    pub layout: Layout,
    pub cut: Vec<Axis>,
}

impl<'a> Edges<'a> {
    /// Those of a sheet; `None` where nothing is to be squared.
    pub fn of(sheet: &Sheet, workshop: &'a Workshop) -> Option<Edges<'a>> {
        let is_squared = sheet.rough_edges.any() && workshop.trimmer.squaring.is_positive();
        is_squared.then(|| {
            let first = workshop.trimmer.squares_first(sheet.size).unwrap_or(Axis::Width);
            Edges { workshop, axes: [first, first.other()], which: sheet.rough_edges }
        })
    }

    /// The layout of the sheet's true part, made to reach to the far edges.
    pub fn open(&self, layout: &Layout) -> Opened {
        let mut opened = Opened { layout: layout.clone(), cut: Vec::new() };
        for axis in self.axes {
            let reaching = match self.which {
                RoughEdges::Two => self.reaching(&opened.layout, axis),
                RoughEdges::Four | RoughEdges::None => None,
            };
            match reaching {
                Some(layout) => opened.layout = layout,
                None => opened.cut.push(axis),
            }
        }
        opened
    }

    /// The whole sheet around what lies inside of the near edges, once the far ones are cut off along these axes.
    pub fn around(&self, core: Node, cut: &[Axis]) -> Node {
        let inner = cut.iter().rev().fold(core, |core, axis| self.with_far(core, *axis));
        self.axes.iter().rev().fold(inner, |core, axis| self.with_near(core, *axis))
    }

    /// What lies inside of all edges of a plate at this corner of the sheet.
    pub fn inside(&self, plate: &Node, sheet: Size) -> Size {
        let margin = self.workshop.trimmer.squaring;
        let within = |axis: Axis| {
            let start = plate.start(axis);
            let end = (start + plate.size.along(axis)).min(sheet.along(axis) - margin);
            (end - start.max(margin)).max(Length::ZERO)
        };
        Size::new(within(Axis::Width), within(Axis::Height))
    }

    /// The layout as much longer as the edge is wide, if only waste gets longer and the bench can cut it.
    fn reaching(&self, layout: &Layout, axis: Axis) -> Option<Layout> {
        let reaching = self.longer(layout, axis)?;
        self.workshop.trimmer.bench().can_make(&reaching).then_some(reaching)
    }

    fn longer(&self, layout: &Layout, axis: Axis) -> Option<Layout> {
        let size = layout.size.with(axis, layout.size.along(axis) + self.workshop.trimmer.squaring);
        match &layout.content {
            cuts::Content::Leaf(_) if self.is_waste(layout) => Some(Layout::remnant(size)),
            cuts::Content::Leaf(_) => None,
            cuts::Content::Cut(cut) if cut.axis == axis => self.with_waste_last(layout, size, axis),
            cuts::Content::Cut(cut) => {
                let [near, far] = cut.parts.each_ref().map(|part| self.longer(part, axis));
                Some(Layout {
                    size,
                    content: cuts::Content::Cut(Cut { parts: [near?, far?].into(), ..cut.clone() }),
                })
            }
        }
    }

    /// The strips of a plate on one that is longer, its waste gathered at the far edge; `None` where there is none, or
    /// where it would not be what the cuts leave over.
    fn with_waste_last(&self, layout: &Layout, size: Size, axis: Axis) -> Option<Layout> {
        let trimmer = &self.workshop.trimmer;
        let mut strips = Vec::new();
        collect(layout, axis, &mut strips);
        let all = strips.len();
        strips.retain(|strip| !self.is_waste(strip));
        let used: Length = strips.iter().map(|strip| strip.size.along(axis) + trimmer.blade).sum();
        let waste = Layout::remnant(size.with(axis, size.along(axis) - used));
        let inner = waste.size.with(axis, waste.size.along(axis) - trimmer.squaring);
        // Where a strip is too narrow or too wide for the gauge, it may be that one which is left over.
        let is_left = strips.iter().all(|strip| trimmer.can_set(strip.size.along(axis)));
        let can = strips.len() < all && is_left && !self.workshop.keep.keeps(inner);
        strips.push(waste);
        can.then(|| Layout::in_strips(size, axis, &strips, trimmer.blade))
    }

    fn is_waste(&self, layout: &Layout) -> bool {
        layout.is_remnant() && !self.workshop.keep.keeps(layout.size)
    }

    fn with_near(&self, core: Node, axis: Axis) -> Node {
        let Trimmer { squaring, blade, .. } = self.workshop.trimmer;
        let (begin, length) = (core.start(axis), core.size.along(axis));
        let edge = plate(&core, axis, begin - squaring, squaring - blade);
        let whole = plate(&core, axis, begin - squaring, length + squaring);
        Node { content: cut(axis, begin - blade, [edge, core]), ..whole }
    }

    fn with_far(&self, core: Node, axis: Axis) -> Node {
        let Trimmer { squaring, blade, .. } = self.workshop.trimmer;
        let (begin, length) = (core.start(axis), core.size.along(axis));
        let edge = plate(&core, axis, begin + length + blade, squaring - blade);
        let whole = plate(&core, axis, begin, length + squaring);
        Node { content: cut(axis, begin + length, [core, edge]), ..whole }
    }
}

/// The strips of a plate along the axis, near before far.
fn collect(layout: &Layout, axis: Axis, strips: &mut Vec<Layout>) {
    match layout.cut() {
        Some(cut) if cut.axis == axis => {
            cut.parts.iter().for_each(|part| collect(part, axis, strips))
        }
        _ => strips.push(layout.clone()),
    }
}

/// Waste beside a plate: from `start` on and so long in this direction.
fn plate(like: &Node, axis: Axis, start: Length, length: Length) -> Node {
    let (size, content) = (like.size.with(axis, length), Content::Leaf(Leaf::Waste));
    match axis {
        Axis::Width => Node { x: start, y: like.y, size, content },
        Axis::Height => Node { x: like.x, y: start, size, content },
    }
}

fn cut(axis: Axis, at: Length, parts: [Node; 2]) -> Content {
    Content::Cut(Cut::new(axis, at, parts))
}
