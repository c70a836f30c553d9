//! Every limit of every row of `post.csv`, below, at and above. The table is read here once more, so that a limit that
//! the program does not read is missed.

use crate::program::project;
use cardwright::formats::{
    Letter, MailContents, MailForm, PostRules, Reason, Side, post_rules, rules_of,
};
use cardwright::measure::{Length, LengthStyle, Size, Unit, Weight};
use std::collections::BTreeMap;

const TICK: Length = Length::from_ticks(1);

/// A class, by the columns of its row.
struct Row {
    cells: BTreeMap<String, String>,
    /// The post as if it had this class alone.
    post: PostRules,
}

fn rows() -> Vec<Row> {
    let path = project("src/formats/post.csv");
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).unwrap();
    let rows = reader.deserialize().map(|row| {
        let cells: BTreeMap<String, String> = row.unwrap();
        let rules = rules_of(&cells["rules"]).unwrap();
        let class = rules.classes.iter().find(|class| class.name == cells["class"]).unwrap();
        assert_eq!(class.source, cells["source"]);
        Row { post: PostRules { classes: vec![class.clone()], ..rules.clone() }, cells }
    });
    rows.collect()
}

fn length(text: &str) -> Length {
    Length::parse(text, Unit::Millimetre).unwrap()
}

fn weight(text: &str) -> Weight {
    Weight::parse(text).unwrap()
}

/// `1.3` in thousandths.
fn thousandths(text: &str) -> i64 {
    let (whole, part) = text.split_once('.').unwrap();
    format!("{whole}{part:0<3}").parse().unwrap()
}

fn ticks(ticks: i64) -> Length {
    Length::from_ticks(ticks)
}

fn picograms(picograms: i64) -> Weight {
    Weight::from_picograms(picograms)
}

/// A sheet of so many grams per square metre.
fn of_paper(length: Length, height: Length, grams: u64) -> Weight {
    Weight::of_paper(Size::new(length, height).area(), grams * 1000)
}

fn along(letter: &Letter, side: Side) -> Length {
    match side {
        Side::Length => letter.length,
        Side::Height => letter.height,
        Side::Thickness => letter.thickness.unwrap(),
    }
}

fn with_side(letter: Letter, side: Side, length: Length) -> Letter {
    match side {
        Side::Length => Letter { length, ..letter },
        Side::Height => Letter { height: length, ..letter },
        Side::Thickness => Letter { thickness: Some(length), ..letter },
    }
}

impl Row {
    fn cell(&self, column: &str) -> Option<&str> {
        Some(self.cells[column].as_str()).filter(|text| !text.is_empty())
    }

    fn reasons(&self, letter: &Letter) -> Vec<Reason> {
        let verdict = self.post.judge(letter);
        verdict.refused.into_iter().flat_map(|(_, reasons)| reasons).collect()
    }

    /// Letters of all shapes within the limits of the sides.
    fn letters(&self) -> impl Iterator<Item = Letter> {
        let between = |side: &str, end: i64| -> Vec<Length> {
            let cell = |column: String| self.cell(&column).map(length);
            let least = cell(format!("min {side}")).unwrap_or(TICK * 1000);
            let most = cell(format!("max {side}")).unwrap_or(Length::from_mm(end));
            // Whole thousands, so that a ratio can be met to the tick.
            let part = |step| (least.ticks() + (most - least).ticks() * step / 16) / 1000 * 1000;
            (0..=16).map(|step| ticks(part(step)).max(least)).collect()
        };
        let (longs, highs) = (between("length", 600), between("height", 600));
        let thicks = between("thickness", 20);
        let most = self.cell("max weight").map(|text| weight(text).picograms());
        let is_card = self.cell("takes") == Some("single cards");
        let form = if is_card { MailForm::Card } else { MailForm::Enveloped };
        let shapes = longs
            .into_iter()
            .flat_map(move |long| highs.clone().into_iter().map(move |high| (long, high)));
        shapes.flat_map(move |(length, height)| {
            let letter = move |thickness| Letter {
                length,
                height,
                thickness: Some(thickness),
                weight: Some(
                    most.map_or(of_paper(length, height, 300), |most| picograms(most / 2)),
                ),
                contents: MailContents::default(),
                form,
            };
            [thicks[2], thicks[8], thicks[14]].map(letter)
        })
    }

    /// Some letter that is taken at a limit and a step inside is refused a step beyond, for this reason alone.
    fn holds(&self, what: &str, at: impl Fn(Letter, i64) -> Letter, reason: fn(&Reason) -> bool) {
        let name = format!("{} {}: {what}", self.cells["rules"], self.cells["class"]);
        let taken = |letter: Letter| self.reasons(&letter).is_empty();
        let letter = self.letters().find(|it| taken(at(*it, 0)) && taken(at(*it, -1)));
        let letter = letter.unwrap_or_else(|| panic!("{name}: no letter is taken at the limit"));
        let reasons = self.reasons(&at(letter, 1));
        assert!(reasons.len() == 1 && reason(&reasons[0]), "{name}: {reasons:?}");
    }

