//! What is written in a rectangle: as much as fits, upright where possible.

use super::{Block, Canvas, LEADING as LINE, Point, Rectangle};
use crate::reports::drawing::{Region, Role};
use crate::reports::visible::shown;
use std::borrow::Cow;

/// Text in a rectangle.
pub struct Label {
    lines: Vec<String>,
    /// Height of the letters, in millimetres.
    font: f64,
    /// Whether it reads upwards.
    upward: bool,
    centre: (f64, f64),
    /// Whether it tells what is written on.
    tells_name: bool,
    /// Of how many places it tells.
    places: usize,
}

/// Largest and smallest letters, in millimetres; 2.1 mm is 6 point.
const LARGEST: f64 = 3.6;
const SMALLEST: f64 = 2.1;
/// Mean width of a letter, as a part of the letters' height.
const LETTER: f64 = 0.56;
/// Room that is left free at every edge.
const FREE: f64 = 0.9;

/// Width of a text in letters of this height.
pub fn width_of(text: &str, font: f64) -> f64 {
    LETTER * font * text.chars().count() as f64
}

/// The fullest text that fits in the rectangle.
pub fn fit(region: &Region, area: Rectangle) -> Option<Label> {
    let centre = (area.x + area.width / 2.0, area.y + area.height / 2.0);
    let name = shown(&region.name);
    let told = Told { name: &name, size: &region.size_text };
    (0..).map_while(|rank| told.lines(region.role, rank)).find_map(|lines| {
        let level = font(&lines, area.width, area.height);
        let upward = font(&lines, area.height, area.width);
        // Upright text is easier to read: turned only where it is clearly larger.
        let turned = upward > level * 1.3;
        let font = if turned { upward } else { level };
        if font < SMALLEST {
            return None;
        }
        let tells_name = !name.is_empty() && lines.concat().contains(&*name);
        let lines = lines.into_iter().map(Cow::into_owned).collect();
        Some(Label { lines, font, upward: turned, centre, tells_name, places: 1 })
    })
}

/// The text that fits best where no number lies; one that lies under a number where there is none.
pub fn beside(region: &Region, area: Rectangle, numbers: &[Rectangle]) -> Option<Label> {
    let mut area = area;
    let mut label = fit(region, area)?;
    // Twice: what gives way to one number may meet another.
    for number in numbers.iter().chain(numbers) {
        if !label.rectangle().meets(number) {
            continue;
        }
        let parts = area.without(number);
        let labels = parts.into_iter().filter_map(|part| Some((part, fit(region, part)?)));
        let best = labels.max_by(|(_, one), (_, other)| {
            (one.tells_name.cmp(&other.tells_name)).then(one.font.total_cmp(&other.font))
        });
        if let Some((part, moved)) = best.filter(|(_, moved)| moved.tells_name == label.tells_name)
        {
            (area, label) = (part, moved);
        }
    }
    Some(label)
}

/// Largest letters in which the lines fit.
fn font(lines: &[Cow<str>], width: f64, height: f64) -> f64 {
    let longest = lines.iter().map(|line| line.chars().count()).max().unwrap_or(1);
    let across = (width - 2.0 * FREE) / (LETTER * longest as f64);
    let down = (height - 2.0 * FREE) / (LINE * lines.len() as f64);
    across.min(down).min(LARGEST)
}

/// What there is to write in a place.
#[derive(Clone, Copy)]
struct Told<'a> {
    name: &'a str,
    size: &'a str,
}

impl<'a> Told<'a> {
    /// What could be written, the fullest at rank 0; made one by one, since the first mostly fits.
    fn lines(self, role: Role, rank: usize) -> Option<Vec<Cow<'a, str>>> {
        let Told { name, size } = self;
        let plain = |lines: &[&'a str]| lines.iter().map(|line| Cow::Borrowed(*line)).collect();
        let kept = |line: String| vec![Cow::Owned(line)];
        Some(match (role, rank) {
            (Role::Piece(_), 0) => plain(&[name, size]),
            (Role::Piece(_), 1) => plain(&[broken(name), vec![size]].concat()),
            (Role::Piece(_), 2) => plain(&[broken(name), broken_size(size)].concat()),
            (Role::Piece(_), 3) => plain(&[name]),
            (Role::Piece(_), 4) => plain(&broken(name)),
            (Role::Piece(_), 5) => plain(&[size]),
            (Role::Piece(_), 6) => plain(&broken_size(size)),
            (Role::Offcut, 0) => vec![Cow::Owned(format!("keep {name}")), Cow::Borrowed(size)],
            (Role::Offcut, 1) => kept(format!("keep {name}, {size}")),
            (Role::Offcut, 2) => plain(&["keep", name, size]),
            (Role::Offcut, 3) => plain(&[vec!["keep"], broken(name), broken_size(size)].concat()),
            (Role::Offcut, 4) => kept(format!("keep {name}")),
            (Role::Offcut, 5) => plain(&[name]),
            (Role::Offcut, 6) => kept(format!("keep {size}")),
            (Role::Offcut, 7) => plain(&["keep"]),
            (Role::Waste, 0) => plain(&["waste"]),
            _ => return None,
        })
    }
}

