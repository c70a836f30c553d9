//! `cardwright completion` and `cardwright manual`: made from what can be typed, so that they never tell of
//! anything else.

use super::arguments::Arguments;
use super::console::{Console, Exit};
use crate::diagnostics::nearest;
use clap::{Command, CommandFactory};
use clap_complete::Shell;
use clap_mangen::Man;

/// The program's name.
const NAME: &str = "cardwright";

/// Writes what a shell has to know to complete what is typed.
pub fn completion(shell: Shell, console: &mut Console) -> Exit {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), NAME, &mut script);
    console.result(&script)
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
