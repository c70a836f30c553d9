//! A cut tree as the bench sees it: cuts in one direction beside each other divide a plate into
//! strips, so two-way cuts become divisions into many strips.

use crate::cuts::{Cut, Tree};
use crate::measure::{Axis, Length, Size};
use crate::plan::{Content, Leaf, Node};

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
    Done(&'plan Leaf),
    /// Strips beside each other in this direction, two at least, by their position.
    Strips(Axis, Vec<Plate<'plan>>),
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

/// Turns a tree of two-way cuts into divisions; plates narrower than `hold` cannot be held.
///
/// A strip is divided the same way again only where its rest goes under the blade: what follows such
/// a strip would come out too wide if the strip were not taken off first.
pub(super) fn flatten(node: &Node, hold: Length) -> Plate<'_> {
    let content = match &node.content {
        Content::Leaf(leaf) => Division::Done(leaf),
        Content::Cut(Cut { axis, parts, .. }) => divide(parts, *axis, hold),
    };
    Plate { x: node.x, y: node.y, size: node.size, content }
}

fn divide(parts: &[Node; 2], axis: Axis, hold: Length) -> Division<'_> {
    let mut strips = all_strips(parts, axis);
    let is_narrow = |strip: &&Node| strip.size.is_positive() && strip.size.along(axis) < hold;
    if strips.iter().any(is_narrow) {
        // The last strip might be trimmed alone: trim all of them at once, as the tree does.
        strips = early_strips(parts, axis);
    }
    Division::Strips(axis, strips.into_iter().map(|strip| flatten(strip, hold)).collect())
}

/// All strips, the rest that goes under the blade last.
fn all_strips(parts: &[Node; 2], axis: Axis) -> Vec<&Node> {
    let mut strips = Vec::new();
    add_strips(&parts[0], axis, false, &mut strips);
    add_strips(&parts[1], axis, true, &mut strips);
    strips
}

/// As few strips as keep every trim where the tree has it.
fn early_strips(parts: &[Node; 2], axis: Axis) -> Vec<&Node> {
    if vanishes(parts) {
        return parts.iter().collect();
    }
    let mut strips = Vec::new();
    parts.iter().for_each(|part| add_strips(part, axis, false, &mut strips));
    strips
}

/// Adds the strips of a part; `last` where nothing follows it in the division.
fn add_strips<'plan>(node: &'plan Node, axis: Axis, last: bool, strips: &mut Vec<&'plan Node>) {
    match node.cut().filter(|cut| cut.axis == axis && (last || !vanishes(&cut.parts))) {
        Some(Cut { parts, .. }) => {
            add_strips(&parts[0], axis, false, strips);
            add_strips(&parts[1], axis, last, strips);
        }
        None => strips.push(node),
    }
}

/// Whether a rest goes under the blade.
fn vanishes(parts: &[Node; 2]) -> bool {
    parts.iter().any(|part| !part.size.is_positive())
}

#[cfg(test)]
mod tests {
    use super::super::tests::trees::{Tree, cut_x, cut_y, piece, waste};
    use super::*;

    #[test]
    fn cuts_in_one_direction_are_one_division() {
        let tree =
            cut_x([piece(30, 20), cut_x([piece(30, 20), cut_x([piece(30, 20), waste(4, 20)])])]);
        let tree = tree.at(0, 0);
        let plate = flatten(&tree, Length::ZERO);
        let Division::Strips(axis, strips) = plate.content else { panic!("not divided") };
        assert_eq!(axis, Axis::Width);
        assert_eq!(
            strips.iter().map(|strip| strip.x).collect::<Vec<_>>(),
            [0, 30, 60, 90].map(Length::from_mm)
        );
        assert!(strips.iter().all(|strip| matches!(strip.content, Division::Done(_))));
    }

    #[test]
    fn a_strip_whose_rest_goes_under_the_blade_is_taken_off_first() {
        let (blade, rest) = (Length::from_mm(2), Length::from_mm(1));
        let thin = || piece(30, 20).trimmed(Axis::Width, rest);
        let count = |tree: &Tree| match flatten(&tree.at(0, 0), Length::ZERO).content {
            Division::Strips(_, strips) => strips.len(),
            Division::Done(_) => 1,
        };
        assert_eq!(count(&Tree::cut(Axis::Width, blade, [thin(), piece(30, 20)])), 2);
        assert_eq!(count(&Tree::cut(Axis::Width, blade, [piece(30, 20), thin()])), 3);
        assert_eq!(count(&Tree::cut(Axis::Width, blade, [thin(), thin()])), 3);
    }

    #[test]
    fn a_strip_too_narrow_to_hold_is_trimmed_before_it_is_cut_off() {
        let (blade, rest) = (Length::from_mm(2), Length::from_mm(1));
        let thin = piece(30, 20).trimmed(Axis::Width, rest);
        let tree = Tree::cut(Axis::Width, blade, [piece(40, 20), thin]).at(0, 0);
        let count = |hold: Length| match flatten(&tree, hold).content {
            Division::Strips(_, strips) => strips.len(),
            Division::Done(_) => 1,
        };
        assert_eq!(count(Length::from_mm(30)), 3);
        assert_eq!(count(Length::from_mm(30) + Length::from_ticks(1)), 2);
    }

    #[test]
    fn a_cut_in_the_other_direction_begins_a_new_division() {
        let tree = cut_x([cut_y([piece(30, 20), piece(30, 20)]), waste(4, 40)]).at(0, 0);
        let Division::Strips(_, strips) = flatten(&tree, Length::ZERO).content else {
            panic!("not divided")
        };
        assert_eq!(strips.len(), 2);
        assert!(
            matches!(&strips[0].content, Division::Strips(Axis::Height, inner) if inner.len() == 2)
        );
    }
}
