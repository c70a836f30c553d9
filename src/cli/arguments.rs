//! What can be typed.

mod shelf;

pub use shelf::{ShelfArguments, ShelfCommand, ShelfPlace};

use crate::measure::parse_thousandths;
use crate::settling::{Reached, STAGES};
use crate::stock::PerFile;
use clap::{Args, Parser, Subcommand, ValueEnum, ValueHint};
#[cfg(feature = "command-line")]
use clap_complete::Shell;
use jiff::civil::Date;
use std::path::PathBuf;
use std::time::Duration;

/// Plans batches of handmade cards.
#[derive(Debug, Parser)]
#[command(
    name = "cardwright",
    version,
    about = "Plans batches of handmade cards: what to cut, from which sheets, in what order",
    after_help = "Example:\n  cardwright plan orders/wedding.csv\n\n\
                  reads the order and, beside it, sheets.csv, offcuts.csv and workshop.toml.\n\
                  It writes the schedule and all lists to reports/wedding/.\n\n\
                  First time here? Type `cardwright` alone.",
    arg_required_else_help = true,
    disable_help_subcommand = true
)]
pub struct Arguments {
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Make a small workshop, ready to plan
    New(NewArguments),
    /// Plan an order and write its schedule and lists
    Plan(PlanArguments),
    /// Look for mistakes in your files, or in a plan.json
    Check(CheckArguments),
    /// Record a batch that was cut: bring your stock up to date
    Settle(SettleArguments),
    /// Show your sheets and offcuts
    Shelf(ShelfArguments),
    #[cfg(feature = "command-line")]
    /// Open your workshop as a page in the browser of this machine
    Desk(DeskArguments),
    /// Show formats, envelopes, sheets, papers and post, and what fits what
    Sizes(SizesArguments),
    /// Explain an error or warning
    Explain(ExplainArguments),
    #[cfg(feature = "command-line")]
    /// Write the Tab completions for a shell
    Completion(CompletionArguments),
    #[cfg(feature = "command-line")]
    /// Write a page of the manual
    Manual(ManualArguments),
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  cardwright new cards\n\n\
                        writes an order, sheets, a drawer and a bench to the folder cards.")]
pub struct NewArguments {
    /// The folder to make
    #[arg(value_name = "FOLDER", value_hint = ValueHint::DirPath)]
    pub folder: PathBuf,
    /// The unit to measure in: inches, or millimetres with paper in A sizes
    #[arg(long, value_name = "UNIT", default_value = "in")]
    pub unit: UnitArgument,
}

/// What lengths are measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum UnitArgument {
    /// Inches.
    In,
    /// Millimetres.
    Mm,
}

/// Where the files of the workshop are.
#[derive(Debug, Args)]
pub struct WorkshopArguments {
    /// The paper you have or can buy [default: sheets.csv in the same folder]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub sheets: Option<PathBuf>,
    /// The offcuts in your drawer [default: offcuts.csv in the same folder, if any]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub offcuts: Option<PathBuf>,
    /// Your bought envelopes [default: envelopes.csv in the same folder, if any]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub envelopes: Option<PathBuf>,
    /// Your ribbons, seals and the like [default: sundries.csv in the same folder, if any]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub sundries: Option<PathBuf>,
    /// Your bench and its rules [default: workshop.toml in the same folder, if any]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub workshop: Option<PathBuf>,
}

impl WorkshopArguments {
    /// The files of the stock that are named.
    pub fn stock(&self) -> PerFile<Option<&PathBuf>> {
        let WorkshopArguments { sheets, offcuts, envelopes, sundries, .. } = self;
        PerFile { sheets, offcuts, envelopes, sundries }.map(Option::as_ref)
    }
}

