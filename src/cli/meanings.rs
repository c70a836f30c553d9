//! What people type who mean one of our commands or options.
//!
//! Clap knows slips of the fingers; here are words of the same meaning. The answer says what to type instead.

use super::arguments::Arguments;
use super::typed::as_typed;
use clap::builder::StyledStr;
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Command, CommandFactory, Error};
use std::ffi::OsString;
use std::path::Path;

/// Words, and what is meant by them.
struct Meaning {
    /// In small letters, without dashes before them, parted by blanks.
    words: &'static str,
    /// What to type; of an option, what comes first is its name.
    typed: &'static str,
    /// What that does.
    does: &'static str,
}

const fn meaning(words: &'static str, typed: &'static str, does: &'static str) -> Meaning {
    Meaning { words, typed, does }
}

/// Words for commands.
const COMMANDS: &[Meaning] = &[
    meaning(
        "init initialise initialize create start begin setup set-up make demo example \
         sample starter workshop",
        "new FOLDER",
        "makes a small workshop, ready to plan",
    ),
    meaning(
        "make run start go cut cuts cutting solve layout layouts arrange optimise optimize \
         calculate schedule batch order orders",
        "plan ORDER",
        "plans an order and writes its schedule",
    ),
    meaning(
        "quote offer price prices cost costs buy report reports",
        "plan ORDER",
        "plans an order; its reports say what to buy and what it costs",
    ),
    meaning(
        "reserve hold keep set-aside",
        "plan ORDER --reserve",
        "plans an order and sets its paper aside",
    ),
    meaning(
        "gui ui app browser page web serve server open window edit editor",
        "desk FOLDER",
        "opens your workshop as a page in the browser",
    ),
    meaning("watch", "plan ORDER --watch", "plans again each time you save a file"),
    meaning(
        "done finish finished complete completed book close record use used",
        "settle REPORT",
        "records a batch that was cut",
    ),
    meaning(
        "undo revert unsettle rollback",
        "settle REPORT --undo",
        "undoes the part of a batch that you settled last",
    ),
    meaning(
        "stock inventory drawer sheet sheets offcut offcuts paper papers list show status",
        "shelf FOLDER",
        "shows your sheets and offcuts",
    ),
    meaning(
        "history journal log changes",
        "shelf history FOLDER",
        "shows every change to your stock",
    ),
    meaning("count", "shelf count FOLDER", "writes a table of all you have, to count by"),
    meaning(
        "take stock-take stocktake stocktaking recount correct adjust",
        "shelf take FILE",
        "records what you counted",
    ),
    meaning(
        "rebuild restore repair recover",
        "shelf rebuild FOLDER",
        "puts your files back as they were",
    ),
    meaning(
        "drop release free unreserve cancel",
        "shelf drop BATCH",
        "releases the paper that is set aside for a batch",
    ),
    meaning(
        "verify validate test judge inspect proof prove review",
        "check FILE",
        "looks for mistakes in your files, or in a plan.json",
    ),
    meaning(
        "format formats size card cards envelope envelopes sheet sheets paper papers post \
         postage fit fits",
        "sizes",
        "lists cards, envelopes, sheets, papers and post",
    ),
    meaning(
        "help why what error errors warning warnings code codes",
        "explain CODE",
        "explains an error or warning",
    ),
    meaning("help command commands usage options", "--help", "lists all commands"),
    meaning(
        "complete completions autocomplete",
        "completion SHELL",
        "writes the Tab completions for a shell",
    ),
    meaning("man docs guide", "manual", "writes the manual"),
    meaning("version", "--version", "shows the version"),
];

