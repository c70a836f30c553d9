//! What is done to cards by hand beside folding and gluing: corners rounded, a window cut, a hole punched.

use crate::diagnostics::{Problem, Problems, Spanned, nearest};
use crate::measure::Money;
use crate::orders::{Order, OrderLine};
use crate::workshop::{Finish, Workshop};

/// A finish of each card of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CardFinish<'a> {
    /// Which.
    pub finish: &'a Finish,
    /// How often it is done to a card.
    pub times: u64,
}

impl CardFinish<'_> {
    /// How long it takes for a card, in seconds.
    pub fn seconds(&self) -> u64 {
        self.finish.seconds * self.times
    }

    /// What it costs for a card, beside the work.
    pub fn price(&self) -> Money {
        self.finish.price * self.times
    }

    /// `corners`, `hole, twice`.
    pub fn told(&self) -> String {
        match self.times {
            1 => self.finish.name.clone(),
            2 => format!("{}, twice", self.finish.name),
            times => format!("{}, {times} times", self.finish.name),
        }
    }
}

/// What is done to each card of a line, in the order of its cell, as far as the workshop knows it.
pub fn finishes<'a>(line: &OrderLine, workshop: &'a Workshop) -> Vec<CardFinish<'a>> {
    let mut all: Vec<CardFinish> = Vec::new();
    for finish in line.finish.iter().filter_map(|name| named(name, workshop)) {
        match all.iter_mut().find(|known| known.finish.name == finish.name) {
            Some(known) => known.times += 1,
            None => all.push(CardFinish { finish, times: 1 }),
        }
    }
    all
}

fn named<'a>(name: &Spanned<String>, workshop: &'a Workshop) -> Option<&'a Finish> {
    workshop.finishes.iter().find(|finish| finish.name == name.value.trim())
}

/// Tells of the names that the workshop does not know.
pub(super) fn check(order: &Order, workshop: &Workshop, problems: &mut Problems) {
    let names = order.lines.iter().flat_map(|line| &line.finish);
    let unknown = names.filter(|name| named(name, workshop).is_none());
    problems.extend(unknown.map(|name| told(name, workshop)));
}

fn told(name: &Spanned<String>, workshop: &Workshop) -> Problem {
    let text = name.value.trim();
    if text.is_empty() {
        return Problem::error("order-finish", "a `+` needs a finish on both sides")
            .at(name.place.as_ref(), "expected finishes joined by +, such as corners + hole");
    }
    let names = || workshop.finishes.iter().map(|finish| finish.name.as_str());
    let title = format!("no finish is called `{text}`");
    let problem = Problem::error("order-finish", title);
    if let Some(near) = nearest(text, names()) {
        return problem
            .at(name.place.as_ref(), format!("did you mean `{near}`?"))
            .help("write its name as in workshop.toml, or add it there");
    }
    let is_bare = |letter: char| letter.is_ascii_alphanumeric() || matches!(letter, '-' | '_');
    let key = if text.chars().all(is_bare) { text.to_owned() } else { format!("{text:?}") };
    problem.at(name.place.as_ref(), "expected a finish of workshop.toml").help(format!(
        "give it a section in workshop.toml: [finish.{key}], with `seconds` and `price` for a card"
    ))
}