#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  cardwright plan orders/wedding.csv orders/tags.csv --out reports/may\n\n\
                        plans both orders as one batch: they share sheets.\n\n\
                        Exit codes: 0 done; 1 the files have mistakes, or the order cannot be made;\n\
                        2 wrong use, or a file cannot be read or written; 3 a fault of the program;\n\
                        130 stopped by Ctrl-C."
)]
pub struct PlanArguments {
    /// Order files; several are planned as one batch
    #[arg(required = true, value_name = "ORDER", value_hint = ValueHint::FilePath)]
    pub orders: Vec<PathBuf>,
    #[command(flatten)]
    pub workshop: WorkshopArguments,
    /// The folder to write the reports to [default: reports/<order>]
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub out: Option<PathBuf>,
    /// Stop the search after this many seconds, such as 10 or 0.5
    #[arg(long, value_name = "SECONDS", allow_negative_numbers = true, value_parser = seconds)]
    pub limit: Option<Duration>,
    /// How hard to search
    #[arg(long, value_enum, default_value_t = EffortArgument::Normal)]
    pub effort: EffortArgument,
    /// Threads to use; any number gives the same plan [default: one per core]
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(u16).range(1..=512))]
    pub threads: Option<u16>,
    /// What solves the linear programs
    #[cfg(feature = "highs")]
    #[arg(long, value_enum, default_value_t = EngineArgument::Microlp)]
    pub engine: EngineArgument,
    /// Plan again each time you save one of the files, until Ctrl-C
    #[arg(long, conflicts_with = "reserve")]
    pub watch: bool,
    /// Set aside the paper that the plan takes from the shelf, until you settle or release it
    #[arg(long)]
    pub reserve: bool,
    /// Where the paper is not enough, plan as many complete cards as it makes
    #[arg(long, conflicts_with = "rest")]
    pub as_many: bool,
    /// Plan what is left of a batch that is under way
    #[arg(long, conflicts_with = "watch")]
    pub rest: bool,
    /// The customer's name, for the offer [default: a line to write it on]
    #[arg(long = "for", value_name = "CUSTOMER")]
    pub customer: Option<String>,
    /// The day of the offer, such as 2027-03-20 [default: a line to write it on]
    #[arg(long, value_name = "DATE")]
    pub on: Option<Date>,
    /// Show problems only: no progress, no summary
    #[arg(short, long)]
    pub quiet: bool,
    /// Print the plan as JSON instead of the summary
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  cardwright check orders/*.csv reports/wedding/plan.json\n\n\
                        sheets.csv, offcuts.csv, envelopes.csv, sundries.csv and workshop.toml\n\
                        are known by their names.\n\
                        Files that end in .json are plans, all others are orders.")]
pub struct CheckArguments {
    /// Orders, workshop files and plans
    #[arg(required = true, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub files: Vec<PathBuf>,
    #[command(flatten)]
    pub workshop: WorkshopArguments,
    /// Print what was found as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  cardwright settle reports/wedding\n  \
                  cardwright settle reports/wedding --done 30 --spoiled invitation.card=2\n  \
                  cardwright settle reports/wedding --partly R1=12,R4=5\n  \
                  cardwright settle reports/wedding --undo\n\n\
                  The first part you settle also puts the paper you bought on the shelf.\n\
                  If the plan no longer fits your stock, nothing is changed.")]
pub struct SettleArguments {
    /// The report folder of the batch
    #[arg(value_name = "REPORT", value_hint = ValueHint::DirPath)]
    pub report: PathBuf,
    /// Settle a part only: how many sheets of each run are cut
    #[arg(long, value_name = "RUN=COUNT", value_delimiter = ',', value_parser = part, conflicts_with = "undo")]
    pub partly: Vec<(String, u64)>,
    /// Settle the schedule up to this step, or up to a lift of it: 30 or 30:4
    #[arg(long, value_name = "STEP", conflicts_with_all = ["undo", "partly"])]
    pub done: Option<Reached>,
    /// What was spoiled: pieces, sheets of a waiting stack, envelopes, sundries; as often as needed
    #[arg(long, value_name = "PIECE=COUNT", value_delimiter = ',', value_parser = spoiled, conflicts_with = "undo")]
    pub spoiled: Vec<(String, u64)>,
    /// How long stages took, in hours: cut, score, fold, finish, envelopes, glue, boxes, pack
    #[arg(long, value_name = "STAGE=HOURS", value_delimiter = ',', value_parser = hours, conflicts_with = "undo")]
    pub hours: Vec<(String, u64)>,
    /// The paper you bought is in sheets.csv already
    #[arg(long, conflicts_with = "undo")]
    pub counted: bool,
    /// Undo the part of the batch that you settled last
    #[arg(long)]
    pub undo: bool,
    /// The day it was cut [default: today]
    #[arg(long, value_name = "DATE")]
    pub on: Option<Date>,
    /// Your sheets [default: the file it was planned from]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub sheets: Option<PathBuf>,
    /// Your drawer [default: the file it was planned from, or offcuts.csv beside --sheets]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub offcuts: Option<PathBuf>,
    /// Your envelopes [default: the file it was planned from, or envelopes.csv beside --sheets]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub envelopes: Option<PathBuf>,
    /// Your sundries [default: the file it was planned from, or sundries.csv beside --sheets]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub sundries: Option<PathBuf>,
    /// Your bench [default: the file it was planned from, or workshop.toml beside --sheets]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub workshop: Option<PathBuf>,
    /// Print the journal entry as JSON instead of the table
    #[arg(long)]
    pub json: bool,
}

/// `10`, or `10s`, up to a day.
fn seconds(text: &str) -> Result<Duration, String> {
    let number = text.strip_suffix('s').unwrap_or(text).trim_end();
    let thousandths = parse_thousandths(number).filter(|limit| (1..=86_400_000).contains(limit));
    let limit = thousandths.map(Duration::from_millis);
    limit.ok_or_else(|| "expected seconds from 0.001 to 86400, such as 10 or 0.5".to_owned())
}

/// `R1=12`.
fn part(text: &str) -> Result<(String, u64), String> {
    let expected = || "expected a run and a count of sheets, such as R1=12".to_owned();
    let (run, count) = text.split_once('=').ok_or_else(expected)?;
    if run.trim().is_empty() {
        return Err(expected());
    }
    Ok((run.trim().to_owned(), count.trim().parse().map_err(|_| expected())?))
}

/// `invitation.card=5`.
fn spoiled(text: &str) -> Result<(String, u64), String> {
    let expected = || "expected a piece, a stack or a sundry and a whole number, such as invitation.card=5, B=2 or ribbon=12";
    let (name, count) = text.rsplit_once('=').ok_or_else(expected)?;
    let count: u64 = count.trim().parse().map_err(|_| expected())?;
    match name.trim() {
        "" => Err(expected().to_owned()),
        _ if count == 0 => Err("expected a count above zero".to_owned()),
        name => Ok((name.to_owned(), count)),
    }
}

/// `cut=2.5`, in seconds.
fn hours(text: &str) -> Result<(String, u64), String> {
    let words: Vec<&str> = STAGES.iter().map(|stage| stage.word).collect();
    let expected = || {
        format!("expected a stage and its hours, such as cut=2.5; stages are {}", words.join(", "))
    };
    let (stage, hours) = text.split_once('=').ok_or_else(expected)?;
    let known = words.iter().find(|word| word.eq_ignore_ascii_case(stage.trim()));
    let thousandths = parse_thousandths(hours.trim()).filter(|hours| *hours <= 1_000_000);
    let (stage, thousandths) = known.zip(thousandths).ok_or_else(expected)?;
    Ok(((*stage).to_owned(), (thousandths * 36).div_ceil(10)))
}

#[cfg(feature = "command-line")]
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  cardwright desk cards\n\n\
                        The page is served on this machine alone, and only under the link that is shown.\n\
                        Your files stay where they are. Ctrl-C ends it.")]
pub struct DeskArguments {
    /// The folder of your workshop
    #[arg(value_name = "FOLDER", value_hint = ValueHint::DirPath, default_value = ".")]
    pub folder: PathBuf,
    /// The port to listen at [default: a free one]
    #[arg(long, value_name = "NUMBER", default_value_t = 0, hide_default_value = true)]
    pub port: u16,
    /// Let a phone on the same network show the steps and take stock
    #[arg(long)]
    pub phone: bool,
    /// Show the link, and open no browser
    #[arg(long)]
    pub no_open: bool,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  cardwright sizes A7\n  cardwright sizes \"5 x 7 in\"\n  cardwright sizes post"
)]
pub struct SizesArguments {
    /// A name, a size, or a list: cards, envelopes, sheets, papers, post [default: all lists]
    #[arg(value_name = "NAME", allow_hyphen_values = true)]
    pub name: Option<String>,
    /// Your bench and its formats [default: workshop.toml here or in orders, if any]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub workshop: Option<PathBuf>,
    /// Print it as JSON instead of the tables; for a list, all formats and papers
    #[arg(long)]
    pub json: bool,
    /// Print the names that a shell may complete
    #[arg(long, hide = true, conflicts_with_all = ["name", "json"])]
    pub names: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  cardwright explain order-count")]
pub struct ExplainArguments {
    /// The code in brackets after `error` or `warning` [default: list all codes]
    #[arg(value_name = "CODE")]
    pub code: Option<String>,
    /// Print it as JSON
    #[arg(long)]
    pub json: bool,
}

#[cfg(feature = "command-line")]
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  cardwright completion bash > ~/.local/share/bash-completion/completions/cardwright\n\n\
                        Your shell's manual says where the file belongs."
)]
pub struct CompletionArguments {
    /// The shell
    #[arg(value_name = "SHELL", value_enum)]
    pub shell: Shell,
}

#[cfg(feature = "command-line")]
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  cardwright manual plan > cardwright-plan.1\n\n\
                        writes the page that `man -l cardwright-plan.1` shows.")]
pub struct ManualArguments {
    /// The command [default: the program itself]
    #[arg(value_name = "COMMAND")]
    pub command: Option<String>,
}

/// How hard to search, as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum EffortArgument {
    /// A good plan, fast
    Quick,
    /// Usually a plan that is proven
    Normal,
    /// Try everything; may take minutes
    Long,
}

/// What solves the linear programs, as typed.
#[cfg(feature = "highs")]
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum EngineArgument {
    /// The engine in plain Rust
    Microlp,
    /// The engine in C++
    Highs,
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_commands_are_well_formed() {
        Arguments::command().debug_assert();
    }

    #[test]
    fn numbers_have_bounds() {
        let accepted = |option: &str, value: &str| {
            Arguments::try_parse_from(["cardwright", "plan", "a.csv", option, value]).is_ok()
        };
        for (option, most, above) in [("--limit", "86400", "86401"), ("--threads", "512", "513")] {
            assert!(!accepted(option, "0") && accepted(option, "1"), "{option}");
            assert!(accepted(option, most) && !accepted(option, above), "{option}");
        }
        for text in ["10s", "10 s", "0.5", "0.1 s", "0.001", "86400.0"] {
            assert!(accepted("--limit", text), "{text}");
        }
        for text in ["", "s", ".", "0.0001", "0.000", "86400.001", "-1", "-0.1", "1m", "1e9", "nan"]
        {
            assert!(!accepted("--limit", text), "{text}");
        }
    }
}
