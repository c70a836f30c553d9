//! Steps that change the shelf, each tried on a copy first: a batch is settled or taken back, paper released, stock taken.

use super::answers::{PageAnswer, refused};
use super::commands::{Deed, Errand};
use super::folder::Folder;
use super::scratch::ScratchFolder;
use super::take::TakeRequest;
use super::trouble;
use crate::measure::parse_thousandths;
use serde::Deserialize;
use serde_json::{Number, Value, json};
use std::io;
use std::path::{Path, PathBuf};

/// A name with a number.
#[derive(Deserialize)]
struct NamedNumber(String, Number);

/// A batch that is settled, as far as it is cut.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SettleRequest {
    report: String,
    #[serde(default)]
    done: Option<String>,
    #[serde(default)]
    spoiled: Vec<NamedNumber>,
    #[serde(default)]
    hours: Vec<NamedNumber>,
    #[serde(default)]
    preview: bool,
    #[serde(default)]
    seen: Option<String>,
}

/// Whether a step is tried, or done on what was seen.
fn deed(is_preview: bool, seen: &Option<String>) -> Deed<'_> {
    match is_preview {
        true => Deed::Tried,
        false => Deed::Done { seen: seen.as_deref() },
    }
}

/// Settles a batch, or tries it.
pub fn settle(folder: &Folder, asked: &SettleRequest) -> PageAnswer {
    let report = match report_of(folder, &asked.report) {
        Ok(report) => report,
        Err(answer) => return answer,
    };
    match asked.errand(&report) {
        Ok(errand) => stepped(errand.on_shelf(folder, &report, deed(asked.preview, &asked.seen))),
        Err(told) => PageAnswer::told(422, &told),
    }
}

impl SettleRequest {
    /// The command. What it would refuse in the words of a terminal is refused here in those of the page.
    fn errand(&self, report: &Path) -> Result<Errand, String> {
        let mut errand = Errand::new(&["settle"]).path(report);
        if let Some(done) = &self.done {
            if !is_step(done) {
                return Err(
                    "Type the last step done by its number in the schedule, such as 30.".to_owned()
                );
            }
            errand = errand.option("done", done);
        }
        for NamedNumber(name, count) in &self.spoiled {
            if name.trim().is_empty()
                || name.contains(|letter: char| letter == ',' || letter.is_control())
            {
                return Err(format!(
                    "Nothing in this schedule is called “{name}”. Choose a piece from the list."
                ));
            }
            let count = count.as_u64().filter(|count| *count > 0);
            let count = count.ok_or_else(|| {
                format!("Type how many of {name} were spoiled in whole numbers, such as 2.")
            })?;
            errand = errand.option("spoiled", &format!("{name}={count}"));
        }
        for NamedNumber(stage, hours) in &self.hours {
            let hours = hours.to_string();
            if parse_thousandths(&hours).is_none_or(|thousandths| thousandths > MOST_HOURS) {
                return Err(format!(
                    "Type the hours for {stage} as a number from 0.001 to 1000, such as 1.5."
                ));
            }
            errand = errand.option("hours", &format!("{stage}={hours}"));
        }
        Ok(errand)
    }
}

/// Most hours of a stage, in thousandths.
const MOST_HOURS: u64 = 1_000_000;

/// Whether a text is a step, or a lift of it: `30`, `30:4`.
fn is_step(text: &str) -> bool {
    let is_number = |text: &str| {
        text.bytes().all(|digit| digit.is_ascii_digit())
            && text.parse::<u32>().is_ok_and(|it| it > 0)
    };
    let (step, lifts) = text.split_once(':').unwrap_or((text, "1"));
    is_number(step) && is_number(lifts)
}

/// The folder of a report from which a batch can be settled.
fn report_of(folder: &Folder, name: &str) -> Result<PathBuf, PageAnswer> {
    let Some(report) = folder.report(name) else {
        return Err(PageAnswer::told(404, "This schedule is no longer in the folder."));
    };
    match folder.report_file(&report, "origin.json") {
        Some(_) => Ok(report),
        None => Err(PageAnswer::told(
            422,
            "This schedule is not whole: its file origin.json is missing. Write the schedule again.",
        )),
    }
}

