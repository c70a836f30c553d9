//! Whether a post takes a letter, as what, and why not as something cheaper.
//!
//! A letter is of the first class none of whose limits it breaks. Lengths, weights and ratios are compared as whole
//! numbers; a letter at a limit keeps it. The rules are those of the day that each carries; the post decides.

use super::list::{length, rows, weights};
use crate::diagnostics::Problems;
use crate::measure::{Length, LengthStyle, Weight};
use crate::table::{KnownColumn, Named};
use std::sync::LazyLock;

/// The rules of a post.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PostRules {
    /// Their name.
    pub name: String,
    /// Whose they are.
    pub authority: String,
    /// The day of the text they were taken from (ISO 8601).
    pub as_of: String,
    /// Its classes, the best first.
    pub classes: Vec<PostClass>,
}

/// A class of letters.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PostClass {
    /// Its name, as the post calls it.
    pub name: String,
    limits: Limits,
    /// The weights up to which its steps of price go, the lightest first.
    pub steps: Vec<Weight>,
    /// Where the limits are published.
    pub source: String,
    /// Where the smallest size is from, if nobody publishes it now: what is smaller may not be taken.
    pub doubt: Option<String>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Limits {
    least: [Option<Length>; 3],
    most: [Option<Length>; 3],
    weight: [Option<Weight>; 2],
    /// Length to height, in thousandths.
    ratio: [Option<u64>; 2],
    sum: Option<Length>,
    /// Thickness needed where height or length is beyond these.
    large: Option<(Length, [Length; 2])>,
    /// One of these has to be exceeded.
    over: Option<Over>,
}

/// Length, height and thickness, and a weight.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Over {
    sides: [Length; 3],
    weight: Weight,
}

/// A letter as it is posted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Letter {
    /// Along the address.
    pub length: Length,
    /// Across it.
    pub height: Length,
    /// Where it is known.
    pub thickness: Option<Length>,
    /// Where it is known.
    pub weight: Option<Weight>,
}

/// What a post says to a letter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PostVerdict<'a> {
    /// The class that takes it; `None` where none does.
    pub class: Option<&'a PostClass>,
    /// For each better class, or for all where none takes it, why it does not.
    pub refused: Vec<(&'a PostClass, Vec<Reason>)>,
}

/// A limit that a letter breaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// It is shorter than this along a side.
    Below(Side, Length, Length),
    /// It is longer than this along a side.
    Beyond(Side, Length, Length),
    /// It is lighter than this.
    Light(Weight, Weight),
    /// It is heavier than this.
    Heavy(Weight, Weight),
    /// Length to height is below this, both in thousandths.
    Square(u64, u64),
    /// Length to height is above this, both in thousandths.
    Narrow(u64, u64),
    /// Length, height and thickness together are beyond this.
    Sum(Length, Length),
    /// It is too thin for its size.
    Thin(Length, Length),
    /// It is not beyond a smaller class.
    Small,
}

/// A side of a letter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Along the address.
    Length,
    /// Across it.
    Height,
    /// Through it.
    Thickness,
}

const SIDES: [Side; 3] = [Side::Length, Side::Height, Side::Thickness];

const POSTS: [KnownColumn; 3] =
    [KnownColumn::needed("rules"), KnownColumn::needed("authority"), KnownColumn::needed("as of")];
const CLASSES: [KnownColumn; 20] = [
    KnownColumn::needed("rules"),
    KnownColumn::needed("class"),
    KnownColumn::optional("min length"),
    KnownColumn::optional("min height"),
    KnownColumn::optional("min thickness"),
    KnownColumn::optional("max length"),
    KnownColumn::optional("max height"),
    KnownColumn::optional("max thickness"),
    KnownColumn::optional("max weight"),
    KnownColumn::optional("min weight"),
    KnownColumn::optional("min ratio"),
    KnownColumn::optional("max ratio"),
    KnownColumn::optional("max sum"),
    KnownColumn::optional("large thickness"),
    KnownColumn::optional("large height"),
    KnownColumn::optional("large length"),
    KnownColumn::optional("over"),
    KnownColumn::needed("steps"),
    KnownColumn::needed("source"),
    KnownColumn::optional("smallest from"),
];

