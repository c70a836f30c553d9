//! The drawing of a sheet is cut up with scissors: along each line, in the order of the steps.

use super::super::{CutLine, CutStep, FinalPlate, RunCuts};
use crate::measure::{Axis, Length, Size};

/// A rectangle of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Scrap {
    x: Length,
    y: Length,
    size: Size,
}

impl Scrap {
    fn start(&self, axis: Axis) -> Length {
        match axis {
            Axis::Width => self.x,
            Axis::Height => self.y,
        }
    }

    /// Whether a line goes through it from edge to edge.
    fn is_crossed(&self, axis: Axis, line: &CutLine) -> bool {
        let right = self.x + self.size.width;
        let bottom = self.y + self.size.height;
        match axis {
            Axis::Width => {
                (line.y1, line.y2) == (self.y, bottom) && (self.x..right).contains(&line.x1)
            }
            Axis::Height => {
                (line.x1, line.x2) == (self.x, right) && (self.y..bottom).contains(&line.y1)
            }
        }
    }

    /// What is before `at` and the last `rest` of it; what is between them is under the blade.
    fn cut(&self, axis: Axis, at: Length, rest: Length) -> [Scrap; 2] {
        let near = Scrap { size: self.size.with(axis, at - self.start(axis)), ..*self };
        let far = Scrap { size: self.size.with(axis, rest), ..*self };
        let begin = self.start(axis) + self.size.along(axis) - rest;
        match axis {
            Axis::Width => [near, Scrap { x: begin, ..far }],
            Axis::Height => [near, Scrap { y: begin, ..far }],
        }
    }
}

/// Cuts the drawing up; stops where a line is not the gauge's distance from the edge at the fence, or
/// where what is left is not what the run says.
pub fn cut_up(run: &RunCuts, blade: Length) {
    let mut scraps = vec![Scrap { x: Length::ZERO, y: Length::ZERO, size: run.size }];
    for step in &run.cuts {
        for line in &step.lines {
            cut_along(&mut scraps, step, line, blade);
        }
    }
    scraps.retain(|scrap| scrap.size.is_positive());
    scraps.sort_unstable();
    let scrap = |place: &FinalPlate| Scrap { x: place.x, y: place.y, size: place.size };
    let mut places: Vec<Scrap> = run.places.iter().map(scrap).collect();
    places.sort_unstable();
    assert_eq!(scraps, places);
}

fn cut_along(scraps: &mut Vec<Scrap>, step: &CutStep, line: &CutLine, blade: Length) {
    let axis = step.across;
    let found = scraps.iter().position(|scrap| scrap.is_crossed(axis, line));
    let scrap = scraps.swap_remove(found.expect("a line that cuts nothing"));
    let at = if axis == Axis::Width { line.x1 } else { line.y1 };
    let offset = at - scrap.start(axis);
    let rest = match step.squaring && offset != step.gauge {
        // The near edge comes off, and the gauge is what stays.
        true => step.gauge,
        false => {
            assert_eq!(offset, step.gauge, "step {}", step.number);
            (scrap.size.along(axis) - offset - blade).max(Length::ZERO)
        }
    };
    scraps.extend(scrap.cut(axis, at, rest));
}
