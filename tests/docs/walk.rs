//! The first ten minutes, gone as a new card maker goes them: in an empty folder, step after step.

use super::markdown::Page;
use crate::program::Home;

/// What installs the program is left out: it is built already.
const INSTALL: &str = "cargo install --path .";

#[test]
fn the_first_ten_minutes_lead_to_a_schedule_and_a_settled_shelf() {
    let page = Page::read("README.md").section("Ten minutes to your own order");
    let home = Home::new();
    let (mut said, mut steps) = (String::new(), Vec::new());
    for fence in page.fences() {
        let text = fence.lines.iter().map(|line| format!("{line}\n")).collect::<String>();
        match fence.label.split_once(' ') {
            Some(("csv", file)) => {
                assert!(home.path(file).is_file(), "{file} is told to be changed and is not there");
                home.put(file, text);
                steps.push("write");
            }
            None if fence.label == "text" => assert_eq!(said, text),
            None if fence.label.is_empty() => {
                for line in fence.lines.iter().filter(|line| *line != INSTALL) {
                    let arguments = line.strip_prefix("cardwright ").expect(line);
                    said = home.done(arguments).out;
                    steps.push(
                        ["new", "plan", "check", "settle"]
                            .into_iter()
                            .find(|command| arguments.starts_with(command))
                            .expect(line),
                    );
                }
            }
            _ => panic!("nothing is known of a block of {}", fence.label),
        }
    }
    assert_eq!(steps, ["new", "plan", "write", "write", "check", "plan", "settle"]);
    assert!(home.path("reports/cards/schedule.html").is_file());
    let shelf = home.text("cards/sheets.csv");
    assert!(shelf.contains("birch-letter,birch,8 1/2,11,7,"), "{shelf}");
}

/// The stop at tea: in a workshop where the shipped order is planned, step after step, and all of it taken back.
#[test]
fn the_day_that_does_not_go_as_planned_ends_well() {
    let page = Page::read("README.md").section("When the day does not go as planned");
    let home = Home::with(&["orders"]);
    let sheets = home.text("orders/sheets.csv");
    home.done("plan orders/wedding.csv --quiet");
    let (mut said, mut steps) = (String::new(), Vec::new());
    for fence in page.fences() {
        let text = fence.lines.iter().map(|line| format!("{line}\n")).collect::<String>();
        match fence.label.as_str() {
            "text" => assert_eq!(said, text),
            "" => {
                for line in &fence.lines {
                    let arguments = line.strip_prefix("cardwright ").expect(line);
                    said = home.done(arguments).out;
                    steps.push(arguments.split(' ').next().unwrap().to_owned());
                }
            }
            label => panic!("nothing is known of a block of {label}"),
        }
    }
    assert_eq!(steps, ["settle", "plan"]);
    home.done("settle reports/wedding-2");
    assert!(home.run("plan orders/wedding.csv --rest").err.contains("nothing is left to cut"));
    home.done("settle reports/wedding-2 --undo");
    home.done("settle reports/wedding --undo");
    assert_eq!(home.text("orders/sheets.csv"), sheets);
}

/// Commands that the text of the walk names in passing, apart from those in its blocks.
#[test]
fn what_the_walk_proposes_in_passing_works() {
    let home = Home::new();
    home.done("new cards");
    home.done("sizes");
    let answer = home.command("sizes").arg("4 1/4 x 5 1/2").output().unwrap();
    assert!(String::from_utf8(answer.stdout).unwrap().contains("US A2"));
    home.done("explain");
}
