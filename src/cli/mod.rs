//! Arguments, progress, and problems shown to a person.
//!
//! In: what was typed. Out: the result on stdout, progress and problems on stderr, and an exit code:
//! 0 done, 1 the input has mistakes or the order cannot be made, 2 wrong use or file access, 3 our own
//! fault, 130 stopped by Ctrl-C. Only this folder prints and reads files.

mod access;
mod arguments;
mod check;
mod console;
mod delivery;
mod explain;
mod files;
mod interrupt;
mod json;
mod new;
mod plan;
pub mod render;
mod settings;
mod settle;
mod shelf;
mod shells;
mod sizes;
mod table;
mod today;
mod watch;
mod wrap;

pub use console::Console;

use arguments::{Arguments, Command};
use clap::Parser;
use console::Exit;
use std::ffi::OsString;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Does what the arguments say; the first of them is the program's own name. Gives the exit code.
pub fn run(arguments: impl IntoIterator<Item = OsString>, console: &mut Console) -> u8 {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(message) => return console.usage(&message).code(),
    };
    // A panic is our own fault, and the exit code has to say so.
    let done = catch_unwind(AssertUnwindSafe(|| dispatch(arguments, console)));
    done.unwrap_or_else(|_| console.fault(&["the program stopped in the middle".to_owned()])).code()
}

fn dispatch(arguments: Arguments, console: &mut Console) -> Exit {
    match arguments.command {
        Command::Plan(arguments) => plan::run(&arguments.into(), console),
        Command::Check(arguments) => check::run(&arguments.into(), console),
        Command::Settle(arguments) => settle::run(&arguments, console),
        Command::Shelf(arguments) => shelf::run(arguments, console),
        Command::Sizes(arguments) => sizes::run(&arguments, console),
        Command::New(arguments) => new::run(&arguments, console),
        Command::Explain(arguments) => explain::run(&arguments, console),
        Command::Completion(arguments) => shells::completion(arguments.shell, console),
        Command::Manual(arguments) => shells::manual(arguments.command.as_deref(), console),
    }
}

#[cfg(test)]
mod tests;
