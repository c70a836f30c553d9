//! Where the program speaks: results on one side, problems and progress on the other.

use super::interrupt::Interrupt;
use super::render;
use super::wrap::wrapped;
use crate::diagnostics::Problems;
use anstream::{AutoStream, ColorChoice};
use clap::error::ContextValue;
#[cfg(feature = "command-line")]
use indicatif::{ProgressBar, ProgressStyle};
use std::io::{self, ErrorKind, IsTerminal, Write};
#[cfg(feature = "command-line")]
use std::time::Duration;

/// How a command ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// Done.
    Done,
    /// The input has mistakes, or the order cannot be made.
    Mistakes,
    /// Wrong use, or a file that cannot be read or written.
    Use,
    /// Our own fault.
    Fault,
    /// Ctrl-C was pressed.
    Stopped,
}

impl Exit {
    /// The number that the system gets.
    pub const fn code(self) -> u8 {
        match self {
            Exit::Done => 0,
            Exit::Mistakes => 1,
            Exit::Use => 2,
            Exit::Fault => 3,
            // What shells give to a program that SIGINT ended: 128 and the number of the signal.
            Exit::Stopped => 130,
        }
    }
}

/// The two streams, and what they can show.
pub struct Console {
    /// Results.
    pub out: Box<dyn Write>,
    /// Problems and progress.
    pub err: Box<dyn Write>,
    /// Whether results may be coloured.
    pub colour_out: bool,
    /// Whether problems may be coloured.
    pub colour_err: bool,
    /// Whether a person watches the second stream.
    pub watched: bool,
    /// Columns of the terminal that shows results; `None` where none does.
    pub width: Option<usize>,
    /// Columns of the terminal that shows problems.
    pub width_err: Option<usize>,
    /// Whether the reader of the results has gone away.
    pub gone: bool,
    /// Ctrl-C.
    pub interrupt: Interrupt,
}

impl Console {
    /// The streams of this process, coloured as terminal and environment allow (`NO_COLOR`).
    pub fn of_the_process() -> Console {
        let [width, width_err] = widths();
        Console {
            // On a build server colour counts as wanted, but no terminal that is dumb understands it.
            colour_out: AutoStream::choice(&io::stdout()) != ColorChoice::Never && !is_dumb(),
            colour_err: AutoStream::choice(&io::stderr()) != ColorChoice::Never && !is_dumb(),
            watched: io::stderr().is_terminal() && !is_dumb(),
            width,
            width_err,
            gone: false,
            interrupt: Interrupt::of_the_process(),
            out: Box::new(io::stdout()),
            err: Box::new(io::stderr()),
        }
    }

    /// Writes a result. A reader who has gone away wanted no more of it, which is no error.
    pub fn result(&mut self, bytes: &[u8]) -> Exit {
        match self.out.write_all(bytes).and_then(|()| self.out.flush()) {
            Ok(()) => Exit::Done,
            Err(error) if error.kind() == ErrorKind::BrokenPipe => {
                self.gone = true;
                Exit::Done
            }
            Err(error) => self.refused(&format!("cannot write the result: {error}"), ""),
        }
    }

    /// Writes a result for a person, in lines that a narrow terminal has room for.
    pub fn page(&mut self, text: &str) -> Exit {
        match self.width {
            Some(width) => self.result(wrapped(text, width).as_bytes()),
            None => self.result(text.as_bytes()),
        }
    }

    /// Tells all problems.
    pub fn problems(&mut self, problems: &Problems) {
        let text = render::within(
            problems,
            render::Look { colour: self.colour_err, width: self.width_err },
        );
        self.say(&text);
    }

    /// Tells why a command was not carried out, and what would help.
    pub fn refused(&mut self, title: &str, help: &str) -> Exit {
        let help = if help.is_empty() { String::new() } else { format!(" = help: {help}\n") };
        self.say(&format!("error: {}\n{help}", render::visible(title)));
        Exit::Use
    }

    /// Tells of a fault of the program.
    pub fn fault(&mut self, faults: &[String]) -> Exit {
        let mut text = String::from("error: this is a fault of cardwright, not of your files\n");
        faults.iter().for_each(|fault| text.push_str(&format!("  - {}\n", render::visible(fault))));
        text.push_str(" = note: nothing was written\n");
        text.push_str(" = help: please report it, with all files of the order\n");
        self.say(&text);
        Exit::Fault
    }