/// What came of a step.
fn stepped(done: io::Result<Option<Value>>) -> PageAnswer {
    match done {
        Ok(Some(document)) => PageAnswer::json(200, &document),
        Ok(None) => PageAnswer::told(409, trouble::CHANGED),
        Err(error) => refused(&error),
    }
}

/// A batch whose last settlement is undone.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UndoRequest {
    report: String,
    #[serde(default)]
    preview: bool,
    #[serde(default)]
    seen: Option<String>,
}

/// Undoes the last settlement of a batch, or tries it.
pub fn undo(folder: &Folder, UndoRequest { report, preview, seen }: &UndoRequest) -> PageAnswer {
    match report_of(folder, report) {
        Err(answer) => answer,
        Ok(report) => {
            let errand = Errand::new(&["settle"]).path(&report).switch("undo", true);
            stepped(errand.on_shelf(folder, &report, deed(*preview, seen)))
        }
    }
}

/// A batch whose paper is released.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReleaseRequest {
    batch: String,
    #[serde(default)]
    seen: Option<String>,
}

/// Releases the paper of a batch.
pub fn release(folder: &Folder, ReleaseRequest { batch, seen }: &ReleaseRequest) -> PageAnswer {
    let sheets = folder.shelf.join("sheets.csv").display().to_string();
    let errand = Errand::new(&["shelf", "drop"]).option("sheets", &sheets).last(batch);
    stepped(errand.on_shelf(folder, Path::new(""), deed(false, seen)))
}

/// Records a stock-take, or tries it.
pub fn take(folder: &Folder, asked: &TakeRequest) -> PageAnswer {
    let table = match asked.table() {
        Ok(table) => table,
        Err(told) => return PageAnswer::told(422, &told),
    };
    let done = ScratchFolder::with_file(TABLE, table.as_bytes()).and_then(|scratch| {
        let path = scratch.folder.home.join(TABLE);
        let errand = Errand::new(&["shelf", "take"]).path(&path);
        let sheets = folder.shelf.join("sheets.csv").display().to_string();
        let errand = errand.option("sheets", &sheets);
        let mut done = errand.on_shelf(folder, Path::new(""), deed(asked.preview, &asked.seen))?;
        // Where the table lay for a moment is of no use to anybody.
        if let Some(done) = &mut done {
            let told = done["told"].as_str().unwrap_or_default();
            done["told"] = json!(told.replace(&path.display().to_string(), TABLE));
        }
        Ok(done)
    });
    stepped(done)
}

/// What the table of a stock-take is called.
const TABLE: &str = "counted.csv";

#[cfg(test)]
mod tests {
    use super::*;

    fn told(question: &str) -> Option<String> {
        let asked: SettleRequest = serde_json::from_str(question).unwrap();
        asked.errand(Path::new("reports/may")).err()
    }

    #[test]
    fn what_no_command_takes_is_told_in_words_of_the_page() {
        for (part, words) in [
            (r#""done":"0""#, "Type the last step done by its number"),
            (r#""done":"4:0""#, "Type the last step done by its number"),
            (r#""done":"--undo""#, "Type the last step done by its number"),
            (r#""spoiled":[["tag",0]]"#, "Type how many of tag were spoiled in whole numbers"),
            (r#""spoiled":[["tag",2.5]]"#, "Type how many of tag were spoiled in whole numbers"),
            (r#""spoiled":[["tag",-1]]"#, "Type how many of tag were spoiled in whole numbers"),
            (r#""spoiled":[["a,b",1]]"#, "Nothing in this schedule is called “a,b”."),
            (r#""hours":[["cut",1e-9]]"#, "Type the hours for cut as a number from 0.001 to 1000"),
            (
                r#""hours":[["cut",1000.5]]"#,
                "Type the hours for cut as a number from 0.001 to 1000",
            ),
        ] {
            let told = told(&format!(r#"{{"report":"may",{part}}}"#)).unwrap();
            assert!(told.starts_with(words), "{part}: {told}");
        }
        for part in [
            r#""done":"30""#,
            r#""done":"30:4""#,
            r#""spoiled":[["tag",1]]"#,
            r#""hours":[["cut",0.001],["glue",1000]]"#,
        ] {
            assert_eq!(told(&format!(r#"{{"report":"may",{part}}}"#)), None, "{part}");
        }
    }
}
