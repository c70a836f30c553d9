//! The numbers of the cuts: outside the sheet where a cut reaches its edge, else on the line, and
//! never on top of each other where there is room. Of many close cuts of one step the first and the last are
//! numbered, and tied to each other.

use super::scale::Scale;
use super::series::{runs_down, series};
use super::{Alignment, Canvas, Colour, Fill, Line, Panel, Point, Rectangle, Stroke, Text};
use crate::reports::drawing::NumberedCut;

/// A step number at its cut line.
#[derive(Clone, Debug, PartialEq)]
pub struct Badge {
    number: u32,
    /// Its centre.
    at: Point,
    /// The end of the line it belongs to, where it stands off it.
    leader: Option<Point>,
    /// The number at the other end of its series, where nothing lies between.
    tie: Option<Point>,
}

const HEIGHT: f64 = 4.4;
/// Distance between the sheet's edge and the nearest numbers, and between two ranks of them.
const OFF: f64 = 3.4;
const RANK: f64 = 5.0;
/// Distance between a number on its line and the line's end.
const INSIDE: f64 = 3.6;

impl Badge {
    /// The room it takes.
    pub fn rectangle(&self) -> Rectangle {
        Rectangle::around(self.at.x, self.at.y, width(self.number), HEIGHT)
    }

    /// Draws what ties it to its line.
    pub fn draw_leader(&self, canvas: &mut dyn Canvas) {
        self.draw_from(self.leader, Stroke::ink(0.25), canvas);
    }

    /// Draws a bar to the other end of its series.
    pub fn draw_tie(&self, canvas: &mut dyn Canvas) {
        self.draw_from(self.tie, Stroke { opacity: 0.45, ..Stroke::ink(1.4) }, canvas);
    }

    fn draw_from(&self, from: Option<Point>, stroke: Stroke, canvas: &mut dyn Canvas) {
        if let Some(from) = from {
            canvas.lines(stroke, &[Line { from, to: self.at }]);
        }
    }

    /// Writes it.
    pub fn draw(&self, canvas: &mut dyn Canvas) {
        canvas.shape(&Panel {
            area: self.rectangle(),
            corner: HEIGHT / 2.0,
            fill: Fill::Plain(Colour::INK, 1.0),
            stroke: Some(Stroke { colour: Colour::WHITE, ..Stroke::ink(0.4) }),
        });
        let at = Point::new(self.at.x, self.at.y + 1.1);
        let number = self.number.to_string();
        let text = Text::at(at, 3.1, &number);
        canvas.text(&Text { anchor: Alignment::Middle, bold: true, colour: Colour::WHITE, ..text });
    }
}

fn width(number: u32) -> f64 {
    let digits = number.checked_ilog10().unwrap_or(0) + 1;
    (2.2 + 1.8 * f64::from(digits)).max(HEIGHT)
}

/// A place for the number of every cut, or of the first and the last of many that lie close.
pub fn place(
    cuts: &[NumberedCut],
    scale: Scale,
    sheet: &Rectangle,
    labels: &[Rectangle],
) -> Vec<Badge> {
    let mut badges: Vec<Badge> = Vec::new();
    let mut taken: Vec<Rectangle> = Vec::new();
    for (first, last) in series(cuts, scale, |number| (width(number), HEIGHT)) {
        let near = placed(&first, scale, sheet, &taken, labels);
        let at = near.at;
        taken.push(near.rectangle());
        badges.push(near);
        let Some(last) = last else { continue };
        let far = placed(&last, scale, sheet, &taken, labels);
        let straight = far.at.x == at.x || far.at.y == at.y;
        taken.push(far.rectangle());
        badges.push(Badge { tie: straight.then_some(at), ..far });
    }
    badges
}

/// The best place for a number that is free; the middle of its line where none is.
fn placed(
    cut: &NumberedCut,
    scale: Scale,
    sheet: &Rectangle,
    taken: &[Rectangle],
    labels: &[Rectangle],
) -> Badge {
    let mut candidates = candidates(cut, scale, sheet);
    let mut best = (f64::INFINITY, candidates.len() - 1);
    for (at, badge) in candidates.iter().enumerate() {
        let room = badge.rectangle();
        if taken.iter().any(|other| other.meets(&room)) {
            continue;
        }
        let hidden: f64 = labels.iter().map(|label| label.shared_with(&room)).sum();
        if hidden < best.0 {
            best = (hidden, at);
        }
        if hidden <= 0.0 {
            break;
        }
    }
    candidates.swap_remove(best.1)
}

