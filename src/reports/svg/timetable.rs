//! The timetable as a picture: a bar for each stage over the days of work.

use super::super::timetable::Timetable;
use super::super::visible::escaped;
use std::fmt::Write;

/// Millimetres that the days share.
const WIDTH: f64 = 130.0;
/// Millimetres for the names of the stages.
const NAMES: f64 = 26.0;
/// Millimetres a bar.
const ROW: f64 = 7.0;
/// Millimetres for the names of the days.
const HEAD: f64 = 7.0;

/// Width and height of the picture, in millimetres.
pub fn timetable_size(table: &Timetable) -> (f64, f64) {
    (NAMES + WIDTH + 1.0, HEAD + ROW * table.bars.len() as f64 + 1.0)
}

/// Markup of the picture.
pub fn timetable(table: &Timetable) -> String {
    let (width, height) = timetable_size(table);
    let day = WIDTH / table.days.max(1) as f64;
    let place = |seconds: u64| day * seconds as f64 / table.day as f64;
    let mut body = String::new();
    for (number, name) in &table.names {
        let x = NAMES + day * *number as f64;
        let _ = write!(
            body,
            "<path d=\"M{x:.2} 1V{:.2}\" stroke=\"#8a8a8a\" stroke-width=\".2\"/>\
             <text x=\"{:.2}\" y=\"4.6\" font-size=\"3\" fill=\"#111\">{}</text>",
            height - 1.0,
            x + 1.0,
            escaped(name)
        );
    }
    for (row, bar) in table.bars.iter().enumerate() {
        let y = HEAD + ROW * row as f64;
        // A bar that takes no time to speak of can still be seen.
        let (x, long) = (NAMES + place(bar.from), place(bar.to - bar.from).max(0.6));
        let _ = write!(
            body,
            "<text x=\"0\" y=\"{:.2}\" font-size=\"3.4\" fill=\"#111\">{}</text>\
             <rect x=\"{x:.2}\" y=\"{:.2}\" width=\"{long:.2}\" height=\"{:.2}\" fill=\"#444\"/>",
            y + 4.4,
            bar.stage,
            y + 1.2,
            ROW - 2.4
        );
    }
    let end = NAMES + WIDTH;
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"timetable\" role=\"img\" \
         aria-label=\"The stages over the days of work\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\">{body}\
         <path d=\"M{end:.2} 1V{:.2}\" stroke=\"#8a8a8a\" stroke-width=\".2\"/></svg>",
        height - 1.0
    )
}
