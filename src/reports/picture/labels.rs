//! What is written in a rectangle: as much as fits, upright where possible.

use super::{Canvas, LEADING as LINE, Paragraph, Point, Rectangle};
use crate::reports::drawing::{Region, Role};
use crate::reports::visible::shown;
use std::borrow::Cow;

/// Text in a rectangle.
#[derive(Clone, Debug, PartialEq)]
pub struct Lettered {
    lines: Vec<String>,
    place: Lettering,
    /// Of how many places it tells.
    places: usize,
}

/// Where and how large a text is written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lettering {
    wording: Wording,
    /// Height of the letters, in millimetres.
    font: f64,
    /// Whether it reads upwards.
    upward: bool,
    centre: Point,
}

/// One of the texts that could be written.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Wording {
    /// Its place among them: 0 is the fullest.
    rank: usize,
    lines: usize,
    /// Letters of its longest line.
    longest: usize,
    /// Whether it tells what is written on.
    tells_name: bool,
}

/// Largest and smallest letters, in millimetres; 2.85 mm are 8 point.
const LARGEST: f64 = 3.6;
const SMALLEST: f64 = 2.85;
/// Mean width of a letter, as a part of the letters' height.
const LETTER: f64 = 0.56;
/// Room that is left free at every edge.
const FREE: f64 = 0.9;

/// Width of a text in letters of this height.
pub fn width_of(text: &str, font: f64) -> f64 {
    LETTER * font * text.chars().count() as f64
}

/// Whether the name of a place can be read in it.
pub fn tells_name(name: &str, region: &Region, area: Rectangle) -> bool {
    place(Told::of(region, &shown(name)).wordings(), area)
        .is_some_and(|place| place.wording.tells_name)
}

/// The fullest text that fits.
fn place(mut wordings: impl Iterator<Item = Wording>, area: Rectangle) -> Option<Lettering> {
    let centre = Point::new(area.x + area.width / 2.0, area.y + area.height / 2.0);
    wordings.find_map(|wording| {
        let level = wording.font(area.width, area.height);
        let upward = wording.font(area.height, area.width);
        // Upright text is easier to read: turned only where it is clearly larger.
        let turned = upward > level * 1.3;
        let font = if turned { upward } else { level };
        (font >= SMALLEST).then_some(Lettering { wording, font, upward: turned, centre })
    })
}

/// All that could be written in a place of the drawing.
pub struct Wordings<'a> {
    region: &'a Region,
    all: Vec<Wording>,
}

impl<'a> Wordings<'a> {
    /// Of such a place.
    pub fn of(region: &'a Region) -> Wordings<'a> {
        let all = Told::of(region, &shown(&region.name)).wordings().collect();
        Wordings { region, all }
    }

    /// Where the fullest text that fits in a rectangle is written.
    pub fn fit(&self, area: Rectangle) -> Option<Lettering> {
        place(self.all.iter().copied(), area)
    }

    /// Where the text fits best that no number lies on; one that lies under a number where there is none.
    pub fn beside(&self, area: Rectangle, numbers: &[Rectangle]) -> Option<Lettering> {
        let mut area = area;
        let mut place = self.fit(area)?;
        let mut room = place.rectangle();
        // Twice: what gives way to one number may meet another.
        for number in numbers.iter().chain(numbers) {
            if !room.meets(number) {
                continue;
            }
            let parts = area.without(number);
            let places = parts.into_iter().filter_map(|part| Some((part, self.fit(part)?)));
            let tells_name = |place: &Lettering| place.wording.tells_name;
            let best = places.max_by(|(_, one), (_, other)| {
                (tells_name(one).cmp(&tells_name(other))).then(one.font.total_cmp(&other.font))
            });
            let as_good = best.filter(|(_, moved)| tells_name(moved) == tells_name(&place));
            if let Some((part, moved)) = as_good {
                (area, place, room) = (part, moved, moved.rectangle());
            }
        }
        Some(place)
    }

    /// What is written there, for so many places.
    pub fn label(&self, place: Lettering, places: usize) -> Lettered {
        let name = shown(&self.region.name);
        let lines = Told::of(self.region, &name).lines(place.wording.rank).unwrap_or_default();
        Lettered { lines: lines.into_iter().map(Cow::into_owned).collect(), place, places }
    }
}

impl Wording {
    /// Largest letters in which the lines fit.
    fn font(&self, width: f64, height: f64) -> f64 {
        let across = (width - 2.0 * FREE) / (LETTER * self.longest as f64);
        let down = (height - 2.0 * FREE) / (LINE * self.lines as f64);
        across.min(down).min(LARGEST)
    }
}

impl Lettering {
    /// The room it takes.
    pub fn rectangle(&self) -> Rectangle {
        let along = LETTER * self.font * self.wording.longest as f64;
        let across = LINE * self.font * self.wording.lines as f64;
        let (width, height) = if self.upward { (across, along) } else { (along, across) };
        Rectangle::around(self.centre.x, self.centre.y, width, height)
    }
}

/// What there is to write in a place.
#[derive(Clone, Copy)]
struct Told<'a> {
    name: &'a str,
    size: &'a str,
    role: Role,
}