static RULES: LazyLock<Vec<PostRules>> = LazyLock::new(|| read(&mut Problems::new()));

/// All rules, in the order of the table.
pub fn post_rules() -> &'static [PostRules] {
    &RULES
}

/// The rules of this name.
pub fn rules_of(name: &str) -> Option<&'static PostRules> {
    post_rules().iter().find(|rules| rules.name == name)
}

impl PostRules {
    /// What the post says to a letter.
    pub fn judge(&self, letter: &Letter) -> PostVerdict<'_> {
        let mut refused = Vec::new();
        for class in &self.classes {
            let reasons = class.reasons(letter);
            if reasons.is_empty() {
                return PostVerdict { class: Some(class), refused };
            }
            let is_doubtful = class.doubt_of(&reasons).is_some();
            refused.push((class, reasons));
            if is_doubtful {
                break;
            }
        }
        PostVerdict { class: None, refused }
    }
}

impl PostVerdict<'_> {
    /// Where a smallest size is from because of which alone it may not be taken; `None` where nothing is in doubt.
    pub fn doubt(&self) -> Option<&str> {
        let (class, reasons) = self.refused.last().filter(|_| self.class.is_none())?;
        class.doubt_of(reasons)
    }

    /// The class that takes it, or that none does.
    pub fn word(&self) -> &str {
        match self.class {
            Some(class) => &class.name,
            None if self.doubt().is_some() => "may not be taken",
            None => "not taken",
        }
    }

    /// What is most worth telling of why a letter is not of a better class: where it is taken, why not as the best;
    /// where it is not, the class of which it breaks the fewest limits. `no letter: 162 mm high, at most 155.575 mm`;
    /// empty where it is of the best.
    pub fn why(&self, style: LengthStyle) -> String {
        let decisive = match self.class {
            Some(_) => self.refused.first(),
            None if self.doubt().is_some() => self.refused.last(),
            None => self.refused.iter().min_by_key(|(_, reasons)| reasons.len()),
        };
        let told = |reasons: &[Reason]| -> Vec<String> {
            reasons.iter().map(|reason| reason.told(style)).collect()
        };
        decisive.map_or_else(String::new, |(better, reasons)| {
            let why = format!("no {}: {}", better.name, told(reasons).join("; "));
            match self.doubt() {
                Some(source) => format!("{why} ({source})"),
                None => why,
            }
        })
    }
}

impl PostClass {
    /// The step of weight that a letter falls in: the heaviest that it may have; `None` where its weight
    /// is not known.
    pub fn step(&self, letter: &Letter) -> Option<Weight> {
        let weight = letter.weight?;
        self.steps.iter().copied().find(|step| weight <= *step)
    }

    /// The largest letter that it takes: length, height, thickness, as far as it limits them.
    pub fn most(&self) -> [Option<Length>; 3] {
        self.limits.most
    }

    /// The smallest one.
    pub fn least(&self) -> [Option<Length>; 3] {
        self.limits.least
    }

    /// The heaviest one.
    pub fn heaviest(&self) -> Option<Weight> {
        self.limits.weight[1]
    }

    /// The source of its smallest size, where a letter breaks no other limit and that source is in doubt.
    fn doubt_of(&self, reasons: &[Reason]) -> Option<&str> {
        let is_small = reasons.iter().all(|reason| matches!(reason, Reason::Below(..)));
        self.doubt.as_deref().filter(|_| is_small)
    }

