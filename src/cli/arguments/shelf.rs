//! What can be typed behind `shelf`.

use super::WorkshopArguments;
use clap::{Args, Subcommand, ValueHint};
use jiff::civil::Date;
use std::path::PathBuf;

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
    /// Print it as JSON instead of the tables
    #[arg(long)]
    pub json: bool,
}

/// Which shelf, and when.
#[derive(Debug, Args)]
pub struct ShelfPlace {
    /// The folder of sheets.csv and offcuts.csv [default: this one, or orders in it]
    #[arg(value_name = "FOLDER", value_hint = ValueHint::DirPath)]
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
    /// Show every change to your stock, and check it against your files
    History {
        #[command(flatten)]
        place: ShelfPlace,
        /// Print the entries as JSON instead of the table
        #[arg(long)]
        json: bool,
    },
    /// Write a table of all you have, to count by
    Count {
        #[command(flatten)]
        place: ShelfPlace,
    },
    /// Record a stock-take: what you counted, threw away, did not find, or found without a label
    #[command(after_help = "Example:\n  cardwright shelf count orders > counted.csv\n  \
                        cardwright shelf take counted.csv orders --preview\n\n\
                        A blank count means as your files say. A row without a name is a new strip.")]
    Take {
        /// The table of what you counted
        #[arg(value_name = "FILE", value_hint = ValueHint::FilePath)]
        table: PathBuf,
        #[command(flatten)]
        place: ShelfPlace,
        /// Show what would change, and change nothing
        #[arg(long)]
        preview: bool,
        /// Print the journal entry as JSON instead of the table
        #[arg(long)]
        json: bool,
    },
    /// Put your files back as they were after an entry of the journal
    #[command(
        after_help = "The journal first records your files as they are now: nothing is lost."
    )]
    Rebuild {
        #[command(flatten)]
        place: ShelfPlace,
        /// The number of the entry [default: the last]
        #[arg(long, value_name = "ENTRY")]
        to: Option<u64>,
    },
    /// Release the paper that `plan --reserve` set aside for a batch
    Drop {
        /// The batch
        #[arg(value_name = "BATCH")]
        batch: String,
        #[command(flatten)]
        place: ShelfPlace,
    },
}