/// Words for options, wherever a command has that option.
const OPTIONS: &[Meaning] = &[
    meaning(
        "o output output-dir out-dir outdir folder dir directory dest destination target to \
         report reports",
        "--out DIR",
        "names the folder for the reports",
    ),
    meaning(
        "t time timeout time-limit max-time seconds duration stop deadline",
        "--limit SECONDS",
        "stops the search after so long",
    ),
    meaning(
        "quality level search fast slow best thorough exact optimal",
        "--effort EFFORT",
        "says how hard to search: quick, normal or long",
    ),
    meaning(
        "j jobs cores cpus processes parallel",
        "--threads COUNT",
        "says how many threads to use",
    ),
    meaning("follow repeat loop live auto", "--watch", "plans again each time you save a file"),
    meaning(
        "hold keep set-aside book",
        "--reserve",
        "sets the paper aside until you settle or release it",
    ),
    meaning(
        "remaining remainder left continue resume go-on open",
        "--rest",
        "plans what is left of a batch that is under way",
    ),
    meaning(
        "upto up-to until reached step progress stopped",
        "--done STEP",
        "records the schedule up to a step",
    ),
    meaning(
        "ruined damaged broken wasted lost torn",
        "--spoiled PIECE=COUNT",
        "takes off what was spoiled",
    ),
    meaning(
        "most max maximum possible partial partly part available fewer anyway force",
        "--as-many",
        "plans as many complete cards as the paper makes",
    ),
    meaning(
        "dry-run dry try simulate pretend show test",
        "--preview",
        "shows what would change, and changes nothing",
    ),
    meaning("silent s", "--quiet", "shows problems only"),
    meaning("format script machine raw", "--json", "prints the result as JSON"),
    meaning("inches inch imperial units", "--unit in", "measures in inches"),
    meaning(
        "metric mm millimetres millimeters millimetre millimeter cm units",
        "--unit mm",
        "measures in millimetres, with paper in A sizes",
    ),
    meaning(
        "stock paper papers sheet inventory shelf",
        "--sheets FILE",
        "names the list of your sheets",
    ),
    meaning(
        "drawer offcut remnants leftovers scraps",
        "--offcuts FILE",
        "names the list of your offcuts",
    ),
    meaning(
        "bench config settings rules formats",
        "--workshop FILE",
        "names the file of your bench",
    ),
    meaning(
        "part partial partially some only runs run",
        "--partly RUN=COUNT",
        "settles a part only",
    ),
    meaning(
        "bought no-buy already-counted",
        "--counted",
        "says that the paper you bought is in sheets.csv already",
    ),
    meaning(
        "back revert reverse cancel rollback",
        "--undo",
        "undoes the part that you settled last",
    ),
    meaning("date day when today", "--on DATE", "names the day"),
    meaning("entry at number", "--to ENTRY", "names the entry of the journal"),
];

/// What is no option, but a key of workshop.toml.
const KEYS: &str = "unit units metric mm inches currency page trimmer knife blade kerf gauge \
                    graduation squaring lift stages spares spare grain rates hours margin price \
                    prices";

/// Adds to a wrong command or option what may have been meant by it.
pub fn advise(message: &mut Error, typed: &[OsString]) {
    let tips = match message.kind() {
        ErrorKind::InvalidSubcommand => commands(&wrong(message, ContextKind::InvalidSubcommand)),
        ErrorKind::UnknownArgument => {
            options(&wrong(message, ContextKind::InvalidArg), &command(typed))
        }
        _ => return,
    };
    if tips.is_empty() {
        return;
    }
    // What is near by its letters alone is not what was meant.
    message.remove(ContextKind::SuggestedSubcommand);
    message.remove(ContextKind::SuggestedArg);
    let tips = tips.into_iter().map(StyledStr::from).collect();
    message.insert(ContextKind::Suggested, ContextValue::StyledStrs(tips));
}

/// What was typed and is unknown.
fn wrong(message: &Error, kind: ContextKind) -> String {
    match message.get(kind) {
        Some(ContextValue::String(text)) => text.clone(),
        _ => String::new(),
    }
}

/// The command that was typed, and the one below it; the program where there is none.
fn command(typed: &[OsString]) -> Command {
    let mut command = Arguments::command();
    for word in typed.iter().skip(1) {
        match word.to_str().and_then(|word| command.find_subcommand(word)) {
            Some(below) => command = below.clone(),
            None => break,
        }
    }
    command
}

fn commands(text: &str) -> Vec<String> {
    if text.to_lowercase().ends_with(".csv") {
        return vec![format!("`cardwright plan {}` plans an order", as_typed(Path::new(text)))];
    }
    let tip = |it: &Meaning| format!("`cardwright {}` {}", it.typed, it.does);
    meant(COMMANDS, text).map(tip).collect()
}

