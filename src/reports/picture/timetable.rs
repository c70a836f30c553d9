//! The timetable as a picture: a bar for each stage over the days of work.

use super::{Canvas, Colour, Fill, Line, Panel, Point, Rectangle, Stroke, Text};
use crate::reports::timetable::TimetableRows;

/// Millimetres that the days share.
const WIDTH: f64 = 130.0;
/// Millimetres for the names of the stages.
const NAMES: f64 = 26.0;
/// Millimetres a bar.
const ROW: f64 = 7.0;
/// Millimetres for the names of the days.
const HEAD: f64 = 7.0;

/// Width and height of the picture, in millimetres.
pub fn timetable_size(table: &TimetableRows) -> (f64, f64) {
    (NAMES + WIDTH + 1.0, HEAD + ROW * table.bars.len() as f64 + 1.0)
}

/// Draws it.
pub fn draw_timetable(table: &TimetableRows, canvas: &mut dyn Canvas) {
    let (_, height) = timetable_size(table);
    let day = WIDTH / table.days.max(1) as f64;
    let place = |seconds: u64| day * seconds as f64 / table.day as f64;
    let begin = |number: u64| NAMES + day * number as f64;
    let ends = table.names.iter().map(|(number, _)| begin(*number)).chain([NAMES + WIDTH]);
    let ends: Vec<Line> = ends.map(|x| Line::new([x, 1.0, x, height - 1.0])).collect();
    canvas.lines(Stroke { colour: Colour::PALE, ..Stroke::ink(0.2) }, &ends);
    for (number, name) in &table.names {
        canvas.text(&Text::at(Point::new(begin(*number) + 1.0, 4.6), 3.0, name));
    }
    for (row, bar) in table.bars.iter().enumerate() {
        let y = HEAD + ROW * row as f64;
        canvas.text(&Text::at(Point::new(0.0, y + 4.4), 3.4, bar.stage));
        // A bar that takes no time to speak of can still be seen.
        let width = place(bar.to - bar.from).max(0.6);
        let (x, y, height) = (NAMES + place(bar.from), y + 1.2, ROW - 2.4);
        let area = Rectangle { x, y, width, height };
        canvas.shape(&Panel::filled(area, Fill::Plain(Colour::BAR, 1.0)));
    }
}