/// Where the number could stand, the best first; the last is the middle of the line.
fn candidates(cut: &NumberedCut, scale: Scale, sheet: &Rectangle) -> Vec<Badge> {
    let number = cut.number;
    let line = cut.line;
    let [x1, y1, x2, y2] = [line.x1, line.y1, line.x2, line.y2].map(|end| scale.on_paper(end));
    let runs_down = runs_down(&line);
    let mut candidates = Vec::new();
    let reaches = |end: f64, edge: f64| (end - edge).abs() < 0.01;
    for rank in 0..3 {
        let off = OFF + RANK * f64::from(rank);
        if runs_down && reaches(y2, sheet.height) {
            candidates.push(Badge {
                number,
                at: Point::new(x2, sheet.height + off),
                leader: Some(Point::new(x2, y2)),
                tie: None,
            });
        }
        if !runs_down && reaches(x2, sheet.width) {
            let off = off + (width(number) - HEIGHT) / 2.0;
            candidates.push(Badge {
                number,
                at: Point::new(sheet.width + off, y2),
                leader: Some(Point::new(x2, y2)),
                tie: None,
            });
        }
    }
    // The middle comes late: folds and labels like to be there.
    let length = (x2 - x1).max(y2 - y1).max(0.1);
    let near = (INSIDE / length).min(0.5);
    for part in [near, 1.0 - near, 0.25, 0.75, 0.35, 0.65, 0.5] {
        let at = Point::new(x1 + (x2 - x1) * part, y1 + (y2 - y1) * part);
        candidates.push(Badge { number, at, leader: None, tie: None });
    }
    candidates
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture::inch;
    use crate::schedule::CutLine;

    fn sheet() -> Rectangle {
        Rectangle { x: 0.0, y: 0.0, width: 76.2, height: 76.2 }
    }

    fn cut(number: u32, [x1, y1, x2, y2]: [&str; 4]) -> NumberedCut {
        let line = CutLine { x1: inch(x1), y1: inch(y1), x2: inch(x2), y2: inch(y2) };
        NumberedCut { number, line }
    }

    fn placed(cuts: &[NumberedCut]) -> Vec<Badge> {
        place(cuts, Scale::of(4), &sheet(), &[])
    }

    #[test]
    fn a_cut_through_the_sheet_has_its_number_outside() {
        let badges = placed(&[cut(1, ["4", "0", "4", "12"]), cut(2, ["4", "6", "12", "6"])]);
        assert!(badges[0].at.y > 76.2);
        assert!(badges[1].at.x > 76.2);
    }

    #[test]
    fn an_inner_cut_has_its_number_on_the_line() {
        let badges = placed(&[cut(3, ["2", "2", "2", "8"])]);
        let at = badges[0].at;
        // 2 in are 12.7 mm at 1 : 4, and the line begins there.
        assert!((at.x - 12.7).abs() < 1e-9 && (at.y - 12.7 - INSIDE).abs() < 1e-9, "{at:?}");
    }

    #[test]
    fn crowded_numbers_stand_apart() {
        let positions = ["1", "1 1/4", "1 1/2", "1 3/4", "2", "2 1/4"];
        let cuts: Vec<NumberedCut> = positions.iter().map(|x| cut(12, [x, "0", x, "12"])).collect();
        let badges = placed(&cuts);
        for (index, badge) in badges.iter().enumerate() {
            for other in &badges[..index] {
                assert!(!badge.rectangle().meets(&other.rectangle()));
            }
        }
    }

    #[test]
    fn every_cut_has_a_number_even_without_room() {
        let cuts: Vec<NumberedCut> = (1..40).map(|n| cut(n, ["6", "0", "6", "12"])).collect();
        assert_eq!(placed(&cuts).len(), 39);
    }
}
