//! What can be typed.

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

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
    /// Plan a batch and write its reports
    Plan(PlanArguments),
    /// Judge input files or a plan.json without planning
    Check(CheckArguments),
    /// Explain an error or warning in full
    Explain(ExplainArguments),
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
                        2 wrong use or file access; 3 a fault of the program."
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
    /// Stop looking for a better plan after so many seconds
    #[arg(long, value_name = "SECONDS", value_parser = clap::value_parser!(u64).range(1..=86_400))]
    pub limit: Option<u64>,
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
}

#[derive(Debug, Args)]
#[command(after_help = "Example:\n  cardwright explain order-count")]
pub struct ExplainArguments {
    /// The code in brackets behind `error` or `warning`; without it, all codes are listed
    #[arg(value_name = "CODE")]
    pub code: Option<String>,
}

/// How hard to search, as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum EffortArgument {
    /// A good plan at once
    Quick,
    /// As a rule, the best plan
    Normal,
    /// Leave nothing untried
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
    }
}
