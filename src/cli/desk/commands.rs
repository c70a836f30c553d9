//! The program's own commands, run as in a terminal in the folder: so they go through the same doors and locks, and say the same.
//!
//! A preview is the same command on a copy of what it would change, which is thrown away.

use super::folder::Folder;
use super::names::stock_names;
use super::scratch::ScratchFolder;
use super::trouble;
use crate::shelf::Texts;
use crate::stock::PerFile;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::ffi::OsString;
use std::io;
use std::path::Path;

/// A command with what stands behind it.
#[derive(Clone, Debug)]
pub struct Errand {
    arguments: Vec<OsString>,
}

/// How a command ended, and what it said.
#[derive(Clone, Debug)]
pub struct Ended {
    /// Whether it did what was asked.
    pub is_well: bool,
    /// Whether it did nothing, since another command held the shelf for too long.
    pub is_busy: bool,
    /// Its result.
    pub out: String,
    /// What else it said.
    pub said: String,
}

/// Whether a command is tried, or done.
#[derive(Clone, Copy, Debug)]
pub enum Deed<'a> {
    /// On a copy that is thrown away.
    Tried,
    /// On the shelf, if it still is what was seen when the command was tried.
    Done {
        /// What was seen then.
        seen: Option<&'a str>,
    },
}

/// How many seconds a command waits for another one that uses the shelf.
#[cfg(not(target_family = "wasm"))]
const PATIENCE: &str = "10";

impl Errand {
    /// A command of the program.
    pub fn new(words: &[&str]) -> Errand {
        Errand { arguments: words.iter().map(OsString::from).collect() }
    }

    /// The same with a path behind it.
    #[must_use]
    pub fn path(mut self, path: &Path) -> Errand {
        self.arguments.push(path.as_os_str().to_owned());
        self
    }

    /// The same with a word that is none of its options, whatever it begins with; nothing follows.
    #[must_use]
    pub fn last(mut self, word: &str) -> Errand {
        self.arguments.extend(["--".into(), word.into()]);
        self
    }

    /// The same with an option.
    #[must_use]
    pub fn option(mut self, name: &str, value: &str) -> Errand {
        self.arguments.push(format!("--{name}={value}").into());
        self
    }

    /// The same with a switch.
    #[must_use]
    pub fn switch(mut self, name: &str, is_on: bool) -> Errand {
        if is_on {
            self.arguments.push(format!("--{name}").into());
        }
        self
    }

    /// Runs it in a folder.
    ///
    /// # Errors
    /// The system does not let the program run.
    #[cfg(not(target_family = "wasm"))]
    pub fn run(&self, home: &Path) -> io::Result<Ended> {
        use crate::cli::access;
        use crate::cli::console::Exit;
        use std::process::{Command, Stdio};
        let mut command = Command::new(std::env::current_exe()?);
        command.args(&self.arguments).current_dir(home).stdin(Stdio::null());
        command.env("NO_COLOR", "1").env(access::PATIENCE, PATIENCE);
        let output = command.output().map_err(|error| trouble::of_program(&error, home))?;
        let text = |bytes: Vec<u8>| String::from_utf8_lossy(&bytes).into_owned();
        Ok(Ended {
            is_well: output.status.success(),
            is_busy: output.status.code() == Some(Exit::Stopped.code().into()),
            out: text(output.stdout),
            said: text(output.stderr),
        })
    }

    /// Runs it in a folder. There are no other programs here: it is run as a part of this one, which does nothing beside it.
    ///
    /// # Errors
    /// The folder is not there.
    #[cfg(target_family = "wasm")]
    pub fn run(&self, home: &Path) -> io::Result<Ended> {
        use crate::cli::{Console, run};
        let [out, said] = [KeptStream::default(), KeptStream::default()];
        let mut console = Console::kept(Box::new(out.clone()), Box::new(said.clone()));
        let arguments = std::iter::once(OsString::from("cardwright")).chain(self.arguments.clone());
        let here = std::env::current_dir()?;
        std::env::set_current_dir(home)?;
        let code = run(arguments, &mut console);
        std::env::set_current_dir(here)?;
        Ok(Ended { is_well: code == 0, is_busy: false, out: out.text(), said: said.text() })
    }

    /// Does it, or tries it on a copy of the shelf and of a report; the answer has the lines of the shelf that change. `None` where
    /// something is not what was seen any more.
    ///
    /// # Errors
    /// The system refuses.
    pub fn on_shelf(
        &self,
        folder: &Folder,
        report: &Path,
        deed: Deed,
    ) -> io::Result<Option<Value>> {
        // Two that come at once come one after the other, and the second finds another shelf.
        let _held = matches!(deed, Deed::Done { .. }).then(|| folder.hold());
        let now = folder.seen(report);
        let before = texts(folder);
        let (told, is_well, after) = match deed {
            Deed::Done { seen } if seen != Some(now.as_str()) => return Ok(None),
            Deed::Done { .. } => {
                let done = self.run(&folder.home)?;
                (done.told(), done.is_well, texts(folder))
            }
            Deed::Tried => {
                let copy = ScratchFolder::of(folder, report)?;
                let done = self.run(&copy.folder.home)?;
                let told = if done.is_well { as_tried(&done.told()) } else { done.told() };
                (told, done.is_well, texts(&copy.folder))
            }
        };
        let files = changed_files(&before, &after);
        Ok(Some(
            json!({ "ok": is_well, "told": told, "files": files, "problems": [], "seen": now }),
        ))
    }
}