impl<'a> Told<'a> {
    fn of(region: &'a Region, name: &'a str) -> Told<'a> {
        Told { name, size: &region.size_text, role: region.role }
    }

    /// What could be written, the fullest first; made one by one, since the first mostly fits.
    fn wordings(self) -> impl Iterator<Item = Wording> {
        (0..).map_while(move |rank| {
            let lines = self.lines(rank)?;
            let longest = lines.iter().map(|line| line.chars().count()).max().unwrap_or(1);
            let tells_name = !self.name.is_empty() && lines.concat().contains(self.name);
            Some(Wording { rank, lines: lines.len(), longest, tells_name })
        })
    }

    fn lines(self, rank: usize) -> Option<Vec<Cow<'a, str>>> {
        let Told { name, size, role } = self;
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

impl Lettered {
    /// Of how many places it tells the name.
    pub fn named(&self) -> usize {
        if self.place.wording.tells_name { self.places } else { 0 }
    }

    /// The room it takes.
    pub fn rectangle(&self) -> Rectangle {
        self.place.rectangle()
    }

    /// Writes it.
    pub fn draw(&self, canvas: &mut dyn Canvas) {
        canvas.block(&Paragraph {
            lines: &self.lines,
            centre: self.place.centre,
            size: self.place.font,
            upward: self.place.upward,
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

    fn label(role: Role, name: &str, width: f64, height: f64) -> Option<Lettered> {
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

    fn fit(region: &Region, area: Rectangle) -> Option<Lettered> {
        let wordings = Wordings::of(region);
        Some(wordings.label(wordings.fit(area)?, 1))
    }

    fn beside(region: &Region, area: Rectangle, numbers: &[Rectangle]) -> Lettered {
        let wordings = Wordings::of(region);
        wordings.label(wordings.beside(area, numbers).unwrap(), 1)
    }

    #[test]
    fn a_roomy_piece_tells_name_and_size_in_large_letters() {
        let label = label(Role::Piece(0), "note.card", 54.0, 35.0).unwrap();
        assert_eq!(label.lines, ["note.card", "8 1/4 x 5 3/4 in"]);
        assert_eq!((label.place.font, label.place.upward), (LARGEST, false));
    }

    #[test]
    fn a_high_and_narrow_piece_is_written_upwards() {
        assert!(label(Role::Piece(0), "note.card", 9.0, 54.0).unwrap().place.upward);
    }

    #[test]
    fn a_long_name_is_broken_at_its_joints() {
        let label = label(Role::Piece(0), "invitation.card+reply.card", 30.0, 30.0).unwrap();
        assert_eq!(label.lines, ["invitation.", "card+", "reply.", "card", "8 1/4 x 5 3/4 in"]);
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
                prop_assert!((SMALLEST..=LARGEST).contains(&label.place.font));
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
            name: "tag.card".to_owned(),
            size_text: "3 x 1 1/2 in".to_owned(),
        };
        let area = Rectangle { x: 0.0, y: 0.0, width: 40.0, height: 8.0 };
        let number = Rectangle::around(12.0, 4.0, 5.0, 4.4);
        assert!(fit(&region, area).unwrap().rectangle().meets(&number));
        let moved = beside(&region, area, &[number]);
        assert!(!moved.rectangle().meets(&number) && moved.named() == 1);
        // Numbers everywhere: it stays where it was.
        let full = Rectangle::around(20.0, 4.0, 40.0, 8.0);
        assert_eq!(beside(&region, area, &[full]).place.centre, Point::new(20.0, 4.0));
    }

    #[test]
    fn a_sliver_stays_without_text() {
        assert!(label(Role::Waste, "", 50.0, 3.0).is_none());
        assert!(label(Role::Waste, "", 50.0, 2.0 * FREE + LINE * SMALLEST + 0.01).is_some());
    }
}
