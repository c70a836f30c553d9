//! The cut tree of a run, and its form in JSON.

use crate::cuts::{self, Cut, Tree};
use crate::measure::{Axis, Length, Size};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// A rectangle of a sheet and what becomes of it, in the coordinates of the whole sheet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Wire", into = "Wire")]
pub struct Node {
    /// Left edge.
    pub x: Length,
    /// Upper edge.
    pub y: Length,
    /// Size.
    pub size: Size,
    /// What becomes of it; a cut is told by the x or y of the sheet at which it is made.
    pub content: Content,
}

/// What becomes of a rectangle.
pub type Content = cuts::Content<Node, Leaf>;

/// A rectangle that is cut no further.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Leaf {
    /// A piece, by id, and whether it lies turned.
    Piece(String, bool),
    /// A strip for the drawer, by id.
    Offcut(String),
    /// Thrown away.
    Waste,
}

impl Tree for Node {
    type Leaf = Leaf;

    fn size(&self) -> Size {
        self.size
    }

    fn content(&self) -> &Content {
        &self.content
    }

    fn content_mut(&mut self) -> &mut Content {
        &mut self.content
    }
}

impl Node {
    /// Where it begins in this direction.
    pub fn start(&self, axis: Axis) -> Length {
        match axis {
            Axis::Width => self.x,
            Axis::Height => self.y,
        }
    }
}

/// [`Node`] as `plan.json` has it.
#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Wire {
    x: Length,
    y: Length,
    width: Length,
    height: Length,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    cut_x: Option<Length>,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    cut_y: Option<Length>,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    parts: Option<Arc<[Node; 2]>>,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    piece: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    turned: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    offcut: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    waste: Option<bool>,
}

impl From<Node> for Wire {
    fn from(node: Node) -> Wire {
        let mut wire = Wire {
            x: node.x,
            y: node.y,
            width: node.size.width,
            height: node.size.height,
            cut_x: None,
            cut_y: None,
            parts: None,
            piece: None,
            turned: None,
            offcut: None,
            waste: None,
        };
        match node.content {
            Content::Cut(Cut { axis, at, parts }) => {
                let place = if axis == Axis::Width { &mut wire.cut_x } else { &mut wire.cut_y };
                (*place, wire.parts) = (Some(at), Some(parts));
            }
            Content::Leaf(Leaf::Piece(id, turned)) => {
                (wire.piece, wire.turned) = (Some(id), Some(turned));
            }
            Content::Leaf(Leaf::Offcut(id)) => wire.offcut = Some(id),
            Content::Leaf(Leaf::Waste) => wire.waste = Some(true),
        }
        wire
    }
}

impl TryFrom<Wire> for Node {
    type Error = &'static str;

    fn try_from(wire: Wire) -> Result<Node, &'static str> {
        let content = match (
            (wire.cut_x, wire.cut_y, wire.parts),
            (wire.piece, wire.turned),
            (wire.offcut, wire.waste),
        ) {
            ((Some(at), None, Some(parts)), (None, None), (None, None)) => {
                Content::Cut(Cut { axis: Axis::Width, at, parts })
            }
            ((None, Some(at), Some(parts)), (None, None), (None, None)) => {
                Content::Cut(Cut { axis: Axis::Height, at, parts })
            }
            ((None, None, None), (Some(id), Some(turned)), (None, None)) => {
                Content::Leaf(Leaf::Piece(id, turned))
            }
            ((None, None, None), (None, None), (Some(id), None)) => Content::Leaf(Leaf::Offcut(id)),
            ((None, None, None), (None, None), (None, Some(true))) => Content::Leaf(Leaf::Waste),
            _ => {
                return Err(
                    "a node is exactly one of: a cut with two parts, a piece, an offcut, waste",
                );
            }
        };
        let size = Size::new(wire.width, wire.height);
        Ok(Node { x: wire.x, y: wire.y, size, content })
    }
}