    /// Tells that Ctrl-C ended it, and what came of it.
    pub fn stopped(&mut self, what: &str) -> Exit {
        self.say(&format!("stopped by Ctrl-C: {what}\n"));
        Exit::Stopped
    }

    /// Shows help, version or what is wrong with the arguments.
    pub fn usage(&mut self, message: &clap::Error) -> Exit {
        let text = |colour: bool| match colour && !is_hostile(message) {
            true => message.render().ansi().to_string(),
            false => plain(message),
        };
        if message.use_stderr() {
            let text = text(self.colour_err);
            self.say(&text);
            return Exit::Use;
        }
        // What has words to wrap is wrapped already; the line of the usage is not.
        let text = text(self.colour_out);
        self.page(&text)
    }

    /// Streams that nobody watches.
    pub fn kept(out: Box<dyn Write>, err: Box<dyn Write>) -> Console {
        Console {
            out,
            err,
            colour_out: false,
            colour_err: false,
            watched: false,
            width: None,
            width_err: None,
            gone: false,
            interrupt: Interrupt::default(),
        }
    }

    /// A sign of life while something takes long, where a person watches.
    pub fn spinner(&self, what: &'static str) -> Spinner {
        Spinner::turning(self.watched.then_some(what))
    }

    /// Says something beside the result.
    pub fn say(&mut self, text: &str) {
        let text = self.width_err.map_or(text.to_owned(), |width| wrapped(text, width));
        // Nobody is left to tell that nobody listens.
        let _ = self.err.write_all(text.as_bytes()).and_then(|()| self.err.flush());
    }
}

/// A sign of life; gone when it is dropped.
#[cfg(feature = "command-line")]
pub struct Spinner(ProgressBar);

#[cfg(feature = "command-line")]
impl Spinner {
    fn turning(what: Option<&'static str>) -> Spinner {
        let Some(what) = what else { return Spinner(ProgressBar::hidden()) };
        let progress = ProgressBar::new_spinner().with_message(what);
        if let Ok(style) = ProgressStyle::with_template("{spinner} {msg} {elapsed}") {
            progress.set_style(style);
        }
        progress.enable_steady_tick(Duration::from_millis(120));
        Spinner(progress)
    }

    /// Says how far it is.
    pub fn say(&self, told: String) {
        self.0.set_message(told);
    }
}

#[cfg(feature = "command-line")]
impl Drop for Spinner {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}

/// A page shows how far it is by itself.
#[cfg(not(feature = "command-line"))]
pub struct Spinner;

#[cfg(not(feature = "command-line"))]
impl Spinner {
    fn turning(_: Option<&'static str>) -> Spinner {
        Spinner
    }

    /// Nobody watches.
    pub fn say(&self, _: String) {}
}

/// A terminal that cannot go back in its line: a spinner would fill it.
fn is_dumb() -> bool {
    std::env::var_os("TERM").is_some_and(|name| name == "dumb")
}

/// The columns of both streams, where they are terminals.
#[cfg(feature = "command-line")]
fn widths() -> [Option<usize>; 2] {
    use terminal_size::{Width, terminal_size_of};
    [terminal_size_of(io::stdout()), terminal_size_of(io::stderr())].map(|size| {
        let (Width(width), _) = size?;
        Some(width.into()).filter(|&width| width > 0)
    })
}

/// A page is no terminal.
#[cfg(not(feature = "command-line"))]
fn widths() -> [Option<usize>; 2] {
    [None, None]
}

/// What is wrong with the arguments, line by line, with nothing in it that acts unseen.
fn plain(message: &clap::Error) -> String {
    let text = message.render().to_string();
    text.split('\n').map(render::visible).collect::<Vec<_>>().join("\n")
}

/// Whether an argument holds what would act on a terminal.
fn is_hostile(message: &clap::Error) -> bool {
    let acts = |text: &String| render::visible(text) != *text;
    message.context().any(|(_, value)| match value {
        ContextValue::String(text) => acts(text),
        ContextValue::Strings(texts) => texts.iter().any(acts),
        _ => false,
    })
}
