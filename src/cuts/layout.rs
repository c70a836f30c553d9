//! A cut tree that knows sizes alone.

use super::{Content, Cut, MOST_DEPTH, Tree};
use crate::measure::{Axis, Length, Size};

/// One way to cut one plate, wherever that lies: places of cuts are from the plate's own corner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout {
    /// Size of the plate.
    pub size: Size,
    /// What becomes of it.
    pub content: Content<Layout, Leaf>,
}

/// What a plate is that is cut no further.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaf {
    /// A piece: the shape's index, and whether it lies turned.
    Piece(usize, bool),
    /// Nothing is cut from it.
    Remnant,
}

impl Tree for Layout {
    type Leaf = Leaf;

    fn size(&self) -> Size {
        self.size
    }

    fn content(&self) -> &Content<Layout, Leaf> {
        &self.content
    }

    fn content_mut(&mut self) -> &mut Content<Layout, Leaf> {
        &mut self.content
    }
}

impl Layout {
    /// A plate that is a piece.
    pub fn piece(size: Size, shape: usize, turned: bool) -> Layout {
        Layout { size, content: Content::Leaf(Leaf::Piece(shape, turned)) }
    }

    /// A plate from which nothing is cut.
    pub fn remnant(size: Size) -> Layout {
        Layout { size, content: Content::Leaf(Leaf::Remnant) }
    }

    /// A plate cut once along the axis, behind the near part.
    pub fn divided(size: Size, axis: Axis, parts: [Layout; 2]) -> Layout {
        let at = parts[0].size.along(axis);
        Layout { size, content: Content::Cut(Cut::new(axis, at, parts)) }
    }

    /// A plate cut into strips along the axis; halved, so that many strips make no deep tree. There is one at least.
    pub fn in_strips(size: Size, axis: Axis, strips: &[Layout], blade: Length) -> Layout {
        if let [only] = strips {
            return only.clone();
        }
        let (near, far) = strips.split_at(strips.len() / 2);
        let length: Length = near.iter().map(|strip| strip.size.along(axis) + blade).sum();
        let at = length - blade;
        let rest = (size.along(axis) - length).max(Length::ZERO);
        let part = |strips, long| Layout::in_strips(size.with(axis, long), axis, strips, blade);
        Layout::divided(size, axis, [part(near, at), part(far, rest)])
    }

    /// The part of it that lies within a smaller plate at its near corner; `None` where that goes through a piece.
    pub fn clipped(&self, size: Size, blade: Length) -> Option<Layout> {
        match &self.content {
            Content::Leaf(Leaf::Remnant) => Some(Layout::remnant(size)),
            Content::Leaf(Leaf::Piece(..)) => (self.size == size).then(|| self.clone()),
            Content::Cut(Cut { axis, at, parts }) => {
                let [near, far] = parts.as_ref();
                let length = size.along(*axis);
                if *at >= length {
                    return near.clipped(size, blade);
                }
                let rest = (length - *at - blade).max(Length::ZERO);
                let near = near.clipped(size.with(*axis, *at), blade)?;
                let far = far.clipped(size.with(*axis, rest), blade)?;
                Some(Layout::divided(size, *axis, [near, far]))
            }
        }
    }

    /// Whether nothing is cut from it.
    pub fn is_remnant(&self) -> bool {
        self.content == Content::Leaf(Leaf::Remnant)
    }

    /// How many pieces of each shape it has.
    pub fn counts(&self, shapes: usize) -> Vec<u64> {
        let mut counts = vec![0; shapes];
        for shape in self.shapes() {
            if let Some(count) = counts.get_mut(shape) {
                *count += 1;
            }
        }
        counts
    }

    /// How many pieces of one shape it has.
    pub fn count(&self, shape: usize) -> u64 {
        self.shapes().filter(|found| *found == shape).count() as u64
    }

