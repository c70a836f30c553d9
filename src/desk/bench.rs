//! The file of the bench as a form: each value as it is written, with the comment beside it.

use super::{DeskFile, DeskFiles, guide};
use crate::diagnostics::{Place, Problem};
use serde::Deserialize;
use serde_json::{Value, json};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Asks what is in the file of the bench.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BenchQuestion {
    /// All files.
    pub desk: DeskFiles,
    /// What is changed first, one after the other.
    #[serde(default)]
    pub changes: Vec<BenchChange>,
}

/// A value that is changed.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BenchChange {
    /// Its key with its sections: `trimmer.knife`.
    pub key: String,
    /// Its new text, quotes included.
    pub text: String,
}

/// A value where it stands in the text.
struct BenchField {
    key: String,
    range: Range<usize>,
}

/// What is in the file after the changes.
pub fn answer(BenchQuestion { desk, changes }: &BenchQuestion) -> Value {
    let none = DeskFile { name: "workshop.toml".to_owned(), text: String::new() };
    let file = desk.workshop.as_ref().unwrap_or(&none);
    let mut text = file.text.clone();
    changes.iter().for_each(|change| apply(change, &mut text));
    match fields(&text) {
        Ok(fields) => {
            let missing = guide::keys().filter(|(key, _)| {
                let is_key = |known: &str| known == *key || known.starts_with(&format!("{key}."));
                !fields.iter().any(|field| is_key(&field.key)) && !SECTIONS.contains(key)
            });
            let missing = missing.map(|(key, hint)| json!({ "key": key, "hint": hint }));
            json!({
                "is": "bench",
                "text": text,
                "sections": sections(&text, &fields),
                "missing": missing.collect::<Vec<_>>(),
            })
        }
        Err((at, message)) => {
            let place = place(&file.name, &text, at);
            let problem = Problem::error("workshop-syntax", "the bench cannot be read")
                .at(Some(&place), message);
            json!({ "is": "unreadable", "text": text, "problems": [problem.document()] })
        }
    }
}

/// Keys that are sections with names of the person's own, or lists of sections: too much for a field.
const SECTIONS: [&str; 5] =
    ["finish", "post.prices", "formats.cards", "formats.envelopes", "formats.sheets"];

/// Changes a value; a blank text takes the key out with its line, and a key that is not there is added.
fn apply(BenchChange { key, text: new }: &BenchChange, text: &mut String) {
    let Ok(fields) = fields(text) else { return };
    match fields.into_iter().find(|field| field.key == *key) {
        Some(BenchField { range, .. }) if new.trim().is_empty() => {
            let start = text[..range.start].rfind('\n').map_or(0, |end| end + 1);
            let end = text[range.end..].find('\n').map_or(text.len(), |end| range.end + end + 1);
            text.replace_range(start..end, "");
        }
        Some(BenchField { range, .. }) => text.replace_range(range, new),
        None if new.trim().is_empty() => {}
        None => add(key, new, text),
    }
}

/// Adds a key below the heading of its section; at the end of the file with a heading where there is none.
fn add(key: &str, new: &str, text: &mut String) {
    let (section, name) = key.rsplit_once('.').unwrap_or(("", key));
    let line = format!("{name} = {new}\n");
    let heading = format!("[{section}]");
    let mut at = 0;
    for old in text.split_inclusive('\n') {
        let is_heading = old.trim_start().starts_with('[');
        // What belongs to no section stands above all of them.
        if section.is_empty() && is_heading {
            break;
        }
        at += old.len();
        if !section.is_empty() && old.trim_start().starts_with(&heading) {
            return text.insert_str(at, &line);
        }
    }
    if at > 0 && !text[..at].ends_with('\n') {
        text.insert(at, '\n');
        at += 1;
    }
    match section {
        "" => text.insert_str(at, &line),
        _ => text.push_str(&format!("\n{heading}\n{line}")),
    }
}

/// All values that are no sections of the file; else where it is broken, and why.
fn fields(text: &str) -> Result<Vec<BenchField>, (usize, String)> {
    let table = DeTable::parse(text)
        .map_err(|error| (error.span().map_or(0, |span| span.start), error.message().to_owned()))?;
    let mut all = Vec::new();
    collect(table.get_ref(), "", text, &mut all);
    all.sort_by_key(|field| field.range.start);
    Ok(all)
}

fn collect(table: &DeTable<'_>, prefix: &str, text: &str, all: &mut Vec<BenchField>) {
    for (key, value) in table {
        let key = format!("{prefix}{}", key.get_ref());
        match value.get_ref() {
            DeValue::Table(section) if is_section(value, text) => {
                collect(section, &format!("{key}."), text, all);
            }
            // A list of sections is too much for a field.
            DeValue::Array(list)
                if list.iter().any(|it| matches!(it.get_ref(), DeValue::Table(_))) => {}
            _ => all.push(BenchField { key, range: value.span() }),
        }
    }
}