fn options(text: &str, command: &Command) -> Vec<String> {
    let known = meant(OPTIONS, text).filter(|it| has(command, it.name()));
    let mut tips: Vec<String> = known.map(|it| format!("`{}` {}", it.typed, it.does)).collect();
    if tips.is_empty() && has(command, "workshop") && holds(KEYS, &plain(text)) {
        let tip = "this is set in workshop.toml; `cardwright new FOLDER` writes one with every key";
        tips.push(tip.to_owned());
    }
    tips
}

fn has(command: &Command, option: &str) -> bool {
    command.get_arguments().any(|it| it.get_long() == Some(option))
}

impl Meaning {
    /// The name of an option, without its dashes.
    fn name(&self) -> &str {
        let name = self.typed.split(' ').next().unwrap_or_default();
        name.trim_start_matches('-')
    }
}

fn meant<'a>(table: &'a [Meaning], text: &str) -> impl Iterator<Item = &'a Meaning> {
    let word = plain(text);
    table.iter().filter(move |it| holds(it.words, &word))
}

fn holds(words: &str, word: &str) -> bool {
    words.split(' ').any(|one| one == word)
}

/// As words stand in the tables: `--Out_Dir=may` is `out-dir`.
fn plain(text: &str) -> String {
    let name = text.split('=').next().unwrap_or_default();
    name.trim_start_matches('-').to_lowercase().replace('_', "-")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn below(command: &Command) -> Vec<&Command> {
        command.get_subcommands().flat_map(|it| std::iter::once(it).chain(below(it))).collect()
    }

    #[test]
    fn what_is_to_be_typed_is_there() {
        let program = Arguments::command();
        for it in COMMANDS {
            let known = |name: &str| program.find_subcommand(name).is_some();
            let name = it.typed.split(' ').next().unwrap();
            assert!(known(name) || ["--help", "--version"].contains(&name), "{name}");
            for option in it.typed.split(' ').filter_map(|word| word.strip_prefix("--")) {
                let command = program.find_subcommand(name).unwrap_or(&program);
                assert!(
                    has(command, option) || ["help", "version"].contains(&option),
                    "{}",
                    it.typed
                );
            }
        }
        for it in OPTIONS {
            let mut arguments = below(&program).into_iter().flat_map(Command::get_arguments);
            let option = arguments.find(|option| option.get_long() == Some(it.name()));
            let option = option.unwrap_or_else(|| panic!("{}", it.typed));
            // Its value is named as in the help, or is one of those that can be typed.
            if let Some((_, value)) = it.typed.split_once(' ') {
                let names = option.get_value_names().unwrap_or_default();
                let values = option.get_possible_values();
                assert!(
                    names.iter().any(|name| name == value)
                        || values.iter().any(|known| known.get_name() == value),
                    "{}",
                    it.typed
                );
            }
        }
    }

    /// What is known is never looked up, so it would mislead whoever reads the table.
    #[test]
    fn no_word_is_a_command_or_stands_in_a_row_twice() {
        let program = Arguments::command();
        for it in COMMANDS.iter().chain(OPTIONS) {
            let words: Vec<&str> = it.words.split(' ').collect();
            for (at, word) in words.iter().enumerate() {
                assert_eq!(plain(word), *word);
                assert!(!word.is_empty() && !words[..at].contains(word), "{word}");
            }
        }
        for word in COMMANDS.iter().flat_map(|it| it.words.split(' ')) {
            assert!(program.find_subcommand(word).is_none(), "{word}");
        }
    }

    #[test]
    fn an_option_is_proposed_where_the_command_has_it() {
        let tips = |text: &str, typed: &str| {
            options(text, &command(&typed.split(' ').map(OsString::from).collect::<Vec<_>>()))
        };
        assert_eq!(
            tips("--metric", "cardwright new a"),
            ["`--unit mm` measures in millimetres, with paper in A sizes"]
        );
        assert_eq!(
            tips("--Out_Dir=may", "cardwright plan a.csv"),
            ["`--out DIR` names the folder for the reports"]
        );
        assert_eq!(
            tips("--metric", "cardwright plan a.csv"),
            ["this is set in workshop.toml; `cardwright new FOLDER` writes one with every key"]
        );
        assert_eq!(
            tips("--entry", "cardwright shelf rebuild"),
            ["`--to ENTRY` names the entry of the journal"]
        );
        assert_eq!(tips("--output", "cardwright check a.csv"), [""; 0]);
        assert_eq!(tips("--metric", "cardwright"), [""; 0]);
    }
}
