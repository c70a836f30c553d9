//! What `cardwright` alone says: what to do first, then all commands.

use super::arguments::Arguments;
use super::table::rows;
use clap::CommandFactory;

/// The first steps, each as it is typed or opened.
const STEPS: [(&str, &str); 3] = [
    ("cardwright new cards", "makes a small workshop in the folder cards"),
    ("cardwright plan cards/cards.csv", "plans its order"),
    ("reports/cards/schedule.html", "is the schedule: open it, and cut by it"),
];

/// The page.
pub fn page() -> String {
    let program = Arguments::command();
    let about =
        |command: &clap::Command| command.get_about().map(ToString::to_string).unwrap_or_default();
    let steps = STEPS.map(|(step, what)| vec![step.to_owned(), what.to_owned()]);
    let commands = program.get_subcommands();
    let commands = commands.map(|command| vec![command.get_name().to_owned(), about(command)]);
    format!(
        "{}.\n\nTo start:\n\n{}\nAll commands:\n\n{}\n\
         `cardwright plan --help` shows the options of `plan`, and so for each command.\n",
        about(&program),
        rows(steps.into()),
        rows(commands.collect()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::Parser;

    #[test]
    fn the_first_steps_can_be_typed() {
        let page = page();
        for (step, _) in STEPS.iter().filter(|(step, _)| step.starts_with("cardwright ")) {
            assert!(Arguments::try_parse_from(step.split(' ')).is_ok(), "{step}");
            assert!(page.contains(&format!("\n  {step}  ")), "{page}");
        }
    }
}
