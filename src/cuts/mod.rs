//! Cut trees: what straight cuts from edge to edge make of a plate.
//!
//! A plate is cut once, across or down, into a near and a far part, which are plates again; or it is cut no further,
//! and is a leaf. What a plate knows of itself and what a leaf can be is for each kind of tree to say: here there is
//! what all of them share, and [`Layout`], the tree that knows sizes alone. It knows nothing of pieces beyond their
//! number, nor of stock or orders.

mod bench;
mod layout;

pub use bench::{Bench, MOST_DEPTH};
pub use layout::{Layout, Leaf};

use crate::measure::{Axis, Length, Size};
use std::sync::Arc;

/// A plate and all that is cut from it.
pub trait Tree: Sized + Clone {
    /// What a plate can be that is cut no further.
    type Leaf;

    /// Its size.
    fn size(&self) -> Size;

    /// What becomes of it.
    fn content(&self) -> &Content<Self, Self::Leaf>;

    /// What becomes of it, to be changed.
    fn content_mut(&mut self) -> &mut Content<Self, Self::Leaf>;

    /// The cut through it, if there is one.
    fn cut(&self) -> Option<&Cut<Self>> {
        match self.content() {
            Content::Cut(cut) => Some(cut),
            Content::Leaf(_) => None,
        }
    }

    /// What it is, where it is cut no further.
    fn leaf(&self) -> Option<&Self::Leaf> {
        match self.content() {
            Content::Cut(_) => None,
            Content::Leaf(leaf) => Some(leaf),
        }
    }

    /// This plate and all within it, near before far.
    fn plates(&self) -> Plates<'_, Self> {
        Plates { open: vec![self] }
    }

    /// All that is cut no further, near before far.
    fn leaves<'a>(&'a self) -> impl Iterator<Item = &'a Self::Leaf>
    where
        Self::Leaf: 'a,
    {
        self.plates().filter_map(Tree::leaf)
    }

    /// All plates that are cut no further, near before far, to be changed.
    fn ends(&mut self) -> Vec<&mut Self> {
        let mut found = Vec::new();
        collect(self, &mut found);
        found
    }

    /// Cuts below each other, at most.
    fn depth(&self) -> usize {
        let below = |cut: &Cut<Self>| cut.parts.each_ref().map(Tree::depth);
        self.cut().map(below).map_or(0, |[near, far]| 1 + near.max(far))
    }
}

fn collect<'a, T: Tree>(plate: &'a mut T, found: &mut Vec<&'a mut T>) {
    if plate.leaf().is_some() {
        found.push(plate);
    } else if let Content::Cut(cut) = plate.content_mut() {
        cut.parts_mut().iter_mut().for_each(|part| collect(part, found));
    }
}

/// What becomes of a plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Content<Plate, Leaf> {
    /// It is cut.
    Cut(Cut<Plate>),
    /// It is cut no further.
    Leaf(Leaf),
}

/// A cut from edge to edge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut<Plate> {
    /// Along which the two parts lie.
    pub axis: Axis,
    /// Where it is made, along the axis; the far part begins a blade further.
    pub at: Length,
    /// The near part and the far one. Parts that are alike may be one in memory.
    pub parts: Arc<[Plate; 2]>,
}

impl<Plate: Clone> Cut<Plate> {
    /// A cut at this place.
    pub fn new(axis: Axis, at: Length, parts: [Plate; 2]) -> Cut<Plate> {
        Cut { axis, at, parts: Arc::new(parts) }
    }

    /// The parts, to be changed here alone.
    pub fn parts_mut(&mut self) -> &mut [Plate; 2] {
        Arc::make_mut(&mut self.parts)
    }
}

/// The plates of a tree: each before its parts, near before far.
#[derive(Clone, Debug)]
pub struct Plates<'a, T> {
    open: Vec<&'a T>,
}

impl<'a, T: Tree> Iterator for Plates<'a, T> {
    type Item = &'a T;

    fn next(&mut self) -> Option<&'a T> {
        let plate = self.open.pop()?;
        if let Some(cut) = plate.cut() {
            self.open.extend(cut.parts.iter().rev());
        }
        Some(plate)
    }
}
