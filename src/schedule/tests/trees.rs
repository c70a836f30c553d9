//! Cut trees by hand and by chance.

use crate::cuts;
use crate::measure::{Axis, Length, Size};
use crate::plan::{Content, Leaf, Node};

/// A cut tree without positions.
#[derive(Clone, Debug)]
pub struct Tree {
    pub size: Size,
    pub form: Form,
}

#[derive(Clone, Debug)]
pub enum Form {
    Leaf(Leaf),
    /// Cut in this direction; the second part, if it is anything, begins a blade further.
    Cut(Axis, Box<[Tree; 2]>),
}

impl Tree {
    fn leaf(size: Size, leaf: Leaf) -> Tree {
        Tree { size, form: Form::Leaf(leaf) }
    }

    /// Two trees beside each other.
    pub fn cut(axis: Axis, blade: Length, parts: [Tree; 2]) -> Tree {
        let [near, far] = &parts;
        assert_eq!(near.size.along(axis.other()), far.size.along(axis.other()));
        let side = near.size.along(axis) + blade + far.size.along(axis);
        let size = near.size.with(axis, side);
        Tree { size, form: Form::Cut(axis, Box::new(parts)) }
    }

    /// A plate with `rest` too much, which goes under the blade: what is left has no width.
    pub fn trimmed(self, axis: Axis, rest: Length) -> Tree {
        let size = self.size.with(axis, self.size.along(axis) + rest);
        let nothing = waste_of(self.size.with(axis, Length::ZERO));
        Tree { size, form: Form::Cut(axis, Box::new([self, nothing])) }
    }

    /// As a node whose corner is there, in mm.
    pub fn at(&self, x: i64, y: i64) -> Node {
        self.place(Length::from_mm(x), Length::from_mm(y))
    }

    fn place(&self, x: Length, y: Length) -> Node {
        let content = match &self.form {
            Form::Leaf(leaf) => Content::Leaf(leaf.clone()),
            Form::Cut(axis, parts) => {
                let ([near, far], end) =
                    (parts.as_ref(), (x + self.size.width, y + self.size.height));
                let (second, start) = match axis {
                    Axis::Width => (far.place(end.0 - far.size.width, y), x),
                    Axis::Height => (far.place(x, end.1 - far.size.height), y),
                };
                let at = start + near.size.along(*axis);
                Content::Cut(cuts::Cut::new(*axis, at, [near.place(x, y), second]))
            }
        };
        Node { x, y, size: self.size, content }
    }
}

fn mm(width: i64, height: i64) -> Size {
    Size::new(Length::from_mm(width), Length::from_mm(height))
}

/// Piece `p`, in mm.
pub fn piece(width: i64, height: i64) -> Tree {
    named("p", mm(width, height))
}

/// A piece of this id.
pub fn named(id: &str, size: Size) -> Tree {
    Tree::leaf(size, Leaf::Piece(id.to_owned(), false))
}

/// A piece of this id, turned.
pub fn turned(id: &str, size: Size) -> Tree {
    Tree::leaf(size, Leaf::Piece(id.to_owned(), true))
}

/// An offcut of this id.
pub fn offcut(id: &str, size: Size) -> Tree {
    Tree::leaf(size, Leaf::Offcut(id.to_owned()))
}

/// Waste of this size.
pub fn waste_of(size: Size) -> Tree {
    Tree::leaf(size, Leaf::Waste)
}

/// Waste, in mm.
pub fn waste(width: i64, height: i64) -> Tree {
    waste_of(mm(width, height))
}

/// Beside each other, cut by a knife.
pub fn cut_x(parts: [Tree; 2]) -> Tree {
    Tree::cut(Axis::Width, Length::ZERO, parts)
}

/// Above each other, cut by a knife.
pub fn cut_y(parts: [Tree; 2]) -> Tree {
    Tree::cut(Axis::Height, Length::ZERO, parts)
}

/// A rough sheet around `inner`: trimmed left and above for a true corner, then right and below; in mm.
pub fn squared(inner: Tree, squaring: i64, blade: i64) -> Tree {
    let squaring = Length::from_mm(squaring);
    let trim = (squaring - Length::from_mm(blade)).max(Length::ZERO);
    let edged = |inner: Tree, axis: Axis, is_near: bool| {
        let edge = waste_of(inner.size.with(axis, trim));
        let size = inner.size.with(axis, inner.size.along(axis) + squaring);
        let parts = if is_near { [edge, inner] } else { [inner, edge] };
        Tree { size, form: Form::Cut(axis, Box::new(parts)) }
    };
    let far = edged(edged(inner, Axis::Height, false), Axis::Width, false);
    edged(edged(far, Axis::Height, true), Axis::Width, true)
}

/// Grows a tree on a plate from numbers: each number is one decision, and without numbers nothing is
/// cut. Strips often come several times, with equal trees.
pub fn grow(size: Size, blade: Length, choices: &mut impl Iterator<Item = u8>) -> Tree {
    let Some(choice) = choices.next() else { return leaf(size, 0) };
    let axis = if choice & 1 == 0 { Axis::Width } else { Axis::Height };
    let side = size.along(axis);
    let strip = Length::from_mm(5 * i64::from(1 + (choice >> 1) % 12));
    if choice >= 232 || side <= strip + blade {
        return leaf(size, choice);
    }
    let most = 1 + choices.next().unwrap_or(0) % 4;
    let model = grow(size.with(axis, strip), blade, choices);
    let mut times = 1;
    while times < most && side - (strip + blade) * i64::from(times + 1) > Length::ZERO {
        times += 1;
    }
    let left = side - (strip + blade) * i64::from(times);
    if left > strip && left <= strip + blade && choices.next().unwrap_or(0) & 1 == 0 {
        let first = model.clone().trimmed(axis, left - strip);
        return (0..times).fold(first, |rest, _| Tree::cut(axis, blade, [model.clone(), rest]));
    }
    let rest = size.with(axis, left);
    let last = grow(rest, blade, choices);
    (0..times).fold(last, |rest, _| Tree::cut(axis, blade, [model.clone(), rest]))
}

fn leaf(size: Size, choice: u8) -> Tree {
    let id = format!("{}x{}", size.width.ticks(), size.height.ticks());
    let turned_id = format!("{}x{}", size.height.ticks(), size.width.ticks());
    match choice % 5 {
        0 | 1 => named(&id, size),
        2 => turned(&turned_id, size),
        3 => offcut(&format!("o{id}"), size),
        _ => waste_of(size),
    }
}