    fn least(&self, column: &str, side: Side, limit: Length) {
        let at = |letter, beyond| with_side(letter, side, limit - ticks(beyond));
        self.holds(column, at, |reason| matches!(reason, Reason::Below(..)));
    }

    fn most(&self, column: &str, side: Side, limit: Length) {
        let at = |letter, beyond| with_side(letter, side, limit + ticks(beyond));
        self.holds(column, at, |reason| matches!(reason, Reason::Beyond(..)));
    }

    /// Thin or light letters up to the size, thicker or heavier ones beyond it.
    fn large(&self, column: &str, side: Side) {
        let ends = [
            ("large if longer", Side::Length),
            ("large if higher", Side::Height),
            ("large if thicker", Side::Thickness),
        ];
        let end = |column: &str| self.cell(column).map(length);
        let limit = ends.into_iter().find(|it| it.1 == side).and_then(|it| end(it.0)).unwrap();
        let small = |letter: Letter| {
            ends.into_iter().fold(letter, |letter, (column, side)| match end(column) {
                Some(end) => with_side(letter, side, along(&letter, side).min(end)),
                None => letter,
            })
        };
        let lacking = |letter: Letter, by: i64| match self.cell("large thickness") {
            Some(least) => with_side(letter, Side::Thickness, length(least) - ticks(by)),
            None => {
                let least = weight(self.cell("large weight").unwrap()).picograms();
                Letter { weight: Some(picograms(least - by)), ..letter }
            }
        };
        let is_lacking =
            |reason: &Reason| matches!(reason, Reason::Thin(..) | Reason::LightForSize(..));
        let size = |letter: Letter, beyond| {
            with_side(lacking(small(letter), 1), side, limit + ticks(beyond))
        };
        self.holds(column, size, is_lacking);
        let amount =
            |letter: Letter, beyond| lacking(with_side(small(letter), side, limit + TICK), beyond);
        self.holds(column, amount, is_lacking);
    }

    /// Cards without an envelope that are of the form that a class takes, and of others.
    fn takes(&self, what: &str) {
        let refused: &[MailForm] = match what {
            "single cards" => &[MailForm::Folded, MailForm::Layered],
            "no open folds" => &[MailForm::Folded],
            _ => panic!("nothing tries {what}"),
        };
        let letter = self.letters().find(|letter| self.reasons(letter).is_empty()).unwrap();
        for form in [MailForm::Card, MailForm::Folded, MailForm::Layered] {
            let reasons = self.reasons(&Letter { form, ..letter });
            let expected = refused.contains(&form).then_some(Reason::Form(form));
            assert_eq!(reasons, expected.into_iter().collect::<Vec<_>>(), "{what}");
        }
        let enveloped = self.post.judge(&Letter { form: MailForm::Enveloped, ..letter });
        assert_eq!(enveloped.class.is_some(), what == "no open folds");
        assert_eq!(enveloped.refused, [], "no letter in an envelope is told about cards");
    }

    /// Contents that machines do not take, one and both of them, and none.
    fn refuses(&self, what: &str) {
        let refused: Vec<&str> = what.split('|').collect();
        let letter = self.letters().find(|letter| self.reasons(letter).is_empty()).unwrap();
        for (is_rigid, is_uneven) in [(false, false), (true, false), (false, true), (true, true)] {
            let contents = MailContents { is_rigid, is_uneven };
            let reasons = self.reasons(&Letter { contents, ..letter });
            let rigid = (is_rigid && refused.contains(&"rigid")).then_some(Reason::Rigid);
            let uneven = (is_uneven && refused.contains(&"uneven")).then_some(Reason::Uneven);
            assert_eq!(reasons, rigid.into_iter().chain(uneven).collect::<Vec<_>>(), "{what}");
        }
    }

    fn paper(&self, column: &str, limit: u64, sign: i64, reason: fn(&Reason) -> bool) {
        let at = |letter: Letter, beyond| {
            let weight = of_paper(letter.length, letter.height, limit).picograms();
            Letter { weight: Some(picograms(weight + sign * beyond)), ..letter }
        };
        self.holds(column, at, reason);
    }

    /// What is smaller than the smallest size may not be taken; the answer names the source.
    fn doubt(&self, source: &str) {
        let taken = |letter: &Letter| self.reasons(letter).is_empty();
        let letter = self.letters().find(taken).unwrap();
        let least = length(self.cell("min length").unwrap());
        let verdict = self.post.judge(&with_side(letter, Side::Length, least - TICK));
        let style = LengthStyle { unit: Unit::Millimetre, graduation: Length::ZERO };
        assert_eq!((verdict.doubt(), verdict.class), (Some(source), None));
        assert!(verdict.why(style).ends_with(&format!("({source})")), "{}", verdict.why(style));
    }