/// Whether a table has a heading, or dotted keys: else it stands between braces, as one value.
fn is_section(value: &Spanned<DeValue<'_>>, text: &str) -> bool {
    !text.get(value.span()).is_some_and(|text| text.starts_with('{'))
}

/// The values under their headings.
fn sections(text: &str, fields: &[BenchField]) -> Vec<Value> {
    let mut sections: Vec<(String, Vec<Value>)> = Vec::new();
    for BenchField { key, range } in fields {
        let (section, label) = key.rsplit_once('.').unwrap_or(("", key.as_str()));
        let field = json!({
            "key": key,
            "label": label,
            "text": &text[range.clone()],
            "note": note(text, range.end),
            "hint": guide::key(key),
        });
        match sections.iter_mut().find(|(name, _)| name == section) {
            Some((_, fields)) => fields.push(field),
            None => sections.push((section.to_owned(), vec![field])),
        }
    }
    let section = |(name, keys): (String, Vec<Value>)| {
        let heading = format!("[{name}]");
        let line = text.lines().find(|line| line.trim_start().starts_with(&heading));
        let note = line.and_then(|line| Some(line.split_once('#')?.1.trim())).unwrap_or_default();
        json!({ "name": name, "note": note, "keys": keys })
    };
    sections.into_iter().map(section).collect()
}

/// The comment behind a place, on its line.
fn note(text: &str, at: usize) -> &str {
    let rest = text[at..].lines().next().unwrap_or_default().trim_start();
    rest.strip_prefix('#').map_or("", str::trim)
}

fn place(file: &str, text: &str, at: usize) -> Place {
    let at = (0..=at.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0);
    let start = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let line = text[start..].lines().next().unwrap_or_default();
    Place {
        file: file.into(),
        line: text[..at].matches('\n').count() + 1,
        column: text[start..at].chars().count() + 1,
        length: 1,
        text: line.into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "unit = \"in\"  # mine\n[trimmer]  # the knife\n# long\nknife = \"15 in\" # cut\nlift = 5\n\
                        [rates.seconds]\nfold = 6\n[finish]\ncorners = { seconds = 12, price = 0.02 }\n\
                        [[post.prices]]\nclass = \"letter\"\n";

    fn asked(text: &str, changes: &str) -> Value {
        let file = DeskFile { name: "workshop.toml".to_owned(), text: text.to_owned() };
        let desk = DeskFiles { workshop: Some(file), ..DeskFiles::default() };
        answer(&BenchQuestion { desk, changes: serde_json::from_str(changes).unwrap() })
    }

    #[test]
    fn each_value_has_its_comment() {
        let bench = asked(TEXT, "[]");
        let sections = bench["sections"].as_array().unwrap();
        let names: Vec<&Value> = sections.iter().map(|it| &it["name"]).collect();
        assert_eq!(names, ["", "trimmer", "rates.seconds", "finish"]);
        assert_eq!(sections[1]["note"], "the knife");
        let knife = &sections[1]["keys"][0];
        assert_eq!((&knife["text"], &knife["note"]), (&json!("\"15 in\""), &json!("cut")));
        assert_eq!(knife["key"], "trimmer.knife");
        assert_eq!(sections[3]["keys"][0]["text"], "{ seconds = 12, price = 0.02 }");
    }

    #[test]
    fn a_value_changes_and_nothing_else() {
        let changes =
            r#"[{"key":"trimmer.knife","text":"\"20 in\""},{"key":"trimmer.lift","text":"8"}]"#;
        let expected = TEXT.replace("\"15 in\"", "\"20 in\"").replace("lift = 5", "lift = 8");
        assert_eq!(asked(TEXT, changes)["text"], expected);
    }

    #[test]
    fn a_key_is_added_to_its_section_and_taken_out() {
        let added = |key: &str| {
            let changes = json!([{ "key": key, "text": "7" }]).to_string();
            asked(TEXT, &changes)["text"].as_str().unwrap().to_owned()
        };
        assert_eq!(
            added("trimmer.waiting"),
            TEXT.replace("# the knife\n", "# the knife\nwaiting = 7\n")
        );
        assert_eq!(added("page"), TEXT.replace("[trimmer]", "page = 7\n[trimmer]"));
        assert_eq!(added("keep.value"), format!("{TEXT}\n[keep]\nvalue = 7\n"));
        let removed = asked(TEXT, r#"[{"key":"trimmer.lift","text":" "}]"#);
        assert_eq!(removed["text"], TEXT.replace("lift = 5\n", ""));
        let missing = removed["missing"].as_array().unwrap();
        let has = |key: &str| missing.iter().any(|it| it["key"] == key);
        assert!(
            has("trimmer.lift") && has("keep.short") && !has("trimmer.knife") && !has("finish")
        );
    }

    #[test]
    fn what_is_broken_is_told_with_its_place() {
        let bench = asked(TEXT, r#"[{"key":"trimmer.lift","text":"\"8"}]"#);
        assert_eq!(bench["is"], "unreadable");
        assert_eq!(bench["problems"][0]["place"]["line"], 5);
    }
}
