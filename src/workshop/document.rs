//! A TOML file as sections whose values are asked for by key.
//!
//! What nobody asked for is an unknown key: the list of keys is written once, where they are read.

use crate::diagnostics::{Misread, Place, Problem, SourceText, listed, nearest};
use crate::folds::Fold;
use crate::formats::{self, is_name, plain};
use crate::measure::{
    Axis, Currency, Length, LengthStyle, Money, Percent, Size, Thickness, Unit, Weight, parse_count,
};
use std::collections::BTreeSet;
use std::ops::{Range, RangeInclusive};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// One table of the file; empty where the file has none of its name.
pub(super) struct TomlTable<'a> {
    /// Its name and a point; nothing for the top of the file.
    prefix: String,
    entries: Vec<(&'a str, Range<usize>, &'a Spanned<DeValue<'a>>)>,
    asked: Vec<&'static str>,
}

impl<'a> TomlTable<'a> {
    /// A table as a section; `prefix` stands before its keys.
    pub fn new(prefix: String, table: Option<&'a DeTable<'a>>) -> TomlTable<'a> {
        let entries = table.into_iter().flatten();
        let entries = entries.map(|(key, value)| (key.get_ref().as_ref(), key.span(), value));
        TomlTable { prefix, entries: entries.collect(), asked: Vec::new() }
    }

    fn ask(&mut self, key: &'static str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.asked.push(key);
        self.entries.iter().find(|(known, ..)| *known == key).map(|(.., value)| *value)
    }
}

/// A value's own text, and where it stands.
struct Literal {
    name: String,
    text: String,
    place: Place,
}

impl Literal {
    fn misread(&self, code: &'static str) -> Misread<'_> {
        Misread { code, name: &self.name, place: Some(self.place.clone()) }
    }
}

/// Reads values; a missing one or one with a mistake is `None`.
pub(super) struct Reader<'a> {
    pub source: &'a SourceText,
    /// How bare lengths are read.
    pub unit: Unit,
    pub problems: Vec<Problem>,
}

