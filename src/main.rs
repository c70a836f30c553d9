//! Arguments in, exit code out.

use cardwright::cli::{Console, run};
use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(run(std::env::args_os(), &mut Console::of_the_process()))
}
