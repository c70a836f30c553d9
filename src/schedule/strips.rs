//! A cut tree as the bench sees it: cuts in one direction beside each other divide a plate into
//! strips, so two-way cuts become divisions into many strips.

use crate::measure::{Axis, Length, Size};
use crate::plan::{Content, Node};

/// A rectangle of a sheet and what becomes of it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Plate<'plan> {
    /// Left edge on the sheet.
    pub x: Length,
    /// Upper edge on the sheet.
    pub y: Length,
    /// Size.
    pub size: Size,
    /// What becomes of it.
    pub content: Division<'plan>,
}

/// What becomes of a plate.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Division<'plan> {
    /// It is cut no further.
    Done(Leaf<'plan>),
    /// Strips beside each other in this direction, two at least, by their position.
    Strips(Axis, Vec<Plate<'plan>>),
}

/// A plate that is cut no further.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Leaf<'plan> {
    /// A piece, and whether it lies turned.
    Piece(&'plan str, bool),
    /// A strip for the drawer.
    Offcut(&'plan str),
    /// Thrown away.
    Waste,
}

impl Plate<'_> {
    /// Where it begins along `axis`.
    pub fn start(&self, axis: Axis) -> Length {
        match axis {
            Axis::Width => self.x,
            Axis::Height => self.y,
        }
    }

    /// Where it ends along `axis`.
    pub fn end(&self, axis: Axis) -> Length {
        self.start(axis) + self.size.along(axis)
    }
}

/// Turns a tree of two-way cuts into divisions; no strip of a division is divided the same way again.
pub(super) fn flatten(node: &Node) -> Plate<'_> {
    let content = match &node.content {
        Content::Piece(id, turned) => Division::Done(Leaf::Piece(id, *turned)),
        Content::Offcut(id) => Division::Done(Leaf::Offcut(id)),
        Content::Waste => Division::Done(Leaf::Waste),
        Content::CutX(..) => strips(node, Axis::Width),
        Content::CutY(..) => strips(node, Axis::Height),
    };
    Plate { x: node.x, y: node.y, size: node.size, content }
}

fn strips(node: &Node, axis: Axis) -> Division<'_> {
    let mut strips = Vec::new();
    gather(node, axis, &mut strips);
    Division::Strips(axis, strips)
}

fn gather<'plan>(node: &'plan Node, axis: Axis, strips: &mut Vec<Plate<'plan>>) {
    match (&node.content, axis) {
        (Content::CutX(_, parts), Axis::Width) | (Content::CutY(_, parts), Axis::Height) => {
            parts.iter().for_each(|part| gather(part, axis, strips));
        }
        _ => strips.push(flatten(node)),
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::trees::{cut_x, cut_y, piece, waste};
    use super::*;

    #[test]
    fn cuts_in_one_direction_are_one_division() {
        let tree =
            cut_x([piece(30, 20), cut_x([piece(30, 20), cut_x([piece(30, 20), waste(4, 20)])])]);
        let tree = tree.at(0, 0);
        let plate = flatten(&tree);
        let Division::Strips(axis, strips) = plate.content else { panic!("not divided") };
        assert_eq!(axis, Axis::Width);
        assert_eq!(
            strips.iter().map(|strip| strip.x).collect::<Vec<_>>(),
            [0, 30, 60, 90].map(Length::from_mm)
        );
        assert!(strips.iter().all(|strip| matches!(strip.content, Division::Done(_))));
    }

    #[test]
    fn a_cut_in_the_other_direction_begins_a_new_division() {
        let tree = cut_x([cut_y([piece(30, 20), piece(30, 20)]), waste(4, 40)]).at(0, 0);
        let Division::Strips(_, strips) = flatten(&tree).content else { panic!("not divided") };
        assert_eq!(strips.len(), 2);
        assert!(
            matches!(&strips[0].content, Division::Strips(Axis::Height, inner) if inner.len() == 2)
        );
    }
}