impl Reader<'_> {
    /// The table of a name inside `parent`.
    pub fn section<'b>(&mut self, parent: &mut TomlTable<'b>, key: &'static str) -> TomlTable<'b> {
        let prefix = format!("{}{key}.", parent.prefix);
        let table = match parent.ask(key) {
            None => None,
            Some(value) => match value.get_ref() {
                DeValue::Table(table) => Some(table),
                other => {
                    let name = format!("{}{key}", parent.prefix);
                    self.wrong_kind(&name, other, value.span(), "a section");
                    None
                }
            },
        };
        TomlTable::new(prefix, table)
    }

    /// The tables of a list inside `parent`, each with its number in the list.
    pub fn sections<'b>(
        &mut self,
        parent: &mut TomlTable<'b>,
        key: &'static str,
    ) -> Vec<TomlTable<'b>> {
        let name = format!("{}{key}", parent.prefix);
        let Some(value) = parent.ask(key) else { return Vec::new() };
        let DeValue::Array(list) = value.get_ref() else {
            self.wrong_kind(&name, value.get_ref(), value.span(), "a list of sections");
            return Vec::new();
        };
        let mut sections = Vec::new();
        for (at, value) in list.iter().enumerate() {
            match value.get_ref() {
                DeValue::Table(table) => {
                    let prefix = format!("{name}[{}].", at + 1);
                    sections.push(TomlTable::new(prefix, Some(table)));
                }
                other => self.wrong_kind(&name, other, value.span(), "a section"),
            }
        }
        sections
    }

    /// The value of a key called `name` as a section.
    pub fn own_section<'b>(
        &mut self,
        name: &str,
        value: &'b Spanned<DeValue<'b>>,
    ) -> Option<TomlTable<'b>> {
        match value.get_ref() {
            DeValue::Table(table) => Some(TomlTable::new(format!("{name}."), Some(table))),
            other => {
                self.wrong_kind(name, other, value.span(), "a section");
                None
            }
        }
    }

    /// All keys of a section, each a name of the person's own for what it stands for, read by `read` from the key's whole
    /// name and its value; those with a mistake become `mistaken`.
    pub fn named<T>(
        &mut self,
        section: &TomlTable<'_>,
        mistaken: &mut BTreeSet<String>,
        mut read: impl FnMut(&mut Self, &str, &Spanned<DeValue<'_>>) -> Option<T>,
    ) -> Vec<(String, T)> {
        let mut named: Vec<(String, T)> = Vec::new();
        let mut entries: Vec<_> = section.entries.iter().collect();
        entries.sort_by_key(|(_, span, _)| span.start);
        for (key, _, value) in entries {
            let name = format!("{}{key}", section.prefix);
            let place = self.source.place(value.span());
            let alike = |(other, _): &(String, T)| plain(other) == plain(key);
            if !is_name(key) || key.contains('+') || named.iter().any(alike) {
                self.problems.push(
                    Problem::error("workshop-format", format!("{name} cannot be a name"))
                        .at(Some(&place), "expected another name")
                        .help("a name begins with a letter, has no + in it, and appears once, in small or capital letters"),
                );
                continue;
            }
            match read(self, &name, value) {
                Some(value) => named.push(((*key).to_owned(), value)),
                None => {
                    mistaken.insert(plain(key));
                }
            }
        }
        named
    }

    /// The value of a key called `name` as a size.
    pub fn size(&mut self, name: &str, value: &Spanned<DeValue<'_>>) -> Option<Size> {
        let DeValue::String(text) = value.get_ref() else {
            self.wrong_kind(name, value.get_ref(), value.span(), "a size in quotes");
            return None;
        };
        let place = self.source.place(value.span());
        let misread = Misread { code: "workshop-size", name, place: Some(place) };
        let problem = match Size::parse(text, self.unit) {
            Some(Ok(size)) if size.is_positive() => return Some(size),
            Some(Ok(_)) => misread.problem("has a side of 0", "expected two lengths above zero"),
            Some(Err((axis, error))) => {
                let side = if axis == Axis::Width { "width" } else { "height" };
                let name = format!("the {side} of {name}");
                Misread { name: &name, ..misread }.length(error, &self.style())
            }
            None => misread
                .problem("is not a size", "expected width x height, such as \"5 1/2 x 4 1/4 in\""),
        };
        self.problems.push(problem);
        None
    }

    /// How lengths are told; the graduation may not be read yet.
    fn style(&self) -> LengthStyle {
        LengthStyle { unit: self.unit, graduation: Length::ZERO }
    }

    /// The value of a key called `name` as the size of a card: a size in quotes, or a section with `size` and
    /// `fold`, the usual one of the card.
    pub fn card(&mut self, name: &str, value: &Spanned<DeValue<'_>>) -> Option<(Size, Fold)> {
        let DeValue::Table(table) = value.get_ref() else {
            return self.size(name, value).map(|size| (size, Fold::FLAT));
        };
        let mut section = TomlTable::new(format!("{name}."), Some(table));
        let size = match section.ask("size") {
            Some(value) => self.size(&format!("{name}.size"), value),
            None => {
                let place = self.source.place(value.span());
                self.problems.push(
                    Problem::error("workshop-missing", format!("{name}.size is missing"))
                        .at(Some(&place), "expected `size` in it")
                        .help("such as { size = \"2 x 3 in\", fold = \"side\" }"),
                );
                None
            }
        };
        let fold = self.fold(&mut section);
        self.finish(&section);
        Some((size?, fold.unwrap_or(Fold::FLAT)))
    }

    /// How a card folds.
    fn fold(&mut self, section: &mut TomlTable<'_>) -> Option<Fold> {
        let written = self.written(section, "fold", "a word in quotes")?;
        let fold = formats::fold(&written.text, &written.misread("workshop-word"));
        fold.map_err(|problem| self.problems.push(*problem)).ok()
    }

    /// A weight.
    pub fn weight(&mut self, section: &mut TomlTable<'_>, key: &'static str) -> Option<Weight> {
        let written = self.written(section, key, "a weight such as \"1 oz\" or \"20 g\"")?;
        let weight = Weight::parse(&written.text);
        if weight.is_none() {
            let misread = written.misread("workshop-weight");
            self.problems.push(
                misread
                    .problem("is not a weight", "expected ounces or grams, such as 1 oz or 20 g"),
            );
        }
        weight
    }

    /// A key that has to be there, with the place of its section where it is not.
    pub fn missing(&mut self, section: &TomlTable<'_>, key: &str) {
        let first = section.entries.first().map(|(_, span, _)| self.source.place(span.clone()));
        let title = format!("{}{key} is missing", section.prefix);
        self.problems.push(
            Problem::error("workshop-missing", title)
                .at(first.as_ref(), format!("expected `{key}` beside it")),
        );
    }

    /// A length of at least `least`.
    pub fn length(
        &mut self,
        section: &mut TomlTable<'_>,
        key: &'static str,
        least: Length,
    ) -> Option<Length> {
        let written = self.written(section, key, "a length such as \"1/2 in\" or 12")?;
        let misread = written.misread("workshop-length");
        let problem = match Length::parse(&written.text, self.unit) {
            Ok(length) if length >= least => return Some(length),
            Ok(_) if least > Length::ZERO => {
                misread.problem("is not above zero", "expected a length above zero")
            }
            Ok(_) => misread.problem("is below zero", "expected 0 or more"),
            Err(error) => misread.length(error, &self.style()),
        };
        self.problems.push(problem);
        None
    }

    /// A thickness above zero.
    pub fn thickness(
        &mut self,
        section: &mut TomlTable<'_>,
        key: &'static str,
    ) -> Option<Thickness> {
        let written = self.written(section, key, "a length such as \"1/16 in\" or 0.06")?;
        let misread = written.misread("workshop-length");
        let problem = match Thickness::parse(&written.text, self.unit) {
            Ok(thickness) if thickness.is_positive() => return Some(thickness),
            Ok(_) => misread.problem("is not above zero", "expected a length above zero"),
            Err(error) => misread.length(error, &self.style()),
        };
        self.problems.push(problem);
        None
    }

    /// A length above zero, or `auto`: the outer `None` where the key is missing or mistaken.
    pub fn length_or_auto(
        &mut self,
        section: &mut TomlTable<'_>,
        key: &'static str,
    ) -> Option<Option<Length>> {
        let value = section.entries.iter().find(|(known, ..)| *known == key);
        if let Some((.., value)) = value
            && let DeValue::String(text) = value.get_ref()
            && text.trim().eq_ignore_ascii_case("auto")
        {
            section.asked.push(key);
            return Some(None);
        }
        self.length(section, key, Length::from_ticks(1)).map(Some)
    }

    /// A whole number in `range`.
    pub fn count(
        &mut self,
        section: &mut TomlTable<'_>,
        key: &'static str,
        range: RangeInclusive<u64>,
    ) -> Option<u64> {
        let written = self.written(section, key, "a whole number")?;
        let misread = written.misread("workshop-number");
        let problem = match parse_count(&written.text) {
            Ok(count) if range.contains(&count) => return Some(count),
            Ok(_) => misread.problem(
                "is out of range",
                format!("expected {} to {}", range.start(), range.end()),
            ),
            Err(error) => misread.count(error, ""),
        };
        self.problems.push(problem);
        None
    }

    /// An amount of money.
    pub fn money(
        &mut self,
        section: &mut TomlTable<'_>,
        key: &'static str,
        currency: &Currency,
    ) -> Option<Money> {
        let written = self.written(section, key, "an amount such as 18.00")?;
        currency
            .parse(&written.text)
            .map_err(|error| {
                self.problems.push(written.misread("workshop-money").money(error, currency));
            })
            .ok()
    }

    /// A percentage with up to three decimals.
    pub fn exact_percent(
        &mut self,
        section: &mut TomlTable<'_>,
        key: &'static str,
    ) -> Option<Percent> {
        let written = self.written(section, key, "a number such as 8.25")?;
        let percent = Percent::parse(&written.text);
        if percent.is_none() {
            let misread = written.misread("workshop-number");
            self.problems.push(misread.problem(
                "is no percentage",
                "expected a number from 0 to 1000, such as 8.25, with at most three decimals",
            ));
        }
        percent
    }

    /// Any text.
    pub fn text(&mut self, section: &mut TomlTable<'_>, key: &'static str) -> Option<String> {
        self.written(section, key, "a text in quotes").map(|written| written.text)
    }

    /// One of some words, each with its meaning.
    pub fn word<T: Copy>(
        &mut self,
        section: &mut TomlTable<'_>,
        key: &'static str,
        choices: &[(&str, T)],
    ) -> Option<T> {
        let written = self.written(section, key, "a word in quotes")?;
        let meant = written.misread("workshop-word").word(&written.text, choices);
        meant.map_err(|problem| self.problems.push(*problem)).ok()
    }

    /// One of some words, each with its meaning, or a size.
    pub fn word_or_size<T: Copy>(
        &mut self,
        section: &mut TomlTable<'_>,
        key: &'static str,
        choices: &[(&str, T)],
        meaning: impl Fn(Size) -> T,
    ) -> Option<T> {
        let entry = section.entries.iter().find(|(known, ..)| *known == key);
        if let Some((.., value)) = entry
            && let DeValue::String(text) = value.get_ref()
            && text.starts_with(|first: char| first.is_ascii_digit())
        {
            section.asked.push(key);
            return self.size(&format!("{}{key}", section.prefix), value).map(meaning);
        }
        self.word(section, key, choices)
    }

    /// A currency's code.
    pub fn currency(&mut self, section: &mut TomlTable<'_>, key: &'static str) -> Option<Currency> {
        let written = self.written(section, key, "a code in quotes such as \"USD\"")?;
        let currency = Currency::new(&written.text);
        if currency.is_none() {
            let expected = "expected three capital letters of ISO 4217, such as USD";
            self.problems
                .push(written.misread("workshop-word").problem("is not a currency code", expected));
        }
        currency
    }

    /// The place of a key's value, for problems that concern several keys.
    pub fn place(&self, section: &TomlTable<'_>, key: &str) -> Option<Place> {
        let entry = section.entries.iter().find(|(known, ..)| *known == key);
        entry.map(|(.., value)| self.source.place(value.span()))
    }

    /// Tells of the keys that nobody asked for.
    pub fn finish(&mut self, section: &TomlTable<'_>) {
        for (key, span, _) in &section.entries {
            if section.asked.contains(key) {
                continue;
            }
            let place = self.source.place(span.clone());
            let title = format!("unknown key `{}{key}`", section.prefix);
            let problem = Problem::error("workshop-key", title);
            self.problems.push(match nearest(key, section.asked.iter().copied()) {
                Some(near) => problem.at(Some(&place), format!("did you mean `{near}`?")),
                None => problem
                    .at(Some(&place), "not a key of this section")
                    .help(format!("its keys are {}", listed(&section.asked))),
            });
        }
    }

    /// The text of a string or number, exactly as written.
    fn written(
        &mut self,
        section: &mut TomlTable<'_>,
        key: &'static str,
        expected: &str,
    ) -> Option<Literal> {
        let value = section.ask(key)?;
        let name = format!("{}{key}", section.prefix);
        let text = match value.get_ref() {
            DeValue::String(text) => text.trim().to_owned(),
            DeValue::Integer(number) if number.radix() == 10 => number.as_str().to_owned(),
            DeValue::Float(number) => number.as_str().to_owned(),
            other => {
                self.wrong_kind(&name, other, value.span(), expected);
                return None;
            }
        };
        Some(Literal { name, text, place: self.source.place(value.span()) })
    }

    fn wrong_kind(&mut self, name: &str, value: &DeValue<'_>, span: Range<usize>, expected: &str) {
        let kind = match value {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a section",
        };
        let place = self.source.place(span);
        self.problems.push(
            Problem::error("workshop-type", format!("{name} is {kind}"))
                .at(Some(&place), format!("expected {expected}")),
        );
    }
}
