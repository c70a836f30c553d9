//! `cardwright completion` and `cardwright manual`: made from what can be typed, so that they never tell of
//! anything else.

mod asked;

use super::arguments::Arguments;
use super::console::{Console, Exit};
use super::sizes::names;
use crate::diagnostics::{codes, nearest};
use crate::formats::OwnFormats;
use clap::builder::PossibleValuesParser;
use clap::{Command, CommandFactory};
use clap_complete::Shell;
use clap_mangen::Man;
use std::sync::LazyLock;

/// The program's name.
const NAME: &str = "cardwright";

/// Writes what a shell has to know to complete what is typed.
pub fn completion(shell: Shell, console: &mut Console) -> Exit {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut completed(), NAME, &mut script);
    console.result(asking(shell, String::from_utf8_lossy(&script).into_owned()).as_bytes())
}

/// The script as it asks for names; itself where it completes none, as Elvish's and PowerShell's.
fn asking(shell: Shell, script: String) -> String {
    match shell {
        Shell::Bash => asked::bash(&script).unwrap_or(script),
        Shell::Zsh => asked::zsh(&script).unwrap_or(script),
        Shell::Fish => script + asked::FISH,
        _ => script,
    }
}

/// What can be typed, with the names that a shell may put there.
fn completed() -> Command {
    let known = |command: Command, name: &str, values: Vec<&'static str>| {
        command.mut_arg(name, |argument| argument.value_parser(PossibleValuesParser::new(values)))
    };
    let codes = codes::all().map(|code| code.name).collect();
    Arguments::command()
        .mut_subcommand("sizes", |sizes| known(sizes, "name", names(&NONE).into_iter().collect()))
        .mut_subcommand("explain", |explain| known(explain, "code", codes))
}

/// A workshop without formats of its own.
static NONE: LazyLock<OwnFormats> = LazyLock::new(OwnFormats::default);

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
    use crate::cli::sizes::LISTS;
    use crate::formats::{SheetFormat, sheets};
    use crate::sizes::answers;
    use crate::workshop::Workshop;

    #[test]
    fn every_name_that_is_completed_is_known() {
        let (names, workshop) = (names(&NONE), Workshop::default());
        for name in names.iter().filter(|name| !LISTS.contains(name)) {
            assert!(!answers(name, &workshop).is_empty(), "{name}");
        }
        for name in ["A7", "DL", "bookmark", "letter", "envelopes"] {
            assert!(names.contains(name), "{name}");
        }
    }

    /// What a shell would read as a command or as two words is left out.
    #[test]
    fn only_plain_names_are_given_to_a_shell() {
        let mut workshop = Workshop::default();
        for name in ["mini", "\u{e9}cu", "two words", "a$(date)", "b`date`", "c;d", "e*", "f\n"] {
            let sheet = SheetFormat { name: name.to_owned(), ..sheets()[0].clone() };
            workshop.formats.sheets.push(sheet);
        }
        let own: Vec<&str> = names(&workshop.formats).difference(&names(&NONE)).copied().collect();
        assert_eq!(own, ["mini", "\u{e9}cu"]);
    }

    /// What is put into the scripts finds its place in them.
    #[test]
    fn the_scripts_that_hold_names_ask_for_them() {
        for shell in [Shell::Bash, Shell::Zsh, Shell::Fish] {
            let mut script = Vec::new();
            clap_complete::generate(shell, &mut completed(), NAME, &mut script);
            let script = String::from_utf8(script).unwrap();
            let asked = asking(shell, script.clone());
            assert!(asked.contains("sizes --names"), "{shell}");
            assert!(asked.len() > script.len(), "{shell}");
        }
    }
}
