//! One thing below the other, on as many pages as it takes.

use super::fonts::Fonts;
use super::{EDGE, HEADING, Mark, PART, SMALL, Style, TEXT, extent};
use crate::reports::picture::{Line, Point, Stroke};
use crate::reports::visible::shown;
use crate::workshop::PageSize;

/// Free room at the foot of a page, for its number.
const FOOT: f64 = 13.0;

/// Pages while they are filled.
pub(super) struct Flow<'a> {
    pub fonts: &'a Fonts,
    pages: Vec<Vec<Mark>>,
    width: f64,
    height: f64,
    /// Where the next thing begins.
    pub y: f64,
    /// A heading, and what was said below it, that the next thing must not leave behind: its first mark on the
    /// page, and its upper edge.
    held: Option<(usize, f64)>,
}

impl<'a> Flow<'a> {
    pub fn new(page: PageSize, fonts: &'a Fonts) -> Flow<'a> {
        let (width, height) = extent(page);
        Flow { fonts, pages: vec![Vec::new()], width, height, y: EDGE, held: None }
    }

    /// Room between the edges.
    pub fn width(&self) -> f64 {
        self.width - 2.0 * EDGE
    }

    /// Room from the upper edge of a page to its foot.
    pub fn height(&self) -> f64 {
        self.height - EDGE - FOOT
    }

    /// Begins a page where so much does not fit on this one. A heading that nothing follows yet goes along.
    pub fn make_room(&mut self, height: f64) {
        if self.y + height <= self.height - FOOT || self.y <= EDGE {
            return;
        }
        let (held, foot) = (self.held.take(), self.y);
        let page = self.pages.last_mut();
        let moved = page
            .zip(held)
            .filter(|(_, (_, top))| *top > EDGE)
            .map(|(page, (first, top))| (page.split_off(first.min(page.len())), top));
        self.turn();
        if let Some((marks, top)) = moved {
            marks.into_iter().for_each(|mark| self.put(mark.moved(0.0, EDGE - top)));
            self.y += foot - top;
            // Together they may be higher than a page.
            self.make_room(height);
        }
    }

    /// How much of a page it takes; a whole one where that is not enough.
    pub fn height_of(&self, put: impl FnOnce(&mut Flow)) -> f64 {
        let mut alone = Flow { pages: vec![Vec::new()], y: EDGE, held: None, ..*self };
        put(&mut alone);
        if alone.pages.len() > 1 { self.height() } else { alone.y - EDGE }
    }

    /// A line to cut along, above something that is of this name.
    pub fn cut_here(&mut self, of: &str) {
        let right = self.width - EDGE;
        if self.y > EDGE {
            self.y += 2.0;
            let stroke = Stroke { dash: Some([1.6, 1.2]), ..Stroke::ink(0.2) };
            self.put(Mark::line([EDGE, self.y, right, self.y], stroke));
        }
        let (of, style) = (shown(of), SMALL);
        let x = right - self.fonts.width(&of, &style);
        self.line(Point::new(x.max(EDGE), self.y + 1.0), &of, style);
    }

    /// A bar of 50 mm by which a print can be checked, at this height, and what is said of it.
    pub fn bar(&mut self, y: f64, told: &str) {
        let (left, right) = (EDGE, EDGE + 50.0);
        self.put(Mark::line([left, y, right, y], Stroke::ink(0.5)));
        // Their outer edges are 50 mm apart.
        for x in [left + 0.15, right - 0.15] {
            self.put(Mark::line([x, y - 2.0, x, y + 2.0], Stroke::ink(0.3)));
        }
        self.text(Point::new(right + 4.0, y + 1.0), told, SMALL);
    }

    /// An arrow up around its middle, so long each way, with a head so high and as far to each side.
    pub fn arrow_up(&mut self, Point { x, y }: Point, reach: f64, head: f64) {
        let tip = y - reach;
        let lines = [
            [x, y + reach, x, tip],
            [x - head, tip + head, x, tip],
            [x, tip, x + head, tip + head],
        ];
        let lines = lines.map(Line::new).to_vec();
        self.put(Mark::Lines { lines, stroke: Stroke { round: true, ..Stroke::ink(0.4) } });
    }

    /// Begins a page.
    pub fn turn(&mut self) {
        self.pages.push(Vec::new());
        self.y = EDGE;
        self.held = None;
    }

    pub fn put(&mut self, mark: Mark) {
        if let Some(page) = self.pages.last_mut() {
            page.push(mark);
        }
    }

    /// From here on, what comes next has to stay with what follows. A heading just before stays with it, too.
    fn hold(&mut self) {
        let first = self.pages.last().map_or(0, Vec::len);
        self.held.get_or_insert((first, self.y));
    }

    /// What the headings are of has begun.
    pub fn release(&mut self) {
        self.held = None;
    }

    /// A line of text; what acts unseen is shown.
    pub fn text(&mut self, at: Point, text: &str, style: Style) {
        self.put(Mark::Text { at, text: shown(text), style });
    }

    /// A line of text whose upper edge is there; where its lower one is.
    pub fn line(&mut self, corner: Point, text: &str, style: Style) -> f64 {
        let foot = corner.y + style.leading();
        self.text(Point::new(corner.x, foot - 0.3 * style.size), text, style);
        foot
    }

    /// A heading, on one page with what it is of.
    pub fn heading(&mut self, text: &str) {
        self.release();
        self.make_room(3.0 + HEADING.leading());
        self.y += if self.y > EDGE { 3.0 } else { 0.0 };
        self.hold();
        self.lines(text, HEADING);
        self.y += 1.0;
    }

    /// A heading within a section.
    pub fn part(&mut self, text: &str) {
        self.make_room(2.0 + PART.leading());
        self.y += 2.0;
        self.hold();
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
            self.y = self.line(Point::new(x, self.y), &line, style);
        }
    }

