//! Arguments, progress, and problems shown to a person.
//!
//! In: what was typed. Out: the result on stdout, progress and problems on stderr, and an exit code:
//! 0 done, 1 the input has mistakes or the order cannot be made, 2 wrong use or file access, 3 our own
//! fault, 130 stopped by Ctrl-C. Only this folder prints and reads files.

mod access;
mod arguments;
mod check;
mod claim;
mod console;
mod delivery;
mod desk;
mod explain;
mod files;
mod first;
mod interrupt;
mod json;
mod meanings;
mod new;
mod plan;
pub mod render;
mod settings;
mod settle;
mod shelf;
#[cfg(feature = "command-line")]
mod shells;
mod sizes;
mod table;
mod take;
mod today;
mod typed;
mod watch;
mod wrap;

pub use console::Console;
#[cfg(feature = "page")]
pub use desk::answer_alone;

use arguments::{Arguments, Command};
use clap::Parser;
use clap::error::ErrorKind;
use console::Exit;
use std::ffi::OsString;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Does what the arguments say; the first of them is the program's own name. Gives the exit code.
pub fn run(arguments: impl IntoIterator<Item = OsString>, console: &mut Console) -> u8 {
    let typed: Vec<OsString> = arguments.into_iter().collect();
    let arguments = match Arguments::try_parse_from(&typed) {
        Ok(arguments) => arguments,
        Err(message) => return not_run(message, &typed, console).code(),
    };
    // A panic is our own fault, and the exit code has to say so.
    let done = catch_unwind(AssertUnwindSafe(|| dispatch(arguments, console)));
    done.unwrap_or_else(|_| console.fault(&["the program stopped in the middle".to_owned()])).code()
}

/// Shows help, version, what to do first, or what is wrong with the arguments.
fn not_run(mut message: clap::Error, typed: &[OsString], console: &mut Console) -> Exit {
    if message.kind() == ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand {
        console.say(&first::page());
        return Exit::Use;
    }
    meanings::advise(&mut message, typed);
    console.usage(&message)
}

fn dispatch(arguments: Arguments, console: &mut Console) -> Exit {
    match arguments.command {
        Command::Plan(arguments) => plan::run(&arguments.into(), console),
        Command::Check(arguments) => check::run(&arguments.into(), console),
        Command::Settle(arguments) => settle::run(&arguments, console),
        Command::Shelf(arguments) => shelf::run(arguments, console),
        Command::Sizes(arguments) => sizes::run(&arguments, console),
        #[cfg(feature = "command-line")]
        Command::Desk(arguments) => desk::run(&arguments, console),
        Command::New(arguments) => new::run(&arguments, console),
        Command::Explain(arguments) => explain::run(&arguments, console),
        #[cfg(feature = "command-line")]
        Command::Completion(arguments) => shells::completion(arguments.shell, console),
        #[cfg(feature = "command-line")]
        Command::Manual(arguments) => shells::manual(arguments.command.as_deref(), console),
    }
}

#[cfg(test)]
mod tests;
