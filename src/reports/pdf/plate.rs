//! Drawings as marks on a page.

use super::fonts::Fonts;
use super::{Mark, Style};
use crate::reports::picture::{Alignment, Canvas, Line, Panel, Paragraph, Point, Stroke, Text};
use crate::reports::visible::shown;

/// Marks of a drawing, from its own left and upper edge.
pub(super) struct Marks<'a> {
    fonts: &'a Fonts,
    marks: Vec<Mark>,
}

impl<'a> Marks<'a> {
    /// The marks of what `draw` draws, its point `origin` in the corner.
    pub fn of(fonts: &'a Fonts, origin: Point, draw: impl FnOnce(&mut dyn Canvas)) -> Vec<Mark> {
        let mut plate = Marks { fonts, marks: Vec::new() };
        draw(&mut plate);
        plate.marks.into_iter().map(|mark| mark.moved(-origin.x, -origin.y)).collect()
    }

    /// Writes a line of text with this point of its base line in its middle.
    fn write(&mut self, text: &str, middle: Point, style: Style) {
        let text = shown(text);
        let half = self.fonts.width(&text, &style) / 2.0;
        let at = match style.upward {
            true => Point::new(middle.x, middle.y + half),
            false => Point::new(middle.x - half, middle.y),
        };
        self.marks.push(Mark::Text { at, text, style });
    }
}

impl Canvas for Marks<'_> {
    fn shape(&mut self, shape: &Panel) {
        self.marks.push(Mark::Panel(*shape));
    }

    fn lines(&mut self, stroke: Stroke, lines: &[Line]) {
        if !lines.is_empty() {
            self.marks.push(Mark::Lines { lines: lines.to_vec(), stroke });
        }
    }

    fn text(&mut self, text: &Text) {
        let Text { at, size, bold, colour, upward, .. } = *text;
        let style = Style { size, bold, colour, upward };
        match text.anchor {
            Alignment::Middle => self.write(&text.text, at, style),
            Alignment::Start => {
                let text = shown(&text.text);
                self.marks.push(Mark::Text { at, text, style });
            }
        }
    }

    /// A light ground keeps a hatch off the letters.
    fn block(&mut self, block: &Paragraph) {
        self.shape(&block.ground());
        let style = Style { upward: block.upward, ..Style::plain(block.size) };
        let Point { x, y } = block.centre;
        for (line, below) in block.base_lines() {
            let at = match block.upward {
                true => Point::new(x + below, y),
                false => Point::new(x, y + below),
            };
            self.write(line, at, style);
        }
    }
}