    pub fn finish(self) -> Vec<Vec<Mark>> {
        self.pages
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The texts of each page, with their heights.
    fn pages(flow: Flow) -> Vec<Vec<(String, f64)>> {
        let text = |mark: &Mark| match mark {
            Mark::Text { at, text, .. } => Some((text.clone(), at.y)),
            _ => None,
        };
        flow.finish().iter().map(|page| page.iter().filter_map(text).collect()).collect()
    }

    #[test]
    fn a_heading_goes_where_its_table_goes() {
        let fonts = Fonts::new().unwrap();
        let told = |released: bool| {
            let mut flow = Flow::new(PageSize::A4, &fonts);
            flow.y = flow.height() - 25.0;
            flow.text(Point::new(EDGE, flow.y), "before", TEXT);
            flow.heading("Score");
            flow.paragraph("said");
            if released {
                flow.release();
            }
            flow.make_room(20.0);
            flow.text(Point::new(EDGE, flow.y), "row", TEXT);
            let texts = |page: &Vec<(String, f64)>| {
                page.iter().map(|(text, _)| text.clone()).collect::<Vec<_>>()
            };
            let pages = pages(flow);
            (pages.iter().map(texts).collect::<Vec<_>>(), pages)
        };
        let (texts, pages) = told(false);
        assert_eq!(texts, [vec!["before"], vec!["Score", "said", "row"]]);
        let heights: Vec<f64> = pages[1].iter().map(|(_, y)| *y).collect();
        assert!(heights[0] < EDGE + HEADING.leading() && heights.is_sorted(), "{heights:?}");
        assert_eq!(told(true).0, [vec!["before", "Score", "said"], vec!["row"]]);
    }

    #[test]
    fn what_is_higher_than_a_page_ends_all_the_same() {
        let fonts = Fonts::new().unwrap();
        let mut flow = Flow::new(PageSize::A4, &fonts);
        flow.paragraph("before");
        flow.heading("Cut");
        flow.make_room(2.0 * flow.height());
        assert_eq!(flow.y, EDGE);
    }
}