/// A name over several lines, broken behind its joints.
fn broken(name: &str) -> Vec<&str> {
    name.split_inclusive(['.', '+', '-', ' ', '_']).collect()
}

/// `8 1/2 x` over `5 1/2 in`.
fn broken_size(size: &str) -> Vec<&str> {
    const BY: &str = " x";
    match size.split_once(" x ") {
        Some((width, height)) => vec![&size[..width.len() + BY.len()], height],
        None => vec![size],
    }
}

impl Label {
    /// The same for so many places: lines between them run below it.
    pub fn of(self, places: usize) -> Label {
        Label { places, ..self }
    }

    /// Whether the name of the piece or offcut can be read in it.
    pub fn tells_name(&self) -> bool {
        self.tells_name
    }

    /// Of how many places it tells the name.
    pub fn named(&self) -> usize {
        if self.tells_name { self.places } else { 0 }
    }

    /// The room it takes.
    pub fn rectangle(&self) -> Rectangle {
        let longest = self.lines.iter().map(|line| line.chars().count()).max().unwrap_or(1);
        let along = LETTER * self.font * longest as f64;
        let across = LINE * self.font * self.lines.len() as f64;
        let (width, height) = if self.upward { (across, along) } else { (along, across) };
        Rectangle::around(self.centre.0, self.centre.1, width, height)
    }

    /// Writes it.
    pub fn draw(&self, canvas: &mut dyn Canvas) {
        canvas.block(&Block {
            lines: &self.lines,
            centre: Point::new(self.centre.0, self.centre.1),
            size: self.font,
            upward: self.upward,
            room: self.rectangle(),
            over_lines: self.places > 1,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Length;
    use crate::reports::fixture::size;
    use proptest::prelude::*;

    fn label(role: Role, name: &str, width: f64, height: f64) -> Option<Label> {
        let region = Region {
            x: Length::ZERO,
            y: Length::ZERO,
            size: size("8 1/4 x 5 3/4"),
            role,
            name: name.to_owned(),
            size_text: "8 1/4 x 5 3/4 in".to_owned(),
        };
        fit(&region, Rectangle { x: 0.0, y: 0.0, width, height })
    }

    #[test]
    fn a_roomy_piece_tells_name_and_size_in_large_letters() {
        let label = label(Role::Piece(0), "note.base", 54.0, 35.0).unwrap();
        assert_eq!(label.lines, ["note.base", "8 1/4 x 5 3/4 in"]);
        assert_eq!((label.font, label.upward), (LARGEST, false));
    }

    #[test]
    fn a_high_and_narrow_piece_is_written_upwards() {
        assert!(label(Role::Piece(0), "note.base", 9.0, 54.0).unwrap().upward);
    }

    #[test]
    fn a_long_name_is_broken_at_its_joints() {
        let label = label(Role::Piece(0), "invitation.base+reply.base", 30.0, 30.0).unwrap();
        assert_eq!(label.lines, ["invitation.", "base+", "reply.", "base", "8 1/4 x 5 3/4 in"]);
    }

    proptest! {
        #[test]
        fn text_never_leaves_its_rectangle(
            width in 0.1_f64..120.0,
            height in 0.1_f64..120.0,
            name in "[a-z.+ -]{1,40}",
            role in prop_oneof![Just(Role::Piece(0)), Just(Role::Offcut), Just(Role::Waste)],
        ) {
            if let Some(label) = label(role, &name, width, height) {
                let room = label.rectangle();
                prop_assert!(room.width <= width && room.height <= height, "{:?}", label.lines);
                prop_assert!((SMALLEST..=LARGEST).contains(&label.font));
            }
        }
    }

    #[test]
    fn a_label_gives_way_to_a_number() {
        let region = Region {
            x: Length::ZERO,
            y: Length::ZERO,
            size: size("3 x 1 1/2"),
            role: Role::Piece(0),
            name: "tag.base".to_owned(),
            size_text: "3 x 1 1/2 in".to_owned(),
        };
        let area = Rectangle { x: 0.0, y: 0.0, width: 40.0, height: 8.0 };
        let number = Rectangle::around(12.0, 4.0, 5.0, 4.4);
        assert!(fit(&region, area).unwrap().rectangle().meets(&number));
        let moved = beside(&region, area, &[number]).unwrap();
        assert!(!moved.rectangle().meets(&number) && moved.tells_name);
        // Numbers everywhere: it stays where it was.
        let full = Rectangle::around(20.0, 4.0, 40.0, 8.0);
        assert_eq!(beside(&region, area, &[full]).unwrap().centre, (20.0, 4.0));
    }

    #[test]
    fn a_sliver_stays_without_text() {
        assert!(label(Role::Waste, "", 50.0, 3.0).is_none());
        assert!(label(Role::Waste, "", 50.0, 2.0 * FREE + LINE * SMALLEST + 0.01).is_some());
    }
}
