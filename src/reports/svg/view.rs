//! What the pictures of the walk have in common. They have no size of their own and stand in a page whose style knows their
//! classes, so that a page of many stays small.

use crate::reports::picture::{Point, Rectangle};
use crate::reports::visible::escaped;
use std::fmt::Write;

/// What a picture shows, for a person who cannot see it.
#[derive(Clone, Copy)]
pub struct Caption<'a> {
    /// Its address on the page.
    pub id: &'a str,
    /// What it shows.
    pub title: &'a str,
    /// That in full; nothing where the words beside it say it.
    pub description: &'a str,
}

/// Letters of most words, and the smallest that can be read at arm's length.
pub(super) const FONT: f64 = 5.0;
pub(super) const SMALL: f64 = 3.6;
/// From one line to the next, as a part of the letters' height.
const LEADING: f64 = 1.18;

/// How words look.
#[derive(Clone, Copy)]
pub(super) struct WordsLook {
    pub size: f64,
    pub upward: bool,
}

impl WordsLook {
    /// How high so many lines are.
    pub fn height(self, lines: usize) -> f64 {
        self.size * LEADING * lines as f64
    }
}

/// A distance in a picture, to a tenth: less cannot be seen.
pub(super) fn tenths(value: f64) -> String {
    super::mm((value * 10.0).round() / 10.0)
}

/// A picture; `view` is all that it shows.
pub(super) fn element(told: Caption, view: Rectangle, body: &str) -> String {
    let Caption { id, title, description } = told;
    let (by, described) = match description.is_empty() {
        true => (String::new(), String::new()),
        false => {
            let described = format!("<desc id=\"{id}-d\">{}</desc>", escaped(description));
            (format!(" {id}-d"), described)
        }
    };
    format!(
        "<svg class=\"view\" role=\"img\" aria-labelledby=\"{id}-t{by}\" viewBox=\"{} {} {} {}\">\
         <title id=\"{id}-t\">{}</title>{described}{body}</svg>",
        tenths(view.x),
        tenths(view.y),
        tenths(view.width),
        tenths(view.height),
        escaped(title),
    )
}

/// A rectangle of this class and with this pattern; none of either where it is empty.
pub(super) fn put_box(body: &mut String, class: &str, fill: &str, area: Rectangle) {
    let class = if class.is_empty() { String::new() } else { format!(" class=\"{class}\"") };
    let fill = if fill.is_empty() { String::new() } else { format!(" fill=\"url(#{fill})\"") };
    let [x, y] = [area.x, area.y].map(tenths);
    let [right, bottom] = [area.x + area.width, area.y + area.height].map(tenths);
    // Writing to a String cannot fail.
    let _ = write!(body, "<path{class}{fill} d=\"M{x} {y}H{right}V{bottom}H{x}z\"/>");
}

/// Lines of text around their middle.
pub(super) fn put_lines(body: &mut String, text: &str, centre: Point, look: WordsLook) {
    let turn = if look.upward { " rotate(-90)" } else { "" };
    let small = if look.size < FONT { " class=\"small\"" } else { "" };
    let (x, y) = (tenths(centre.x), tenths(centre.y));
    let _ = write!(body, "<g{small} transform=\"translate({x} {y}){turn}\">");
    let first = look.size * (0.36 + LEADING / 2.0) - look.height(text.lines().count()) / 2.0;
    for (number, line) in text.lines().enumerate() {
        let _ = write!(
            body,
            "<text y=\"{}\">{}</text>",
            tenths(first + look.height(number)),
            escaped(line)
        );
    }
    body.push_str("</g>");
}
