//! Which cut lines get a number, where lines of one step lie so close that numbers would fill the drawing.
//!
//! Short lines that go on in each other count as one; of many lines beside each other only the first and the last
//! are numbered.

use super::scale::{Scale, UNSEEN};
use crate::measure::Length;
use crate::reports::drawing::NumberedCut;
use crate::schedule::CutLine;
use std::collections::BTreeMap;

/// Lines of one step: a single one, or the first and the last of several.
pub type Series = (NumberedCut, Option<NumberedCut>);

/// The lines to be numbered, in the order of the cuts; `room` is what a number takes, across and down, in millimetres.
pub fn series(cuts: &[NumberedCut], scale: Scale, room: impl Fn(u32) -> (f64, f64)) -> Vec<Series> {
    let mut series: Vec<Vec<NumberedCut>> = Vec::new();
    for cut in joined(cuts, scale, &room) {
        let last = series.last_mut().filter(|lines| {
            lines.last().is_some_and(|last| is_close(last, &cut, scale, room(cut.number)))
        });
        match last {
            Some(lines) => lines.push(cut),
            None => series.push(vec![cut]),
        }
    }
    let ends = |lines: Vec<NumberedCut>| match lines.as_slice() {
        [first, .., last] if lines.len() > 2 => vec![(*first, Some(*last))],
        _ => lines.into_iter().map(|line| (line, None)).collect(),
    };
    series.into_iter().flat_map(ends).collect()
}

/// The lines, short ones of a step that go on in each other as one.
fn joined(
    cuts: &[NumberedCut],
    scale: Scale,
    room: &impl Fn(u32) -> (f64, f64),
) -> Vec<NumberedCut> {
    let mut lines: Vec<NumberedCut> = Vec::new();
    let mut known: BTreeMap<(u32, bool, Length), usize> = BTreeMap::new();
    for cut in cuts {
        let (from, to) = stretch(&cut.line);
        let place = known.entry((cut.number, runs_down(&cut.line), at(&cut.line)));
        let place = place.or_insert(lines.len());
        let before = lines.get_mut(*place).filter(|before| {
            let (across, down) = room(cut.number);
            let short = scale.on_paper(to - from) < 2.0 * across.max(down);
            let gap = from - stretch(&before.line).1;
            short && gap >= Length::ZERO && scale.on_paper(gap) < UNSEEN
        });
        match before {
            Some(before) => (before.line.x2, before.line.y2) = (cut.line.x2, cut.line.y2),
            None => {
                *place = lines.len();
                lines.push(*cut);
            }
        }
    }
    lines
}

/// Whether two lines lie beside each other so close that between their numbers there is no room for another.
fn is_close(one: &NumberedCut, other: &NumberedCut, scale: Scale, room: (f64, f64)) -> bool {
    let down = runs_down(&one.line);
    let room = if down { room.0 } else { room.1 };
    one.number == other.number
        && down == runs_down(&other.line)
        && stretch(&one.line) == stretch(&other.line)
        && scale.on_paper(at(&other.line) - at(&one.line)).abs() < 2.0 * room
}

/// Whether a line runs down the sheet.
pub fn runs_down(line: &CutLine) -> bool {
    line.x1 == line.x2
}

fn at(line: &CutLine) -> Length {
    if runs_down(line) { line.x1 } else { line.y1 }
}

fn stretch(line: &CutLine) -> (Length, Length) {
    if runs_down(line) { (line.y1, line.y2) } else { (line.x1, line.x2) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::fixture::inch;

    fn cut(number: u32, [x1, y1, x2, y2]: [&str; 4]) -> NumberedCut {
        let line = CutLine { x1: inch(x1), y1: inch(y1), x2: inch(x2), y2: inch(y2) };
        NumberedCut { number, line }
    }

    fn of(cuts: &[NumberedCut]) -> Vec<Series> {
        series(cuts, Scale::of(4), |_| (4.4, 4.4))
    }

    /// A number is 4.4 mm wide here; at 1 : 4, 1 3/8 in are 8.7 mm and 1 7/16 in 9.1 mm.
    #[test]
    fn of_many_close_lines_the_first_and_the_last_are_numbered() {
        let lines = |xs: [&'static str; 3]| xs.map(|x| cut(7, [x, "0", x, "12"]));
        let close = lines(["1 3/8", "2 3/4", "4 1/8"]);
        assert_eq!(of(&close), [(close[0], Some(close[2]))]);
        assert_eq!(of(&close[..2]), [(close[0], None), (close[1], None)]);
        let apart = lines(["1 7/16", "2 7/8", "4 5/16"]);
        assert_eq!(of(&apart), apart.map(|line| (line, None)));
        let mut others = close;
        others[2].number = 8;
        assert_eq!(of(&others).len(), 3, "another step");
    }

    #[test]
    fn short_lines_that_go_on_in_each_other_are_one() {
        let short = [cut(3, ["0", "2", "1", "2"]), cut(3, ["1 1/8", "2", "2 1/8", "2"])];
        assert_eq!(of(&short), [(cut(3, ["0", "2", "2 1/8", "2"]), None)]);
        let apart = [short[0], cut(3, ["2", "2", "3", "2"])];
        assert_eq!(of(&apart).len(), 2);
        let long = [cut(3, ["0", "2", "5", "2"]), cut(3, ["5", "2", "10", "2"])];
        assert_eq!(of(&long).len(), 2);
    }
}
