//! Reading `post.csv` and `posts.csv`.

use super::class::{LargeLetter, Limits, Over, TakenForms};
use super::{MailContents, PostClass, PostRules, RulesDay};
use crate::diagnostics::Problems;
use crate::formats::list::{Cells, length, rows, weights};
use crate::measure::{Length, Weight, parse_thousandths};
use crate::table::{KnownColumn, Named};

const POSTS: [KnownColumn; 5] = [
    KnownColumn::needed("rules"),
    KnownColumn::needed("authority"),
    KnownColumn::optional("as of"),
    KnownColumn::optional("read on"),
    KnownColumn::optional("standing"),
];
const CLASSES: [KnownColumn; 26] = [
    KnownColumn::needed("rules"),
    KnownColumn::needed("class"),
    KnownColumn::optional("takes"),
    KnownColumn::optional("refuses"),
    KnownColumn::optional("min length"),
    KnownColumn::optional("min height"),
    KnownColumn::optional("min thickness"),
    KnownColumn::optional("max length"),
    KnownColumn::optional("max height"),
    KnownColumn::optional("max thickness"),
    KnownColumn::optional("max weight"),
    KnownColumn::optional("min weight"),
    KnownColumn::optional("min gsm"),
    KnownColumn::optional("max gsm"),
    KnownColumn::optional("min ratio"),
    KnownColumn::optional("max ratio"),
    KnownColumn::optional("max sum"),
    KnownColumn::optional("large thickness"),
    KnownColumn::optional("large weight"),
    KnownColumn::optional("large if higher"),
    KnownColumn::optional("large if longer"),
    KnownColumn::optional("large if thicker"),
    KnownColumn::optional("over"),
    KnownColumn::optional("steps"),
    KnownColumn::needed("source"),
    KnownColumn::optional("smallest from"),
];

/// All rules, in the order of `posts.csv`.
pub(super) fn read(problems: &mut Problems) -> Vec<PostRules> {
    let file = Named::new("post.csv", include_bytes!("../post.csv"));
    let classes = rows(file, &CLASSES, problems, |cells| {
        let class = PostClass {
            name: cells.text("class")?,
            limits: limits(cells)?,
            steps: cells.read("steps", weights)?.unwrap_or_default(),
            source: cells.text("source")?,
            doubt: cells.read("smallest from", |text| Some(text.to_owned()))?,
        };
        Some((cells.text("rules")?, class))
    });
    let file = Named::new("posts.csv", include_bytes!("../posts.csv"));
    rows(file, &POSTS, problems, |cells| {
        let name = cells.text("rules")?;
        let own = classes.iter().filter(|(rules, _)| *rules == name);
        let classes = own.map(|(_, class)| class.clone()).collect();
        let written = |text: &str| Some(text.to_owned());
        let day = match cells.read("as of", written)? {
            Some(day) => RulesDay::AsOf(day),
            None => RulesDay::ReadOn(cells.text("read on")?),
        };
        let older = |text: &str| (text == "older").then_some(());
        let is_older = cells.read("standing", older)?.is_some();
        Some(PostRules { name, authority: cells.text("authority")?, day, is_older, classes })
    })
}

fn limits(cells: &mut Cells<'_, '_>) -> Option<Limits> {
    let takes = |text: &str| match text {
        "single cards" => Some(TakenForms::SingleCards),
        "no open folds" => Some(TakenForms::NoOpenFolds),
        _ => None,
    };
    let takes = cells.read("takes", takes)?.unwrap_or(TakenForms::All);
    let refuses = cells.read("refuses", refused)?.unwrap_or_default();
    let mut side = |column| cells.read(column, length);
    let least = [side("min length")?, side("min height")?, side("min thickness")?];
    let most = [side("max length")?, side("max height")?, side("max thickness")?];
    let sum = side("max sum")?;
    let thickness = side("large thickness")?;
    let beyond = [side("large if longer")?, side("large if higher")?, side("large if thicker")?];
    let mut weighed = |column| cells.read(column, Weight::parse);
    let weight = [weighed("min weight")?, weighed("max weight")?];
    let heavy = weighed("large weight")?;
    let mut grams = |column| cells.read(column, |text| text.parse().ok());
    let paper = [grams("min gsm")?, grams("max gsm")?];
    let mut shares = |column| cells.read(column, parse_thousandths);
    let ratio = [shares("min ratio")?, shares("max ratio")?];
    let large =
        (beyond != [None::<Length>; 3]).then_some(LargeLetter { beyond, thickness, weight: heavy });
    let over = cells.read("over", over)?;
    Some(Limits { takes, refuses, least, most, weight, paper, ratio, sum, large, over })
}

/// `rigid`, `uneven`, or both joined by `|`.
fn refused(text: &str) -> Option<MailContents> {
    let words = text.split('|').map(|word| match word {
        "rigid" => Some(MailContents { is_rigid: true, is_uneven: false }),
        "uneven" => Some(MailContents { is_rigid: false, is_uneven: true }),
        _ => None,
    });
    words.reduce(|one, other| Some(one?.and(other?)))?
}

/// Three lengths and a weight joined by `|`.
fn over(text: &str) -> Option<Over> {
    let parts: Vec<&str> = text.split('|').collect();
    let [long, high, thick, weight] = parts.as_slice() else { return None };
    let sides = [length(long)?, length(high)?, length(thick)?];
    Some(Over { sides, weight: Weight::parse(weight)? })
}
