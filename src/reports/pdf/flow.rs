//! One thing below the other, on as many pages as it takes.

use super::fonts::Fonts;
use super::{EDGE, HEADING, Mark, PART, Style, TEXT, extent};
use crate::reports::visible::shown;
use crate::workshop::PageSize;

/// Free room at the foot of a page, for its number.
const FOOT: f64 = 15.0;

/// Pages while they are filled.
pub(super) struct Flow<'a> {
    pub fonts: &'a Fonts,
    pages: Vec<Vec<Mark>>,
    width: f64,
    height: f64,
    /// Where the next thing begins.
    pub y: f64,
}

impl<'a> Flow<'a> {
    pub fn new(page: PageSize, fonts: &'a Fonts) -> Flow<'a> {
        let (width, height) = extent(page);
        Flow { fonts, pages: vec![Vec::new()], width, height, y: EDGE }
    }

    /// Room between the edges.
    pub fn width(&self) -> f64 {
        self.width - 2.0 * EDGE
    }

    /// Room from the upper edge of a page to its foot.
    pub fn height(&self) -> f64 {
        self.height - EDGE - FOOT
    }

    /// Begins a page where so much does not fit on this one.
    pub fn make_room(&mut self, height: f64) {
        if self.y + height > self.height - FOOT && self.y > EDGE {
            self.turn();
        }
    }

    /// Begins a page.
    pub fn turn(&mut self) {
        self.pages.push(Vec::new());
        self.y = EDGE;
    }

    pub fn put(&mut self, mark: Mark) {
        if let Some(page) = self.pages.last_mut() {
            page.push(mark);
        }
    }

    /// A line of text; what acts unseen is shown.
    pub fn text(&mut self, at: (f64, f64), text: &str, style: Style) {
        self.put(Mark::Text { at, text: shown(text), style });
    }

    /// A line of text whose upper edge is there; where its lower one is.
    pub fn line(&mut self, (x, top): (f64, f64), text: &str, style: Style) -> f64 {
        let foot = top + style.leading();
        self.text((x, foot - 0.3 * style.size), text, style);
        foot
    }

    /// A heading that `next` millimetres have to follow on the same page.
    pub fn heading(&mut self, text: &str, next: f64) {
        self.make_room(5.0 + HEADING.leading() + next);
        self.y += if self.y > EDGE { 5.0 } else { 0.0 };
        self.lines(text, HEADING);
        self.y += 1.5;
    }

    /// A heading within a section.
    pub fn part(&mut self, text: &str, next: f64) {
        self.make_room(3.0 + PART.leading() + next);
        self.y += 3.0;
        self.lines(text, PART);
        self.y += 1.0;
    }

    /// A paragraph over the whole width.
    pub fn paragraph(&mut self, text: &str) {
        self.lines(text, TEXT);
        self.y += 1.4;
    }

    /// Text over the whole width.
    pub fn lines(&mut self, text: &str, style: Style) {
        self.lines_from(EDGE, text, style);
    }

    /// Text from so far right to the right edge.
    pub fn lines_from(&mut self, x: f64, text: &str, style: Style) {
        let width = self.width - EDGE - x;
        for line in self.fonts.lines(text, &style, width) {
            self.make_room(style.leading());
            self.y = self.line((x, self.y), &line, style);
        }
    }

    pub fn finish(self) -> Vec<Vec<Mark>> {
        self.pages
    }
}
