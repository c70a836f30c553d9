//! `cardwright completion` and `cardwright manual`: made from what can be typed, so that they never tell of
//! anything else.

use super::arguments::Arguments;
use super::console::{Console, Exit};
use super::sizes::LISTS;
use crate::diagnostics::{codes, nearest};
use crate::formats;
use clap::builder::PossibleValuesParser;
use clap::{Command, CommandFactory};
use clap_complete::Shell;
use clap_mangen::Man;
use std::collections::BTreeSet;

/// The program's name.
const NAME: &str = "cardwright";

/// Writes what a shell has to know to complete what is typed.
pub fn completion(shell: Shell, console: &mut Console) -> Exit {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut completed(), NAME, &mut script);
    console.result(&script)
}

/// What can be typed, with the names that a shell may put there.
fn completed() -> Command {
    let known = |command: Command, name: &str, values: Vec<&'static str>| {
        command.mut_arg(name, |argument| argument.value_parser(PossibleValuesParser::new(values)))
    };
    let codes = codes::all().map(|code| code.name).collect();
    Arguments::command()
        .mut_subcommand("sizes", |sizes| known(sizes, "name", names().into_iter().collect()))
        .mut_subcommand("explain", |explain| known(explain, "code", codes))
}

/// Lists, and all formats of one word, without their family: some shells part a name at its blanks.
fn names() -> BTreeSet<&'static str> {
    let cards = formats::cards().iter().map(|card| card.name.as_str());
    let envelopes = formats::envelopes().iter().map(|envelope| envelope.name.as_str());
    let sheets = formats::sheets().iter().map(|sheet| sheet.name.as_str());
    let short = |name: &'static str| {
        let own = ["ISO ", "US "].iter().find_map(|family| name.strip_prefix(family));
        own.unwrap_or(name)
    };
    let formats = cards.chain(envelopes).chain(sheets).map(short);
    formats.filter(|name| !name.contains(' ')).chain(LISTS).collect()
}

/// Writes the page of the manual for a command, or for the program.
pub fn manual(command: Option<&str>, console: &mut Console) -> Exit {
    let mut program = Arguments::command();
    program.build();
    let page = match command {
        None => program,
        Some(name) => match page(&program, name) {
            Some(page) => page,
            None => return unknown(&program, name, console),
        },
    };
    let mut text = Vec::new();
    match Man::new(page).render(&mut text) {
        Ok(()) => console.result(&text),
        Err(error) => console.fault(&[format!("the page cannot be written: {error}")]),
    }
}

/// A command with its examples; its page bears the name `cardwright-plan`.
fn page(program: &Command, name: &str) -> Option<Command> {
    let command = program.find_subcommand(name)?.clone();
    Some(command.display_name(format!("{NAME}-{name}")))
}

fn unknown(program: &Command, name: &str, console: &mut Console) -> Exit {
    let known = program.get_subcommands().map(Command::get_name);
    let help = match nearest(name, known) {
        Some(near) => format!("did you mean {near}?"),
        None => format!("`{NAME} --help` lists all commands"),
    };
    console.refused(&format!("there is no command {name:?}"), &help)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sizes::answers;
    use crate::workshop::Workshop;

    #[test]
    fn every_name_that_is_completed_is_known() {
        let (names, workshop) = (names(), Workshop::default());
        for name in names.iter().filter(|name| !LISTS.contains(name)) {
            assert!(!answers(name, &workshop).is_empty(), "{name}");
        }
        for name in ["A7", "DL", "bookmark", "letter", "envelopes"] {
            assert!(names.contains(name), "{name}");
        }
    }
}
