//! Whether a post takes a letter, as what, and why not as something cheaper.
//!
//! A letter is of the first class none of whose limits it breaks. Lengths, weights and ratios are compared as whole
//! numbers; a letter at a limit keeps it. The rules are those of the day that each carries; the post decides.

mod class;
mod letter;
mod reason;
mod room;
mod table;
mod verdict;

pub use class::PostClass;
pub use letter::{Letter, MailContents, MailForm};
pub use reason::{Reason, Side};
pub use room::PostRoom;
pub use verdict::PostVerdict;

use crate::diagnostics::Problems;
use std::sync::LazyLock;

/// The rules of a post.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PostRules {
    /// Their name.
    pub name: String,
    /// Whose they are.
    pub authority: String,
    /// How old they are.
    pub day: RulesDay,
    /// Whether newer ones are known to be in force: they judge where nobody's own rules do.
    pub is_older: bool,
    /// Its classes, the best first.
    pub classes: Vec<PostClass>,
}

/// The day of rules (ISO 8601).
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RulesDay {
    /// The day that their text carries.
    AsOf(String),
    /// The day they were read, where it carries none.
    ReadOn(String),
}

static RULES: LazyLock<Vec<PostRules>> = LazyLock::new(|| table::read(&mut Problems::new()));

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
        for class in self.classes.iter().filter(|class| class.is_for(letter.form)) {
            let reasons = class.reasons(letter);
            if reasons.is_empty() {
                return PostVerdict { class: Some(class), refused };
            }
            refused.push((class, reasons));
        }
        PostVerdict { class: None, refused }
    }

    /// `2023-07-09`, `read on 2026-11-26`, `older regulations, read on 2026-11-26`.
    pub fn as_of(&self) -> String {
        let older = if self.is_older { "older regulations, " } else { "" };
        match &self.day {
            RulesDay::AsOf(day) => format!("{older}{day}"),
            RulesDay::ReadOn(day) => format!("{older}read on {day}"),
        }
    }

    /// `United States Postal Service, rules of 2023-07-09`, `Canada Post, rules read on 2026-11-26`.
    pub fn told(&self) -> String {
        let rules = if self.is_older { "older regulations" } else { "rules" };
        match &self.day {
            RulesDay::AsOf(day) => format!("{}, {rules} of {day}", self.authority),
            RulesDay::ReadOn(day) => format!("{}, {rules} read on {day}", self.authority),
        }
    }
}

impl RulesDay {
    /// The day.
    pub fn day(&self) -> &str {
        let (RulesDay::AsOf(day) | RulesDay::ReadOn(day)) = self;
        day
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Length, LengthStyle, Size, Unit};

    #[test]
    fn the_tables_are_whole() {
        let mut problems = Problems::new();
        let rules = table::read(&mut problems);
        assert_eq!(problems, Problems::new());
        assert_eq!(rules.len(), 7);
        assert!(rules.iter().all(|rules| rules.classes.len() >= 2));
        for class in rules.iter().flat_map(|rules| &rules.classes) {
            assert!(class.steps.is_sorted(), "{class:?}");
            assert_eq!(class.steps.last().copied(), class.heaviest(), "{class:?}");
        }
    }

    #[test]
    fn reasons_are_told_in_the_persons_unit() {
        let letter = Letter::enveloped(Size::new(Length::from_mm(229), Length::from_mm(162)));
        let verdict = rules_of("usps").unwrap().judge(&letter);
        assert_eq!(verdict.class.unwrap().name, "flat");
        let style = LengthStyle { unit: Unit::Millimetre, graduation: Length::ZERO };
        let told: Vec<String> = verdict.refused[0].1.iter().map(|it| it.told(style)).collect();
        assert_eq!(told, ["162 mm high, at most 155.575 mm"]);
    }

    /// A source that carries no day was read on one; what newer rules have replaced is called older.
    #[test]
    fn rules_say_how_old_they_are() {
        let told = |name: &str| (rules_of(name).unwrap().as_of(), rules_of(name).unwrap().told());
        let (as_of, rules) = told("usps");
        assert_eq!(as_of, "2023-07-09");
        assert_eq!(rules, "United States Postal Service, rules of 2023-07-09");
        let (as_of, rules) = told("canada post");
        assert_eq!(as_of, "read on 2026-11-26");
        assert_eq!(rules, "Canada Post, rules read on 2026-11-26");
        let (as_of, rules) = told("upu");
        assert_eq!(as_of, "older regulations, read on 2026-11-26");
        assert!(rules.ends_with(", older regulations read on 2026-11-26"), "{rules}");
    }
}
