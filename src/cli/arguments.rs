//! What can be typed.

use crate::measure::parse_thousandths;
use clap::{Args, Parser, Subcommand, ValueEnum};
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
                  reads orders/wedding.csv and, beside it, sheets.csv, offcuts.csv and workshop.toml,\n\
                  and writes the schedule and all lists to reports/wedding/.",
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
    /// Make a small workshop that plans at once, to be changed
    New(NewArguments),
    /// Plan a batch and write its reports
    Plan(PlanArguments),
    /// Judge input files or a plan.json without planning
    Check(CheckArguments),
    /// Take what a batch used off the shelf, and put what is left of it there
    Settle(SettleArguments),
    /// Show what lies on the shelf
    Shelf(ShelfArguments),
    /// Show formats, envelopes, sheets, papers and posts, and what fits what
    Sizes(SizesArguments),
    /// Explain an error or warning in full
    Explain(ExplainArguments),
    /// Write what a shell needs to complete commands and options
    Completion(CompletionArguments),
    /// Write a page of the manual
    Manual(ManualArguments),
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  cardwright new cards\n\n\
                        writes an order, sheets, a drawer and a bench into the folder cards.")]
pub struct NewArguments {
    /// The folder to make
    #[arg(value_name = "FOLDER")]
    pub folder: PathBuf,
    /// What is measured in: inches, or millimetres with paper in A sizes
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

/// Where the workshop's files are.
#[derive(Debug, Args)]
pub struct WorkshopArguments {
    /// The paper you have or can buy [default: sheets.csv beside the order]
    #[arg(long, value_name = "FILE")]
    pub sheets: Option<PathBuf>,
    /// The drawer of saved offcuts [default: offcuts.csv beside the order, if there is one]
    #[arg(long, value_name = "FILE")]
    pub offcuts: Option<PathBuf>,
    /// Bench and rules [default: workshop.toml beside the order, if there is one]
    #[arg(long, value_name = "FILE")]
    pub workshop: Option<PathBuf>,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  cardwright plan orders/wedding.csv orders/tags.csv --out reports/may\n\n\
                        plans both orders as one batch, so that they share sheets.\n\n\
                        Exit codes: 0 done; 1 the input has mistakes or the order cannot be made;\n\
                        2 wrong use or file access; 3 a fault of the program; 130 stopped by Ctrl-C."
)]
pub struct PlanArguments {
    /// Order files; several are planned as one batch
    #[arg(required = true, value_name = "ORDER")]
    pub orders: Vec<PathBuf>,
    #[command(flatten)]
    pub workshop: WorkshopArguments,
    /// The folder of this plan's reports, exactly [default: reports/<order>]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Stop looking for a better plan after so many seconds, such as 10 or 0.5
    #[arg(long, value_name = "SECONDS", allow_negative_numbers = true, value_parser = seconds)]
    pub limit: Option<Duration>,
    /// How hard to search
    #[arg(long, value_enum, default_value_t = EffortArgument::Normal)]
    pub effort: EffortArgument,
    /// Threads to use; the plan is the same with any number [default: one a core]
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(u16).range(1..=512))]
    pub threads: Option<u16>,
    /// What solves the linear programs
    #[cfg(feature = "highs")]
    #[arg(long, value_enum, default_value_t = EngineArgument::Microlp)]
    pub engine: EngineArgument,
    /// Plan again whenever one of the files is saved, until Ctrl-C
    #[arg(long, conflicts_with = "reserve")]
    pub watch: bool,
    /// Set the paper that the plan takes from the shelf aside until it is settled or dropped
    #[arg(long)]
    pub reserve: bool,
    /// Tell problems only: no progress, no summary
    #[arg(short, long)]
    pub quiet: bool,
    /// Print the plan as JSON instead of the summary
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  cardwright check orders/*.csv reports/wedding/plan.json\n\n\
                        Files named sheets.csv, offcuts.csv and workshop.toml are taken for what they are\n\
                        called, files that end in .json for plans, all others for orders.")]
pub struct CheckArguments {
    /// Orders, workshop files and plans
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    #[command(flatten)]
    pub workshop: WorkshopArguments,
    /// Print what was found as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  cardwright settle reports/wedding\n  \
                  cardwright settle reports/wedding --partly R1=12,R4=5\n  \
                  cardwright settle reports/wedding --undo\n\n\
                  What was bought is put on the shelf with the first part of a batch that is settled.\n\
                  A plan that does not fit the shelf any more is refused, and nothing is changed.")]
pub struct SettleArguments {
    /// The report folder of the batch
    #[arg(value_name = "REPORT")]
    pub report: PathBuf,
    /// Only so many sheets of these runs are cut
    #[arg(long, value_name = "RUN=COUNT", value_delimiter = ',', value_parser = part, conflicts_with = "undo")]
    pub partly: Vec<(String, u64)>,
    /// What was bought is counted in sheets.csv already
    #[arg(long, conflicts_with = "undo")]
    pub counted: bool,
    /// Take the last part of the batch that was settled back
    #[arg(long)]
    pub undo: bool,
    /// The day on which it was cut [default: today]
    #[arg(long, value_name = "DATE")]
    pub on: Option<Date>,
    /// The full sheets [default: as when it was planned]
    #[arg(long, value_name = "FILE")]
    pub sheets: Option<PathBuf>,
    /// The drawer [default: as when it was planned, or offcuts.csv beside --sheets]
    #[arg(long, value_name = "FILE")]
    pub offcuts: Option<PathBuf>,
    /// Bench and rules [default: as when it was planned, or workshop.toml beside --sheets]
    #[arg(long, value_name = "FILE")]
    pub workshop: Option<PathBuf>,
    /// Print the entry of the journal as JSON instead of the table
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

#[derive(Debug, Args)]
#[command(
    args_conflicts_with_subcommands = true,
    after_help = "Examples:\n  cardwright shelf orders\n  cardwright shelf history orders"
)]
pub struct ShelfArguments {
    #[command(subcommand)]
    pub command: Option<ShelfCommand>,
    #[command(flatten)]
    pub place: ShelfPlace,
    /// Print what lies there as JSON instead of the tables
    #[arg(long)]
    pub json: bool,
}

/// Which shelf, and when.
#[derive(Debug, Args)]
pub struct ShelfPlace {
    /// The folder of sheets.csv and offcuts.csv [default: this one, or orders in it]
    #[arg(value_name = "FOLDER")]
    pub folder: Option<PathBuf>,
    #[command(flatten)]
    pub workshop: WorkshopArguments,
    /// The day that counts as today
    #[arg(long, value_name = "DATE")]
    pub on: Option<Date>,
}

/// What else can be done with a shelf.
#[derive(Debug, Subcommand)]
pub enum ShelfCommand {
    /// Tell what befell the shelf, and prove that it leads to the files
    History {
        #[command(flatten)]
        place: ShelfPlace,
        /// Print the entries as JSON instead of the table
        #[arg(long)]
        json: bool,
    },
    /// Put the files back to what they were after an entry of the journal
    #[command(
        after_help = "What is in the files now goes into the journal first, so nothing is lost."
    )]
    Rebuild {
        #[command(flatten)]
        place: ShelfPlace,
        /// The entry [default: the last one]
        #[arg(long, value_name = "ENTRY")]
        to: Option<u64>,
    },
    /// Give the paper free that `plan --reserve` set aside for a batch
    Drop {
        /// The batch
        #[arg(value_name = "BATCH")]
        batch: String,
        #[command(flatten)]
        place: ShelfPlace,
    },
}

#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  cardwright sizes A7\n  cardwright sizes \"5 x 7 in\"\n  cardwright sizes post"
)]
pub struct SizesArguments {
    /// A name, a size, or one of the lists: cards, envelopes, sheets, papers, post [default: all lists]
    #[arg(value_name = "NAME", allow_hyphen_values = true)]
    pub name: Option<String>,
    /// Bench and own formats [default: workshop.toml here or in orders, if there is one]
    #[arg(long, value_name = "FILE")]
    pub workshop: Option<PathBuf>,
    /// Print it as JSON instead of the tables; for a list, all formats and papers
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  cardwright explain order-count")]
pub struct ExplainArguments {
    /// The code in brackets behind `error` or `warning`; without it, all codes are listed
    #[arg(value_name = "CODE")]
    pub code: Option<String>,
    /// Print it as JSON
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  cardwright completion bash > ~/.local/share/bash-completion/completions/cardwright\n\n\
                        Where the file has to be is told in the manual of the shell."
)]
pub struct CompletionArguments {
    /// The shell
    #[arg(value_name = "SHELL", value_enum)]
    pub shell: Shell,
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  cardwright manual plan > cardwright-plan.1\n\n\
                        writes the page that `man -l cardwright-plan.1` shows.")]
pub struct ManualArguments {
    /// The command; without it, the page of the program
    #[arg(value_name = "COMMAND")]
    pub command: Option<String>,
}

/// How hard to search, as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum EffortArgument {
    /// A good plan at once
    Quick,
    /// As a rule, the best plan
    Normal,
    /// Leave nothing untried; may take minutes
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
