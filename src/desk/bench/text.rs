//! What stands where in the text of the bench: its values and its headings.

use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A value where it stands in the text.
pub struct BenchField {
    /// Its key with its sections, part by part.
    pub path: Vec<String>,
    /// The bytes of the value.
    pub range: Range<usize>,
}

/// A heading: `[trimmer]`, or the first of a list, `[[post.prices]]`.
pub struct BenchHeading {
    /// Its section; `None` of a list.
    pub path: Option<Vec<String>>,
    /// The bytes of it, brackets included.
    pub range: Range<usize>,
}

/// All that stands in a text.
#[derive(Default)]
pub struct BenchText {
    /// The values that are no sections, in the order of their places.
    pub fields: Vec<BenchField>,
    /// The headings, in the order of their places.
    pub headings: Vec<BenchHeading>,
}

/// Where a text is broken, and why.
pub struct Broken {
    /// The byte.
    pub at: usize,
    /// What the reader says.
    pub message: String,
}

impl BenchField {
    /// Its key as one text, as it could stand in the file.
    pub fn key(&self) -> String {
        joined(&self.path)
    }
}

impl BenchText {
    /// Reads a text.
    ///
    /// # Errors
    /// It is broken.
    pub fn of(text: &str) -> Result<BenchText, Broken> {
        let table = DeTable::parse(text).map_err(|error| Broken {
            at: error.span().map_or(0, |span| span.start),
            message: error.message().to_owned(),
        })?;
        let mut found = BenchText::default();
        found.collect(table.get_ref(), &[], text);
        found.fields.sort_by_key(|field| field.range.start);
        found.headings.sort_by_key(|heading| heading.range.start);
        Ok(found)
    }

    /// The heading of a section.
    pub fn heading(&self, section: &[String]) -> Option<&BenchHeading> {
        self.headings.iter().find(|it| it.path.as_deref() == Some(section))
    }

    fn collect(&mut self, table: &DeTable<'_>, section: &[String], text: &str) {
        for (key, value) in table {
            let path = [section, &[key.get_ref().to_string()]].concat();
            match value.get_ref() {
                DeValue::Table(inner) if !begins(value, text, '{') => {
                    self.collect(inner, &path, text);
                    // Without a heading, it has dotted keys, or sections below it.
                    if begins(value, text, '[') {
                        self.headings.push(BenchHeading { path: Some(path), range: value.span() });
                    }
                }
                // A list of sections is too much for a field.
                DeValue::Array(list) if list.iter().any(is_table) => {
                    let first = list.iter().find(|it| is_table(it) && begins(it, text, '['));
                    let range = first.map(Spanned::span);
                    self.headings.extend(range.map(|range| BenchHeading { path: None, range }));
                }
                _ => self.fields.push(BenchField { path, range: value.span() }),
            }
        }
    }
}

fn is_table(value: &Spanned<DeValue<'_>>) -> bool {
    matches!(value.get_ref(), DeValue::Table(_))
}

fn begins(value: &Spanned<DeValue<'_>>, text: &str, sign: char) -> bool {
    text.get(value.span()).is_some_and(|text| text.starts_with(sign))
}

/// The parts of a key; what is no key of the file's language counts as it is, between dots. `None` where a part is blank.
pub fn parts(key: &str) -> Option<Vec<String>> {
    let parts = read_parts(&format!("{key} = 0"))
        .unwrap_or_else(|| key.split('.').map(|part| part.trim().to_owned()).collect());
    (!parts.iter().any(String::is_empty)).then_some(parts)
}

/// The key of a line that sets one value.
fn read_parts(line: &str) -> Option<Vec<String>> {
    let table = DeTable::parse(line).ok()?;
    let (mut inner, mut parts) = (table.get_ref(), Vec::new());
    loop {
        let (key, value) = inner.iter().next().filter(|_| inner.len() == 1)?;
        parts.push(key.get_ref().to_string());
        match value.get_ref() {
            DeValue::Table(below) => inner = below,
            _ => return Some(parts),
        }
    }
}

/// A key with its sections, in quotes where it needs them.
pub fn joined(path: &[String]) -> String {
    let is_bare = |part: &str| {
        let fits = |letter: char| letter.is_ascii_alphanumeric() || matches!(letter, '-' | '_');
        !part.is_empty() && part.chars().all(fits)
    };
    let part = |part: &String| match is_bare(part) {
        true => part.clone(),
        false => serde_json::Value::from(part.as_str()).to_string(),
    };
    path.iter().map(part).collect::<Vec<_>>().join(".")
}