    /// All limits that a letter breaks. What is not known of it breaks none.
    fn reasons(&self, letter: &Letter) -> Vec<Reason> {
        let Limits { least, most, weight, ratio, sum, large, over } = &self.limits;
        let sides = [Some(letter.length), Some(letter.height), letter.thickness];
        let mut reasons = Vec::new();
        for (at, side) in SIDES.into_iter().enumerate() {
            let Some(is) = sides[at] else { continue };
            reasons.extend(
                least[at].filter(|least| is < *least).map(|it| Reason::Below(side, is, it)),
            );
            reasons
                .extend(most[at].filter(|most| is > *most).map(|it| Reason::Beyond(side, is, it)));
        }
        if let Some(is) = letter.weight {
            reasons.extend(weight[0].filter(|least| is < *least).map(|it| Reason::Light(is, it)));
            reasons.extend(weight[1].filter(|most| is > *most).map(|it| Reason::Heavy(is, it)));
        }
        let [narrower, wider] = [ratio[0], ratio[1]];
        let is = letter.ratio();
        reasons.extend(
            narrower.filter(|_| letter.is_below(narrower)).map(|it| Reason::Square(is, it)),
        );
        reasons.extend(wider.filter(|_| letter.is_above(wider)).map(|it| Reason::Narrow(is, it)));
        let all = letter.length + letter.height + letter.thickness.unwrap_or_default();
        reasons.extend(sum.filter(|most| all > *most).map(|it| Reason::Sum(all, it)));
        if let (Some((needed, [height, length])), Some(is)) = (large, letter.thickness)
            && (letter.height > *height || letter.length > *length)
            && is < *needed
        {
            reasons.push(Reason::Thin(is, *needed));
        }
        if let Some(over) = over
            && !letter.is_over(over)
        {
            reasons.push(Reason::Small);
        }
        reasons
    }
}

impl Letter {
    /// Length to height in thousandths, rounded to the nearest for showing.
    fn ratio(&self) -> u64 {
        let (above, below) =
            (i128::from(self.length.ticks()) * 2000, i128::from(self.height.ticks()));
        u64::try_from((above + below) / (2 * below).max(1)).unwrap_or(u64::MAX)
    }

    /// Whether length to height is below a number of thousandths, exactly.
    fn is_below(&self, ratio: Option<u64>) -> bool {
        ratio.is_some_and(|ratio| self.compared() < i128::from(ratio) * self.unit())
    }

    fn is_above(&self, ratio: Option<u64>) -> bool {
        ratio.is_some_and(|ratio| self.compared() > i128::from(ratio) * self.unit())
    }

    fn compared(&self) -> i128 {
        1000 * i128::from(self.length.ticks())
    }

    fn unit(&self) -> i128 {
        i128::from(self.height.ticks())
    }

    fn is_over(&self, Over { sides, weight }: &Over) -> bool {
        self.length > sides[0]
            || self.height > sides[1]
            || self.thickness.is_some_and(|is| is > sides[2])
            || self.weight.is_some_and(|is| is > *weight)
    }
}

impl Reason {
    /// `162 mm high, at most 155.575 mm`, in the unit of the person.
    pub fn told(&self, style: LengthStyle) -> String {
        let length = |length: &Length| style.with_unit(*length);
        let weight = |weight: &Weight| weight.told(style.unit);
        let ratio = |ratio: &u64| {
            let text = format!("{}.{:03}", ratio / 1000, ratio % 1000);
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        };
        match self {
            Reason::Below(side, is, limit) => {
                format!("{} {}, at least {}", length(is), side.word(), length(limit))
            }
            Reason::Beyond(side, is, limit) => {
                format!("{} {}, at most {}", length(is), side.word(), length(limit))
            }
            Reason::Light(is, limit) => format!("{}, at least {}", weight(is), weight(limit)),
            Reason::Heavy(is, limit) => format!("{}, at most {}", weight(is), weight(limit)),
            Reason::Square(is, limit) => {
                format!("length to height is {}, at least {}", ratio(is), ratio(limit))
            }
            Reason::Narrow(is, limit) => {
                format!("length to height is {}, at most {}", ratio(is), ratio(limit))
            }
            Reason::Sum(is, limit) => {
                format!("all sides together {}, at most {}", length(is), length(limit))
            }
            Reason::Thin(is, limit) => {
                format!("{} thick, at this size at least {}", length(is), length(limit))
            }
            Reason::Small => "no larger than the class above allows".to_owned(),
        }
    }
}

