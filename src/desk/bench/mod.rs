//! The file of the bench as a form: each value as it is written, with the comment beside it.

mod change;
mod text;

use super::{DeskFile, DeskFiles, guide};
use crate::diagnostics::{Problem, SourceText};
use change::changed;
use serde::Deserialize;
use serde_json::{Value, json};
use text::{BenchText, Broken, joined};

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

/// What is in the file after the changes. Changes that break it are refused: then it is as it was.
pub fn answer(BenchQuestion { desk, changes }: &BenchQuestion) -> Value {
    let none = DeskFile { name: "workshop.toml".to_owned(), text: String::new() };
    let file = desk.workshop.as_ref().unwrap_or(&none);
    let before = file.text.clone();
    if let Err(Broken { at, message }) = BenchText::of(&before) {
        let place = SourceText::new(&file.name, &before).place(at..at + 1);
        let problem =
            Problem::error("workshop-syntax", "the bench cannot be read").at(Some(&place), message);
        return json!({ "is": "unreadable", "text": before, "problems": [problem.document()] });
    }
    match changes.iter().try_fold(before.clone(), |text, change| changed(&text, change)) {
        Ok(text) => document(&text, None),
        Err(problem) => document(&before, Some(problem)),
    }
}

fn document(text: &str, refused: Option<Box<Problem>>) -> Value {
    let found = BenchText::of(text).unwrap_or_default();
    let keys: Vec<String> = found.fields.iter().map(|field| field.key()).collect();
    let missing = guide::keys().filter(|(key, _)| {
        let is_below = |one: &str, other: &str| {
            one.strip_prefix(other).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
        };
        // What stands between braces is one value, and has no room for another key.
        let is_there = |known: &String| is_below(known, key) || is_below(key, known);
        !keys.iter().any(is_there) && !SECTIONS.contains(key)
    });
    let missing = missing.map(|(key, hint)| json!({ "key": key, "hint": hint }));
    json!({
        "is": "bench",
        "text": text,
        "sections": sections(text, &found),
        "missing": missing.collect::<Vec<_>>(),
        "refused": refused.iter().map(|problem| problem.document()).collect::<Vec<_>>(),
    })
}

/// Keys that are sections with names of the person's own, or lists of sections: too much for a field.
const SECTIONS: [&str; 5] =
    ["finish", "post.prices", "formats.cards", "formats.envelopes", "formats.sheets"];

/// The values under their headings.
fn sections(text: &str, found: &BenchText) -> Vec<Value> {
    let mut sections: Vec<(&[String], Vec<Value>)> = Vec::new();
    for field in &found.fields {
        let Some((label, section)) = field.path.split_last() else { continue };
        let key = field.key();
        let document = json!({
            "key": key,
            "label": label,
            "text": &text[field.range.clone()],
            "note": note(text, field.range.end),
            "hint": guide::key(&key),
        });
        match sections.iter_mut().find(|(name, _)| *name == section) {
            Some((_, fields)) => fields.push(document),
            None => sections.push((section, vec![document])),
        }
    }
    let section = |(name, keys): (&[String], Vec<Value>)| {
        let note = found.heading(name).map_or("", |heading| note(text, heading.range.end));
        json!({ "name": joined(name), "note": note, "keys": keys })
    };
    sections.into_iter().map(section).collect()
}

/// The comment behind a place, on its line.
fn note(text: &str, at: usize) -> &str {
    let rest = text[at..].lines().next().unwrap_or_default().trim_start();
    rest.strip_prefix('#').map_or("", str::trim)
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
        let bench = asked(&TEXT.replace("lift = 5", "lift = \"5"), "[]");
        assert_eq!(bench["is"], "unreadable");
        assert_eq!(bench["problems"][0]["place"]["line"], 5);
    }

    #[test]
    fn a_change_that_breaks_the_file_is_refused_with_words() {
        let changes =
            r#"[{"key":"trimmer.knife","text":"\"9 in\""},{"key":"trimmer.lift","text":"\"8"}]"#;
        let bench = asked(TEXT, changes);
        assert_eq!((&bench["is"], &bench["text"]), (&json!("bench"), &json!(TEXT)));
        assert_eq!(bench["refused"][0]["title"], "trimmer.lift was left as it was");
        let inline = asked("trimmer = { lift = 5 }\n", "[]");
        let missing = inline["missing"].as_array().unwrap();
        assert!(!missing.iter().any(|it| it["key"] == "trimmer.knife"));
    }
}
