//! How far a letter is from the limits of its class.

use super::reason::SIDES;
use super::{Letter, PostClass, Side};
use crate::measure::{Length, LengthStyle, Unit, Weight};

/// How much a letter could grow and stay in its class and its step of weight, each way alone.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PostRoom {
    /// Length, height and thickness; `None` where nothing limits them, or where the letter's own is not known.
    pub sides: [Option<Length>; 3],
    /// Up to the next step; `None` where the letter's weight is not known, or nothing limits it.
    pub weight: Option<Weight>,
}

impl PostClass {
    /// What a letter that it takes may still gain.
    pub fn room(&self, letter: &Letter) -> PostRoom {
        let sides = SIDES.map(|side| {
            let is = letter.along(side)?;
            self.ends(letter, side).into_iter().flatten().min().map(|end| end - is)
        });
        let end = self.step(letter).or(self.heaviest());
        let weight = letter.weight.zip(end).map(|(is, end)| end - is);
        PostRoom { sides, weight }
    }

    /// Where a side ends, by each rule of the class that it can break by growing; the other sides stay as they are.
    fn ends(&self, letter: &Letter, side: Side) -> [Option<Length>; 4] {
        let limits = &self.limits;
        let all = letter.length + letter.height + letter.thickness.unwrap_or_default();
        let sum = limits.sum.zip(letter.along(side)).map(|(most, is)| most - all + is);
        let too_thin = |needed: Length| letter.thickness.is_some_and(|is| is < needed);
        let too_light = |needed: Weight| letter.weight.is_some_and(|is| is < needed);
        let large = limits.large.as_ref().filter(|large| {
            large.thickness.is_some_and(too_thin) || large.weight.is_some_and(too_light)
        });
        let beyond = large.and_then(|large| large.beyond[side as usize]);
        let ratio = match side {
            // Length is at most the height times the ratio, height at most the length over it.
            Side::Length => limits.ratio[1].map(|most| part(letter.height, most, 1000)),
            Side::Height => limits.ratio[0].map(|least| part(letter.length, 1000, least)),
            Side::Thickness => None,
        };
        [limits.most[side as usize], sum, beyond, ratio]
    }
}

/// `length × above / below`, rounded down.
fn part(length: Length, above: u64, below: u64) -> Length {
    let ticks = i128::from(length.ticks()) * i128::from(above) / i128::from(below.max(1));
    Length::from_ticks(i64::try_from(ticks).unwrap_or(i64::MAX))
}

impl PostRoom {
    /// `0.47 oz heavier, 4 1/4 in longer, 7/8 in higher or 0.195 in thicker`, each rounded down; empty where nothing is
    /// known. `guessed` says that the thickness is a guess.
    pub fn told(&self, style: LengthStyle, guessed: bool) -> String {
        // What is left of a step may be less than is shown of it.
        let nothing = Weight::ZERO.rounded_down(style.unit);
        let weight = self.weight.map(|weight| weight.rounded_down(style.unit));
        let weight = weight.filter(|weight| *weight != nothing);
        let weight = weight.map(|weight| format!("{weight} heavier"));
        let about = if guessed { "about " } else { "" };
        let side = |side: Side| {
            let room = self.sides[side as usize]?;
            Some(match side {
                Side::Length => format!("{} longer", flat(room, style)),
                Side::Height => format!("{} higher", flat(room, style)),
                Side::Thickness => format!("{about}{} thicker", thick(room, style)),
            })
        };
        let parts: Vec<String> =
            weight.into_iter().chain(SIDES.into_iter().filter_map(side)).collect();
        match parts.as_slice() {
            [first @ .., last] if !first.is_empty() => format!("{} or {last}", first.join(", ")),
            parts => parts.concat(),
        }
    }
}

/// To a sixteenth of an inch or a millimetre; what is less, as of a thickness.
fn flat(room: Length, style: LengthStyle) -> String {
    let step = match style.unit {
        Unit::Inch => Length::from_inch_parts(1, 16),
        Unit::Millimetre | Unit::Centimetre => Length::from_mm(1),
    };
    match room.rounded_down(step) {
        Length::ZERO => thick(room, style),
        room => LengthStyle { graduation: step, ..style }.with_unit(room),
    }
}

/// To a thousandth of an inch or a hundredth of a millimetre.
fn thick(room: Length, style: LengthStyle) -> String {
    let step = match style.unit {
        Unit::Inch => Length::from_inch_parts(1, 1000),
        Unit::Millimetre | Unit::Centimetre => Length::from_ticks(Length::TICKS_PER_MM / 100),
    };
    style.thickness(room.rounded_down(step))
}

#[cfg(test)]
mod tests {
    use crate::formats::{Letter, rules_of};
    use crate::measure::{Length, LengthStyle, Size, Unit, Weight};

    fn told(rules: &str, letter: &Letter, unit: Unit) -> String {
        let style = LengthStyle { unit, graduation: Length::from_inch_parts(1, 16) };
        let verdict = rules_of(rules).unwrap().judge(letter);
        verdict.class.unwrap().room(letter).told(style, false)
    }

    fn letter(size: &str) -> Letter {
        Letter::enveloped(Size::parse(size, Unit::Inch).unwrap().unwrap())
    }

    /// USPS DMM 101.1.1: a letter of 11 1/2 x 6 1/8 x 1/4 in, in steps of 1 oz.
    #[test]
    fn room_is_left_up_to_the_next_step_and_to_the_largest_letter() {
        let set = Letter {
            thickness: Some(Length::from_inch_parts(55, 1000)),
            weight: Weight::parse("15 g"),
            ..letter("7 1/4 x 5 1/4")
        };
        // 28.35 - 15 g are 0.47 oz; 5.5769 in are as high as the ratio of 1.3 allows.
        let all = "0.47 oz heavier, 4 1/4 in longer, 5/16 in higher or 0.195 in thicker";
        assert_eq!(told("usps", &set, Unit::Inch), all);
        let two = "4 1/4 in longer or 5/16 in higher";
        assert_eq!(told("usps", &letter("7 1/4 x 5 1/4"), Unit::Inch), two);
    }

    /// DMM 101.1.2f: above 4 1/4 in of height or 6 in of length, 0.009 in of thickness.
    #[test]
    fn a_thin_letter_ends_where_it_has_to_be_thicker() {
        let thin =
            Letter { thickness: Some(Length::from_inch_parts(8, 1000)), ..letter("5 7/8 x 4 1/4") };
        let told = told("usps", &thin, Unit::Inch);
        assert_eq!(told, "1/8 in longer, 0 in higher or 0.242 in thicker");
    }

    /// UPU Letter-post Regulations, article 203: all sides together at most 900 mm, none above 600 mm.
    #[test]
    fn all_sides_share_one_limit() {
        let told = told("upu", &letter("590 x 300 mm"), Unit::Millimetre);
        assert_eq!(told, "10 mm longer or 10 mm higher");
    }
}