    /// The shapes of its pieces, near before far.
    fn shapes(&self) -> impl Iterator<Item = usize> {
        self.leaves().filter_map(|leaf| match leaf {
            Leaf::Piece(shape, _) => Some(*shape),
            Leaf::Remnant => None,
        })
    }

    /// The sizes of its remnants, near before far.
    pub fn remnants(&self) -> impl Iterator<Item = Size> {
        self.plates().filter(|plate| plate.is_remnant()).map(|plate| plate.size)
    }

    /// How often cuts go another way than those before, and once for the first, at most on any plate.
    pub fn stages(&self) -> u32 {
        stages_after(self, None)
    }

    /// The layouts with one other plate in the place of one that is cut no further, one for each of those in turn.
    pub fn with_one<'a>(
        &'a self,
        is_replaced: impl Fn(&Layout) -> bool + Copy + 'a,
        by: impl Fn(&Layout) -> Layout + 'a,
    ) -> impl Iterator<Item = Layout> + 'a {
        let places = self.plates().filter(|plate| is_replaced(plate)).count();
        (0..places).map(move |place| {
            let mut other = self.clone();
            other.replace(place, is_replaced, &by);
            other
        })
    }

    /// Puts another plate in the place of the one of this number, which is there, among those that are cut no further
    /// and may be replaced. What does not lie around it stays one in memory with the layouts that share it.
    pub fn replace(
        &mut self,
        place: usize,
        is_replaced: impl Fn(&Layout) -> bool + Copy,
        by: impl FnOnce(&Layout) -> Layout,
    ) {
        let Content::Cut(cut) = &mut self.content else {
            *self = by(self);
            return;
        };
        let near = cut.parts[0].plates().filter(|plate| is_replaced(plate)).count();
        let (half, place) = if place < near { (0, place) } else { (1, place - near) };
        cut.parts_mut()[half].replace(place, is_replaced, by);
    }

    /// Leaves pieces uncut of which more than `left` are there, and takes the others off it.
    pub fn leave_out(&mut self, left: &mut [u64]) {
        for end in self.ends() {
            if let Content::Leaf(Leaf::Piece(shape, _)) = end.content {
                match &mut left[shape] {
                    0 => *end = Layout::remnant(end.size),
                    left => *left -= 1,
                }
            }
        }
    }

    /// Gives every shape another index.
    pub fn rename(&mut self, name: impl Fn(usize) -> usize) {
        self.rename_or_leave(|shape| Some(name(shape)));
    }

    /// Gives every shape another index, and leaves uncut those that have none.
    pub fn rename_or_leave(&mut self, name: impl Fn(usize) -> Option<usize>) {
        for end in self.ends() {
            let Content::Leaf(Leaf::Piece(shape, _)) = &mut end.content else { continue };
            match name(*shape) {
                Some(other) => *shape = other,
                None => *end = Layout::remnant(end.size),
            }
        }
    }

    /// Gives up what lies below [`MOST_DEPTH`] cuts. That only happens where a smallest hold makes long chains
    /// the best ways to cut: each halving would leave one more strip that cannot be held.
    /// Says whether it did.
    pub fn prune(&mut self) -> bool {
        self.depth() > MOST_DEPTH && prune(self, MOST_DEPTH)
    }
}

fn stages_after(layout: &Layout, before: Option<Axis>) -> u32 {
    let Some(cut) = layout.cut() else { return 0 };
    let [near, far] = cut.parts.each_ref().map(|part| stages_after(part, Some(cut.axis)));
    u32::from(before != Some(cut.axis)) + near.max(far)
}

fn prune(layout: &mut Layout, levels: usize) -> bool {
    let Content::Cut(cut) = &mut layout.content else { return false };
    if levels == 0 {
        *layout = Layout::remnant(layout.size);
        return true;
    }
    let [near, far] = cut.parts_mut().each_mut().map(|part| prune(part, levels - 1));
    near || far
}
