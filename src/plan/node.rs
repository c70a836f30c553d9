//! The cut tree of a run, and its form in JSON.

use crate::measure::{Length, Size};
use serde::{Deserialize, Serialize};

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
    /// What becomes of it.
    pub content: Content,
}

/// What becomes of a rectangle.
#[derive(Clone, Debug, PartialEq)]
pub enum Content {
    /// A full cut at this x of the sheet; left part, right part (which begins a blade further).
    CutX(Length, Box<[Node; 2]>),
    /// A full cut at this y of the sheet; upper part, lower part (which begins a blade further).
    CutY(Length, Box<[Node; 2]>),
    /// A piece, by id, and whether it lies turned.
    Piece(String, bool),
    /// A strip for the drawer, by id.
    Offcut(String),
    /// Thrown away.
    Waste,
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
    parts: Option<Box<[Node; 2]>>,
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
            Content::CutX(at, parts) => (wire.cut_x, wire.parts) = (Some(at), Some(parts)),
            Content::CutY(at, parts) => (wire.cut_y, wire.parts) = (Some(at), Some(parts)),
            Content::Piece(id, turned) => (wire.piece, wire.turned) = (Some(id), Some(turned)),
            Content::Offcut(id) => wire.offcut = Some(id),
            Content::Waste => wire.waste = Some(true),
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
            ((Some(at), None, Some(parts)), (None, None), (None, None)) => Content::CutX(at, parts),
            ((None, Some(at), Some(parts)), (None, None), (None, None)) => Content::CutY(at, parts),
            ((None, None, None), (Some(id), Some(turned)), (None, None)) => {
                Content::Piece(id, turned)
            }
            ((None, None, None), (None, None), (Some(id), None)) => Content::Offcut(id),
            ((None, None, None), (None, None), (None, Some(true))) => Content::Waste,
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

impl Node {
    /// Calls `look` with this rectangle and all within it, near before far.
    pub fn visit<'a>(&'a self, look: &mut impl FnMut(&'a Node)) {
        look(self);
        if let Content::CutX(_, parts) | Content::CutY(_, parts) = &self.content {
            parts.iter().for_each(|part| part.visit(look));
        }
    }
}