    /// One of these has to be exceeded, and one is enough.
    fn over(&self, limits: &str) {
        let parts: Vec<&str> = limits.split('|').collect();
        let ([long, high, thick], heavy) =
            ([0, 1, 2].map(|at| length(parts[at])), weight(parts[3]));
        let within = |letter: Letter| Letter {
            length: letter.length.min(long),
            height: letter.height.min(high),
            thickness: letter.thickness.map(|it| it.min(thick)),
            weight: letter.weight.map(|it| it.min(heavy)),
            ..letter
        };
        let is_small = |reason: &Reason| matches!(reason, Reason::Small);
        for (side, limit) in [(Side::Length, long), (Side::Height, high), (Side::Thickness, thick)]
        {
            let at =
                |letter, beyond: i64| with_side(within(letter), side, limit + ticks(1 - beyond));
            self.holds(&format!("over, {side:?}"), at, is_small);
        }
        let at = |letter, beyond: i64| Letter {
            weight: Some(picograms(heavy.picograms() + 1 - beyond)),
            ..within(letter)
        };
        self.holds("over, weight", at, is_small);
    }

    /// Each step reaches up to its weight; nothing is beyond the last.
    fn steps(&self, steps: &str) {
        let steps: Vec<Weight> = steps.split('|').map(weight).collect();
        let letter = self.letters().next().unwrap();
        for (at, step) in steps.iter().enumerate() {
            let found = [-1, 0, 1].map(|more| {
                let weight = Some(picograms(step.picograms() + more));
                self.post.classes[0].step(&Letter { weight, ..letter })
            });
            assert_eq!(found, [Some(*step), Some(*step), steps.get(at + 1).copied()], "{step:?}");
        }
    }

    /// Tries what a cell says; whether it says a limit.
    fn tries(&self, column: &str, text: &str) -> bool {
        let set = |weight| move |letter: Letter| Letter { weight: Some(weight), ..letter };
        match column {
            "rules" | "class" | "source" => return false,
            "min length" => self.least(column, Side::Length, length(text)),
            "min height" => self.least(column, Side::Height, length(text)),
            "min thickness" => self.least(column, Side::Thickness, length(text)),
            "max length" => self.most(column, Side::Length, length(text)),
            "max height" => self.most(column, Side::Height, length(text)),
            "max thickness" => self.most(column, Side::Thickness, length(text)),
            "min weight" => {
                let limit = weight(text).picograms();
                let at = |letter, beyond| set(picograms(limit - beyond))(letter);
                self.holds(column, at, |reason| matches!(reason, Reason::Light(..)));
            }
            "max weight" => {
                let limit = weight(text).picograms();
                let at = |letter, beyond| set(picograms(limit + beyond))(letter);
                self.holds(column, at, |reason| matches!(reason, Reason::Heavy(..)));
            }
            "min ratio" => {
                let of = |letter: &Letter| letter.height.ticks() / 1000 * thousandths(text);
                let at =
                    |letter, beyond| with_side(letter, Side::Length, ticks(of(&letter) - beyond));
                self.holds(column, at, |reason| matches!(reason, Reason::Square(..)));
            }
            "max ratio" => {
                let of = |letter: &Letter| letter.height.ticks() / 1000 * thousandths(text);
                let at =
                    |letter, beyond| with_side(letter, Side::Length, ticks(of(&letter) + beyond));
                self.holds(column, at, |reason| matches!(reason, Reason::Narrow(..)));
            }
            "max sum" => {
                let rest = |it: &Letter| length(text) - it.height - it.thickness.unwrap();
                let at =
                    |letter, beyond| with_side(letter, Side::Length, rest(&letter) + ticks(beyond));
                self.holds(column, at, |reason| matches!(reason, Reason::Sum(..)));
            }
            "large if higher" | "large thickness" | "large weight" => {
                self.large(column, Side::Height);
            }
            "large if longer" => self.large(column, Side::Length),
            "large if thicker" => self.large(column, Side::Thickness),
            "takes" => self.takes(text),
            "refuses" => self.refuses(text),
            "min gsm" => {
                let is_light = |reason: &Reason| matches!(reason, Reason::LightPaper(..));
                self.paper(column, text.parse().unwrap(), -1, is_light);
            }
            "max gsm" => {
                let is_heavy = |reason: &Reason| matches!(reason, Reason::HeavyPaper(..));
                self.paper(column, text.parse().unwrap(), 1, is_heavy);
            }
            "over" => self.over(text),
            "steps" => self.steps(text),
            "smallest from" => self.doubt(text),
            _ => panic!("nothing tries {column}"),
        }
        true
    }
}

#[test]
fn every_limit_holds_below_at_and_above() {
    let rows = rows();
    assert_eq!(rows.len(), post_rules().iter().map(|rules| rules.classes.len()).sum::<usize>());
    let mut tried = 0;
    for row in &rows {
        for (column, text) in row.cells.iter().filter(|(_, text)| !text.is_empty()) {
            tried += usize::from(row.tries(column, text));
        }
    }
    assert!(tried > 170, "{tried}");
}
