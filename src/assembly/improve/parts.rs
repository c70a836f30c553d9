//! What layouts cut, without their remnants: equal parts are one part, wherever they lie.

use crate::cuts::{Content, Layout, Leaf, Tree};
use crate::measure::{Axis, Length, Size};
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::rc::Rc;

/// A number of a part in its [`Parts`].
pub(super) type PartId = usize;

/// Pieces and what is joined of them, each once.
#[derive(Debug, Default)]
pub(super) struct Parts {
    list: Vec<Bundle>,
    ids: BTreeMap<Bundle, PartId>,
}

/// The smallest plate that holds these pieces as they are joined.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Bundle {
    /// Its size.
    pub size: Size,
    /// What is cut from it.
    pub form: Form,
}

/// What is cut from a part.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Form {
    /// A piece: the shape's index, and whether it lies turned.
    Piece(usize, bool),
    /// Strips beside each other in this direction, and how many of each kind: those that need most in
    /// the other direction first, none of them joined in this direction itself.
    Joined(Axis, Rc<[(PartId, u64)]>),
}

impl Parts {
    /// The part of this number.
    pub fn part(&self, id: PartId) -> &Bundle {
        &self.list[id]
    }

    /// What a layout cuts; `None` where that is nothing.
    pub fn add(&mut self, layout: &Layout, blade: Length) -> Option<PartId> {
        match &layout.content {
            Content::Leaf(Leaf::Remnant) => None,
            Content::Leaf(Leaf::Piece(shape, turned)) => {
                let form = Form::Piece(*shape, *turned);
                Some(self.id(Bundle { size: layout.size, form }))
            }
            Content::Cut(cut) => {
                let mut strips = BTreeMap::new();
                self.collect(layout, cut.axis, blade, &mut strips);
                self.joined(cut.axis, strips, blade)
            }
        }
    }

    /// Counts the strips of consecutive cuts in one direction.
    fn collect(
        &mut self,
        layout: &Layout,
        axis: Axis,
        blade: Length,
        strips: &mut BTreeMap<PartId, u64>,
    ) {
        match layout.cut().filter(|cut| cut.axis == axis) {
            Some(cut) => cut.parts.iter().for_each(|part| self.collect(part, axis, blade, strips)),
            None => {
                let Some(part) = self.add(layout, blade) else { return };
                let within = match &self.list[part].form {
                    Form::Joined(along, within) if *along == axis => within.to_vec(),
                    _ => vec![(part, 1)],
                };
                within.into_iter().for_each(|(part, count)| {
                    *strips.entry(part).or_insert(0) += count;
                });
            }
        }
    }

    fn joined(
        &mut self,
        axis: Axis,
        strips: BTreeMap<PartId, u64>,
        blade: Length,
    ) -> Option<PartId> {
        let mut strips: Vec<(PartId, u64)> = strips.into_iter().collect();
        if let &[(only, 1)] = strips.as_slice() {
            return Some(only);
        }
        strips.sort_by_key(|(part, _)| {
            let size = self.list[*part].size;
            (Reverse(size.along(axis.other())), Reverse(size.along(axis)), *part)
        });
        let across = self.list[strips.first()?.0].size.along(axis.other());
        let size = Size::new(across, across).with(axis, self.along(axis, &strips, blade));
        Some(self.id(Bundle { size, form: Form::Joined(axis, strips.into()) }))
    }

    /// How long these strips are beside each other.
    pub fn along(&self, axis: Axis, strips: &[(PartId, u64)], blade: Length) -> Length {
        let strip = |(part, count): &(PartId, u64)| {
            (self.list[*part].size.along(axis) + blade) * *count as i64
        };
        strips.iter().map(strip).sum::<Length>() - blade
    }

    fn id(&mut self, part: Bundle) -> PartId {
        let next = self.list.len();
        let id = *self.ids.entry(part.clone()).or_insert(next);
        if id == next {
            self.list.push(part);
        }
        id
    }
}