impl Side {
    fn word(self) -> &'static str {
        match self {
            Side::Length => "long",
            Side::Height => "high",
            Side::Thickness => "thick",
        }
    }
}

fn read(problems: &mut Problems) -> Vec<PostRules> {
    let file = Named::new("post.csv", include_bytes!("post.csv"));
    let classes = rows(file, &CLASSES, problems, |cells| {
        let mut side = |column| cells.read(column, length);
        let least = [side("min length")?, side("min height")?, side("min thickness")?];
        let most = [side("max length")?, side("max height")?, side("max thickness")?];
        let sum = side("max sum")?;
        let large = [side("large thickness")?, side("large height")?, side("large length")?];
        let mut weight = |column| cells.read(column, Weight::parse);
        let weight = [weight("min weight")?, weight("max weight")?];
        let mut ratio = |column| cells.read(column, crate::measure::parse_thousandths);
        let ratio = [ratio("min ratio")?, ratio("max ratio")?];
        let large = match large {
            [Some(thickness), Some(height), Some(length)] => Some((thickness, [height, length])),
            _ => None,
        };
        let over = cells.read("over", over)?;
        let class = PostClass {
            name: cells.text("class")?,
            limits: Limits { least, most, weight, ratio, sum, large, over },
            steps: cells.read("steps", weights)??,
            source: cells.text("source")?,
            doubt: cells.read("smallest from", |text| Some(text.to_owned()))?,
        };
        Some((cells.text("rules")?, class))
    });
    let file = Named::new("posts.csv", include_bytes!("posts.csv"));
    rows(file, &POSTS, problems, |cells| {
        let name = cells.text("rules")?;
        let own = classes.iter().filter(|(rules, _)| *rules == name);
        let classes = own.map(|(_, class)| class.clone()).collect();
        let (authority, as_of) = (cells.text("authority")?, cells.text("as of")?);
        Some(PostRules { name, authority, as_of, classes })
    })
}

/// Three lengths and a weight joined by `|`.
fn over(text: &str) -> Option<Over> {
    let parts: Vec<&str> = text.split('|').collect();
    let [long, high, thick, weight] = parts.as_slice() else { return None };
    let sides = [length(long)?, length(high)?, length(thick)?];
    Some(Over { sides, weight: Weight::parse(weight)? })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tables_are_whole() {
        let mut problems = Problems::new();
        let rules = read(&mut problems);
        assert_eq!(problems, Problems::new());
        assert_eq!(rules.len(), 6);
        assert!(rules.iter().all(|rules| rules.classes.len() >= 2));
        for class in rules.iter().flat_map(|rules| &rules.classes) {
            assert!(class.steps.is_sorted() && !class.steps.is_empty(), "{class:?}");
            assert_eq!(class.steps.last().copied(), class.heaviest(), "{class:?}");
        }
    }

    #[test]
    fn reasons_are_told_in_the_persons_unit() {
        let letter = Letter {
            length: Length::from_mm(229),
            height: Length::from_mm(162),
            thickness: None,
            weight: None,
        };
        let verdict = rules_of("usps").unwrap().judge(&letter);
        assert_eq!(verdict.class.unwrap().name, "flat");
        let style =
            LengthStyle { unit: crate::measure::Unit::Millimetre, graduation: Length::ZERO };
        let told: Vec<String> = verdict.refused[0].1.iter().map(|it| it.told(style)).collect();
        assert_eq!(told, ["162 mm high, at most 155.575 mm"]);
    }
}
