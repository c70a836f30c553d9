//! What is said of a text that is no length, count, amount of money or date.

use super::{Place, Problem, nearest};
use crate::measure::{
    CountError, Currency, Length, LengthError, LengthStyle, Money, MoneyError, Unit,
};

const THOUSANDTH_INCH: Length = Length::from_inch_parts(1, 1000);
const MICROMETRE: Length = Length::from_ticks(Length::TICKS_PER_MM / 1000);

/// A cell or value that could not be read: its code, what it is called, where it stands.
#[derive(Clone, Debug)]
pub struct Misread<'a> {
    /// Code of the problem.
    pub code: &'static str,
    /// What the value is: `count`, `mat inset`, `trimmer.knife`.
    pub name: &'a str,
    /// Where it stands.
    pub place: Option<Place>,
}

impl Misread<'_> {
    /// An error with the title `name says`, marked with what was `expected`.
    pub fn problem(&self, says: &str, expected: impl Into<String>) -> Problem {
        Problem::error(self.code, format!("{} {says}", self.name)).at(self.place.as_ref(), expected)
    }

    /// The text is no length.
    pub fn length(&self, error: LengthError, style: &LengthStyle) -> Problem {
        let examples = "such as 8.5, 8 1/2, 17/2, 216 mm or 8.5 in";
        match error {
            LengthError::NotANumber => self
                .problem("is not a length", format!("expected a length, {examples}"))
                .help(format!(
                    "units are in, \", mm and cm; a number alone means {}",
                    match style.unit {
                        Unit::Inch => "inches",
                        Unit::Millimetre => "millimetres",
                        Unit::Centimetre => "centimetres",
                    }
                )),
            LengthError::Grouped => self
                .problem(
                    "has a comma that can be read two ways",
                    format!("expected a length, {examples}"),
                )
                .help("write decimals with a point (1.25) and thousands without a comma (1250)"),
            LengthError::RunTogether => self
                .problem(
                    "has a fraction that can be read two ways",
                    "expected a blank before the fraction, such as 4 1/4",
                )
                .help("write 41/4 with a plain slash if all the digits belong to it"),
            LengthError::NotExact { below, unit, .. } => self.between(below, unit, style),
            LengthError::TooLong => self.problem(
                "is too long",
                format!("expected at most {}", style.with_unit(Length::MAX)),
            ),
        }
    }

    /// Between two ticks, the lower of them `below`: names the nearest gauge settings, and the nearest thousandths
    /// in the unit that it was written in.
    fn between(&self, below: Length, unit: Unit, style: &LengthStyle) -> Problem {
        let around = |step: Length, style: &LengthStyle| {
            let low = below.rounded_down(step);
            format!("{} and {}", style.with_unit(low), style.with_unit(low + step))
        };
        let (expected, step, unit, one) = match unit {
            Unit::Inch => ("64ths or thousandths", THOUSANDTH_INCH, Unit::Inch, "an inch"),
            Unit::Millimetre | Unit::Centimetre => {
                ("thousandths", MICROMETRE, Unit::Millimetre, "a millimetre")
            }
        };
        let problem =
            self.problem("is not an exact length", format!("expected {expected} of {one}"));
        let problem = match style.graduation.ticks() > 1 {
            true => problem.help(format!(
                "the nearest gauge settings are {}",
                around(style.graduation, style)
            )),
            false => problem,
        };
        let thousandths = around(step, &LengthStyle { unit, ..*style });
        problem.help(format!("the nearest thousandths of {one} are {thousandths}"))
    }

    /// The text is no count of `things` (a plural, or nothing for a bare number).
    pub fn count(&self, error: CountError, things: &str) -> Problem {
        let of_things = if things.is_empty() { "" } else { &format!(" of {things}") };
        let number = |example| format!("expected a whole number{of_things}, such as {example}");
        match error {
            CountError::NotANumber => {
                self.problem("is not a whole number", number(12)).help("write the number in digits")
            }
            CountError::Words(meant) => self
                .problem("is not a whole number", number(meant))
                .help("write the number in digits"),
            CountError::Grouped(meant) => self
                .problem("has a separator", number(meant))
                .help("write only digits, without commas, points or spaces"),
            CountError::Broken { below, above_it: false } => self
                .problem("is not in plain digits", number(below))
                .help("leave out decimals and fractions"),
            CountError::Broken { below, above_it: true } => self.problem(
                "is not whole",
                format!("expected a whole number: {below} or {}", below + 1),
            ),
            CountError::Negative => self.problem("is below zero", number(12)),
            CountError::TooLarge => self.problem("is too large", number(12)),
        }
    }

    /// The text is no amount of money.
    pub fn money(&self, error: MoneyError, currency: &Currency) -> Problem {
        let example = currency.number(Money::from_minor(1250));
        let amount = format!("expected an amount in {}, such as {example}", currency.code());
        match error {
            MoneyError::NotANumber => self
                .problem("is not an amount of money", amount)
                .help("write the number alone, without a currency sign"),
            MoneyError::Grouped => self
                .problem("has a comma that can be read two ways", amount)
                .help("write decimals with a point (1.25) and thousands without a comma (1250)"),
            MoneyError::TooFine => self.problem("has too many decimals", amount),
            MoneyError::Negative => self.problem("is below zero", amount),
            MoneyError::TooMuch => self.problem(
                "is too high",
                format!("expected at most {}", currency.with_code(Money::MAX)),
            ),
        }
    }

    /// The text is no date.
    pub fn date(&self) -> Problem {
        self.problem("is not a date", "expected year-month-day, such as 2026-05-30")
            .help("write the year first, then month and day in two digits; the day must exist")
    }

    /// What `found` means among `words`, each with its meaning; case makes no difference.
    ///
    /// # Errors
    /// It is none of them.
    pub fn word<T: Copy>(&self, found: &str, words: &[(&str, T)]) -> Result<T, Box<Problem>> {
        let meant = words.iter().find(|(word, _)| word.eq_ignore_ascii_case(found));
        let names = || words.iter().map(|(word, _)| *word).collect::<Vec<_>>();
        meant.map(|(_, meaning)| *meaning).ok_or_else(|| Box::new(self.choice(found, &names())))
    }

    /// The text is none of `words`.
    fn choice(&self, found: &str, words: &[&str]) -> Problem {
        let problem = Problem::error(self.code, format!("unknown {} `{found}`", self.name));
        match nearest(found, words.iter().copied()) {
            Some(near) => problem
                .at(self.place.as_ref(), format!("did you mean `{near}`?"))
                .help(format!("it can be {}", either(words))),
            None => problem.at(self.place.as_ref(), format!("expected {}", either(words))),
        }
    }
}

/// `a`, `a or b`, `a, b or c`.
fn either(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}
