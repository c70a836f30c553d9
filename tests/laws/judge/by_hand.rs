//! Plans of one sheet, told cut by cut, to try each rule of the bench below, at and above its limit.

use super::made::{Made, Parts};
use crate::bench::{inches, size, workshop};
use cardwright::cuts::Cut;
use cardwright::measure::{Axis, Length, Size};
use cardwright::pieces::{Part, Piece, Share};
use cardwright::plan::{Content, KeptOffcut, Leaf, Node, Run};
use cardwright::stock::{Sheet, Stock};
use cardwright::workshop::Workshop;

/// A bench on which no remnant is worth keeping.
pub fn bench() -> Workshop {
    let mut workshop = workshop();
    workshop.keep.short = inches("100");
    workshop
}

/// A plate, by what becomes of it.
#[derive(Clone, Debug)]
pub enum Tree {
    Leaf(Size, Content),
    Cut(Axis, Box<[Tree; 2]>),
}

/// A piece as it lies.
pub fn piece(id: &str, text: &str) -> Tree {
    Tree::Leaf(size(text), Content::Leaf(Leaf::Piece(id.to_owned(), false)))
}

/// A piece after a quarter turn, by the size that it takes so.
pub fn turned(id: &str, text: &str) -> Tree {
    Tree::Leaf(size(text), Content::Leaf(Leaf::Piece(id.to_owned(), true)))
}

/// A strip for the drawer.
pub fn kept(id: &str, text: &str) -> Tree {
    Tree::Leaf(size(text), Content::Leaf(Leaf::Offcut(id.to_owned())))
}

pub fn waste(text: &str) -> Tree {
    let (width, height) = text.split_once(" x ").unwrap();
    Tree::Leaf(Size::new(inches(width), inches(height)), Content::Leaf(Leaf::Waste))
}

/// Two plates beside each other.
pub fn beside(left: Tree, right: Tree) -> Tree {
    Tree::Cut(Axis::Width, Box::new([left, right]))
}

/// Two plates above each other.
pub fn above(upper: Tree, lower: Tree) -> Tree {
    Tree::Cut(Axis::Height, Box::new([upper, lower]))
}

/// Trims of `margin` at the left, right, upper and lower edge, as far as they are wanted, round a core: `width` is the
/// core's, `height` the whole sheet's.
pub fn trimmed(
    mut core: Tree,
    (width, height): (&str, &str),
    margin: &str,
    edges: [bool; 4],
) -> Tree {
    let [left, right, upper, lower] = edges;
    let (low, narrow) = (format!("{width} x {margin}"), format!("{margin} x {height}"));
    if upper {
        core = above(waste(&low), core);
    }
    if lower {
        core = above(core, waste(&low));
    }
    if left {
        core = beside(waste(&narrow), core);
    }
    if right {
        core = beside(core, waste(&narrow));
    }
    core
}

impl Tree {
    fn size(&self, blade: Length) -> Size {
        match self {
            Tree::Leaf(size, _) => *size,
            Tree::Cut(axis, parts) => {
                let [first, second] = [parts[0].size(blade), parts[1].size(blade)];
                first.with(*axis, first.along(*axis) + blade + second.along(*axis))
            }
        }
    }

    fn at(&self, (x, y): (Length, Length), blade: Length) -> Node {
        let content = match self {
            Tree::Leaf(_, content) => content.clone(),
            Tree::Cut(axis, parts) => {
                let first = parts[0].at((x, y), blade);
                let side = first.size.along(*axis);
                let (at, corner) = match axis {
                    Axis::Width => (x + side, (x + side + blade, y)),
                    Axis::Height => (y + side, (x, y + side + blade)),
                };
                Content::Cut(Cut::new(*axis, at, [first, parts[1].at(corner, blade)]))
            }
        };
        Node { x, y, size: self.size(blade), content }
    }
}

/// The honest plan that cuts one such sheet so; what it yields is what was ordered.
pub fn plan(workshop: &Workshop, sheet: Sheet, tree: &Tree) -> Made {
    let layout = tree.at((Length::ZERO, Length::ZERO), workshop.trimmer.blade);
    let (mut pieces, mut offcuts): (Vec<Piece>, Vec<KeptOffcut>) = Default::default();
    super::made::leaves(&layout, &mut |node| match &node.content {
        Content::Leaf(Leaf::Piece(id, turned)) if pieces.iter().all(|piece| piece.id != *id) => {
            let size = if *turned { node.size.turned() } else { node.size };
            pieces.push(ordered(id, size, &sheet.paper));
        }
        Content::Leaf(Leaf::Offcut(id)) => offcuts.push(KeptOffcut {
            id: id.clone(),
            paper: sheet.paper.clone(),
            width: node.size.width,
            height: node.size.height,
            count: 1,
            run: "R1".to_owned(),
            more_runs: Vec::new(),
        }),
        _ => {}
    });
    pieces.sort_by(|one, other| one.id.cmp(&other.id));
    let runs = vec![Run { id: "R1".to_owned(), sheet: sheet.id.clone(), count: 1, layout }];
    let (workshop, stock) = (workshop.clone(), Stock::of_sheets(vec![sheet]));
    Parts { workshop, stock, pieces, runs, offcuts }.made()
}

fn ordered(id: &str, size: Size, paper: &str) -> Piece {
    Piece {
        id: id.to_owned(),
        part: Part::Card,
        papers: vec![paper.to_owned()],
        size,
        turn: None,
        grain_along: None,
        scores: Vec::new(),
        shares: vec![Share { line: id.to_owned(), need: 0, spares: 0 }],
        done: Default::default(),
        place: None,
    }
}