impl Ended {
    /// All that it said, as a page can follow it.
    pub fn told(&self) -> String {
        match self.is_busy {
            true => trouble::BUSY.to_owned(),
            false => for_page(&format!("{}{}", self.said, self.out)),
        }
    }
}

/// What a terminal calls by its options, a page calls by its buttons and fields.
const ON_PAGE: [(&str, &str); 2] =
    [("`--undo`", "“Take back what was recorded last”"), ("`--done`", "“Last step done”")];

fn for_page(told: &str) -> String {
    ON_PAGE
        .iter()
        .fold(trouble::without_numbers(told), |told, (typed, shown)| told.replace(typed, shown))
}

/// What a command said of a copy, told of the shelf: nothing there has an entry, or needs a label, yet.
fn as_tried(told: &str) -> String {
    let is_of_now =
        |line: &&str| !line.starts_with("Entry ") && !line.starts_with("Write its name");
    let lines: Vec<String> = told.lines().filter(is_of_now).map(undone_later).collect();
    format!("{}\n\nNothing is recorded yet.\n", lines.join("\n").trim_end())
}

fn undone_later(line: &str) -> String {
    match line.strip_prefix("entry ").and_then(|rest| rest.split_once(" undone: ")) {
        Some((number, files)) => {
            format!(
                "This takes back entry {number}: {}",
                files.replacen(" are as ", " will be as ", 1)
            )
        }
        None => line.to_owned(),
    }
}

/// A stream that is kept.
#[cfg(target_family = "wasm")]
#[derive(Clone, Default)]
struct KeptStream(std::rc::Rc<std::cell::RefCell<Vec<u8>>>);

#[cfg(target_family = "wasm")]
impl KeptStream {
    fn text(&self) -> String {
        String::from_utf8_lossy(&self.0.borrow()).into_owned()
    }
}

#[cfg(target_family = "wasm")]
impl io::Write for KeptStream {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

fn texts(folder: &Folder) -> Texts {
    let [sheets, offcuts, envelopes, sundries] = stock_names().map(|(_, name)| folder.text(name));
    PerFile { sheets, offcuts, envelopes, sundries }
}

/// The lines that differ, file by file: `- old`, `+ new`.
fn changed_files(before: &Texts, after: &Texts) -> Vec<Value> {
    let names = stock_names().map(|(_, name)| name).into_iter();
    let pairs = before.each().with(after.each()).array();
    let changed = names.zip(pairs).filter(|(_, (before, after))| before != after);
    changed
        .map(|(name, (before, after))| {
            let [before, after] = [before, after].map(|text| text.as_deref().unwrap_or_default());
            let gone = only_in(before, after).into_iter().map(|line| format!("- {line}"));
            let new = only_in(after, before).into_iter().map(|line| format!("+ {line}"));
            json!({ "name": name, "lines": gone.chain(new).collect::<Vec<_>>() })
        })
        .collect()
}

/// The lines of a text that another one has not, or not as often.
fn only_in<'a>(text: &'a str, other: &str) -> Vec<&'a str> {
    let mut there: BTreeMap<&str, usize> = BTreeMap::new();
    other.lines().for_each(|line| *there.entry(line).or_default() += 1);
    let mut only = Vec::new();
    for line in text.lines() {
        match there.get_mut(line) {
            Some(count) if *count > 0 => *count -= 1,
            _ => only.push(line),
        }
    }
    only
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_is_told_of_its_own_buttons() {
        let words = include_str!("page/words.js");
        for (_, shown) in ON_PAGE {
            assert!(words.contains(shown.trim_matches(['“', '”'])), "{shown}");
        }
        assert_eq!(for_page("use `--undo`\n"), "use “Take back what was recorded last”\n");
    }

    #[test]
    fn what_is_tried_is_not_told_as_done() {
        let told = "may: settled\n\nEntry 2 of shelf.jsonl; `x` undoes it\nWrite its name on each new strip\n";
        assert_eq!(as_tried(told), "may: settled\n\nNothing is recorded yet.\n");
        assert_eq!(
            as_tried("entry 4 undone: sheets.csv is as they are as before\n").lines().next(),
            Some("This takes back entry 4: sheets.csv is as they will be as before")
        );
    }

    #[test]
    fn lines_that_differ_are_told_and_no_others() {
        let text = |text: &str| Texts { offcuts: Some(text.to_owned()), ..Texts::default() };
        let files = changed_files(&text("a\nb\nb\nc\n"), &text("a\nb\nx\nc\nd\n"));
        assert_eq!(files, [json!({ "name": "offcuts.csv", "lines": ["- b", "+ x", "+ d"] })]);
        assert_eq!(changed_files(&text("a\n"), &text("a\n")), [Value::Null; 0]);
    }
}
