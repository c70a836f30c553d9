//! The program as a part of a page: one request on the standard input, its answer on the standard output.

use cardwright::cli::{Console, answer_alone};
use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(answer_alone(&mut Console::of_the_process()))
}
