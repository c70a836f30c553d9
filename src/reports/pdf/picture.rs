//! Drawings in SVG, read for the page.

use super::fonts::Fonts;
use crate::reports::ReportError;
use krilla::geom::{Size, Transform};
use krilla::surface::Surface;
use krilla_svg::{SurfaceExt, SvgSettings};
use usvg::{Options, Tree};

/// What SVG takes for a dot, in points (CSS Values and Units Level 3, 6.2).
const DOT: f32 = 72.0 / 96.0;

/// A drawing that was read, which takes longer than to put it on a page.
#[derive(Clone, Debug)]
pub(super) struct Picture(Box<Tree>);

impl Picture {
    /// # Errors
    /// It cannot be read.
    pub fn read(svg: &str) -> Result<Picture, ReportError> {
        let options = Options {
            fontdb: Fonts::of_drawings(),
            font_family: "DejaVu Sans".to_owned(),
            ..Default::default()
        };
        let tree = Tree::from_str(svg, &options);
        tree.map(|tree| Picture(Box::new(tree)))
            .map_err(|_| ReportError::Print("a drawing cannot be read"))
    }

    /// Draws it with its upper left corner there, in points, in the size that it has by itself, so that its
    /// scale is true.
    ///
    /// # Errors
    /// It has no size.
    pub fn draw(&self, surface: &mut Surface, (x, y): (f32, f32)) -> Result<(), ReportError> {
        let unprinted = ReportError::Print("a drawing cannot be drawn");
        let size = self.0.size();
        let size = Size::from_wh(size.width() * DOT, size.height() * DOT);
        surface.push_transform(&Transform::from_translate(x, y));
        let settings = SvgSettings::default();
        let drawn = size.and_then(|size| surface.draw_svg(&self.0, size, settings));
        surface.pop();
        drawn.ok_or(unprinted)
    }
}
